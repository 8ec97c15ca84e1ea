"""The window's frame: pages, menus, title, what it offers, and what it keeps."""

import sys
import threading
from collections.abc import Callable, Iterator
from pathlib import Path

import pytest
from PySide6.QtCore import QSettings, Qt, QTimer
from PySide6.QtGui import QKeySequence, QShortcut
from PySide6.QtWidgets import QApplication, QDialogButtonBox, QLabel, QLineEdit, QToolButton
from pytestqt.qtbot import QtBot

from schemeforge.desk import Page, Places, Session, Surround
from schemeforge.errors import InputError
from schemeforge.gui import app as app_module
from schemeforge.gui.app import greet, make_application, make_bridge
from schemeforge.gui.bridge import Bridge
from schemeforge.gui.files import demo_project
from schemeforge.gui.help import AboutDialog, KeysDialog
from schemeforge.gui.keys import Key, tell_keys, told_keys
from schemeforge.gui.main_window import MainWindow
from schemeforge.gui.project_dialog import ProjectDialog
from schemeforge.gui.rail import ProjectName
from schemeforge.gui.trouble import catch_trouble
from schemeforge.gui.widgets.notice import Offer
from schemeforge.plan import cautions
from schemeforge.scheme import edits
from schemeforge.scheme.project_file import save
from tests.builders import small_project

CTRL = Qt.KeyboardModifier.ControlModifier
CTRL_SHIFT = CTRL | Qt.KeyboardModifier.ShiftModifier


@pytest.mark.parametrize(("number", "page"), list(enumerate(Page, 1)))
def test_pages_by_key_and_by_rail(
    qtbot: QtBot, window: MainWindow, number: int, page: Page
) -> None:
    away = Page.BATCH if page is not Page.BATCH else Page.COATS
    for by_key in (True, False):
        window.bridge.session.select(page=away)
        if by_key:
            qtbot.keyClick(window, Qt.Key(Qt.Key.Key_0 + number), CTRL)
        else:
            qtbot.mouseClick(window.rail.buttons[page], Qt.MouseButton.LeftButton)
        assert window.bridge.state.selection.page is page
        assert window.page(page).isVisible()
        assert not window.page(away).isVisible()
        assert window.rail.buttons[page].isChecked()
        assert window.menus.pages[page].isChecked()
        assert window.page(page) is window.page(page)


def test_the_focus_goes_along_with_the_page(qtbot: QtBot, window: MainWindow) -> None:
    window.page(Page.COATS).focus_first().setFocus()
    qtbot.keyClick(window, Qt.Key.Key_3, CTRL)
    focus = QApplication.focusWidget()
    assert focus is not None
    assert window.page(Page.SCHEMES).isAncestorOf(focus)
    window.rail.buttons[Page.COATS].setFocus()
    qtbot.keyClick(window.rail.buttons[Page.COATS], Qt.Key.Key_Space)
    assert window.bridge.state.selection.page is Page.COATS
    assert window.rail.buttons[Page.COATS].hasFocus()


def test_title_and_rail_tell_what_is_unsaved(window: MainWindow, tmp_path: Path) -> None:
    assert window.windowTitle() == "The Saltmarsh Wardens[*] – SchemeForge"
    assert not window.isWindowModified()
    window.bridge.edit("rename", lambda p: edits.rename_project(p, "Odd [*] & <b>name</b>"))
    assert window.windowTitle() == "Odd [*][*] & <b>name</b>[*] – SchemeForge"
    assert window.isWindowModified()
    texts = [label.text() for label in window.rail.findChildren(QLabel)]
    assert "Odd [*] & <b>name</b>" in texts
    assert "not saved" in texts
    window.bridge.session.save(tmp_path / "a.schemeforge")
    assert "not saved" not in [label.text() for label in window.rail.findChildren(QLabel)]


