"""Ramps as targets: a zone as it is to be, in this scheme or in another."""

from collections.abc import Sequence
from dataclasses import replace

import numpy as np
from numpy.typing import ArrayLike

from schemeforge import checks, colorimetry
from schemeforge.appearance import Look, Points, zone_stages
from schemeforge.colorimetry import LightLike
from schemeforge.errors import InputError
from schemeforge.optics import bands
from schemeforge.paint import Paint
from schemeforge.recipe.bed import Bed
from schemeforge.recipe.kernel import Kernel
from schemeforge.recipe.sturdiness import LIGHTS
from schemeforge.recipe.target import Target, UnderLight, lab_rows
from schemeforge.scheme import Project, Scheme, Viewing

RAMP = (0.0, 0.25, 0.5, 0.75, 1.0)
"""Places from recess to raised edge at which ramps are matched unless told otherwise."""


def zone_target(
    project: Project,
    scheme: Scheme,
    zone_id: str,
    *,
    relief: Sequence[float] = RAMP,
    after: str | None = None,
    along: float = 0.5,
    viewing: Viewing | None = None,
    group_id: str | None = None,
    lights: Sequence[LightLike] = LIGHTS,
) -> Target:
    """The ramp of a zone, dry, as a target.

    Args:
        project: The document.
        scheme: One of its schemes.
        zone_id: The zone.
        relief: Places from recess (0) to raised edge (1).
        after: Id of the step after which it is looked at; the finished zone where None.
        along: Place along the part, 0 root to 1 tip.
        viewing: Light, observer and finish; the project's own where None.
        group_id: As in ``coloured_steps``.
        lights: Built-in lights under which its colours are known as well, for constancy.

    Raises:
        UnknownNameError: For a zone, light or step that does not exist.
        InputError: Where the step does not touch the zone.
    """
    zone = project.zone(zone_id)
    view = replace(project.viewing if viewing is None else viewing, wet=False)
    places = np.asarray(relief, dtype=np.float64)
    low, high = zone.tones
    points = Points(low + (high - low) * places, places, along)

    def rows(how: Viewing) -> tuple[tuple[float, float, float], ...]:
        stages = zone_stages(project, scheme, zone_id, points, how, group_id)
        chosen = stages[-1]
        if after is not None:
            named = [stage for stage in stages if stage.step is not None and stage.step.id == after]
            if not named:
                name = scheme.step(after).name
                raise InputError(
                    f'The step "{name}" does not touch "{zone.name}"',
                    remedy="choose one of the zone's own coats",
                )
            chosen = named[0]
        return lab_rows(colorimetry.lab_from_xyz(chosen.xyz))

    return Target(
        lab=rows(view),
        name=zone.name,
        others=tuple(
            UnderLight(light=light, lab=rows(replace(view, light=light)))
            for light in lights
            if isinstance(light, str) and light != view.light
        ),
    )


def paint_target(paint: Paint, film_um: float, bed: Bed, look: Look) -> Target:
    """A neat paint laid over a bed as a target: what a mix in its place has to look like.

    Args:
        paint: The paint, which need not be on any shelf.
        film_um: Its wet film in um; 0 or more.
        bed: What it lies on.
        look: Finish, light and observer.

    Raises:
        InputError: For a negative film, or one that is not finite.
    """
    checks.number(film_um, "Film of the paint", low=0.0, high=1e5, unit="um")
    K, S = np.array([[paint.absorption], [paint.scattering]])
    kernel = Kernel(K, S, np.zeros((1, 2, bands.COUNT)), bed, look, (0,))
    XYZ = kernel.xyz(np.zeros((1, 1), np.int16), np.full((1, 1, 1), film_um))
    return Target(lab=lab_rows(colorimetry.lab_from_xyz(XYZ[0, :, 0])), name=paint.name)


def resampled(lab: ArrayLike, count: int) -> Target:
    """A target of so many tones from a ramp of any other number, recess first, ``(n, 3)``.

    For ramps from elsewhere: a photographed test model, a strip that was measured along.
    Between tones CIELAB runs straight.

    Raises:
        InputError: For another shape, or fewer than two tones.
    """
    colours = np.asarray(lab, dtype=np.float64)
    if colours.ndim != 2 or colours.shape[-1] != 3 or len(colours) < 2:
        raise InputError("A ramp is L*, a* and b* for each of two tones or more")
    at = np.linspace(0.0, 1.0, len(colours))
    to = np.linspace(0.0, 1.0, count)
    return Target(
        lab=lab_rows(np.stack([np.interp(to, at, column) for column in colours.T], axis=1))
    )
