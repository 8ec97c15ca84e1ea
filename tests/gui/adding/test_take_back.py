"""A hand that slipped on a photograph: marks and line go back, the project does not."""

from dataclasses import replace
from itertools import pairwise
from pathlib import Path

import pytest
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication
from pytestqt.qtbot import QtBot

from schemeforge.calibration import Area
from schemeforge.gui.adding.board import Board
from schemeforge.gui.adding.card import Card, CardPaint, Mark, Role, moved, with_mark
from schemeforge.gui.adding.card_history import CardHistory, changed_thing
from schemeforge.gui.adding.model_view import ModelView
from schemeforge.gui.adding.photo_view import PhotoView
from schemeforge.gui.adding.picture_bench import PictureBench
from schemeforge.gui.adding.view import AddingView
from schemeforge.gui.adding.ways import Way
from schemeforge.gui.bridge import Bridge
from schemeforge.scheme import Finish, edits
from tests.builders import small_project
from tests.calibration.swatches import red
from tests.gui.adding import painted_model
from tests.gui.adding.driving import focus, gone
from tests.gui.adding.painted_card import photograph

LEFT, CTRL, SHIFT = (
    Qt.MouseButton.LeftButton,
    Qt.KeyboardModifier.ControlModifier,
    Qt.KeyboardModifier.ShiftModifier,
)
HERE = Area(left=0.4, top=0.4, right=0.5, bottom=0.5)
ONE = Mark(id=1, role=Role.WHITE, area=HERE, name="one")
TWO = Mark(id=2, role=Role.GREY, area=HERE, name="two")
CARD = Card(marks=(ONE, TWO), paints=(CardPaint(id=1, name="red"), CardPaint(id=2, name="blue")))


def undo(widget: object) -> None:
    QTest.keyClick(widget, Qt.Key.Key_Z, CTRL)  # type: ignore[call-overload]


def redo(widget: object) -> None:
    QTest.keyClick(widget, Qt.Key.Key_Z, CTRL | SHIFT)  # type: ignore[call-overload]


def read(qtbot: QtBot, bench: PictureBench, path: Path) -> None:
    bench.read(path)
    qtbot.waitUntil(bench.waiting.isHidden, timeout=20_000)


@pytest.fixture
def way(qtbot: QtBot, view: AddingView, tmp_path: Path) -> PhotoView:
    made = gone(view, Way.PHOTOGRAPH, PhotoView)
    read(qtbot, made.bench, photograph(tmp_path / "card.png", [(red(), 1.0)]))
    return made


def test_what_changed_is_told_apart() -> None:
    further = replace(ONE, area=moved(HERE, 0.1, 0.0))
    blue = replace(CARD.paints[1], name="mire")
    line = ((0.1, 0.1), (0.2, 0.2))
    lined = replace(CARD, line=line)
    assert changed_thing(CARD, with_mark(CARD, further)) == ("area", 1)
    assert changed_thing(CARD, with_mark(CARD, replace(TWO, name="2"))) == ("mark", 2)
    assert changed_thing(CARD, with_mark(CARD, replace(further, name="2"))) == ("mark", 1)
    assert changed_thing(CARD, replace(CARD, film_um=50.0)) == ("film", 0)
    assert changed_thing(CARD, replace(CARD, paints=(CARD.paints[0], blue))) == ("paint", 2)
    assert changed_thing(lined, replace(CARD, line=(line[0], (0.3, 0.3)))) == ("line", 0)
    for other in (
        lined,
        replace(CARD, marks=CARD.marks[:1]),
        replace(CARD, finish=Finish.GLOSS),
        replace(CARD, marks=(further, replace(TWO, name="2"))),
        replace(CARD, film_um=50.0, marks=(further, TWO)),
    ):
        assert changed_thing(CARD, other) is None


def test_changes_of_one_thing_that_follow_at_once_are_one_step() -> None:
    history = CardHistory()
    cards = [CARD] + [with_mark(CARD, replace(ONE, area=moved(HERE, n / 50, 0))) for n in (1, 2, 3)]
    for at, (old, new) in zip((0.0, 0.5, 3.0), pairwise(cards), strict=True):
        history.record(old, new, at)
    assert history.back(cards[3]) is cards[2]
    assert history.back(cards[2]) is CARD
    assert history.back(CARD) is None
    assert not history.can_go_back
    assert history.on(CARD) is cards[2]
    assert history.on(cards[2]) is cards[3]
    assert history.on(cards[3]) is None
    # Right after going back a change is a step of its own, and nothing lies ahead any more.
    assert history.back(cards[3]) is cards[2]
    history.record(cards[2], cards[1], 3.1)
    assert not history.can_go_on
    assert history.back(cards[1]) is cards[2]


def test_marks_made_moved_and_removed_are_taken_back_and_done_again(
    way: PhotoView, bridge: Bridge
) -> None:
    bridge.edit("rename", lambda project: edits.rename_project(project, "kept"))
    bench = way.bench
    assert not bench.back.isEnabled()
    QTest.keyClick(focus(), Qt.Key.Key_W)
    made = bench.card
    QTest.keyClick(focus(), Qt.Key.Key_Right)
    QTest.keyClick(focus(), Qt.Key.Key_Right)
    there = bench.card
    QTest.keyClick(focus(), Qt.Key.Key_Delete)
    assert bench.card.marks == ()
    undo(focus())
    assert bench.card == there
    assert bench.boxes[1].mark == there.marks[0]
    bench.boxes[1].setFocus()
    undo(focus())
    assert bench.card == made
    assert focus() is bench.boxes[1]
    undo(focus())
    assert bench.card.marks == ()
    assert isinstance(QApplication.focusWidget(), Board)
    undo(focus())  # nothing is left to take back here, and the project is not touched
    assert bridge.state.project.name == "kept"
    assert bridge.state.undo_label == "rename"
    redo(focus())
    redo(focus())
    assert bench.card == there
    assert bench.again.isEnabled()
    QTest.mouseClick(bench.again, LEFT)
    assert bench.card.marks == ()
    assert not bench.again.isEnabled()
    QTest.mouseClick(bench.back, LEFT)
    assert bench.card == there


def test_what_is_told_beside_the_picture_goes_back_too(way: PhotoView) -> None:
    QTest.keyClick(focus(), Qt.Key.Key_W)
    way.film.setValue(45.0)
    assert way.bench.card.film_um == 45.0
    undo(way.fit)
    assert way.bench.card.film_um == 30.0
    assert way.film.value() == 30.0
    redo(way.fit)
    assert way.film.value() == 45.0


def test_a_line_goes_back_but_what_the_project_keeps_is_undone_beside_the_picture(
    qtbot: QtBot, view: AddingView, bridge: Bridge, tmp_path: Path
) -> None:
    bridge.session.select(zone_id="cloak")
    way = gone(view, Way.TEST_MODEL, ModelView)
    path = painted_model.photograph(
        tmp_path / "model.png", small_project(), "first", "cloak", {"wash": 1.5}
    )
    read(qtbot, way.bench, path)
    way.line.draw(painted_model.LINE)
    QTest.keyClick(way.line.raised, Qt.Key.Key_Right)
    assert way.line.line != painted_model.LINE
    undo(way.line.raised)
    assert way.line.line == painted_model.LINE
    undo(way.bench.board)
    assert way.line.line is None
    redo(way.bench.board)
    assert way.line.line == painted_model.LINE
    bridge.edit("rename", lambda project: edits.rename_project(project, "other"))
    undo(way.name)
    undo(way.undercoat)
    assert bridge.state.project.name == small_project().name
    assert way.line.line == painted_model.LINE
