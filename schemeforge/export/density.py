"""How closely a step card is set: type sizes and how many swatches stand for a whole model."""

from dataclasses import dataclass
from typing import Final

from schemeforge.export.page import Face
from schemeforge.export.typesetting import Style

_SNUG = 1.13


@dataclass(frozen=True, slots=True, kw_only=True)
class Density:
    """Sizes of one setting of a card; all of them are readable at arm's length.

    Args:
        name: Of the step's name.
        work: Of the mix: what is counted and weighed.
        told: Of zones, groups and technique.
        hint: Of what to look for and cures.
        tick_mm: Side of a tick box.
        swatches: The most swatches on a card.
        gap_mm: Between a card's parts.
    """

    name: Style
    work: Style
    told: Style
    hint: Style
    tick_mm: float
    swatches: int
    gap_mm: float


def _density(
    name: float, work: float, told: float, hint: float, *, tick: float, swatches: int, gap: float
) -> Density:
    return Density(
        name=Style(size_pt=name, face=Face.BOLD, leading=_SNUG),
        work=Style(size_pt=work, leading=_SNUG),
        told=Style(size_pt=told, leading=_SNUG),
        hint=Style(size_pt=hint, leading=_SNUG),
        tick_mm=tick,
        swatches=swatches,
        gap_mm=gap,
    )


OPEN: Final = _density(14.0, 10.5, 9.5, 8.5, tick=7.4, swatches=3, gap=1.6)
NORMAL: Final = _density(13.5, 10.0, 9.0, 8.5, tick=6.4, swatches=3, gap=1.1)
TIGHT: Final = _density(13.0, 9.5, 8.5, 8.0, tick=5.0, swatches=2, gap=0.5)
DENSITIES: Final = (OPEN, NORMAL, TIGHT)
