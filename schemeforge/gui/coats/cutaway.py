"""The cutaway: a cut through the paint film that can be taken hold of."""

from dataclasses import dataclass

from PySide6.QtCore import QEvent, QPointF, QRectF, QSize, Qt, Signal
from PySide6.QtGui import (
    QAccessible,
    QAccessibleEvent,
    QDragEnterEvent,
    QDropEvent,
    QFontMetricsF,
    QHelpEvent,
    QKeyEvent,
    QMouseEvent,
    QPainter,
    QPaintEvent,
    QPen,
)
from PySide6.QtWidgets import QSizePolicy, QToolTip, QWidget

from schemeforge.desk import DeskState, Direction
from schemeforge.desk.cutaway import (
    Band,
    CutScale,
    band_edges,
    cut_bands,
    fitting_scale,
)
from schemeforge.desk.handles import Handle, HandleKind, handles_of, place_index
from schemeforge.gui.bridge import Bridge
from schemeforge.gui.coats import drawing, keys
from schemeforge.gui.coats.hand import Hand
from schemeforge.gui.coats.words import band_words
from schemeforge.gui.keys import tell_keys
from schemeforge.gui.paints.drag import paint_id_from
from schemeforge.gui.theme import theme_of

_GRAB = 9.0
_MARGIN = 8.0


@dataclass(slots=True)
class _Hold:
    """What the mouse holds: a handle of a band, or a band to be moved."""

    band: Band
    handle: Handle | None
    scale: CutScale
    start: QPointF
    target: int | None = None


