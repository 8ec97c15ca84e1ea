"""The whole job by keyboard and mouse alone, from the demo to the sheet and back from the file."""

from collections.abc import Iterator
from pathlib import Path

import numpy as np
import pytest
from numpy.typing import NDArray
from PySide6.QtCore import QPoint, Qt, QTimer
from PySide6.QtWidgets import QApplication, QFileDialog, QMenu, QWidget
from pytestqt.qtbot import QtBot

from schemeforge.appearance import zone_tile
from schemeforge.desk import Direction, Page, Places
from schemeforge.desk.handles import HandleKind
from schemeforge.gui.app import greet, make_bridge
from schemeforge.gui.coats.page import CoatsPage
from schemeforge.gui.files import demo_project
from schemeforge.gui.main_window import MainWindow
from schemeforge.gui.schemes.page import SchemesPage
from schemeforge.gui.sheet.page import SheetPage
from schemeforge.scheme import Coat, Project, Step, coloured_steps
from schemeforge.scheme.project_file import load

CTRL = Qt.KeyboardModifier.ControlModifier
CTRL_SHIFT = CTRL | Qt.KeyboardModifier.ShiftModifier
PLAIN = Qt.KeyboardModifier.NoModifier
LEFT = Qt.MouseButton.LeftButton
PATIENCE_MS = 30_000


@pytest.fixture
def window(qtbot: QtBot, tmp_path: Path) -> Iterator[MainWindow]:
    """The program as it starts the first time."""
    home = tmp_path / "home"
    bridge, note = make_bridge(Places(data=home, settings=home), None)
    made = MainWindow(bridge)
    greet(made, note)
    qtbot.addWidget(made, before_close_func=lambda _w: bridge.session.begin(demo_project()))
    made.resize(1440, 900)
    made.show()
    qtbot.waitExposed(made)
    yield made
    bridge.close()
    bridge.session.close()


class Painter:
    """Works the window by keys and mouse, and by nothing else."""

    def __init__(self, qtbot: QtBot, window: MainWindow) -> None:
        self.qtbot = qtbot
        self.window = window
        self.bridge = window.bridge

    @property
    def project(self) -> Project:
        """The document, to be looked at."""
        return self.bridge.state.project

    def press(self, key: Qt.Key, how: Qt.KeyboardModifier = PLAIN) -> None:
        """A key where the focus is; without a screen a closed menu leaves the window inactive."""
        if QApplication.focusWidget() is None:
            self.window.activateWindow()
            self.qtbot.waitUntil(lambda: QApplication.focusWidget() is not None)
        focus = QApplication.focusWidget()
        assert focus is not None
        self.qtbot.keyClick(focus, key, how)

    def click(self, widget: QWidget) -> None:
        """The left button on the middle of a widget."""
        self.qtbot.mouseClick(widget, LEFT)

    def drag(self, widget: QWidget, start: QPoint, by: QPoint) -> None:
        """Take hold, move in two goes, let go."""
        self.qtbot.mousePress(widget, LEFT, pos=start)
        self.qtbot.mouseMove(widget, start + by / 2)
        self.qtbot.mouseMove(widget, start + by)
        self.qtbot.mouseRelease(widget, LEFT, pos=start + by)

    def open_menu(self, key: Qt.Key, label: str) -> None:
        """Press a key that opens a menu, and click that entry of it."""
        poll = QTimer(self.window)

        def click() -> None:
            menu = QApplication.activePopupWidget()
            if not isinstance(menu, QMenu):
                return
            poll.stop()
            action = next(a for a in menu.actions() if a.text().replace("&", "") == label)
            self.qtbot.mouseClick(menu, LEFT, pos=menu.actionGeometry(action).center())

        poll.timeout.connect(click)
        poll.start(10)  # whether or not opening the menu waits for its end
        self.press(key)
        self.qtbot.waitUntil(lambda: not poll.isActive() and not QApplication.activePopupWidget())

    def step(self) -> Step:
        """The picked step."""
        step = self.bridge.state.step
        assert step is not None
        return step

    def coat(self) -> Coat:
        """The picked coat."""
        coat = self.step().coat
        assert coat is not None
        return coat

    def stack(self) -> tuple[Step, ...]:
        """The picked zone's coats in the picked scheme."""
        scheme, zone = self.bridge.state.scheme, self.bridge.state.zone
        assert scheme is not None
        assert zone is not None
        return coloured_steps(scheme, zone.id)

    def add_a_glaze(self, coats: CoatsPage) -> str:
        """On the reed cloak, picked in the strip of zones; gives the step's id."""
        self.click(coats.zones.chips[[zone.id for zone in self.project.zones].index("cloak")])
        assert self.bridge.state.selection.zone_id == "cloak"
        count = len(self.stack())
        self.click(coats.cutaway)
        self.open_menu(Qt.Key.Key_Insert, "Glaze")
        assert len(self.stack()) == count + 1
        assert self.coat().placement.along.is_even
        return self.step().id

    def feather(self, coats: CoatsPage) -> None:
        """In the cut from root to tip: its beginning and its full end are dragged."""
        coats.cutaway.setFocus()
        self.press(Qt.Key.Key_R)
        assert self.bridge.state.selection.direction is Direction.ALONG
        for kind, by in ((HandleKind.START, 90), (HandleKind.FEATHER_START, 240)):
            spots = coats.cutaway.handle_spots()
            spot = next(at for handle, at in spots if handle.kind is kind)
            self.drag(coats.cutaway, spot.toPoint(), QPoint(by, 0))
        along, width = self.coat().placement.along, coats.cutaway.area.width()
        assert along.start == pytest.approx(90 / width, abs=0.01)
        assert along.feather_start == pytest.approx(240 / width, abs=0.01)

    def duplicate_and_vary(self, coats: CoatsPage, step_id: str) -> str:
        """A copy of the scheme with a heavier glaze; gives its id."""
        self.press(Qt.Key.Key_3, CTRL)
        count, of = len(self.project.schemes), self.bridge.state.selection.scheme_id
        self.press(Qt.Key.Key_D, CTRL)
        assert len(self.project.schemes) == count + 1
        copied = self.bridge.state.selection.scheme_id
        assert copied != of
        self.press(Qt.Key.Key_2, CTRL)
        assert coats.cutaway.hasFocus()
        for _ in self.stack():
            if self.step().id != step_id:
                self.press(Qt.Key.Key_Up)
        assert self.step().id == step_id
        before = self.coat().wet_um
        for _ in range(8):
            self.press(Qt.Key.Key_Plus)
        assert self.coat().wet_um > 1.9 * before
        return copied

    def compare(self, schemes: SchemesPage, one: str, other: str) -> None:
        """Side by side: the cloak differs, the hide does not, in colours and in words."""
        self.press(Qt.Key.Key_3, CTRL)

        def compared() -> bool:
            found = schemes.comparison
            return found is not None and [e.scheme for e in found.schemes] == list(schemes.shown)

        self.qtbot.waitUntil(compared, timeout=PATIENCE_MS)
        left, right = (schemes.board.columns[key].cells for key in (one, other))
        assert not np.array_equal(left["cloak"].strip.xyz, right["cloak"].strip.xyz)
        assert np.array_equal(left["hide"].strip.xyz, right["hide"].strip.xyz)
        # Said once for the zones that are alike; the cell of the other one names its own.
        assert "unseen" in schemes.board.columns[other].head.differs.words.text()
        assert "\N{MIDDLE DOT}" not in right["hide"].words.text()
        assert "\N{MIDDLE DOT}" in right["cloak"].words.text()

    def undo_and_redo_everything(self) -> None:
        """To the beginning and back."""
        done, steps = self.project, 0
        while self.window.menus.undo.isEnabled():
            self.press(Qt.Key.Key_Z, CTRL)
            steps += 1
        assert self.project == demo_project()
        assert self.bridge.state.is_saved
        assert steps >= 5
        while self.window.menus.redo.isEnabled():
            self.press(Qt.Key.Key_Z, CTRL_SHIFT)
            steps -= 1
        assert steps == 0
        assert self.project == done


