"""Labels and buttons as this page uses them."""

from collections.abc import Callable

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QLabel, QPushButton


def words(text: str, role: str = "") -> QLabel:
    """A label that wraps and shows plain text."""
    label = QLabel(text)
    label.setWordWrap(True)
    label.setTextFormat(Qt.TextFormat.PlainText)
    if role:
        label.setProperty("role", role)
    return label


def button(text: str, tip: str, action: Callable[[], object]) -> QPushButton:
    """A button that does one thing."""
    made = QPushButton(text)
    made.setToolTip(tip)
    made.clicked.connect(lambda _on=False: action())
    return made
