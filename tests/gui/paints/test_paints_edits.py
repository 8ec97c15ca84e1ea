"""The shelf as a painter changes it: edits, mixes, drags, versions, import and export."""

from collections.abc import Callable
from dataclasses import replace
from pathlib import Path

import pytest
from PySide6.QtCore import QEvent, QMimeData, QPoint, Qt
from PySide6.QtGui import QDrag
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication, QFileDialog
from pytestqt.qtbot import QtBot

from schemeforge.desk import Places
from schemeforge.gui.bridge import Bridge
from schemeforge.gui.main_window import MainWindow
from schemeforge.gui.paints.drag import PAINT_MIME, paint_id_from, paint_mime
from schemeforge.gui.paints.page import PaintsPage
from schemeforge.shelf import ShelfStore, export_paints
from tests.builders import off_white, red_glaze, small_paints
from tests.gui.paints.driving import card, on_shelf, open_paint, shelf

Edit = Callable[[PaintsPage], object]
EDITS: list[tuple[Edit, str, object]] = [
    (lambda p: p.details.left.setValue(4.5), "stock.left_ml", 4.5),
    (lambda p: p.details.bottle.setValue(24.0), "stock.bottle_ml", 24.0),
    (lambda p: p.details.price.setValue(3.25), "stock.price", 3.25),
    (lambda p: p.details.solids.setValue(22.0), "volume_solids", 0.22),
    (lambda p: p.details.density.setValue(1.3), "density_g_per_ml", 1.3),
    (lambda p: QTest.keyClicks(p.details.note, "thick"), "note", "thick"),
]


@pytest.mark.parametrize(("do", "field", "value"), EDITS, ids=[e[1] for e in EDITS])
def test_each_edit_reaches_shelf_and_disk_and_is_one_undo(
    page: PaintsPage,
    bridge: Bridge,
    places: Places,
    do: Edit,
    field: str,
    value: object,
) -> None:
    open_paint(page, "red-glaze")
    before = on_shelf(bridge, "red-glaze")
    do(page)
    found: object = on_shelf(bridge, "red-glaze")
    for name in field.split("."):
        found = getattr(found, name)
    assert found == pytest.approx(value) if isinstance(value, float) else found == value
    assert ShelfStore(places.shelf_file).load() == shelf(bridge)
    bridge.session.undo()
    assert on_shelf(bridge, "red-glaze") == before
    assert ShelfStore(places.shelf_file).load() == shelf(bridge)
    assert bridge.state.undo_label == ""


def test_what_is_left_can_be_unknown_again(page: PaintsPage, bridge: Bridge) -> None:
    open_paint(page, "red-glaze")
    page.details.left.setValue(page.details.left.minimum())
    assert on_shelf(bridge, "red-glaze").stock.left_ml is None
    assert page.details.left.text() == "not known"
    page.details.left.setValue(0.0)
    assert on_shelf(bridge, "red-glaze").stock.left_ml == 0.0
    assert page.details.left.text() == "0 ml"


def test_renaming_by_key(page: PaintsPage, bridge: Bridge) -> None:
    page.grid.focus_card("red-glaze")
    QTest.keyClick(card(page, "red-glaze"), Qt.Key.Key_F2)
    QTest.keyClicks(page.details.name, "<b>poppy</b> & rose")
    QTest.keyClick(page.details.name, Qt.Key.Key_Return)
    assert on_shelf(bridge, "red-glaze").name == "<b>poppy</b> & rose"
    assert card(page, "red-glaze").accessibleName() == "<b>poppy</b> & rose"
    assert bridge.state.undo_label == "rename paint"


def test_an_empty_name_is_refused_and_the_old_one_comes_back(
    page: PaintsPage, bridge: Bridge, qtbot: QtBot
) -> None:
    open_paint(page, "red-glaze")
    page.details.rename()
    QTest.keyClick(page.details.name, Qt.Key.Key_Delete)
    with qtbot.waitSignal(bridge.problem) as told:
        QTest.keyClick(page.details.name, Qt.Key.Key_Return)
    assert "no name" in told.args[0]
    assert on_shelf(bridge, "red-glaze").name == red_glaze().name
    assert page.details.name.text() == red_glaze().name


