"""A few swatches that stand for many, where a step covers more zones than a card can show."""

from collections.abc import Sequence
from dataclasses import replace

from schemeforge import colorimetry
from schemeforge.export.swatches import Swatch


def representatives(swatches: Sequence[Swatch], most: int) -> tuple[Swatch, ...]:
    """At most so many of the swatches: darkest, lightest, then whatever differs most from those.

    Each of the rest is told under the one that it comes nearest to, by mean CIEDE2000. They keep
    the order in which they are given.

    Args:
        swatches: All of a step.
        most: At least 1.
    """
    if len(swatches) <= most:
        return tuple(swatches)
    by_lightness = sorted(range(len(swatches)), key=lambda n: _lightness(swatches[n]))
    kept = [by_lightness[0], by_lightness[-1]][:most]
    while len(kept) < most:
        rest = (n for n in range(len(swatches)) if n not in kept)
        kept.append(max(rest, key=lambda n: min(_apart(swatches[n], swatches[k]) for k in kept)))
    near: dict[int, list[Swatch]] = {k: [] for k in kept}
    for n, swatch in enumerate(swatches):
        if n not in near:
            near[min(kept, key=lambda k: _apart(swatch, swatches[k]))].append(swatch)
    return tuple(
        replace(swatches[k], near=tuple(z for s in near[k] for z in s.zones)) for k in sorted(kept)
    )


def _lightness(swatch: Swatch) -> float:
    return float(swatch.labs[..., 0].mean())


def _apart(one: Swatch, other: Swatch) -> float:
    return float(colorimetry.ciede2000(one.labs, other.labs).mean())
