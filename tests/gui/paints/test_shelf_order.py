"""Search, order and differences of the shelf, without any window."""

from dataclasses import replace

import pytest

from schemeforge.gui.paints.shelf_order import (
    Difference,
    Looks,
    Order,
    behind,
    carried_otherwise,
    differences,
    matches,
    not_on_shelf,
    ordered,
    with_paint,
    without_paint,
)
from schemeforge.paint import Basis, Paint, PaintKind, Stock
from tests.builders import brown_wash, red_glaze, small_paints, small_project

LOOKS = Looks("dark muted orange", (30.0, 20.0, 20.0))


@pytest.mark.parametrize(
    ("wanted", "found"),
    [
        ("", True),
        ("brown", True),
        ("BROWN wash", True),
        ("wash dark", True),
        ("orange", True),
        ("pbr7", True),
        ("not measured", True),
        ("for mud", True),
        ("rown", False),
        ("brown ink", False),
    ],
)
def test_every_word_wanted_must_begin_a_word_of_the_paint(wanted: str, found: bool) -> None:
    paint = replace(brown_wash(), colour_index="PBr7", note="For mud.")
    assert matches(paint, LOOKS, wanted) is found


def paints(*names: str) -> tuple[Paint, ...]:
    return tuple(replace(red_glaze(), id=name, name=name) for name in names)


def test_hue_goes_round_the_circle_and_greys_stand_last_from_dark_to_light() -> None:
    shelf = paints("white", "blue", "red", "black", "yellow")
    looks = {
        "white": Looks("", (95.0, 1.0, 2.0)),
        "blue": Looks("", (30.0, 10.0, -50.0)),
        "red": Looks("", (50.0, 60.0, 30.0)),
        "black": Looks("", (8.0, 0.0, 0.0)),
        "yellow": Looks("", (85.0, 0.0, 80.0)),
    }
    names = [paint.name for paint in ordered(shelf, looks, Order.HUE)]
    assert names == ["red", "yellow", "blue", "black", "white"]
    names = [paint.name for paint in ordered(shelf, looks, Order.LIGHTNESS)]
    assert names == ["black", "blue", "red", "yellow", "white"]
    assert [p.name for p in ordered(shelf, looks, Order.NAME)] == sorted(p.name for p in shelf)
    assert ordered(shelf, looks, Order.SHELF) is shelf


def test_kinds_stand_together_in_the_order_of_the_shelf() -> None:
    wash, a, b = brown_wash(), *paints("a", "b")
    ink = replace(a, id="ink", kind=PaintKind.INK)
    assert ordered((ink, wash, b, a), {}, Order.KIND) == (b, a, wash, ink)


@pytest.mark.parametrize(
    ("changes", "found"),
    [
        ({}, ()),
        ({"absorption": (0.1,) * 36}, (Difference.COLOUR,)),
        ({"basis": Basis.MEASURED}, (Difference.CERTAINTY,)),
        ({"density_g_per_ml": 1.4}, (Difference.BODY,)),
        ({"stock": Stock(left_ml=3.0)}, (Difference.STOCK,)),
        ({"note": "x"}, (Difference.WORDS,)),
        ({"scattering": (0.2,) * 36, "name": "x"}, (Difference.COLOUR, Difference.WORDS)),
    ],
)
def test_differences_are_named(changes: dict[str, object], found: tuple[Difference, ...]) -> None:
    paint = red_glaze()
    assert differences(replace(paint, **changes), paint) == found  # type: ignore[arg-type]


def test_paints_that_the_project_carries_otherwise_or_alone_are_found() -> None:
    project, shelf = small_project(), small_paints()
    assert carried_otherwise(shelf, project) == ()
    assert not_on_shelf(shelf, project) == ()
    changed = replace(shelf[2], note="thicker")
    (pair,) = carried_otherwise(with_paint(shelf, changed), project)
    assert (pair.shelf, pair.project) == (changed, shelf[2])
    assert not_on_shelf(without_paint(shelf, shelf[3].id), project) == (shelf[3],)


def test_shelf_edits_keep_the_order() -> None:
    shelf = paints("a", "b", "c")
    new = replace(shelf[0], id="n")
    assert [p.id for p in behind(shelf, "a", new)] == ["a", "n", "b", "c"]
    assert [p.id for p in behind(shelf, "gone", new)] == ["a", "b", "c", "n"]
    assert with_paint(shelf, replace(shelf[1])) is shelf
