"""Files at the window: nothing unsaved is lost without a word."""

from pathlib import Path

import pytest
from PySide6.QtCore import QMimeData, QPoint, Qt, QTimer, QUrl
from PySide6.QtGui import QDragEnterEvent, QDropEvent
from PySide6.QtWidgets import QApplication, QFileDialog, QMessageBox
from pytestqt.qtbot import QtBot

from schemeforge.desk import Page
from schemeforge.export.recipe_strip import write_strip
from schemeforge.gui.batch.page import BatchPage
from schemeforge.gui.bridge import Bridge
from schemeforge.gui.files import demo_project
from schemeforge.gui.main_window import MainWindow
from schemeforge.scheme import edits
from schemeforge.scheme.project_file import load, save
from tests.builders import small_project


@pytest.fixture
def window(qtbot: QtBot, bridge: Bridge) -> MainWindow:
    """A window that asks before it leaves unsaved work."""
    made = MainWindow(bridge)
    qtbot.addWidget(
        made, before_close_func=lambda _w: setattr(made.files, "may_leave", lambda: True)
    )
    made.show()
    return made


@pytest.fixture
def saved(tmp_path: Path) -> Path:
    path = tmp_path / "saved.schemeforge"
    save(small_project(), path)
    return path


def answer(label: str, seen: list[str] | None = None) -> None:
    """Press that button of the next question."""

    def press() -> None:
        box = QApplication.activeModalWidget()
        assert isinstance(box, QMessageBox)
        assert box.textFormat() is Qt.TextFormat.PlainText
        if seen is not None:
            seen.append(f"{box.text()} {box.informativeText()}")
        button = next(b for b in box.buttons() if b.text().replace("&", "") == label)
        button.click()

    QTimer.singleShot(0, press)


def choose(monkeypatch: pytest.MonkeyPatch, method: str, path: Path | str) -> None:
    """Have the file dialog give that path."""
    monkeypatch.setattr(QFileDialog, method, lambda *_args: (str(path), ""))


def rename(window: MainWindow, name: str) -> None:
    assert window.bridge.edit("rename", lambda p: edits.rename_project(p, name))


def trigger(window: MainWindow, label: str) -> None:
    """Choose an entry of the menus."""
    for _, actions in window.menus.listed():
        for action in actions:
            if action.text().replace("&", "").startswith(label):
                action.trigger()
                return
    raise AssertionError(label)


def test_new_begins_a_project_that_can_be_painted(window: MainWindow) -> None:
    trigger(window, "New")
    state = window.bridge.state
    assert (state.path, state.is_saved) == (None, True)
    assert [len(state.project.zones), len(state.project.schemes)] == [1, 1]
    assert window.windowTitle().startswith("New batch")


