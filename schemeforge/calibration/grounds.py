"""Grounds of a card: the usual ones, and a spectrum for one of which only the colour is known."""

from functools import lru_cache
from typing import Final

import numpy as np

from schemeforge import colorimetry
from schemeforge.calibration.prior import Floats
from schemeforge.errors import InputError
from schemeforge.optics import bands

# Reflectance as seen of a card's grounds (rule of thumb, no source): matt black, grey, white.
BLACK: Final = (0.055,) * bands.COUNT
GREY: Final = (0.20,) * bands.COUNT
WHITE: Final = (0.88,) * bands.COUNT
_LEAST: Final = 0.002
_ROUNDS: Final = 12
_NOISE: Final = 0.002  # of linear sRGB; small, so that the colour itself is met
_LENGTH_NM: Final = 80.0


def ground_of_colour(colour: tuple[float, ...]) -> tuple[float, ...]:
    """The smoothest reflectance, 36 bands, that has the colour (linear sRGB as seen).

    The most probable one when its logit is a smooth process of wavelength; a neutral colour gives
    a flat spectrum.

    Raises:
        InputError: For a colour that no reflectance has.
    """
    wanted = np.array(colour, dtype=np.float64)
    if wanted.shape != (3,) or not ((wanted > -0.1) & (wanted < 1.05)).all():
        raise InputError(
            "The colour of a ground lies outside what a surface can have",
            remedy="mark the bare ground again, away from glare",
        )
    observer = np.asarray(colorimetry.linear_rgb_from_xyz(colorimetry.adapted_matrix()))
    level = float(np.clip(colorimetry.xyz_from_linear_rgb(wanted)[1], _LEAST, 1 - _LEAST))
    start = np.log(level / (1 - level))
    covariance = _smooth()
    logit = np.full(bands.COUNT, start)
    for _ in range(_ROUNDS):
        R = 1 / (1 + np.exp(-logit))
        J = (observer * (R * (1 - R))[:, None]).T / _NOISE
        missing = (wanted - R @ observer) / _NOISE + J @ (logit - start)
        gain = covariance @ J.T @ np.linalg.inv(J @ covariance @ J.T + np.eye(3))
        logit = np.clip(start + gain @ missing, -9.0, 9.0)
    return tuple(float(value) for value in 1 / (1 + np.exp(-logit)))


@lru_cache(maxsize=1)
def _smooth() -> Floats:
    nm = bands.wavelengths_nm()
    apart = nm[:, None] - nm[None, :]
    return np.asarray(1.0 + np.exp(-0.5 * (apart / _LENGTH_NM) ** 2))
