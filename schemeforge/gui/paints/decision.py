"""A bar with one sentence and a few answers to it, within the page instead of over it."""

from collections.abc import Callable, Sequence

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import QFrame, QLabel, QPushButton, QVBoxLayout, QWidget

from schemeforge.gui.theme import GAP, GAP_WIDE
from schemeforge.gui.widgets.flow import Flow


class DecisionBar(QFrame):
    """Hidden until something is asked; hidden again once it is answered.

    Signals:
        answered: After an answer was given and acted on.
    """

    answered = Signal()

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setProperty("role", "panel")
        self._label = QLabel()
        self._label.setWordWrap(True)
        self._label.setTextFormat(Qt.TextFormat.PlainText)
        self._answers = Flow()
        self.buttons: list[QPushButton] = []
        self._actions: list[Callable[[], object]] = []
        column = QVBoxLayout(self)
        column.setContentsMargins(GAP_WIDE, GAP, GAP_WIDE, GAP)
        column.setSpacing(GAP)
        column.addWidget(self._label)
        column.addWidget(self._answers)
        self.hide()

    @property
    def text(self) -> str:
        """What is asked, "" while hidden."""
        return "" if self.isHidden() else self._label.text()

    def ask(self, sentence: str, answers: Sequence[tuple[str, Callable[[], object]]]) -> None:
        """Ask, with a button for each answer; the same question again only takes newer answers."""
        if self.text == sentence and len(answers) == len(self.buttons):
            self._actions = [action for _, action in answers]
            return
        self._label.setText(sentence)
        self.setAccessibleName(sentence)
        self._answers.clear()
        self.buttons = []
        self._actions = [action for _, action in answers]
        for place, (label, _) in enumerate(answers):
            button = QPushButton(label)
            button.clicked.connect(lambda _on=False, n=place: self._answer(n))
            self._answers.add(button)
            self.buttons.append(button)
        self.show()

    def withdraw(self) -> None:
        """The question no longer stands."""
        self.hide()

    def _answer(self, place: int) -> None:
        self.hide()
        self._actions[place]()
        self.answered.emit()
