"""The best different recipes in a painter's order, each with why it stands above the next.

First how near it comes: differences that nobody sees, and whole steps of CIEDE2000 beyond, count
as equal. Among equals the sturdier goes first, then the one that holds under other lights, then
fewer paints, then what is in stock, then fewer coats or less time, and last the nearest.
"""

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from typing import Final

from schemeforge import colorimetry
from schemeforge.colorimetry import LightLike
from schemeforge.recipe.funnel import NORMAL, Effort, GoOn
from schemeforge.recipe.recipe import Recipe
from schemeforge.recipe.request import Request, is_empty
from schemeforge.recipe.saying import Saying, counted, listed
from schemeforge.recipe.solver import SoFar, always, nothing, search
from schemeforge.recipe.sturdiness import LIGHTS, Sturdiness, sturdiness

# Steps within which recipes count as equal: a whole CIEDE2000 is hardly seen, half of one is no
# difference between two slips (rules of thumb, no source).
_STEP_OF_MATCH: Final = 1.0
_STEP_OF_SLIP: Final = 0.5
_STEP_OF_LIGHT: Final = 0.5

# How much farther than the nearest a recipe may be to be judged, and how many are: judging takes
# a millisecond or two each.
_WORTH: Final = 2.0
_JUDGED: Final = 120

HoursOf = Callable[[Recipe], float | None]


@dataclass(frozen=True, slots=True, kw_only=True)
class Ranked:
    """A recipe with what speaks for and against it.

    Args:
        recipe: The recipe.
        sturdiness: What slips and other lights do to it.
        to_fetch: Ids of its paints that are out, or of which too little is left.
        hours: What its coats take, where that was handed in.
        why: Why it stands above the next; None for the last.
    """

    recipe: Recipe
    sturdiness: Sturdiness
    to_fetch: tuple[str, ...]
    hours: float | None
    why: Saying | None = None

    @property
    def words(self) -> str:
        """How far from the target, in plain words."""
        return colorimetry.difference_words(self.recipe.delta_e)


@dataclass(frozen=True, slots=True, kw_only=True)
class Ranking:
    """What was found for a request.

    Args:
        recipes: The best different recipes in a painter's order.
        nearest: The one that comes nearest, whatever its order; None where there is none.
        searched: How many there were to choose from.
    """

    recipes: tuple[Ranked, ...]
    nearest: Recipe | None
    searched: int


def ranking(
    request: Request,
    *,
    lights: Sequence[LightLike] = LIGHTS,
    hours_of: HoursOf | None = None,
    go_on: GoOn = always,
    effort: Effort = NORMAL,
    so_far: SoFar = nothing,
) -> Ranking | None:
    """The best different recipes for a request, ranked; None where it was told to stop.

    Args:
        request: What is wanted of what.
        lights: Under which constancy is judged.
        hours_of: Gives the hours that a recipe's coats take, where that is known.
        go_on: Told the share done, 0 to 1; returns False to stop.
        effort: How wide to search.
        so_far: As in `schemeforge.recipe.solver.search`.

    Raises:
        InputError: As `schemeforge.recipe.solver.search`.
    """
    found = search(request, go_on=lambda share: go_on(0.95 * share), effort=effort, so_far=so_far)
    if found is None:
        return None
    recipes = without_surplus(worth_judging(found.pool, request.count))
    judged = sturdiness(recipes, request, lights)
    entries = [
        Ranked(
            recipe=recipe,
            sturdiness=sturdy,
            to_fetch=to_fetch(recipe, request),
            hours=None if hours_of is None else hours_of(recipe),
        )
        for recipe, sturdy in zip(recipes, judged, strict=True)
    ]
    ranked = ranked_in_order(entries, request)
    if not go_on(1.0):
        return None
    nearest = found.recipes[0] if found.recipes else None
    return Ranking(recipes=tuple(ranked), nearest=nearest, searched=found.searched)


def worth_judging(pool: Sequence[Recipe], count: int) -> list[Recipe]:
    """Those of the pool that come near enough to be ranked high, nearest first."""
    if not pool:
        return []
    bar = pool[0].delta_e + _WORTH
    return [r for n, r in enumerate(pool) if r.delta_e <= bar or n < 2 * count][:_JUDGED]


