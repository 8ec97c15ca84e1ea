"""Colours of a zone after each of its coats, at any points."""

from dataclasses import dataclass
from typing import Any

import numpy as np
from numpy.typing import NDArray

from schemeforge.appearance.columns import Laid, coat_films, columns_of, see_columns
from schemeforge.appearance.look import Look, look_of
from schemeforge.appearance.points import Grid, Points, grid_of
from schemeforge.appearance.pots import pot_spectra
from schemeforge.appearance.undercoat import BARE_PLASTIC, Grounds, undercoat_of
from schemeforge.scheme import (
    Coat,
    Primer,
    Project,
    Scheme,
    Spray,
    Step,
    Viewing,
    Zone,
    coloured_steps,
)

__all__ = ["BARE_PLASTIC", "Points", "Stage", "coat_films", "final_xyz", "zone_stages", "zone_tile"]

# Spots worked on at a time where there are many of them, all bands of each.
_SPOTS_AT_ONCE = 256


def ramp_tones(zone: Zone, count: int) -> NDArray[np.float64]:
    """Tone along a ramp of the zone: from its recesses to its raised edges, ``(count,)``."""
    return np.linspace(zone.tones[0], zone.tones[1], count)


@dataclass(frozen=True, slots=True)
class Stage:
    """A zone after one of its coats.

    Args:
        step: The step just done; None for the bare plastic of a zone without primer.
        xyz: Adapted to D65, white Y = 1, ``(*points.shape, 3)``.
    """

    step: Step | None
    xyz: NDArray[Any]


def zone_stages(
    project: Project,
    scheme: Scheme,
    zone_id: str,
    points: Points,
    viewing: Viewing | None = None,
    group_id: str | None = None,
    *,
    dtype: type[np.floating[Any]] = np.float64,
) -> tuple[Stage, ...]:
    """Colours of the zone after each coloured step, in order, at the points.

    With a wet viewing every stage is seen with its own last coat still wet on dry ones.

    Args:
        project: The document.
        scheme: One of its schemes.
        zone_id: The zone.
        points: Where on the zone.
        viewing: Light, observer, finish, wet or dry; the project's own where None.
        group_id: The group whose share of the coats counts; None for the full recipe.
        dtype: float32 is quicker and good for pixels only.

    Raises:
        UnknownNameError: For a light, zone or mix that does not exist.
        PaintMissingError: For a paint that the project does not carry.
    """
    project.zone(zone_id)
    look = look_of(project, viewing, dtype)
    steps = coloured_steps(scheme, zone_id, group_id)
    stages = steps or (None,)
    grid = grid_of(points)
    columns = columns_of(stages, grid)
    under = _Under(project, scheme, steps, grid)
    xyz = np.empty((len(stages), columns.count, len(grid.tone), 3), dtype)
    for first in range(0, len(grid.tone) if xyz.size else 0, _SPOTS_AT_ONCE):
        some = slice(first, first + _SPOTS_AT_ONCE)
        laid = _prepared(under, stages, look, some)
        see_columns(laid, grid, columns, look, some, xyz[:, :, some])
    if columns.count < len(columns.index):
        xyz = xyz[:, columns.index]
    whole = grid.restored(xyz)
    return tuple(Stage(step, colours) for step, colours in zip(stages, whole, strict=True))


class _Under:
    """The grounds of a zone at any of the spots, at every stage of its undercoat."""

    def __init__(
        self, project: Project, scheme: Scheme, steps: tuple[Step, ...], grid: Grid
    ) -> None:
        self.project = project
        self.scheme = scheme
        self._steps = tuple(s for s in steps if isinstance(s.layer, Primer | Spray))
        self._tone = grid.tone
        self._levels, self._places = grid.tone, None
        if len(grid.tone) > _SPOTS_AT_ONCE:
            self._levels, self._places = np.unique(grid.tone, return_inverse=True)

    def after(self, last: Step | None, milk_per_um: float, some: slice) -> Grounds:
        """Grounds after an undercoat step, or after all of them where None."""
        steps = self._steps
        if last is not None:
            steps = steps[: steps.index(last) + 1]
        undercoat = undercoat_of(self.project, self.scheme, steps, milk_per_um)
        if len(self._levels) > _SPOTS_AT_ONCE:  # too many to keep
            return undercoat.grounds([self._tone[some]], keep=False)[0]
        (grounds,) = undercoat.grounds([self._levels])
        return grounds if self._places is None else grounds.at(self._places[some])


def _prepared(
    under: _Under, stages: tuple[Step | None, ...], look: Look, some: slice
) -> list[Laid]:
    dry = under.after(None, 0.0, some)
    laid = []
    for step in stages:
        if step is not None and isinstance(step.layer, Coat):
            pot = pot_spectra(under.project, under.scheme.mix(step.layer.mix_id))
            laid.append(Laid(dry, step.layer, pot))
        else:
            laid.append(Laid(under.after(step, look.milk_per_um, some)))
    return laid


def final_xyz(
    project: Project,
    scheme: Scheme,
    zone_id: str,
    points: Points,
    viewing: Viewing | None = None,
    group_id: str | None = None,
) -> NDArray[Any]:
    """XYZ of the finished zone at the points, ``(*points.shape, 3)``; errors as above."""
    return zone_stages(project, scheme, zone_id, points, viewing, group_id)[-1].xyz


def zone_tile(
    project: Project,
    scheme: Scheme,
    zone_id: str,
    viewing: Viewing | None = None,
    *,
    relief_count: int = 64,
    along_count: int = 32,
    group_id: str | None = None,
    dtype: type[np.floating[Any]] = np.float64,
) -> tuple[Stage, ...]:
    """Every stage over recess to raised edge by root to tip, ``(relief, along, 3)`` each.

    Tone goes with relief, between the tones of the zone's recesses and of its raised edges.
    """
    relief = np.linspace(0.0, 1.0, relief_count)[:, np.newaxis]
    along = np.linspace(0.0, 1.0, along_count)[np.newaxis, :]
    tone = ramp_tones(project.zone(zone_id), relief_count)[:, np.newaxis]
    points = Points(tone, relief, along)
    return zone_stages(project, scheme, zone_id, points, viewing, group_id, dtype=dtype)
