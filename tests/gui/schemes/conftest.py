"""The Schemes page in the main window, measured."""

import pytest
from pytestqt.qtbot import QtBot

from schemeforge.desk import Page
from schemeforge.gui.bridge import Bridge
from schemeforge.gui.schemes.page import SchemesPage
from tests.gui.opening import opened_page
from tests.gui.schemes.waiting import measured


@pytest.fixture
def page(qtbot: QtBot, bridge: Bridge) -> SchemesPage:
    found = opened_page(qtbot, bridge, Page.SCHEMES)
    assert isinstance(found, SchemesPage)
    measured(qtbot, found)
    return found
