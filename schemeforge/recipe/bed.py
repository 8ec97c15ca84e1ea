"""What the wanted coats lie on, tone by tone, and what lies over them."""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import Any

import numpy as np
from numpy.typing import ArrayLike, NDArray

from schemeforge import optics
from schemeforge.appearance import Look, look_of, pot_spectra, zone_grounds
from schemeforge.appearance.columns import coat_films
from schemeforge.errors import InputError
from schemeforge.optics import MobiusMap, bands
from schemeforge.scheme import (
    Coat,
    Placement,
    Primer,
    Project,
    Scheme,
    Spray,
    Step,
    Viewing,
    coloured_steps,
)

Floats = NDArray[Any]


@dataclass(frozen=True, slots=True, eq=False)
class Bed:
    """Grounds of each tone, the share of the film that each tone gets, and the coats above.

    Args:
        reflectance: Internal, ``(grounds, tones, 36)``: spots with more or fewer droplets of a
            spray, with the coats beneath already on them.
        weights: Their shares of the area, ``(grounds, tones, 36)``, summing to 1.
        film: The film at each tone over the film as laid, ``(tones,)``: what a pool or a dry
            brush does.
        above: Coats that will lie over the wanted ones, ``(tones, 36)``; None for none.
        spread_n: Yule-Nielsen n of the spray.
        tone: Undercoat light of each tone, 0 to 1.
        relief: Place of each tone from recess (0) to raised edge (1).
    """

    reflectance: Floats
    weights: Floats
    film: NDArray[np.float64]
    above: MobiusMap | None = None
    spread_n: float = 1.0
    tone: tuple[float, ...] = (1.0,)
    relief: tuple[float, ...] = (1.0,)

    @property
    def tones(self) -> int:
        """How many tones."""
        return int(self.reflectance.shape[1])

    @property
    def mean(self) -> Floats:
        """Mean internal reflectance of the grounds, ``(tones, 36)``."""
        total: Floats = (self.weights * self.reflectance).sum(axis=0)
        return total


def plain_bed(reflectance: ArrayLike) -> Bed:
    """A bed of flat grounds, internal reflectance ``(36,)``, ``(tones, 36)`` or one number.

    Raises:
        InputError: For another shape, or values outside 0 to 1.
    """
    R = np.asarray(reflectance, dtype=np.float64)
    R = np.atleast_2d(np.full(bands.COUNT, R) if R.ndim == 0 else R)
    if R.ndim != 2 or R.shape[-1] != bands.COUNT or len(R) == 0:
        raise InputError(f"A ground has {bands.COUNT} bands for each of its tones")
    if not np.all((R >= 0.0) & (R <= 1.0)):
        raise InputError("A ground's reflectance is outside 0 to 1", remedy="give 0 to 1")
    places = np.linspace(0.0, 1.0, len(R)) if len(R) > 1 else np.ones(1)
    at = tuple(places.tolist())
    return Bed(R[np.newaxis], np.ones((1, *R.shape)), np.ones(len(R)), tone=at, relief=at)


def zone_bed(
    project: Project,
    scheme: Scheme,
    zone_id: str,
    *,
    relief: Sequence[float] = (1.0,),
    after: str | None = None,
    instead_of: Sequence[str] = (),
    placement: Placement | None = None,
    along: float = 0.5,
    group_id: str | None = None,
) -> Bed:
    """The bed that a zone offers.

    Args:
        project: The document.
        scheme: One of its schemes.
        zone_id: The zone.
        relief: Places from recess (0) to raised edge (1), one for each tone of the target; the
            undercoat light goes along as on every ramp.
        after: Id of the step on which the new coats lie, with nothing above them; None for the
            bare undercoat. Left out of account where steps are replaced.
        instead_of: Ids of the steps that the new coats replace: what comes before them lies
            below, what comes after the first of them and is not replaced lies above.
        placement: Where the new coats go; evenly where None.
        along: Place along the part, 0 root to 1 tip.
        group_id: As in ``coloured_steps``.

    Raises:
        UnknownNameError: For a zone or step that the zone does not have.
        InputError: For a place outside 0 to 1.
    """
    zone = project.zone(zone_id)
    places = np.asarray(relief, dtype=np.float64)
    if places.ndim != 1 or len(places) == 0 or not np.all((places >= 0) & (places <= 1)):
        raise InputError("A place on the relief is outside 0 to 1", remedy="give 0 to 1")
    steps = coloured_steps(scheme, zone_id, group_id)
    below, above = _divided(scheme, steps, after, instead_of)
    low, high = zone.tones
    tone = low + (high - low) * places
    undercoat = tuple(step for step in below if isinstance(step.layer, Primer | Spray))
    grounds = zone_grounds(project, scheme, undercoat, tone)
    shape = (len(grounds.reflectance), len(tone), bands.COUNT)
    R, weights = (
        np.broadcast_to(array.reshape(len(array), -1, bands.COUNT), shape)
        for array in (grounds.reflectance, grounds.weights)
    )
    here = np.full(1, along)
    lower = _folded(project, scheme, below, places, here)
    if lower is not None:
        R = optics.apply(lower, R)
    goes = Placement() if placement is None else placement
    laid = Coat(mix_id="new", wet_um=1.0, placement=goes)
    film = np.broadcast_to(coat_films(laid, places, here), places.shape)
    upper = _folded(project, scheme, above, places, here)
    at = tuple(tone.tolist()), tuple(places.tolist())
    return Bed(R, weights, film, upper, grounds.spread_n, *at)


def _divided(
    scheme: Scheme, steps: tuple[Step, ...], after: str | None, instead_of: Sequence[str]
) -> tuple[tuple[Step, ...], tuple[Step, ...]]:
    """Steps that lie below the new coats, and those that lie above."""
    ids = [step.id for step in steps]
    for wanted in (*instead_of, *(() if after is None else (after,))):
        if wanted not in ids:
            scheme.step(wanted)  # raises where there is no such step at all
            raise InputError(
                f'The step "{scheme.step(wanted).name}" does not touch that zone',
                remedy="choose one of the zone's own coats",
            )
    if instead_of:
        first = min(ids.index(step_id) for step_id in instead_of)
        return steps[:first], tuple(s for s in steps[first:] if s.id not in instead_of)
    if after is not None:
        return steps[: ids.index(after) + 1], ()
    return tuple(step for step in steps if not isinstance(step.layer, Coat)), ()


def _folded(
    project: Project,
    scheme: Scheme,
    steps: Sequence[Step],
    relief: NDArray[np.float64],
    along: NDArray[np.float64],
) -> MobiusMap | None:
    """The coats among the steps as one map, ``(tones, 36)``; None for none."""
    fold: MobiusMap | None = None
    for step in steps:
        if not isinstance(step.layer, Coat):
            continue
        pot = pot_spectra(project, scheme.mix(step.layer.mix_id))
        film = np.broadcast_to(coat_films(step.layer, relief, along), relief.shape)
        depth = film[:, np.newaxis]
        layer = optics.film_map(depth * pot.absorption, depth * pot.scattering)
        fold = layer if fold is None else optics.compose(layer, fold)
    return fold


def look_for(project: Project, viewing: Viewing | None = None) -> Look:
    """The look of a viewing for recipes: always dry."""
    view = project.viewing if viewing is None else viewing
    return look_of(project, replace(view, wet=False))
