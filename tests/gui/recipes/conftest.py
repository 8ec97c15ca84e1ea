"""The mixing bench in the main window, over a small shelf so that searches are short."""

from collections.abc import Iterator

import pytest
from pytestqt.qtbot import QtBot

from schemeforge.desk import Page, Places, Session
from schemeforge.gui.bridge import Bridge
from schemeforge.gui.files import demo_project
from schemeforge.gui.main_window import MainWindow
from schemeforge.gui.recipes.bench import MixingBench
from schemeforge.gui.recipes.options import Options
from tests.gui.opening import opened


@pytest.fixture
def bridge(qtbot: QtBot, places: Places) -> Iterator[Bridge]:
    """The demo project without a shelf besides its own paints."""
    del qtbot
    session = Session(demo_project(), places=places)
    session.select(page=Page.COATS, zone_id="hide")
    made = Bridge(session)
    yield made
    made.close()
    session.close()


@pytest.fixture
def window(qtbot: QtBot, bridge: Bridge) -> MainWindow:
    made = opened(qtbot, bridge, Page.COATS)
    made.activateWindow()
    return made


@pytest.fixture
def bench(window: MainWindow) -> MixingBench:
    """The bench, of one paint or two a mix: quick."""
    made = window.bench
    made.how.changed.emit(Options(most_paints=2, most_coats=2, most_parts=6))
    return made
