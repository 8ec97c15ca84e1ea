"""The sprayed undercoat: droplets of off-white on an opaque primer.

At tone t (the share of the peak deposit that a point received) a spot carries k droplets, k
Poisson with mean t peak_um/droplet_um, each a film droplet_um thick. Every spot is then glazed
alike, and what the eye sees is the mean over k *after* glazing and surface. So only a handful of
grounds exist, and tone enters as weights on them. Film amounts are um of neat wet paint.
"""

from collections.abc import Callable
from typing import Final

import numpy as np
from numpy.typing import ArrayLike

from schemeforge.errors import InputError
from schemeforge.optics.checks import (
    Floats,
    floats,
    require,
    require_amount,
    require_share,
)
from schemeforge.optics.kubelka_munk import reflectance_over

# Common practice, no source: editable starting values.
DUSTED: Final = 15.0
"""Peak deposit of a light dusting, um of neat wet paint."""
NORMAL: Final = 30.0
"""Peak deposit of an ordinary zenithal spray, um of neat wet paint."""
BRIGHT: Final = 60.0
"""Peak deposit of a bright zenithal spray, um of neat wet paint."""
FINE_AIRBRUSH: Final = 3.0
"""Film that one droplet of a fine airbrush leaves, um of neat wet paint."""
COARSE_CAN: Final = 10.0
"""Film that one droplet of a rattle can leaves, um of neat wet paint."""

SMOOTH_BELOW_UM: Final = 0.1
"""Droplets finer than this are computed as the smooth film that they tend to."""
NEGLECTED: Final = 1e-9
"""Most probability that may lie beyond the largest number of droplets told apart."""
_MOST_DROPLETS: Final = 5000


def droplet_count(peak_um: float, droplet_um: float) -> int:
    """How many grounds (0, 1, 2, ... droplets) are told apart up to tone 1.

    Args:
        peak_um: Deposit at tone 1 in um, zero or more.
        droplet_um: Film of one droplet in um, above zero.

    Raises:
        InputError: For values outside their range, or a mean of more than 5000 droplets.
    """
    mean = _mean_at_peak(peak_um, droplet_um)
    # Far beyond any count that matters: ten standard deviations and a floor for small means.
    ladder = np.arange(int(mean + 10 * np.sqrt(mean)) + 24)
    beyond = np.cumsum(_poisson(np.array([mean]), ladder)[0, ::-1])[::-1]
    return int(np.argmax(beyond < NEGLECTED))


def poisson_weights(tone: ArrayLike, peak_um: float, droplet_um: float) -> Floats:
    """Probability of each number of droplets at each tone, shape ``(tones, k)``.

    Args:
        tone: Share of the peak deposit, 0 to 1, ``(tones,)``.
        peak_um: Deposit at tone 1 in um, zero or more.
        droplet_um: Film of one droplet in um, above zero.

    Column k is k droplets; k runs to `droplet_count` minus 1. What lies beyond, less than 1e-9,
    is added to the last column, so that rows sum to 1.

    Raises:
        InputError: For values outside their range.
    """
    tones = checked_tones(tone)
    count = droplet_count(peak_um, droplet_um)
    mean = tones * (peak_um / droplet_um)
    weights = _poisson(mean.astype(np.float64), np.arange(count))
    weights[:, -1] += np.maximum(1 - weights.sum(axis=1), 0)
    return weights.astype(tones.dtype)


def droplet_grounds(
    primer: ArrayLike,
    absorption_per_um: ArrayLike,
    scattering_per_um: ArrayLike,
    droplet_um: float,
    count: int,
) -> Floats:
    """Internal reflectance of primer under 0, 1, 2, ... droplets, shape ``(count, bands)``.

    Args:
        primer: Internal reflectance of the opaque primer, 0 to 1, ``(bands,)``.
        absorption_per_um: K of the sprayed paint per um of neat wet paint, ``(bands,)``.
        scattering_per_um: S likewise.
        droplet_um: Film of one droplet in um, above zero.
        count: How many grounds, as from `droplet_count`, 1 or more.

    Raises:
        InputError: For values outside their range; names the argument and the band.
    """
    _mean_at_peak(0.0, droplet_um)
    if count < 1:
        raise InputError(f"The count is {count}", where="count", remedy="give 1 or more")
    R, K, S = floats(primer, absorption_per_um, scattering_per_um)
    film = (np.arange(count) * droplet_um).astype(K.dtype)[:, np.newaxis]
    return reflectance_over(R, film * K, film * S)


def smooth_grounds(
    tone: ArrayLike,
    primer: ArrayLike,
    absorption_per_um: ArrayLike,
    scattering_per_um: ArrayLike,
    peak_um: float,
) -> Floats:
    """Internal reflectance under a smooth film of tone times peak, ``(tones, bands)``.

    The limit of ever finer droplets. Arguments as for `poisson_weights` and `droplet_grounds`.

    Raises:
        InputError: For values outside their range; names the argument and the band.
    """
    tones = checked_tones(tone)
    _mean_at_peak(peak_um, 1.0)
    _, R, K, S = floats(tones, primer, absorption_per_um, scattering_per_um)
    film = (tones * peak_um).astype(K.dtype)[:, np.newaxis]
    return reflectance_over(R, film * K, film * S)


