"""Stacks of films folded into one map: reflectance below to reflectance above.

A film, and the surface too, sends the reflectance R beneath it to (a R + b)/(c R + d). Maps
compose as 2 x 2 matrices do, one per band, so that a stack costs one map however many grounds
it is applied to. Matrices are kept scaled to d = 1: for films all entries then lie in -1 to 1,
and no stack overflows.

Nothing here checks values: they are meant to come from checked ones.
"""

from typing import NamedTuple

from schemeforge.optics.checks import Floats
from schemeforge.optics.kubelka_munk import film_terms


class MobiusMap(NamedTuple):
    """The map R -> (a R + b)/(c R + d) per band; entries of shape ``(..., bands)``."""

    a: Floats
    b: Floats
    c: Floats
    d: Floats


def film_map(absorption: Floats, scattering: Floats) -> MobiusMap:
    """The map of a film of optical depths KX and SX, ``(..., bands)``.

    The matrix [[1 - A th, SX th], [-SX th, 1 + A th]] of [Kubelka1954], divided by 1 + A th: so
    b is the film's reflectance over ideal black.
    """
    A, scattered, th = film_terms(absorption, scattering)
    A *= th
    D = A + 1
    R0 = scattered / D
    return MobiusMap((1 - A) / D, R0, -R0, D / D)


def compose(upper: MobiusMap, lower: MobiusMap) -> MobiusMap:
    """The map of one layer lying on another, scaled to d = 1."""
    d = upper.c * lower.b + upper.d * lower.d
    return MobiusMap(
        (upper.a * lower.a + upper.b * lower.c) / d,
        (upper.a * lower.b + upper.b * lower.d) / d,
        (upper.c * lower.a + upper.d * lower.c) / d,
        d / d,
    )


def apply(layers: MobiusMap, ground: Floats) -> Floats:
    """Reflectance on top of the layers over a ground; shapes broadcast, ``(..., bands)``."""
    above = layers.a * ground
    above = above + layers.b
    below = layers.c * ground
    below = below + layers.d
    above /= below
    return above
