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
    checked_tones,
    droplet_count,
    droplet_grounds,
    log_factorials,
    log_means,
    smooth_grounds,
)

_BETWEEN: Final = 0.5
# Floors for spreads, of u scaled to its range -1 to 1: below them the distribution is one atom
# (or two), and the surplus nodes get no weight. Moments are right to 1e-15 or so.
_LEAST_VARIANCE: Final = 1e-15
_LEAST_NORM: Final = 1e-14
_LEAST_RANGE: Final = 1e-12


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
    mean = checked_tones(tones).astype(np.float64) * (peak_um / droplet_um)
    u = grounds[1:] / (1 - _BETWEEN * grounds[1:])
    nodes, shares = _gauss(_given_some(mean, count), u)
    some = -np.expm1(-mean)[:, np.newaxis]
    at = np.empty((4, *nodes.shape[1:]))
    weights = np.empty_like(at)
    at[0], weights[0] = grounds[0], 1 - some
    for n in range(3):
        np.divide(nodes[n], 1 + _BETWEEN * nodes[n], out=at[n + 1])
        np.multiply(some, shares[n], out=weights[n + 1])
    np.clip(at, 0, 1, out=at)
    kind = tones.dtype
    # Grounds lie first in memory, since whoever uses them takes one after the other.
    return (
        np.moveaxis(at, 0, 1).astype(kind, copy=False),
        np.moveaxis(weights, 0, 1).astype(kind, copy=False),
    )


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
    """Three nodes and weights, ``(3, tones, bands)``, for atoms ``(k, bands)``.

    The recurrence of the orthogonal polynomials from the first five moments about the mean, then
    the eigenvalues of the 3 x 3 Jacobi matrix by the trigonometric cubic. The atoms are scaled to
    -1 to 1 first, within which all nodes must lie.
    """
    middle = (u[0] + u[-1]) / 2
    half = np.maximum(np.abs(u[-1] - u[0]) / 2, _LEAST_RANGE)
    m, c2, c3, c4, c5 = _moments(weights, (u - middle) / half)
    beta1 = np.maximum(c2, _LEAST_VARIANCE)
    step1 = np.clip(c3 / beta1, -2, 2)
    norm2 = np.maximum(c4 - step1 * c3 - beta1 * beta1, _LEAST_NORM)
    third = c5 - 2 * step1 * c4 + (step1 * step1 - 2 * beta1) * c3 + 2 * step1 * beta1 * beta1
    step2 = np.clip(third / norm2, -2, 2)
    nodes = _cubic_roots(step1, step2, beta1, norm2 / beta1)
    shares = np.empty_like(nodes)
    for n in range(3):
        at2 = nodes[n] - step1
        at2 *= nodes[n]
        at2 -= beta1
        at2 *= at2
        at2 /= norm2
        square = nodes[n] * nodes[n]
        square /= beta1
        square += at2
        square += 1
        np.divide(1, square, out=shares[n])
    shares /= shares[0] + shares[1] + shares[2]
    nodes += m
    np.clip(nodes, -1, 1, out=nodes)
    nodes *= half
    nodes += middle
    return nodes, shares


def _moments(weights: Floats, v: Floats) -> tuple[Floats, Floats, Floats, Floats, Floats]:
    """Mean of atoms ``(k, bands)`` and moments 2 to 5 about it, ``(tones, bands)`` each."""
    atoms, bands = v.shape
    powers = np.empty((atoms, 5, bands))
    powers[:, 0] = v
    for n in range(1, 5):
        np.multiply(powers[:, n - 1], v, out=powers[:, n])
    raw = (weights @ powers.reshape(atoms, -1)).reshape(-1, 5, bands)
    m, m2, m3, m4, m5 = (raw[:, n] for n in range(5))
    square = m * m
    return (
        m,
        m2 - square,
        m3 - m * (3 * m2 - 2 * square),
        m4 - 4 * m * m3 + square * (6 * m2 - 3 * square),
        m5 - 5 * m * m4 + square * (10 * m3 - m * (10 * m2 - 4 * square)),
    )


def _cubic_roots(step1: Floats, step2: Floats, beta1: Floats, beta2: Floats) -> Floats:
    """Eigenvalues of the Jacobi matrix with diagonal (0, step1, step2), stacked first."""
    middle = (step1 + step2) / 3
    a0, a1, a2 = -middle, step1 - middle, step2 - middle
    radius = np.sqrt((a0 * a0 + a1 * a1 + a2 * a2 + 2 * (beta1 + beta2)) / 6)
    half_det = (a0 * (a1 * a2 - beta2) - a2 * beta1) / 2
    angle = np.arccos(np.clip(half_det / (radius * radius * radius), -1, 1)) / 3
    cosine = np.cos(angle)  # the angle is at most 60 degrees, so that its sine is this root
    sine = np.sqrt(3 * (1 - cosine * cosine))
    roots = np.empty((3, *angle.shape))
    np.add(cosine, sine, out=roots[0])
    np.negative(roots[0], out=roots[0])
    np.subtract(sine, cosine, out=roots[1])
    np.multiply(2, cosine, out=roots[2])
    roots *= radius
    roots += middle
    return roots
