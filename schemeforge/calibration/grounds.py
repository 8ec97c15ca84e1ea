"""Grounds of a card: the usual ones, and a spectrum for one of which only the colour is known."""

from functools import lru_cache
from typing import Final

import numpy as np

from schemeforge import colorimetry, optics
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


def card_ground(matt: tuple[float, ...], surface: optics.Surface) -> tuple[float, ...]:
    """One of the usual grounds, given as seen matt, as it is seen under another finish."""
    inside = optics.internal(np.array(matt), optics.MATT)
    return tuple(float(value) for value in optics.seen(inside, surface))


def ground_of_colour(
    colour: tuple[float, ...], surface: optics.Surface = optics.MATT
) -> tuple[float, ...]:
    """The smoothest reflectance as seen, 36 bands, that has the colour (linear sRGB as seen).

    The most probable one when the logit of the internal reflectance is a smooth process of
    wavelength; a neutral colour gives a flat spectrum. A colour that the surface does not allow,
    such as a black without its veil, gives the nearest that it does.

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
    veil, body = surface.w * surface.k1, surface.factor * (1 - surface.k1)
    level = (float(colorimetry.xyz_from_linear_rgb(wanted)[1]) - veil) / body
    level = float(optics.internal(np.clip(level, 0.0, 1.0) * body + veil, surface))
    level = float(np.clip(level, _LEAST, 1 - _LEAST))
    start = np.log(level / (1 - level))
    covariance = _smooth()
    logit = np.full(bands.COUNT, start)
    for _ in range(_ROUNDS):
        R = 1 / (1 + np.exp(-logit))
        bend = body * (1 - surface.k2) / (1 - surface.k2 * R) ** 2
        J = (observer * (bend * R * (1 - R))[:, None]).T / _NOISE
        missing = (wanted - optics.seen(R, surface) @ observer) / _NOISE + J @ (logit - start)
        gain = covariance @ J.T @ np.linalg.inv(J @ covariance @ J.T + np.eye(3))
        logit = np.clip(start + gain @ missing, -9.0, 9.0)
    seen = optics.seen(1 / (1 + np.exp(-logit)), surface)
    return tuple(float(value) for value in seen)


@lru_cache(maxsize=1)
def _smooth() -> Floats:
    nm = bands.wavelengths_nm()
    apart = nm[:, None] - nm[None, :]
    return np.asarray(1.0 + np.exp(-0.5 * (apart / _LENGTH_NM) ** 2))
