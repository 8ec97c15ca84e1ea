"""Light in a paint film over a ground: the two-flux theory of Kubelka and Munk.

A film is given by its optical depths KX and SX (absorption and scattering coefficient times
thickness, no unit), arrays of shape ``(..., bands)`` that broadcast. Reflectances are internal:
what happens at the paint's surface is told in `schemeforge.optics.surface`.

With A = KX + SX, g = sqrt(KX (KX + 2 SX)) and th = tanh(g)/g the solution of [Kubelka1948]
reads without a pole at g = 0 and without a growing exponential:

    R0 = SX th/(1 + A th),   T = sech(g)/(1 + A th),   R = R0 + T^2 Rg/(1 - R0 Rg).

`reflectance_over` and `r0_and_transmittance` check what they are given. `film_over` and
`film_terms` do not: they are meant for loops over values that were checked before.
"""

import numpy as np
from numpy.typing import ArrayLike

from schemeforge.optics.checks import (
    Floats,
    floats,
    require_amount,
    require_broadcast,
    require_share,
)

# tanh(x)/x is 1 to the last digit for any x so small, in both precisions: a floor of g keeps
# the quotient defined at 0 without a series and without a branch.
_SMALLEST_G = 1e-18


# Whoever lets numpy raise on underflow means overflow and the like: here 0 is the right answer.
@np.errstate(under="ignore")
def reflectance_over(ground: ArrayLike, absorption: ArrayLike, scattering: ArrayLike) -> Floats:
    """Internal reflectance of a film over a ground, shape of the broadcast ``(..., bands)``.

    Args:
        ground: Internal reflectance Rg of what lies beneath, 0 to 1, ``(..., bands)``.
        absorption: Optical depth KX, zero or more, ``(..., bands)``.
        scattering: Optical depth SX, zero or more, ``(..., bands)``.

    float32 is kept where all three are float32. Every term is positive, so that the relative
    error stays near that of the number format from no film at all to depths of 1e6
    [Kubelka1948].

    Raises:
        InputError: For a negative, non-finite or non-numeric value, a ground above 1, or shapes
            that do not fit; names the argument and the band.
    """
    Rg, KX, SX = floats(ground, absorption, scattering)
    _check_film(KX, SX, ground=Rg)
    g = _depth(KX, SX)
    passed = _sech(g)
    passed = passed * passed
    g = np.maximum(g, _SMALLEST_G)
    th = np.tanh(g)
    th /= g
    scattered = SX * th
    absorbed = KX * th
    absorbed += 1
    # D - SX th Rg with D = 1 + A th, written so that nothing cancels.
    below = 1 - Rg
    below = scattered * below
    below += absorbed
    share: Floats = passed * Rg
    share /= below
    share += scattered
    absorbed += scattered
    share /= absorbed
    # The last digit may round up past a perfect white.
    reflected: Floats = np.minimum(share, 1)
    return reflected


@np.errstate(under="ignore")
def r0_and_transmittance(absorption: ArrayLike, scattering: ArrayLike) -> tuple[Floats, Floats]:
    """Reflectance over ideal black and transmittance of a film, each ``(..., bands)``.

    Args:
        absorption: Optical depth KX, zero or more, ``(..., bands)``.
        scattering: Optical depth SX, zero or more, ``(..., bands)``.

    A transmittance too small for the number format is 0 [Kubelka1948].

    Raises:
        InputError: As for `reflectance_over`.
    """
    KX, SX = floats(absorption, scattering)
    _check_film(KX, SX)
    A, scattered, th = film_terms(KX, SX)
    D = 1 + A * th
    return scattered / D, _sech(_depth(KX, SX)) / D


