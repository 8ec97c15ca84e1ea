"""The main window on a page, shown and ready for clicks."""

from pytestqt.qtbot import QtBot

from schemeforge.desk import Page
from schemeforge.gui.bridge import Bridge
from schemeforge.gui.main_window import MainWindow
from schemeforge.gui.page import PageView


def opened(qtbot: QtBot, bridge: Bridge, page: Page | None = None) -> MainWindow:
    """The window of a test, 1440 by 900; closing it asks nothing."""
    if page is not None:
        bridge.session.select(page=page)
    window = MainWindow(bridge)
    window.files.may_leave = lambda: True  # type: ignore[method-assign]
    qtbot.addWidget(window)
    window.resize(1440, 900)
    window.show()
    qtbot.waitExposed(window)
    return window


def opened_page(qtbot: QtBot, bridge: Bridge, page: Page) -> PageView:
    """A page of a window that has the keyboard."""
    window = opened(qtbot, bridge, page)
    window.activateWindow()
    return window.page(page)
