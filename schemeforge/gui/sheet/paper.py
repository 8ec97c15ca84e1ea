"""The paper on the desk: one side of the sheet as it prints, the sides under it, its index."""

from enum import StrEnum

from PySide6.QtCore import QPoint, QPointF, QRect, QRectF, QSize, Qt, Signal
from PySide6.QtGui import (
    QColor,
    QImage,
    QKeyEvent,
    QMouseEvent,
    QPainter,
    QPaintEvent,
    QPen,
    QResizeEvent,
    QWheelEvent,
)
from PySide6.QtWidgets import QAbstractScrollArea, QWidget

from schemeforge.gui.theme import GAP, GAP_WIDE, Theme

MM_PER_INCH = 25.4
# Edges of the sides that lie under the one on top, at most so many, and how far each shows.
_MOST_EDGES = 3
_EDGE = 3
_NOTCH = 120


class Fit(StrEnum):
    """How large the paper is shown."""

    WHOLE = "whole"
    WIDTH = "width"
    TRUE = "true"


class PaperView(QAbstractScrollArea):
    """Shows one side; scrolls within it and, at its ends, on to the next.

    Signals:
        turned: The number of the side wanted, from 0.
        resized: Another width in device pixels is wanted.
    """

    turned = Signal(int)
    resized = Signal()

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setFrameShape(QAbstractScrollArea.Shape.NoFrame)
        self.setStyleSheet("PaperView { border: none; }")
        self.viewport().setAutoFillBackground(False)
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.setMinimumSize(240, 200)
        self.verticalScrollBar().valueChanged.connect(self._on_scrolled)
        self.horizontalScrollBar().valueChanged.connect(self._on_scrolled)
        self.fit = Fit.WIDTH
        self.image = QImage()
        self.number = 0
        self.count = 0
        self._size_mm: tuple[float, float] | None = None
        self._index: QWidget | None = None
        self._theme: Theme | None = None
        self._grip: QPoint | None = None
        self._turn = 0

    def dress(self, theme: Theme) -> None:
        """Take the colours of a surround."""
        self._theme = theme
        self.viewport().update()

    def set_index(self, index: QWidget) -> None:
        """The tabs that stand out at the right edge of the paper."""
        index.setParent(self.viewport())
        self._index = index
        self._place()

    def set_fit(self, fit: Fit) -> None:
        """Another size of the same side, its top in view."""
        self.fit = fit
        self._place()
        self.resized.emit()

    def show_side(self, number: int, count: int, size_mm: tuple[float, float]) -> None:
        """Which side lies on top; its picture follows."""
        turned_back = number == self.number - 1 and self._turn < 0
        same = number == self.number and self._size_mm == size_mm
        if number != self.number:
            self.image = QImage()
        self.number, self.count, self._size_mm = number, count, size_mm
        self._place()
        if not same:
            bar = self.verticalScrollBar()
            bar.setValue(bar.maximum() if turned_back else 0)
        self._turn = 0

    def show_image(self, image: QImage) -> None:
        """The picture of the side on top."""
        self.image = image
        self.viewport().update()

    def clear(self) -> None:
        """No paper on the desk."""
        self.image = QImage()
        self.number, self.count, self._size_mm = 0, 0, None
        self._place()

    @property
    def pixels_across(self) -> int:
        """Device pixels that the paper is wide, 0 without paper."""
        return round(self.paper().width() * self.devicePixelRatioF())

    def paper(self) -> QRectF:
        """Where the paper lies in the viewport."""
        size = self._paper_size()
        if size is None:
            return QRectF()
        width, height = size
        room = self._room(height)
        x = max((room.width() - width) / 2.0, 0.0) - self.horizontalScrollBar().value()
        y = max((room.height() - height) / 2.0, 0.0) - self.verticalScrollBar().value()
        ratio = self.devicePixelRatioF()
        left = room.left() + x
        top = room.top() + y
        return QRectF(round(left * ratio) / ratio, round(top * ratio) / ratio, width, height)

    def _paper_size(self) -> tuple[float, float] | None:
        """Width and height of the paper in device-independent pixels."""
        if self._size_mm is None:
            return None
        width_mm, height_mm = self._size_mm
        if self.fit is Fit.TRUE:
            scale = self._true_scale()
        else:
            inner = self._inner()
            scale = max(inner.width(), 100) / width_mm
            if self.fit is Fit.WHOLE:
                scale = min(scale, max(inner.height(), 100) / height_mm)
        ratio = self.devicePixelRatioF()
        return round(width_mm * scale * ratio) / ratio, round(height_mm * scale * ratio) / ratio

    def _true_scale(self) -> float:
        """Device-independent pixels per mm, as far as the screen tells."""
        inch = self.screen().physicalDotsPerInch()
        usual = self.screen().logicalDotsPerInch()
        return float(inch if 40.0 <= inch <= 400.0 else usual) / MM_PER_INCH

    def _inner(self) -> QSize:
        """Room for paper with the desk showing around it, whether or not a bar is shown."""
        bar = self.verticalScrollBar().sizeHint().width()
        index = self._index_width()
        whole = self.contentsRect()
        return QSize(
            whole.width() - index - GAP_WIDE - _EDGE * _MOST_EDGES - bar,
            whole.height() - 2 * GAP_WIDE - _EDGE * _MOST_EDGES,
        )

    def _room(self, height: float) -> QRectF:
        """The part of the desk that paper may lie on."""
        index = self._index_width()
        view = self.viewport()
        air = float(GAP_WIDE)
        high = max(view.height() - 2.0 * air - _EDGE * _MOST_EDGES, min(height, 1.0))
        wide = view.width() - index - air - _EDGE * _MOST_EDGES
        return QRectF(air / 2.0, air, max(wide, 1.0), high)

    def _place(self) -> None:
        size = self._paper_size()
        view = self.viewport().size()
        vertical, horizontal = self.verticalScrollBar(), self.horizontalScrollBar()
        if size is None:
            vertical.setRange(0, 0)
            horizontal.setRange(0, 0)
        else:
            room = self._room(size[1])
            vertical.setRange(0, max(round(size[1] - room.height()), 0))
            horizontal.setRange(0, max(round(size[0] - room.width()), 0))
            vertical.setPageStep(view.height())
            horizontal.setPageStep(view.width())
            vertical.setSingleStep(40)
            horizontal.setSingleStep(40)
        self._place_index()
        self.viewport().update()

    def _index_width(self) -> int:
        return self._index.sizeHint().width() if self._index is not None else 0

    def _place_index(self) -> None:
        """At the right edge of the paper, or of the desk where the paper is wider."""
        if self._index is None:
            return
        view, paper, hint = self.viewport(), self.paper(), self._index.sizeHint()
        left = round(min(paper.right(), view.width() - hint.width() - 1.0))
        top = round(max(paper.top(), 0.0)) + GAP_WIDE
        high = max(min(view.height() - top - GAP, hint.height()), 1)
        self._index.setGeometry(QRect(left, top, hint.width(), high))
        self._index.setVisible(self.count > 0)

    def _on_scrolled(self) -> None:
        self._place_index()
        self.viewport().update()

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Fit again."""
        super().resizeEvent(event)
        self._place()
        self.resized.emit()

    def paintEvent(self, _event: QPaintEvent) -> None:
        """The sides under it as edges, then the paper, then what is printed on it."""
        if self._theme is None or self._size_mm is None:
            return
        painter = QPainter(self.viewport())
        paper = self.paper()
        line = QPen(QColor(self._theme.line), 1.0)
        painter.setPen(line)
        for n in range(min(self.count - self.number - 1, _MOST_EDGES), 0, -1):
            painter.setBrush(QColor("#e2e2e2"))
            painter.drawRect(paper.translated(n * _EDGE, n * _EDGE))
        if self.image.isNull():
            painter.fillRect(paper, QColor("white"))
        else:
            self._paint_image(painter, paper)
        painter.setBrush(Qt.BrushStyle.NoBrush)
        painter.drawRect(paper.adjusted(-0.5, -0.5, 0.5, 0.5))
        if self.hasFocus():
            painter.setPen(QPen(QColor(self._theme.accent), 2.0))
            painter.drawRect(paper.adjusted(-2.0, -2.0, 2.0, 2.0))

    def _paint_image(self, painter: QPainter, paper: QRectF) -> None:
        """Pixel for pixel where the picture fits, else stretched until the right one comes."""
        ratio = self.devicePixelRatioF()
        if self.image.width() == self.pixels_across:
            image = QImage(self.image)
            image.setDevicePixelRatio(ratio)
            painter.setClipRect(paper)
            painter.drawImage(QPointF(paper.topLeft()), image)
            painter.setClipping(False)
        else:
            painter.setRenderHint(QPainter.RenderHint.SmoothPixmapTransform)
            painter.drawImage(paper, self.image)

    def turn(self, by: int) -> None:
        """To another side, as far as there are any."""
        wanted = min(max(self.number + by, 0), max(self.count - 1, 0))
        if wanted != self.number:
            self.turned.emit(wanted)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Page keys scroll and turn; left and right turn; home and end go to first and last."""
        key = Qt.Key(event.key())
        if key in {Qt.Key.Key_PageDown, Qt.Key.Key_Space}:
            self._scroll(self.viewport().height() - 2 * GAP_WIDE)
        elif key in {Qt.Key.Key_PageUp, Qt.Key.Key_Backspace}:
            self._scroll(-(self.viewport().height() - 2 * GAP_WIDE))
        elif key in {Qt.Key.Key_Right, Qt.Key.Key_Left}:
            self.turn(1 if key is Qt.Key.Key_Right else -1)
        elif key is Qt.Key.Key_Home:
            self.turn(-self.number)
        elif key is Qt.Key.Key_End:
            self.turn(self.count)
        else:
            super().keyPressEvent(event)

    def _scroll(self, by: int) -> None:
        """Within the side, or on to the next where it ends."""
        bar = self.verticalScrollBar()
        at_end = bar.value() == (bar.maximum() if by > 0 else bar.minimum())
        if not at_end:
            bar.setValue(bar.value() + by)
            return
        self._turn = 1 if by > 0 else -1
        self.turn(self._turn)

    def wheelEvent(self, event: QWheelEvent) -> None:
        """Scrolls; a full notch at the end of a side turns to the next."""
        if event.modifiers() & Qt.KeyboardModifier.ShiftModifier or event.angleDelta().x():
            super().wheelEvent(event)
            return
        bar, delta = self.verticalScrollBar(), event.angleDelta().y()
        at_end = bar.value() == (bar.minimum() if delta > 0 else bar.maximum())
        event.accept()
        if not at_end:
            self._wheel = 0
            pixels = event.pixelDelta().y() or round(delta * 0.75)
            bar.setValue(bar.value() - pixels)
            return
        self._wheel = self._wheel + delta if (delta > 0) == (self._wheel > 0) else delta
        if abs(self._wheel) >= _NOTCH:
            self._wheel = 0
            self._turn = -1 if delta > 0 else 1
            self.turn(self._turn)

    _wheel = 0

    def mousePressEvent(self, event: QMouseEvent) -> None:
        """Take hold of the paper."""
        self._grip = event.position().toPoint()
        self.viewport().setCursor(Qt.CursorShape.ClosedHandCursor)

    def mouseMoveEvent(self, event: QMouseEvent) -> None:
        """Pull the paper about."""
        if self._grip is None:
            return
        here = event.position().toPoint()
        by = here - self._grip
        self._grip = here
        self.verticalScrollBar().setValue(self.verticalScrollBar().value() - by.y())
        self.horizontalScrollBar().setValue(self.horizontalScrollBar().value() - by.x())

    def mouseReleaseEvent(self, _event: QMouseEvent) -> None:
        """Let go of it."""
        self._grip = None
        self.viewport().unsetCursor()
