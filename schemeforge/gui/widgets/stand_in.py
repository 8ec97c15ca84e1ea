"""A stand-in model in the window: the scheme as it will stand on the table.

Views of the model are traced off the GUI thread and kept on disk. Pictures are made from tables
off the GUI thread too: that takes half a frame, which a dragging hand needs for the page.
"""

import operator
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

import numpy as np
from numpy.typing import NDArray
from PySide6.QtCore import QEvent, QPointF, QRectF, QSize, Qt, QTimer, Signal
from PySide6.QtGui import (
    QHelpEvent,
    QImage,
    QKeyEvent,
    QMouseEvent,
    QPainter,
    QPaintEvent,
    QPen,
    QResizeEvent,
)
from PySide6.QtWidgets import QSizePolicy, QToolTip, QWidget
from shiboken6 import isValid

from schemeforge.desk import CancelToken, DeskState
from schemeforge.gui.bridge import Bridge

if TYPE_CHECKING:
    from schemeforge.stand_in import Picture, StandIns, Turn, View

# Sizes in device pixels for which views are kept, so that a resized window finds them again.
SIZES = (256, 384, 512, 768)
# The model that all zones of a project are worn by.
WHOLE = "warden"
_STEP_DEGREES = 15
_DRAG_PIXELS = 18.0
_AFTER_MS = 20
# Share of its square picture that a model takes from whatever side it is seen.
_FILLS = (0.8, 0.94)


@dataclass(frozen=True, slots=True)
class _Drawn:
    """What a job made."""

    picture: "Picture"
    image: QImage
    outline: QImage | None


