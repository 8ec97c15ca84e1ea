"""The pot that ran dry before the batch was done: how to mix it again from what is left."""

from collections.abc import Sequence
from dataclasses import dataclass, replace

import numpy as np

from schemeforge import checks, colorimetry
from schemeforge.paint import WATER_ID, Paint
from schemeforge.recipe.funnel import NORMAL, Effort, GoOn
from schemeforge.recipe.recipe import Recipe
from schemeforge.recipe.saying import Saying, listed
from schemeforge.recipe.solver import always, search
from schemeforge.recipe.substitutes import Floats, Use, mix_request, with_mix
from schemeforge.scheme import Ingredient, Mix

# What a second measuring of the same mix may be off by, of its largest ingredient: one drop in
# thirty (rule of thumb, no source).
_MEASURED = 1.0 / 30.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Shortage:
    """A paint of which the same mix once more takes more than there is, ml."""

    paint_id: str
    needed_ml: float
    left_ml: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Remix:
    """How to go on.

    Args:
        again: The same mix once more.
        shortages: Paints that it would take more of than is left; empty where it can be had.
        off_by_a_drop: CIEDE2000 at each place where its most telling ingredient is measured one
            drop in thirty off.
        others: Mixes from what is left, nearest first, none of which runs short; empty where the
            same mix can be had.
        verdict: Whether it will show, as a sentence.
    """

    again: Mix
    shortages: tuple[Shortage, ...]
    off_by_a_drop: tuple[float, ...]
    others: tuple[Recipe, ...]
    verdict: Saying


def remix(
    use: Use,
    paints: Sequence[Paint],
    needed_ml: float,
    *,
    count: int = 5,
    go_on: GoOn = always,
    effort: Effort = NORMAL,
) -> Remix | None:
    """How to mix a pot again for the rest of a batch; None where it was told to stop.

    Args:
        use: The coat whose pot ran dry.
        paints: The shelf with what is left; where that is not known there is enough.
        needed_ml: How much mix the rest of the batch takes, above 0.
        count: How many other mixes to give.
        go_on: Told the share done, 0 to 1; returns False to stop.
        effort: How wide to search.

    Raises:
        InputError: Where the step is no coat, or nothing is left to mix.
    """
    checks.number(needed_ml, "Mix needed", low=0.01, high=1e6, unit="ml")
    mix = use.mix
    short = shortages(mix, paints, needed_ml)
    off = _off_by_a_drop(use, mix)
    others: tuple[Recipe, ...] = ()
    if short:
        request = mix_request(use, paints, needed_ml=needed_ml, count=count)
        found = search(request, go_on=go_on, effort=effort)
        if found is None:
            return None
        others = found.recipes
    names = {paint.id: paint.name for paint in (*use.project.paints, *paints)}
    verdict = _verdict([names[one.paint_id] for one in short], off, others)
    return Remix(again=mix, shortages=short, off_by_a_drop=off, others=others, verdict=verdict)


def shortages(mix: Mix, paints: Sequence[Paint], needed_ml: float) -> tuple[Shortage, ...]:
    """The paints of which so much of the mix takes more than there is.

    A paint that is not on the shelf at all is out; water never is.
    """
    left = {paint.id: paint.stock.left_ml for paint in paints}
    short = []
    for ingredient in mix.ingredients:
        if ingredient.paint_id == WATER_ID:
            continue
        needed = needed_ml * ingredient.parts / mix.total_parts
        there = left.get(ingredient.paint_id, 0.0)
        if there is not None and there < needed:
            short.append(Shortage(paint_id=ingredient.paint_id, needed_ml=needed, left_ml=there))
    return tuple(short)


def _off_by_a_drop(use: Use, mix: Mix) -> tuple[float, ...]:
    """The largest change along the ramp from one ingredient a thirtieth of the mix off."""
    before = use.ramp()
    worst: Floats = np.zeros(len(before))
    for n in range(len(mix.ingredients)):
        off = tuple(
            Ingredient(paint_id=one.paint_id, parts=one.parts + _MEASURED * mix.total_parts)
            if m == n
            else one
            for m, one in enumerate(mix.ingredients)
        )
        after = use.ramp(with_mix(use.scheme, replace(mix, ingredients=off)))
        each = colorimetry.ciede2000(after, before)
        if each.max() > worst.max():
            worst = each
    return tuple(float(value) for value in worst)


def _verdict(short: list[str], off: tuple[float, ...], others: tuple[Recipe, ...]) -> Saying:
    if not short:
        return Saying(
            key="again",
            template=(
                "there is enough to mix the same again; measured a drop in thirty off, "
                "the difference is {words} ({off})"
            ),
            names=(
                ("words", colorimetry.difference_words(max(off))),
                ("off", f"{max(off):.1f}"),
            ),
            numbers=(("off", max(off)),),
        )
    if not others:
        return Saying(
            key="nothing",
            template="{paints} will not last, and nothing that is left makes the mix",
            names=(("paints", listed(short)),),
        )
    best = others[0].largest
    return Saying(
        key="other",
        template="{paints} will not last; from what is left the nearest mix is {words} ({best})",
        names=(
            ("paints", listed(short)),
            ("words", colorimetry.difference_words(best)),
            ("best", f"{best:.1f}"),
        ),
        numbers=(("best", best),),
    )