def r_infinity(absorption: ArrayLike, scattering: ArrayLike) -> Floats:
    """Reflectance of a film so thick that no ground shows, ``(..., bands)``.

    Args:
        absorption: Absorption coefficient K, zero or more; only the ratio to S counts.
        scattering: Scattering coefficient S, zero or more, in the unit of K.

    R_inf = S/(K + S + sqrt(K (K + 2 S))), which equals 1 + K/S - sqrt((K/S)^2 + 2 K/S)
    [Kubelka1948] and loses no digits: 1 where K = 0, 0 where S = 0. Where both are 0 there is
    nothing that could send light back: 0.

    Raises:
        InputError: As for `reflectance_over`.
    """
    K, S = floats(absorption, scattering)
    _check_film(K, S)
    total = K + S + _depth(K, S)
    limit: Floats = np.divide(S, total, out=np.zeros_like(total), where=total > 0)
    return limit


def k_over_s(opaque_reflectance: ArrayLike) -> Floats:
    """Ratio K/S of an opaque film from its internal reflectance, ``(..., bands)``.

    Args:
        opaque_reflectance: R_inf, above 0 and up to 1.

    (1 - R)^2/(2 R) [Kubelka1948]; the inverse of `r_infinity`.

    Raises:
        InputError: Outside the range; names the band.
    """
    (R,) = floats(opaque_reflectance)
    require_share(R, "opaque_reflectance")
    require_amount(np.divide(1, R, out=np.full_like(R, np.inf), where=R > 0), "opaque_reflectance")
    ratio: Floats = (1 - R) ** 2 / (2 * R)
    return ratio


def film_terms(absorption: Floats, scattering: Floats) -> tuple[Floats, Floats, Floats]:
    """A = KX + SX, SX th and th = tanh(g)/g of a film, unchecked, each ``(..., bands)``."""
    g = np.maximum(_depth(absorption, scattering), _SMALLEST_G)
    th = np.tanh(g)
    th /= g
    return absorption + scattering, scattering * th, th


def film_parts(absorption: Floats, scattering: Floats) -> tuple[Floats, Floats]:
    """R0 and the square of T of a film, unchecked, each ``(..., bands)``.

    The square of T has a small absolute error only, by sech(g)^2 = 1 - tanh(g)^2.
    """
    g = np.maximum(_depth(absorption, scattering), _SMALLEST_G)
    t = np.tanh(g)
    th = t / g
    D = absorption + scattering
    D *= th
    D += 1
    R0: Floats = scattering * th
    R0 /= D
    t *= t
    through: Floats = 1 - t
    through /= D
    through /= D
    return R0, through


def film_over(ground: Floats, absorption: Floats, scattering: Floats) -> Floats:
    """Reflectance of a film over a ground, unchecked and in few passes, ``(..., bands)``.

    The quotient (SX th + (1 - A th) Rg)/(1 + A th - SX th Rg). Its absolute error stays near
    that of the number format; a deep dark film loses the relative accuracy of
    `reflectance_over`. All three of one float type.
    """
    A, scattered, th = film_terms(absorption, scattering)
    A *= th
    above: Floats = (1 - A) * ground
    above += scattered
    A += 1
    below = A - scattered * ground
    above /= below
    return above


def _depth(KX: Floats, SX: Floats) -> Floats:
    """Give g = sqrt(KX (KX + 2 SX))."""
    g = SX + SX
    g = g + KX
    g = g * KX
    root: Floats = np.sqrt(g)
    return root


def _sech(g: Floats) -> Floats:
    """1/cosh(g) for g of zero or more, by an exponential that only falls."""
    with np.errstate(under="ignore"):
        value: Floats = np.exp(-g)
        below = value * value
        below += 1
        value /= below
        value *= 2
    return value


def _check_film(KX: Floats, SX: Floats, ground: Floats | None = None) -> None:
    named = {} if ground is None else {"ground": ground}
    require_broadcast({**named, "absorption": KX, "scattering": SX})
    require_amount(KX, "absorption")
    require_amount(SX, "scattering")
    if ground is not None:
        require_share(ground, "ground")
