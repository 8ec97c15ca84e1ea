"""The scroll area that holds what the bench is asked."""

from PySide6.QtCore import QSize, Qt
from PySide6.QtWidgets import QScrollArea, QWidget

_LETTERS = 42


class AsksArea(QScrollArea):
    """Scrolled down where the window is low, never sideways."""

    def __init__(self, inside: QWidget) -> None:
        super().__init__()
        self._inside = inside
        self.setWidgetResizable(True)
        self.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        self.setWidget(inside)

    def minimumSizeHint(self) -> QSize:
        """As wide as the widest control."""
        usual = self.fontMetrics().averageCharWidth() * _LETTERS
        least = max(self._inside.minimumSizeHint().width(), usual)
        return QSize(least + self.verticalScrollBar().sizeHint().width(), 120)
