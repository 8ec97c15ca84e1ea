"""Colours of a zone after each of its coats, at any points."""

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Any

import numpy as np
from numpy.typing import ArrayLike, NDArray

from schemeforge.appearance.folding import Fold, film_of, lay, seen_through
from schemeforge.appearance.look import Look, look_of
from schemeforge.appearance.pots import PotSpectra, pot_spectra
from schemeforge.appearance.undercoat import BARE_PLASTIC, Grounds, zone_grounds
from schemeforge.errors import InputError
from schemeforge.optics import bands
from schemeforge.scheme import (
    Coat,
    Primer,
    Project,
    Scheme,
    Spray,
    Step,
    Viewing,
    coloured_steps,
)

__all__ = ["BARE_PLASTIC", "Points", "Stage", "coat_films", "final_xyz", "zone_stages", "zone_tile"]


@dataclass(frozen=True, slots=True)
class Points:
    """Places on a zone: three arrays, each 0 to 1, that broadcast against each other.

    Args:
        tone: Undercoat light: share of the spray's peak deposit.
        relief: Recess (0) to raised edge (1).
        along: Root (0) to tip (1).

    Raises:
        InputError: For values outside 0 to 1 or shapes that do not fit together.
    """

    tone: NDArray[np.float64]
    relief: NDArray[np.float64]
    along: NDArray[np.float64]

    def __init__(self, tone: ArrayLike, relief: ArrayLike, along: ArrayLike) -> None:
        for name, values in (("tone", tone), ("relief", relief), ("along", along)):
            array = np.asarray(values, dtype=np.float64)
            if not np.all((array >= 0.0) & (array <= 1.0)):
                raise InputError(f"A {name} is outside 0 to 1", remedy="give 0 to 1")
            object.__setattr__(self, name, array)
        try:
            np.broadcast_shapes(self.tone.shape, self.relief.shape, self.along.shape)
        except ValueError:
            raise InputError("Tone, relief and along do not fit together in shape") from None

    @property
    def shape(self) -> tuple[int, ...]:
        """The common shape."""
        return np.broadcast_shapes(self.tone.shape, self.relief.shape, self.along.shape)


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

    Raises:
        UnknownNameError: For a light, zone or mix that does not exist.
        PaintMissingError: For a paint that the project does not carry.
    """
    project.zone(zone_id)
    look = look_of(project, viewing)
    steps = coloured_steps(scheme, zone_id, group_id)
    laid = tuple(_prepared(project, scheme, steps, points.tone, look))
    xyz = [np.empty((*points.shape, 3)) for _ in laid]
    for rows in _blocks(points.shape):
        _lay_block(laid, points, rows, look, xyz)
    return tuple(Stage(layer.step, colours) for layer, colours in zip(laid, xyz, strict=True))


# Elements (points times bands) worked on at a time: arrays of this size stay in the second-level
# cache and are handed out again by the allocator instead of being mapped anew.
_BLOCK = 24576


def _blocks(shape: tuple[int, ...]) -> Iterator[slice]:
    """Slices of the first axis that keep a block small."""
    if not shape:
        yield slice(None)
        return
    rest = int(np.prod(shape[1:])) * bands.COUNT
    step = max(1, round(_BLOCK / max(rest, 1)))
    for first in range(0, shape[0], step):
        yield slice(first, first + step)


@dataclass(frozen=True, slots=True)
class _Laid:
    """One stage made ready: its grounds, and its coat's spectra where it is a coat."""

    step: Step | None
    grounds: Grounds
    coat: Coat | None = None
    pot: PotSpectra | None = None


def _prepared(
    project: Project,
    scheme: Scheme,
    steps: tuple[Step, ...],
    tone: NDArray[np.float64],
    look: Look,
) -> Iterator[_Laid]:
    if not steps:
        yield _Laid(None, zone_grounds(project, scheme, (), tone))
        return
    under = tuple(s for s in steps if isinstance(s.layer, Primer | Spray))
    dry = zone_grounds(project, scheme, under, tone)
    for step in steps:
        if isinstance(step.layer, Coat):
            pot = pot_spectra(project, scheme.mix(step.layer.mix_id))
            yield _Laid(step, dry, step.layer, pot)
        else:
            so_far = under[: under.index(step) + 1]
            yield _Laid(step, zone_grounds(project, scheme, so_far, tone, look.milk_per_um))


def _lay_block(
    laid: tuple[_Laid, ...],
    points: Points,
    rows: slice,
    look: Look,
    out: list[NDArray[np.float64]],
) -> None:
    """The stages of some rows of the points, written into ``out``."""
    rank = len(points.shape)
    relief, along = (_rows(array, rows, rank) for array in (points.relief, points.along))
    matrix = look.matrix()
    fold: Fold | None = None
    for layer, colours in zip(laid, out, strict=True):
        grounds = layer.grounds.rows(rows, rank)
        if layer.coat is None or layer.pot is None:
            colours[rows] = seen_through(None, grounds, look) @ matrix
            continue
        film = coat_films(layer.coat, relief, along)[..., np.newaxis]
        absorption = film * layer.pot.absorption
        dry = lay(film_of(absorption, film * layer.pot.scattering), fold)
        top = dry
        if look.is_wet:
            milky = layer.pot.scattering + look.milk_per_um * layer.pot.binder
            top = lay(film_of(absorption, film * milky), fold)
        colours[rows] = seen_through(top, grounds, look) @ matrix
        fold = dry


def _rows(array: NDArray[Any], rows: slice, rank: int) -> NDArray[Any]:
    """Those rows of an array that broadcasts to that rank; itself where it has no such axis."""
    return array[rows] if array.ndim == rank and rank > 0 and array.shape[0] > 1 else array


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
) -> tuple[Stage, ...]:
    """Every stage over recess to raised edge by root to tip, ``(relief, along, 3)`` each.

    Tone goes with relief, between the tones of the zone's recesses and of its raised edges.
    """
    relief = np.linspace(0.0, 1.0, relief_count)[:, np.newaxis]
    along = np.linspace(0.0, 1.0, along_count)[np.newaxis, :]
    low, high = project.zone(zone_id).tones
    points = Points(low + (high - low) * relief, relief, along)
    return zone_stages(project, scheme, zone_id, points, viewing, group_id)


def coat_films(
    coat: Coat, relief: NDArray[np.float64], along: NDArray[np.float64]
) -> NDArray[np.float64]:
    """Wet film of a coat in um, all passes, in the common shape of relief and along.

    Where the coat is even along the part the shape is that of relief alone.
    """
    film = coat.wet_um * coat.passes * coat.placement.relief.film(relief)
    if coat.placement.along.is_even:
        return film
    share: NDArray[np.float64] = film * coat.placement.along.share(along)
    return share