def test_duplicating_and_removing_by_key_can_be_undone(page: PaintsPage, bridge: Bridge) -> None:
    page.grid.focus_card("red-glaze")
    QTest.keyClick(card(page, "red-glaze"), Qt.Key.Key_D)
    names = [paint.name for paint in shelf(bridge)]
    assert names[3:5] == [red_glaze().name, f"{red_glaze().name}, copy"]
    twin = bridge.state.selection.paint_id
    assert card(page, twin).hasFocus()
    QTest.keyClick(card(page, twin), Qt.Key.Key_Delete)
    assert shelf(bridge) == small_paints()
    assert any(c.hasFocus() for c in page.grid.cards)
    bridge.session.undo()
    bridge.session.undo()
    assert shelf(bridge) == small_paints()


def test_a_paint_goes_into_the_picked_coats_mix(
    page: PaintsPage, bridge: Bridge, qtbot: QtBot
) -> None:
    new = replace(red_glaze(), id="new", name="new paint")
    bridge.session.edit_shelf("add", lambda held: (*held, new))
    bridge.session.select(zone_id="cloak", step_id="red")
    open_paint(page, "new")
    with qtbot.waitSignal(bridge.told) as told:
        QTest.mouseClick(page.details.buttons["mix"], Qt.MouseButton.LeftButton)
    project = bridge.state.project
    assert project.schemes[0].mix("red-pot").parts_of("new") == 1.0
    assert project.paint("new") == new
    assert '"red"' in told.args[0]
    assert '"warm"' in told.args[0]
    bridge.session.undo()
    assert bridge.state.project.schemes[0].mix("red-pot").parts_of("new") == 0.0
    with qtbot.waitSignal(bridge.problem) as refused:
        page.grid.focus_card("red-glaze")
        QTest.keyClick(card(page, "red-glaze"), Qt.Key.Key_M)
    assert "already" in refused.args[0]


def test_without_a_coat_the_button_says_why_not(page: PaintsPage, bridge: Bridge) -> None:
    bridge.edit(
        "strip",
        lambda p: replace(p, schemes=(replace(p.schemes[0], steps=(), mixes=(), shares=()),)),
    )
    open_paint(page, "red-glaze")
    mix = page.details.buttons["mix"]
    assert not mix.isEnabled()
    assert "Coats page" in mix.toolTip()
    assert "Coats page" in mix.accessibleDescription()


def test_a_drag_carries_the_paint(page: PaintsPage) -> None:
    drag = card(page, "red-glaze").make_drag()
    assert isinstance(drag, QDrag)
    assert paint_id_from(drag.mimeData()) == "red-glaze"
    assert drag.mimeData().text() == red_glaze().name
    assert not drag.pixmap().isNull()


def test_a_hand_that_moves_far_enough_drags_and_does_not_open(
    page: PaintsPage, bridge: Bridge, monkeypatch: pytest.MonkeyPatch
) -> None:
    started: list[str] = []
    monkeypatch.setattr(
        QDrag, "exec", lambda drag, _action: started.append(paint_id_from(drag.mimeData()))
    )
    glaze = card(page, "red-glaze")
    QTest.mousePress(glaze, Qt.MouseButton.LeftButton, pos=QPoint(40, 40))
    QTest.mouseMove(glaze, QPoint(42, 40))
    assert started == []
    QTest.mouseMove(glaze, QPoint(90, 60))
    QTest.mouseRelease(glaze, Qt.MouseButton.LeftButton, pos=QPoint(500, 500))
    assert started == ["red-glaze"]
    assert bridge.state.selection.paint_id == ""


@pytest.mark.parametrize("data", [b"", b"\xff\xfe", b"x" * 65])
def test_a_drag_of_nonsense_carries_no_paint(data: bytes) -> None:
    mime = QMimeData()
    mime.setData(PAINT_MIME, data)
    assert paint_id_from(mime) == ""
    assert paint_id_from(QMimeData()) == ""
    assert paint_id_from(paint_mime(off_white())) == "off-white"


def test_a_paint_that_changed_is_told_by_name_and_the_shelfs_can_be_used(
    page: PaintsPage, bridge: Bridge
) -> None:
    assert page.differs.text == ""
    open_paint(page, "red-glaze")
    page.details.density.setValue(1.3)
    assert red_glaze().name in page.differs.text
    assert "solids or density" in page.differs.text
    assert "differs" in card(page, "red-glaze").accessibleDescription()
    assert bridge.state.project.paint("red-glaze").density_g_per_ml != 1.3
    page.details.density.setValue(1.4)
    QTest.mouseClick(page.differs.buttons[0], Qt.MouseButton.LeftButton)
    assert bridge.state.project.paint("red-glaze").density_g_per_ml == 1.4
    assert page.differs.text == ""


