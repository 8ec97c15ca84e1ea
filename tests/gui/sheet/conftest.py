"""The Sheet page in the main window, its sheet laid out and drawn."""

import os
from pathlib import Path

import pytest
from pytestqt.qtbot import QtBot

from schemeforge.desk import Page
from schemeforge.export.portrait import SIZE
from schemeforge.gui.bridge import Bridge
from schemeforge.gui.sheet.page import SheetPage
from schemeforge.stand_in import WARDEN, SprayCone, StandIns, Turn
from tests.gui.opening import opened_page
from tests.gui.sheet.desk_tools import laid_out


@pytest.fixture(scope="session", autouse=True)
def _model_is_traced(_stand_ins_are_built_once: None) -> None:
    """So that the first sheet has its picture at once."""
    StandIns(Path(os.environ["SCHEMEFORGE_STAND_INS"])).view(WARDEN, SIZE, Turn(), SprayCone())


@pytest.fixture
def page(qtbot: QtBot, bridge: Bridge) -> SheetPage:
    found = opened_page(qtbot, bridge, Page.SHEET)
    assert isinstance(found, SheetPage)
    laid_out(qtbot, found)
    return found
