"""A row of buttons of which one is pressed: a choice in reach of one click or one arrow key."""

from collections.abc import Sequence

from PySide6.QtCore import QCoreApplication, Qt, Signal
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import QButtonGroup, QHBoxLayout, QPushButton, QWidget

from schemeforge.gui.keys import Key


class Segments(QWidget):
    """A choice among a few, all in view.

    Signals:
        chosen: The value picked by the user, never by ``set_value``.
    """

    chosen = Signal(str)

    def __init__(
        self, name: str, choices: Sequence[tuple[str, str, str]], parent: QWidget | None = None
    ) -> None:
        """Buttons for ``(value, label, tooltip)``."""
        super().__init__(parent)
        self.setAccessibleName(name)
        self._group = QButtonGroup(self)
        self._buttons: dict[str, QPushButton] = {}
        row = QHBoxLayout(self)
        row.setContentsMargins(0, 0, 0, 0)
        row.setSpacing(1)
        for value, label, tip in choices:
            button = QPushButton(label)
            button.setCheckable(True)
            button.setToolTip(tip)
            button.setAccessibleName(f"{name}: {label}")
            button.clicked.connect(lambda _checked, v=value: self.chosen.emit(v))
            self._group.addButton(button)
            self._buttons[value] = button
            row.addWidget(button)

    @staticmethod
    def keys() -> list[Key]:
        """The keys it answers to."""
        translate = QCoreApplication.translate
        return [
            Key(
                translate("Segments", "Left, Right"),
                translate("Segments", "the choice beside, in a row"),
            )
        ]

    @property
    def value(self) -> str:
        """The value pressed, "" for none."""
        return next((v for v, button in self._buttons.items() if button.isChecked()), "")

    def set_value(self, value: str) -> None:
        """Press that button without telling anyone; none where the value is not among them."""
        self._group.setExclusive(value in self._buttons)
        for known, button in self._buttons.items():
            button.setChecked(known == value)
        self._group.setExclusive(True)

    def button(self, value: str) -> QPushButton:
        """The button of a value, for tests and shortcuts."""
        return self._buttons[value]

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Left and right move the choice."""
        by = {Qt.Key.Key_Left: -1, Qt.Key.Key_Right: 1}.get(Qt.Key(event.key()))
        values = list(self._buttons)
        if by is None or self.value not in values:
            super().keyPressEvent(event)
            return
        target = values[(values.index(self.value) + by) % len(values)]
        self._buttons[target].setFocus()
        self._buttons[target].click()
