"""A photograph on the desk: zoomed, moved about, and marked with rectangles or a line.

Marks are widgets of their own that lie on the board, so that Tab goes from one to the next and a
screen reader names each.
"""

import math
from typing import Any

import numpy as np
from numpy.typing import NDArray
from PySide6.QtCore import QPointF, QRectF, QSize, Qt, Signal
from PySide6.QtGui import (
    QColor,
    QImage,
    QKeyEvent,
    QMouseEvent,
    QPainter,
    QPaintEvent,
    QPalette,
    QPen,
    QResizeEvent,
    QWheelEvent,
)
from PySide6.QtWidgets import QSizePolicy, QWidget

_ZOOM_STEP = 1.25
_MOST_ZOOM = 32.0  # screen pixels for one of the picture
_PAN = 0.1  # of what is in view, for one press of an arrow key
_DRAG = 4  # pixels, from which a press is a drag

Place = tuple[float, float]


class Board(QWidget):
    """The picture. Places are shares of its width and height.

    Signals:
        spanned: Two corners of a rectangle that was dragged, as places.
        pressed: Place of a click on the bare picture.
        moved: The picture was zoomed, moved or changed: marks must follow.
        asked: A key that the board itself has no use for, as a `Qt.Key`.
    """

    spanned = Signal(object, object)
    pressed = Signal(object)
    moved = Signal()
    asked = Signal(object)

    def __init__(self, name: str, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._levels: list[QImage] = []
        self._other: QImage | None = None
        self.shows_other = False
        self._size = (1, 1)
        self._zoom = 0.0  # 0 fits the picture into the board
        self._centre: Place = (0.5, 0.5)
        self._from: QPointF | None = None
        self._to: QPointF | None = None
        self._panning: QPointF | None = None
        self.setAccessibleName(name)
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.setCursor(Qt.CursorShape.CrossCursor)
        self.setMinimumHeight(220)
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Expanding)

    def sizeHint(self) -> QSize:
        """As large as may be."""
        return QSize(800, 480)

    @property
    def has_picture(self) -> bool:
        """True once there is a picture."""
        return bool(self._levels)

    @property
    def scale(self) -> float:
        """Screen pixels for one pixel of the picture."""
        wide, high = self._size
        fit = min((self.width() - 2) / wide, (self.height() - 2) / high)
        return max(fit, 1e-6) if self._zoom == 0.0 else self._zoom

    def show_picture(self, codes: NDArray[np.uint8] | None) -> None:
        """Another picture, 8-bit sRGB ``(height, width, 3)``, whole in view; None for none."""
        self._other, self.shows_other = None, False
        self._levels = [] if codes is None else _levels(_image(codes))
        if codes is not None:
            self._size = (codes.shape[1], codes.shape[0])
        self.fit()

    def show_other(self, codes: NDArray[np.uint8] | None, *, shown: bool) -> None:
        """The same picture otherwise, of any size, in place of the first while ``shown``."""
        self._other = None if codes is None else _image(codes)
        self.shows_other = shown and self._other is not None
        self.update()

    def fit(self) -> None:
        """The whole picture in view."""
        self._zoom, self._centre = 0.0, (0.5, 0.5)
        self._changed()

    def zoom_by(self, factor: float, about: QPointF | None = None) -> None:
        """Larger or smaller, with the place under ``about`` staying where it is."""
        about = QPointF(self.rect().center()) if about is None else about
        place = self.place_at(about)
        least = min((self.width() - 2) / self._size[0], (self.height() - 2) / self._size[1])
        wanted = min(self.scale * factor, _MOST_ZOOM)
        self._zoom = 0.0 if wanted <= least * 1.001 else wanted
        if self._zoom == 0.0:
            self._centre = (0.5, 0.5)
        else:
            offset = about - QPointF(self.rect().center())
            self._centre = (
                place[0] - offset.x() / (self._size[0] * self._zoom),
                place[1] - offset.y() / (self._size[1] * self._zoom),
            )
        self._changed()

    def pan(self, dx: float, dy: float) -> None:
        """Move by shares of what is in view."""
        if self._zoom:
            box = self.picture_box()
            self._centre = (
                self._centre[0] + dx * self.width() / box.width(),
                self._centre[1] + dy * self.height() / box.height(),
            )
            self._changed()

    def reveal(self, box: QRectF) -> None:
        """Bring a box of board pixels into view."""
        inside = QRectF(self.rect())
        if self._zoom and not inside.contains(box):
            self._centre = self.place_at(box.center())
            self._changed()

    def picture_box(self) -> QRectF:
        """Where the whole picture lies on the board."""
        wide, high = self._size[0] * self.scale, self._size[1] * self.scale
        middle = QPointF(self.rect().center())
        corner = middle - QPointF(self._centre[0] * wide, self._centre[1] * high)
        return QRectF(corner.x(), corner.y(), wide, high)

    def place_at(self, at: QPointF) -> Place:
        """The place in the picture under a point of the board."""
        box = self.picture_box()
        return (at.x() - box.left()) / box.width(), (at.y() - box.top()) / box.height()

    def point_of(self, place: Place) -> QPointF:
        """The point of the board over a place in the picture."""
        box = self.picture_box()
        return QPointF(box.left() + place[0] * box.width(), box.top() + place[1] * box.height())

    @property
    def view_centre(self) -> Place:
        """The place in the middle of what is in view."""
        return self._centre

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Marks follow."""
        super().resizeEvent(event)
        self._changed()

    def _changed(self) -> None:
        if self._zoom:
            self._centre = tuple(min(max(c, 0.0), 1.0) for c in self._centre)  # type: ignore[assignment]
        self.moved.emit()
        self.update()

    def paintEvent(self, _event: QPaintEvent) -> None:
        """The well, the part of the picture in view, the rectangle being dragged, the focus."""
        painter = QPainter(self)
        palette = self.palette()
        painter.fillRect(self.rect(), palette.color(QPalette.ColorRole.Window))
        if self._levels:
            self._paint_picture(painter)
        if self._from is not None and self._to is not None:
            painter.setBrush(Qt.BrushStyle.NoBrush)
            box = QRectF(self._from, self._to).normalized()
            for ink, wide in ((Qt.GlobalColor.white, 3.0), (Qt.GlobalColor.black, 1.0)):
                painter.setPen(QPen(QColor(ink), wide))
                painter.drawRect(box)
        focus = self.hasFocus()
        role = QPalette.ColorRole.Highlight if focus else QPalette.ColorRole.Mid
        painter.setBrush(Qt.BrushStyle.NoBrush)
        painter.setPen(QPen(palette.color(role), 3 if focus else 1))
        painter.drawRect(QRectF(self.rect()).adjusted(0.5, 0.5, -0.5, -0.5))

    def _paint_picture(self, painter: QPainter) -> None:
        box = self.picture_box()
        image = self._other if self.shows_other and self._other is not None else self._level()
        across, down = image.width() / box.width(), image.height() / box.height()
        shown = box.intersected(QRectF(self.rect()))
        source = QRectF(
            (shown.left() - box.left()) * across,
            (shown.top() - box.top()) * down,
            shown.width() * across,
            shown.height() * down,
        )
        smooth = self.scale < 4.0
        painter.setRenderHint(QPainter.RenderHint.SmoothPixmapTransform, smooth)
        painter.drawImage(shown, image, source)

    def _level(self) -> QImage:
        """The smallest copy that is at least as fine as the screen."""
        halvings = math.floor(math.log2(1 / (self.scale * self.devicePixelRatioF())))
        return self._levels[min(max(halvings, 0), len(self._levels) - 1)]

    def mousePressEvent(self, event: QMouseEvent) -> None:
        """Left begins a rectangle, the middle or right button moves the picture."""
        if not self._levels:
            return
        if event.button() is Qt.MouseButton.LeftButton:
            self._from = event.position()
        else:
            self._panning = event.position()

    def mouseMoveEvent(self, event: QMouseEvent) -> None:
        """Draw the rectangle, or move the picture."""
        if self._panning is not None:
            gone = event.position() - self._panning
            self._panning = event.position()
            self.pan(-gone.x() / max(self.width(), 1), -gone.y() / max(self.height(), 1))
        elif self._from is not None:
            far = (event.position() - self._from).manhattanLength() >= _DRAG
            self._to = event.position() if far or self._to is not None else None
            self.update()

    def mouseReleaseEvent(self, event: QMouseEvent) -> None:
        """A rectangle, or a click."""
        start, self._from = self._from, None
        end, self._to, self._panning = self._to, None, None
        if start is not None:
            if end is not None:
                self.spanned.emit(self.place_at(start), self.place_at(event.position()))
            else:
                self.pressed.emit(self.place_at(start))
        self.update()

    def wheelEvent(self, event: QWheelEvent) -> None:
        """The wheel zooms about the pointer."""
        if self._levels:
            steps = event.angleDelta().y() / 120.0
            self.zoom_by(_ZOOM_STEP**steps, event.position())
            event.accept()

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Zoom, move about; other keys are asked of whoever holds the board."""
        key = Qt.Key(event.key())
        moves: dict[Qt.Key, tuple[float, float]] = {
            Qt.Key.Key_Left: (-_PAN, 0.0),
            Qt.Key.Key_Right: (_PAN, 0.0),
            Qt.Key.Key_Up: (0.0, -_PAN),
            Qt.Key.Key_Down: (0.0, _PAN),
        }
        if not self._levels or event.modifiers() & ~Qt.KeyboardModifier.KeypadModifier & (
            Qt.KeyboardModifier.ControlModifier | Qt.KeyboardModifier.AltModifier
        ):
            super().keyPressEvent(event)
        elif key in moves:
            self.pan(*moves[key])
        elif key in {Qt.Key.Key_Plus, Qt.Key.Key_Equal}:
            self.zoom_by(_ZOOM_STEP)
        elif key == Qt.Key.Key_Minus:
            self.zoom_by(1 / _ZOOM_STEP)
        elif key == Qt.Key.Key_0:
            self.fit()
        elif Qt.Key.Key_A <= key <= Qt.Key.Key_Z:
            self.asked.emit(key)
        else:
            super().keyPressEvent(event)


def _image(codes: NDArray[np.uint8]) -> QImage:
    """An image with its own copy of the pixels, in the format that screens are painted in."""
    data = np.ascontiguousarray(codes)
    high, wide = data.shape[:2]
    made = QImage(data.data, wide, high, 3 * wide, QImage.Format.Format_RGB888)
    return made.convertToFormat(QImage.Format.Format_RGB32)


def _levels(image: QImage) -> list[QImage]:
    """The image and halves of it, down to a few hundred pixels."""
    levels = [image]
    while max(levels[-1].width(), levels[-1].height()) > 600:
        last: Any = levels[-1]
        levels.append(
            last.scaled(
                max(last.width() // 2, 1),
                max(last.height() // 2, 1),
                Qt.AspectRatioMode.IgnoreAspectRatio,
                Qt.TransformationMode.SmoothTransformation,
            )
        )
    return levels
