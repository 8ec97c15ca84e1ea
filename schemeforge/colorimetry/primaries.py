"""The matrices between XYZ and linear sRGB."""

from functools import lru_cache
from typing import Any, Final

import numpy as np
from numpy.typing import NDArray

from schemeforge.colorimetry._arrays import FloatArray
from schemeforge.colorimetry.tristimulus import D65_WHITE

# [IEC61966]: chromaticities x, y of red, green, blue.
_PRIMARIES: Final = ((0.64, 0.33), (0.30, 0.60), (0.15, 0.06))


def rgb_matrices(dtype: type[np.floating[Any]] = np.float64) -> tuple[FloatArray, FloatArray]:
    """Matrices ``(3, 3)`` for row vectors: XYZ to linear sRGB, and back; read-only.

    Made from the primaries and `D65_WHITE`; they differ from the rounded ones of the standard by
    2e-4 at most, because its white is rounded to four digits of chromaticity.
    """
    return _single() if dtype == np.float32 else _double()


@lru_cache(maxsize=1)
def _double() -> tuple[NDArray[np.float64], NDArray[np.float64]]:
    columns = np.array([[x / y, 1.0, (1 - x - y) / y] for x, y in _PRIMARIES]).T
    back = columns * np.linalg.solve(columns, D65_WHITE)
    there = np.linalg.inv(back)
    # The white is (1, 1, 1) to the last digit or so.
    there /= (there @ D65_WHITE)[:, None]
    pair = np.ascontiguousarray(there.T), np.ascontiguousarray(back.T)
    for matrix in pair:
        matrix.flags.writeable = False
    return pair


@lru_cache(maxsize=1)
def _single() -> tuple[NDArray[np.float32], NDArray[np.float32]]:
    there, back = (matrix.astype(np.float32) for matrix in _double())
    there.flags.writeable = False
    back.flags.writeable = False
    return there, back
