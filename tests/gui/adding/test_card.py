"""Marks, results and the shelf they go to, without a window."""

from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from schemeforge.appearance import look_of
from schemeforge.calibration import BLACK, WHITE, Area, from_two_colours
from schemeforge.errors import InputError
from schemeforge.gui.adding import card as marking
from schemeforge.gui.adding.card import Card, CardPaint, Role
from schemeforge.gui.adding.result import Result, Taking, result_of, shelved
from schemeforge.gui.adding.takings import free_name
from schemeforge.paint import Basis, PaintKind
from tests.builders import small_paints, small_project
from tests.calibration.swatches import red, seen

NAMES = {role: role.value for role in Role}
SHARE = st.floats(0.0, 1.0)
AREA = Area(left=0.2, top=0.2, right=0.4, bottom=0.3)


def card(*roles: Role) -> Card:
    made = Card(paints=(CardPaint(id=1, name="red"),))
    for place, role in enumerate(roles):
        area = marking.moved(AREA, 0.1 * place, 0.0)
        made, _ = marking.added(made, role, area, NAMES)
    return made


@given(st.tuples(SHARE, SHARE), st.tuples(SHARE, SHARE))
def test_a_span_is_a_rectangle_within_the_picture_or_none(
    one: tuple[float, float], other: tuple[float, float]
) -> None:
    area = marking.spanned(one, other)
    small = min(abs(a - b) for a, b in zip(one, other, strict=True)) < marking.LEAST_SIDE
    assert (area is None) is small
    if area is not None:
        assert (area.left, area.right) == tuple(sorted((one[0], other[0])))


@given(st.floats(-2.0, 2.0), st.floats(-2.0, 2.0))
def test_moving_keeps_the_size_and_stays_in_the_picture(dx: float, dy: float) -> None:
    area = marking.moved(AREA, dx, dy)
    assert area.right - area.left == pytest.approx(0.2)
    assert area.bottom - area.top == pytest.approx(0.1)


@given(st.floats(-2.0, 2.0), st.floats(-2.0, 2.0))
def test_sizing_leaves_the_upper_left_corner_and_something_to_hold(dx: float, dy: float) -> None:
    area = marking.resized(AREA, dx, dy)
    assert (area.left, area.top) == (AREA.left, AREA.top)
    assert area.right - area.left >= marking.LEAST_SIDE * 0.999
    assert area.right <= 1.0
    assert area.bottom <= 1.0


@given(st.tuples(SHARE, SHARE))
def test_a_usual_mark_lies_in_the_picture(centre: tuple[float, float]) -> None:
    area = marking.usual_area(centre)
    assert area.right - area.left == pytest.approx(0.09)


def test_a_new_swatch_takes_the_nearest_ground_and_the_last_paint() -> None:
    made = card(Role.GROUND, Role.WHITE)
    far = marking.moved(AREA, 0.5, 0.0)
    made, other = marking.added(made, Role.GROUND, far, NAMES)
    made, swatch = marking.added(made, Role.PAINTED, marking.moved(AREA, 0.45, 0.2), NAMES)
    assert swatch.ground == other.id
    assert (swatch.paint, swatch.coats) == (1, 1.0)
    made = marking.with_paint(made, CardPaint(id=2, name="blue"))
    made = marking.with_mark(made, replace(swatch, paint=2, coats=3.0))
    _, next_one = marking.added(made, Role.PAINTED, AREA, NAMES)
    assert (next_one.paint, next_one.coats, next_one.ground) == (2, 3.0, 1)


def test_references_serve_as_grounds_where_no_ground_is_marked() -> None:
    made = card(Role.WHITE, Role.BLACK, Role.PAINTED)
    (swatch,) = marking.swatches_of(made, 1)
    assert swatch.ground == "black"
    assert [ground.name for ground in marking.grounds_of(made)] == ["white", "black"]
    assert [r.reflectance for r in marking.references_of(made)] == [0.88, 0.04]


def test_a_film_counts_in_coats_of_the_card() -> None:
    made = card(Role.GROUND, Role.PAINTED)
    made = marking.with_mark(made, replace(made.marks[1], film_um=75.0, stroke=4))
    (swatch,) = marking.swatches_of(made, 1)
    assert (swatch.coats, swatch.stroke) == (2.5, "stroke 4")
    assert marking.swatches_of(made, 2) == []


def test_a_ground_that_goes_leaves_its_swatches_untold() -> None:
    made = marking.without_mark(card(Role.GROUND, Role.PAINTED), 1)
    assert made.marks[0].ground == 0
    with pytest.raises(InputError, match="not told on which ground"):
        marking.swatches_of(made, 1)


def test_more_marks_than_anybody_wants_are_refused() -> None:
    made = Card(
        marks=tuple(replace(card(Role.WHITE).marks[0], id=n) for n in range(400)),
        paints=(CardPaint(id=1, name="red"),),
    )
    with pytest.raises(InputError, match="400 marks already"):
        marking.added(made, Role.GREY, AREA, NAMES)


# Results


@pytest.fixture(scope="module")
def result() -> Result:
    outcome = from_two_colours(seen(red(), BLACK), seen(red(), WHITE))
    look = look_of(small_project())
    return result_of(outcome, look, key="k", name="Reed", kind=PaintKind.TRANSLUCENT)


def test_a_result_shows_films_with_how_surely_they_are_known(result: Result) -> None:
    assert result.xyz.shape == (3, 24, 3)
    assert result.tolerance.shape == (3, 24)
    assert result.tolerance[:, 0] == pytest.approx(0.0), "bare card is known"
    assert result.tolerance[:, 1:].max() > 0.3
    assert [miss.delta_e for miss in result.misses] == sorted(
        (miss.delta_e for miss in result.misses), reverse=True
    )


def test_new_paints_get_ids_that_neither_shelf_nor_project_has(result: Result) -> None:
    taking = Taking(name="Red Glaze", kind=PaintKind.INK)
    shelf, made = shelved(small_paints(), [(result, taking)], ["red-glaze-2"])
    assert made[0].id == "red-glaze-3"
    assert shelf == (*small_paints(), made[0])
    assert (made[0].kind, made[0].basis) == (PaintKind.INK, Basis.TWO_COLOURS)
    twice, two = shelved((), [(result, taking), (result, taking)])
    assert len({paint.id for paint in two}) == 2 == len(twice)


def test_a_paint_that_is_renewed_keeps_what_the_painter_wrote(result: Result) -> None:
    old = replace(small_paints()[3], note="from the market", density_g_per_ml=1.3)
    taking = Taking(name="Red", kind=PaintKind.INK, in_place_of=old.id, stock=old.stock)
    shelf, (made,) = shelved((small_paints()[0], old), [(result, taking)])
    assert shelf[1] is made
    assert (made.id, made.name, made.note) == (old.id, "Red", "from the market")
    assert (made.density_g_per_ml, made.volume_solids) == (1.3, old.volume_solids)
    assert made.absorption == result.paint.absorption
    assert np.array_equal(made.uncertainty.factor(), result.paint.uncertainty.factor())


def test_a_name_is_free_that_differs_from_each_by_more_than_capitals() -> None:
    assert free_name("dark brown", ["Dark Brown", "reed"]) == "dark brown 2"
    assert free_name("dark brown", ["Dark Brown", "DARK brown 2"]) == "dark brown 3"
    assert free_name("dark brown", ["dark brow", "dark browns"]) == "dark brown"
