"""Starts the window."""

import sys
from collections.abc import Callable
from pathlib import Path
from types import TracebackType

from PySide6.QtCore import QSettings
from PySide6.QtGui import QGuiApplication, QIcon
from PySide6.QtWidgets import QApplication

from schemeforge.desk import Places, Session, default_places
from schemeforge.errors import SchemeForgeError
from schemeforge.gui.bridge import Bridge
from schemeforge.gui.files import demo_project
from schemeforge.gui.main_window import MainWindow
from schemeforge.gui.shelf_keeper import open_shelf
from schemeforge.resources import asset


def run_window(path: Path | None) -> int:
    """Open the window on a project file, or on the demo, and run until it is closed."""
    app = make_application()
    places = default_places()
    bridge, note = make_bridge(places, path)
    settings = QSettings(str(places.settings / "window.ini"), QSettings.Format.IniFormat)
    window = MainWindow(bridge, settings)
    sys.excepthook = _excepthook(bridge, sys.excepthook)
    if note:
        window.notice.show_problem(note)
    else:
        offer_recovery(window)
    window.show()
    return int(app.exec())


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
    """Session and bridge on that file, or on the demo where it cannot be opened, and why not."""
    shelf, save, note = open_shelf(places)
    session = Session(demo_project(), places=places, shelf=shelf, shelf_saver=save)
    if path is not None:
        try:
            if path.suffix.lower() == ".png":
                from schemeforge.export.recipe_strip import read_strip

                session.begin(read_strip(path), saved=False)
            else:
                session.open(path)
        except SchemeForgeError as error:
            note = error.sentence
    return Bridge(session), note


def offer_recovery(window: MainWindow) -> None:
    """Offer unsaved work of a run that ended badly."""
    left = window.bridge.session.leftovers()
    if not left:
        return
    newest = left[0]

    def recover() -> None:
        window.bridge.attempt(lambda: window.bridge.session.recover(newest))
        window.notice.dismiss()

    window.notice.offer(
        window.tr('Unsaved work on "{0}" was found from a run that did not end well.').format(
            newest.project.name
        ),
        window.tr("Take it up"),
        recover,
    )


Hook = Callable[[type[BaseException], BaseException, TracebackType | None], None]


def _excepthook(bridge: Bridge, before: Hook) -> Hook:
    """Errors meant for the user go to the notice line; anything else is said and logged."""

    def hook(kind: type[BaseException], error: BaseException, trace: TracebackType | None) -> None:
        if isinstance(error, SchemeForgeError):
            bridge.problem.emit(error.sentence)
            return
        bridge.problem.emit(
            f"Something unexpected happened ({kind.__name__}); your work is kept in the journal."
        )
        before(kind, error, trace)

    return hook