def test_the_projects_own_version_can_be_kept(page: PaintsPage, bridge: Bridge) -> None:
    open_paint(page, "red-glaze")
    page.details.density.setValue(1.3)
    before = bridge.state.project
    QTest.mouseClick(page.differs.buttons[1], Qt.MouseButton.LeftButton)
    assert page.differs.text == ""
    assert bridge.state.project is before
    page.details.density.setValue(1.5)
    assert page.differs.text != "", "another change is another question"


def test_paints_that_a_project_brings_can_be_put_on_the_shelf(
    page: PaintsPage, bridge: Bridge
) -> None:
    bridge.session.edit_shelf("lose one", lambda held: held[:-1])
    lost = small_paints()[-1]
    assert lost.name in page.differs.text
    QTest.mouseClick(page.differs.buttons[0], Qt.MouseButton.LeftButton)
    assert shelf(bridge) == small_paints()
    assert page.differs.text == ""


@pytest.mark.parametrize("suffix", [".json", ".csv"])
def test_exporting_and_importing_through_the_dialogs(
    page: PaintsPage,
    bridge: Bridge,
    tmp_path: Path,
    monkeypatch: pytest.MonkeyPatch,
    suffix: str,
) -> None:
    path = tmp_path / f"mine{suffix}"
    monkeypatch.setattr(QFileDialog, "getSaveFileName", lambda *_: (str(path), ""))
    monkeypatch.setattr(QFileDialog, "getOpenFileName", lambda *_: (str(path), ""))
    QTest.mouseClick(page.hand_out, Qt.MouseButton.LeftButton)
    bridge.session.edit_shelf("clear", lambda _shelf: ())
    QTest.mouseClick(page.empty.import_first, Qt.MouseButton.LeftButton)
    assert shelf(bridge) == small_paints()
    assert bridge.state.undo_label == "import paints"


@pytest.mark.parametrize(
    ("answer", "note", "count"), [(0, "theirs", 5), (1, "", 6), (2, "", 5), (3, "", 5)]
)
def test_a_paint_that_differs_in_the_file_is_asked_about(
    page: PaintsPage,
    bridge: Bridge,
    tmp_path: Path,
    answer: int,
    note: str,
    count: int,
) -> None:
    path = tmp_path / "theirs.json"
    export_paints((replace(red_glaze(), note="theirs"),), path)
    page.transfer.import_from(path)
    assert red_glaze().name in page.transfer.clash.text
    assert shelf(bridge) == small_paints()
    QTest.mouseClick(page.transfer.clash.buttons[answer], Qt.MouseButton.LeftButton)
    assert on_shelf(bridge, "red-glaze").note == note
    assert len(shelf(bridge)) == count
    assert page.transfer.clash.text == ""


def test_a_bad_file_is_told_and_the_shelf_stays(
    page: PaintsPage, bridge: Bridge, window: MainWindow, tmp_path: Path
) -> None:
    path = tmp_path / "bad.csv"
    path.write_bytes(b"\xff\xfe\x00")
    page.transfer.import_from(path)
    assert "bad.csv" in window.notice.text
    assert shelf(bridge) == small_paints()
    assert bridge.state.undo_label == ""


def test_what_another_window_did_is_there_when_this_one_comes_to_the_front(
    qtbot: QtBot, window: MainWindow, bridge: Bridge, places: Places
) -> None:
    other = ShelfStore(places.shelf_file)
    mine = shelf(bridge)
    added = replace(mine[0], id="from-there", name="From there")
    assert other.load() == mine
    other.save((*mine, added))
    with qtbot.waitSignal(bridge.told) as told:
        QApplication.sendEvent(window, QEvent(QEvent.Type.ActivationChange))
    assert told.args == ["Another window changed one paint of the shelf."]
    assert shelf(bridge) == (*mine, added)
    assert not bridge.session.undo()
    other.save(mine[1:])
    with qtbot.waitSignal(bridge.told) as told:
        QApplication.sendEvent(window, QEvent(QEvent.Type.ActivationChange))
    assert told.args == ["Another window changed 2 paints of the shelf."]
    assert shelf(bridge) == mine[1:]


def test_a_shelf_that_is_damaged_meanwhile_leaves_the_window_as_it_is(
    window: MainWindow, bridge: Bridge, places: Places
) -> None:
    mine = shelf(bridge)
    places.shelf_file.write_bytes(b"\0not a shelf" * 99)
    QApplication.sendEvent(window, QEvent(QEvent.Type.ActivationChange))
    assert shelf(bridge) == mine
