"""Painted patches of known paints, for the tests of calibration."""

import numpy as np
from numpy.typing import NDArray

from schemeforge import colorimetry, optics
from schemeforge.calibration import BLACK, GREY, WHITE, Outcome, Patch, Seen
from schemeforge.optics import bands
from schemeforge.shelf import starter_paint

Floats = NDArray[np.float64]
NM = bands.wavelengths_nm()
FILM_UM = 30.0
GROUNDS = np.array([BLACK, GREY, WHITE])


def red() -> tuple[Floats, Floats]:
    """K and S of a red that no prior or shelf was made of: powers and a hyperbolic tangent."""
    K = 0.0006 + 0.03 / (1 + (np.abs(NM - 520) / 50) ** 4)
    S = 0.008 * (550 / NM) ** 1.2 * (1 + 0.3 * np.tanh((NM - 590) / 25))
    return K, S


def paint(name: str) -> tuple[Floats, Floats]:
    """K and S of a starter paint."""
    held = starter_paint(name)
    return np.array(held.absorption), np.array(held.scattering)


def reflectance(
    spectra: tuple[Floats, Floats],
    film_um: float,
    ground: tuple[float, ...],
    surface: optics.Surface = optics.MATT,
) -> Floats:
    """Reflectance as seen of a film over a ground as seen."""
    below = optics.internal(np.array(ground), surface)
    KX, SX = (film_um * value for value in spectra)
    return np.asarray(optics.seen(optics.reflectance_over(below, KX, SX), surface))


def linear(values: Floats) -> tuple[float, float, float]:
    """Linear sRGB of a reflectance."""
    red_, green, blue = colorimetry.linear_rgb_from_xyz(colorimetry.xyz(values))
    return float(red_), float(green), float(blue)


def seen(spectra: tuple[Floats, Floats], ground: tuple[float, ...], coats: float = 1.0) -> Seen:
    """A colour as typed in, not rounded."""
    return Seen(linear=linear(reflectance(spectra, FILM_UM * coats, ground)))


def patch(
    spectra: tuple[Floats, Floats],
    ground: tuple[float, ...],
    coats: float = 1.0,
    *,
    factor: float = 1.0,
    stroke: str = "",
    hand: float = 0.0,
) -> Patch:
    """A patch without noise, its film the factor times what is told."""
    return Patch(
        name=f"{coats:g} on {ground[0]:g}",
        ground=ground,
        film_um=FILM_UM * coats,
        colour=linear(reflectance(spectra, FILM_UM * coats * factor, ground)),
        stroke=stroke,
        hand=hand,
        noise=0.001,
    )


def errors(
    found: Outcome | tuple[Floats, Floats],
    truth: tuple[Floats, Floats],
    coats: tuple[float, ...] = (0.5, 1.0, 2.0, 4.0),
) -> Floats:
    """CIEDE2000 of films over black, grey and white, ``(coats, 3)``."""
    both = (found.fit.absorption, found.fit.scattering) if isinstance(found, Outcome) else found
    labs = [
        colorimetry.lab(
            np.array([[reflectance(s, FILM_UM * n, tuple(g)) for g in GROUNDS] for n in coats])
        )
        for s in (both, truth)
    ]
    return np.asarray(colorimetry.ciede2000(*labs))
