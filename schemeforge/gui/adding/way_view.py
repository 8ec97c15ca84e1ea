"""What every way to a paint is."""

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QWidget

from schemeforge.desk import DeskState
from schemeforge.gui.bridge import Bridge


class WayView(QWidget):
    """One way, shown in place of the shelf.

    Signals:
        shelved: Id of the paint that was put on the shelf.
    """

    shelved = Signal(str)

    def __init__(self, bridge: Bridge, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.bridge = bridge

    def show_state(self, old: DeskState | None, new: DeskState) -> None:
        """Another light, surround, shelf or project."""
        raise NotImplementedError

    def step_back(self) -> bool:
        """One step back within the way; False where it is at its beginning."""
        return False
