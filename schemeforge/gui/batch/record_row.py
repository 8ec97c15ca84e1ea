"""A record in words, with a button that removes it."""

from PySide6.QtWidgets import QHBoxLayout, QWidget

from schemeforge.gui.batch.section import dress, tool
from schemeforge.gui.bridge import Bridge
from schemeforge.gui.theme import GAP
from schemeforge.gui.widgets.labels import words


class RecordLine(QWidget):
    """One record; a subclass puts it into words and removes it."""

    def __init__(self, bridge: Bridge, record_id: str, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.bridge = bridge
        self._id = record_id
        self.said = words("")
        self.remove = tool("remove", self.tr("Remove the record"), self._remove)
        row = QHBoxLayout(self)
        row.setContentsMargins(0, 0, 0, 0)
        row.setSpacing(GAP)
        row.addWidget(self.said, 1)
        row.addWidget(self.remove)

    def say(self, sentence: str, colour: str) -> None:
        """Write it, the button in the colour of text."""
        self.said.setText(sentence)
        dress(self.remove, colour)
        self.remove.setAccessibleDescription(sentence)

    def _remove(self) -> None:
        raise NotImplementedError
