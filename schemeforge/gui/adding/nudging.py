"""Marks that lie on the board and are moved by arrow keys."""

from PySide6.QtCore import QEvent, Qt
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import QWidget

_STEP = 0.01  # of the picture, for one press of an arrow key
_FINE = 0.001
_ARROWS = {
    Qt.Key.Key_Left: (-1, 0),
    Qt.Key.Key_Right: (1, 0),
    Qt.Key.Key_Up: (0, -1),
    Qt.Key.Key_Down: (0, 1),
}


class Nudged(QWidget):
    """A mark, or an end of one, that has Escape for itself."""

    def event(self, event: QEvent) -> bool:
        """Escape goes back to the board, not out of the view."""
        if (
            event.type() == QEvent.Type.ShortcutOverride
            and isinstance(event, QKeyEvent)
            and event.key() == Qt.Key.Key_Escape
        ):
            event.accept()
            return True
        return super().event(event)


def nudge(event: QKeyEvent) -> tuple[float, float] | None:
    """How far an arrow key moves, in shares of the picture's width and height.

    Right and down are positive; with Ctrl it is a tenth as far. None for any other key.
    """
    way = _ARROWS.get(Qt.Key(event.key()))
    if way is None:
        return None
    step = _FINE if event.modifiers() & Qt.KeyboardModifier.ControlModifier else _STEP
    return step * way[0], step * way[1]
