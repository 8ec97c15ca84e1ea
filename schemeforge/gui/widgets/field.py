"""A control under its caption, and spin boxes that tell only what the user did."""

from PySide6.QtCore import QSignalBlocker, Qt
from PySide6.QtGui import QWheelEvent
from PySide6.QtWidgets import QDoubleSpinBox, QLabel, QSizePolicy, QVBoxLayout, QWidget

from schemeforge.gui.theme import GAP_TIGHT


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
        text = self.locale().toString(value, "f", self.decimals())
        point = self.locale().decimalPoint()
        return text.rstrip("0").rstrip(point) if point in text else text

    def wheelEvent(self, event: QWheelEvent) -> None:
        """Only with the focus."""
        if self.hasFocus():
            super().wheelEvent(event)
        else:
            event.ignore()
