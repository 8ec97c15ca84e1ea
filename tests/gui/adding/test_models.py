"""Painted test models, through the window: judged, kept, taken over, removed, and undone."""

from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest
from PySide6.QtCore import QPoint, Qt
from PySide6.QtTest import QTest
from pytestqt.qtbot import QtBot

from schemeforge.calibration import Area
from schemeforge.calibration.test_model import MOST_FACTOR
from schemeforge.desk import Page, Surround
from schemeforge.gui.adding.card import Role, with_mark
from schemeforge.gui.adding.model_view import ModelView
from schemeforge.gui.adding.ramps import strength_words
from schemeforge.gui.adding.view import AddingView
from schemeforge.gui.adding.ways import Way
from schemeforge.gui.bridge import Bridge
from schemeforge.gui.coats.page import CoatsPage
from schemeforge.gui.main_window import MainWindow
from schemeforge.gui.paints.page import PaintsPage
from schemeforge.scheme import Coat, Project, edits
from schemeforge.scheme.project_file import load
from tests.builders import judged_model, small_project
from tests.gui.adding import painted_model as drawn
from tests.gui.adding.driving import focus, gone, quiet
from tests.gui.adding.painted_card import inside

LEFT = Qt.MouseButton.LeftButton


@pytest.fixture
def way(view: AddingView, bridge: Bridge) -> ModelView:
    bridge.session.select(zone_id="cloak")
    return gone(view, Way.TEST_MODEL, ModelView)


@pytest.fixture
def picture(tmp_path: Path) -> Path:
    """The cloak, its wash half as heavy again and its red lighter."""
    hand = {"wash": 1.5, "red": 0.7}
    return drawn.photograph(tmp_path / "model.png", small_project(), "first", "cloak", hand)


def read(qtbot: QtBot, way: ModelView, path: Path) -> None:
    way.bench.read(path)
    qtbot.waitUntil(way.bench.waiting.isHidden, timeout=20_000)


def mark_references(way: ModelView) -> None:
    for role, (ground, area) in zip(
        (Role.WHITE, Role.GREY, Role.BLACK), drawn.REFERENCES, strict=True
    ):
        made = way.bench.add(role, inside(area))
        assert made is not None
        way.bench.set_card(with_mark(way.bench.card, replace(made, reflectance=ground[0])))


def judged(qtbot: QtBot, way: ModelView, path: Path) -> None:
    read(qtbot, way, path)
    mark_references(way)
    quiet(qtbot, way.bridge)
    way.line.draw(drawn.LINE)
    qtbot.waitUntil(lambda: way.found is not None and way.waiting.isHidden(), timeout=30_000)


def films(project: Project) -> dict[str, float]:
    steps = project.scheme("first").steps
    return {step.id: step.layer.wet_um for step in steps if isinstance(step.layer, Coat)}


def test_the_measured_ramp_lies_beside_the_planned_one_and_tells_the_hand(
    qtbot: QtBot, way: ModelView, picture: Path, bridge: Bridge
) -> None:
    judged(qtbot, way, picture)
    found = way.found
    assert found is not None
    factors = {coat.step_id: coat.factor for coat in found.coats}
    assert factors["wash"] == pytest.approx(1.5, rel=0.15)
    assert factors["red"] == pytest.approx(0.7, rel=0.15)
    assert found.difference_after < 1.0 < found.difference_before
    assert way.strengths.lines[0].startswith("wash: 1.5 times as heavy as planned")
    assert "lighter than planned" in way.strengths.lines[1]
    measured, planned, followed = (strip.xyz for strip in way.ramps.strips)
    assert np.abs(followed - measured).mean() < np.abs(planned - measured).mean() / 3
    assert bridge.state.project == small_project(), "looking changes nothing"