def colours_of(project: Project) -> dict[tuple[str, str], NDArray[np.float64]]:
    """Every stage of every zone of every scheme, over relief and along the part."""
    found = {}
    for scheme in project.schemes:
        for zone in project.zones:
            stages = zone_tile(project, scheme, zone.id, relief_count=8, along_count=5)
            found[scheme.id, zone.id] = np.stack([stage.xyz for stage in stages])
    return found


def test_from_the_demo_to_the_sheet_and_back(
    qtbot: QtBot, window: MainWindow, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    painter = Painter(qtbot, window)
    coats, schemes, sheet = (window.page(p) for p in (Page.COATS, Page.SCHEMES, Page.SHEET))
    assert isinstance(coats, CoatsPage)
    assert isinstance(schemes, SchemesPage)
    assert isinstance(sheet, SheetPage)

    # The demo is open, with a pointer to the first thing to try.
    assert painter.project == demo_project()
    assert window.notice.text.startswith("Try this first")
    painter.click(window.notice.buttons[-1])
    assert window.notice.text == ""

    first = window.bridge.state.selection.scheme_id
    glaze = painter.add_a_glaze(coats)
    painter.feather(coats)
    copied = painter.duplicate_and_vary(coats, glaze)
    painter.compare(schemes, first, copied)
    painter.undo_and_redo_everything()
    done = painter.project

    # The sheet, as a document on disk.
    painter.press(Qt.Key.Key_5, CTRL)
    qtbot.waitUntil(lambda: sheet.sheet is not None, timeout=PATIENCE_MS)
    pdf = tmp_path / "desk.pdf"
    monkeypatch.setattr(QFileDialog, "getSaveFileName", lambda *_a: (str(pdf), ""))
    painter.press(Qt.Key.Key_E, CTRL)
    qtbot.waitUntil(lambda: pdf.exists() and not sheet.taking.is_busy, timeout=PATIENCE_MS)
    assert pdf.read_bytes().startswith(b"%PDF-")

    # Saved, left, and opened again: the same colours to the last bit.
    path = tmp_path / "mine.schemeforge"
    monkeypatch.setattr(QFileDialog, "getSaveFileName", lambda *_a: (str(path), ""))
    painter.press(Qt.Key.Key_S, CTRL)
    assert load(path) == done
    painter.press(Qt.Key.Key_N, CTRL)
    assert painter.project != done
    monkeypatch.setattr(QFileDialog, "getOpenFileName", lambda *_a: (str(path), ""))
    painter.press(Qt.Key.Key_O, CTRL)
    assert window.bridge.state.path == path
    assert painter.project == done
    expected, found = colours_of(done), colours_of(painter.project)
    assert expected.keys() == found.keys()
    for key, colours in expected.items():
        assert np.array_equal(colours, found[key]), key
    assert "Not done" not in window.notice.text
