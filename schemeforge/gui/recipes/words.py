"""Answers in words: what to mix, how near it comes, and what speaks for and against it."""

from collections.abc import Mapping
from dataclasses import dataclass

from schemeforge import colorimetry
from schemeforge.gui.counting import counted
from schemeforge.gui.reading import tr
from schemeforge.gui.recipes.answers import Answer
from schemeforge.paint import WATER, WATER_ID, Paint
from schemeforge.recipe import Ranked, Recipe, RecipeCoat, Saying, Sturdiness, Swap
from schemeforge.scheme import Coat, Mix, ReliefKind


@dataclass(frozen=True, slots=True, kw_only=True)
class CardText:
    """What a card says, ready to be shown.

    Args:
        near: How near it comes.
        mixes: One line for each coat: what is mixed, and how it is laid.
        notes: What speaks for and against it.
        why: Why it stands above the next, "" where it does not say.
    """

    near: str
    mixes: tuple[tuple[str, str], ...]
    notes: tuple[str, ...] = ()
    why: str = ""

    @property
    def plain(self) -> str:
        """All of it, for the clipboard and for a screen reader."""
        mixes = [f"{mixed}: {laid}" if laid else mixed for mixed, laid in self.mixes]
        return "\n".join(filter(None, (*mixes, self.near, *self.notes, self.why)))


def names_of(paints: tuple[Paint, ...]) -> dict[str, str]:
    """The name of every paint by its id, water included."""
    return {paint.id: paint.name for paint in paints} | {WATER_ID: tr(WATER.name)}


def card_text(answer: Answer, names: Mapping[str, str], *, numbers: bool) -> CardText:
    """The words of an answer."""
    what = answer.what
    near = near_words(answer, numbers=numbers)
    if isinstance(what, Recipe):
        mixes = tuple(
            (mix_words(coat, names), laid_words(coat, numbers=numbers)) for coat in what.coats
        )
        ranked = answer.ranked
        if ranked is None:
            return CardText(near=near, mixes=mixes)
        return CardText(
            near=near,
            mixes=mixes,
            notes=notes_of(ranked, names, numbers=numbers),
            why=why_words(ranked.why, numbers=numbers),
        )
    if isinstance(what, Swap):
        return CardText(near=near, mixes=((pot_words(what.mix, names), swap_words(what, names)),))
    return CardText(near=near, mixes=((pot_words(what.mix, names), brush_words(what.coat)),))


def difference_words(delta_e: float) -> str:
    """Whether a difference is seen, in the user's language."""
    return tr(colorimetry.difference_words(delta_e))


def near_words(answer: Answer, *, numbers: bool) -> str:
    """How near it comes: the worst place of a ramp decides."""
    worst = max(answer.differences)
    words = difference_words(worst)
    if not numbers:
        return words
    if len(answer.differences) == 1:
        return tr("{0} ({1} dE)").format(words, f"{worst:.1f}")
    each = " · ".join(f"{value:.1f}" for value in answer.differences)
    return tr("{0} ({1} dE, recess to raised edge)").format(words, each)


def mix_words(coat: RecipeCoat, names: Mapping[str, str]) -> str:
    """What is mixed: "3 ochre, 1 bone white, 6 water" in parts, or one paint neat."""
    parts = coat.all_parts
    if len(parts) == 1:
        return tr("{0}, neat").format(names[parts[0].paint_id])
    return _listed([(part.parts, names[part.paint_id]) for part in parts])


def pot_words(mix: Mix, names: Mapping[str, str]) -> str:
    """The same of a pot."""
    if len(mix.ingredients) == 1:
        return tr("{0}, neat").format(names[mix.ingredients[0].paint_id])
    return _listed([(one.parts, names[one.paint_id]) for one in mix.ingredients])


def _listed(parts: list[tuple[float, str]]) -> str:
    amounts = ", ".join(f"{amount:g} {name}" for amount, name in parts)
    return tr("Parts: {0}").format(amounts)


def laid_words(coat: RecipeCoat, *, numbers: bool) -> str:
    """How a coat of a recipe is laid."""
    coats = counted(coat.coats, tr("{0} coat"), tr("{0} coats"))
    film = tr(" of {0} µm wet").format(f"{coat.wet_um:g}") if numbers else ""
    return f"{tr(coat.technique.value)}, {coats}{film}"


