"""Has pictures of stand-in models made beside the window, the latest wish winning.

Views of the model are traced off the window's thread and kept on disk, and so are the pictures
made: that takes half a frame, which a dragging hand needs for the page.
"""

from dataclasses import dataclass
from typing import TYPE_CHECKING

from PySide6.QtCore import QElapsedTimer, QObject, QTimer, Signal
from PySide6.QtGui import QColor
from shiboken6 import isValid

from schemeforge.colorimetry import Distance
from schemeforge.desk import CancelToken, DeskState
from schemeforge.gui.bridge import Bridge
from schemeforge.gui.looking.shot import Arrangement, Drawn, Shot, made, spray_of
from schemeforge.gui.theme import theme_of

if TYPE_CHECKING:
    from schemeforge.scheme import Scheme
    from schemeforge.stand_in import Model, SprayCone, Turn, Turntable, View

# Sizes in device pixels for which views are kept, so that a resized window finds them again.
SIZES = (256, 384, 512, 768)
# A model in a group, one under three lights, and one that is being turned are no larger.
_LARGEST = {Arrangement.GROUP: 256, Arrangement.LIGHTS: 512}
_TURNING, _TURNING_BLURRED = 320, 256
_SOON = 384  # a first view that is larger is preceded by a small one
# Where a model comes to rest, degrees: few enough sides to be found again on disk.
REST_DEGREES = 5
_AFTER_MS = 20
# Edits that follow each other, as under a dragging hand, are shown so far apart: a picture being
# made slows the frames of the page, which the hand looks at.
_BETWEEN_EDITS_MS = 250


@dataclass(frozen=True, slots=True, kw_only=True)
class Wish:
    """What is to be seen.

    Args:
        state: What the window shows.
        model: Name of the stand-in model.
        scheme_id: The scheme, "" for the one picked.
        azimuth: From where, degrees around it.
        is_moving: True while a hand turns it.
        pixels: Device pixels across a model's square picture.
        arrangement: What stands on the table.
        other_id: Scheme on the right half.
        step_id: After that step, "" when finished.
        count: Models in a group.
        outlined: Whether the picked zone is.
    """

    state: DeskState
    model: str
    scheme_id: str
    azimuth: float
    is_moving: bool
    pixels: float
    arrangement: Arrangement
    other_id: str
    step_id: str
    count: int
    outlined: bool

    @property
    def scheme(self) -> "Scheme | None":
        """The scheme shown."""
        known = {scheme.id: scheme for scheme in self.state.project.schemes}
        return known.get(self.scheme_id) or self.state.scheme

    @property
    def size(self) -> int:
        """Pixels across and down of one model."""
        size = next((n for n in SIZES if n >= 0.85 * self.pixels), SIZES[-1])
        return min(size, _LARGEST.get(self.arrangement, size))


