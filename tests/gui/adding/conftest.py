"""The small project with its shelf on disk, and the view in which paints are added."""

from collections.abc import Iterator

import pytest
from pytestqt.qtbot import QtBot

from schemeforge.desk import Page, Places
from schemeforge.gui.adding.view import AddingView
from schemeforge.gui.bridge import Bridge
from schemeforge.gui.main_window import MainWindow
from schemeforge.gui.paints.page import PaintsPage
from tests.gui.small_bridge import small_bridge


@pytest.fixture
def bridge(qtbot: QtBot, places: Places) -> Iterator[Bridge]:
    """The small project and its shelf."""
    del qtbot  # has made the application
    with small_bridge(places, Page.PAINTS) as made:
        yield made


@pytest.fixture
def page(window: MainWindow) -> PaintsPage:
    found = window.page(Page.PAINTS)
    assert isinstance(found, PaintsPage)
    window.activateWindow()
    return found


@pytest.fixture
def view(page: PaintsPage) -> AddingView:
    """Open on the ways."""
    page.adding.show_ways()
    return page.adding.view
