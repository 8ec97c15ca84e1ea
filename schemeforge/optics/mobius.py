"""Stacks of films folded into one map: reflectance below to reflectance above.

A film, and the surface too, sends the reflectance R beneath it to (a R + b)/(c R + d). Scaled to
d = 1 the entries have a meaning: b is what the layers reflect over ideal black, -c what they
reflect from beneath, and a - b c what passes them twice. These three numbers are carried instead
of a, since they compose by additions of positive terms [Kubelka1954]: the product of plain
matrices loses all digits over a few deep whites, this form loses none.

A stack costs one map however many grounds it is applied to. Nothing here checks values: they
are meant to come from checked ones.
"""

from typing import Any, NamedTuple

from schemeforge.optics.checks import Floats
from schemeforge.optics.kubelka_munk import film_parts


class MobiusMap(NamedTuple):
    """The map R -> above + through R/(1 - below R) per band, ``(..., bands)`` or numbers.

    Fields: ``above``, the layers' reflectance from above over ideal black; ``below``, the same
    from beneath; ``through``, the product of the transmittances down and up.
    """

    above: Any
    below: Any
    through: Any

    @property
    def matrix(self) -> tuple[Any, Any, Any, float]:
        """The entries a, b, c, d of (a R + b)/(c R + d), with d = 1."""
        return self.through - self.above * self.below, self.above, -self.below, 1.0


def film_map(absorption: Floats, scattering: Floats) -> MobiusMap:
    """The map of a film of optical depths KX and SX, ``(..., bands)``.

    The matrix [[1 - A th, SX th], [-SX th, 1 + A th]] of [Kubelka1954], scaled to d = 1; its
    determinant is sech(g)^2.
    """
    R0, through = film_parts(absorption, scattering)
    return MobiusMap(R0, R0, through)


def compose(upper: MobiusMap, lower: MobiusMap) -> MobiusMap:
    """The map of one layer, or stack, lying on another."""
    # Light bounces between the two: the sum of a geometric series.
    bounces = 1 - upper.below * lower.above
    passed = upper.through / bounces
    return MobiusMap(
        upper.above + passed * lower.above,
        lower.below + lower.through * upper.below / bounces,
        passed * lower.through / bounces,
    )


def apply(layers: MobiusMap, ground: Floats) -> Floats:
    """Reflectance on top of the layers over a ground; shapes broadcast, ``(..., bands)``."""
    value: Floats = layers.above + layers.through * (ground / (1 - layers.below * ground))
    return value