def test_open_by_dialog_then_recent(
    window: MainWindow, saved: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    choose(monkeypatch, "getOpenFileName", "")
    trigger(window, "Open...")
    assert window.bridge.state.path is None
    choose(monkeypatch, "getOpenFileName", saved)
    trigger(window, "Open...")
    assert window.bridge.state.path == saved
    assert window.windowTitle() == "saved.schemeforge[*] – SchemeForge"
    (recent,) = window.menus.recent.actions()
    assert recent.text() == str(saved)
    trigger(window, "Open the demo")
    assert window.bridge.state.project == demo_project()
    recent.trigger()
    assert window.bridge.state.path == saved


def test_a_recent_file_that_is_gone_says_so_and_goes(window: MainWindow, saved: Path) -> None:
    window.files.open(saved)
    saved.unlink()
    window.menus.recent.actions()[0].trigger()
    assert "There is no such file" in window.notice.text
    assert not window.menus.recent.isEnabled()


@pytest.mark.parametrize("label", ["Cancel", "Discard", "Save"])
def test_unsaved_work_is_asked_about(
    window: MainWindow,
    saved: Path,
    tmp_path: Path,
    monkeypatch: pytest.MonkeyPatch,
    label: str,
) -> None:
    rename(window, "<b>mine</b>")
    choose(monkeypatch, "getSaveFileName", tmp_path / "mine.schemeforge")
    seen: list[str] = []
    answer("Don't Save" if label == "Discard" and _has_dont_save() else label, seen)
    opened = window.files.open(saved)
    assert seen == ["Save the changes first? <b>mine</b>"]
    assert opened is (label != "Cancel")
    assert window.bridge.state.project.name == (
        "<b>mine</b>" if label == "Cancel" else small_project().name
    )
    assert (tmp_path / "mine.schemeforge").exists() is (label == "Save")


def _has_dont_save() -> bool:
    box = QMessageBox()
    box.setStandardButtons(QMessageBox.StandardButton.Discard)
    return "Save" in box.buttons()[0].text()


def test_saving_that_is_given_up_leaves_nothing(
    window: MainWindow, saved: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    rename(window, "mine")
    choose(monkeypatch, "getSaveFileName", "")
    answer("Save")
    assert not window.files.open(saved)
    assert window.bridge.state.project.name == "mine"


def test_save_asks_for_a_file_once_and_says_where(
    window: MainWindow, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    rename(window, "mine")
    assert window.isWindowModified()
    choose(monkeypatch, "getSaveFileName", tmp_path / "mine")
    trigger(window, "Save")
    path = tmp_path / "mine.schemeforge"
    assert load(path).name == "mine"
    assert not window.isWindowModified()
    assert str(path) in window.notice.text
    monkeypatch.setattr(QFileDialog, "getSaveFileName", None)
    rename(window, "again")
    trigger(window, "Save")
    assert load(path).name == "again"


def test_save_as_suggests_a_file_named_like_the_project(
    window: MainWindow, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    offered: list[str] = []

    def ask(_window: object, _title: str, start: str, _filter: str) -> tuple[str, str]:
        offered.append(start)
        return "", ""

    monkeypatch.setattr(QFileDialog, "getSaveFileName", ask)
    rename(window, "Reeds: 3/4 <b>done</b>")
    trigger(window, "Save as")
    assert Path(offered[-1]).name == "Reeds- 3-4 -b-done-b.schemeforge"
    assert Path(offered[-1]).parent == Path.home()
    window.bridge.session.save(tmp_path / "own.schemeforge")
    trigger(window, "Save as")
    assert Path(offered[-1]) == tmp_path / "own.schemeforge"


def test_saving_takes_along_what_is_just_typed(
    window: MainWindow, tmp_path: Path, qtbot: QtBot
) -> None:
    window.bridge.session.save(tmp_path / "own.schemeforge")
    window.bridge.session.select(page=Page.BATCH)
    page = window.page(Page.BATCH)
    assert isinstance(page, BatchPage)
    page.unfold()
    box = page.steps.editor.texts["note"]
    assert box.isVisible()
    window.activateWindow()
    box.setFocus()
    qtbot.waitUntil(box.hasFocus)
    box.selectAll()
    qtbot.keyClicks(box, "mind the beak")
    trigger(window, "Save")
    notes = [step.note for step in load(tmp_path / "own.schemeforge").schemes[0].steps]
    assert "mind the beak" in notes
    assert box.hasFocus()


def test_a_name_completed_to_one_that_exists_is_asked_about(
    window: MainWindow, saved: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    before = saved.read_bytes()
    choose(monkeypatch, "getSaveFileName", saved.with_suffix(""))
    answer("Cancel")
    trigger(window, "Save as")
    assert saved.read_bytes() == before
    answer("Replace it")
    trigger(window, "Save as")
    assert saved.read_bytes() != before


def test_a_file_that_another_window_changed_is_not_written_over_unasked(
    window: MainWindow, saved: Path
) -> None:
    window.files.open(saved)
    rename(window, "mine")
    save(edits.rename_project(small_project(), "theirs"), saved)
    answer("Cancel")
    trigger(window, "Save")
    assert load(saved).name == "theirs"
    assert window.isWindowModified()
    answer("Save over it")
    trigger(window, "Save")
    assert load(saved).name == "mine"
    assert load(saved.with_name("saved.schemeforge.bak")).name == "theirs"
    rename(window, "more")
    trigger(window, "Save")  # not asked again
    assert load(saved).name == "more"


def test_going_back_to_the_saved_file(window: MainWindow, saved: Path) -> None:
    assert not window.menus.revert.isEnabled()
    window.files.open(saved)
    rename(window, "mine")
    answer("Cancel")
    trigger(window, "Go back")
    assert window.bridge.state.project.name == "mine"
    answer("Go back")
    trigger(window, "Go back")
    assert window.bridge.state.project == small_project()
    assert not window.menus.undo.isEnabled()


def test_a_file_that_cannot_be_written_is_said(
    window: MainWindow, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    rename(window, "mine")
    choose(monkeypatch, "getSaveFileName", tmp_path / "none" / "mine.schemeforge")
    trigger(window, "Save")
    assert "folder is not there" in window.notice.text
    assert window.isWindowModified()


def drop(window: MainWindow, *urls: QUrl) -> bool:
    """Drag those over the window and let go; False where the window does not take them."""
    data = QMimeData()
    data.setUrls(list(urls))
    where, copy = QPoint(200, 200), Qt.DropAction.CopyAction
    none = (Qt.MouseButton.LeftButton, Qt.KeyboardModifier.NoModifier)
    enter = QDragEnterEvent(where, copy, data, *none)
    enter.ignore()
    window.dragEnterEvent(enter)
    window.dropEvent(QDropEvent(where.toPointF(), copy, data, *none))
    return enter.isAccepted()


def test_a_project_dropped_on_the_window_opens(
    qtbot: QtBot, window: MainWindow, saved: Path
) -> None:
    assert drop(window, QUrl.fromLocalFile(str(saved)))
    qtbot.waitUntil(lambda: window.bridge.state.path == saved)


@pytest.mark.parametrize("name", ["strip.png", "strip.of.unknown.kind"])
def test_a_recipe_strip_dropped_on_the_window_opens_as_new_work(
    qtbot: QtBot, window: MainWindow, tmp_path: Path, name: str
) -> None:
    project = small_project()
    write_strip(project, project.schemes[0].id, tmp_path / "strip.png")
    (tmp_path / "strip.png").rename(tmp_path / name)
    assert drop(window, QUrl.fromLocalFile(str(tmp_path / name)))
    qtbot.waitUntil(lambda: window.bridge.state.project.name == project.name)
    state = window.bridge.state
    assert (state.path, state.is_saved) == (None, False)


def test_anything_else_dropped_is_refused_in_a_sentence(
    qtbot: QtBot, window: MainWindow, tmp_path: Path
) -> None:
    picture = tmp_path / "picture.png"
    picture.write_bytes(b"no picture")
    before = window.bridge.state.document
    assert drop(window, QUrl.fromLocalFile(str(picture)))
    qtbot.waitUntil(lambda: "not a PNG picture" in window.notice.text)
    assert not drop(window, QUrl("https://example.org/a.schemeforge"))
    assert not drop(window)
    assert drop(window, QUrl.fromLocalFile(str(tmp_path)))
    qtbot.waitUntil(lambda: "not a file" in window.notice.text)
    assert window.bridge.state.document is before


def close_with(window: MainWindow, label: str) -> bool:
    answer(label)
    return window.close()


def test_closing_asks_and_cancel_keeps_the_window(window: MainWindow) -> None:
    rename(window, "mine")
    assert not close_with(window, "Cancel")
    assert window.isVisible()
    rename(window, "still works")
    assert window.bridge.state.project.name == "still works"


@pytest.mark.parametrize("keep", [False, True])
def test_closing_leaves_no_journal(
    window: MainWindow, tmp_path: Path, monkeypatch: pytest.MonkeyPatch, *, keep: bool
) -> None:
    rename(window, "mine")
    assert window.bridge.session.journal.flush()
    assert window.bridge.session.journal.file.exists()
    choose(monkeypatch, "getSaveFileName", tmp_path / "mine.schemeforge")
    label = "Save" if keep else ("Don't Save" if _has_dont_save() else "Discard")
    assert close_with(window, label)
    assert not window.bridge.session.journal.file.exists()
    assert (tmp_path / "mine.schemeforge").exists() is keep
