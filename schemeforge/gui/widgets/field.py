"""A control under its caption, and spin boxes that tell only what the user did."""

import re
from typing import Final

from PySide6.QtCore import QLocale, QSignalBlocker, Qt
from PySide6.QtGui import QValidator, QWheelEvent
from PySide6.QtWidgets import QDoubleSpinBox, QLabel, QSizePolicy, QVBoxLayout, QWidget

from schemeforge.gui.theme import GAP_TIGHT

# Numbers as people write them: digits of any script, one decimal sign at most.
_NUMBER: Final = re.compile(r"[+-]?(\d+\.?\d*|\.\d+)")
_UNFINISHED: Final = re.compile(r"[+-]?[\d.]*")


class Field(QWidget):
    """A caption over a control; the caption is its label for screen readers too."""

    def __init__(self, caption: str, control: QWidget, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.control = control
        self.caption = QLabel(caption)
        self.caption.setProperty("role", "muted")
        self.caption.setTextFormat(Qt.TextFormat.PlainText)
        self.caption.setBuddy(control)
        if not control.accessibleName():
            control.setAccessibleName(caption)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(GAP_TIGHT // 2)
        column.addWidget(self.caption)
        column.addWidget(control)
        self.setSizePolicy(QSizePolicy.Policy.Maximum, QSizePolicy.Policy.Fixed)


class WideField(Field):
    """A field whose control takes all the width there is."""

    def __init__(self, caption: str, control: QWidget, parent: QWidget | None = None) -> None:
        super().__init__(caption, control, parent)
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Fixed)


class NumberBox(QDoubleSpinBox):
    """A number with its unit; ``show_value`` writes without telling anyone.

    Comma and point are both the decimal sign, whatever the locale, and nothing parts groups of
    digits: which of the two a locale reads as which must not make a film ten times as thick.
    The wheel only turns it while it has the focus, so that scrolling a page changes nothing.
    """

    def __init__(
        self, name: str, *, low: float, high: float, step: float, decimals: int, unit: str = ""
    ) -> None:
        super().__init__()
        self.setAccessibleName(name)
        self.setDecimals(decimals)
        self.setRange(low, high)
        self.setSingleStep(step)
        self.setSuffix(f" {unit}" if unit else "")
        self.setToolTip(f"{name} ({unit})" if unit else name)
        self.setKeyboardTracking(False)
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.setAlignment(Qt.AlignmentFlag.AlignRight)

    def show_value(self, value: float) -> None:
        """Write a value unless the user is just typing another."""
        if self.hasFocus() and self.lineEdit().isModified():
            return
        if self.value() == round(value, self.decimals()):
            return  # setting it all the same would paint it again
        with QSignalBlocker(self):
            self.setValue(value)

    def textFromValue(self, value: float) -> str:
        """Without zeros that say nothing: 3, not 3.00."""
        locale = self.locale()
        locale.setNumberOptions(QLocale.NumberOption.OmitGroupSeparator)
        text = locale.toString(value, "f", self.decimals())
        point = locale.decimalPoint()
        return text.rstrip("0").rstrip(point) if point in text else text

    def valueFromText(self, text: str) -> float:
        """The number in the text, rounded to the box's decimals; the old one where none is."""
        if text == self.specialValueText() != "":
            return self.minimum()
        number = self._number(text)
        if _NUMBER.fullmatch(number) is None:
            return self.value()
        return round(float(number), self.decimals())

    def validate(self, text: str, pos: int) -> tuple[QValidator.State, str, int]:
        """Acceptable, or on the way there, or not to be typed; the text stays as it is.

        A second decimal sign may be typed but never be taken: were its key refused, the digits
        after it would make another number.
        """
        if text == self.specialValueText() != "":
            return QValidator.State.Acceptable, text, pos
        number = self._number(text)
        if _UNFINISHED.fullmatch(number) is None or (number[:1] == "-" and self.minimum() >= 0):
            return QValidator.State.Invalid, text, pos
        if _NUMBER.fullmatch(number) is None:
            return QValidator.State.Intermediate, text, pos
        value = self.valueFromText(text)
        if self.minimum() <= value <= self.maximum():
            state = QValidator.State.Acceptable
        elif (value > self.maximum() and value >= 0) or (value < self.minimum() and value < 0):
            state = QValidator.State.Invalid  # more digits only lead further away
        else:
            state = QValidator.State.Intermediate
        return state, text, pos

    def fixup(self, text: str) -> str:
        """As it is: Qt's own would take out what it holds to part groups of digits."""
        return text

    def _number(self, text: str) -> str:
        """The text without prefix, unit and outer spaces, with a point as its decimal sign."""
        number = text.strip().removeprefix(self.prefix().strip())
        number = number.removesuffix(self.suffix().strip()).strip()
        locale = self.locale()
        number = number.replace(locale.decimalPoint(), ".").replace(",", ".")
        return number.replace(locale.negativeSign(), "-")

    def wheelEvent(self, event: QWheelEvent) -> None:
        """Only with the focus."""
        if self.hasFocus():
            super().wheelEvent(event)
        else:
            event.ignore()
