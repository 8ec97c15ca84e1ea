"""Places on a zone, and how they are laid out for arrays.

Grounds depend on tone, and films on relief times a share that depends on the place along the
part. Where the points form a grid with the places along the part on axes of their own, everything
but that share is worked out once for all of them.
"""

from dataclasses import dataclass
from typing import Any

import numpy as np
from numpy.typing import ArrayLike, NDArray

from schemeforge.errors import InputError


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
class Grid:
    """Points as spots (tone and relief) times places along the part.

    Args:
        tone: ``(spots,)``.
        relief: ``(spots,)``.
        along: ``(places,)``; where the points are no grid ``(spots,)``, and there is one place.
        is_pointwise: True where every spot has its own place along the part.
        shape: Shape of the points.
        axes: Axis of the points that each axis of places, then of spots, stands for.
    """

    tone: NDArray[np.float64]
    relief: NDArray[np.float64]
    along: NDArray[np.float64]
    is_pointwise: bool
    shape: tuple[int, ...]
    axes: tuple[int, ...]

    def restored(self, values: NDArray[Any]) -> NDArray[Any]:
        """Arrays ``(stages, places, spots, 3)`` as ``(stages, *shape, 3)``."""
        laid = values.reshape(len(values), *(self.shape[axis] for axis in self.axes), 3)
        order = np.argsort(self.axes)
        turned = laid.transpose(0, *(order + 1), len(self.shape) + 1)
        return np.ascontiguousarray(turned)


def grid_of(points: Points) -> Grid:
    """The points as a grid."""
    shape = points.shape
    tone, relief, along = (
        array.reshape((1,) * (len(shape) - array.ndim) + array.shape)
        for array in (points.tone, points.relief, points.along)
    )
    of_spots = [t != 1 or r != 1 for t, r in zip(tone.shape, relief.shape, strict=True)]
    is_pointwise = any(a != 1 and spot for a, spot in zip(along.shape, of_spots, strict=True))
    spots = tuple(n for n in range(len(shape)) if is_pointwise or of_spots[n])
    places = tuple(n for n in range(len(shape)) if n not in spots)
    cut = tuple(slice(None) if n in spots else 0 for n in range(len(shape)))
    wide = tuple(shape[n] for n in spots)
    tone, relief = (np.broadcast_to(array[cut], wide).reshape(-1) for array in (tone, relief))
    along = np.broadcast_to(along[cut], wide).reshape(-1) if is_pointwise else along.reshape(-1)
    return Grid(tone, relief, along, is_pointwise, shape, (*places, *spots))
