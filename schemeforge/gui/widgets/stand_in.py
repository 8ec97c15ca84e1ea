"""A stand-in model in the window: the scheme as it will stand on the table."""

from PySide6.QtCore import QEvent, QPointF, Qt, QTimer, Signal
from PySide6.QtGui import QEnterEvent, QFocusEvent, QHelpEvent, QKeyEvent, QMouseEvent
from PySide6.QtWidgets import QToolTip, QWidget

from schemeforge.gui.bridge import Bridge
from schemeforge.gui.keys import tell_keys
from schemeforge.gui.looking.canvas import ModelCanvas
from schemeforge.gui.looking.maker import REST_DEGREES
from schemeforge.gui.looking.stages import stage_ids

# The model that all zones of a project are worn by.
WHOLE = "warden"
_KEY_DEGREES = 15
_SPLIT_PIXELS = 9.0
_SPLIT_STEP = 0.05
_NEAR_MS = 350  # so long a hand is near before the model is made ready to be turned


class StandInView(ModelCanvas):
    """A scheme on a model: click picks a zone, a drag or the arrow keys turn it.

    Signals:
        turned: From where it is now seen, degrees, and whether it still moves, by a hand.
        staged: After which step it is shown, "" for finished, by a key.
        held: Whether the look before a step is held, by a key.
    """

    turned = Signal(float, bool)
    staged = Signal(str)
    held = Signal(bool)

    def __init__(self, bridge: Bridge, name: str, parent: QWidget | None = None) -> None:
        super().__init__(bridge, name, parent)
        self.turner.turned.connect(self._on_turned)
        self._press: QPointF | None = None
        self._is_splitting = False
        self._near = QTimer(self)
        self._near.setSingleShot(True)
        self._near.setInterval(_NEAR_MS)
        self._near.timeout.connect(self._on_near)
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.setMouseTracking(True)
        self.setAccessibleName(self.tr("Stand-in model"))
        tell_keys(
            self,
            (self.tr("Left, Right"), self.tr("turn the model; with Shift in small steps")),
            (self.tr("Up, Down"), self.tr("pick the zone before or after")),
            (self.tr("Page Up, Page Down"), self.tr("as after the step before, or after the next")),
            (self.tr("B, held"), self.tr("as before the step")),
            (self.tr("Ctrl+Left, Ctrl+Right"), self.tr("move the line between two schemes")),
        )

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

    def _on_near(self) -> None:
        """A hand may be about to turn it; what is looked at already comes first."""
        if self.bridge.tracer.is_busy:
            self._near.start()
        else:
            self.maker.get_ready_to_turn()

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
