"""A model on its own, small, with its first picture."""

import pytest
from pytestqt.qtbot import QtBot

from schemeforge.gui.bridge import Bridge
from schemeforge.gui.looking.room import LookingRoom
from schemeforge.gui.widgets.stand_in import WHOLE, StandInView
from tests.gui.every_widget import settle


@pytest.fixture
def view(qtbot: QtBot, bridge: Bridge) -> StandInView:
    """The warden, 300 pixels high, drawn."""
    made = StandInView(bridge, WHOLE)
    qtbot.addWidget(made)
    made.resize(280, 300)
    made.show()
    qtbot.waitExposed(made)
    made.show_state(bridge.state)
    qtbot.waitUntil(lambda: made.drawn is not None, timeout=60_000)
    settle(qtbot, bridge)
    return made


@pytest.fixture
def room(qtbot: QtBot, bridge: Bridge) -> LookingRoom:
    """The window to look at models, small enough for views that tests have."""
    made = LookingRoom(bridge)
    qtbot.addWidget(made)
    made.resize(640, 420)
    made.show()
    qtbot.waitExposed(made)
    qtbot.waitUntil(lambda: made.view.drawn is not None, timeout=60_000)
    settle(qtbot, bridge)
    return made
