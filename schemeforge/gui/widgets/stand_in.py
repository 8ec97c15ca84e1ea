"""A stand-in model in the window: the scheme as it will stand on the table."""

from PySide6.QtCore import QEvent, QPointF, QRectF, QSize, Qt, QTimer, Signal
from PySide6.QtGui import (
    QEnterEvent,
    QFocusEvent,
    QHelpEvent,
    QKeyEvent,
    QMouseEvent,
    QPainter,
    QPaintEvent,
    QPen,
    QResizeEvent,
    QShowEvent,
)
from PySide6.QtWidgets import QSizePolicy, QToolTip, QWidget

from schemeforge.desk import DeskState
from schemeforge.gui.bridge import Bridge
from schemeforge.gui.keys import tell_keys
from schemeforge.gui.looking.maker import REST_DEGREES, PictureMaker, Wish
from schemeforge.gui.looking.painting import Scene, paint, sight_height
from schemeforge.gui.looking.shot import (
    ACROSS,
    DOWN,
    Arrangement,
    Drawn,
    true_scale,
)
from schemeforge.gui.looking.stages import before, stage_ids
from schemeforge.gui.looking.turner import Turner
from schemeforge.gui.looking.words import sight_words
from schemeforge.gui.theme import GAP_TIGHT

# The model that all zones of a project are worn by.
WHOLE = "warden"
_AZIMUTH = 20.0
_KEY_DEGREES = 15
_SPLIT_PIXELS = 9.0
_SPLIT_STEP = 0.05
_NEAR_MS = 350  # so long a hand is near before the model is made ready to be turned