def swap_words(swap: Swap, names: Mapping[str, str]) -> str:
    """Which paint goes in, and how much of it for one part of the other."""
    name = names[swap.paint_id]
    if swap.factor == 1.0:
        return tr("{0}, part for part").format(name)
    return tr("{0}, {1} parts for one").format(name, f"{swap.factor:.2g}")


def brush_words(coat: Coat) -> str:
    """How a brush replaces the spray: technique, passes and where it goes."""
    relief = coat.placement.relief
    passes = counted(coat.passes, tr("{0} pass"), tr("{0} passes"))
    words = f"{tr(coat.technique.value)}, {passes}, {tr(relief.kind.value)}"
    if relief.kind is ReliefKind.EVEN:
        return words
    return tr("{0}: {1} % there, over {2} % of the relief").format(
        words, f"{100 * relief.depth:.0f}", f"{100 * relief.reach:.0f}"
    )


def notes_of(ranked: Ranked, names: Mapping[str, str], *, numbers: bool) -> tuple[str, ...]:
    """Sturdiness, constancy, stock and time."""
    sturdy = ranked.sturdiness
    notes = [slip_words(sturdy, names, numbers=numbers), light_words(sturdy, numbers=numbers)]
    if ranked.to_fetch:
        fetch = ", ".join(names[paint_id] for paint_id in ranked.to_fetch)
        notes.append(tr("To fetch: {0}").format(fetch))
    if ranked.hours is not None and numbers:
        notes.append(tr("{0} h for the batch").format(f"{ranked.hours:.1f}"))
    return tuple(notes)


def slip_words(sturdy: Sturdiness, names: Mapping[str, str], *, numbers: bool) -> str:
    """What a slip does, and which ingredient to watch where it shows."""
    words = {
        "unseen": tr("A slip stays unseen"),
        "seen side by side": tr("A slip is seen side by side"),
        "shows in the ranks": tr("A slip shows in the ranks"),
    }.get(colorimetry.difference_words(sturdy.slip), tr("A slip makes another colour"))
    if sturdy.slip >= 1.0:
        watched = names[sturdy.ingredient_id]
        words = tr("{0}; measure the {1} with care").format(words, watched)
    return f"{words} ({sturdy.slip:.1f} dE)" if numbers else words


def light_words(sturdy: Sturdiness, *, numbers: bool) -> str:
    """Whether it holds under other lights."""
    if sturdy.other_light < 1.0:
        words = tr("Holds under other lights")
    else:
        words = tr("Off under {0}: {1}").format(
            light_name(sturdy.light), difference_words(sturdy.other_light)
        )
    return f"{words} ({sturdy.other_light:.1f} dE)" if numbers else words


def light_name(name: str) -> str:
    """What the view bar calls a light."""
    return next((light.label for light in colorimetry.lights() if light.name == name), name)


def why_words(why: Saying | None, *, numbers: bool) -> str:
    """Why a recipe stands above the next; the figures with Numbers on."""
    if why is None:
        return ""
    if numbers:
        return why.said(tr)
    plain = {
        "match": tr("Nearer to the target than the next"),
        "sturdiness": tr("As near as the next, and a slip shows less"),
        "lights": tr("As near and as sturdy as the next, and holds better under other lights"),
        "paints": tr("As good as the next, with fewer paints"),
        "stock": tr("As good as the next, and less to fetch"),
        "effort": tr("As good as the next, with less work"),
        "hours": tr("As good as the next, in less time"),
        "nearest": tr("As good as the next in all else, and a little nearer"),
    }
    return plain[why.key]


def saying_words(saying: Saying, *, numbers: bool) -> str:
    """A finding of the engine; how near something comes in words unless Numbers is on."""
    if numbers:
        return _ended(saying.said(tr))
    figures = dict(saying.numbers)
    spoken = {
        name: f"“{difference_words(figures[name])}”" if name in figures else text
        for name, text in saying.names
    }
    plain = {
        "again": tr(
            "There is enough to mix the same again; measured a drop in thirty off, "
            "the difference is {off}"
        ),
        "other": tr("{paints} will not last; from what is left the nearest mix is {best}"),
        "miss": tr("Out of reach: the nearest recipe is {how}")
        if spoken.get("how")
        else tr("Out of reach: the nearest recipe is off by {best}"),
    }.get(saying.key, tr(saying.template))
    text = plain.format(**spoken)
    return _ended(text[:1].upper() + text[1:])


def _ended(sentence: str) -> str:
    return sentence if sentence.endswith(".") else f"{sentence}."
