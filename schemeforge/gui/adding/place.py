"""Where the shelf gives way to the view in which paints are added, made when first asked for."""

from typing import TYPE_CHECKING

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QStackedWidget, QWidget

from schemeforge.desk import DeskState
from schemeforge.gui.bridge import Bridge
from schemeforge.gui.keys import tell_keys

if TYPE_CHECKING:
    from schemeforge.gui.adding.view import AddingView


class AddingPlace(QStackedWidget):
    """The shelf, or the adding view over it.

    Signals:
        shelved: Id of a paint just put on the shelf; the shelf is shown again.
        left: The painter went back without adding; the shelf is shown again.
    """

    shelved = Signal(str)
    left = Signal()

    def __init__(self, bridge: Bridge, shelf: QWidget) -> None:
        super().__init__()
        self.bridge = bridge
        self._shelf = shelf
        self._view: AddingView | None = None
        self.addWidget(shelf)
        picture = self.tr("{0} on a photograph")
        mark = self.tr("{0} on a mark or a line's end")
        tell_keys(
            self,
            (picture.format("W, G, B"), self.tr("mark a white, grey or black reference")),
            (picture.format("U, P, L"), self.tr("mark bare ground, paint, or draw a line")),
            (picture.format("+, -, 0"), self.tr("zoom in, out, the whole")),
            (picture.format(self.tr("Arrows")), self.tr("move it about")),
            (
                picture.format("Ctrl+Z, Ctrl+Shift+Z"),
                self.tr("take back, do again what was marked"),
            ),
            (picture.format("Tab"), self.tr("go from mark to mark")),
            (mark.format(self.tr("Arrows")), self.tr("move it; with Ctrl finely")),
            (mark.format(self.tr("Shift+arrows")), self.tr("make a mark larger or smaller")),
            (mark.format(self.tr("Enter")), self.tr("go to what is told of it")),
            (mark.format(self.tr("Del")), self.tr("remove it")),
            (mark.format(self.tr("Esc")), self.tr("go back to the photograph")),
        )

    @property
    def view(self) -> "AddingView":
        """Where paints are added."""
        if self._view is None:
            from schemeforge.gui.adding.view import AddingView

            self._view = AddingView(self.bridge)
            self.addWidget(self._view)
            self._view.left.connect(self._leave)
            self._view.shelved.connect(self._take)
        return self._view

    def show_ways(self) -> None:
        """Ask what the painter has of the paint to be added."""
        self.setCurrentWidget(self.view)
        self.view.offer_ways()

    def judge_model(self) -> None:
        """Lay a painted test model beside what was planned."""
        from schemeforge.gui.adding.ways import Way

        self.setCurrentWidget(self.view)
        self.view.open(Way.TEST_MODEL)

    def show_state(self, new: DeskState) -> None:
        """Hand the state on, where there is a view."""
        if self._view is not None:
            self._view.show_state(new)

    def _leave(self) -> None:
        self.setCurrentWidget(self._shelf)
        self.left.emit()

    def _take(self, paint_id: str) -> None:
        self.setCurrentWidget(self._shelf)
        self.shelved.emit(paint_id)
