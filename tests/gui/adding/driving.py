"""What tests of the adding view do again and again."""

from typing import TypeVar

from PySide6.QtCore import Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication, QWidget
from pytestqt.qtbot import QtBot

from schemeforge.gui.adding.colour_entry import ColourEntry
from schemeforge.gui.adding.review import Review
from schemeforge.gui.adding.view import AddingView
from schemeforge.gui.adding.way_view import WayView
from schemeforge.gui.adding.ways import Way
from schemeforge.gui.bridge import Bridge
from schemeforge.paint import Paint

W = TypeVar("W", bound=WayView)


def gone(view: AddingView, way: Way, kind: type[W]) -> W:
    """The way, by a click on its button."""
    QTest.mouseClick(view.ways.buttons[way], Qt.MouseButton.LeftButton)
    found = view.open(way)
    assert isinstance(found, kind)
    assert view.way is way
    return found


def type_colour(entry: ColourEntry, code: str) -> None:
    entry.code.clear()
    QTest.keyClicks(entry.code, code)


def fitted(qtbot: QtBot, review: Review) -> None:
    """Until a result is shown."""
    qtbot.waitUntil(lambda: bool(review.results), timeout=20_000)


def hinted(qtbot: QtBot, review: Review, words: str) -> None:
    """Until the review says so in place of a result."""
    qtbot.waitUntil(lambda: words in review.hint.text(), timeout=20_000)
    assert review.results == ()


def quiet(qtbot: QtBot, bridge: Bridge) -> None:
    """Until no job is wanted."""
    qtbot.waitUntil(lambda: not bridge.jobs.is_any_busy, timeout=20_000)


def shelf(bridge: Bridge) -> tuple[Paint, ...]:
    return bridge.state.document.shelf


def focus() -> QWidget:
    """What has the keyboard."""
    found = QApplication.focusWidget()
    assert found is not None
    return found
