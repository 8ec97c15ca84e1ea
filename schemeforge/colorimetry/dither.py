"""Turns encoded colours into 8 bits so that smooth ramps show no bands."""

from functools import lru_cache
from typing import Final

import numpy as np
from numpy.typing import ArrayLike, NDArray

from schemeforge.colorimetry._arrays import finite
from schemeforge.errors import InputError

# [Roberts2018]: 1/g and 1/g^2, where g = 1.3247... is the real root of g^3 = g + 1. Multiples of
# the two, modulo 1, fill the interval evenly over every small patch of pixels.
_PLASTIC: Final = 1.32471795724474602596
_ACROSS: Final = 1 / _PLASTIC
_DOWN: Final = 1 / _PLASTIC**2


def dither(rgb: ArrayLike) -> NDArray[np.uint8]:
    """8-bit codes of encoded sRGB, rounded up or down by an even pattern.

    Each code is one of the two next to the exact value, as often up as the value stands above the
    lower one, so the mean over a patch is kept and an 8-bit step never shows as a band. The same
    input gives the same output, and values that are whole codes are left alone.

    Args:
        rgb: Encoded sRGB of 0 to 1, shape ``(height, width, 3)``; values outside are clipped.

    Raises:
        InputError: for another shape, or a number that is not finite.
    """
    array = finite(rgb, 3, "picture")
    if array.ndim != 3:
        raise InputError(
            f"The picture has the shape {array.shape}", remedy="give height, width and 3 channels"
        )
    exact = np.clip(array, 0, 1) * 255
    lower = np.floor(exact)
    # Whole codes may come out of a division by 255 and of float32 with a little dust on them.
    share = exact - lower
    dust = 255 * 4 * np.finfo(array.dtype).eps
    share[share < dust] = 0
    share[share > 1 - dust] = 1
    up = share > thresholds(array.shape[0], array.shape[1])
    return (lower + up).astype(np.uint8)


@lru_cache(maxsize=8)
def thresholds(height: int, width: int) -> NDArray[np.float64]:
    """Thresholds of 0 to just below 1, shape ``(height, width, 3)``, shifted between channels."""
    x = np.arange(width)[None, :, None] * _ACROSS
    y = np.arange(height)[:, None, None] * _DOWN
    pattern = (0.5 + x + y + np.arange(3) / 3) % 1.0
    pattern.flags.writeable = False
    return pattern
