"""Walks the whole window, page by page, as someone without a mouse or without sight would."""

from PySide6.QtCore import QEvent, QObject, Qt
from PySide6.QtGui import QAccessible
from PySide6.QtWidgets import QApplication, QWidget
from pytestqt.qtbot import QtBot

from schemeforge.desk import Page
from schemeforge.gui.batch.page import BatchPage
from schemeforge.gui.bridge import Bridge
from schemeforge.gui.main_window import MainWindow


def turned_to(qtbot: QtBot, window: MainWindow, page: Page) -> QWidget:
    """The page, shown, with its first answers from beside the window."""
    window.bridge.session.select(page=page)
    view = window.page(page)
    if isinstance(view, BatchPage):
        view.unfold()
    qtbot.waitUntil(view.isVisible)
    settle(qtbot, window.bridge)
    return view


def settle(qtbot: QtBot, bridge: Bridge) -> None:
    """Wait until no job is wanted any more and nothing is left to lay out."""

    def quiet() -> bool:
        QApplication.sendPostedEvents(None, QEvent.Type.LayoutRequest)
        return not bridge.jobs.is_any_busy

    qtbot.waitUntil(quiet, timeout=60_000)
    QApplication.processEvents()


def focusable(root: QWidget) -> list[QWidget]:
    """Shown widgets that the Tab key or a click can give the focus."""
    return [
        widget
        for widget in root.findChildren(QWidget)
        if widget.isVisibleTo(root.window())
        and widget.isEnabled()
        and widget.focusPolicy() is not Qt.FocusPolicy.NoFocus
        and widget.focusProxy() is None
        and not widget.objectName().startswith("qt_")
    ]


def spoken_name(widget: QWidget) -> str:
    """What a screen reader says of it."""
    return QAccessible.queryAccessibleInterface(widget).text(QAccessible.Text.Name)


def place_of(widget: QWidget) -> str:
    """Class names from the window down to the widget, to be found by."""
    names = []
    at: QObject | None = widget
    while at is not None:
        names.append(type(at).__name__)
        at = at.parent()
    return " / ".join(reversed(names))
