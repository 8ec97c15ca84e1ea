"""All parts of a model at once: distances, with a grid of cells that says which parts are near."""

from typing import Any, Final

import numpy as np
from numpy.typing import NDArray

from schemeforge.stand_in.fields import Floats, away, length
from schemeforge.stand_in.part import Part

AT_ONCE: Final = 65536
_CELL_MM: Final = 1.0
_CORNER: Final = 0.88 * _CELL_MM  # from a cell's middle to its corner, with a little to spare
_SKIP_MM: Final = 0.25  # a bound above this is worth a step
_BEND_MM: Final = 0.5  # by how much more than true a part may say within a cell
_NOWHERE: Final = 1e3


class Cells:
    """Numbers on a grid of cells around a model, read at the cell that holds a place."""

    def __init__(self, low: Floats, high: Floats, cell: float) -> None:
        self.low = low.astype(np.float32)
        self.cell = cell
        self.shape = tuple(int(n) for n in np.ceil((high - low) / cell))

    @property
    def count(self) -> int:
        """How many cells."""
        return int(np.prod(self.shape))

    def middles(self) -> Floats:
        """Middle of every cell, ``(3, cells)``."""
        grids = np.meshgrid(*(np.arange(n) for n in self.shape), indexing="ij")
        spots = np.stack([grid.reshape(-1) for grid in grids]).astype(np.float32)
        return np.asarray(self.low[:, np.newaxis] + (spots + np.float32(0.5)) * self.cell)

    def index(self, P: Floats) -> NDArray[np.intp]:
        """The cell of each place, the nearest one for places outside, ``(n,)``."""
        found = np.zeros(P.shape[1], np.intp)
        for row, low, most in zip(P, self.low, self.shape, strict=True):
            at = ((row - low) * np.float32(1.0 / self.cell)).astype(np.int32)
            np.clip(at, 0, most - 1, out=at)
            found *= most
            found += at
        return found


class Solid:
    """The parts of a model.

    Args:
        parts: At most 63.
        low: Corner of a box that holds the model, mm, ``(3,)``.
        high: The opposite one.
    """

    def __init__(self, parts: tuple[Part, ...], low: Floats, high: Floats) -> None:
        self.parts = parts
        self._cells = Cells(low, high, _CELL_MM)
        middles = self._cells.middles()
        self._bound = np.empty(self._cells.count, np.float32)
        self._close = np.zeros(self._cells.count, np.int64)
        for first in range(0, self._cells.count, AT_ONCE):
            some = slice(first, first + AT_ONCE)
            self._fill(middles[:, some], some)

    def _fill(self, P: Floats, some: slice) -> None:
        balls = np.stack([length(away(P, part.centre)) - part.reach for part in self.parts])
        far = np.maximum(balls, 0.0)
        least = np.full(P.shape[1], _NOWHERE, P.dtype)
        for n in np.argsort(balls.min(axis=1)):
            near = np.flatnonzero(balls[n] < least + 2.0 * _CORNER + _BEND_MM)
            far[n, near] = self.parts[n].distance(P[:, near])
            least = np.minimum(least, far[n])
        self._bound[some] = least - _CORNER
        bits = far < least + (2.0 * _CORNER + _BEND_MM)
        for n, row in enumerate(bits):
            self._close[some] |= np.where(row, np.int64(1) << n, 0)

    def nearest(self, P: Floats, *, exact: bool = False) -> tuple[Floats, NDArray[np.int8]]:
        """A distance that leads nowhere too far, and the nearest part, ``(n,)`` each.

        Far from the model the part is -1 and the distance is what the cell allows, unless exact.
        """
        cell = self._cells.index(P)
        far = self._bound[cell]
        which = np.full(P.shape[1], -1, np.int8)
        near = np.arange(P.shape[1]) if exact else np.flatnonzero(far < _SKIP_MM)
        close = self._close[cell[near]]
        least = np.full(len(near), _NOWHERE, P.dtype)
        best = np.full(len(near), -1, np.int8)
        Q = P if len(near) == P.shape[1] else P[:, near]
        every = int(np.bitwise_or.reduce(close)) if len(near) else 0
        for n, part in enumerate(self.parts):
            if not every >> n & 1:
                continue
            some = np.flatnonzero(close & (1 << n))
            d = part.distance(Q[:, some])
            better = d < least[some]
            chosen = some[better]
            least[chosen] = d[better]
            best[chosen] = n
        far[near] = least
        which[near] = best
        return far, which

    def distance(self, P: Floats) -> Floats:
        """The distance alone near the surface, ``(n,)``."""
        pieces = [
            self.nearest(P[:, n : n + AT_ONCE], exact=True)[0]
            for n in range(0, P.shape[1], AT_ONCE)
        ]
        return np.concatenate(pieces) if pieces else np.zeros(0, np.float32)

    def normals(self, P: Floats, h: float = 0.03) -> Floats:
        """Unit vectors out of the surface, ``(3, n)``: distances at four corners around."""
        corners = np.array([[1, -1, -1], [-1, -1, 1], [-1, 1, -1], [1, 1, 1]], np.float32)
        total = np.zeros_like(P)
        for corner in corners[:, :, np.newaxis]:
            total += corner * self.distance(P + np.float32(h) * corner)
        return np.asarray(total / np.maximum(length(total), np.float32(1e-12)))


def by_part(part: NDArray[np.int8], count: int) -> list[NDArray[Any]]:
    """Places in the row that show each part."""
    return [np.flatnonzero(part == n) for n in range(count)]
