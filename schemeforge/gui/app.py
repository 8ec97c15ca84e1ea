"""Starts the window."""

import signal
import sys
from pathlib import Path

from PySide6.QtCore import QSettings, QTimer
from PySide6.QtGui import QGuiApplication, QIcon
from PySide6.QtWidgets import QApplication

from schemeforge.desk import Places, Session, default_places
from schemeforge.errors import SchemeForgeError
from schemeforge.gui.bridge import Bridge
from schemeforge.gui.files import demo_project, open_document
from schemeforge.gui.main_window import MainWindow
from schemeforge.gui.shelf_keeper import open_shelf
from schemeforge.gui.tidying import Tidying
from schemeforge.gui.trouble import catch_trouble
from schemeforge.resources import asset

# A thread at work beside the window hands over after at most that long, seconds: a tenth of the
# usual, so that frames are not kept waiting.
_HAND_OVER = 0.0005
# What can wait until the window is seen waits so long.
_SOON_MS = 800


def run_window(path: Path | None) -> int:
    """Open the window on a project file, on the last one, or on the demo; run until it is closed.

    A file that cannot be opened is said on the notice line, and the demo opened instead.
    """
    sys.setswitchinterval(_HAND_OVER)
    signal.signal(signal.SIGINT, signal.SIG_DFL)  # the journal keeps what is unsaved
    app = make_application()
    Tidying(app)
    places = default_places()
    bridge, note = make_bridge(places, path)
    settings = QSettings(str(places.settings / "window.ini"), QSettings.Format.IniFormat)
    restore = catch_trouble(bridge.say_problem, places.data / "trouble.log")
    window = MainWindow(bridge, settings)
    greet(window, note)
    window.show()
    QTimer.singleShot(_SOON_MS, window, window.offers.offer_clock)
    code = int(app.exec())
    restore()
    return code


def make_application() -> QApplication:
    """The one application object, with our name, icon and style."""
    existing = QApplication.instance()
    if isinstance(existing, QApplication):
        return existing
    app = QApplication(sys.argv[:1])
    app.setStyle("Fusion")
    app.setApplicationName("SchemeForge")
    app.setDesktopFileName("schemeforge")
    app.setWindowIcon(QIcon(str(asset("icons", "schemeforge.svg"))))
    QGuiApplication.setApplicationDisplayName("SchemeForge")
    return app


def make_bridge(places: Places, path: Path | None) -> tuple[Bridge, str]:
    """Session and bridge on that file, or on the last one, or on the demo; what went wrong.

    Args:
        places: Folders of the user.
        path: A project file or recipe strip; None for the file opened last, where there is one.
    """
    shelf, store, note = open_shelf(places)
    session = Session(
        demo_project(), places=places, shelf=shelf, shelf_saver=store.save, shelf_news=store.news
    )
    wanted = path or next(iter(session.state.recent), None)
    notes = [note]
    if wanted is not None:
        try:
            open_document(session, wanted)
        except SchemeForgeError as error:
            notes.append(error.sentence)
    return Bridge(session), " ".join(filter(None, notes))


def greet(window: MainWindow, note: str) -> None:
    """Say what went wrong, offer work to take up again, and point to the first thing to try."""
    window.offers.offer_recovery()
    window.offers.offer_first_thing()
    if note:
        window.notice.show_problem(note)