def test_kept_as_evidence_taken_over_on_request_and_all_of_it_undone(
    qtbot: QtBot, way: ModelView, picture: Path, bridge: Bridge, tmp_path: Path
) -> None:
    judged(qtbot, way, picture)
    way.name.clear()
    QTest.keyClicks(way.name, "Sunday's cloak")
    QTest.mouseClick(way.keep, LEFT)
    (kept,) = bridge.state.project.evidence
    assert (kept.name, kept.zone_id, kept.scheme_id) == ("Sunday's cloak", "cloak", "first")
    assert films(bridge.state.project) == films(small_project())
    (card,) = way.evidence.cards
    assert card.title.text() == "Sunday's cloak"
    assert "still plans it as before" in card.coats.text()
    bridge.session.save(tmp_path / "kept.schemeforge")
    assert load(tmp_path / "kept.schemeforge").evidence == (kept,)
    quiet(qtbot, bridge)
    QTest.mouseClick(card.use, LEFT)
    now = films(bridge.state.project)
    assert now["wash"] == pytest.approx(kept.strengths[0].film_um)
    assert now["red"] == pytest.approx(kept.strengths[1].film_um)
    assert "the scheme has it so now" in way.evidence.cards[0].coats.text()
    assert not way.evidence.cards[0].use.isEnabled()
    bridge.session.undo()
    assert films(bridge.state.project) == films(small_project())
    bridge.session.undo()
    assert bridge.state.project == small_project()
    assert way.evidence.cards == []
    assert way.evidence.none.isVisible()


def test_one_coat_alone_can_be_taken_over(way: ModelView, bridge: Bridge) -> None:
    bridge.edit("keep", lambda p: edits.add_evidence(p, judged_model(wash=1.5, red=0.7)))
    (card,) = way.evidence.cards
    card.which.pick("red")
    card.use.click()
    before = films(small_project())
    assert films(bridge.state.project) == before | {"red": pytest.approx(0.7 * before["red"])}
    assert "the scheme has it so now" in card.coats.text()
    assert "still plans it as before" in card.coats.text()


def test_evidence_is_listed_looked_at_again_and_removed(way: ModelView, bridge: Bridge) -> None:
    bridge.edit("keep", lambda p: edits.add_evidence(p, judged_model(wash=1.5)))
    (card,) = way.evidence.cards
    assert "cloak  ·  first scheme  ·  rank and file  ·  2031-03-01 19:30" in card.about.text()
    card.look.click()
    assert way.ramps.isVisible()
    assert way.hint.text() == '"first test model", as it is kept with the project:'
    assert way.strengths.lines == ["wash: 1.5 times as heavy as planned (1.3 to 1.8)"]
    assert not way.keep.isVisible()
    card.remove.click()
    assert bridge.state.project.evidence == ()
    bridge.session.undo()
    assert len(way.evidence.cards) == 1


def test_evidence_of_a_coat_that_has_gone_says_so(way: ModelView, bridge: Bridge) -> None:
    bridge.edit("keep", lambda p: edits.add_evidence(p, judged_model(wash=1.5)))
    bridge.edit("thicker", lambda p: edits.set_coat(p, "first", "wash", wet_um=90.0))
    assert "the scheme has another film now" in way.evidence.cards[0].coats.text()
    bridge.edit("away", lambda p: edits.remove_step(p, "first", "wash"))
    assert "no longer in the scheme" in way.evidence.cards[0].coats.text()
    assert not way.evidence.cards[0].use.isEnabled()


def test_what_changed_on_another_page_is_shown_on_coming_back(
    way: ModelView, bridge: Bridge, page: PaintsPage
) -> None:
    bridge.session.select(page=Page.COATS)
    bridge.edit("keep", lambda p: edits.add_evidence(p, judged_model(wash=1.5)))
    bridge.edit("zone", lambda p: edits.update_zone(p, replace(p.zones[1], name="long cloak")))
    bridge.session.prefer(surround=Surround.DARK)
    bridge.session.select(page=Page.PAINTS)
    assert page.adding.view.way is Way.TEST_MODEL
    assert len(way.evidence.cards) == 1
    assert way.zone.currentText() == "long cloak"


