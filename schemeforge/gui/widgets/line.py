"""A line of text that may change with every frame without moving anything around it."""

from PySide6.QtCore import QRect, QSize, Qt
from PySide6.QtGui import QPainter, QPaintEvent
from PySide6.QtWidgets import QSizePolicy, QWidget


class TextLine(QWidget):
    """One line, cut short with an ellipsis where it does not fit; the tooltip has it whole.

    A label would ask for a new layout of the whole page whenever its text changes.
    """

    def __init__(
        self, parent: QWidget | None = None, *, right: bool = False, share: int = 1
    ) -> None:
        super().__init__(parent)
        self._text = ""
        self.setAttribute(Qt.WidgetAttribute.WA_OpaquePaintEvent)
        side = Qt.AlignmentFlag.AlignRight if right else Qt.AlignmentFlag.AlignLeft
        self._flags = side | Qt.AlignmentFlag.AlignVCenter
        policy = QSizePolicy(QSizePolicy.Policy.Ignored, QSizePolicy.Policy.Fixed)
        policy.setHorizontalStretch(share)
        self.setSizePolicy(policy)

    def text(self) -> str:
        """The text, whole."""
        return self._text

    def setText(self, text: str) -> None:
        """Another text."""
        if text != self._text:
            self._text = text
            self.setToolTip(text)
            self.setAccessibleName(text)
            self.update()

    def sizeHint(self) -> QSize:
        """As high as a line of the font."""
        return QSize(120, self.fontMetrics().height() + 2)

    def paintEvent(self, _event: QPaintEvent) -> None:
        """The text, or as much of it as fits."""
        painter = QPainter(self)
        painter.fillRect(self.rect(), self.palette().window())
        painter.setPen(self.palette().windowText().color())
        metrics = self.fontMetrics()
        text = metrics.elidedText(self._text, Qt.TextElideMode.ElideRight, self.width())
        painter.drawText(QRect(self.rect()), self._flags, text)
