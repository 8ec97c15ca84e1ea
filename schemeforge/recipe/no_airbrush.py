"""The sprayed off-white replaced by a brush: which dry brush or thin coats come nearest to it."""

from dataclasses import dataclass, replace
from itertools import product

import numpy as np

from schemeforge import colorimetry
from schemeforge.errors import InputError
from schemeforge.paint import WATER_ID
from schemeforge.recipe.funnel import GoOn
from schemeforge.recipe.solver import always
from schemeforge.recipe.substitutes import Floats, Use
from schemeforge.scheme import (
    Coat,
    Mix,
    Placement,
    ReliefKind,
    ReliefProfile,
    Scheme,
    Spray,
    Technique,
)
from schemeforge.scheme.techniques import TECHNIQUES

# Reach of a dry brush over relief: from edges alone to half of the surface and more.
_REACHES = (0.15, 0.25, 0.35, 0.5, 0.7)
_DEPTHS = (0.6, 0.8, 1.0)
_PASSES = (1, 2, 3, 4, 6)
_SHARES = (0.25, 0.4, 0.6, 0.8)


@dataclass(frozen=True, slots=True, kw_only=True)
class Brushed:
    """A brush instead of the spray.

    Args:
        coat: The coat that takes the place of the spray, of the same pot.
        mix: Its pot: neat for a dry brush, else as it was sprayed.
        differences: CIEDE2000 of the finished ramp to that over the spray, at each place.
        delta_e: Root mean square of those.
    """

    coat: Coat
    mix: Mix
    differences: tuple[float, ...]
    delta_e: float

    @property
    def words(self) -> str:
        """Whether it will be seen."""
        return colorimetry.difference_words(max(self.differences))


def without_airbrush(
    use: Use, *, count: int = 3, go_on: GoOn = always
) -> tuple[Brushed, ...] | None:
    """The best ways to brush what a step sprays, one technique each at most twice.

    Args:
        use: The zone and the step that sprays.
        count: How many to give.
        go_on: Told the share done, 0 to 1; returns False to stop.

    Returns:
        The nearest first, along the whole finished ramp; None where it was told to stop.

    Raises:
        InputError: Where the step sprays nothing.
    """
    step = use.scheme.step(use.step_id)
    if not isinstance(step.layer, Spray):
        raise InputError(
            f'The step "{step.name}" is not the off-white sprayed from above',
            remedy="choose the spray of an undercoat",
        )
    wanted = use.ramp()
    ways = list(_ways(use.mix))
    found = []
    for n, (coat, mix) in enumerate(ways):
        found.append(_brushed(use, coat, mix, wanted))
        if n % 16 == 15 and not go_on((n + 1) / len(ways)):
            return None
    found.sort(key=lambda way: way.delta_e)
    kept: list[Brushed] = []
    for way in found:
        alike = [other for other in kept if other.coat.technique is way.coat.technique]
        if len(alike) < 2 and not any(_is_like(way, other) for other in alike):
            kept.append(way)
    return tuple(kept[:count])


def _is_like(one: Brushed, other: Brushed) -> bool:
    """True where two differ in little but the film."""
    return (
        one.coat.placement.relief.reach == other.coat.placement.relief.reach
        or one.coat.passes == other.coat.passes
    )


def _ways(mix: Mix) -> list[tuple[Coat, Mix]]:
    neat = _neat(mix)
    dry = TECHNIQUES[Technique.DRY_BRUSH]
    films = (dry.light_um, dry.normal_um, dry.heavy_um)
    ways = [
        (_coat(neat, Technique.DRY_BRUSH, film, passes, depth, reach), neat)
        for film, passes, depth, reach in product(films, _PASSES, _DEPTHS, _REACHES)
    ]
    layer = TECHNIQUES[Technique.LAYER]
    thin = (layer.light_um, layer.normal_um)
    for film, passes, share, reach in product(thin, _PASSES[:3], _SHARES, _REACHES):
        ways.append((_coat(mix, Technique.LAYER, film, passes, share, reach), mix))
    return ways


def _neat(mix: Mix) -> Mix:
    """The mix without its water, a pot of its own: a dry brush takes paint as it comes."""
    paints = tuple(one for one in mix.ingredients if one.paint_id != WATER_ID)
    if len(paints) in {0, len(mix.ingredients)}:
        return mix
    return replace(
        mix, id=f"{mix.id[:50]}-neat", name=f"{mix.name[:100]}, neat", ingredients=paints
    )


def _coat(
    mix: Mix, technique: Technique, film: float, passes: int, depth: float, reach: float
) -> Coat:
    relief = ReliefProfile(kind=ReliefKind.CATCHES, depth=depth, reach=reach)
    return Coat(
        mix_id=mix.id,
        technique=technique,
        wet_um=film,
        passes=passes,
        placement=Placement(relief=relief),
    )


def _brushed(use: Use, coat: Coat, mix: Mix, wanted: Floats) -> Brushed:
    scheme = brushed_scheme(use, coat, mix)
    each = colorimetry.ciede2000(use.ramp(scheme), wanted)
    return Brushed(
        coat=coat,
        mix=mix,
        differences=tuple(float(value) for value in each),
        delta_e=float(np.sqrt(np.mean(each * each))),
    )


def brushed_scheme(use: Use, coat: Coat, mix: Mix) -> Scheme:
    """The scheme with that coat in the place of the spray."""
    steps = tuple(
        replace(step, layer=coat) if step.id == use.step_id else step for step in use.scheme.steps
    )
    mixes = use.scheme.mixes
    if mix.id not in {known.id for known in mixes}:
        mixes = (*mixes, mix)
    return replace(use.scheme, steps=steps, mixes=mixes)
