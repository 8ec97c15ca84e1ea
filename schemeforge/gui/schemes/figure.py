"""The figure of a scheme: the outline filled with the scheme's own colours, read by zone."""

from dataclasses import dataclass
from typing import Any

import numpy as np
from numpy.typing import NDArray
from PySide6.QtCore import QEvent, QPointF, QRectF, QSize, Qt, QTimer, Signal
from PySide6.QtGui import (
    QColor,
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
from schemeforge.appearance import Points, final_xyz, zone_tile
from schemeforge.gui.bridge import Bridge
from schemeforge.gui.reading import reading_of
from schemeforge.gui.schemes.outline import Outline, ZoneShape, outline, shapes_of
from schemeforge.scheme import Coat, Project, Scheme, Viewing, Zone, coloured_steps

_RELIEF, _ALONG = 24, 9
_REST_MS = 150


@dataclass(frozen=True, slots=True)
class Shown:
    """What a figure shows."""

    project: Project
    scheme: Scheme
    viewing: Viewing


def tile(bridge: Bridge, shown: Shown, zone: Zone) -> NDArray[Any]:
    """XYZ of a finished zone, recess to raised by root to tip, kept while nothing changes."""
    steps = coloured_steps(shown.scheme, zone.id)
    mixes = tuple(shown.scheme.mix(step.mix_id) for step in steps if step.mix_id is not None)
    layers = [step.layer for step in steps]
    even = all(layer.placement.along.is_even for layer in layers if isinstance(layer, Coat))
    return bridge.colours.keep(
        ("tile",),
        (zone, shown.viewing, shown.project.lights, shown.project.paints, *steps, *mixes),
        lambda: (
            zone_tile(
                shown.project,
                shown.scheme,
                zone.id,
                shown.viewing,
                relief_count=_RELIEF,
                along_count=1 if even else _ALONG,
            )[-1].xyz
        ),
    )


def filled(map_: Outline, tiles: list[NDArray[Any]]) -> QImage:
    """The outline with every zone's colours, transparent outside."""
    rgb = np.zeros((*map_.zone.shape, 3))
    for n, xyz in enumerate(tiles):
        there = map_.zone == n
        shown = colorimetry.srgb(np.asarray(xyz, dtype=np.float64)).rgb
        rgb[there] = _between(shown, map_.relief[there], map_.along[there])
    height, width = map_.zone.shape
    pixels = np.empty((height, width, 4), dtype=np.uint8)
    pixels[..., :3] = colorimetry.dither(rgb)[..., ::-1]
    pixels[..., 3] = np.rint(255.0 * map_.cover)
    image = QImage(pixels.data, width, height, 4 * width, QImage.Format.Format_ARGB32)
    return image.convertToFormat(QImage.Format.Format_ARGB32_Premultiplied)


def _between(
    table: NDArray[Any], relief: NDArray[np.float64], along: NDArray[np.float64]
) -> NDArray[Any]:
    """Linear reading of a table ``(relief, along, 3)`` at places 0 to 1."""
    rows, columns = table.shape[:2]
    p, q = relief * (rows - 1), along * (columns - 1)
    i = np.minimum(p.astype(np.intp), max(rows - 2, 0))
    j = np.minimum(q.astype(np.intp), max(columns - 2, 0))
    up, right = np.minimum(i + 1, rows - 1), np.minimum(j + 1, columns - 1)
    s, t = (p - i)[:, np.newaxis], (q - j)[:, np.newaxis]
    low = table[i, j] * (1 - t) + table[i, right] * t
    high = table[up, j] * (1 - t) + table[up, right] * t
    mixed: NDArray[Any] = low * (1 - s) + high * s
    return mixed


class Figure(QWidget):
    """The model in outline, in one scheme's colours; the handle of its column.

    Up and down pick a zone, left and right go to the neighbouring scheme.

    Signals:
        picked: The id of the zone clicked or moved to.
        stepped: -1 or 1, to the neighbouring column.
    """

    picked = Signal(str)
    stepped = Signal(int)

    def __init__(self, bridge: Bridge, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.bridge = bridge
        self._shown: Shown | None = None
        self._shapes: tuple[ZoneShape, ...] = ()
        self._image: QImage | None = None
        self._tiles: list[NDArray[Any]] = []
        self._zone_id = ""
        self._numbers = False
        self._telling = QTimer(self)
        self._telling.setSingleShot(True)
        self._telling.setInterval(_REST_MS)
        self._telling.timeout.connect(self._tell_reader)
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.setMouseTracking(True)
        self.setSizePolicy(QSizePolicy.Policy.Ignored, QSizePolicy.Policy.Fixed)

    def show_scheme(self, shown: Shown, zone_id: str, *, numbers: bool) -> None:
        """Show a scheme with one zone picked; what is shown already costs nothing."""
        self._numbers = numbers
        tiles = [tile(self.bridge, shown, zone) for zone in shown.project.zones]
        shapes = shapes_of(shown.project)
        same = len(tiles) == len(self._tiles) and all(
            a is b for a, b in zip(tiles, self._tiles, strict=True)
        )
        if not same or shapes != self._shapes:
            self._image = None
        self._shown, self._shapes, self._tiles, self._zone_id = shown, shapes, tiles, zone_id
        self.setAccessibleName(self.tr("Outline of {0}").format(shown.scheme.name))
        self.update()
        self._telling.start()

    @property
    def zone_id(self) -> str:
        """The zone picked."""
        return self._zone_id

    def sizeHint(self) -> QSize:
        """As wide as the column."""
        return QSize(150, 190)

    def zone_at(self, x: float, y: float) -> str:
        """Id of the zone at a point of the widget, "" outside."""
        if self._shown is None or not self._shapes:
            return ""
        map_, column, row = self._place(x, y)
        n = int(map_.zone[row, column])
        return self._shown.project.zones[n].id if n >= 0 else ""

    def reading(self, x: float, y: float) -> str:
        """Zone and colour at a point of the widget, "" outside."""
        zone_id = self.zone_at(x, y)
        if self._shown is None or not zone_id:
            return ""
        map_, column, row = self._place(x, y)
        zone = self._shown.project.zone(zone_id)
        relief, along = float(map_.relief[row, column]), float(map_.along[row, column])
        low, high = zone.tones
        points = Points([low + (high - low) * relief], [relief], [along])
        xyz = final_xyz(
            self._shown.project, self._shown.scheme, zone_id, points, self._shown.viewing
        )
        return f"{zone.name}: {reading_of(xyz[0]).text(numbers=self._numbers)}"

    def paintEvent(self, _event: QPaintEvent) -> None:
        """The outline, pointers at the zone picked, the frame of focus."""
        if not self._shapes:
            return
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        map_ = self._map()
        if self._image is None or self._image.size() != QSize(*map_.zone.shape[::-1]):
            self._image = filled(map_, self._tiles)
        self._image.setDevicePixelRatio(self.devicePixelRatioF())
        painter.drawImage(0, 0, self._image)
        self._paint_pointers(painter, map_)
        if self.hasFocus():
            painter.setPen(QPen(self.palette().highlight().color(), 2))
            painter.setBrush(Qt.BrushStyle.NoBrush)
            painter.drawRoundedRect(QRectF(self.rect()).adjusted(1, 1, -1, -1), 5, 5)

    def mousePressEvent(self, event: QMouseEvent) -> None:
        """Pick the zone under the pointer, or the scheme alone."""
        at = event.position()
        self.picked.emit(self.zone_at(at.x(), at.y()))

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Up and down go through the zones, left and right through the schemes."""
        key, plain = event.key(), event.modifiers() in _PLAIN
        if plain and key in {Qt.Key.Key_Left, Qt.Key.Key_Right}:
            self.stepped.emit(1 if key == Qt.Key.Key_Right else -1)
        elif plain and key in {Qt.Key.Key_Up, Qt.Key.Key_Down} and self._shown is not None:
            ids = [zone.id for zone in self._shown.project.zones]
            step = 1 if key == Qt.Key.Key_Down else -1
            at = ids.index(self._zone_id) if self._zone_id in ids else 0
            if ids:
                self.picked.emit(ids[min(max(at + step, 0), len(ids) - 1)])
        else:
            super().keyPressEvent(event)

    def event(self, event: QEvent) -> bool:
        """Tooltips read the colour under the pointer."""
        if event.type() == QEvent.Type.ToolTip and isinstance(event, QHelpEvent):
            text = self.reading(event.pos().x(), event.pos().y()) or self.tr(
                "Zones as large as on the model, root on top. Click to pick one; arrow keys walk."
            )
            QToolTip.showText(event.globalPos(), text, self)
            return True
        return super().event(event)

    def _map(self) -> Outline:
        ratio = self.devicePixelRatioF()
        wide, high = round(self.width() * ratio), round(self.height() * ratio)
        return outline(self._shapes, max(wide, 8), max(high, 8))

    def _place(self, x: float, y: float) -> tuple[Outline, int, int]:
        map_, ratio = self._map(), self.devicePixelRatioF()
        rows, columns = map_.zone.shape
        return (
            map_,
            min(max(int(x * ratio), 0), columns - 1),
            min(max(int(y * ratio), 0), rows - 1),
        )

    def _paint_pointers(self, painter: QPainter, map_: Outline) -> None:
        """Two small pointers at the sides of the zone picked, so that no colour is covered."""
        if self._shown is None:
            return
        ids = [zone.id for zone in self._shown.project.zones]
        if self._zone_id not in ids:
            return
        ratio = self.devicePixelRatioF()
        height, half = (v / ratio for v in map_.middles[ids.index(self._zone_id)])
        middle, theme = self.width() / 2, self.palette()
        painter.setPen(Qt.PenStyle.NoPen)
        painter.setBrush(QColor(theme.highlight().color()))
        for side in (-1, 1):
            tip = middle + side * (half + 3.0)
            painter.drawPolygon(
                QPolygonF(
                    [
                        QPointF(tip, height),
                        QPointF(tip + side * 8.0, height - 5.0),
                        QPointF(tip + side * 8.0, height + 5.0),
                    ]
                )
            )

    def _tell_reader(self) -> None:
        """What a screen reader says; put into words once nothing moves."""
        self.setAccessibleDescription(self._in_words())

    def _in_words(self) -> str:
        """Every zone's colour at the middle of its relief, in words."""
        if self._shown is None:
            return ""
        parts = []
        for zone, xyz in zip(self._shown.project.zones, self._tiles, strict=True):
            middle = xyz[xyz.shape[0] // 2, xyz.shape[1] // 2]
            mark = self.tr(" (picked)") if zone.id == self._zone_id else ""
            parts.append(f"{zone.name}{mark}: {reading_of(middle).text(numbers=self._numbers)}")
        return "; ".join(parts)


_PLAIN = (Qt.KeyboardModifier.NoModifier, Qt.KeyboardModifier.KeypadModifier)
