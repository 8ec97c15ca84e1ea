"""Buttons as this page uses them."""

from collections.abc import Callable

from PySide6.QtWidgets import QPushButton


def button(text: str, tip: str, action: Callable[[], object]) -> QPushButton:
    """A button that does one thing."""
    made = QPushButton(text)
    made.setToolTip(tip)
    made.clicked.connect(lambda _on=False: action())
    return made
