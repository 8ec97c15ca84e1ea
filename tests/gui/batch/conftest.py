"""The small project in place of the demo: its numbers can be worked out by hand."""

from collections.abc import Iterator

import pytest
from pytestqt.qtbot import QtBot

from schemeforge.desk import Page, Places
from schemeforge.gui.batch.page import BatchPage
from schemeforge.gui.bridge import Bridge
from schemeforge.gui.main_window import MainWindow
from tests.gui.small_bridge import small_bridge


@pytest.fixture
def bridge(qtbot: QtBot, places: Places) -> Iterator[Bridge]:
    """The small project and its shelf."""
    del qtbot  # has made the application
    with small_bridge(places, Page.BATCH) as made:
        yield made


@pytest.fixture
def page(window: MainWindow) -> BatchPage:
    found = window.page(Page.BATCH)
    assert isinstance(found, BatchPage)
    found.unfold()
    return found