def test_the_undercoat_is_judged_only_on_request(
    qtbot: QtBot, way: ModelView, bridge: Bridge, tmp_path: Path
) -> None:
    path = drawn.photograph(
        tmp_path / "model.png", small_project(), "first", "cloak", {"spray": 0.7}
    )
    judged(qtbot, way, path)
    assert way.found is not None
    assert [coat.step_id for coat in way.found.coats] == ["wash", "red"]
    way.undercoat.click()
    qtbot.waitUntil(lambda: way.found is not None and len(way.found.coats) == 3, timeout=30_000)
    factors = {coat.step_id: coat.factor for coat in way.found.coats}
    assert factors["spray"] == pytest.approx(0.7, rel=0.15)
    assert bridge.state.project == small_project()


def test_a_line_is_drawn_and_moved_by_keys_alone(
    qtbot: QtBot, way: ModelView, picture: Path
) -> None:
    read(qtbot, way, picture)
    assert focus() is way.bench.board
    qtbot.keyClick(focus(), Qt.Key.Key_L)
    assert focus() is way.line.recess
    start = way.line.recess.place
    qtbot.keyClick(focus(), Qt.Key.Key_Left)
    assert way.line.recess.place[0] == pytest.approx(start[0] - 0.01)
    qtbot.keyClick(focus(), Qt.Key.Key_Up, Qt.KeyboardModifier.ControlModifier)
    assert way.line.recess.place[1] == pytest.approx(start[1] - 0.001)
    qtbot.keyClick(focus(), Qt.Key.Key_Tab)
    assert focus() is way.line.raised
    qtbot.keyClick(focus(), Qt.Key.Key_Escape)
    assert focus() is way.bench.board
    qtbot.waitUntil(lambda: way.found is not None, timeout=30_000)
    assert "No white, grey or black area is marked" in way.hint.text()


def test_a_zone_without_coats_is_told_in_a_sentence(
    qtbot: QtBot, way: ModelView, picture: Path, bridge: Bridge
) -> None:
    judged(qtbot, way, picture)
    way.zone.pick("base")
    way.zone.activated.emit(way.zone.currentIndex())
    qtbot.waitUntil(way.refusal.isVisible, timeout=30_000)
    assert way.refusal.text() == (
        "The zone has no coat whose strength could be fitted; choose another zone."
    )
    assert way.found is None
    assert not way.keep.isVisible()
    way.keep_found()
    assert bridge.state.project.evidence == ()


def test_a_line_without_length_and_a_clipped_reference_are_told(
    qtbot: QtBot, way: ModelView, picture: Path
) -> None:
    read(qtbot, way, picture)
    way.line.draw(((0.5, 0.5), (0.5, 0.5)))
    qtbot.waitUntil(way.refusal.isVisible, timeout=30_000)
    assert "The line has no length" in way.refusal.text()
    way.line.draw(drawn.LINE)
    qtbot.waitUntil(lambda: way.found is not None, timeout=30_000)
    assert not way.refusal.isVisible()
    way.bench.add(Role.WHITE, Area(left=0.82, top=0.82, right=0.93, bottom=0.93))
    way.bench.add(Role.BLACK, Area(left=0.07, top=0.82, right=0.18, bottom=0.93))
    qtbot.waitUntil(way.refusal.isVisible, timeout=30_000)
    assert "is no lighter in the picture" in way.refusal.text()


def test_the_coats_page_leads_there(window: MainWindow, bridge: Bridge, page: PaintsPage) -> None:
    bridge.session.select(page=Page.COATS, zone_id="cloak")
    coats = window.page(Page.COATS)
    assert isinstance(coats, CoatsPage)
    QTest.mouseClick(coats.judge, LEFT)
    assert bridge.state.selection.page is Page.PAINTS
    assert page.adding.view.way is Way.TEST_MODEL
    way = page.adding.view.open(Way.TEST_MODEL)
    assert isinstance(way, ModelView)
    assert way.zone.value == "cloak"


