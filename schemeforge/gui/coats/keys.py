"""The keys of the cutaway."""

from typing import Protocol

from PySide6.QtCore import Qt
from PySide6.QtGui import QKeyEvent

from schemeforge.desk import Direction
from schemeforge.desk.cutaway import Band, CutScale
from schemeforge.desk.handles import Handle, handles_of
from schemeforge.gui.bridge import Bridge
from schemeforge.gui.coats.hand import Hand


class Cut(Protocol):
    """What the keys need of the cutaway."""

    bridge: Bridge
    hand: Hand

    @property
    def bands(self) -> tuple[Band, ...]:
        """The layers, lowest first."""

    @property
    def scale(self) -> CutScale:
        """How films become heights."""

    def picked_place(self) -> int | None:
        """Which band is picked."""

    def held_handle(self) -> Handle | None:
        """The handle held."""

    def take(self, handle: Handle | None) -> None:
        """Take a handle or let go of it."""


_ARROWS = {
    Qt.Key.Key_Up: (0, 1),
    Qt.Key.Key_Down: (0, -1),
    Qt.Key.Key_Right: (1, 0),
    Qt.Key.Key_Left: (-1, 0),
}


def press(cut: Cut, event: QKeyEvent) -> bool:
    """Do what the key means; False where it means nothing here."""
    place = cut.picked_place()
    if _pick(cut, event, place) or _view(cut, event):
        return True
    return place is not None and _band(cut, event, cut.bands[place])


def _pick(cut: Cut, event: QKeyEvent, place: int | None) -> bool:
    by = {Qt.Key.Key_Up: 1, Qt.Key.Key_Down: -1}.get(Qt.Key(event.key()))
    if by is None or not cut.bands:
        return False
    if event.modifiers() & Qt.KeyboardModifier.ControlModifier:
        if place is not None:
            cut.hand.reorder(cut.bands[place].step, by)
        return True
    if cut.held_handle() is not None:
        return False
    new = 0 if place is None else min(max(place + by, 0), len(cut.bands) - 1)
    cut.bridge.session.select(step_id=cut.bands[new].step.id)
    return True


def _view(cut: Cut, event: QKeyEvent) -> bool:
    pick, select = cut.bridge.state.selection, cut.bridge.session.select
    if event.key() == Qt.Key.Key_T and not event.modifiers():
        select(true_scale=not pick.true_scale)
    elif event.key() == Qt.Key.Key_R and not event.modifiers():
        relief = pick.direction is Direction.RELIEF
        select(direction=Direction.ALONG if relief else Direction.RELIEF)
    elif event.key() == Qt.Key.Key_Escape and cut.held_handle() is not None:
        cut.take(None)
    else:
        return False
    return True


def _band(cut: Cut, event: QKeyEvent, band: Band) -> bool:
    key = Qt.Key(event.key())
    fine = bool(event.modifiers() & Qt.KeyboardModifier.ShiftModifier)
    if key == Qt.Key.Key_H:
        _next_handle(cut, band)
        return True
    if key in {Qt.Key.Key_Plus, Qt.Key.Key_Equal, Qt.Key.Key_Minus}:
        cut.hand.weigh(band.step, -1 if key == Qt.Key.Key_Minus else 1, fine=fine)
        return True
    handle = cut.held_handle()
    if handle is None or key not in _ARROWS:
        return False
    across, up = _ARROWS[key]
    cut.hand.nudge(band, handle, cut.scale, across, up, fine=fine)
    return True


def _next_handle(cut: Cut, band: Band) -> None:
    handles = handles_of(band, cut.bridge.state.selection.direction)
    held = cut.held_handle()
    if handles:
        after = (handles.index(held) + 1) % len(handles) if held in handles else 0
        cut.take(handles[after])
