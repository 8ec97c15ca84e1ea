"""What stands in place of cards where there are none, and what to do about it."""

from PySide6.QtWidgets import QPushButton, QVBoxLayout, QWidget

from schemeforge.gui.theme import GAP_WIDE
from schemeforge.gui.widgets.flow import Flow
from schemeforge.gui.widgets.labels import words


class EmptyShelf(QWidget):
    """A sentence and the buttons that help."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._words = words("")
        self.clear_search = QPushButton(self.tr("Show the whole shelf"))
        self.put_starter = QPushButton(self.tr("Put the starter paints there"))
        self.import_first = QPushButton(self.tr("Import paints..."))
        self.add_first = QPushButton(self.tr("Add paints"))
        row = Flow()
        for button in (self.clear_search, self.put_starter, self.import_first, self.add_first):
            row.add(button)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, GAP_WIDE, 0, 0)
        column.addWidget(self._words)
        column.addWidget(row)

    @property
    def text(self) -> str:
        """The sentence."""
        return self._words.text()

    def show_state(self, *, shown: int, held: int) -> None:
        """Speak up where no card is shown; ``held`` are the paints of the whole shelf."""
        self.setVisible(shown == 0)
        self.clear_search.setVisible(held > 0)
        for button in (self.put_starter, self.import_first, self.add_first):
            button.setVisible(held == 0)
        if held:
            self._words.setText(
                self.tr("No paint on the shelf answers to that; try a shorter word.")
            )
        else:
            self._words.setText(
                self.tr("The shelf is empty. Begin with the starter paints, or add your own.")
            )
