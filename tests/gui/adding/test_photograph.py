"""Paints from a photographed card, through the window: by mouse, by keys alone, and refused."""

import zlib
from collections.abc import Callable
from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest
from PIL import Image
from PySide6.QtCore import QMimeData, QPoint, QPointF, Qt, QUrl
from PySide6.QtGui import QDragEnterEvent, QDropEvent
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QComboBox, QFileDialog, QWidget
from pytestqt.qtbot import QtBot

from schemeforge.calibration import BLACK, GREY, WHITE, Area
from schemeforge.gui.adding.board import Board
from schemeforge.gui.adding.card import CardPaint, Mark, Role, with_mark, with_paint
from schemeforge.gui.adding.mark_box import MarkBox
from schemeforge.gui.adding.photo_view import PhotoView
from schemeforge.gui.adding.view import AddingView
from schemeforge.gui.adding.ways import Way
from schemeforge.gui.bridge import Bridge
from schemeforge.gui.paints.page import PaintsPage
from schemeforge.paint import Basis
from schemeforge.scheme import edits
from tests.builders import small_paints
from tests.calibration.swatches import errors, paint, red
from tests.gui.adding import painted_card as drawn
from tests.gui.adding.driving import focus, gone, quiet, shelf
from tests.gui.adding.painted_card import inside, photograph, strip

LEFT, CTRL, SHIFT = (
    Qt.MouseButton.LeftButton,
    Qt.KeyboardModifier.ControlModifier,
    Qt.KeyboardModifier.ShiftModifier,
)
REFLECTANCE = {WHITE: 88.0, GREY: 20.0, BLACK: 5.5}
ROLES = {WHITE: Role.WHITE, GREY: Role.GREY, BLACK: Role.BLACK}


@pytest.fixture
def way(view: AddingView) -> PhotoView:
    return gone(view, Way.PHOTOGRAPH, PhotoView)


def read(qtbot: QtBot, way: PhotoView, path: Path) -> None:
    way.bench.read(path)
    qtbot.waitUntil(way.bench.waiting.isHidden, timeout=20_000)


def mark(way: PhotoView, role: Role, area: Area, **told: object) -> Mark:
    made = way.bench.add(role, area)
    assert made is not None
    changed = replace(made, **told)  # type: ignore[arg-type]
    way.bench.set_card(with_mark(way.bench.card, changed))
    return changed


def mark_references(way: PhotoView) -> None:
    for ground, area in drawn.REFERENCES:
        mark(way, ROLES[ground], inside(area), reflectance=REFLECTANCE[ground] / 100)


def mark_strips(way: PhotoView, *coats: float, paint_of: tuple[int, ...] = ()) -> None:
    """The bare halves, and each strip over both."""
    below = [
        mark(way, Role.GROUND, inside(area)).id for area in (drawn.BARE_WHITE, drawn.BARE_BLACK)
    ]
    for place, count in enumerate(coats):
        for area, ground in zip(strip(place), below, strict=True):
            told = {"ground": ground, "coats": count, "stroke": place + 1}
            who = paint_of[place] if paint_of else 1
            mark(way, Role.PAINTED, inside(area), paint=who, **told)


def work_out(qtbot: QtBot, way: PhotoView) -> None:
    quiet(qtbot, way.bridge)
    QTest.mouseClick(way.fit, LEFT)
    qtbot.waitUntil(way.waiting.isHidden, timeout=20_000)


def test_a_photographed_card_becomes_a_paint(
    qtbot: QtBot, way: PhotoView, bridge: Bridge, tmp_path: Path
) -> None:
    read(qtbot, way, photograph(tmp_path / "card.png", [(red(), 1.0), (red(), 2.0)]))
    mark_references(way)
    mark_strips(way, 1.0, 2.0)
    work_out(qtbot, way)
    assert way.shows_review
    (result,) = way.review.results
    assert result.paint.basis is Basis.PHOTOGRAPHED
    off = errors(result.outcome, red())
    assert np.median(off) < 1.0
    assert off.max() < 4.0
    assert shelf(bridge) == small_paints()
    way.review.name.setText("")
    QTest.keyClicks(way.review.name, "Reed Red")
    QTest.mouseClick(way.review.put, LEFT)
    assert shelf(bridge)[-1].name == "Reed Red"
    bridge.session.undo()
    assert shelf(bridge) == small_paints()


