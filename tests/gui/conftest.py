"""A real session over temporary folders, for every test of the window."""

from collections.abc import Iterator
from pathlib import Path

import pytest
from PySide6.QtCore import QCoreApplication, QEvent
from pytestqt.qtbot import QtBot

from schemeforge.desk import Places, Session
from schemeforge.gui.bridge import Bridge
from schemeforge.gui.files import demo_project
from schemeforge.gui.main_window import MainWindow
from schemeforge.shelf.starter import starter_paints


@pytest.fixture(autouse=True)
def _no_widget_is_left(qapp: QCoreApplication) -> Iterator[None]:
    """Delete closed windows at once: a style sheet is worked out for every one that is left."""
    yield
    qapp.sendPostedEvents(None, QEvent.Type.DeferredDelete)


@pytest.fixture
def places(tmp_path: Path) -> Places:
    return Places(data=tmp_path / "data", settings=tmp_path / "settings")


@pytest.fixture
def bridge(qtbot: QtBot, places: Places) -> Iterator[Bridge]:
    """The demo project on a bridge; closed afterwards so that no thread is left."""
    del qtbot  # has made the application
    session = Session(demo_project(), places=places, shelf=starter_paints())
    made = Bridge(session)
    yield made
    made.close()
    session.close()


@pytest.fixture
def window(qtbot: QtBot, bridge: Bridge) -> MainWindow:
    """The main window on the demo project, shown."""
    made = MainWindow(bridge)
    made.files.may_leave = lambda: True  # type: ignore[method-assign]
    qtbot.addWidget(made)
    made.resize(1440, 900)
    made.show()
    qtbot.waitExposed(made)
    return made
