"""Paints from two colours and from one, through the window."""

from dataclasses import replace

import numpy as np
import pytest
from PySide6.QtCore import Qt
from PySide6.QtGui import QAccessible
from PySide6.QtTest import QTest
from pytestqt.qtbot import QtBot

from schemeforge import colorimetry
from schemeforge.calibration import BLACK, WHITE
from schemeforge.desk import Places
from schemeforge.gui.adding.colours_view import OneColour, TwoColours
from schemeforge.gui.adding.view import AddingView
from schemeforge.gui.adding.ways import Way
from schemeforge.gui.bridge import Bridge
from schemeforge.gui.paints.page import PaintsPage
from schemeforge.paint import Basis, PaintKind
from schemeforge.scheme import Finish, edits
from schemeforge.shelf import ShelfStore
from tests.builders import small_paints
from tests.calibration.swatches import FILM_UM, errors, linear, red, reflectance
from tests.gui.adding.driving import fitted, gone, hinted, shelf, type_colour

LEFT = Qt.MouseButton.LeftButton


def code(ground: tuple[float, ...]) -> str:
    """The red over that ground as a painter would type it."""
    xyz = colorimetry.xyz_from_linear_rgb(np.array([linear(reflectance(red(), FILM_UM, ground))]))
    return colorimetry.hex_codes(xyz)[0]


@pytest.fixture
def two(view: AddingView) -> TwoColours:
    return gone(view, Way.TWO_COLOURS, TwoColours)


@pytest.fixture
def one(view: AddingView) -> OneColour:
    return gone(view, Way.ONE_COLOUR, OneColour)


def test_two_colours_become_a_paint_on_the_shelf(
    qtbot: QtBot, two: TwoColours, bridge: Bridge, places: Places, page: PaintsPage
) -> None:
    type_colour(two.dark, code(BLACK))
    type_colour(two.light, code(WHITE))
    fitted(qtbot, two.review)
    (result,) = two.review.results
    assert np.median(errors(result.outcome, red())) < 0.5
    assert shelf(bridge) == small_paints(), "nothing is shelved before it is asked for"
    two.review.name.clear()
    QTest.keyClicks(two.review.name, "Reed Red")
    QTest.mouseClick(two.review.put, LEFT)
    added = shelf(bridge)[-1]
    assert shelf(bridge)[:-1] == small_paints()
    assert (added.id, added.name, added.basis) == ("reed-red", "Reed Red", Basis.TWO_COLOURS)
    assert added.uncertainty == result.outcome.uncertainty()
    assert ShelfStore(places.shelf_file).load()[-1] == added
    assert page.adding.currentWidget() is page.shelf
    assert bridge.state.selection.paint_id == "reed-red"
    card = page.grid.card("reed-red")
    assert card is not None
    assert "from its colour over black and over white" in card.accessibleDescription()
    bridge.session.undo()
    assert shelf(bridge) == small_paints()


def test_the_review_says_what_it_is_and_how_sure(qtbot: QtBot, two: TwoColours) -> None:
    type_colour(two.dark, code(BLACK))
    type_colour(two.light, code(WHITE))
    fitted(qtbot, two.review)
    review = two.review
    assert "from its colour over black and over white" in review.basis.text()
    assert [said.text().split(":")[0] for said in review.said] == [
        "One coat over black",
        "One coat over grey",
        "One coat over off-white",
    ]
    assert all("sure" in said.text() for said in review.said)
    assert set(review.fit.lines) == {
        "over dark: met, the difference stays unseen",
        "over light: met, the difference stays unseen",
    }
    two.bridge.session.prefer(numbers=True)
    assert all("dE" in said.text() for said in review.said)
    assert all(line.endswith("dE)") for line in review.fit.lines)


def test_an_opaque_pair_is_told_to_be_painted_thinner(
    qtbot: QtBot, two: TwoColours, bridge: Bridge
) -> None:
    type_colour(two.dark, "#884422")
    type_colour(two.light, "#884422")
    hinted(qtbot, two.review, "paint a thinner swatch")
    assert two.review.hint.property("role") == "caution"
    assert not two.review.put.isVisible()
    two.review.take()
    assert shelf(bridge) == small_paints()


@pytest.mark.parametrize(
    ("dark", "light", "words"),
    [
        ("#a8603c", "#4f3b36", "The colour over the dark ground is the lighter one"),
        ("#a8603", "#4f3b36", '"#a8603" is not a colour; write six digits'),
        ("", "#4f3b36", "Give both colours"),
    ],
)
def test_what_cannot_be_is_told_where_the_paint_would_be(
    qtbot: QtBot, two: TwoColours, bridge: Bridge, dark: str, light: str, words: str
) -> None:
    type_colour(two.dark, dark)
    type_colour(two.light, light)
    hinted(qtbot, two.review, words)
    assert shelf(bridge) == small_paints()


def test_colours_that_no_film_gives_are_flagged_not_clipped(qtbot: QtBot, two: TwoColours) -> None:
    type_colour(two.dark, "#b01010")
    type_colour(two.light, "#10f0a0")
    fitted(qtbot, two.review)
    assert "No film gives the colour" in two.review.findings.text()
    assert two.review.findings.isVisible()
    before = two.review.results
    type_colour(two.dark, "#281000")
    type_colour(two.light, "#ff7000")
    qtbot.waitUntil(lambda: bool(two.review.results) and two.review.results is not before)
    assert "stands at the end of the scale in blue" in two.review.findings.text()


def test_a_better_pair_replaces_a_refusal(qtbot: QtBot, two: TwoColours) -> None:
    type_colour(two.dark, "#884422")
    type_colour(two.light, "#884422")
    hinted(qtbot, two.review, "paint a thinner swatch")
    type_colour(two.dark, code(BLACK))
    fitted(qtbot, two.review)
    assert not two.review.hint.isVisible()


