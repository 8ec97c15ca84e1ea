"""How far colours are from the target: exactly, and as a sum of squares for the solver.

CIEDE2000 is the root of a quadratic form in the differences of lightness, chroma and hue
[Sharma2005] eq. 22. Written as three numbers whose squares sum to its square, with their slopes by
the colour, it is what a Gauss-Newton step needs, near the target and far from it. Of a ramp the
root of the mean square over its tones counts.
"""

from typing import Any

import numpy as np
from numpy.typing import NDArray

from schemeforge import colorimetry

Floats = NDArray[Any]
_POW25_7 = 25.0**7
# Below this a hue angle has no slope worth following.
_LEAST_CHROMA = 1e-3


def ramp_difference(lab: Floats, target: Floats) -> Floats:
    """CIEDE2000 of ramps ``(m, tones, n, 3)`` to one ``(tones, 3)``: root mean square, ``(m, n)``.

    One tone gives plain CIEDE2000.
    """
    each = colorimetry.ciede2000(lab, target[:, np.newaxis].astype(lab.dtype, copy=False))
    if each.shape[1] == 1:
        return each[:, 0]
    return np.asarray(np.sqrt(np.mean(each * each, axis=1)))


class Gap:
    """CIEDE2000 of colours to their target as three numbers, with their slopes.

    Args:
        lab: Colours ``(tones, n, 3)``.
        target: ``(tones, 3)``.

    Attributes:
        value: ``(tones, 3, n)``; the squares of the three sum to CIEDE2000 squared.
    """

    def __init__(self, lab: Floats, target: Floats) -> None:
        wanted = target[:, np.newaxis].astype(lab.dtype, copy=False)
        L, a, b = np.moveaxis(lab, -1, 0)
        Lt, at, bt = np.moveaxis(wanted, -1, 0)
        # [Sharma2005] eq. 2-7: a* is stretched towards neutral by the mean chroma.
        C_mean = (np.hypot(a, b) + np.hypot(at, bt)) / 2
        stretch = 1.5 - 0.5 * np.sqrt(_seventh(C_mean))
        x, xt = a * stretch, at * stretch
        C, Ct = np.maximum(np.hypot(x, b), _LEAST_CHROMA), np.hypot(xt, bt)
        h, ht = np.arctan2(b, x), np.arctan2(bt, xt)
        turn = h - ht
        turn -= 2 * np.pi * np.round(turn / (2 * np.pi))
        # eq. 8-11.
        root = np.sqrt(C * Ct)
        sine = np.sin(turn / 2)
        dL, dC, dH = L - Lt, C - Ct, 2 * root * sine
        # eq. 12-21.
        chroma, hue = (C + Ct) / 2, ht + turn / 2
        T = (
            1
            - 0.17 * np.cos(hue - np.pi / 6)
            + 0.24 * np.cos(2 * hue)
            + 0.32 * np.cos(3 * hue + np.pi / 30)
            - 0.20 * np.cos(4 * hue - 7 * np.pi / 20)
        )
        theta = np.pi / 3 * np.exp(-(((np.degrees(hue) % 360 - 275) / 25) ** 2))
        half_R = -np.sin(theta) * np.sqrt(_seventh(chroma))
        rest = np.sqrt(1 - half_R * half_R)
        middle = (L + Lt) / 2 - 50
        offset = 20 + middle * middle
        S_L = 1 + 0.015 * (offset - 20) / np.sqrt(offset)
        S_C, S_H = 1 + 0.045 * chroma, 1 + 0.015 * chroma * T
        y, z = dC / S_C, dH / S_H
        # y^2 + z^2 + R_T y z as two squares: y + R_T z/2, and what is left of z.
        self.value = np.stack((dL / S_L, y + half_R * z, rest * z), axis=-2)
        # Slopes by L, and by chroma and hue angle; T and R_T are taken as they are here.
        steep = 0.015 * middle * (20 + offset) / (2 * offset * np.sqrt(offset))
        self._by_L = (1 - dL * steep / S_L) / S_L
        y_C = (1 - 0.0225 * y) / S_C
        z_C = (root * sine / C - 0.0075 * T * z) / S_H
        # One over the chroma of the hue angle's own slope goes with the root of both chromas.
        z_h = root * np.cos(turn / 2) / (C * S_H)
        along, across = np.cos(h), np.sin(h)
        second = (y_C + half_R * z_C, half_R * z_h)
        third = (rest * z_C, rest * z_h)
        self._by_a = tuple(stretch * (one * along - two * across) for one, two in (second, third))
        self._by_b = tuple(one * across + two * along for one, two in (second, third))

    def change(self, difference: Floats) -> Floats:
        """What small differences ``(..., tones, n, 3)`` add to the value, to first order.

        ``(..., tones, 3, n)``; how the weights change with hue is left out.
        """
        a, b = difference[..., 1], difference[..., 2]
        return np.stack(
            (
                self._by_L * difference[..., 0],
                self._by_a[0] * a + self._by_b[0] * b,
                self._by_a[1] * a + self._by_b[1] * b,
            ),
            axis=-2,
        )


def _seventh(C: Floats) -> Floats:
    squared = C * C
    power = squared * squared * squared * C
    value: Floats = power / (power + _POW25_7)
    return value
