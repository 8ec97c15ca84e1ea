"""A line of a checklist: a box to tick and words that wrap."""

from PySide6.QtCore import (
    QEvent,
    QObject,
    QPoint,
    QPointF,
    QRectF,
    QSignalBlocker,
    QSize,
    Qt,
    Signal,
)
from PySide6.QtGui import QColor, QMouseEvent, QPainter, QPaintEvent, QPen, QPolygonF
from PySide6.QtWidgets import QCheckBox, QHBoxLayout, QLabel, QSizePolicy, QWidget

from schemeforge.gui.theme import GAP, GAP_TIGHT, Theme

_BOX = 18


class Tick(QCheckBox):
    """A box as on the printed sheet, plain to see on every surround."""

    def __init__(self, name: str, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setAccessibleName(name)
        self.setSizePolicy(QSizePolicy.Policy.Fixed, QSizePolicy.Policy.Fixed)
        self.theme: Theme | None = None

    def sizeHint(self) -> QSize:
        """The box alone; the words stand beside it."""
        return QSize(_BOX, _BOX)

    def hitButton(self, pos: QPoint) -> bool:
        """All of it can be clicked."""
        return self.rect().contains(pos)

    def paintEvent(self, _event: QPaintEvent) -> None:
        """The box, and a tick in it."""
        if self.theme is None:
            return
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        ink = QColor(self.theme.text if self.isEnabled() else self.theme.line)
        painter.setPen(QPen(ink, 1.4))
        painter.setBrush(QColor(self.theme.well))
        painter.drawRoundedRect(QRectF(1.5, 1.5, _BOX - 3.0, _BOX - 3.0), 2.0, 2.0)
        if self.isChecked():
            pen = QPen(ink, 2.4)
            pen.setCapStyle(Qt.PenCapStyle.RoundCap)
            pen.setJoinStyle(Qt.PenJoinStyle.RoundJoin)
            painter.setPen(pen)
            painter.setBrush(Qt.BrushStyle.NoBrush)
            points = (QPointF(4.5, 9.2), QPointF(7.8, 12.6), QPointF(13.8, 4.8))
            painter.drawPolyline(QPolygonF(points))


class TickLine(QWidget):
    """Box and words on a ruled line; a click anywhere on it ticks.

    Signals:
        ticked: By the user, never by ``set_ticked``.
    """

    ticked = Signal(bool)

    def __init__(self, text: str, tip: str = "", parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._theme: Theme | None = None
        self.box = Tick(text)
        self.box.setAccessibleDescription(tip)
        self.box.installEventFilter(self)
        self.words = QLabel(text)
        self.words.setWordWrap(True)
        self.words.setTextFormat(Qt.TextFormat.PlainText)
        self.setToolTip(tip)
        row = QHBoxLayout(self)
        row.setContentsMargins(GAP_TIGHT, GAP_TIGHT, GAP_TIGHT, GAP_TIGHT + 1)
        row.setSpacing(GAP)
        row.addWidget(self.box)
        row.addWidget(self.words, 1)
        self.box.clicked.connect(self.ticked)

    @property
    def is_ticked(self) -> bool:
        """True while ticked."""
        return self.box.isChecked()

    def set_ticked(self, on: bool) -> None:
        """Tick it or not, telling nobody."""
        with QSignalBlocker(self.box):
            self.box.setChecked(on)

    def dress(self, theme: Theme) -> None:
        """Take the colours of a surround."""
        self._theme = self.box.theme = theme
        self.update()

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:
        """The focus shows around the whole line."""
        if event.type() in {QEvent.Type.FocusIn, QEvent.Type.FocusOut}:
            self.update()
        return super().eventFilter(watched, event)

    def mouseReleaseEvent(self, event: QMouseEvent) -> None:
        """A click on the words is one on the box."""
        if event.button() is Qt.MouseButton.LeftButton and self.rect().contains(
            event.position().toPoint()
        ):
            self.box.click()

    def paintEvent(self, _event: QPaintEvent) -> None:
        """The rule under the line, and the focus."""
        if self._theme is None:
            return
        painter = QPainter(self)
        faint = QColor(self._theme.line)
        faint.setAlpha(90)
        painter.setPen(QPen(faint, 1.0))
        painter.drawLine(0, self.height() - 1, self.width(), self.height() - 1)
        if self.box.hasFocus():
            painter.setPen(QPen(QColor(self._theme.accent), 2.0))
            painter.drawRoundedRect(self.rect().adjusted(1, 1, -2, -3), 3, 3)
