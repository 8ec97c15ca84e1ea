"""What is shown while something is worked out beside the window, with a way to stop it."""

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QHBoxLayout, QLabel, QProgressBar, QPushButton, QWidget

from schemeforge.gui.theme import GAP

_PARTS = 1000


class Waiting(QWidget):
    """A bar and a button, hidden while nothing is awaited.

    Signals:
        stopped: The user does not want the result any more.
    """

    stopped = Signal()

    def __init__(self, name: str, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._label = QLabel(name)
        self.bar = QProgressBar()
        self.bar.setAccessibleName(name)
        self.bar.setFixedWidth(160)
        self.stop = QPushButton(self.tr("Stop"))
        self.stop.setAccessibleName(self.tr("Stop: {0}").format(name))
        self.stop.clicked.connect(self._on_stop)
        row = QHBoxLayout(self)
        row.setContentsMargins(0, 0, 0, 0)
        row.setSpacing(GAP)
        for widget in (self._label, self.bar, self.stop):
            row.addWidget(widget)
        self.hide()

    def begin(self) -> None:
        """Something is awaited; how long it takes is not known yet."""
        self.bar.setRange(0, 0)
        self.show()

    def progress(self, share: float) -> None:
        """So much of it is done, 0 to 1."""
        self.bar.setRange(0, _PARTS)
        self.bar.setValue(round(share * _PARTS))

    def end(self) -> None:
        """It came, or could not."""
        self.hide()

    def _on_stop(self) -> None:
        self.hide()
        self.stopped.emit()