class StandInView(QWidget):
    """The picked scheme on a model: click picks a zone, a drag or the arrow keys turn it.

    The picture follows an edit a frame or two after the rest of the page, so that a dragging
    hand never waits for it.

    Signals:
        turned: From where it is now seen, degrees, when a hand turned it.
    """

    turned = Signal(int)

    def __init__(
        self, bridge: Bridge, views: "StandIns", name: str, parent: QWidget | None = None
    ) -> None:
        super().__init__(parent)
        self.bridge = bridge
        self._views = views
        self._name = name
        self._azimuth = 20
        self._scheme_id = ""
        self._picture: Picture | None = None
        self._image: QImage | None = None
        self._outline: QImage | None = None
        self._drawn: tuple[object, ...] = ()
        self._is_drawing = self._draw_again = False
        self._press: QPointF | None = None
        self._pressed_azimuth = self._azimuth
        self._wanted: tuple[str, int, int] | None = None
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.setAttribute(Qt.WidgetAttribute.WA_OpaquePaintEvent)
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Expanding)
        self.setAccessibleName(self.tr("Stand-in model"))
        self._timer = QTimer(self)
        self._timer.setSingleShot(True)
        self._timer.setInterval(_AFTER_MS)
        self._timer.timeout.connect(self._draw)

    @property
    def picture(self) -> "Picture | None":
        """The picture shown, None until the first view of the model is there."""
        return self._picture

    @property
    def azimuth(self) -> int:
        """From where it is seen, degrees around it."""
        return self._azimuth

    def sizeHint(self) -> QSize:
        """Square, and large enough to be looked at."""
        return QSize(300, 320)

    def minimumSizeHint(self) -> QSize:
        """Still to be read."""
        return QSize(140, 130)

    def show_state(self, new: DeskState, scheme_id: str = "") -> None:
        """Have the picture made anew, of the picked scheme or of another."""
        self._scheme_id = scheme_id
        zone = new.zone
        self.setAccessibleDescription("" if zone is None else zone.name)
        if not self._timer.isActive():
            self._timer.start()

    def show_model(self, name: str) -> None:
        """Another stand-in model."""
        if name != self._name:
            self._name = name
            self._timer.start()

    def turn_to(self, azimuth: int) -> None:
        """Look at it from elsewhere, in steps of 15 degrees."""
        self._azimuth = azimuth % 360
        self._timer.start()

    def resizeEvent(self, _event: QResizeEvent) -> None:
        """Another size may want another view."""
        self._timer.start()

    def _pixels(self) -> int:
        side = self._side() * self.devicePixelRatioF()
        return next((size for size in SIZES if size >= side * 0.85), SIZES[-1])

    def _draw(self) -> None:
        """Make the picture from the view that is there, and ask for the one that is not."""
        from schemeforge import stand_in
        from schemeforge.stand_in.pictures import SPRAY

        model = stand_in.model(self._name)
        size, turn = self._pixels(), stand_in.Turn(azimuth=float(self._azimuth))
        view = self._views.ready(model, size, turn, SPRAY)
        if view is None:
            self._ask_for_view(size, turn)
            view = self._views.nearest(model, size, turn, SPRAY)
        if view is not None:
            self._show(view)

    def _show(self, view: "View") -> None:
        """Have the picture made beside the window, unless it is the one shown or being made."""
        from schemeforge import stand_in

        state = self.bridge.state
        schemes = {scheme.id: scheme for scheme in state.project.schemes}
        scheme = schemes.get(self._scheme_id) or state.scheme
        if scheme is None or not state.project.zones:
            self._picture = self._image = self._outline = None
            self.update()
            return
        key = (view, scheme, state.project, state.zone, state.preferences.surround)
        if len(key) == len(self._drawn) and all(map(operator.is_, key, self._drawn)):
            return
        if self._is_drawing:
            self._draw_again = True  # a hand that goes on must not keep it from ever being shown
            return
        self._drawn, self._is_drawing = key, True
        project, whole = state.project, self._name == stand_in.WARDEN.name
        model = stand_in.model(self._name)
        worn_alone = None if whole or state.zone is None else state.zone.id
        picked = project.zones.index(state.zone) if whole and state.zone is not None else None
        colour = self.palette().highlight().color().rgba()

        def work(_token: CancelToken) -> _Drawn:
            worn = stand_in.worn(project, model, worn_alone)
            picture = stand_in.picture_of(project, scheme, view, worn)
            outline = None if picked is None else _outline(picture.zone_index == picked, colour)
            return _Drawn(picture, _image(picture.rgba), outline)

        self.bridge.jobs.submit(f"picture {id(self)}", work, self._take, failed=self._give_up)

    def _take(self, drawn: "_Drawn") -> None:
        if not isValid(self):  # closed while its picture was made
            return
        self._picture, self._image, self._outline = drawn.picture, drawn.image, drawn.outline
        self.update()
        self._next()

    def _give_up(self, error: Exception) -> None:
        if isValid(self):
            self._next()
        raise error

    def _next(self) -> None:
        self._is_drawing = False
        if self._draw_again:
            self._draw_again = False
            self._timer.start()

    def _ask_for_view(self, size: int, turn: "Turn") -> None:
        from schemeforge import stand_in
        from schemeforge.stand_in.pictures import SPRAY

        wanted = (self._name, size, int(turn.azimuth))
        if wanted == self._wanted:
            return
        self._wanted = wanted
        model, views = stand_in.model(self._name), self._views

        def work(_token: CancelToken) -> None:
            views.view(model, size, turn, SPRAY)

        key = f"stand-in {id(self)}"
        self.bridge.jobs.submit(key, work, lambda _none: self._arrived())

    def _arrived(self) -> None:
        if not isValid(self):  # closed while its view was traced
            return
        self._wanted = None
        self._timer.start()

    def _side(self) -> float:
        """How large the whole square picture is drawn for the model to fill the widget."""
        return min(self.width() / _FILLS[0], self.height() / _FILLS[1])

    def _frame(self) -> QRectF:
        side = self._side()
        return QRectF((self.width() - side) / 2, (self.height() - side) / 2, side, side)

    def paintEvent(self, _event: QPaintEvent) -> None:
        """The model on the neutral surround, the picked zone outlined."""
        painter = QPainter(self)
        painter.fillRect(self.rect(), self.palette().window())
        painter.setRenderHint(QPainter.RenderHint.SmoothPixmapTransform)
        if self._image is None:
            painter.setPen(self.palette().windowText().color())
            painter.drawText(
                self.rect(),
                Qt.AlignmentFlag.AlignCenter | Qt.TextFlag.TextWordWrap,
                self._waiting_words(),
            )
        else:
            painter.setClipRect(self.rect())
            painter.drawImage(self._frame(), self._image)
            if self._outline is not None:
                painter.drawImage(self._frame(), self._outline)
        if self.hasFocus():
            painter.setPen(QPen(self.palette().highlight().color(), 2))
            painter.drawRect(self.rect().adjusted(1, 1, -1, -1))

    def _waiting_words(self) -> str:
        if not self.bridge.state.project.zones:
            return self.tr("No zones yet: add them on the Batch page.")
        return self.tr("The stand-in model is being built; this happens once.")

    def zone_index_at(self, point: QPointF) -> int | None:
        """Index of the zone under a point of the widget, None for none."""
        if self._picture is None:
            return None
        frame = self._frame()
        size = self._picture.zone_index.shape[0]
        x = int((point.x() - frame.left()) / frame.width() * size)
        y = int((point.y() - frame.top()) / frame.height() * size)
        return self._picture.zone_at(x, y)

    def mousePressEvent(self, event: QMouseEvent) -> None:
        """Take hold of the model."""
        self._press = event.position()
        self._pressed_azimuth = self._azimuth

    def mouseMoveEvent(self, event: QMouseEvent) -> None:
        """Turn it."""
        if self._press is None:
            return
        steps = round((event.position().x() - self._press.x()) / _DRAG_PIXELS)
        target = (self._pressed_azimuth - steps * _STEP_DEGREES) % 360
        if target != self._azimuth:
            self.turn_to(target)
            self.turned.emit(target)

    def mouseReleaseEvent(self, event: QMouseEvent) -> None:
        """A click that turned nothing picks the zone under it."""
        turned = self._azimuth != self._pressed_azimuth
        index = self.zone_index_at(event.position())
        self._press = None
        zones = self.bridge.state.project.zones
        if not turned and index is not None and index < len(zones):
            scheme_id = self._scheme_id or self.bridge.state.selection.scheme_id
            self.bridge.session.select(scheme_id=scheme_id, zone_id=zones[index].id)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Left and right turn the model, up and down pick the zone before and after."""
        turns = {Qt.Key.Key_Left: 1, Qt.Key.Key_Right: -1}
        picks = {Qt.Key.Key_Up: -1, Qt.Key.Key_Down: 1}
        key = Qt.Key(event.key())
        if key in turns:
            self.turn_to(self._azimuth + turns[key] * _STEP_DEGREES)
            self.turned.emit(self._azimuth)
        elif key in picks:
            zones = [zone.id for zone in self.bridge.state.project.zones]
            here = self.bridge.state.selection.zone_id
            if here in zones:
                place = min(max(zones.index(here) + picks[key], 0), len(zones) - 1)
                self.bridge.session.select(zone_id=zones[place])
        else:
            super().keyPressEvent(event)

    def event(self, event: QEvent) -> bool:
        """Tooltips name the zone under the pointer."""
        if event.type() == QEvent.Type.ToolTip and isinstance(event, QHelpEvent):
            index = self.zone_index_at(QPointF(event.pos()))
            zones = self.bridge.state.project.zones
            if index is not None and index < len(zones):
                QToolTip.showText(event.globalPos(), zones[index].name, self)
            else:
                QToolTip.showText(
                    event.globalPos(),
                    self.tr("Drag or use the arrow keys to turn it; click a zone to pick it"),
                    self,
                )
            return True
        return super().event(event)


def _image(rgba: NDArray[np.uint8]) -> QImage:
    high, wide = rgba.shape[:2]
    whole = np.ascontiguousarray(rgba)
    return QImage(whole.data, wide, high, 4 * wide, QImage.Format.Format_RGBA8888).copy()


def _outline(mask: NDArray[Any], colour: int) -> QImage:
    """The edge of a region as a picture: pixels beside one that is not in it."""
    inner = mask.copy()
    for axis in (0, 1):
        for by in (-2, 2):
            inner &= np.roll(mask, by, axis)
    edge = mask & ~inner
    packed = np.zeros(mask.shape, dtype=np.uint32)
    packed[edge] = colour
    high, wide = mask.shape[0], mask.shape[1]
    return QImage(packed.data, wide, high, 4 * wide, QImage.Format.Format_ARGB32).copy()