def test_by_keys_alone_from_the_picture_to_a_mix(
    qtbot: QtBot,
    page: PaintsPage,
    bridge: Bridge,
    tmp_path: Path,
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    """Load, mark, tell, fit, name, shelve and mix without a mouse."""
    path = photograph(tmp_path / "card.png", [(red(), 1.0)])
    monkeypatch.setattr(QFileDialog, "getOpenFileName", lambda *_args: (str(path), ""))
    bridge.session.select(step_id="red", zone_id="cloak")
    page.focus_first().setFocus()
    press(qtbot, Qt.Key.Key_Insert)
    press(qtbot, Qt.Key.Key_Tab)  # from readings on to the photograph
    assert focus() is page.adding.view.ways.buttons[Way.PHOTOGRAPH]
    press(qtbot, Qt.Key.Key_Space)
    way = page.adding.view.open(Way.PHOTOGRAPH)
    assert isinstance(way, PhotoView)
    press(qtbot, Qt.Key.Key_Space)  # choose a photograph
    qtbot.waitUntil(way.bench.waiting.isHidden, timeout=20_000)
    assert focus() is way.bench.board
    for letter, (ground, area) in zip("WGBGW", drawn.REFERENCES, strict=True):
        press(qtbot, getattr(Qt.Key, f"Key_{letter}"))
        put(qtbot, inside(area))
        tell(qtbot, way.row.reflectance, f"{REFLECTANCE[ground]:g}")
        way.bench.boxes[way.bench.mark_id].setFocus()
    for area in (drawn.BARE_WHITE, drawn.BARE_BLACK):
        press(qtbot, Qt.Key.Key_U)
        put(qtbot, inside(area))
    for area in strip(0):
        press(qtbot, Qt.Key.Key_P)
        put(qtbot, inside(area))
    first, second = way.bench.card.of(Role.PAINTED)
    names = {m.id: m.name for m in way.bench.card.marks}
    assert names[first.ground] == "bare ground"
    assert [m.role for m in way.bench.card.grounds][-2:] == [Role.GROUND, Role.GROUND]
    press(qtbot, Qt.Key.Key_Return)  # to what is told of the last swatch
    assert focus() is way.row.paint_name
    qtbot.keyClicks(way.row.paint_name, "Reed Red")
    choose(qtbot, way.row.ground, "bare ground 2")
    assert way.bench.card.of(Role.PAINTED)[1].ground == way.bench.card.grounds[-1].id
    assert second.id == way.bench.mark_id
    way.fit.setFocus()
    quiet(qtbot, bridge)
    press(qtbot, Qt.Key.Key_Space)
    qtbot.waitUntil(lambda: way.shows_review, timeout=20_000)
    assert focus() is way.review.name
    assert way.review.name.text() == "Reed Red"
    press(qtbot, Qt.Key.Key_Return)
    added = shelf(bridge)[-1]
    assert (added.name, added.basis) == ("Reed Red", Basis.PHOTOGRAPHED)
    card = page.grid.card("reed-red")
    assert card is focus()
    press(qtbot, Qt.Key.Key_M)
    mix = bridge.state.project.scheme("first").mix("red-pot")
    assert mix.parts_of("reed-red") == 1.0
    assert any(held.id == "reed-red" for held in bridge.state.project.paints)


def press(qtbot: QtBot, key: Qt.Key, keys: Qt.KeyboardModifier | None = None) -> None:
    """A key to whatever has the focus."""
    qtbot.keyClick(focus(), key, keys or Qt.KeyboardModifier.NoModifier)


def put(qtbot: QtBot, area: Area) -> None:
    """Bring the mark that has the focus over that area, by arrows."""
    box = focus()
    assert isinstance(box, MarkBox)
    for way, (plus, minus) in (
        ("left", (Qt.Key.Key_Right, Qt.Key.Key_Left)),
        ("top", (Qt.Key.Key_Down, Qt.Key.Key_Up)),
    ):
        steps = round((getattr(area, way) - getattr(box.mark.area, way)) / 0.01)
        for _ in range(abs(steps)):
            press(qtbot, plus if steps > 0 else minus)
    for way, (plus, minus) in (
        ("right", (Qt.Key.Key_Right, Qt.Key.Key_Left)),
        ("bottom", (Qt.Key.Key_Down, Qt.Key.Key_Up)),
    ):
        steps = round((getattr(area, way) - getattr(box.mark.area, way)) / 0.01)
        for _ in range(abs(steps)):
            press(qtbot, plus if steps > 0 else minus, SHIFT)
    assert box.mark.area.left == pytest.approx(area.left, abs=0.011)
    assert box.mark.area.bottom == pytest.approx(area.bottom, abs=0.011)


def tell(qtbot: QtBot, control: QWidget, text: str) -> None:
    """Type a number."""
    control.setFocus()
    qtbot.keyClick(control, Qt.Key.Key_A, CTRL)
    qtbot.keyClicks(control, text)
    qtbot.keyClick(control, Qt.Key.Key_Return)


def choose(qtbot: QtBot, choice: QWidget, label: str) -> None:
    """Walk a box with the arrow keys to a label."""
    assert isinstance(choice, QComboBox)
    choice.setFocus()
    at, wanted = choice.currentIndex(), choice.findText(label)
    for _ in range(abs(wanted - at)):
        qtbot.keyClick(choice, Qt.Key.Key_Down if wanted > at else Qt.Key.Key_Up)
    assert choice.currentText() == label


def test_rectangles_are_dragged_moved_and_sized_by_hand(
    qtbot: QtBot, way: PhotoView, tmp_path: Path
) -> None:
    read(qtbot, way, photograph(tmp_path / "card.png", [(red(), 1.0)]))
    board = way.bench.board
    QTest.mouseClick(way.bench.tool.button(Role.WHITE), LEFT)
    drag(board, board, (0.1, 0.1), (0.3, 0.25))
    (made,) = way.bench.card.marks
    assert made.role is Role.WHITE
    assert corners(made.area) == pytest.approx((0.1, 0.1, 0.3, 0.25), abs=0.01)
    box = way.bench.boxes[made.id]
    assert box.hasFocus()
    drag(board, box, (0.2, 0.17), (0.4, 0.37))
    moved = way.bench.card.marks[0].area
    assert corners(moved) == pytest.approx((0.3, 0.3, 0.5, 0.45), abs=0.01)
    drag(board, box, (0.5, 0.45), (0.6, 0.65))
    sized = way.bench.card.marks[0].area
    assert corners(sized) == pytest.approx((0.3, 0.3, 0.6, 0.65), abs=0.015)
    press(qtbot, Qt.Key.Key_Delete)
    assert way.bench.card.marks == ()
    assert way.bench.boxes == {}


def corners(area: Area) -> tuple[float, float, float, float]:
    return area.left, area.top, area.right, area.bottom


def drag(
    board: Board, widget: QWidget, start: tuple[float, float], end: tuple[float, float]
) -> None:
    """Drag from one place of the picture to another, on the board or on a mark."""

    def at(place: tuple[float, float]) -> QPoint:
        return widget.mapFrom(board, board.point_of(place).toPoint())

    if widget is board:
        QTest.mousePress(board, LEFT, pos=board.point_of(start).toPoint())
        middle = ((start[0] + end[0]) / 2, (start[1] + end[1]) / 2)
        for place in (middle, end):
            QTest.mouseMove(board, board.point_of(place).toPoint())
        QTest.mouseRelease(board, LEFT, pos=board.point_of(end).toPoint())
        return
    QTest.mousePress(widget, LEFT, pos=at(start))
    QTest.mouseMove(widget, at(end))
    QTest.mouseRelease(widget, LEFT, pos=at(end))


def test_zoom_and_pan_keep_marks_over_what_they_mark(
    qtbot: QtBot, way: PhotoView, tmp_path: Path
) -> None:
    read(qtbot, way, photograph(tmp_path / "card.png", [(red(), 1.0)]))
    board = way.bench.board
    made = mark(way, Role.WHITE, inside(drawn.REFERENCES[0][1]))
    whole = board.scale
    board.setFocus()
    for _ in range(4):
        press(qtbot, Qt.Key.Key_Plus)
    assert board.scale == pytest.approx(whole * 1.25**4)
    box = way.bench.boxes[made.id]
    assert box.inner_box().topLeft() == board.point_of((made.area.left, made.area.top))
    before = board.view_centre
    press(qtbot, Qt.Key.Key_Right)
    assert board.view_centre[0] > before[0]
    box.setFocus(Qt.FocusReason.TabFocusReason)
    assert board.rect().contains(box.inner_box().center().toPoint()), "the focus brings it in view"
    board.setFocus()
    press(qtbot, Qt.Key.Key_0)
    assert board.scale == pytest.approx(whole)


def test_what_the_references_tell_is_said_and_shown(
    qtbot: QtBot, way: PhotoView, tmp_path: Path
) -> None:
    """A gain of 4 % a channel and light that falls by a fifth: before and after."""
    read(qtbot, way, photograph(tmp_path / "card.png", [(red(), 1.0)]))
    mark_strips(way, 1.0)
    quiet_sight(qtbot, way)
    assert way.bench.light.text().startswith("Not put right yet: No reference is marked")
    assert not way.bench.right.isEnabled()
    mark_references(way)
    quiet_sight(qtbot, way)
    said = way.bench.light.text()
    assert "the light falls off by 20% to the right" in said
    assert "green read 5% low" in said
    assert "red read 3% high" in said
    sight = way.bench.sight
    assert sight is not None
    greys = [m for m in way.bench.card.marks if m.role is Role.GREY]
    raw, right = (
        [channels(getattr(sight.seen[m.id], when)) for m in greys] for when in ("before", "after")
    )
    assert np.ptp(raw, axis=1).min() >= 4, "as photographed the grey card is pink"
    assert np.abs(np.diff(raw, axis=0)).max() >= 4, "and darker at the right"
    assert np.ptp(right, axis=1).max() <= 1
    assert np.abs(np.diff(right, axis=0)).max() <= 2
    way.bench.right.click()
    assert way.bench.board.shows_other
    at = way.bench.board.point_of(greys[0].area.centre).toPoint()
    pixel = way.bench.board.grab().toImage().pixelColor(at)
    assert (
        max(pixel.red(), pixel.green(), pixel.blue())
        - min(pixel.red(), pixel.green(), pixel.blue())
        <= 8
    )


def quiet_sight(qtbot: QtBot, way: PhotoView) -> None:
    """Until the marks as they are now have been looked at."""
    ids = {m.id for m in way.bench.card.marks}

    def seen() -> bool:
        sight = way.bench.sight
        return sight is not None and set(sight.seen) == ids and not way.bridge.jobs.is_any_busy

    qtbot.waitUntil(seen, timeout=20_000)


def channels(code: str) -> list[int]:
    return [int(code[n : n + 2], 16) for n in (1, 3, 5)]


def test_clipped_and_noisy_patches_are_flagged_where_they_lie(
    qtbot: QtBot, way: PhotoView, tmp_path: Path
) -> None:
    codes = drawn.picture([(red(), 1.0), (red(), 2.0)])
    wide, high = drawn.SIZE
    burnt, rough = strip(0)[0], strip(1)[0]
    rows = slice(round(burnt.top * high), round(burnt.bottom * high))
    codes[rows, round(burnt.left * wide) : round(burnt.right * wide)] = 255
    rows = slice(round(rough.top * high), round(rough.bottom * high))
    columns = slice(round(rough.left * wide), round(rough.right * wide))
    speckle = np.random.default_rng(5).integers(-70, 70, codes[rows, columns].shape)
    codes[rows, columns] = np.clip(codes[rows, columns] + speckle, 5, 250).astype(np.uint8)
    Image.fromarray(codes).save(tmp_path / "card.png")
    read(qtbot, way, tmp_path / "card.png")
    mark_references(way)
    mark_strips(way, 1.0, 2.0)
    quiet_sight(qtbot, way)
    names = {box.mark.name: box.accessibleName() for box in way.bench.boxes.values()}
    assert names["swatch"] == "Mark: swatch  !  clipped"
    assert names["swatch 3"] == "Mark: swatch 3  !  uneven"
    assert names["swatch 2"] == "Mark: swatch 2"
    work_out(qtbot, way)
    told = way.review.findings.text()
    assert 'The swatch "swatch" is clipped and left out' in told
    assert 'The swatch "swatch 3" is uneven or noisy and counts less' in told
    assert len(way.review.results[0].outcome.patches) == 3


def test_one_picture_of_two_paints_is_one_step_on_the_shelf(
    qtbot: QtBot, way: PhotoView, bridge: Bridge, tmp_path: Path
) -> None:
    other = paint("off-white")
    read(qtbot, way, photograph(tmp_path / "card.png", [(red(), 1.0), (other, 1.0)]))
    way.bench.set_card(with_paint(way.bench.card, CardPaint(id=1, name="Reed Red")))
    way.bench.set_card(with_paint(way.bench.card, CardPaint(id=2, name="Shell")))
    mark_references(way)
    mark_strips(way, 1.0, 1.0, paint_of=(1, 2))
    work_out(qtbot, way)
    assert [result.name for result in way.review.results] == ["Reed Red", "Shell"]
    assert way.review.which_field.isVisible()
    QTest.mouseClick(way.review.put, LEFT)
    assert [held.name for held in shelf(bridge)[-2:]] == ["Reed Red", "Shell"]
    bridge.session.undo()
    assert shelf(bridge) == small_paints()


def test_another_light_shows_the_same_fit_otherwise(
    qtbot: QtBot, way: PhotoView, bridge: Bridge, tmp_path: Path
) -> None:
    read(qtbot, way, photograph(tmp_path / "card.png", [(red(), 1.0)]))
    mark_references(way)
    mark_strips(way, 1.0)
    work_out(qtbot, way)
    before = way.review.results[0]
    viewing = replace(bridge.state.project.viewing, light="A")
    bridge.edit("light", lambda project: edits.set_viewing(project, viewing))
    qtbot.waitUntil(lambda: way.review.results[0] is not before, timeout=20_000)
    after = way.review.results[0]
    assert after.outcome is before.outcome
    assert not np.array_equal(after.xyz, before.xyz)


def test_a_paint_can_be_left_out_and_put_later(
    qtbot: QtBot, way: PhotoView, bridge: Bridge, page: PaintsPage, tmp_path: Path
) -> None:
    read(qtbot, way, photograph(tmp_path / "card.png", [(red(), 1.0), (red(), 2.0)]))
    way.bench.set_card(with_paint(way.bench.card, CardPaint(id=2, name="Second")))
    mark_references(way)
    mark_strips(way, 1.0, 2.0, paint_of=(1, 2))
    work_out(qtbot, way)
    way.review.taken.click()
    QTest.mouseClick(way.review.put, LEFT)
    known = [held.name for held in small_paints()]
    assert [held.name for held in shelf(bridge)] == [*known, "Second"]
    page.adding.show_ways()
    assert page.adding.view.open(Way.PHOTOGRAPH) is way
    assert way.shows_review, "the one left out is still to be put"
    assert [result.name for result in way.review.results] == ["paint 1"]
    QTest.mouseClick(way.review.put, LEFT)
    assert [held.name for held in shelf(bridge)] == [*known, "Second", "paint 1"]
    assert not way.shows_review


def test_of_paints_worked_out_again_those_put_before_are_left_out_at_first(
    qtbot: QtBot, way: PhotoView, bridge: Bridge, page: PaintsPage, tmp_path: Path
) -> None:
    read(qtbot, way, photograph(tmp_path / "card.png", [(red(), 1.0), (red(), 2.0)]))
    mark_references(way)
    mark_strips(way, 1.0)
    work_out(qtbot, way)
    way.review.name.setText("")
    QTest.keyClicks(way.review.name, "Reed")
    QTest.mouseClick(way.review.put, LEFT)
    page.adding.show_ways()
    page.adding.view.open(Way.PHOTOGRAPH)
    way.bench.set_card(with_paint(way.bench.card, CardPaint(id=2, name="Second")))
    mark_strips(way, 1.0, 2.0, paint_of=(1, 2))
    work_out(qtbot, way)
    assert not way.review.taken.isChecked()
    assert way.review.name.text() == "paint 1"
    QTest.mouseClick(way.review.put, LEFT)
    known = [held.name for held in small_paints()]
    assert [held.name for held in shelf(bridge)] == [*known, "Reed", "Second"]


def test_film_in_micrometres_instead_of_coats(qtbot: QtBot, way: PhotoView, tmp_path: Path) -> None:
    read(qtbot, way, photograph(tmp_path / "card.png", [(red(), 2.0)]))
    mark_references(way)
    mark_strips(way, 1.0)
    box = way.bench.boxes[way.bench.card.of(Role.PAINTED)[0].id]
    box.setFocus()
    assert not way.row.film.isVisible()
    way.row.laid.setCurrentIndex(1)
    way.row.laid.activated.emit(1)
    assert way.row.film.isVisible()
    assert way.row.film.value() == 30.0
    way.row.film.setValue(60.0)
    assert way.bench.card.of(Role.PAINTED)[0].film_um == 60.0
    work_out(qtbot, way)
    films = {patch.name: patch.film_um for patch in way.review.results[0].outcome.patches}
    assert films == {"swatch": 60.0, "swatch 2": 30.0}


# What cannot be


def huge(path: Path) -> Path:
    """A PNG that says it has 100,000 x 100,000 pixels."""

    def chunk(kind: bytes, body: bytes) -> bytes:
        return len(body).to_bytes(4) + kind + body + zlib.crc32(kind + body).to_bytes(4)

    head = (100_000).to_bytes(4) * 2 + bytes((8, 2, 0, 0, 0))
    body = chunk(b"IHDR", head) + chunk(b"IDAT", zlib.compress(bytes(1000)))
    path.write_bytes(b"\x89PNG\r\n\x1a\n" + body + chunk(b"IEND", b""))
    return path


def text(path: Path) -> Path:
    path.write_text("no picture", encoding="utf-8")
    return path


def tiny(path: Path) -> Path:
    Image.new("RGB", (4, 4)).save(path)
    return path


@pytest.mark.parametrize(
    ("make", "words"),
    [
        (huge, "The picture has far too many pixels and is not decoded"),
        (text, "This is not a JPEG, PNG or TIFF photograph"),
        (tiny, "The picture is only 4 x 4 pixels"),
        (lambda path: path, "The file cannot be opened"),
    ],
    ids=["huge", "text", "tiny", "none"],
)
def test_pictures_that_cannot_be_used_leave_the_one_that_lies_there(
    qtbot: QtBot,
    way: PhotoView,
    bridge: Bridge,
    tmp_path: Path,
    make: Callable[[Path], Path],
    words: str,
) -> None:
    read(qtbot, way, photograph(tmp_path / "card.png", [(red(), 1.0)]))
    mark_references(way)
    before, card = way.bench.photograph, way.bench.card
    read(qtbot, way, make(tmp_path / "bad.png"))
    assert way.refusal.isVisible()
    assert words in way.refusal.text()
    assert way.refusal.text().startswith("bad.png: ")
    assert way.refusal.toolTip() == str(tmp_path / "bad.png")
    assert way.refusal.text().count("\n") == 0
    assert (way.bench.photograph, way.bench.card) == (before, card)
    assert shelf(bridge) == small_paints()


def test_a_photograph_dropped_on_the_bench_is_read(
    qtbot: QtBot, way: PhotoView, tmp_path: Path
) -> None:
    path = photograph(tmp_path / "card.png", [(red(), 1.0)])
    mime = QMimeData()
    mime.setUrls([QUrl.fromLocalFile(str(path))])
    copy, none = Qt.DropAction.CopyAction, Qt.KeyboardModifier.NoModifier
    enter = QDragEnterEvent(QPoint(5, 5), copy, mime, LEFT, none)
    way.bench.dragEnterEvent(enter)
    assert enter.isAccepted()
    way.bench.dropEvent(QDropEvent(QPointF(5, 5), copy, mime, LEFT, none))
    qtbot.waitUntil(lambda: way.bench.photograph is not None, timeout=20_000)
    assert way.bench.title.text() == "card.png, 480 × 320 pixels, colours as sRGB"


def test_without_references_nothing_is_fitted(
    qtbot: QtBot, way: PhotoView, bridge: Bridge, tmp_path: Path
) -> None:
    read(qtbot, way, photograph(tmp_path / "card.png", [(red(), 1.0)]))
    mark_strips(way, 1.0)
    work_out(qtbot, way)
    assert way.refusal.text() == (
        "No reference is marked; mark a white, grey or black area of known reflectance."
    )
    assert not way.shows_review
    assert shelf(bridge) == small_paints()
    quiet_sight(qtbot, way)
    assert not way.bench.light.isVisible(), "it is said once"
    mark_references(way)
    quiet_sight(qtbot, way)
    assert way.bench.light.isVisible()
    assert way.bench.light.text().startswith("Put right: ")


def test_what_is_not_told_is_asked_for_by_name(
    qtbot: QtBot, way: PhotoView, bridge: Bridge, tmp_path: Path
) -> None:
    read(qtbot, way, photograph(tmp_path / "card.png", [(red(), 1.0)]))
    mark_references(way)
    work_out(qtbot, way)
    assert "No painted area is marked" in way.refusal.text()
    mark_strips(way, 1.0)
    way.bench.remove(way.bench.card.of(Role.GROUND)[0].id)
    work_out(qtbot, way)
    assert way.refusal.text().startswith('It is not told on which ground "swatch" was painted')
    assert shelf(bridge) == small_paints()


def test_exchanged_references_are_told(qtbot: QtBot, way: PhotoView, tmp_path: Path) -> None:
    read(qtbot, way, photograph(tmp_path / "card.png", [(red(), 1.0)]))
    for place, role in ((2, Role.WHITE), (0, Role.BLACK)):
        mark(way, role, inside(drawn.REFERENCES[place][1]))
    mark_strips(way, 1.0)
    work_out(qtbot, way)
    assert 'The reference "white" is no lighter in the picture than "black"' in way.refusal.text()


def test_the_guide_stands_until_there_is_a_picture_and_can_be_had_again(
    qtbot: QtBot, way: PhotoView, tmp_path: Path
) -> None:
    assert way.guide.isVisible()
    assert not way.bench.board.isVisible()
    read(qtbot, way, photograph(tmp_path / "card.png", [(red(), 1.0)]))
    assert not way.guide.isVisible()
    assert way.bench.board.isVisible()
    way.how.click()
    assert way.guide.isVisible()


def test_what_to_paint_is_suggested(way: PhotoView) -> None:
    plan = way.guide.plan
    assert plan.answer.text() == "Paint one coat over white; 3 coats over black."
    plan.covers.setCurrentIndex(1)
    plan.count.setCurrentIndex(1)
    plan.count.activated.emit(1)
    assert plan.answer.text() == (
        "Paint one coat thinned with as much water (half a coat) over white; one coat over black; "
        "3 coats over white."
    )
    plan.strength.setCurrentIndex(3)
    plan.strength.activated.emit(3)
    assert plan.answer.text().startswith("Paint one coat over white; one coat over black")
    plan.covers.setCurrentIndex(3)
    plan.covers.activated.emit(3)
    assert plan.answer.text().startswith("Paint one coat over white; 4 coats over black")
    plan.count.pick(6)
    plan.count.activated.emit(plan.count.currentIndex())
    assert plan.answer.text().count("coat") == 6


def test_back_from_the_review_to_the_picture_with_its_marks(
    qtbot: QtBot, way: PhotoView, view: AddingView, tmp_path: Path
) -> None:
    read(qtbot, way, photograph(tmp_path / "card.png", [(red(), 1.0)]))
    mark_references(way)
    mark_strips(way, 1.0)
    work_out(qtbot, way)
    QTest.mouseClick(view.back, LEFT)
    assert view.way is Way.PHOTOGRAPH
    assert not way.shows_review
    assert len(way.bench.card.marks) == 9
