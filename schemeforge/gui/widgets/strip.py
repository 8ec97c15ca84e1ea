"""A colour strip: a ramp of predicted colours that can be read, walked by keys, and copied."""

from typing import Any

import numpy as np
from numpy.typing import NDArray
from PySide6.QtCore import QCoreApplication, QEvent, QPointF, QRectF, QSize, Qt, QTimer, Signal
from PySide6.QtGui import (
    QColor,
    QGuiApplication,
    QHelpEvent,
    QImage,
    QKeyEvent,
    QMouseEvent,
    QPainter,
    QPaintEvent,
    QPen,
    QPolygonF,
)
from PySide6.QtWidgets import QSizePolicy, QToolTip, QWidget

from schemeforge import colorimetry
from schemeforge.gui.keys import Key
from schemeforge.gui.reading import Reading, reading_of

# Rows of dither that are repeated down the strip: enough that no pattern shows.
_DITHER_ROWS = 16
_TELL_MS = 300


def ramp_image(xyz: NDArray[Any], width: int, height: int) -> QImage:
    """A dithered image of a ramp ``(points, 3)`` of XYZ, recess at the left, in device pixels."""
    return _ramp(colorimetry.srgb(np.asarray(xyz, dtype=np.float64)).rgb, width, height)


def _ramp(shown: NDArray[Any], width: int, height: int) -> QImage:
    count = shown.shape[0]
    at = np.linspace(0.0, count - 1.0, max(width, 1))
    low = np.minimum(at.astype(np.intp), max(count - 2, 0))
    share = (at - low)[:, np.newaxis]
    high = np.minimum(low + 1, count - 1)
    row = shown[low] * (1.0 - share) + shown[high] * share
    block = colorimetry.dither(np.broadcast_to(row, (_DITHER_ROWS, *row.shape)))
    return _tiled(block, height)


def tile_image(xyz: NDArray[Any], width: int, height: int) -> QImage:
    """A dithered image of a tile ``(rows, columns, 3)`` of XYZ, first row on top."""
    shown = colorimetry.srgb(np.asarray(xyz, dtype=np.float64)).rgb
    across = _resampled(shown.swapaxes(0, 1), max(width, 1)).swapaxes(0, 1)
    whole = _resampled(across, max(height, 1))
    return _tiled(colorimetry.dither(whole), whole.shape[0])


def _resampled(rows: NDArray[Any], count: int) -> NDArray[Any]:
    """Linear resampling of the first axis."""
    at = np.linspace(0.0, rows.shape[0] - 1.0, count)
    low = np.minimum(at.astype(np.intp), max(rows.shape[0] - 2, 0))
    share = (at - low)[:, np.newaxis, np.newaxis]
    high = np.minimum(low + 1, rows.shape[0] - 1)
    result: NDArray[Any] = rows[low] * (1.0 - share) + rows[high] * share
    return result


