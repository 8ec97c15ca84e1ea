"""What hands do on photographs beside marking them: wheel, pan, buttons, stops."""

from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest
from PySide6.QtCore import QPoint, QPointF, Qt
from PySide6.QtGui import QColor, QWheelEvent
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication, QColorDialog
from pytestqt.qtbot import QtBot

from schemeforge.appearance import look_of
from schemeforge.gui.adding.camera_words import camera_words
from schemeforge.gui.adding.card import Role, with_mark
from schemeforge.gui.adding.card_fit import fit_card, sight_of
from schemeforge.gui.adding.colours_view import OneColour
from schemeforge.gui.adding.fit_list import FitList, gap_words
from schemeforge.gui.adding.model_view import ModelView
from schemeforge.gui.adding.photo_view import PhotoView
from schemeforge.gui.adding.result import Miss
from schemeforge.gui.adding.view import AddingView
from schemeforge.gui.adding.ways import Way
from schemeforge.gui.bridge import Bridge
from schemeforge.measurement import read_photograph
from tests.builders import small_paints, small_project
from tests.calibration.swatches import red
from tests.gui.adding import painted_card, painted_model
from tests.gui.adding.driving import gone, quiet, shelf
from tests.gui.adding.painted_card import inside, photograph
from tests.gui.adding.test_photograph import mark, mark_references, mark_strips, read

LEFT, MIDDLE = Qt.MouseButton.LeftButton, Qt.MouseButton.MiddleButton


@pytest.fixture
def way(qtbot: QtBot, view: AddingView, tmp_path: Path) -> PhotoView:
    """With a picture on the bench."""
    made = gone(view, Way.PHOTOGRAPH, PhotoView)
    read(qtbot, made, photograph(tmp_path / "card.png", [(red(), 1.0), (red(), 2.0)]))
    return made


def test_the_wheel_zooms_about_the_pointer_and_the_middle_button_moves(way: PhotoView) -> None:
    board = way.bench.board
    at = QPointF(board.width() * 0.4, board.height() * 0.3)
    place, whole = board.place_at(at), board.scale
    event = QWheelEvent(
        at,
        board.mapToGlobal(at),
        QPoint(0, 0),
        QPoint(0, 360),
        Qt.MouseButton.NoButton,
        Qt.KeyboardModifier.NoModifier,
        Qt.ScrollPhase.NoScrollPhase,
        False,  # noqa: FBT003 - Qt's own signature
    )
    QApplication.sendEvent(board, event)
    assert board.scale == pytest.approx(whole * 1.25**3)
    assert board.place_at(at) == pytest.approx(place)
    start = at.toPoint()
    QTest.mousePress(board, MIDDLE, pos=start)
    QTest.mouseMove(board, start + QPoint(30, 20))
    QTest.mouseRelease(board, MIDDLE, pos=start + QPoint(30, 20))
    assert board.place_at(at + QPointF(30, 20)) == pytest.approx(place, abs=0.003)
    assert way.bench.card.marks == (), "moving the picture marks nothing"
    QTest.mouseClick(way.bench.whole, LEFT)
    assert board.scale == pytest.approx(whole)
    QTest.mouseClick(way.bench.zoom_in, LEFT)
    QTest.mouseClick(way.bench.zoom_out, LEFT)
    assert board.scale == pytest.approx(whole)


def test_another_paint_is_named_where_it_lies(qtbot: QtBot, way: PhotoView) -> None:
    mark_references(way)
    mark_strips(way, 1.0, 2.0)
    last = way.bench.card.of(Role.PAINTED)[-1]
    way.bench.boxes[last.id].setFocus()
    QTest.mouseClick(way.row.other_paint, LEFT)
    assert [paint.name for paint in way.bench.card.paints] == ["paint 1", "paint 2"]
    changed = way.bench.card.mark(last.id)
    assert changed is not None
    assert changed.paint == 2
    assert way.row.paint_name.hasFocus()
    qtbot.keyClicks(way.row.paint_name, "Mire")
    assert way.bench.card.paints[1].name == "Mire"
    QTest.mouseClick(way.row.remove, LEFT)
    assert way.bench.card.mark(last.id) is None


def test_a_reference_told_otherwise_is_looked_at_again(qtbot: QtBot, way: PhotoView) -> None:
    grey = mark(way, Role.GREY, inside(painted_card.REFERENCES[1][1]), reflectance=0.2)
    quiet(qtbot, way.bridge)
    qtbot.waitUntil(lambda: way.bench.sight is not None)
    before = way.bench.sight
    way.bench.boxes[grey.id].setFocus()
    way.row.reflectance.setValue(40.0)
    qtbot.waitUntil(lambda: way.bench.sight is not before, timeout=20_000)
    after = way.bench.sight
    assert before is not None
    assert after is not None
    assert after.seen[grey.id].after > before.seen[grey.id].after, "lighter, as it was told"