class PictureMaker(QObject):
    """Makes what is wished.

    Signals:
        made: A `Drawn`; None where there is nothing to paint.
        waits: Whether a finer view of the model is being traced.
    """

    made = Signal(object)
    waits = Signal(bool)

    def __init__(self, bridge: Bridge, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self.bridge = bridge
        self._views = bridge.stand_ins
        self._wish: Wish | None = None
        self._last: Shot | None = None
        self._is_drawing = self._draw_again = False
        self._timer = QTimer(self)
        self._timer.setSingleShot(True)
        self._timer.timeout.connect(self._draw)
        self._begun = QElapsedTimer()
        bridge.tracer.arrived.connect(self._draw)

    @property
    def is_ready_to_turn(self) -> bool:
        """True where the model can be seen from any side at once."""
        return self._turntable() is not None

    def want(self, wish: Wish) -> None:
        """Make that, a moment from now; at once while it is turned, later during a drag."""
        self._wish = wish
        if wish.is_moving:
            self._timer.stop()
            self._draw()
            return
        wait, last = _AFTER_MS, self._last
        if last is not None and last.project is not wish.state.project:
            wait = max(wait, _BETWEEN_EDITS_MS - self._begun.elapsed())
        if not self._timer.isActive() or self._timer.remainingTime() > wait:
            self._timer.start(wait)

    def get_ready_to_turn(self) -> None:
        """A hand is near: have the model made ready for it."""
        wish = self._wish
        if wish is None or not isValid(self) or self.is_ready_to_turn:
            return
        self.bridge.tracer.ask_turntable(self._model(), self._spray())

    def _model(self) -> "Model":
        from schemeforge import stand_in

        assert self._wish is not None  # noqa: S101 - asked for a wish only
        return stand_in.model(self._wish.model)

    def _spray(self) -> "SprayCone":
        assert self._wish is not None  # noqa: S101
        return spray_of(self._wish.state.preferences.looking)

    def _turntable(self) -> "Turntable | None":
        if self._wish is None:
            return None
        return self._views.turntable_ready(self._model(), self._spray())

    def _source(self, wish: Wish) -> "tuple[View | Turntable, Turn, int] | None":
        """What the picture is made from: the very view, else the turntable, else the nearest."""
        from schemeforge.stand_in import Turn

        size, table = wish.size, self._turntable()
        blurred = wish.state.selection.sight.distance is not Distance.CLOSE
        turning = min(size, _TURNING_BLURRED if blurred else _TURNING)
        if wish.is_moving and table is not None:
            return table, Turn(azimuth=wish.azimuth), turning
        model, spray = self._model(), self._spray()
        rest = round(wish.azimuth / REST_DEGREES) * REST_DEGREES % 360
        turn = Turn(azimuth=float(rest))
        view = self._views.ready(model, size, turn, spray)
        self.waits.emit(view is None)
        if view is not None:
            return view, turn, size
        if table is not None:
            self.bridge.tracer.ask_view(model, size, turn, spray)
            return table, turn, turning
        near = self._views.nearest(model, size, turn, spray)
        small = SIZES[0]
        if near is None and size > _SOON:  # a small one is there in a fraction of the time
            near, size = self._views.ready(model, small, turn, spray), small
            if near is None:
                self.bridge.tracer.ask_view(model, small, turn, spray)
        self.bridge.tracer.ask_view(model, wish.size, turn, spray)
        return None if near is None else (near, turn, size)

    def _draw(self) -> None:
        """Have the picture made, unless it is the one shown or being made."""
        wish = self._wish
        if wish is None:
            return
        if wish.scheme is None or not wish.state.project.zones:
            self._last = None
            self.made.emit(None)
            return
        if self._is_drawing:
            self._draw_again = True  # a hand that goes on must not keep it from ever being shown
            return
        found = self._source(wish)
        if found is None:
            return
        shot = self._shot(wish, *found)
        if self._last is not None and _is_same(shot, self._last):
            return
        self._last, self._is_drawing = shot, True
        self._begun.start()

        def work(token: CancelToken) -> Drawn | None:
            return made(shot, lambda: token.is_cancelled)

        self.bridge.jobs.submit(f"picture {id(self)}", work, self._take, failed=self._give_up)

    def _shot(self, wish: Wish, source: "View | Turntable", turn: "Turn", size: int) -> Shot:
        from schemeforge import stand_in

        state, scheme = wish.state, wish.scheme
        assert scheme is not None  # noqa: S101 - asked before
        whole = wish.model == stand_in.WARDEN.name
        zone, project = state.zone, state.project
        single = wish.arrangement in {Arrangement.ONE, Arrangement.SPLIT}
        near = state.selection.sight.distance is Distance.CLOSE  # else a line would be the sharpest
        outlined = whole and single and near and wish.outlined and zone is not None
        others = {one.id: one for one in project.schemes}
        theme = theme_of(state.preferences.surround)
        return Shot(
            project=project,
            scheme=scheme,
            model=wish.model,
            source=source,
            turn=turn,
            size=size,
            arrangement=wish.arrangement,
            other=others.get(wish.other_id) if wish.arrangement is Arrangement.SPLIT else None,
            step_id=wish.step_id,
            count=wish.count,
            picked=project.zones.index(zone) if outlined and zone is not None else None,
            worn_alone=None if whole or zone is None else zone.id,
            sight=state.selection.sight,
            looking=state.preferences.looking,
            surround=QColor(theme.window).red(),
            accent=QColor(theme.accent).rgba(),
        )

    def _take(self, drawn: Drawn | None) -> None:
        if not isValid(self):  # closed while its picture was made
            return
        if drawn is not None:
            self.made.emit(drawn)
        self._next()

    def _give_up(self, error: Exception) -> None:
        if isValid(self):
            self._next()
        raise error

    def _next(self) -> None:
        self._is_drawing = False
        if self._draw_again:
            self._draw_again = False
            self._draw()


def _is_same(a: Shot, b: Shot) -> bool:
    """Whether two shots give the same picture: documents by identity, the rest by value."""
    same = all(
        getattr(a, name) is getattr(b, name) for name in ("project", "scheme", "source", "other")
    )
    names = ("model", "turn", "size", "arrangement", "step_id", "count", "picked")
    more = ("worn_alone", "sight", "looking", "surround", "accent")
    return same and all(getattr(a, name) == getattr(b, name) for name in (*names, *more))