def test_name_and_note_of_the_project_are_changed_at_once(qtbot: QtBot, window: MainWindow) -> None:
    before = window.bridge.state.project
    said: list[str] = []

    def write(name: str, note: str) -> Callable[[], None]:
        def do() -> None:
            dialog = QApplication.activeModalWidget()
            assert isinstance(dialog, ProjectDialog)
            dialog.name.setText(name)
            dialog.note.setPlainText(note)
            dialog.buttons.button(QDialogButtonBox.StandardButton.Ok).click()
            said.append(window.notice.text)
            dialog.reject()

        return do

    label = window.rail.findChild(ProjectName)
    assert label is not None
    qtbot.mouseClick(label, Qt.MouseButton.LeftButton)
    QTimer.singleShot(0, write("Reeds  & <b>lanterns</b>", "for <i>May</i>\ntwo left"))
    qtbot.waitUntil(lambda: bool(said))
    assert window.bridge.state.project.name == "Reeds & <b>lanterns</b>"
    assert window.bridge.state.project.note == "for <i>May</i>\ntwo left"
    assert label.text() == "Reeds & <b>lanterns</b>"
    assert "for &lt;i&gt;May&lt;/i&gt;<br>two left" in label.toolTip()
    window.activateWindow()
    qtbot.waitUntil(window.isActiveWindow)
    QTimer.singleShot(0, write(" ", "x"))
    qtbot.keyClick(window, Qt.Key.Key_F2, Qt.KeyboardModifier.ShiftModifier)
    assert "no name" in said[-1]
    assert window.bridge.state.project.note == "for <i>May</i>\ntwo left"
    window.bridge.session.undo()
    assert window.bridge.state.project == before
    window.notice.dismiss()


def test_a_notice_moves_nothing_and_an_offer_has_room_of_its_own(
    qtbot: QtBot, window: MainWindow
) -> None:
    window.notice.dismiss()
    assert window.notice.isHidden()
    page = window.page(window.bridge.state.selection.page)
    before = page.mapTo(window, page.rect().topLeft()), page.size()
    window.bridge.problem.emit("Something long could not be done. " * 12)
    assert window.notice.isVisible()
    qtbot.waitUntil(lambda: window.notice.height() > 2 * window.fontMetrics().height())
    assert (page.mapTo(window, page.rect().topLeft()), page.size()) == before
    notice, desk = window.notice.geometry(), page.parentWidget()
    assert desk is not None
    assert notice.bottom() == desk.geometry().bottom()
    assert window.childAt(window.notice.mapTo(window, window.notice.rect().center())) in (
        window.notice.findChildren(QLabel)
    )
    window.resize(1300, 800)
    qtbot.waitUntil(lambda: window.notice.width() == page.width())
    window.notice.dismiss()
    window.notice.offer(Offer(sentence="Try this?"))
    qtbot.waitUntil(lambda: desk.geometry().bottom() < window.notice.geometry().top())
    window.notice.dismiss()
    window.resize(1440, 900)
    qtbot.waitUntil(lambda: page.size() == before[1])


def test_undo_and_redo_by_key_name_what_they_do(qtbot: QtBot, window: MainWindow) -> None:
    assert not window.menus.undo.isEnabled()
    window.bridge.edit("this & that", lambda p: edits.rename_project(p, "new"))
    assert window.menus.undo.text() == "&Undo: this && that"
    qtbot.keyClick(window, Qt.Key.Key_Z, CTRL)
    assert window.bridge.state.project == demo_project()
    assert window.menus.redo.text() == "&Redo: this && that"
    qtbot.keyClick(window, Qt.Key.Key_Z, CTRL_SHIFT)
    assert window.bridge.state.project.name == "new"
    qtbot.keyClick(window, Qt.Key.Key_Z, CTRL)
    qtbot.keyClick(window, Qt.Key.Key_Y, CTRL)
    assert window.bridge.state.project.name == "new"


def test_view_menu_shows_and_changes_what_is_on(window: MainWindow) -> None:
    for surround, action in window.menus.surrounds.items():
        action.trigger()
        assert window.bridge.state.preferences.surround is surround
        assert [s for s, a in window.menus.surrounds.items() if a.isChecked()] == [surround]
    window.menus.surrounds[Surround.GREY].trigger()
    window.menus.numbers.trigger()
    assert window.bridge.state.preferences.numbers
    assert window.view_bar.numbers.isChecked()
    window.bridge.session.prefer(numbers=False)
    assert not window.menus.numbers.isChecked()


def test_geometry_and_page_are_restored(qtbot: QtBot, places: Places, tmp_path: Path) -> None:
    settings = QSettings(str(tmp_path / "window.ini"), QSettings.Format.IniFormat)

    def opened() -> MainWindow:
        bridge = Bridge(Session(small_project(), places=places))
        window = MainWindow(bridge, settings)
        qtbot.addWidget(window)
        window.show()
        return window

    first = opened()
    first.resize(1100, 730)  # the screen of the tests is small
    first.bridge.session.select(page=Page.BATCH)
    assert first.close()
    again = opened()
    assert (again.width(), again.height()) == (1100, 730)
    assert again.bridge.state.selection.page is Page.BATCH
    assert again.close()
    settings.setValue("page", "no such page")
    settings.setValue("geometry", "no geometry")
    third = opened()
    assert third.bridge.state.selection.page is Page.COATS
    assert third.close()


