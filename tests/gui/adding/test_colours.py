"""Paints from two colours and from one, through the window."""

from dataclasses import replace

import numpy as np
import pytest
from PySide6.QtCore import QPoint, Qt
from PySide6.QtGui import QAccessible
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication
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


# The next paint of the same way


def put(qtbot: QtBot, way: TwoColours | OneColour, *codes: str) -> None:
    """Those colours, fitted and put on the shelf as they are."""
    entries = [way.dark, way.light] if isinstance(way, TwoColours) else [way.colour]
    for entry, one_code in zip(entries, codes, strict=True):
        type_colour(entry, one_code)
    fitted(qtbot, way.review)
    QTest.mouseClick(way.review.put, LEFT)


def aim(way: TwoColours | OneColour, paint_id: str) -> None:
    """In place of that paint."""
    target = way.review.target
    at = target.findData(paint_id)
    target.setCurrentIndex(at)
    target.activated.emit(at)


def again(page: PaintsPage, way: Way) -> TwoColours | OneColour:
    """The way gone once more, from the shelf."""
    page.adding.show_ways()
    found = page.adding.view.open(way)
    assert isinstance(found, TwoColours | OneColour)
    return found


def test_the_next_paint_does_not_replace_the_one_just_put(
    qtbot: QtBot, two: TwoColours, bridge: Bridge, page: PaintsPage
) -> None:
    type_colour(two.dark, code(BLACK))
    type_colour(two.light, code(WHITE))
    fitted(qtbot, two.review)
    aim(two, "red-glaze")
    QTest.mouseClick(two.review.put, LEFT)
    renewed = shelf(bridge)[3]
    assert again(page, Way.TWO_COLOURS) is two
    type_colour(two.dark, "#203040")
    type_colour(two.light, "#8090b0")
    fitted(qtbot, two.review)
    assert two.review.target.currentText() == "as a new paint"
    assert two.review.name.text() == two.review.results[0].name != "red glaze"
    QTest.mouseClick(two.review.put, LEFT)
    assert shelf(bridge)[3] == renewed
    assert len(shelf(bridge)) == len(small_paints()) + 1


def test_the_next_paint_has_a_name_of_its_own_and_no_pigment(
    qtbot: QtBot, one: OneColour, bridge: Bridge, page: PaintsPage
) -> None:
    type_colour(one.colour, "#7f4a21")
    fitted(qtbot, one.review)
    one.review.name.clear()
    QTest.keyClicks(one.review.name, "Reed")
    QTest.keyClicks(one.review.pigment, "PBr7")
    one.review.bottle.setValue(24.0)
    QTest.mouseClick(one.review.put, LEFT)
    assert again(page, Way.ONE_COLOUR) is one
    type_colour(one.colour, "#214a7f")
    fitted(qtbot, one.review)
    review = one.review
    assert (review.name.text(), review.pigment.text()) == (review.results[0].name, "")
    assert "blue" in review.name.text()
    QTest.mouseClick(review.put, LEFT)
    assert [paint.colour_index for paint in shelf(bridge)[-2:]] == ["PBr7", ""]
    assert shelf(bridge)[-1].stock.bottle_ml != 24.0


def test_what_was_put_is_not_offered_again(
    qtbot: QtBot, one: OneColour, bridge: Bridge, page: PaintsPage
) -> None:
    put(qtbot, one, "#7f4a21")
    assert again(page, Way.ONE_COLOUR) is one
    assert not one.review.put.isVisible()
    assert one.review.hint.text().startswith("Put on the shelf. What you change above")
    one.review.take()
    assert len(shelf(bridge)) == len(small_paints()) + 1


def test_a_suggested_name_follows_the_colour_and_a_given_one_stays(
    qtbot: QtBot, one: OneColour
) -> None:
    type_colour(one.colour, "#7f4a21")
    fitted(qtbot, one.review)
    assert "brown" in one.review.name.text()
    brown = one.review.results
    type_colour(one.colour, "#214a7f")
    qtbot.waitUntil(lambda: bool(one.review.results) and one.review.results is not brown)
    assert "blue" in one.review.name.text()
    QTest.keyClicks(one.review.name, "!")
    given, blue = one.review.name.text(), one.review.results
    type_colour(one.colour, "#7f4a21")
    qtbot.waitUntil(lambda: bool(one.review.results) and one.review.results is not blue)
    assert one.review.name.text() == given