def test_the_film_of_a_coat_and_the_finish_belong_to_the_card(way: PhotoView) -> None:
    way.film.setValue(45.0)
    assert way.bench.card.film_um == 45.0
    way.finish.setCurrentIndex(3)
    way.finish.activated.emit(3)
    assert way.bench.card.finish.value == "gloss"


def test_what_is_worked_out_can_be_stopped(qtbot: QtBot, way: PhotoView, bridge: Bridge) -> None:
    mark_references(way)
    mark_strips(way, 1.0, 2.0)
    quiet(qtbot, bridge)
    way.work_out()
    assert way.waiting.isVisible()
    QTest.mouseClick(way.waiting.stop, LEFT)
    quiet(qtbot, bridge)
    assert not way.shows_review
    assert shelf(bridge) == small_paints()


def test_progress_is_told_and_a_cancelled_fit_ends(tmp_path: Path, way: PhotoView) -> None:
    mark_references(way)
    mark_strips(way, 1.0)
    picture = read_photograph(tmp_path / "card.png")
    told: list[float] = []
    look = look_of(small_project())
    assert len(fit_card(picture, way.bench.card, look, progress=told.append)) == 1
    assert told == [0.0, 1.0]
    assert fit_card(picture, way.bench.card, look, cancelled=lambda: True) == []


def test_even_light_and_a_true_camera_are_said_so(tmp_path: Path, way: PhotoView) -> None:
    path = photograph(tmp_path / "fair.png", [(red(), 1.0)], gain=np.ones(3), fall=0.0)
    mark_references(way)
    sight = sight_of(read_photograph(path), way.bench.card)
    said = camera_words(sight, numbers=True)
    assert said.startswith("Put right: the light is even and the camera without a tint; ")
    few = with_mark(way.bench.card, replace(way.bench.card.marks[0], role=Role.GROUND))
    few = replace(few, marks=few.marks[:4])
    said = camera_words(sight_of(read_photograph(path), few), numbers=False)
    assert "a second white or grey area at the far side" in said


def test_the_ends_of_a_line_are_dragged(qtbot: QtBot, view: AddingView, tmp_path: Path) -> None:
    way = gone(view, Way.TEST_MODEL, ModelView)
    path = painted_model.photograph(tmp_path / "m.png", small_project(), "first", "cloak", {})
    way.bench.read(path)
    qtbot.waitUntil(way.bench.waiting.isHidden, timeout=20_000)
    way.line.draw(((0.3, 0.4), (0.6, 0.4)))
    end, board = way.line.raised, way.bench.board
    target = board.point_of((0.7, 0.5)).toPoint()
    QTest.mousePress(end, LEFT, pos=end.rect().center())
    QTest.mouseMove(end, end.mapFrom(board, target))
    QTest.mouseRelease(end, LEFT, pos=end.mapFrom(board, target))
    assert way.line.line is not None
    assert way.line.line[1] == pytest.approx((0.7, 0.5), abs=0.01)
    QTest.mousePress(board, LEFT, pos=board.point_of((0.2, 0.2)).toPoint())
    for place in ((0.3, 0.2), (0.4, 0.2)):
        QTest.mouseMove(board, board.point_of(place).toPoint())
    QTest.mouseRelease(board, LEFT, pos=board.point_of((0.4, 0.2)).toPoint())
    assert np.array(way.line.line) == pytest.approx(np.array([[0.2, 0.2], [0.4, 0.2]]), abs=0.01)


def test_a_colour_can_be_picked(
    view: AddingView, monkeypatch: pytest.MonkeyPatch, qtbot: QtBot
) -> None:
    way = gone(view, Way.ONE_COLOUR, OneColour)
    monkeypatch.setattr(QColorDialog, "getColor", lambda *_args: QColor("#7f4a21"))
    with qtbot.waitSignal(way.colour.changed):
        QTest.mouseClick(way.colour.pick, LEFT)
    assert way.colour.code.text() == "#7f4a21"
    monkeypatch.setattr(QColorDialog, "getColor", lambda *_args: QColor())
    QTest.mouseClick(way.colour.pick, LEFT)
    assert way.colour.code.text() == "#7f4a21"


def test_many_patches_are_counted_rather_than_listed(qtbot: QtBot) -> None:
    shown = FitList()
    qtbot.addWidget(shown)
    grey = np.full(3, 0.2)
    misses = tuple(
        Miss(name=f"p{n}", measured=grey, fitted=grey, delta_e=8.0 - n) for n in range(9)
    )
    shown.show_misses(misses, numbers=False)
    assert len(shown.lines) == 6
    assert shown.lines[0] == "p0: missed by far"
    assert shown.rest.text() == "3 more patches, met better than these"
    assert gap_words(0.4, numbers=True) == "met, the difference stays unseen (0.4 dE)"