# Starting


def leave(window: MainWindow) -> None:
    """Close without a question."""
    window.files.may_leave = lambda: True  # type: ignore[method-assign]


@pytest.fixture
def at_home(qtbot: QtBot, places: Places) -> Iterator[Callable[[Path | None], MainWindow]]:
    """Starts windows as the program does, over the same folders."""
    made: list[MainWindow] = []

    def start(path: Path | None = None) -> MainWindow:
        bridge, note = make_bridge(places, path)
        window = MainWindow(bridge)
        qtbot.addWidget(window, before_close_func=leave)
        greet(window, note)
        window.show()
        made.append(window)
        return window

    yield start
    for window in made:
        window.bridge.close()
        window.bridge.session.close()


def test_the_first_start_opens_the_demo_and_points_to_the_first_thing_to_try(
    qtbot: QtBot, at_home: Callable[[Path | None], MainWindow]
) -> None:
    window = at_home(None)
    state = window.bridge.state
    assert state.project == demo_project()
    assert (state.selection.page, state.path, state.is_saved) == (Page.COATS, None, True)
    assert state.document.shelf
    assert window.notice.text.startswith("Try this first")
    window.bridge.session.select(page=Page.BATCH)
    qtbot.mouseClick(window.notice.buttons[0], Qt.MouseButton.LeftButton)
    assert window.bridge.state.selection.page is Page.COATS
    assert window.focusWidget() is window.page(Page.COATS).focus_first()
    assert at_home(None).notice.text == ""


def test_the_pointer_is_dismissed_for_good_but_can_be_had_again(
    at_home: Callable[[Path | None], MainWindow],
) -> None:
    window = at_home(None)
    window.notice.dismiss()
    assert window.bridge.state.preferences.pointer_dismissed
    later = at_home(None)
    assert later.notice.text == ""
    next(a for _, listed in later.menus.listed() for a in listed if "try" in a.text()).trigger()
    assert later.notice.text.startswith("Try this first")


def test_later_starts_open_the_file_opened_last(
    at_home: Callable[[Path | None], MainWindow], tmp_path: Path
) -> None:
    path = tmp_path / "mine.schemeforge"
    save(small_project(), path)
    assert at_home(path).bridge.state.path == path
    assert at_home(None).bridge.state.path == path
    path.unlink()
    window = at_home(None)
    assert window.bridge.state.project == demo_project()
    assert "There is no such file" in window.notice.text
    window.notice.dismiss()
    assert window.notice.text.startswith("Try this first")
    assert "no such file" not in at_home(None).notice.text


def test_a_bad_file_opens_the_demo_and_says_why(
    at_home: Callable[[Path | None], MainWindow], tmp_path: Path
) -> None:
    bad = tmp_path / "bad.schemeforge"
    bad.write_text("{", encoding="utf-8")
    window = at_home(bad)
    assert window.bridge.state.project == demo_project()
    assert str(bad) in window.notice.text
    assert bad.read_text(encoding="utf-8") == "{"


def test_unsaved_work_of_crashed_runs_is_offered_newest_first(
    qtbot: QtBot, at_home: Callable[[Path | None], MainWindow], places: Places
) -> None:
    for name in ("older", "newer"):
        crashed = Session(small_project(), places=places)
        crashed.edit("rename", lambda p, n=name: edits.rename_project(p, n))  # type: ignore[misc]
        crashed.close(keep_journal=True)
    window = at_home(None)
    assert '"newer"' in window.notice.text
    qtbot.mouseClick(window.notice.buttons[0], Qt.MouseButton.LeftButton)
    assert window.bridge.state.project.name == "newer"
    assert window.isWindowModified()
    assert '"older"' in window.notice.text
    other = at_home(None)  # a second window offers only what no run holds
    assert '"older"' in other.notice.text
    other.notice.dismiss()
    assert other.notice.text.startswith("Try this first")
    window.files.may_leave = lambda: False  # type: ignore[method-assign]
    qtbot.mouseClick(window.notice.buttons[0], Qt.MouseButton.LeftButton)
    assert window.bridge.state.project.name == "newer"
    window.notice.dismiss()
    assert '"older"' in window.notice.text  # not taken up, so still there to be answered
    qtbot.mouseClick(window.notice.buttons[1], Qt.MouseButton.LeftButton)
    assert window.bridge.session.leftovers() == ()


