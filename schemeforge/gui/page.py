"""What all five pages share."""

from PySide6.QtWidgets import QWidget

from schemeforge.desk import DeskState
from schemeforge.gui.bridge import Bridge
from schemeforge.gui.tab_order import reading_order


class PageView(QWidget):
    """A page: shows the state, does one edit per gesture, computes nothing but pixels and text.

    A subclass builds its widgets in its constructor, then calls ``watch``; ``show_state`` writes
    the widgets with their signals blocked and compares old and new by identity.
    """

    def __init__(self, bridge: Bridge, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.bridge = bridge

    def focus_first(self) -> QWidget:
        """The widget that has the focus when the page is first shown: the first to take it."""
        return next((widget for widget in reading_order(self)), self)

    def watch(self) -> None:
        """Show the state as it is, and from now on after every change."""
        self.bridge.changed.connect(self._on_changed)
        self.show_state(None, self.bridge.state)

    def show_state(self, old: DeskState | None, new: DeskState) -> None:
        """Write the widgets; ``old`` is None the first time."""
        raise NotImplementedError

    def _on_changed(self, old: DeskState, new: DeskState) -> None:
        self.show_state(old, new)
