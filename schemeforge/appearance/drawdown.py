"""Paints drawn down as films over a card of three grounds: the colours of swatch cards."""

from collections.abc import Sequence
from typing import Any

import numpy as np
from numpy.typing import NDArray

from schemeforge import colorimetry, optics
from schemeforge.appearance.look import Look
from schemeforge.appearance.tolerance import COVERAGE, DRAWS, SEED
from schemeforge.optics import bands
from schemeforge.paint import Paint

# Reflectance of the card's flat grounds, first-surface light left out (rule of thumb, no source):
# a good black, mid grey (L* near 50) and the off-white that is sprayed from above.
GROUNDS = (("black", 0.01), ("grey", 0.184), ("off-white", 0.80))
# A film that a brush can just lay, to one that a flooded wash leaves, micrometres wet.
THINNEST_UM = 5.0
FULL_UM = 60.0


def drawdown_films(count: int) -> NDArray[np.float64]:
    """Wet films of a card: none at all first, then from thin to full in even steps, um."""
    return np.concatenate([[0.0], np.linspace(THINNEST_UM, FULL_UM, count - 1)])


def drawdowns(paints: Sequence[Paint], films_um: NDArray[np.float64], look: Look) -> NDArray[Any]:
    """XYZ of neat paints over black, grey and off-white, all of them in one go.

    Args:
        paints: The paints.
        films_um: Wet films, ``(films,)``, 0 or more.
        look: Light, surface, dry or still wet.

    Returns:
        ``(paints, 3 grounds, films, 3)``, adapted to D65, white Y = 1.
    """
    if not paints:
        return np.zeros((0, len(GROUNDS), len(films_um), 3), dtype=look.dtype)
    K = np.array([paint.absorption for paint in paints], dtype=look.dtype)
    S = np.array([paint.scattering for paint in paints], dtype=look.dtype)
    return _films(K, S, films_um, look)


def drawdown_tolerance(
    paint: Paint, films_um: NDArray[np.float64], look: Look, draws: int = DRAWS
) -> NDArray[Any]:
    """How surely a paint's films are known: CIEDE2000 that nine of ten possible paints keep to.

    The films themselves are taken as exact; the seed is fixed.

    Args:
        paint: The paint with the covariance of its log K and log S.
        films_um: Wet films, ``(films,)``, 0 or more.
        look: Light, surface, dry or still wet.
        draws: Possible paints to try; fewer where words are all that comes of it.

    Returns:
        ``(3 grounds, films)``.
    """
    factor = paint.uncertainty.factor()
    off = np.random.default_rng(SEED).standard_normal((draws, len(factor))) @ factor
    logs = np.vstack([np.zeros((1, 2 * bands.COUNT)), off])
    K = np.array(paint.absorption) * np.exp(logs[:, : bands.COUNT])
    S = np.array(paint.scattering) * np.exp(logs[:, bands.COUNT :])
    lab = colorimetry.lab_from_xyz(_films(K, S, films_um, look))
    apart = colorimetry.ciede2000(lab[1:], lab[:1])
    return np.asarray(np.quantile(apart, COVERAGE, axis=0))


def _films(
    K: NDArray[Any], S: NDArray[Any], films_um: NDArray[np.float64], look: Look
) -> NDArray[Any]:
    """XYZ of films of any K and S ``(paints, 36)``, ``(paints, 3 grounds, films, 3)``."""
    films = np.asarray(films_um, dtype=look.dtype)[:, np.newaxis]
    KX, SX = films * K[:, np.newaxis], films * S[:, np.newaxis]
    if look.is_wet:
        SX = SX + optics.wet_scattering(films[:, 0], 1.0, look.milk_per_um)
    bare = optics.Surface(w=0.0)
    ground = optics.internal(np.array([[R] for _, R in GROUNDS], dtype=look.dtype), bare)
    R = optics.reflectance_over(
        ground[np.newaxis, :, np.newaxis], KX[:, np.newaxis], SX[:, np.newaxis]
    )
    result: NDArray[Any] = optics.seen(R, look.surface) @ look.matrix()
    return result
