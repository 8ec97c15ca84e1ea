"""The stages of one zone over spots (tone and relief) by columns (places along the part).

Columns where every coat is laid alike are one column, and coats below the first that varies
along the part are folded once for all columns.
"""

from dataclasses import dataclass
from typing import Any

import numpy as np
from numpy.typing import NDArray

from schemeforge.appearance.folding import (
    Film,
    Fold,
    Room,
    film_of,
    lay,
    room_for,
    short_buffers,
    strength_of,
    xyz_through,
)
from schemeforge.appearance.look import Look
from schemeforge.appearance.points import Grid
from schemeforge.appearance.pots import PotSpectra
from schemeforge.appearance.undercoat import Grounds
from schemeforge.optics import bands
from schemeforge.scheme import Coat, Step

# Elements of one array in the hot loop: fewer pay for the calls, more leave the caches.
AT_ONCE = 24576


@dataclass(frozen=True, slots=True)
class Laid:
    """One stage made ready: its grounds, and its coat and pot where it is a coat."""

    grounds: Grounds
    coat: Coat | None = None
    pot: PotSpectra | None = None


@dataclass(frozen=True, slots=True)
class Columns:
    """The different columns of a zone.

    Args:
        shares: For each stage None where it is alike along the part; else its coat's share of
            the film, ``(columns,)``, or ``(spots,)`` where the points are no grid.
        index: Column of each place.
        count: How many columns.
    """

    shares: tuple[NDArray[np.float64] | None, ...]
    index: NDArray[np.intp]
    count: int

    @property
    def first(self) -> int:
        """The first stage that varies along the part."""
        return next((n for n, s in enumerate(self.shares) if s is not None), len(self.shares))


def columns_of(steps: tuple[Step | None, ...], grid: Grid) -> Columns:
    """The different columns of a stack."""
    profiles = [step.coat.placement.along if step and step.coat else None for step in steps]
    shares = [p.share(grid.along) if p and not p.is_even else None for p in profiles]
    if grid.is_pointwise:
        return Columns(tuple(shares), np.zeros(1, np.intp), 1)
    varying = [share.tolist() for share in shares if share is not None]
    places = list(zip(*varying, strict=True)) or [()] * len(grid.along)
    number: dict[tuple[float, ...], int] = {}
    index = [number.setdefault(place, len(number)) for place in places]
    first = [index.index(n) for n in range(len(number))]
    some = (None if share is None else share[first] for share in shares)
    return Columns(tuple(some), np.array(index, np.intp), len(number))


def see_columns(
    laid: list[Laid], grid: Grid, columns: Columns, look: Look, some: slice, out: NDArray[Any]
) -> None:
    """XYZ of every stage at some spots, written into ``out``, ``(stages, columns, spots, 3)``."""
    stages, count, spots, _ = out.shape
    alike = stages if grid.is_pointwise else columns.first
    rows = 1 if alike == stages else min(count, max(1, AT_ONCE // (bands.COUNT * spots)))
    bench = _Bench(laid, grid, columns, look, some, rows)
    with short_buffers():
        under = bench.lay(range(alike), slice(0, 1), None, bench.lowest, out)
        for first in range(0, count if alike < stages else 0, rows):
            part = slice(first, min(first + rows, count))
            bench.lay(range(alike, stages), part, under, bench.stack, out[:, part])


class _Bench:
    """Lays the coats of one zone on some spots, in arrays that are made once."""

    def __init__(
        self, laid: list[Laid], grid: Grid, columns: Columns, look: Look, some: slice, rows: int
    ) -> None:
        self._laid = laid
        self._relief = grid.relief[some]
        self._shares = columns.shares
        self._is_pointwise = grid.is_pointwise
        if grid.is_pointwise:
            self._shares = tuple(None if s is None else s[some] for s in columns.shares)
        self._look = look
        width = len(self._relief) * bands.COUNT
        self._room = room_for(rows, width, look.dtype)
        self._films = np.empty((2, rows, width), look.dtype)
        self.lowest = Fold(*np.empty((3, 1, width), look.dtype))
        self.stack = Fold(*np.empty((3, rows, width), look.dtype))
        self._wide: dict[int, Grounds] = {}

    def lay(
        self, stages: range, part: slice, fold: Fold | None, hold: Fold, out: NDArray[Any]
    ) -> Fold | None:
        """Lays those stages in some columns on what is there; gives what is there then."""
        rows = part.stop - part.start
        room = self._room.rows(rows)
        into = Fold(*(array[:rows] for array in hold))
        for n in stages:
            layer = self._laid[n]
            if layer.coat is None or layer.pot is None:
                out[n] = self._bare(layer.grounds)
                continue
            top = None
            if self._look.is_wet:
                milk = self._look.milk_per_um * layer.pot.binder
                top = lay(self._film(n, layer.coat, layer.pot, milk, part), fold, room)
                out[n] = self._colours(top, layer.grounds, room)
            fold = lay(self._film(n, layer.coat, layer.pot, 0.0, part), fold, room, into)
            if top is None:
                out[n] = self._colours(fold, layer.grounds, room)
        return fold

    def _film(self, n: int, coat: Coat, pot: PotSpectra, milk: float, part: slice) -> Film:
        """The coat's film, in one row where it is alike along the part."""
        strength = strength_of(pot.absorption, pot.scattering + milk, self._look.dtype)
        film = coat.wet_um * coat.passes * coat.placement.relief.film(self._relief)
        share = self._shares[n]
        if share is not None and self._is_pointwise:
            film = film * share
        depth = np.multiply.outer(film.astype(self._look.dtype, copy=False), strength.decay)
        depth = depth.reshape(1, -1)
        if share is not None and not self._is_pointwise:
            depth = share[part, np.newaxis].astype(self._look.dtype, copy=False) * depth
        into = self._films[:, : len(depth)]
        return film_of(depth, strength.repeated(len(self._relief)), (into[0], into[1]))

    def _colours(self, fold: Fold, grounds: Grounds, room: Room) -> NDArray[Any]:
        spots = len(self._relief)
        if id(grounds) not in self._wide:
            self._wide[id(grounds)] = grounds.laid_out(spots, self._look.dtype)
        return xyz_through(fold, self._wide[id(grounds)], self._look, room).reshape(-1, spots, 3)

    def _bare(self, grounds: Grounds) -> NDArray[Any]:
        """Colours of the undercoat, alike in all columns."""
        spots = 1 if grounds.is_idle else len(self._relief)
        wide = grounds.laid_out(spots, self._look.dtype)
        return xyz_through(None, wide, self._look)


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