def test_a_strength_is_told_with_what_is_taken_over_and_where_it_stopped() -> None:
    said = strength_words
    assert said("hem", 1.17, 0.36) == (
        "hem: about as planned, as far as can be told: 1.2 times (0.65 to 2.1)"
    )
    assert said("wash", 1.5, 0.1) == "wash: 1.5 times as heavy as planned (1.3 to 1.8)"
    assert said("wash", 0.5, 0.1) == "wash: lighter than planned, 0.5 of it (0.42 to 0.59)"
    assert said("wash", MOST_FACTOR, 0.05) == "wash: 4.5 times as heavy as planned, or more"
    assert said("wash", 1 / MOST_FACTOR, 0.05) == "wash: lighter than planned, 0.22 of it, or less"


def test_from_ramps_that_are_kept_the_same_button_goes_back_to_what_was_found(
    qtbot: QtBot, way: ModelView, picture: Path, bridge: Bridge
) -> None:
    bridge.edit("keep", lambda p: edits.add_evidence(p, judged_model(wash=3.0)))
    judged(qtbot, way, picture)
    found = list(way.strengths.lines)
    (card,) = way.evidence.cards
    assert card.look.text() == "Show its ramps"
    QTest.mouseClick(card.look, LEFT)
    assert way.strengths.lines != found
    assert card.look.text() == "Back to what was found last"
    bridge.session.prefer(numbers=True)
    assert way.strengths.lines != found, "numbers do not take the ramps away"
    QTest.mouseClick(card.look, LEFT)
    assert way.strengths.lines == found
    assert way.keep.isVisible()
    assert card.look.text() == "Show its ramps"


def test_back_from_ramps_that_are_kept_where_nothing_was_found(
    way: ModelView, bridge: Bridge
) -> None:
    bridge.edit("keep", lambda p: edits.add_evidence(p, judged_model(wash=1.5)))
    way.evidence.cards[0].look.click()
    assert way.result.isVisible()
    way.evidence.cards[0].look.click()
    assert not way.result.isVisible()
    way.evidence.cards[0].look.click()
    way.evidence.cards[0].remove.click()
    assert not way.result.isVisible(), "what was removed is no longer shown"
    bridge.session.undo()
    assert way.evidence.cards[0].look.text() == "Show its ramps"


def test_a_refusal_stands_again_on_coming_back_from_ramps_that_are_kept(
    qtbot: QtBot, way: ModelView, picture: Path, bridge: Bridge
) -> None:
    bridge.edit("keep", lambda p: edits.add_evidence(p, judged_model(wash=1.5)))
    read(qtbot, way, picture)
    way.line.draw(((0.5, 0.5), (0.5, 0.5)))
    qtbot.waitUntil(way.refusal.isVisible, timeout=30_000)
    way.evidence.cards[0].look.click()
    assert not way.refusal.isVisible()
    way.evidence.cards[0].look.click()
    qtbot.waitUntil(way.refusal.isVisible, timeout=30_000)
    assert "The line has no length" in way.refusal.text()


@pytest.mark.parametrize("height", [720, 900])
def test_the_picture_takes_its_share_of_the_height(
    qtbot: QtBot, way: ModelView, picture: Path, bridge: Bridge, height: int
) -> None:
    bridge.edit("keep", lambda p: edits.add_evidence(p, judged_model(wash=1.5)))
    judged(qtbot, way, picture)
    way.window().resize(1440, height)
    least = {720: 290, 900: 380}[height]
    qtbot.waitUntil(lambda: way.bench.board.height() >= least, timeout=10_000)


def test_the_first_ramps_come_into_view(qtbot: QtBot, way: ModelView, picture: Path) -> None:
    way.window().resize(1024, 640)
    judged(qtbot, way, picture)

    def seen() -> bool:
        strip, view = way.ramps.strips[0], way.area.viewport()
        top = strip.mapTo(view, QPoint(0, 0)).y()
        return strip.isVisible() and 0 <= top <= view.height() - strip.height()

    qtbot.waitUntil(seen, timeout=5_000)
