"""What the batch needs of each paint, against what is on the shelf."""

import math
from collections.abc import Sequence
from dataclasses import dataclass

from schemeforge.paint import WATER_ID, Paint
from schemeforge.plan.volumes import Pot, pots
from schemeforge.scheme import Project, Scheme


@dataclass(frozen=True, slots=True, kw_only=True)
class PaintNeed:
    """One paint or medium over all pots.

    Args:
        paint_id: The paint.
        name: Its name.
        pots: Letters of the pots that take it.
        needed_ml: Over all pots.
        left_ml: What is left of it, None where that is not known.
        short_ml: What is missing, 0 where there is enough, None where that is not known.
        bottles_to_buy: Whole bottles that make up for it, None where that is not known.
        cost_to_buy: What those cost, None where that or the price is not known.
        cost_used: What the batch uses up, by the price of a bottle, None where not known.
    """

    paint_id: str
    name: str
    pots: tuple[str, ...]
    needed_ml: float
    left_ml: float | None
    short_ml: float | None
    bottles_to_buy: int | None
    cost_to_buy: float | None
    cost_used: float | None

    @property
    def is_short(self) -> bool | None:
        """True where less is left than needed, None where it is not known."""
        return None if self.short_ml is None else self.short_ml > 0.0


def paint_needs(
    project: Project, scheme: Scheme, *, filled: Sequence[Pot] | None = None
) -> tuple[PaintNeed, ...]:
    """Every paint and medium that the pots take, by first use; water, which is free, left out.

    Args:
        project: The document.
        scheme: One of its schemes.
        filled: ``volumes.pots`` of the two where they are at hand.
    """
    filled = pots(project, scheme) if filled is None else filled
    needed: dict[str, float] = {}
    letters: dict[str, list[str]] = {}
    for pot in filled:
        for amount in pot.amounts:
            if amount.paint_id != WATER_ID:
                needed[amount.paint_id] = needed.get(amount.paint_id, 0.0) + amount.ml
                letters.setdefault(amount.paint_id, []).append(pot.letter)
    return tuple(
        _need(project.paint(paint_id), ml, tuple(letters[paint_id]))
        for paint_id, ml in needed.items()
    )


def _need(paint: Paint, needed_ml: float, letters: tuple[str, ...]) -> PaintNeed:
    stock = paint.stock
    short = None if stock.left_ml is None else max(0.0, needed_ml - stock.left_ml)
    # Rounding of the sum must not send anyone to the shop for a millionth of a bottle.
    bottles = None if short is None else math.ceil(short / stock.bottle_ml - 1e-9)
    price = stock.price
    return PaintNeed(
        paint_id=paint.id,
        name=paint.name,
        pots=letters,
        needed_ml=needed_ml,
        left_ml=stock.left_ml,
        short_ml=short,
        bottles_to_buy=bottles,
        cost_to_buy=None if bottles is None or price is None else bottles * price,
        cost_used=None if price is None else needed_ml / stock.bottle_ml * price,
    )