def test_two_windows_side_by_side_leave_each_others_work_alone(
    at_home: Callable[[Path | None], MainWindow],
) -> None:
    one, two = at_home(None), at_home(None)
    for number, window in enumerate((one, two)):
        name = f"w{number}"
        window.bridge.edit("rename", lambda p, n=name: edits.rename_project(p, n))  # type: ignore[misc]
        assert window.bridge.session.journal.flush()
    assert one.bridge.session.leftovers() == two.bridge.session.leftovers() == ()
    leave(two)
    assert two.close()
    assert one.bridge.session.journal.file.exists()


def test_a_journal_that_cannot_be_written_is_said_once(
    qtbot: QtBot, at_home: Callable[[Path | None], MainWindow], places: Places
) -> None:
    places.data.mkdir(parents=True, exist_ok=True)
    places.journals.touch()
    window = at_home(None)
    window.bridge.edit("rename", lambda p: edits.rename_project(p, "one"))
    qtbot.waitUntil(lambda: "cannot be kept against a crash" in window.notice.text)
    window.notice.dismiss()
    window.bridge.edit("rename", lambda p: edits.rename_project(p, "two"))
    window.bridge.session.journal.flush()
    QApplication.processEvents()
    assert "crash" not in window.notice.text


def test_running_and_closing_the_program(
    qtbot: QtBot, monkeypatch: pytest.MonkeyPatch, tmp_path: Path
) -> None:
    """The whole of ``run_window``, closed by its own Quit."""
    del qtbot
    monkeypatch.setenv("SCHEMEFORGE_HOME", str(tmp_path))
    monkeypatch.setattr("signal.signal", lambda *_args: None)
    hook, interval = sys.excepthook, sys.getswitchinterval()
    shown: list[str] = []

    def quit_soon() -> None:
        window = next(w for w in QApplication.topLevelWidgets() if isinstance(w, MainWindow))
        shown.append(window.windowTitle())
        assert sys.excepthook is not hook
        window.close()

    QTimer.singleShot(0, quit_soon)
    try:
        assert app_module.run_window(None) == 0
    finally:
        sys.setswitchinterval(interval)
    assert shown == ["The Saltmarsh Wardens[*] – SchemeForge"]
    assert sys.excepthook is hook
    assert (tmp_path / "window.ini").exists()
    assert (tmp_path / "shelf.sqlite3").exists()


def test_the_application_is_made_once(qtbot: QtBot) -> None:
    del qtbot
    assert make_application() is QApplication.instance()


# Trouble


@pytest.fixture
def say(tmp_path: Path) -> Iterator[list[str]]:
    said: list[str] = []
    restore = catch_trouble(said.append, tmp_path / "deep" / "trouble.log")
    yield said
    restore()


def raise_in_hook(error: BaseException) -> None:
    def fail() -> None:
        raise error

    try:
        fail()
    except BaseException as caught:  # noqa: BLE001 - hands it to the hook as Python would
        sys.excepthook(type(caught), caught, caught.__traceback__)


def test_errors_meant_for_the_user_are_said_as_they_are(say: list[str], tmp_path: Path) -> None:
    raise_in_hook(InputError("The pot is empty", remedy="fill it"))
    assert say == ["The pot is empty; fill it."]
    assert not (tmp_path / "deep").exists()


def test_anything_else_is_said_in_a_sentence_and_written_down(
    say: list[str], tmp_path: Path
) -> None:
    log = tmp_path / "deep" / "trouble.log"
    raise_in_hook(ZeroDivisionError("inside"))
    (sentence,) = say
    assert sentence.startswith("Something unexpected happened (ZeroDivisionError);")
    assert str(log) in sentence
    assert "raise_in_hook" in log.read_text(encoding="utf-8")
    raise_in_hook(ValueError("again"))
    assert log.read_text(encoding="utf-8").count("Traceback") == 2
    log.write_text("x" * 600_000, encoding="utf-8")
    raise_in_hook(ValueError("third"))
    assert log.stat().st_size < 10_000


def test_where_no_log_can_be_written_it_is_still_said(say: list[str], tmp_path: Path) -> None:
    (tmp_path / "deep").touch()
    raise_in_hook(ValueError("inside"))
    assert say == ["Something unexpected happened (ValueError); your work is kept. Save it now."]


def test_trouble_on_other_threads_is_caught_too(say: list[str]) -> None:
    def fail() -> None:
        raise InputError("Beside the window")

    thread = threading.Thread(target=fail)
    thread.start()
    thread.join()
    assert say == ["Beside the window."]