def test_no_longer_in_place_of_a_paint_it_has_its_own_name_again(
    qtbot: QtBot, one: OneColour
) -> None:
    type_colour(one.colour, "#7f4a21")
    fitted(qtbot, one.review)
    own = one.review.name.text()
    aim(one, "red-glaze")
    assert one.review.name.text() == "red glaze"
    aim(one, "")
    assert (one.review.name.text(), one.review.pigment.text()) == (own, "")


def test_a_name_that_the_shelf_has_is_told_and_a_free_one_suggested(
    qtbot: QtBot, one: OneColour, bridge: Bridge, page: PaintsPage
) -> None:
    put(qtbot, one, "#7f4a21")
    first = shelf(bridge)[-1].name
    again(page, Way.ONE_COLOUR)
    type_colour(one.colour, "#7f4a22")
    fitted(qtbot, one.review)
    assert one.review.name.text() == f"{first} 2"
    assert not one.review.twin.isVisible()
    QApplication.processEvents()
    place = one.review.name.mapTo(one.review, QPoint(0, 0))
    one.review.name.clear()
    QTest.keyClicks(one.review.name, "Red Glaze")
    assert one.review.twin.isVisible()
    QApplication.processEvents()
    assert one.review.name.mapTo(one.review, QPoint(0, 0)) == place, "it does not jump"
    assert one.review.twin.text() == (
        '!  The shelf has a paint named "Red Glaze" already; both will stand there.'
    )
    assert one.review.name.accessibleDescription() in one.review.twin.text()
    aim(one, "red-glaze")
    assert not one.review.twin.isVisible(), "only one will stand there"
    assert one.review.name.accessibleDescription() == ""
    aim(one, "")
    one.review.name.clear()
    QTest.keyClicks(one.review.name, "red glaze")
    QTest.mouseClick(one.review.put, LEFT)
    assert [paint.name for paint in shelf(bridge)].count("red glaze") == 2


# In place of another


def test_a_kind_that_was_not_told_stays_that_of_the_paint_replaced(
    qtbot: QtBot, two: TwoColours, bridge: Bridge
) -> None:
    primer = next(paint for paint in small_paints() if paint.kind is PaintKind.PRIMER)
    type_colour(two.dark, code(BLACK))
    type_colour(two.light, code(WHITE))
    fitted(qtbot, two.review)
    assert two.review.basis.text().startswith("translucent,")
    aim(two, primer.id)
    assert two.review.basis.text().startswith("primer,")
    assert "a kind that is told counts" in two.review.target.toolTip()
    with qtbot.waitSignal(bridge.told) as said:
        QTest.mouseClick(two.review.put, LEFT)
    assert said.args == [f'"{primer.name}" replaced; undo brings the earlier one back.']
    (renewed,) = (paint for paint in shelf(bridge) if paint.id == primer.id)
    assert renewed.kind is PaintKind.PRIMER
    assert renewed.basis is Basis.TWO_COLOURS
    bridge.session.undo()
    assert shelf(bridge) == small_paints()


def test_a_kind_that_was_told_counts(qtbot: QtBot, two: TwoColours, bridge: Bridge) -> None:
    primer = next(paint for paint in small_paints() if paint.kind is PaintKind.PRIMER)
    two.kind.pick(PaintKind.INK)
    type_colour(two.dark, code(BLACK))
    type_colour(two.light, code(WHITE))
    fitted(qtbot, two.review)
    aim(two, primer.id)
    QTest.mouseClick(two.review.put, LEFT)
    (renewed,) = (paint for paint in shelf(bridge) if paint.id == primer.id)
    assert renewed.kind is PaintKind.INK