def yule_nielsen_mean(reflectance: ArrayLike, weights: ArrayLike, n: float = 1.0) -> Floats:
    """Mean seen reflectance over spots, with light spreading between them, ``(..., bands)``.

    Args:
        reflectance: Seen reflectance of each kind of spot, 0 or more, ``(..., k, bands)``.
        weights: Share of the area of each kind, summing to 1 over k, ``(..., k)``.
        n: 1 for no spread, 2 for full spread [YuleNielsen1951]; up to infinity, which is the
            geometric mean.

    (sum of w R^(1/n))^n; with n = 1 and two kinds of spot the rule of [Murray1936].

    Raises:
        InputError: For a negative reflectance or weight, or n below 1.
    """
    R, w = floats(reflectance, weights)
    _check_spots(R, w, n)
    return _spread_mean(R, lambda powers: (w[..., np.newaxis, :] @ powers)[..., 0, :], n)


def reduced_mean(reflectance: ArrayLike, weights: ArrayLike, n: float = 1.0) -> Floats:
    """As `yule_nielsen_mean`, for weights that differ by band, both ``(..., k, bands)``.

    Raises:
        InputError: As for `yule_nielsen_mean`.
    """
    R, w = floats(reflectance, weights)
    _check_spots(R, w, n)
    return _spread_mean(R, lambda powers: (w * powers).sum(axis=-2), n)


def murray_davies(bare: ArrayLike, covered: ArrayLike, area: ArrayLike) -> Floats:
    """Mean reflectance of two kinds of spot, (1 - area) bare + area covered [Murray1936].

    Args:
        bare: Reflectance of the uncovered share, ``(..., bands)``.
        covered: Reflectance of the covered share, ``(..., bands)``.
        area: Covered share of the area, 0 to 1, broadcasting against both.

    Raises:
        InputError: For an area outside 0 to 1 or a reflectance below 0.
    """
    light, dark, share = floats(bare, covered, area)
    require_amount(light, "bare")
    require_amount(dark, "covered")
    require_share(share, "area")
    mean: Floats = (1 - share) * light + share * dark
    return mean


def _poisson(mean: Floats, counts: Floats) -> Floats:
    """exp(-m) m^k/k! for means ``(tones,)`` and counts 0, 1, 2, ... ``(k,)``."""
    logs = log_factorials(len(counts))
    with np.errstate(under="ignore"):
        rates = log_means(mean)[:, np.newaxis]
        weights: Floats = np.exp(counts * rates - mean[:, np.newaxis] - logs)
    return weights


def log_means(mean: Floats) -> Floats:
    """Give log m, and for m = 0 a value so low that all but no droplet at all vanish."""
    logs: Floats = np.log(mean, out=np.full_like(mean, -1e4), where=mean > 0)
    return logs


def log_factorials(count: int) -> Floats:
    """Give log k! for k = 0, 1, ..., count - 1."""
    return np.concatenate([[0.0], np.cumsum(np.log(np.arange(1, max(count, 1))))])[:count]


def _mean_at_peak(peak_um: float, droplet_um: float) -> float:
    require_amount(np.asarray(float(peak_um)), "peak_um")
    good = np.isfinite(droplet_um) and droplet_um > 0
    require(np.bool_(good), "droplet_um", "A droplet must leave a film", "give more than 0 um")
    mean = float(peak_um) / float(droplet_um)
    if mean > _MOST_DROPLETS:
        raise InputError(
            f"The peak deposit is {mean:.0f} droplets thick",
            where="droplet_um",
            remedy=f"give a droplet of at least {float(peak_um) / _MOST_DROPLETS:.3g} um",
        )
    return mean


def checked_tones(tone: ArrayLike) -> Floats:
    """The tones as a row of floats, ``(tones,)``; raises InputError unless each is 0 to 1."""
    (tones,) = floats(tone)
    if tones.ndim != 1:
        raise InputError(
            f"The tones have shape {tones.shape}", where="tone", remedy="give one row of tones"
        )
    good = (tones >= 0) & (tones <= 1)
    if not np.all(good):
        first = int(np.argmin(good))
        raise InputError(
            f"Tone number {first + 1} is {tones[first]:g}", where="tone", remedy="give 0 to 1"
        )
    return tones


def _check_spots(R: Floats, w: Floats, n: float) -> None:
    require_amount(R, "reflectance")
    require_amount(w[..., np.newaxis] if w.ndim < R.ndim else w, "weights")
    require(np.bool_(n >= 1), "n", f"The exponent is {n:g}", "give 1 (no spread of light) or more")


def _spread_mean(R: Floats, mean: Callable[[Floats], Floats], n: float) -> Floats:
    if n == 1:
        return mean(R)
    if np.isinf(n):
        with np.errstate(divide="ignore", under="ignore"):
            return np.exp(mean(np.log(np.maximum(R, np.finfo(R.dtype).tiny))))
    spread: Floats = mean(R ** (1 / n)) ** n
    return spread
