"""Setting the screen's true size: a line that is to be as long as a bank card."""

from PySide6.QtCore import QPointF, QSignalBlocker, QSize, Qt
from PySide6.QtGui import QPainter, QPaintEvent, QPen
from PySide6.QtWidgets import (
    QDialog,
    QDialogButtonBox,
    QSizePolicy,
    QSlider,
    QVBoxLayout,
    QWidget,
)

from schemeforge.desk import DeskState
from schemeforge.desk.looking import LIMITS
from schemeforge.gui.bridge import Bridge
from schemeforge.gui.looking.lamp import change
from schemeforge.gui.looking.shot import true_scale
from schemeforge.gui.theme import GAP, GAP_WIDE
from schemeforge.gui.widgets.field import Field, NumberBox
from schemeforge.gui.widgets.labels import words

# [ISO7810]: the long side of a card of the format ID-1.
CARD_MM = 85.6
_STEPS = 1000


class CardLine(QWidget):
    """A line that is as long as a card where the screen's size is set rightly."""

    def __init__(self, bridge: Bridge, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.bridge = bridge
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Fixed)
        self.setAccessibleName(self.tr("A line as long as a bank card"))

    def length(self) -> float:
        """In pixels of the window."""
        fit = self.bridge.state.preferences.looking.screen_fit
        return CARD_MM / 25.4 * self.screen().physicalDotsPerInch() * fit

    def sizeHint(self) -> QSize:
        """Room for it."""
        return QSize(520, 40)

    def paintEvent(self, _event: QPaintEvent) -> None:
        """The line with its ends."""
        painter = QPainter(self)
        painter.setPen(QPen(self.palette().windowText().color(), 2))
        left, y = (self.width() - self.length()) / 2, self.height() / 2
        right = left + self.length()
        painter.drawLine(QPointF(left, y), QPointF(right, y))
        for x in (left, right):
            painter.drawLine(QPointF(x, y - 12), QPointF(x, y + 12))


class TrueSize(QDialog):
    """How high the painter's model is, and how large the screen's pixels are."""

    def __init__(self, bridge: Bridge, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.bridge = bridge
        self.setWindowTitle(self.tr("True size"))
        _what, low, high = LIMITS["screen_fit"]
        self._low, self._span = low, high - low
        self.line = CardLine(bridge)
        self.fit = QSlider(Qt.Orientation.Horizontal)
        self.fit.setRange(0, _STEPS)
        self.fit.setAccessibleName(self.tr("Length of the line"))
        self.fit.setToolTip(self.tr("Move it until the line is as long as the card"))
        self.height_mm = NumberBox(
            self.tr("height of your model"), low=5, high=300, step=1, decimals=1, unit="mm"
        )
        self.height_mm.setToolTip(
            self.tr("From the table to the highest tip; follows the base until you set it (mm)")
        )
        buttons = QDialogButtonBox()
        self.usual = buttons.addButton(
            self.tr("As the screen says"), QDialogButtonBox.ButtonRole.ResetRole
        )
        self.close_button = buttons.addButton(QDialogButtonBox.StandardButton.Close)
        buttons.rejected.connect(self.reject)
        for button in (self.usual, self.close_button):
            button.setAutoDefault(False)  # Enter in a field is not a click on a button
        column = QVBoxLayout(self)
        column.setContentsMargins(GAP_WIDE, GAP_WIDE, GAP_WIDE, GAP_WIDE)
        column.setSpacing(GAP)
        column.addWidget(
            words(
                self.tr(
                    "Hold a bank card to the screen, long side along the line, and move the "
                    "slider until both are as long. Then models can be shown as large as they "
                    "are: look at them from arm's length."
                )
            )
        )
        column.addWidget(self.line)
        column.addWidget(self.fit)
        column.addWidget(Field(self.tr("height of your model"), self.height_mm))
        column.addWidget(buttons)
        self.fit.valueChanged.connect(
            lambda value: change(bridge, screen_fit=self._low + self._span * value / _STEPS)
        )
        self.height_mm.valueChanged.connect(lambda mm: change(bridge, model_mm=mm))
        self.usual.clicked.connect(lambda: change(bridge, screen_fit=1.0, model_mm=0.0))
        bridge.changed.connect(self._on_changed)
        self._show(bridge.state)

    def _on_changed(self, old: DeskState, new: DeskState) -> None:
        if old.preferences is not new.preferences or old.project is not new.project:
            self._show(new)

    def _show(self, state: DeskState) -> None:
        from schemeforge.stand_in import WARDEN

        looking = state.preferences.looking
        place = round((looking.screen_fit - self._low) / self._span * _STEPS)
        if place != self.fit.value():
            with QSignalBlocker(self.fit):
                self.fit.setValue(place)
        self.height_mm.show_value(true_scale(looking, state.project) * WARDEN.frame.top)
        self.line.update()