def test_leaving_is_no_trouble(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    said: list[str] = []
    before: list[type[BaseException]] = []
    monkeypatch.setattr(sys, "excepthook", lambda kind, _error, _trace: before.append(kind))
    restore = catch_trouble(said.append, tmp_path / "trouble.log")
    for error in (KeyboardInterrupt(), SystemExit()):
        sys.excepthook(type(error), error, None)
    restore()
    assert said == []
    assert before == [KeyboardInterrupt, SystemExit]


def test_a_bridge_says_problems_from_any_thread_and_after_its_end_none(
    qtbot: QtBot, places: Places
) -> None:
    session = Session(small_project(), places=places)
    bridge = Bridge(session)
    with qtbot.waitSignal(bridge.problem) as heard:
        thread = threading.Thread(target=lambda: bridge.say_problem("from afar"))
        thread.start()
        thread.join()
    assert heard.args == ["from afar"]
    bridge.close()
    session.close()


# Help


def test_the_list_of_keys_is_made_from_what_answers_to_them(
    qtbot: QtBot, window: MainWindow
) -> None:
    dialog = window.keys_dialog()
    qtbot.addWidget(dialog)
    found = dict(dialog.sections)
    menu_keys = {key.keys: key.meaning for key in found["View"]}
    assert menu_keys["Ctrl+2"] == "Coats"
    assert {key.meaning for key in found["Project"]} >= {"New", "Open", "Save", "Save as"}
    assert any("strip" in key.meaning for key in found["Everywhere"])
    shown = {label.text() for label in dialog.findChildren(QLabel)}
    assert all(
        key.keys in shown and key.meaning in shown for _, keys in dialog.sections for key in keys
    )
    every = [
        action for _, actions in window.menus.listed() for action in actions if action.shortcuts()
    ]
    assert len(every) == sum(len(found[name]) for name, _ in window.menus.listed() if name in found)


def test_shortcuts_of_pages_are_listed_with_their_meaning(window: MainWindow) -> None:
    """A shortcut without a meaning would be missing from the list of keys."""
    silent = []
    for page in Page:
        window.bridge.session.select(page=page)
        found = window.page(page).findChildren(QShortcut)
        silent += [f"{page}: {s.key().toString()}" for s in found if not s.whatsThis()]
    assert silent == []


def test_no_two_keys_of_a_page_and_the_menus_are_the_same(window: MainWindow) -> None:
    menu = [
        sequence.toString()
        for _, actions in window.menus.listed()
        for action in actions
        for sequence in action.shortcuts()
    ]
    assert len(menu) == len(set(menu))
    for page in Page:
        window.bridge.session.select(page=page)
        own = [
            sequence.toString()
            for shortcut in window.page(page).findChildren(QShortcut)
            for sequence in shortcut.keys()  # noqa: SIM118 - no mapping
        ]
        assert not set(own) & set(menu), page
        assert len(own) == len(set(own)), page


def test_told_keys_are_found_once(qtbot: QtBot) -> None:
    field = QLineEdit()
    qtbot.addWidget(field)
    tell_keys(field, ("F5", "again"), ("F6", "anew"))
    button = QToolButton(field)
    tell_keys(button, ("F5", "again"))
    shortcut = QShortcut(QKeySequence("Ctrl+K"), field)
    assert told_keys(field) == [Key("F5", "again"), Key("F6", "anew")]
    shortcut.setWhatsThis("knit")
    assert told_keys(field)[0] == Key("Ctrl+K", "knit")


@pytest.mark.parametrize("label", ["Keys", "About SchemeForge"])
def test_help_opens_by_menu_and_closes_by_escape(
    qtbot: QtBot, window: MainWindow, label: str
) -> None:
    titles: list[str] = []

    def look() -> None:
        dialog = QApplication.activeModalWidget()
        assert isinstance(dialog, KeysDialog | AboutDialog)
        titles.append(dialog.windowTitle())
        qtbot.keyClick(dialog, Qt.Key.Key_Escape)

    QTimer.singleShot(0, look)
    action = next(
        a
        for _, listed in window.menus.listed()
        for a in listed
        if a.text().replace("&", "").startswith(label)
    )
    action.trigger()
    assert titles == [label]


def test_about_tells_licence_and_what_comes_first_where_work_can_hurt(
    qtbot: QtBot, window: MainWindow
) -> None:
    dialog = AboutDialog(window)
    qtbot.addWidget(dialog)
    text = " ".join(label.text() for label in dialog.findChildren(QLabel))
    assert "MIT licence" in text
    assert cautions.DEFER in text
