"""A plot over the spectrum that can be read band by band with keys."""

from typing import Any

import numpy as np
from numpy.typing import NDArray
from PySide6.QtCore import QPointF, QRectF, QSize, Qt
from PySide6.QtGui import QColor, QFocusEvent, QKeyEvent, QPainter, QPen
from PySide6.QtWidgets import QSizePolicy, QWidget

from schemeforge.gui.keys import tell_keys
from schemeforge.optics import bands

MARKS_NM = (400, 500, 600, 700)


class BandPlot(QWidget):
    """Something over the spectrum: what it is, how large, and how keys read it.

    Left and right read it band by band; the reading is the widget's accessible description.

    Args:
        name: What a screen reader calls it.
        meaning: What walking along the bands does, for the list of keys.
        parent: The widget that holds it.
    """

    def __init__(self, name: str, meaning: str, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._band: int | None = None
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.setAccessibleName(name)
        tell_keys(self, (self.tr("Left, Right, Home, End"), meaning))
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Expanding)

    @property
    def reading(self) -> str:
        """The plot in words: at the band that the keys stand on, or as a whole."""
        raise NotImplementedError

    def sizeHint(self) -> QSize:
        """Wide enough for its four wavelengths."""
        return QSize(self.fontMetrics().averageCharWidth() * 40, 150)

    def minimumSizeHint(self) -> QSize:
        """Still legible."""
        return QSize(self.fontMetrics().averageCharWidth() * 26, 120)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Left and right move along the bands, Escape reads the whole."""
        at = -1 if self._band is None else self._band
        to = {
            Qt.Key.Key_Left: max(at - 1, 0),
            Qt.Key.Key_Right: min(at + 1, bands.COUNT - 1),
            Qt.Key.Key_Home: 0,
            Qt.Key.Key_End: bands.COUNT - 1,
        }.get(Qt.Key(event.key()))
        if to is None and not (event.key() == Qt.Key.Key_Escape and self._band is not None):
            super().keyPressEvent(event)
            return
        self._band = to
        self._show_reading()

    def focusOutEvent(self, event: QFocusEvent) -> None:
        """Take the frame of focus and the reading mark away."""
        super().focusOutEvent(event)
        self._band = None
        self._show_reading()

    def _show_reading(self) -> None:
        """Tell the reading and paint anew: what is plotted, or the band read, has changed."""
        self.setAccessibleDescription(self.reading)
        self.setToolTip(self.reading)
        self.update()

    @staticmethod
    def _across(area: QRectF) -> NDArray[Any]:
        """Where the bands lie in the area of the curves, in pixels, ``(36,)``."""
        x: NDArray[Any] = area.left() + area.width() * np.arange(bands.COUNT) / (bands.COUNT - 1)
        return x

    def _paint_band_read(self, painter: QPainter, area: QRectF, mark: QPen, accent: QColor) -> None:
        """The line at the band that the keys stand on, and the frame of focus."""
        if self._band is not None:
            x = self._across(area)[self._band]
            painter.setPen(mark)
            painter.drawLine(QPointF(x, area.top()), QPointF(x, area.bottom()))
        if self.hasFocus():
            painter.setPen(QPen(accent, 2))
            painter.setBrush(Qt.BrushStyle.NoBrush)
            painter.drawRect(QRectF(self.rect()).adjusted(1, 1, -1, -1))
