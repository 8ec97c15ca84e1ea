"""Python's search for rings of dead objects: on the window's thread only, and between its events.

Left to itself the search comes wherever objects are made. On a thread beside the window it would
delete widgets there, and in the middle of an event what the event is for: both end the program.
A full search also takes as long as two or three frames, and would come in the middle of a drag.
"""

import gc

from PySide6.QtCore import QObject, Qt, QTimer
from PySide6.QtGui import QGuiApplication

_QUICK_MS, _FULL_EVERY = 1000, 15


class Tidying(QObject):
    """Searches for as long as its parent lives: quickly each second, wholly while hands rest."""

    def __init__(self, parent: QObject) -> None:
        super().__init__(parent)
        gc.disable()
        self.destroyed.connect(_leave_to_python)
        self._due = 2
        self._has_frozen = False
        self._timer = QTimer(self)
        self._timer.setInterval(_QUICK_MS)
        self._timer.timeout.connect(self._on_time)
        self._timer.start()

    def _on_time(self) -> None:
        self._due -= 1
        if self._due > 0 or not self.tidy():
            gc.collect(0)

    def tidy(self) -> bool:
        """Search wholly now, unless a hand is at work; False where it is."""
        if QGuiApplication.mouseButtons() != Qt.MouseButton.NoButton:
            return False
        self._due = _FULL_EVERY
        gc.collect()
        if not self._has_frozen:  # what the start left behind is there to stay
            self._has_frozen = True
            gc.freeze()
        return True


def _leave_to_python(_gone: QObject) -> None:
    gc.enable()