class StandInView(QWidget):
    """A scheme on a model: click picks a zone, a drag or the arrow keys turn it.

    The picture follows an edit a frame or two after the rest of the page, so that a dragging
    hand never waits for it.

    Signals:
        turned: From where it is now seen, degrees, and whether it still moves, by a hand.
        staged: After which step it is shown, "" for finished, by a key.
        held: Whether the look before a step is held, by a key.
    """

    turned = Signal(float, bool)
    staged = Signal(str)
    held = Signal(bool)

    def __init__(self, bridge: Bridge, name: str, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.bridge = bridge
        self.maker = PictureMaker(bridge, self)
        self.maker.made.connect(self._show)
        self.drawn: Drawn | None = None
        self.split_at = 0.5
        self._name = name
        self.turner = Turner(_AZIMUTH, self)
        self.turner.turned.connect(self._on_turned)
        self._scheme_id = self._other_id = self._step_id = ""
        self._before = False
        self._arrangement, self._count = Arrangement.ONE, 5
        self._true_size = False
        self._outlines = True
        self._press: QPointF | None = None
        self._is_splitting = False
        self._near = QTimer(self)
        self._near.setSingleShot(True)
        self._near.setInterval(_NEAR_MS)
        self._near.timeout.connect(self.maker.get_ready_to_turn)
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.setMouseTracking(True)
        self.setAttribute(Qt.WidgetAttribute.WA_OpaquePaintEvent)
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Expanding)
        self.setAccessibleName(self.tr("Stand-in model"))
        tell_keys(
            self,
            (self.tr("Left, Right"), self.tr("turn the model; with Shift in small steps")),
            (self.tr("Up, Down"), self.tr("pick the zone before or after")),
            (self.tr("Page Up, Page Down"), self.tr("as after the step before, or after the next")),
            (self.tr("B, held"), self.tr("as before the step")),
            (self.tr("Ctrl+Left, Ctrl+Right"), self.tr("move the line between two schemes")),
        )

    @property
    def azimuth(self) -> float:
        """From where it is seen, degrees around it."""
        return self.turner.azimuth

    @property
    def arrangement(self) -> Arrangement:
        """What stands on the table."""
        return self._arrangement

    @property
    def step_id(self) -> str:
        """After which step it is shown, "" for finished."""
        return self._step_id

    def sizeHint(self) -> QSize:
        """Square, and large enough to be looked at."""
        return QSize(300, 320)

    def minimumSizeHint(self) -> QSize:
        """Still to be read."""
        return QSize(140, 130)

    def show_state(self, _new: DeskState, scheme_id: str = "") -> None:
        """Have the picture made anew, of the picked scheme or of another."""
        self._scheme_id = scheme_id
        self._wish()

    def show_model(self, name: str) -> None:
        """Another stand-in model."""
        self._name = name
        self._wish()

    def show_stage(self, step_id: str) -> None:
        """As after that step, "" for finished."""
        self._step_id = step_id
        self._wish()

    def hold_before(self, on: bool) -> None:
        """While it is held: as before the step shown, or the one picked where it is finished."""
        if on != self._before:
            self._before = on
            self._wish()

    def arrange(self, arrangement: Arrangement, *, other_id: str = "", count: int = 5) -> None:
        """Another arrangement: with which other scheme, or with how many models."""
        self._arrangement, self._other_id, self._count = arrangement, other_id, count
        self._wish()

    def show_outlines(self, *, on: bool) -> None:
        """Whether the picked zone is outlined."""
        self._outlines = on
        self._wish()

    def show_true_size(self, *, on: bool) -> None:
        """As large as the model is, on a screen that tells its size rightly."""
        self._true_size = on
        self._wish()
        self.update()

    def turn_to(self, azimuth: float, *, moves: bool = False) -> None:
        """Look at it from elsewhere; where it comes to rest it is shown more finely."""
        self.turner.put(azimuth, moves=moves)
        self._wish()

    def resizeEvent(self, _event: QResizeEvent) -> None:
        """Another size may want another view."""
        self._wish()

    def showEvent(self, event: QShowEvent) -> None:
        """As things stand now: while it is hidden no picture is made."""
        super().showEvent(event)
        self._wish()

    def _wish(self) -> None:
        state = self.bridge.state
        self._describe(state)
        if not self.isVisible():
            return
        self.maker.want(
            Wish(
                state=state,
                model=self._name,
                scheme_id=self._scheme_id,
                azimuth=self.turner.azimuth,
                is_moving=self.turner.moves,
                pixels=self._unit() * self.devicePixelRatioF(),
                arrangement=self._arrangement,
                other_id=self._other_id,
                step_id=self._shown_step(state),
                count=self._count,
                outlined=self._outlines,
            )
        )

    def _shown_step(self, state: DeskState) -> str:
        if not self._before:
            return self._step_id
        return before(state, self._scheme_id, self._step_id)

    def _describe(self, state: DeskState) -> None:
        zone = state.zone
        facts = [] if zone is None else [zone.name]
        facts.append(self.tr("turned by {0} degrees").format(round(self.azimuth) % 360))
        sight = sight_words(state.selection.sight)
        self.setAccessibleDescription(", ".join([*facts, sight] if sight else facts))

    def _unit(self) -> float:
        """How large a model's square picture is drawn for the whole to fill the widget."""
        across, down = ACROSS[1] - ACROSS[0], DOWN[1] - DOWN[0]
        wide, high = across, down
        if self._arrangement is Arrangement.LIGHTS:
            wide = 3 * across
        elif self._arrangement is Arrangement.GROUP:
            wide, high = across + 0.66 * 4, down
        return min(self.width() / wide, self.height() / high)

    def _show(self, drawn: Drawn | None) -> None:
        self.drawn = drawn
        self.update()

    def frame(self) -> QRectF:
        """Where the picture is drawn."""
        if self.drawn is None:
            return QRectF(self.rect())
        image = self.drawn.zones.shape
        wide, high = float(image[1]), float(image[0])
        times = min(self.width() / wide, (self.height() - self._foot()) / high)
        if self._true_size:
            times = self._true_width() / wide
        wide, high = wide * times, high * times
        left = (self.width() - wide) / 2
        return QRectF(left, (self.height() - self._foot() - high) / 2, wide, high)

    def _foot(self) -> int:
        """Room beneath the models for what each stands under, and how they are looked at."""
        metrics = self.fontMetrics()
        labelled = self._arrangement is Arrangement.LIGHTS
        sight = sight_words(self.bridge.state.selection.sight)
        label = metrics.height() + GAP_TIGHT if labelled else 0
        return label + sight_height(metrics, sight, self.width())

    def _true_width(self) -> float:
        """Of the picture, in pixels of the window."""
        state = self.bridge.state
        looking = state.preferences.looking
        assert self.drawn is not None  # noqa: S101 - asked where there is a picture
        inches = self.drawn.mm * true_scale(looking, state.project) / 25.4
        return inches * self.screen().physicalDotsPerInch() * looking.screen_fit

    def paintEvent(self, _event: QPaintEvent) -> None:
        """The model on the neutral surround, the picked zone outlined."""
        painter = QPainter(self)
        painter.fillRect(self.rect(), self.palette().window())
        if self.drawn is None:
            painter.setPen(self.palette().windowText().color())
            how = Qt.AlignmentFlag.AlignCenter | Qt.TextFlag.TextWordWrap
            painter.drawText(self.rect(), how, self._waiting_words())
        else:
            paint(painter, self._scene(self.drawn))
        if self.hasFocus():
            painter.setPen(QPen(self.palette().highlight().color(), 2))
            painter.drawRect(self.rect().adjusted(1, 1, -1, -1))

    def _scene(self, drawn: Drawn) -> Scene:
        state = self.bridge.state
        names = {scheme.id: scheme.name for scheme in state.project.schemes}
        shown = self._scheme_id or state.selection.scheme_id
        return Scene(
            drawn,
            self.frame(),
            QRectF(self.rect()),
            self.palette(),
            self._arrangement,
            self._split_x(),
            (names.get(shown, ""), names.get(self._other_id, "")),
            sight_words(state.selection.sight),
        )

    def _split_x(self) -> float:
        frame = self.frame()
        return frame.left() + self.split_at * frame.width()

    def _waiting_words(self) -> str:
        if not self.bridge.state.project.zones:
            return self.tr("No zones yet: add them on the Batch page.")
        return self.tr("The stand-in model is being built; this happens once.")

    def zone_index_at(self, point: QPointF) -> int | None:
        """Index of the zone under a point of the widget, None for none."""
        if self.drawn is None:
            return None
        frame, zones = self.frame(), self.drawn.zones
        if self.drawn.other_zones is not None and point.x() > self._split_x():
            zones = self.drawn.other_zones
        high, wide = zones.shape
        x = int((point.x() - frame.left()) / frame.width() * wide)
        y = int((point.y() - frame.top()) / frame.height() * high)
        if not (frame.contains(point) and 0 <= x < wide and 0 <= y < high):
            return None
        found = int(zones[y, x])
        return None if found < 0 else found

    def _is_at_split(self, point: QPointF) -> bool:
        split = self.drawn is not None and self.drawn.other is not None
        return split and abs(point.x() - self._split_x()) < _SPLIT_PIXELS

    def _move_split(self, share: float) -> None:
        self.split_at = min(max(share, 0.0), 1.0)
        self.update()

    def _on_turned(self, azimuth: float, moves: bool) -> None:
        self._wish()
        self.turned.emit(azimuth, moves)

    def enterEvent(self, event: QEnterEvent) -> None:
        """A hand comes near."""
        super().enterEvent(event)
        self._near.start()

    def leaveEvent(self, event: QEvent) -> None:
        """And goes."""
        super().leaveEvent(event)
        self._near.stop()

    def mousePressEvent(self, event: QMouseEvent) -> None:
        """Take hold of the model, or of the line between two schemes."""
        if event.button() != Qt.MouseButton.LeftButton:
            super().mousePressEvent(event)
            return
        self._press = event.position()
        self._is_splitting = self._is_at_split(event.position())
        if not self._is_splitting:
            self.turner.take(event.position().x())
            self.maker.get_ready_to_turn()

    def mouseMoveEvent(self, event: QMouseEvent) -> None:
        """Turn it, or move the line."""
        at = event.position()
        if self._press is None:
            near = self._is_at_split(at)
            self.setCursor(Qt.CursorShape.SplitHCursor if near else Qt.CursorShape.ArrowCursor)
        elif self._is_splitting:
            frame = self.frame()
            self._move_split((at.x() - frame.left()) / frame.width())
        else:
            self.turner.drag(at.x())

    def mouseReleaseEvent(self, event: QMouseEvent) -> None:
        """A turned model comes to rest; a click that turned nothing picks the zone under it."""
        if self._press is None:
            return
        self._press = None
        if self._is_splitting:
            self._is_splitting = False
        elif not self.turner.let_go():
            self._pick_at(event.position())

    def _pick_at(self, point: QPointF) -> None:
        index, zones = self.zone_index_at(point), self.bridge.state.project.zones
        if index is None or index >= len(zones):
            return
        scheme_id = self._scheme_id or self.bridge.state.selection.scheme_id
        self.bridge.session.select(scheme_id=scheme_id, zone_id=zones[index].id)

    def focusInEvent(self, event: QFocusEvent) -> None:
        """The keys come near."""
        super().focusInEvent(event)
        self._near.start()

    def focusOutEvent(self, event: QFocusEvent) -> None:
        """And go, and let go of what they held."""
        super().focusOutEvent(event)
        self._near.stop()
        self._hold(on=False)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Turn, pick zones, go through the steps, move the line between two schemes."""
        key, held = Qt.Key(event.key()), event.modifiers()
        turns = {Qt.Key.Key_Left: 1, Qt.Key.Key_Right: -1}
        picks = {Qt.Key.Key_Up: -1, Qt.Key.Key_Down: 1}
        stages = {Qt.Key.Key_PageUp: -1, Qt.Key.Key_PageDown: 1}
        if key in turns and held & Qt.KeyboardModifier.ControlModifier:
            self._move_split(self.split_at - turns[key] * _SPLIT_STEP)
        elif key in turns:
            small = bool(held & Qt.KeyboardModifier.ShiftModifier)
            self._turn_by(turns[key] * (REST_DEGREES if small else _KEY_DEGREES))
        elif key in picks and not held:
            self._pick_beside(picks[key])
        elif key in stages:
            self._stage_beside(stages[key])
        elif key is Qt.Key.Key_B and not held:
            if not event.isAutoRepeat():
                self._hold(on=True)
        else:
            super().keyPressEvent(event)

    def keyReleaseEvent(self, event: QKeyEvent) -> None:
        """Let go of the look before a step."""
        if Qt.Key(event.key()) is Qt.Key.Key_B and not event.isAutoRepeat():
            self._hold(on=False)
        else:
            super().keyReleaseEvent(event)

    def _hold(self, *, on: bool) -> None:
        if on != self._before:
            self.hold_before(on)
            self.held.emit(on)

    def _turn_by(self, degrees: float) -> None:
        """By a key: smoothly where the model is ready for it."""
        ready = self.maker.is_ready_to_turn
        if not ready:
            self.maker.get_ready_to_turn()
        self.turner.turn_by(degrees, smoothly=ready)

    def _pick_beside(self, by: int) -> None:
        zones = [zone.id for zone in self.bridge.state.project.zones]
        here = self.bridge.state.selection.zone_id
        if here in zones:
            place = min(max(zones.index(here) + by, 0), len(zones) - 1)
            self.bridge.session.select(zone_id=zones[place])

    def _stage_beside(self, by: int) -> None:
        ids = stage_ids(self.bridge.state, self._scheme_id)
        here = ids.index(self._step_id) if self._step_id in ids else len(ids) - 1
        there = ids[min(max(here + by, 0), len(ids) - 1)]
        if there != self._step_id:
            self.show_stage(there)
            self.staged.emit(there)

    def event(self, event: QEvent) -> bool:
        """Tooltips name the zone under the pointer."""
        if event.type() == QEvent.Type.ToolTip and isinstance(event, QHelpEvent):
            index = self.zone_index_at(QPointF(event.pos()))
            zones = self.bridge.state.project.zones
            hint = self.tr("Drag or use the arrow keys to turn it; click a zone to pick it")
            known = index is not None and index < len(zones)
            text = zones[index].name if known and index is not None else hint
            QToolTip.showText(event.globalPos(), text, self)
            return True
        return super().event(event)
