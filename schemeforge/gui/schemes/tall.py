"""What stands in a scroll area and wraps: exactly as high as its words are at its width."""

from PySide6.QtCore import QSize
from PySide6.QtWidgets import QWidget


class Tall(QWidget):
    """Asks for no height of its own, so that the layout's height at the real width decides.

    Wrapping labels would else ask for the height that they have at their narrowest.
    """

    def minimumSizeHint(self) -> QSize:
        """None: the layout says the height for a width."""
        return QSize(0, 0)
