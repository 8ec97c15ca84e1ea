"""The Sheet page in the main window, its sheet laid out and drawn."""

import pytest
from pytestqt.qtbot import QtBot

from schemeforge.desk import Page
from schemeforge.gui.bridge import Bridge
from schemeforge.gui.sheet.page import SheetPage
from tests.gui.opening import opened_page
from tests.gui.sheet.desk_tools import laid_out


@pytest.fixture
def page(qtbot: QtBot, bridge: Bridge) -> SheetPage:
    found = opened_page(qtbot, bridge, Page.SHEET)
    assert isinstance(found, SheetPage)
    laid_out(qtbot, found)
    return found
