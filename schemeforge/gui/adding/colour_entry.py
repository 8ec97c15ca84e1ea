"""A colour to be given: as a code, or from the system's own dialog, beside a chip of it."""

from PySide6.QtCore import QSize, Qt, Signal
from PySide6.QtGui import QColor, QPainter, QPaintEvent, QPalette, QPen
from PySide6.QtWidgets import (
    QColorDialog,
    QHBoxLayout,
    QLineEdit,
    QPushButton,
    QSizePolicy,
    QWidget,
)

from schemeforge import colorimetry
from schemeforge.calibration import Seen, colour_of_code
from schemeforge.colorimetry.words import colour_words
from schemeforge.errors import SchemeForgeError
from schemeforge.gui.theme import GAP_TIGHT

_LONGEST = 64


class Chip(QWidget):
    """A flat colour, or a crossed box where there is none."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._code = ""
        self.setSizePolicy(QSizePolicy.Policy.Fixed, QSizePolicy.Policy.Preferred)

    def show_code(self, code: str) -> None:
        """Show ``#rrggbb``, or "" for none."""
        if code != self._code:
            self._code = code
            self.update()

    def sizeHint(self) -> QSize:
        """A square and a half."""
        side = self.fontMetrics().height() + 12
        return QSize(round(1.6 * side), side)

    def paintEvent(self, _event: QPaintEvent) -> None:
        """The colour without a frame, so that nothing stands against it but the surround."""
        painter = QPainter(self)
        if self._code:
            painter.fillRect(self.rect(), QColor(self._code))
            return
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        painter.setPen(QPen(self.palette().color(QPalette.ColorRole.Mid), 1))
        box = self.rect().adjusted(0, 0, -1, -1)
        painter.drawRect(box)
        painter.drawLine(box.bottomLeft(), box.topRight())


class ColourEntry(QWidget):
    """One colour.

    Signals:
        changed: After the user gave another colour, or one that is none.
    """

    changed = Signal()

    def __init__(self, name: str, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.code = QLineEdit()
        self.code.setMaxLength(_LONGEST)
        self.code.setPlaceholderText("#7f4a21")
        self.code.setAccessibleName(name)
        self.code.setToolTip(self.tr("Six digits as on a colour page, for example #7f4a21"))
        self.code.setFixedWidth(self.code.fontMetrics().averageCharWidth() * 14)
        self.chip = Chip()
        self.pick = QPushButton(self.tr("Pick..."))
        self.pick.setAccessibleName(self.tr("Pick: {0}").format(name))
        row = QHBoxLayout(self)
        row.setContentsMargins(0, 0, 0, 0)
        row.setSpacing(GAP_TIGHT)
        row.addWidget(self.chip)
        row.addWidget(self.code)
        row.addWidget(self.pick)
        self.setFocusProxy(self.code)
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.setAccessibleName(name)
        self.code.textEdited.connect(self._on_edited)
        self.pick.clicked.connect(self._ask)

    @property
    def is_empty(self) -> bool:
        """True where nothing was given yet."""
        return not self.code.text().strip()

    def seen(self) -> Seen:
        """The colour; raises InputError where the text is none."""
        return colour_of_code(self.code.text())

    def show_code(self, code: str) -> None:
        """Write a code and show its colour, without telling anyone."""
        self.code.setText(code)
        self._show_chip()

    def _on_edited(self) -> None:
        self._show_chip()
        self.changed.emit()

    def _show_chip(self) -> None:
        try:
            linear = self.seen().linear
        except SchemeForgeError:
            self.chip.show_code("")
            self.code.setAccessibleDescription(self.tr("no colour yet"))
            return
        xyz = colorimetry.xyz_from_linear_rgb([linear])
        self.chip.show_code(colorimetry.hex_codes(xyz)[0])
        self.code.setAccessibleDescription(colour_words(colorimetry.lab_from_xyz(xyz)[0]))

    def _ask(self) -> None:
        start = QColor(self.code.text()) if QColor.isValidColorName(self.code.text()) else QColor()
        found = QColorDialog.getColor(start, self.window(), self.code.accessibleName())
        if found.isValid():
            self.show_code(found.name())
            self.changed.emit()
