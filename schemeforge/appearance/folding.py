"""Coats folded over grounds, for whole arrays at once and without checks: the hot loop.

A stack over a ground Rg reflects over + through Rg/(1 - below Rg): ``over`` and ``below`` are its
reflectances over black from above and from below, ``through`` its transmittance down times that
up. Laying one more film is one line of [Kubelka1954], and the surface [Saunderson1942] is one
more such layer. Every term is positive, so nothing cancels and nothing overflows.
"""

from typing import Any, NamedTuple

import numpy as np
from numpy.typing import NDArray

from schemeforge import optics
from schemeforge.appearance.look import Look
from schemeforge.appearance.undercoat import Grounds

Floats = NDArray[Any]

# tanh(g)/g is 1 to the last digit for any g so small.
_SMALLEST_G = 1e-18


class Film(NamedTuple):
    """A film alone, alike from both sides: reflectance over black, transmittance squared."""

    reflects: Floats
    through: Floats


class Fold(NamedTuple):
    """A stack; entries ``(..., 36)``, see the module's text."""

    over: Floats
    below: Floats
    through: Floats


def film_of(absorption: Floats, scattering: Floats) -> Film:
    """Films of optical depths KX and SX, ``(..., 36)`` [Kubelka1948].

    R0 = SX th/(1 + A th) and T^2 = sech(g)^2/(1 + A th)^2, sech^2 as 1 - tanh^2.
    """
    g = scattering + scattering
    g += absorption
    g *= absorption
    np.sqrt(g, out=g)
    np.maximum(g, _SMALLEST_G, out=g)
    t = np.tanh(g)
    np.divide(t, g, out=g)  # g now holds th
    D = absorption + scattering
    D *= g
    D += 1
    np.reciprocal(D, out=D)
    g *= scattering
    g *= D
    t *= t
    np.subtract(1, t, out=t)
    t *= D
    t *= D
    return Film(g, t)


def lay(film: Film, lower: Fold | None) -> Fold:
    """A film laid on a stack, or alone."""
    if lower is None:
        return Fold(film.reflects, film.reflects, film.through)
    between = film.reflects * lower.over
    np.subtract(1, between, out=between)
    np.reciprocal(between, out=between)
    down = film.through * between
    between *= lower.through
    below = between * film.reflects
    below += lower.below
    between *= down
    down *= lower.over
    down += film.reflects
    return Fold(down, below, between)


def seen_through(fold: Fold | None, grounds: Grounds, look: Look) -> Floats:
    """Reflectance seen on top of stack and surface, mean over the grounds, ``(..., 36)``."""
    over, below, through = _under_surface(fold, look.surface)
    R, weighted = grounds.reflectance, grounds.weighted
    if grounds.spread_n != 1.0:
        return _spread(Fold(over, below, through), grounds)
    np.negative(below, out=below)
    total: Floats = below * R[0]
    total += 1
    np.divide(weighted[0], total, out=total)
    for ground, share in zip(R[1:], weighted[1:], strict=True):
        part = below * ground
        part += 1
        np.divide(share, part, out=part)
        total += part
    total *= through
    total += over
    return total


def _spread(fold: Fold, grounds: Grounds) -> Floats:
    """As above where light spreads between droplets (Yule-Nielsen n above 1)."""
    over, below, through = fold
    each = [over + through * ground / (1 - below * ground) for ground in grounds.reflectance]
    spots = np.stack(each, axis=-2)
    weights = np.broadcast_to(np.moveaxis(grounds.weights, 0, -2), spots.shape)
    mean: Floats = optics.reduced_mean(spots, weights, grounds.spread_n)
    return mean


def _under_surface(fold: Fold | None, surface: optics.Surface) -> Fold:
    """The stack with its surface on top, in fresh arrays."""
    first = surface.w * surface.k1
    body = surface.factor * (1 - surface.k1) * (1 - surface.k2)
    if fold is None:
        return Fold(np.full(1, first), np.full(1, surface.k2), np.full(1, body))
    between = fold.over * -surface.k2
    between += 1
    np.reciprocal(between, out=between)
    through = fold.through * between
    between *= body
    below = through * surface.k2
    below += fold.below
    through *= between
    between *= fold.over
    between += first
    return Fold(between, below, through)
