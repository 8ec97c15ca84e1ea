"""A real session over temporary folders, for every test of the window."""

from collections.abc import Iterator
from pathlib import Path

import pytest
from PySide6.QtCore import QCoreApplication, QEvent
from PySide6.QtWidgets import QApplication
from pytestqt.qtbot import QtBot

from schemeforge.desk import Places, Session
from schemeforge.gui.bridge import Bridge
from schemeforge.gui.files import demo_project
from schemeforge.gui.looking.maker import SIZES
from schemeforge.gui.main_window import MainWindow
from schemeforge.gui.widgets.stand_in import WHOLE
from schemeforge.shelf.starter import starter_paints
from schemeforge.stand_in import StandIns, Turn, model
from schemeforge.stand_in.pictures import SPRAY
from tests.gui.long_words import Longer
from tests.gui.opening import opened


@pytest.fixture(autouse=True)
def _no_widget_is_left(qapp: QCoreApplication) -> Iterator[None]:
    """Delete closed windows at once: a style sheet is worked out for every one that is left."""
    yield
    qapp.sendPostedEvents(None, QEvent.Type.DeferredDelete)


@pytest.fixture(scope="session", autouse=True)
def _stand_ins_are_built_once(tmp_path_factory: pytest.TempPathFactory) -> Iterator[None]:
    """One folder of stand-in views for all tests: tracing one takes seconds."""
    folder = tmp_path_factory.mktemp("stand-ins")
    with pytest.MonkeyPatch.context() as patch:
        patch.setenv("SCHEMEFORGE_STAND_INS", str(folder))
        views = StandIns(folder)
        for size in SIZES[:2]:
            views.view(model(WHOLE), size, Turn(azimuth=20.0), SPRAY)
        yield


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
    return opened(qtbot, bridge)


@pytest.fixture
def longer(qtbot: QtBot) -> Iterator[Longer]:
    """Every text two fifths longer in what is made while the test runs."""
    del qtbot  # has made the application
    translator = Longer()
    QApplication.installTranslator(translator)
    yield translator
    QApplication.removeTranslator(translator)
