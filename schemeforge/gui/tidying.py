"""Python's search for rings of dead objects, kept out of the frames that a hand waits for.

A full search takes as long as two or three frames once a project is open, and by itself it comes
while objects are made: in the middle of a drag. Here it comes when no button is held.
"""

import gc

from PySide6.QtCore import QObject, Qt, QTimer
from PySide6.QtGui import QGuiApplication

_FIRST_MS, _EVERY_MS = 2000, 15000
# Full searches that Python begins by itself are as good as none; the quick ones stay.
_NEVER = 1_000_000


class Tidying(QObject):
    """Searches when the hands rest, for as long as its parent lives."""

    def __init__(self, parent: QObject) -> None:
        super().__init__(parent)
        usual = gc.get_threshold()
        gc.set_threshold(*usual[:2], _NEVER)
        self.destroyed.connect(lambda: gc.set_threshold(*usual))
        self._timer = QTimer(self)
        self._timer.setInterval(_FIRST_MS)
        self._timer.timeout.connect(self.tidy)
        self._timer.start()

    def tidy(self) -> bool:
        """Search now, unless a hand is at work; False where it is."""
        if QGuiApplication.mouseButtons() != Qt.MouseButton.NoButton:
            return False
        gc.collect()
        if self._timer.interval() != _EVERY_MS:  # what the start left behind is there to stay
            gc.freeze()
            self._timer.setInterval(_EVERY_MS)
        return True
