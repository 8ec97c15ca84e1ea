"""What a mix laid as a wet film leaves behind, and how it absorbs and scatters.

Amounts are micrometres of *neat wet paint*: the thickness that an ingredient would have alone,
as it comes out of the pot. Coefficients are per micrometre of the same. Water is an ingredient
with zero coefficients; two half coats leave what one whole coat leaves.
"""

import numpy as np
from numpy.typing import ArrayLike

from schemeforge.errors import InputError
from schemeforge.optics.checks import Floats, floats, require, require_amount

MILK_PER_UM = 0.001
"""Extra scattering of a wet acrylic binder per um of wet paint and medium; rule of thumb."""


def deposits(parts: ArrayLike, film_um: ArrayLike) -> Floats:
    """Micrometres of neat wet paint that each ingredient leaves, shape ``(..., n)``.

    Args:
        parts: Parts by volume of the n ingredients, zero or more, ``(..., n)``.
        film_um: Wet film of the mix in um, zero or more, ``(...)``.

    Raises:
        InputError: For a negative or non-finite value, or parts that sum to zero.
    """
    shares, film = floats(parts, film_um)
    if shares.ndim == 0 or shares.shape[-1] == 0:
        raise InputError("A mix needs at least one ingredient", where="parts")
    _require_parts(shares)
    require_amount(film[..., np.newaxis], "film_um")
    total = shares.sum(axis=-1, keepdims=True)
    require(total > 0, "parts", "The parts of a mix sum to zero", "give one ingredient a part")
    left: Floats = film[..., np.newaxis] * (shares / total)
    return left


def mix(
    parts: ArrayLike, film_um: ArrayLike, absorption: ArrayLike, scattering: ArrayLike
) -> tuple[Floats, Floats]:
    """Optical depths KX and SX of a mix laid as a wet film, each ``(..., bands)``.

    Args:
        parts: Parts by volume of the n ingredients, zero or more, ``(..., n)``.
        film_um: Wet film of the mix in um, zero or more, ``(...)``.
        absorption: K of each ingredient per um of neat wet paint, ``(n, bands)``.
        scattering: S likewise.

    KX = sum of deposit_i K_i and SX = sum of deposit_i S_i [Saunderson1942].

    Raises:
        InputError: For a negative or non-finite value, parts that sum to zero, or shapes that
            do not fit; names the argument and the band.
    """
    shares, film, K, S = floats(parts, film_um, absorption, scattering)
    left = deposits(shares, film)
    if K.ndim != 2 or K.shape != S.shape or K.shape[0] != left.shape[-1]:
        raise InputError(
            f"The coefficients do not fit the mix: {left.shape[-1]} ingredients, "
            f"absorption {K.shape}, scattering {S.shape}",
            remedy="give one row of bands per ingredient",
        )
    require_amount(K, "absorption")
    require_amount(S, "scattering")
    return left @ K, left @ S


def wet_scattering(
    film_um: ArrayLike, share: ArrayLike, milk_per_um: ArrayLike = MILK_PER_UM
) -> Floats:
    """Flat extra SX while a coat is wet, shape ``(..., 1)``, to add to its SX.

    Args:
        film_um: Wet film of the mix in um, ``(...)``.
        share: Share of the mix by volume that is paint or medium, not water, 0 to 1, ``(...)``.
        milk_per_um: Scattering per um of wet paint and medium; common practice, no source.

    A wet acrylic binder is milky and clears as it dries, so mixes with much medium shift most
    and watery ones hardly at all.

    Raises:
        InputError: For a value outside its range.
    """
    film, milky, milk = floats(film_um, share, milk_per_um)
    for value, name in ((film, "film_um"), (milky, "share"), (milk, "milk_per_um")):
        require_amount(value[..., np.newaxis], name)
    require(milky <= 1, "share", "The share of paint and medium is above 1", "give 0 to 1")
    extra: Floats = film * milky * milk
    return extra[..., np.newaxis]


def _require_parts(parts: Floats) -> None:
    good = np.isfinite(parts) & (parts >= 0)
    if not np.all(good):
        ingredient = int(np.argwhere(~good)[0][-1]) + 1
        raise InputError(
            "A part must be a number of zero or more",
            where=f"parts, ingredient {ingredient} of {parts.shape[-1]}",
            remedy="correct that part",
        )
