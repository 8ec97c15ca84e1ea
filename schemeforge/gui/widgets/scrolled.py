"""Columns that are scrolled only where a small window leaves less than they need at least."""

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QScrollArea, QWidget


class LeastColumn(QWidget):
    """Asks a scroll area for no more height than it cannot do without."""

    def heightForWidth(self, width: int) -> int:
        """The least height at that width."""
        layout = self.layout()
        return -1 if layout is None else layout.minimumHeightForWidth(width)


def scrolled(inside: QWidget) -> QScrollArea:
    """The widget in an area that scrolls downwards only."""
    area = QScrollArea()
    area.setWidget(inside)
    area.setWidgetResizable(True)
    area.setFocusPolicy(Qt.FocusPolicy.NoFocus)
    area.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
    return area
