"""Chromatic adaptation to daylight: CAT16 with full adaptation [Li2017]."""

from functools import lru_cache

import numpy as np
from numpy.typing import NDArray

# [Li2017] eq. A.4: XYZ to the sharpened cone responses of CAT16.
CAT16 = np.array(
    [
        [0.401288, 0.650173, -0.051461],
        [-0.250268, 1.204414, 0.045854],
        [-0.002079, 0.048952, 0.953127],
    ]
)
CAT16.flags.writeable = False


@lru_cache(maxsize=1)
def _inverse() -> NDArray[np.float64]:
    return np.linalg.inv(CAT16)


def adaptation(source: NDArray[np.float64], target: NDArray[np.float64]) -> NDArray[np.float64]:
    """Matrix ``(3, 3)`` that takes XYZ seen under one white to their match under another.

    Full adaptation (D = 1) with CAT16 [Li2017]: ``adapted = matrix @ xyz``, and the source white
    goes exactly to the target white, up to rounding.

    Args:
        source: XYZ of the white adapted to, shape ``(3,)``.
        target: XYZ of the white to arrive at, shape ``(3,)``, on the same scale of Y.
    """
    gains = (CAT16 @ target) / (CAT16 @ source)
    matrix: NDArray[np.float64] = _inverse() @ (gains[:, None] * CAT16)
    return matrix