class Cutaway(QWidget):
    """Primer and undercoat at the bottom, each coat a band whose upper edge is its profile.

    Mouse: drag an upper edge or its round handle to make a coat heavier, a diamond to move a
    pool's reach or a feather's end, a band itself to another place in the stack.
    Keys: up and down pick, plus and minus weigh, H takes the next handle and arrows move it,
    Ctrl+up and Ctrl+down re-order, T is true scale, R turns the cut.

    Signals:
        paint_dropped: Step id and paint id of a paint dropped on a band.
    """

    paint_dropped = Signal(str, str)

    def __init__(self, bridge: Bridge, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.bridge = bridge
        self.hand = Hand(bridge)
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.setMouseTracking(True)
        self.setAcceptDrops(True)
        self.setAttribute(Qt.WidgetAttribute.WA_OpaquePaintEvent)
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Expanding)
        self.setAccessibleName(self.tr("Cutaway of the paint"))
        self._tell_keys()
        self._bands: tuple[Band, ...] = ()
        self._edges: drawing.Edges = []
        self._scale = CutScale(1.0, 0.0, is_true=False)
        self._hold: _Hold | None = None
        self._handle: HandleKind | None = None
        self._index = 0

    def _tell_keys(self) -> None:
        tell_keys(
            self,
            (self.tr("Up, Down"), self.tr("pick the band above or below")),
            (self.tr("+, -"), self.tr("heavier, lighter; with Shift in fine steps")),
            ("H", self.tr("take the next handle; arrows move it, with Shift in fine steps")),
            (self.tr("Esc"), self.tr("let the handle go")),
            (self.tr("Ctrl+Up, Ctrl+Down"), self.tr("move the band up or down the stack")),
            ("T", self.tr("true scale, or drawn thick")),
            ("R", self.tr("turn the cut")),
        )

    @property
    def bands(self) -> tuple[Band, ...]:
        """The layers drawn, lowest first."""
        return self._bands

    @property
    def scale(self) -> CutScale:
        """How films become heights."""
        return self._scale

    @property
    def area(self) -> QRectF:
        """Where the cut is drawn."""
        text = QFontMetricsF(self.font()).height() + 4.0
        return QRectF(self.rect()).adjusted(_MARGIN, _MARGIN, -_MARGIN, -text)

    def show_state(self, old: DeskState | None, new: DeskState) -> None:
        """Draw the picked zone of the picked scheme."""
        scheme, zone, pick = new.scheme, new.zone, new.selection
        if scheme is None or zone is None:
            self._bands, self._edges = (), []
        else:
            self._bands = self.bridge.colours.keep(
                ("cut", zone.id, pick.direction, pick.across),
                (scheme, new.project.paints, new.project.zones, new.project.viewing),
                lambda: cut_bands(
                    new.project, scheme, zone, new.project.viewing, pick.direction, pick.across
                ),
            )
        if old is None or old.selection.step_id != pick.step_id:
            self._handle, self._index = None, 0
        self._rescale()
        self._tell_reader(new)
        self.update()

    def sizeHint(self) -> QSize:
        """Large: the cutaway is the page."""
        return QSize(720, 260)

    def minimumSizeHint(self) -> QSize:
        """Still to be grabbed in a small window."""
        return QSize(320, 200)

    def resizeEvent(self, _event: object) -> None:
        """Fit the new height."""
        self._rescale()

    def handle_spots(self) -> list[tuple[Handle, QPointF]]:
        """The picked band's handles and where they stand."""
        place = self.picked_place()
        if place is None:
            return []
        handles = handles_of(self._bands[place], self.bridge.state.selection.direction)
        return drawing.handle_points(self.area, handles, self._edges[place])

    def _rescale(self) -> None:
        if self._hold is None:
            true = self.bridge.state.selection.true_scale
            self._scale = fitting_scale(self._bands, self.area.height(), is_true=true)
        self._edges = band_edges(self._bands, self._scale)

    def picked_place(self) -> int | None:
        """Which band is picked, from 0 at the bottom; None for none."""
        wanted = self.bridge.state.selection.step_id
        return next((n for n, b in enumerate(self._bands) if b.step.id == wanted), None)

    def held_handle(self) -> Handle | None:
        """The handle under the mouse or taken by a key, None for none."""
        if self._hold is not None:
            kind = None if self._hold.handle is None else self._hold.handle.kind
            index = 0 if self._hold.handle is None else self._hold.handle.index
        else:
            kind, index = self._handle, self._index
        return next(
            (h for h, _ in self.handle_spots() if h.kind is kind and h.index == index), None
        )

    def paintEvent(self, _event: QPaintEvent) -> None:
        """Bands, labels, handles, the place a dragged band would take, and the focus frame."""
        painter = QPainter(self)
        painter.fillRect(self.rect(), self.palette().window())
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        theme = theme_of(self.bridge.state.preferences.surround)
        picked = self.bridge.state.selection.step_id
        if not self._bands:
            painter.setPen(self.palette().text().color())
            painter.drawText(
                self.rect(),
                Qt.AlignmentFlag.AlignCenter | Qt.TextFlag.TextWordWrap,
                self.tr("Nothing is painted here yet. Add a primer, then a coat (Insert)."),
            )
        else:
            drawing.paint_bands(painter, self.area, self._bands, self._edges, picked, theme)
            spots = self.handle_spots()
            drawing.paint_labels(
                painter, self.area, self._bands, self._edges, picked, [at for _, at in spots]
            )
            drawing.paint_handles(painter, spots, self.held_handle(), theme)
            self._paint_target(painter)
            self._paint_axis(painter)
        if self.hasFocus():
            painter.setPen(QPen(self.palette().highlight().color(), 2))
            painter.setBrush(Qt.BrushStyle.NoBrush)
            painter.drawRoundedRect(QRectF(self.rect()).adjusted(1, 1, -1, -1), 4, 4)

    def _paint_axis(self, painter: QPainter) -> None:
        state = self.bridge.state
        pick, zone = state.selection, state.zone
        ends = (self.tr("recess"), self.tr("raised edge"))
        if pick.direction is Direction.ALONG and zone is not None:
            ends = zone.along_words
        middle = (
            self.tr("drawn to scale") if pick.true_scale else self.tr("drawn thick, to be held")
        )
        box = QRectF(self.area.left(), self.area.bottom(), self.area.width(), 0.0)
        box.setBottom(float(self.height()))
        font = self.font()
        painter.setFont(font)
        painter.setPen(self.palette().windowText().color())
        for text, side in (
            (ends[0], Qt.AlignmentFlag.AlignLeft),
            (middle, Qt.AlignmentFlag.AlignHCenter),
            (ends[1], Qt.AlignmentFlag.AlignRight),
        ):
            painter.drawText(box, side | Qt.AlignmentFlag.AlignVCenter, text)

    def _paint_target(self, painter: QPainter) -> None:
        if self._hold is None or self._hold.target is None:
            return
        _, high = self._edges[self._hold.target]
        y = self.area.bottom() - float(high.mean())
        painter.setPen(QPen(self.palette().highlight().color(), 3, Qt.PenStyle.DashLine))
        painter.drawLine(QPointF(self.area.left(), y), QPointF(self.area.right(), y))

    def band_at(self, point: QPointF) -> int | None:
        """The band under a point of the widget, None outside all."""
        place = place_index((point.x() - self.area.left()) / max(self.area.width(), 1.0))
        height = self.area.bottom() - point.y()
        for n, (low, high) in enumerate(self._edges):
            if low[place] <= height < high[place]:
                return n
        return None

    def _grabbed(self, point: QPointF) -> tuple[int, Handle] | None:
        """Band and handle under a point: a handle of the picked band, else any upper edge."""
        picked = self.picked_place()
        spots = [((spot - point).manhattanLength(), h) for h, spot in self.handle_spots()]
        nearest = min(spots, key=lambda pair: pair[0], default=None)
        if picked is not None and nearest is not None and nearest[0] <= _GRAB * 1.5:
            return picked, nearest[1]
        at = (point.x() - self.area.left()) / max(self.area.width(), 1.0)
        if not 0.0 <= at <= 1.0:
            return None
        height = self.area.bottom() - point.y()
        near = [
            (abs(float(high[place_index(at)]) - height), n)
            for n, (low, high) in enumerate(self._edges)
            if high[place_index(at)] - low[place_index(at)] > 1.0
        ]
        if near and min(near)[0] <= _GRAB / 2:
            return min(near)[1], Handle(HandleKind.WEIGHT, at)
        return None

    def mousePressEvent(self, event: QMouseEvent) -> None:
        """Take hold of a handle, an edge or a band."""
        point = event.position()
        grabbed = self._grabbed(point)
        place = grabbed[0] if grabbed else self.band_at(point)
        if place is None or event.button() != Qt.MouseButton.LeftButton:
            return
        band = self._bands[place]
        self.bridge.session.select(step_id=band.step.id)
        handle = grabbed[1] if grabbed else None
        self._hold = _Hold(band, handle, self._scale, point)
        if handle is not None:
            self._handle, self._index = handle.kind, handle.index

    def mouseMoveEvent(self, event: QMouseEvent) -> None:
        """Drag what is held, or show what could be."""
        hold = self._hold
        if hold is None:
            self._show_cursor(event.position())
            return
        if hold.handle is None:
            self._drag_band(hold, event.position())
            return
        place = self.picked_place()
        if place is None:
            return
        at = (event.position().x() - self.area.left()) / max(self.area.width(), 1.0)
        low = self._edges[place][0][place_index(at if hold.handle.is_level else hold.handle.at)]
        height = self.area.bottom() - event.position().y() - float(low)
        self.hand.drag(self._bands[place], hold.handle, self._scale, at, height)

    def _drag_band(self, hold: _Hold, point: QPointF) -> None:
        if abs(point.y() - hold.start.y()) < _GRAB:
            return
        target = self.band_at(point)
        if target is None:
            target = len(self._bands) - 1 if point.y() < self.area.center().y() else 0
        hold.target = target
        self.setCursor(Qt.CursorShape.ClosedHandCursor)
        self.update()

    def mouseReleaseEvent(self, _event: QMouseEvent) -> None:
        """Let go: a drag becomes one step of undo, a moved band its new order."""
        hold, self._hold = self._hold, None
        if hold is not None and hold.handle is None and hold.target is not None:
            here = self.picked_place()
            if here is not None and hold.target != here:
                self.hand.reorder(hold.band.step, hold.target - here)
        self.bridge.session.end_drag()
        self.unsetCursor()
        self._rescale()
        self.update()

    def mouseDoubleClickEvent(self, event: QMouseEvent) -> None:
        """On a free curve: a new point under the pointer."""
        place = self.picked_place()
        at = (event.position().x() - self.area.left()) / max(self.area.width(), 1.0)
        if place is not None and 0.0 <= at <= 1.0:
            self.hand.add_curve_point(self._bands[place], at)

    def _show_cursor(self, point: QPointF) -> None:
        grabbed = self._grabbed(point)
        if grabbed is None:
            shape = Qt.CursorShape.OpenHandCursor
            if self.band_at(point) is None:
                shape = Qt.CursorShape.ArrowCursor
        elif grabbed[1].is_level:
            shape = Qt.CursorShape.SizeHorCursor
        else:
            shape = Qt.CursorShape.SizeVerCursor
        self.setCursor(shape)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """See the class's text for the keys."""
        if not keys.press(self, event):
            super().keyPressEvent(event)

    def take(self, handle: Handle | None) -> None:
        """Take a handle of the picked band for the arrow keys, or let go of it."""
        self._handle = None if handle is None else handle.kind
        self._index = 0 if handle is None else handle.index
        self._tell_reader(self.bridge.state)
        self.update()

    def dragEnterEvent(self, event: QDragEnterEvent) -> None:
        """Take a paint from the shelf."""
        if paint_id_from(event.mimeData()):
            event.acceptProposedAction()

    def dropEvent(self, event: QDropEvent) -> None:
        """Put the paint into the mix of the band under it."""
        place = self.band_at(event.position())
        paint_id = paint_id_from(event.mimeData())
        if place is not None and paint_id:
            event.acceptProposedAction()
            self.paint_dropped.emit(self._bands[place].step.id, paint_id)

    def event(self, event: QEvent) -> bool:
        """Tooltips name the band under the pointer."""
        if event.type() == QEvent.Type.ToolTip and isinstance(event, QHelpEvent):
            place = self.band_at(QPointF(event.pos()))
            if place is not None:
                QToolTip.showText(event.globalPos(), self._words(place), self)
            return True
        return super().event(event)

    def _words(self, place: int) -> str:
        state = self.bridge.state
        return band_words(state.project, state.scheme, self._bands[place], state.preferences)

    def _tell_reader(self, state: DeskState) -> None:
        """What a screen reader says of the picked coat and the handle held."""
        place = self.picked_place()
        if place is None or state.scheme is None:
            text = self.tr("No coat picked")
        else:
            text = self._words(place)
            held = self.held_handle()
            if held is not None:
                text += "; " + self.tr("handle: {0}").format(held.kind.value)
        if text != self.accessibleDescription():
            self.setAccessibleDescription(text)
            QAccessible.updateAccessibility(
                QAccessibleEvent(self, QAccessible.Event.DescriptionChanged)
            )
