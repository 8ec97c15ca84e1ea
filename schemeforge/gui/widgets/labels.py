"""Labels as every page uses them."""

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QLabel


def words(text: str, role: str = "") -> QLabel:
    """A label that wraps and shows plain text, in one of the theme's roles."""
    label = QLabel(text)
    label.setWordWrap(True)
    label.setTextFormat(Qt.TextFormat.PlainText)
    if role:
        label.setProperty("role", role)
    return label
