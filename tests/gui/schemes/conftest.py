"""The Schemes page in the main window, measured."""

import pytest
from pytestqt.qtbot import QtBot

from schemeforge.desk import Page
from schemeforge.gui.bridge import Bridge
from schemeforge.gui.main_window import MainWindow
from schemeforge.gui.schemes.page import SchemesPage
from tests.gui.schemes.waiting import measured


@pytest.fixture
def page(qtbot: QtBot, bridge: Bridge) -> SchemesPage:
    bridge.session.select(page=Page.SCHEMES)
    window = MainWindow(bridge)
    window.files.may_leave = lambda: True  # type: ignore[method-assign]
    qtbot.addWidget(window)
    window.resize(1440, 900)
    window.show()
    qtbot.waitExposed(window)
    found = window.page(Page.SCHEMES)
    assert isinstance(found, SchemesPage)
    window.activateWindow()
    measured(qtbot, found)
    return found
