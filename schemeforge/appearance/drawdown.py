"""Paints drawn down as films over a card of three grounds: the colours of swatch cards."""

from collections.abc import Sequence
from typing import Any

import numpy as np
from numpy.typing import NDArray

from schemeforge import optics
from schemeforge.appearance.look import Look
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
    films = np.asarray(films_um, dtype=look.dtype)[:, np.newaxis]
    K = np.array([paint.absorption for paint in paints], dtype=look.dtype)[:, np.newaxis]
    S = np.array([paint.scattering for paint in paints], dtype=look.dtype)[:, np.newaxis]
    KX, SX = films * K, films * S
    if look.is_wet:
        SX = SX + optics.wet_scattering(films[:, 0], 1.0, look.milk_per_um)
    bare = optics.Surface(w=0.0)
    ground = optics.internal(np.array([[R] for _, R in GROUNDS], dtype=look.dtype), bare)
    R = optics.reflectance_over(
        ground[np.newaxis, :, np.newaxis], KX[:, np.newaxis], SX[:, np.newaxis]
    )
    result: NDArray[Any] = optics.seen(R, look.surface) @ look.matrix()
    return result
