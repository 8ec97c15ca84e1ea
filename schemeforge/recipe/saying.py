"""Sentences with their figures, ready for translation, and recipes in words."""

from collections.abc import Callable, Sequence
from dataclasses import dataclass

from schemeforge.paint import WATER, WATER_ID, Paint
from schemeforge.recipe.recipe import Recipe, RecipeCoat


@dataclass(frozen=True, slots=True, kw_only=True)
class Saying:
    """One plain sentence.

    Args:
        key: What it is about, for example "sturdiness".
        template: The sentence with named places, in English; a key for translation.
        names: What stands in those places: names and figures.
        numbers: Its figures by name, unrounded.
    """

    key: str
    template: str
    names: tuple[tuple[str, str], ...] = ()
    numbers: tuple[tuple[str, float], ...] = ()

    @property
    def sentence(self) -> str:
        """The sentence in plain English."""
        return self.said(str)

    def said(self, translate: Callable[[str], str]) -> str:
        """The sentence with its template put through a translation."""
        text = translate(self.template).format(**dict(self.names))
        return text[:1].upper() + text[1:]


def listed(names: Sequence[str]) -> str:
    """Names in a row: "ochre, umber and white"."""
    if len(names) < 2:
        return "".join(names)
    return f"{', '.join(names[:-1])} and {names[-1]}"


def counted(number: int, one: str) -> str:
    """A number with its word: "1 coat", "2 coats"."""
    return f"{number} {one}" if number == 1 else f"{number} {one}s"


def recipe_words(recipe: Recipe, paints: Sequence[Paint]) -> str:
    """The recipe as a painter would say it, lowest coat first."""
    names = {paint.id: paint.name for paint in paints} | {WATER_ID: WATER.name}
    return "; then ".join(coat_words(coat, names) for coat in recipe.coats)


def coat_words(coat: RecipeCoat, names: dict[str, str]) -> str:
    """One coat in words, for example "2 parts ochre to 3 of water, 2 coats, glaze"."""
    parts = coat.all_parts
    if len(parts) == 1:
        mixed = f"{names[parts[0].paint_id]}, neat"
    else:
        first = f"{counted(parts[0].parts, 'part')} {names[parts[0].paint_id]}"
        mixed = f"{first} to " + listed([f"{p.parts} of {names[p.paint_id]}" for p in parts[1:]])
    return f"{mixed}: {coat.technique.value}, {counted(coat.coats, 'coat')} of {coat.wet_um:g} um"