def _tiled(block: NDArray[np.uint8], height: int) -> QImage:
    """An image of the block repeated downwards, in the format that screens are painted in."""
    wide = block.astype(np.uint32)
    packed = 0xFF000000 | wide[..., 0] << 16 | wide[..., 1] << 8 | wide[..., 2]
    repeats = -(-max(height, 1) // block.shape[0])
    whole = np.ascontiguousarray(np.tile(packed, (repeats, 1))[: max(height, 1)])
    return image_of(whole)


def image_of(packed: NDArray[np.uint32]) -> QImage:
    """An image of packed 0xffRRGGBB pixels ``(height, width)``, with its own copy of them."""
    high, wide = packed.shape
    return QImage(packed.data, wide, high, 4 * wide, QImage.Format.Format_RGB32).copy()


class ColourStrip(QWidget):
    """A ramp of colours.

    Hovering or the arrow keys read a place; Ctrl+C copies what is read. Colours that the screen
    cannot show carry a saw-toothed mark along the lower edge.

    Signals:
        picked: The place clicked or moved to, 0 to 1.
    """

    picked = Signal(float)

    def __init__(self, name: str, parent: QWidget | None = None, *, height: int = 28) -> None:
        super().__init__(parent)
        self._xyz: NDArray[Any] = np.zeros((2, 3))
        self._tolerance: NDArray[Any] | None = None
        self._image: QImage | None = None
        self._shown = colorimetry.srgb(self._xyz)
        self._outside: NDArray[np.bool_] = np.zeros(2, dtype=bool)
        self._telling = QTimer(self)
        self._telling.setSingleShot(True)
        self._telling.setInterval(_TELL_MS)
        self._telling.timeout.connect(self._tell_reader)
        self._at: float | None = None
        self._numbers = False
        self._height = height
        self._chosen = False
        self.setAccessibleName(name)
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.setMouseTracking(True)
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Fixed)
        self.setAttribute(Qt.WidgetAttribute.WA_OpaquePaintEvent)

    def set_ramp(
        self,
        xyz: NDArray[Any],
        *,
        tolerance: NDArray[Any] | None = None,
        numbers: bool | None = None,
    ) -> None:
        """Show a ramp ``(points, 3)`` of XYZ; the same array again costs nothing."""
        if numbers is not None:
            self._numbers = numbers
        self._tolerance = tolerance
        if xyz is not self._xyz and not np.array_equal(xyz, self._xyz):
            self._xyz = xyz
            self._image = None
            self._shown = colorimetry.srgb(xyz)
            self._outside = ~self._shown.in_gamut
            self.update()
        if not self._telling.isActive():
            self._telling.start()

    def _tell_reader(self) -> None:
        """What a screen reader says; put into words once the hand rests."""
        self.setAccessibleDescription(self.reading(self._place).text(numbers=self._numbers))

    def set_chosen(self, chosen: bool) -> None:
        """Frame the strip as the one picked."""
        if chosen != self._chosen:
            self._chosen = chosen
            self.update()

    @staticmethod
    def keys() -> list[Key]:
        """The keys it answers to."""
        translate = QCoreApplication.translate
        walk = translate("ColourStrip", "Left, Right, Home, End")
        return [
            Key(walk, translate("ColourStrip", "read another place of a colour strip")),
            Key("Ctrl+C", translate("ColourStrip", "copy what is read there")),
        ]

    @property
    def xyz(self) -> NDArray[Any]:
        """The ramp shown."""
        return self._xyz

    @property
    def read_at(self) -> float | None:
        """The place that was clicked or walked to, 0 to 1; None before."""
        return self._at

    def place_at(self, x: float) -> float:
        """The place under a point of the widget, 0 to 1."""
        return min(max(x / max(self.width() - 1, 1), 0.0), 1.0)

    @property
    def _place(self) -> float:
        return 1.0 if self._at is None else self._at

    def reading(self, at: float) -> Reading:
        """What stands at that place, 0 to 1."""
        position = at * (len(self._xyz) - 1)
        low = min(int(position), max(len(self._xyz) - 2, 0))
        share = position - low
        high = min(low + 1, len(self._xyz) - 1)
        xyz = self._xyz[low] * (1.0 - share) + self._xyz[high] * share
        sure = None
        if self._tolerance is not None:
            places = np.linspace(0.0, 1.0, len(self._tolerance))
            sure = float(np.interp(at, places, self._tolerance))
        return reading_of(xyz, sure)

    def sizeHint(self) -> QSize:
        """Wide as the layout allows, of the height given."""
        return QSize(160, self._height)

    def minimumSizeHint(self) -> QSize:
        """Narrow enough for a small window."""
        return QSize(48, self._height)

    def paintEvent(self, _event: QPaintEvent) -> None:
        """The ramp, gamut marks, the reading caret, and the frame of focus or choice."""
        painter = QPainter(self)
        ratio = self.devicePixelRatioF()
        width, height = round(self.width() * ratio), round(self.height() * ratio)
        if self._image is None or self._image.width() != width or self._image.height() != height:
            self._image = _ramp(self._shown.rgb, width, height)
            self._image.setDevicePixelRatio(ratio)
        painter.drawImage(0, 0, self._image)
        if self._outside.any():
            self._paint_gamut_marks(painter)
        if self._at is not None and self.hasFocus():
            self._paint_caret(painter)
        if self._chosen or self.hasFocus():
            palette = self.palette()
            inner, outer = palette.color(palette.ColorRole.Base), palette.highlight().color()
            frame = QRectF(self.rect())
            painter.setBrush(Qt.BrushStyle.NoBrush)
            painter.setPen(QPen(outer, 2))
            painter.drawRect(frame.adjusted(1, 1, -1, -1))
            painter.setPen(QPen(inner, 1))
            painter.drawRect(frame.adjusted(2.5, 2.5, -2.5, -2.5))

    def _paint_gamut_marks(self, painter: QPainter) -> None:
        painter.setPen(Qt.PenStyle.NoPen)
        low, step = float(self.height()), 8.0
        for n in range(int(self.width() / step)):
            place = (n + 0.5) * step / max(self.width(), 1)
            if not self._outside[round(place * (len(self._outside) - 1))]:
                continue
            for colour, rise in ((Qt.GlobalColor.black, 6.0), (Qt.GlobalColor.white, 4.0)):
                painter.setBrush(QColor(colour))
                left = n * step + (6.0 - rise) / 2
                tooth = [
                    QPointF(left, low),
                    QPointF(n * step + 3.0, low - rise),
                    QPointF(n * step + 6.0 - (6.0 - rise) / 2, low),
                ]
                painter.drawPolygon(QPolygonF(tooth))

    def _paint_caret(self, painter: QPainter) -> None:
        x = self._place * (self.width() - 1)
        for colour, wide in ((Qt.GlobalColor.white, 3.0), (Qt.GlobalColor.black, 1.0)):
            painter.setPen(QPen(QColor(colour), wide))
            painter.drawLine(QPointF(x, 0.0), QPointF(x, float(self.height())))

    def mousePressEvent(self, event: QMouseEvent) -> None:
        """Pick the place under the pointer."""
        self._move_to(self.place_at(event.position().x()))

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Left and right walk along the ramp, Home and End jump, Ctrl+C copies the reading."""
        steps = {
            Qt.Key.Key_Left: self._place - 0.02,
            Qt.Key.Key_Right: self._place + 0.02,
            Qt.Key.Key_Home: 0.0,
            Qt.Key.Key_End: 1.0,
        }
        if event.key() in steps:
            self._move_to(steps[Qt.Key(event.key())])
        elif (
            event.key() == Qt.Key.Key_C and event.modifiers() & Qt.KeyboardModifier.ControlModifier
        ):
            self.copy()
        else:
            super().keyPressEvent(event)

    def copy(self) -> None:
        """Put the reading on the clipboard, with numbers."""
        QGuiApplication.clipboard().setText(self.reading(self._place).text(numbers=True))

    def event(self, event: QEvent) -> bool:
        """Tooltips read the colour under the pointer."""
        if event.type() == QEvent.Type.ToolTip and isinstance(event, QHelpEvent):
            text = self.reading(self.place_at(event.pos().x())).text(numbers=self._numbers)
            QToolTip.showText(event.globalPos(), text, self)
            return True
        return super().event(event)

    def _move_to(self, at: float) -> None:
        self._at = min(max(at, 0.0), 1.0)
        self._tell_reader()
        self.picked.emit(self._at)
        self.update()
