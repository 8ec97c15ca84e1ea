"""Counting a mix out in drops, and saying when a single drop would change it."""

import math
from collections.abc import Collection
from dataclasses import dataclass
from fractions import Fraction

from schemeforge import checks
from schemeforge.errors import InputError
from schemeforge.scheme import Mix

# A mix of 30 drops or more keeps the error of one drop small (common practice, no source).
FEWEST_DROPS = 30.0
# The film of a coat varies by about this much from hand to hand (rule of thumb, no source): a
# drop that changes the strength by more is what decides the colour.
LARGEST_CHANGE = 0.15
_MOST_CHANGE = 1e6
# Ratios are read as written with small numbers: 0.333 means 1 in 3.
_LARGEST_DENOMINATOR = 20
# A little more mix than needed is cheaper than a ratio that is not the one written.
_MORE_AT_MOST = 1.1


@dataclass(frozen=True, slots=True, kw_only=True)
class DropShare:
    """What one drop of the scarcest ingredient changes.

    Args:
        paint_id: The scarcest of the ingredients looked at.
        drops: How many drops of it the mix takes.
        change: Relative change of its amount by one drop more or less: 1 / drops, 1e6 at most.
    """

    paint_id: str
    drops: float
    change: float


@dataclass(frozen=True, slots=True, kw_only=True)
class DropWarning:
    """A finding: one drop more or less would be seen.

    Args:
        pot: Letter of the pot.
        ingredient: Name of the scarcest ingredient.
        total_drops: Drops in the whole mix.
        change: Relative change of that ingredient by one drop.
    """

    pot: str
    ingredient: str
    total_drops: float
    change: float

    @property
    def sentence(self) -> str:
        """The finding and what to do about it."""
        holds = f"Pot {self.pot} holds about {self.total_drops:.0f} drops"
        matters = (
            f"one drop of {self.ingredient} changes its strength by {self.change:.0%}"
            if self.change < 1.0
            else f"it takes no more than one drop of {self.ingredient}"
        )
        return f"{holds}: {matters}; mix more, measure with a syringe, or weigh it."


def smallest_drop_share(mix: Mix, drops: float, among: Collection[str] = ()) -> DropShare:
    """The scarcest ingredient of a mix of that many drops, and what one drop of it changes.

    Args:
        mix: The mix.
        drops: Drops in the whole mix, above 0.
        among: Ids to look at, for example those that carry colour; all where none is in the mix.

    Raises:
        InputError: ``drops`` is not above 0.
    """
    drops = checks.number(drops, "Drops in the mix", low=0.0, high=1e12)
    if not drops:
        raise InputError(f'Mix "{mix.name}" holds no drops', remedy="ask for more than none")
    looked_at = [i for i in mix.ingredients if i.paint_id in among] or mix.ingredients
    scarcest = min(looked_at, key=lambda ingredient: ingredient.parts)
    own = drops * scarcest.parts / mix.total_parts
    return DropShare(paint_id=scarcest.paint_id, drops=own, change=min(1.0 / own, _MOST_CHANGE))


def whole_drops(mix: Mix, drops: float) -> tuple[int, ...]:
    """Whole drops of each ingredient, in the mix's order, for a mix of about that many.

    Where the ratio can be kept as written with enough and at most a tenth more than asked for, it
    is; otherwise each ingredient is rounded to the nearest drop, at least one. All 0 where none is
    asked for.
    """
    if drops <= 0.0:
        return (0,) * len(mix.ingredients)
    ratio = _smallest_ratio(mix)
    times = max(1, math.ceil(drops / sum(ratio) - 1e-9))
    if times * sum(ratio) <= max(_MORE_AT_MOST * drops, math.ceil(drops)):
        return tuple(times * part for part in ratio)
    each = drops / mix.total_parts
    return tuple(max(1, round(each * ingredient.parts)) for ingredient in mix.ingredients)


def _smallest_ratio(mix: Mix) -> tuple[int, ...]:
    """The mix's parts as whole numbers, 1 or more each, without a common divisor."""
    parts = [ingredient.parts for ingredient in mix.ingredients]
    if not all(part.is_integer() for part in map(float, parts)):
        scarcest = min(parts)
        near = [Fraction(part / scarcest).limit_denominator(_LARGEST_DENOMINATOR) for part in parts]
        common = math.lcm(*(part.denominator for part in near))
        parts = [int(part * common) for part in near]
    divisor = math.gcd(*(int(part) for part in parts))
    return tuple(int(part) // divisor for part in parts)
