"""Brings colours that the display cannot show inside it: less chroma, same lightness and hue.

Along the line of falling chroma in OKLab each cone root is linear in the chroma, so each linear
RGB channel is a cubic in it. The largest chroma that fits is found for all colours at once by a
bracketed secant (the Illinois rule), always keeping an end that fits.
"""

from functools import lru_cache
from typing import Any, Final

import numpy as np
from numpy.typing import NDArray

from schemeforge.colorimetry._arrays import FloatArray
from schemeforge.colorimetry.primaries import rgb_matrices
from schemeforge.colorimetry.tristimulus import oklab_matrices

# Linear light outside 0 to 1 by no more than this is rounding, not a colour out of gamut: below
# 0.004 of an 8-bit code near black, and above the rounding of float32.
TOLERANCE: Final = 1e-6

_STEPS: Final = 40
_CHROMA_STEP: Final = 1e-9
_ROUNDING: Final = 1e-13


def into_gamut(linear: FloatArray) -> FloatArray:
    """Linear sRGB inside 0 to 1 with the OKLCh lightness and hue of the colours given.

    Args:
        linear: Linear sRGB, shape ``(n, 3)``, some of it outside 0 to 1.

    Returns:
        The same shape and dtype. Lighter than white becomes white, darker than black black.
    """
    roots_from_rgb, lab_from_roots, roots_from_lab, rgb_from_cones = _matrices()
    lab = np.cbrt(linear.astype(np.float64) @ roots_from_rgb) @ lab_from_roots
    light = np.clip(lab[:, 0], 0, 1)
    base = light[:, None] * roots_from_lab[0]
    # Cone roots per whole of the colour's own chroma; the share kept is sought, 0 to 1.
    slope = lab[:, 1:] @ roots_from_lab[1:]
    share = _largest_share(base, slope, rgb_from_cones)
    share[(lab[:, 0] >= 1) | (lab[:, 0] <= 0)] = 0
    roots = base + share[:, None] * slope
    inside = (roots * roots * roots) @ rgb_from_cones
    return np.asarray(np.clip(inside, 0, 1), dtype=linear.dtype)


def _largest_share(
    base: NDArray[np.float64], slope: NDArray[np.float64], rgb_from_cones: NDArray[np.float64]
) -> NDArray[np.float64]:
    """The share of the chroma, 0 to 1, at which each colour just fits."""
    count = len(base)
    low, high = np.zeros(count), np.ones(count)
    low_gap = _gap(base, slope, low, rgb_from_cones)
    high_gap = _gap(base, slope, high, rgb_from_cones)
    fits = high_gap >= 0
    low[fits] = 1
    side = np.zeros(count, dtype=np.int8)
    active = np.flatnonzero(~fits)
    for _ in range(_STEPS):
        if not active.size:
            break
        a, b, fa, fb = low[active], high[active], low_gap[active], high_gap[active]
        span = fa - fb
        middle = np.where(span > 0, a + (b - a) * fa / np.where(span > 0, span, 1), (a + b) / 2)
        middle = np.clip(middle, a, b)
        gap = _gap(base[active], slope[active], middle, rgb_from_cones)
        inside = gap >= 0
        # Illinois: an end that stays twice in a row has its weight halved.
        stays_high = inside & (side[active] == 1)
        stays_low = ~inside & (side[active] == -1)
        high_gap[active] = np.where(inside, np.where(stays_high, fb / 2, fb), gap)
        low_gap[active] = np.where(inside, gap, np.where(stays_low, fa / 2, fa))
        high[active] = np.where(inside, b, middle)
        low[active] = np.where(inside, middle, a)
        side[active] = np.where(inside, 1, -1)
        done = (np.abs(gap) < _CHROMA_STEP) & inside | (high[active] - low[active] < _CHROMA_STEP)
        active = active[~done]
    return low


def _gap(
    base: NDArray[np.float64],
    slope: NDArray[np.float64],
    share: NDArray[np.float64],
    rgb_from_cones: NDArray[np.float64],
) -> NDArray[np.float64]:
    """Least distance of the three channels to 0 and 1: negative where the colour does not fit."""
    roots = base + share[:, None] * slope
    rgb = (roots * roots * roots) @ rgb_from_cones
    # White and black lie on the border themselves: room for rounding, taken off by the clip.
    room = np.minimum(rgb, 1 - rgb).min(axis=1) + _ROUNDING
    return np.asarray(room)


@lru_cache(maxsize=1)
def _matrices() -> tuple[NDArray[Any], NDArray[Any], NDArray[Any], NDArray[Any]]:
    """For row vectors: RGB to cones, cone roots to OKLab, OKLab to cone roots, cones to RGB."""
    cones, lab = oklab_matrices()
    there, back = rgb_matrices()
    return back @ cones.T, lab.T, np.linalg.inv(lab).T, np.linalg.inv(cones).T @ there