def test_own_grounds_are_asked_for_and_used(qtbot: QtBot, two: TwoColours) -> None:
    type_colour(two.dark, code(BLACK))
    type_colour(two.light, code(WHITE))
    fitted(qtbot, two.review)
    before = two.review.results[0].outcome
    choice = two.light_ground.choice
    choice.setCurrentIndex(choice.count() - 1)
    choice.activated.emit(choice.currentIndex())
    assert two.light_ground.own.isVisible()
    hinted(qtbot, two.review, "Give both colours")
    type_colour(two.light_ground.own, "#f4e9d0")
    fitted(qtbot, two.review)
    ground = two.review.results[0].outcome.patches[1].ground
    assert ground[5] < 0.85 < ground[25]
    assert before.patches[1].ground != ground


def test_one_colour_a_kind_and_an_answer(qtbot: QtBot, one: OneColour, bridge: Bridge) -> None:
    type_colour(one.colour, "#7f4a21")
    fitted(qtbot, one.review)
    untold = one.review.results[0]
    assert untold.paint.basis is Basis.ONE_COLOUR
    qtbot.mouseClick(one.answers["MANY"], LEFT)
    qtbot.waitUntil(lambda: bool(one.review.results) and one.review.results[0] is not untold)
    many = one.review.results[0]
    one.answers["ONE"].click()
    qtbot.waitUntil(lambda: bool(one.review.results) and one.review.results[0] is not many)
    covers = one.review.results[0]
    assert covers.outcome.fit.scattering.mean() > 2 * many.outcome.fit.scattering.mean()
    QTest.mouseClick(one.review.put, LEFT)
    assert shelf(bridge)[-1].kind is PaintKind.OPAQUE
    assert shelf(bridge)[-1].uncertainty == covers.outcome.uncertainty()


def test_a_paint_of_the_shelf_gets_better_data_and_keeps_its_place(
    qtbot: QtBot, two: TwoColours, bridge: Bridge
) -> None:
    type_colour(two.dark, code(BLACK))
    type_colour(two.light, code(WHITE))
    fitted(qtbot, two.review)
    target = two.review.target
    at = target.findData("red-glaze")
    target.setCurrentIndex(at)
    target.activated.emit(at)
    assert two.review.name.text() == "red glaze"
    QTest.mouseClick(two.review.put, LEFT)
    assert [paint.id for paint in shelf(bridge)] == [paint.id for paint in small_paints()]
    old, new = small_paints()[3], shelf(bridge)[3]
    assert new.basis is Basis.TWO_COLOURS
    assert new.absorption != old.absorption
    assert (new.stock, new.volume_solids, new.name) == (old.stock, old.volume_solids, old.name)


def test_a_name_that_cannot_be_is_refused_and_nothing_changes(
    qtbot: QtBot, two: TwoColours, bridge: Bridge
) -> None:
    type_colour(two.dark, code(BLACK))
    type_colour(two.light, code(WHITE))
    fitted(qtbot, two.review)
    two.review.name.clear()
    QTest.keyClicks(two.review.name, " ")
    with qtbot.waitSignal(bridge.problem) as told:
        QTest.mouseClick(two.review.put, LEFT)
    assert told.args == ["Paint has no name; give it one."]
    assert shelf(bridge) == small_paints()
    assert two.review.results


def test_stock_and_pigment_go_with_the_paint(qtbot: QtBot, two: TwoColours, bridge: Bridge) -> None:
    type_colour(two.dark, code(BLACK))
    type_colour(two.light, code(WHITE))
    fitted(qtbot, two.review)
    two.review.bottle.setValue(24.0)
    two.review.left.setValue(6.5)
    QTest.keyClicks(two.review.pigment, "PR122")
    QTest.mouseClick(two.review.put, LEFT)
    added = shelf(bridge)[-1]
    assert (added.stock.bottle_ml, added.stock.left_ml) == (24.0, 6.5)
    assert added.colour_index == "PR122"


def test_another_finish_of_the_project_shows_the_paint_otherwise(
    qtbot: QtBot, two: TwoColours, bridge: Bridge
) -> None:
    type_colour(two.dark, code(BLACK))
    type_colour(two.light, code(WHITE))
    fitted(qtbot, two.review)
    before = two.review.results[0]
    viewing = replace(bridge.state.project.viewing, finish=Finish.GLOSS)
    bridge.edit("finish", lambda project: edits.set_viewing(project, viewing))
    qtbot.waitUntil(lambda: two.review.results[0] is not before)
    after = two.review.results[0]
    assert after.xyz[0, -1, 1] < before.xyz[0, -1, 1]
    assert after.paint.absorption == before.paint.absorption


def test_escape_goes_back_step_by_step(
    qtbot: QtBot, two: TwoColours, view: AddingView, page: PaintsPage
) -> None:
    qtbot.keyClick(two.dark.code, Qt.Key.Key_Escape)
    assert view.way is None
    assert view.ways.buttons[Way.TWO_COLOURS].hasFocus()
    qtbot.keyClick(view.ways.buttons[Way.TWO_COLOURS], Qt.Key.Key_Escape)
    assert page.adding.currentWidget() is page.shelf
    assert page.add_paints.hasFocus()


def test_the_colour_of_a_code_is_spoken(two: TwoColours) -> None:
    type_colour(two.dark, "#7f1010")
    spoken = QAccessible.queryAccessibleInterface(two.dark.code)
    assert spoken.text(QAccessible.Text.Name) == "Over the dark ground"
    assert "red" in spoken.text(QAccessible.Text.Description)
    type_colour(two.dark, "#7f")
    assert two.dark.code.accessibleDescription() == "no colour yet"
