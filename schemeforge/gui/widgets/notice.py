"""The notice line: what could not be done, what was done, and what to try first."""

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QFrame, QHBoxLayout, QLabel, QPushButton, QWidget

from schemeforge.gui.theme import GAP


class NoticeLine(QFrame):
    """One sentence with a way to dismiss it, and at most one thing to do about it."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setProperty("role", "panel")
        self._label = QLabel()
        self._label.setTextFormat(Qt.TextFormat.PlainText)
        self._label.setWordWrap(True)
        self._action = QPushButton()
        self._action.hide()
        self._close = QPushButton(self.tr("Dismiss"))
        self._close.clicked.connect(self.dismiss)
        self._slot: object | None = None
        row = QHBoxLayout(self)
        row.setContentsMargins(GAP * 2, GAP // 2, GAP, GAP // 2)
        row.addWidget(self._label, 1)
        row.addWidget(self._action)
        row.addWidget(self._close)
        self.hide()

    @property
    def text(self) -> str:
        """The sentence shown, "" while hidden."""
        return self._label.text() if not self.isHidden() else ""

    def show_problem(self, sentence: str) -> None:
        """Say what could not be done."""
        self._say(self.tr("Not done: {0}").format(sentence), "caution")

    def show_note(self, sentence: str) -> None:
        """Say what was done, or what to know."""
        self._say(sentence, "")

    def offer(self, sentence: str, label: str, action: object) -> None:
        """Say something and offer one thing to do about it."""
        self._say(sentence, "")
        self._action.setText(label)
        self._action.show()
        self._slot = action
        self._action.clicked.connect(action)

    def dismiss(self) -> None:
        """Hide the line."""
        self._forget_action()
        self.hide()

    def _say(self, sentence: str, role: str) -> None:
        self._forget_action()
        self._label.setText(sentence)
        self._label.setProperty("role", role)
        self._label.style().unpolish(self._label)
        self._label.style().polish(self._label)
        self.setAccessibleName(sentence)
        self.show()

    def _forget_action(self) -> None:
        if self._slot is not None:
            self._action.clicked.disconnect(self._slot)
            self._slot = None
        self._action.hide()
