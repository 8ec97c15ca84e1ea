"""How far colours are from the target: exactly, and as a sum of squares for the solver.

CIEDE2000 weighs differences of lightness, chroma and hue by the mean of the two colours
[Sharma2005]. With those weights taken halfway between the two it is a quadratic form, and its
square root is a linear map of the difference: three numbers whose squares sum to nearly the
square of CIEDE2000. Of a ramp the root of the mean square over its tones counts.
"""

from typing import Any

import numpy as np
from numpy.typing import NDArray

from schemeforge import colorimetry

Floats = NDArray[Any]
_POW25_7 = 25.0**7


def ramp_difference(lab: Floats, target: Floats) -> Floats:
    """CIEDE2000 of ramps ``(m, tones, n, 3)`` to one ``(tones, 3)``: root mean square, ``(m, n)``.

    One tone gives plain CIEDE2000.
    """
    each = colorimetry.ciede2000(lab, target[:, np.newaxis].astype(lab.dtype, copy=False))
    if each.shape[1] == 1:
        return each[:, 0]
    return np.asarray(np.sqrt(np.mean(each * each, axis=1)))


class Whitening:
    """The linear map of CIELAB differences halfway between colours and their target.

    Args:
        lab: Colours ``(tones, n, 3)``.
        target: ``(tones, 3)``.
    """

    def __init__(self, lab: Floats, target: Floats) -> None:
        wanted = target[:, np.newaxis].astype(lab.dtype, copy=False)
        L, a, b = np.moveaxis((lab + wanted) / 2, -1, 0)
        # [Sharma2005] eq. 4-5: a* is stretched towards neutral by the mean chroma.
        C = (np.hypot(lab[..., 1], lab[..., 2]) + np.hypot(wanted[..., 1], wanted[..., 2])) / 2
        stretch = 1.5 - 0.5 * np.sqrt(_seventh(C))
        x = a * stretch
        chroma = np.hypot(x, b)
        h = np.arctan2(b, x)
        # eq. 15-21 at the halfway colour.
        T = (
            1
            - 0.17 * np.cos(h - np.pi / 6)
            + 0.24 * np.cos(2 * h)
            + 0.32 * np.cos(3 * h + np.pi / 30)
            - 0.20 * np.cos(4 * h - 7 * np.pi / 20)
        )
        theta = np.pi / 3 * np.exp(-(((np.degrees(h) % 360 - 275) / 25) ** 2))
        half_R = -np.sin(theta) * np.sqrt(_seventh(chroma))
        offset = (L - 50) ** 2
        S_C = 1 + 0.045 * chroma
        S_H = 1 + 0.015 * chroma * T
        cosine, sine = np.cos(h), np.sin(h)
        rest = np.sqrt(1 - half_R * half_R)
        self._of_L = 1 / (1 + 0.015 * offset / np.sqrt(20 + offset))
        # y^2 + z^2 + R_T y z as two squares: y + R_T z/2, and what is left of z.
        self._second = (
            stretch * (cosine / S_C - half_R * sine / S_H),
            sine / S_C + half_R * cosine / S_H,
        )
        self._third = (-rest * stretch * sine / S_H, rest * cosine / S_H)

    def __call__(self, difference: Floats) -> Floats:
        """Differences ``(..., tones, n, 3)`` as ``(..., tones, 3, n)``."""
        a, b = difference[..., 1], difference[..., 2]
        return np.stack(
            (
                self._of_L * difference[..., 0],
                self._second[0] * a + self._second[1] * b,
                self._third[0] * a + self._third[1] * b,
            ),
            axis=-2,
        )


def _seventh(C: Floats) -> Floats:
    squared = C * C
    power = squared * squared * squared * C
    value: Floats = power / (power + _POW25_7)
    return value
