"""The Sheet page in the main window, its sheet laid out and drawn."""

import pytest
from pytestqt.qtbot import QtBot

from schemeforge.desk import Page
from schemeforge.gui.bridge import Bridge
from schemeforge.gui.main_window import MainWindow
from schemeforge.gui.sheet.page import SheetPage
from tests.gui.sheet.desk_tools import laid_out


@pytest.fixture
def page(qtbot: QtBot, bridge: Bridge) -> SheetPage:
    bridge.session.select(page=Page.SHEET)
    window = MainWindow(bridge)
    window.files.may_leave = lambda: True  # type: ignore[method-assign]
    qtbot.addWidget(window)
    window.resize(1440, 900)
    window.show()
    qtbot.waitExposed(window)
    found = window.page(Page.SHEET)
    assert isinstance(found, SheetPage)
    window.activateWindow()
    laid_out(qtbot, found)
    return found