def without_surplus(recipes: Sequence[Recipe]) -> list[Recipe]:
    """The recipes without those that hold one more paint than another that comes as near."""
    kept = []
    for recipe in recipes:
        step = _match(recipe)
        surplus = any(
            other.paint_ids < recipe.paint_ids
            and len(other.coats) <= len(recipe.coats)
            and _match(other) <= step
            for other in recipes
        )
        if not surplus:
            kept.append(recipe)
    return kept


def to_fetch(recipe: Recipe, request: Request) -> tuple[str, ...]:
    """Ids of the recipe's paints that are out, or short of what the job takes."""
    short = []
    for coat in recipe.coats:
        for part in coat.paints:
            paint = request.paint(part.paint_id)
            left = paint.stock.left_ml
            needed = (request.needed_ml or 0.0) * part.parts / coat.total_parts
            if is_empty(paint) or (left is not None and left < needed):
                short.append(paint.id)
    return tuple(dict.fromkeys(short))


def ranked_in_order(entries: Sequence[Ranked], request: Request) -> list[Ranked]:
    """The first of the entries in a painter's order, each with why it stands above the next."""
    order = sorted(entries, key=lambda entry: (_steps(entry), sorted(entry.recipe.paint_ids)))
    order = order[: request.count]
    return [
        Ranked(
            recipe=entry.recipe,
            sturdiness=entry.sturdiness,
            to_fetch=entry.to_fetch,
            hours=entry.hours,
            why=_why(entry, order[n + 1], request) if n + 1 < len(order) else None,
        )
        for n, entry in enumerate(order)
    ]


def _match(recipe: Recipe) -> int:
    return int(recipe.delta_e / _STEP_OF_MATCH)


def _steps(entry: Ranked) -> tuple[float, ...]:
    """What is compared, most important first; equal where a painter would not care."""
    effort = entry.recipe.coat_count if entry.hours is None else round(4 * entry.hours)
    return (
        _match(entry.recipe),
        int(entry.sturdiness.slip / _STEP_OF_SLIP),
        int(entry.sturdiness.other_light / _STEP_OF_LIGHT),
        len(entry.recipe.paint_ids),
        len(entry.to_fetch),
        effort,
        entry.recipe.delta_e,
    )


def _why(entry: Ranked, below: Ranked, request: Request) -> Saying:
    """The first of the steps in which the two differ, as a sentence."""
    first = next(
        (n for n, (a, b) in enumerate(zip(_steps(entry), _steps(below), strict=True)) if a != b),
        len(_KEYS) - 1,
    )
    key = _KEYS[first]
    if key == "effort" and entry.hours is not None and below.hours is not None:
        return _saying("hours", f"{entry.hours:.1f}", f"{below.hours:.1f}")
    here, there = (_figure(key, one, request) for one in (entry, below))
    return _saying(key, here, there, entry.sturdiness.light)


def _saying(key: str, here: str, there: str, light: str = "") -> Saying:
    names = (("here", here), ("there", there), ("light", light))
    return Saying(key=key, template=_TEMPLATES[key], names=names)


def _figure(key: str, entry: Ranked, request: Request) -> str:
    recipe = entry.recipe
    if key == "sturdiness":
        return f"{entry.sturdiness.slip:.1f}"
    if key == "lights":
        return f"{entry.sturdiness.other_light:.1f}"
    if key == "paints":
        return counted(len(recipe.paint_ids), "paint")
    if key == "stock":
        return listed([request.paint(one).name for one in entry.to_fetch]) or "nothing"
    if key == "effort":
        return counted(recipe.coat_count, "coat")
    return f"{recipe.delta_e:.2f}"


_KEYS = ("match", "sturdiness", "lights", "paints", "stock", "effort", "nearest")
_TEMPLATES = {
    "match": "nearer to the target than the next: {here} against {there} (CIEDE2000)",
    "sturdiness": (
        "as near as the next, and a slip in measuring or laying shows less: {here} against {there}"
    ),
    "lights": (
        "as near and as sturdy as the next, and holds better under other lights: "
        "off by {here} against {there}"
    ),
    "paints": "as good as the next with fewer paints: {here} against {there}",
    "stock": "as good as the next, and to fetch for it: {here}, against {there}",
    "effort": "as good as the next with less work: {here} against {there}",
    "hours": "as good as the next in less time: {here} h against {there} h",
    "nearest": "as good as the next in all else, and a little nearer: {here} against {there}",
}
