"""Four grounds instead of a dozen or more: quadrature over the number of droplets.

A stack with its surface sends each ground R to (a R + b)/(c R + d), and its mean over the
droplets is wanted at every tone. The bare primer (no droplet) is kept as it is; the grounds with
one droplet or more are replaced, per tone and band, by the three nodes of the Gauss quadrature
[Golub1969] of their distribution. Such a rule integrates polynomials of degree 5 without error.
It is taken in the variable u = R/(1 - R/2), between a dark glaze (linear in R) and the bare
surface (linear in R/(1 - 0.6 R)), which keeps the poles of both far away: over glazes from none to
deep and droplets of 3 um and more the mean is right to about 1e-6.
"""

from typing import Final

import numpy as np
from numpy.typing import ArrayLike

from schemeforge.optics.checks import Floats, floats
from schemeforge.optics.droplets import (
    SMOOTH_BELOW_UM,
    droplet_count,
    droplet_grounds,
    log_factorials,
    log_means,
    poisson_weights,
    smooth_grounds,
)

_BETWEEN: Final = 0.5
# Floors for spreads: below them the distribution is one atom (or two), and the surplus nodes
# get no weight. Far below anything seen, far above rounding squared.
_LEAST_VARIANCE: Final = 1e-24
_LEAST_RATIO: Final = 1e-14


def reduced_grounds(
    tone: ArrayLike,
    primer: ArrayLike,
    absorption_per_um: ArrayLike,
    scattering_per_um: ArrayLike,
    peak_um: float,
    droplet_um: float,
) -> tuple[Floats, Floats]:
    """Four grounds per tone and band and their weights, each ``(tones, 4, bands)``.

    Args:
        tone: Share of the peak deposit, 0 to 1, ``(tones,)``.
        primer: Internal reflectance of the opaque primer, 0 to 1, ``(bands,)``.
        absorption_per_um: K of the sprayed paint per um of neat wet paint, ``(bands,)``.
        scattering_per_um: S likewise.
        peak_um: Deposit at tone 1 in um, zero or more.
        droplet_um: Film of one droplet in um, above zero.

    The first ground is the bare primer. Weights are zero or more and sum to 1. Where droplets
    are finer than `SMOOTH_BELOW_UM` the second ground is the smooth film and has all the weight.

    Raises:
        InputError: For values outside their range; names the argument and the band.
    """
    tones, R, K, S = floats(tone, primer, absorption_per_um, scattering_per_um)
    if droplet_um < SMOOTH_BELOW_UM:
        return _smooth(tones, R, K, S, peak_um, droplet_um)
    # One row more than the bare primer even where no peak is asked for.
    count = max(droplet_count(peak_um, droplet_um), 2)
    wide = [value.astype(np.float64) for value in (R, K, S)]
    grounds = droplet_grounds(wide[0], wide[1], wide[2], droplet_um, count)
    poisson_weights(tones, peak_um, droplet_um)  # checks the tones
    mean = tones.astype(np.float64) * (peak_um / droplet_um)
    u = grounds[1:] / (1 - _BETWEEN * grounds[1:])
    nodes, shares = _gauss(_given_some(mean, count), u)
    bare = np.broadcast_to(grounds[0], (len(mean), 1, grounds.shape[1]))
    at = np.concatenate([bare, np.clip(nodes / (1 + _BETWEEN * nodes), 0, 1)], axis=1)
    some = -np.expm1(-mean)[:, np.newaxis, np.newaxis]
    weights = np.concatenate([np.broadcast_to(1 - some, bare.shape), some * shares], axis=1)
    return at.astype(tones.dtype), weights.astype(tones.dtype)


def _smooth(
    tones: Floats, R: Floats, K: Floats, S: Floats, peak_um: float, droplet_um: float
) -> tuple[Floats, Floats]:
    droplet_grounds(R, K, S, droplet_um, 1)  # checks the droplet
    film = smooth_grounds(tones, R, K, S, peak_um)
    at = np.repeat(film[:, np.newaxis], 4, axis=1)
    at[:, 0] = R
    weights = np.zeros_like(at)
    weights[:, 1] = 1
    return at, weights


def _given_some(mean: Floats, count: int) -> Floats:
    """Probability of 1, 2, ... droplets given at least one, ``(tones, count - 1)``.

    In proportion to m^(k - 1)/k!, which has a limit at m = 0: one droplet.
    """
    k = np.arange(1, count)
    rates = log_means(mean)[:, np.newaxis]
    logs = (k - 1) * rates - log_factorials(count)[1:]
    with np.errstate(under="ignore"):
        shares = np.exp(logs - logs.max(axis=1, keepdims=True))
    given: Floats = shares / shares.sum(axis=1, keepdims=True)
    return given


def _gauss(weights: Floats, u: Floats) -> tuple[Floats, Floats]:
    """Three nodes and weights, ``(tones, 3, bands)``, for atoms ``(k, bands)``.

    The recurrence of the orthogonal polynomials by Stieltjes' procedure, all relative to the
    mean, then the eigenvalues of the 3 x 3 Jacobi matrix by the trigonometric cubic.
    """
    first = weights @ u
    w = weights[:, :, np.newaxis]
    p1 = u[np.newaxis] - first[:, np.newaxis]
    square = w * p1
    square *= p1
    beta1 = np.maximum(square.sum(axis=1), _LEAST_VARIANCE)
    square *= p1
    step1 = square.sum(axis=1) / beta1
    p2 = p1 - step1[:, np.newaxis]
    p2 *= p1
    p2 -= beta1[:, np.newaxis]
    np.multiply(p2, p2, out=p2)
    p2 *= w
    norm2 = np.maximum(p2.sum(axis=1), _LEAST_RATIO * beta1**2)
    beta2 = norm2 / beta1
    p2 *= p1
    step2 = p2.sum(axis=1) / norm2
    nodes = _cubic_roots(step1, step2, beta1, beta2)
    at2 = (nodes - step1) * nodes - beta1
    shares = 1 / (1 + nodes**2 / beta1 + at2**2 / norm2)
    shares /= shares.sum(axis=0)
    return np.moveaxis(nodes + first, 0, 1), np.moveaxis(shares, 0, 1)


def _cubic_roots(step1: Floats, step2: Floats, beta1: Floats, beta2: Floats) -> Floats:
    """Eigenvalues of the Jacobi matrix with diagonal (0, step1, step2), stacked first."""
    middle = (step1 + step2) / 3
    a0, a1, a2 = -middle, step1 - middle, step2 - middle
    radius = np.sqrt((a0 * a0 + a1 * a1 + a2 * a2 + 2 * (beta1 + beta2)) / 6)
    half_det = (a0 * (a1 * a2 - beta2) - a2 * beta1) / 2
    angle = np.arccos(np.clip(half_det / radius**3, -1, 1)) / 3
    high = 2 * radius * np.cos(angle)
    low = 2 * radius * np.cos(angle + 2 * np.pi / 3)
    return np.stack([low, -(low + high), high]) + middle
