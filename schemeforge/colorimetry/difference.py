"""Colour differences between CIELAB colours, and the plain words for them."""

from typing import Final

import numpy as np
from numpy.typing import ArrayLike

from schemeforge.colorimetry._arrays import FloatArray, finite
from schemeforge.errors import InputError

# Upper ends of the bands of CIEDE2000 and their words; common practice, no source.
WORDS: Final = (
    (1.0, "unseen"),
    (2.0, "seen side by side"),
    (5.0, "shows in the ranks"),
    (float("inf"), "another colour"),
)

_POW25_7: Final = 25.0**7
_TURN: Final = 2 * np.pi
# Hues exactly opposite each other count as within half a turn [Sharma2005]; the arctangents that
# tell it are right to a few units in the last place.
_HALF: Final = np.pi * (1 + 1e-14)


def ciede2000(lab1: ArrayLike, lab2: ArrayLike) -> FloatArray:
    """CIEDE2000 between CIELAB colours, kL = kC = kH = 1 [Sharma2005] eq. 2-22.

    Args:
        lab1: Colours, shape ``(..., 3)``.
        lab2: Colours that broadcast against them.

    Returns:
        Differences of the broadcast shape without its last axis; 0-dimensional for two colours.

    Raises:
        InputError: where the last axis is not 3, or a number is not finite.
    """
    one, two = _pair(lab1, lab2)
    L1, a1, b1 = one[..., 0], one[..., 1], one[..., 2]
    L2, a2, b2 = two[..., 0], two[..., 1], two[..., 2]
    # eq. 2-7: a* stretched towards neutral, then chroma and hue.
    C_mean = (np.hypot(a1, b1) + np.hypot(a2, b2)) / 2
    stretch = 1.5 - 0.5 * np.sqrt(_seventh(C_mean))
    x1 = a1 * stretch
    x2 = a2 * stretch
    C1 = np.hypot(x1, b1)
    C2 = np.hypot(x2, b2)
    h1 = np.arctan2(b1, x1) % _TURN
    h2 = np.arctan2(b2, x2) % _TURN
    # eq. 8-11: the hue difference the short way round; a neutral colour has none, see dH and h.
    turn = h2 - h1
    turn = np.where(np.abs(turn) <= _HALF, turn, turn - np.copysign(_TURN, turn))
    product = C1 * C2
    dL = L2 - L1
    dC = C2 - C1
    dH = 2 * np.sqrt(product) * np.sin(turn / 2)
    # eq. 12-14: means; halfway along the short way round is the mean hue, the sum if neutral.
    L = (L1 + L2) / 2
    C = (C1 + C2) / 2
    h = np.where(product == 0, h1 + h2, h1 + turn / 2)
    # eq. 15-21.
    T = (
        1
        - 0.17 * np.cos(h - np.pi / 6)
        + 0.24 * np.cos(2 * h)
        + 0.32 * np.cos(3 * h + np.pi / 30)
        - 0.20 * np.cos(4 * h - 7 * np.pi / 20)
    )
    theta = np.pi / 3 * np.exp(-(((np.degrees(h) % 360 - 275) / 25) ** 2))
    offset = (L - 50) ** 2
    S_L = 1 + 0.015 * offset / np.sqrt(20 + offset)
    S_C = 1 + 0.045 * C
    S_H = 1 + 0.015 * C * T
    R_T = -np.sin(theta) * 2 * np.sqrt(_seventh(C))
    # eq. 22.
    L_term = dL / S_L
    C_term = dC / S_C
    H_term = dH / S_H
    total = L_term * L_term + C_term * C_term + H_term * H_term + R_T * C_term * H_term
    # Rounding may leave the quadratic form a hair below zero for equal colours.
    return np.asarray(np.sqrt(np.maximum(total, 0)))


def cie76(lab1: ArrayLike, lab2: ArrayLike) -> FloatArray:
    """CIELAB distance of 1976 [CIE15] eq. 8.22; shapes and errors as in `ciede2000`."""
    one, two = _pair(lab1, lab2)
    gap = one - two
    return np.asarray(np.sqrt((gap * gap).sum(axis=-1)))


def cie94(lab1: ArrayLike, lab2: ArrayLike) -> FloatArray:
    """CIE94 for graphic arts (K1 = 0.045, K2 = 0.015), `lab1` being the standard [CIE116].

    Not symmetric: the chroma of the standard sets the tolerance. Otherwise as `ciede2000`.
    """
    one, two = _pair(lab1, lab2)
    C1 = np.hypot(one[..., 1], one[..., 2])
    C2 = np.hypot(two[..., 1], two[..., 2])
    gap = one - two
    dC = C1 - C2
    dH_squared = np.maximum(gap[..., 1] ** 2 + gap[..., 2] ** 2 - dC**2, 0)
    C_term = dC / (1 + 0.045 * C1)
    total = gap[..., 0] ** 2 + C_term**2 + dH_squared / (1 + 0.015 * C1) ** 2
    return np.asarray(np.sqrt(total))


def difference_words(difference: float) -> str:
    """Plain words for a CIEDE2000: "unseen" below 1, "seen side by side" to 2, and so on.

    Raises:
        InputError: where the difference is negative or NaN.
    """
    if not difference >= 0:
        raise InputError(
            f"A colour difference of {difference} does not exist", remedy="give zero or more"
        )
    return next(words for end, words in WORDS if difference < end or end == float("inf"))


def _pair(lab1: ArrayLike, lab2: ArrayLike) -> tuple[FloatArray, FloatArray]:
    one = finite(lab1, 3, "first CIELAB")
    two = finite(lab2, 3, "second CIELAB")
    try:
        np.broadcast_shapes(one.shape, two.shape)
    except ValueError as error:
        raise InputError(
            f"CIELAB arrays of the shapes {one.shape} and {two.shape} cannot be compared",
            remedy="give shapes that broadcast",
        ) from error
    return one, two


def _seventh(C: FloatArray) -> FloatArray:
    """C^7 / (C^7 + 25^7), by products: powers of arrays are slow."""
    squared = C * C
    power = squared * squared * squared * C
    return power / (power + _POW25_7)
