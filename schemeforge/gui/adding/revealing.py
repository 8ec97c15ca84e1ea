"""Brings what has just appeared into view, once its column has made room for it."""

from PySide6.QtCore import QTimer
from PySide6.QtWidgets import QAbstractSpinBox, QApplication, QLineEdit, QScrollArea, QWidget

_SETTLE_MS = 30
_AROUND = 8  # pixels seen above and below
_TYPED_INTO = (QLineEdit, QAbstractSpinBox)


class Revealer(QTimer):
    """Scrolls an area so far that a part of it is seen; its top counts where not all of it can be.

    A field that is being typed into stays in view.
    """

    def __init__(self, area: QScrollArea) -> None:
        super().__init__(area)
        self._area = area
        self._part: QWidget | None = None
        self._last: QWidget | None = None
        self.setSingleShot(True)
        self.setInterval(_SETTLE_MS)
        self.timeout.connect(self._scroll)

    def reveal(self, part: QWidget, last: QWidget | None = None) -> None:
        """Show a part of the column, and of what follows it as much as goes, down to the last."""
        self._part, self._last = part, last
        self.start()

    def _scroll(self) -> None:
        for part in (self._last, self._part):
            if part is not None and part.isVisible():
                self._show(part)
        typed = QApplication.focusWidget()
        if isinstance(typed, _TYPED_INTO) and self._area.isAncestorOf(typed):
            self._show(typed)

    def _show(self, part: QWidget) -> None:
        """All of its height; Qt's own way sees no more of a field than its cursor."""
        column = self._area.widget()
        if column is None:
            return
        middle = part.mapTo(column, part.rect().center())
        self._area.ensureVisible(middle.x(), middle.y(), 0, part.height() // 2 + _AROUND)
