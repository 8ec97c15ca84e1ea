"""Which paints of the shelf are shown, in which order, and where the project's differ. No Qt."""

import math
from collections.abc import Mapping
from dataclasses import replace
from enum import StrEnum
from typing import NamedTuple

from schemeforge.paint import WATER_ID, Paint, PaintKind, Stock
from schemeforge.scheme import Project

_KINDS = tuple(PaintKind)
# Below this chroma a paint has no hue worth sorting by: greys stand together, dark to light.
_GREY_CHROMA = 6.0


class Order(StrEnum):
    """How the cards are sorted."""

    SHELF = "shelf"
    HUE = "hue"
    LIGHTNESS = "lightness"
    NAME = "name"
    KIND = "kind"


class Looks(NamedTuple):
    """A paint's colour at full film over off-white: words, and CIELAB."""

    words: str
    lab: tuple[float, float, float]


def matches(paint: Paint, looks: Looks, wanted: str) -> bool:
    """True where every word wanted begins a word of the paint's name, kind, colour, or data."""
    texts = (
        paint.name,
        paint.kind.value,
        paint.basis.words,
        looks.words,
        paint.colour_index,
        paint.note,
    )
    text = " " + " ".join(texts).casefold().replace("-", " ").replace(":", " ")
    return all(f" {word}" in text for word in wanted.casefold().replace("-", " ").split())


def ordered(
    paints: tuple[Paint, ...], looks: Mapping[str, Looks], order: Order
) -> tuple[Paint, ...]:
    """The paints sorted; equals keep the order of the shelf.

    Args:
        paints: In shelf order.
        looks: By paint id.
        order: Hue goes round the circle with greys last; lightness from dark to light.
    """
    if order is Order.SHELF:
        return paints
    if order is Order.NAME:
        return tuple(sorted(paints, key=lambda p: p.name.casefold()))
    if order is Order.KIND:
        return tuple(sorted(paints, key=lambda p: _KINDS.index(p.kind)))
    if order is Order.LIGHTNESS:
        return tuple(sorted(paints, key=lambda p: looks[p.id].lab[0]))
    return tuple(sorted(paints, key=lambda p: _hue(looks[p.id].lab)))


def _hue(lab: tuple[float, float, float]) -> tuple[bool, float]:
    lightness, a, b = lab
    if math.hypot(a, b) < _GREY_CHROMA:
        return True, lightness
    return False, math.degrees(math.atan2(b, a)) % 360.0


class Difference(StrEnum):
    """In what a paint of the shelf differs from the one that the project carries."""

    COLOUR = "colour"
    CERTAINTY = "how sure it is"
    BODY = "solids or density"
    STOCK = "what is left or its price"
    WORDS = "name, kind or note"


def differences(shelf: Paint, carried: Paint) -> tuple[Difference, ...]:
    """In what the two differ, gravest first; empty for equal paints."""
    found = []
    if (shelf.absorption, shelf.scattering) != (carried.absorption, carried.scattering):
        found.append(Difference.COLOUR)
    if (shelf.basis, shelf.uncertainty, shelf.flagged_bands_nm) != (
        carried.basis,
        carried.uncertainty,
        carried.flagged_bands_nm,
    ):
        found.append(Difference.CERTAINTY)
    if (shelf.volume_solids, shelf.density_g_per_ml) != (
        carried.volume_solids,
        carried.density_g_per_ml,
    ):
        found.append(Difference.BODY)
    if shelf.stock != carried.stock:
        found.append(Difference.STOCK)
    if (shelf.name, shelf.kind, shelf.note, shelf.colour_index) != (
        carried.name,
        carried.kind,
        carried.note,
        carried.colour_index,
    ):
        found.append(Difference.WORDS)
    return tuple(found)


class Carried(NamedTuple):
    """A paint of the project beside the shelf's of the same id."""

    shelf: Paint
    project: Paint
    differs: tuple[Difference, ...]


def carried_otherwise(shelf: tuple[Paint, ...], project: Project) -> tuple[Carried, ...]:
    """The project's paints of which the shelf has another version, in the project's order."""
    own = {paint.id: paint for paint in shelf}
    pairs = ((own[p.id], p) for p in project.paints if p.id in own and own[p.id] != p)
    return tuple(Carried(ours, theirs, differences(ours, theirs)) for ours, theirs in pairs)


def not_on_shelf(shelf: tuple[Paint, ...], project: Project) -> tuple[Paint, ...]:
    """The project's paints that the shelf does not have."""
    own = {paint.id for paint in shelf} | {WATER_ID}
    return tuple(paint for paint in project.paints if paint.id not in own)


def with_paint(shelf: tuple[Paint, ...], paint: Paint) -> tuple[Paint, ...]:
    """The shelf with that paint in place of the one of its id; the same shelf where equal."""
    if any(held == paint for held in shelf if held.id == paint.id):
        return shelf
    return tuple(paint if held.id == paint.id else held for held in shelf)


def without_paint(shelf: tuple[Paint, ...], paint_id: str) -> tuple[Paint, ...]:
    """The shelf without the paint of that id."""
    return tuple(paint for paint in shelf if paint.id != paint_id)


def behind(shelf: tuple[Paint, ...], paint_id: str, new: Paint) -> tuple[Paint, ...]:
    """The shelf with a new paint just behind the one of that id, or at the end."""
    place = next((n for n, p in enumerate(shelf, 1) if p.id == paint_id), len(shelf))
    return (*shelf[:place], new, *shelf[place:])


def poured(paint: Paint, stock: Stock) -> Paint:
    """The paint with another stock."""
    return replace(paint, stock=stock)
