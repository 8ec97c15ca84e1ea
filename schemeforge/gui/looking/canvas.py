"""A widget that shows models: what is on it, from where, and where each zone lies."""

from PySide6.QtCore import QPointF, QRectF, QSize, Qt
from PySide6.QtGui import QPainter, QPaintEvent, QPen, QResizeEvent, QShowEvent
from PySide6.QtWidgets import QSizePolicy, QWidget

from schemeforge.desk import DeskState
from schemeforge.gui.bridge import Bridge
from schemeforge.gui.looking.maker import PictureMaker, Wish
from schemeforge.gui.looking.painting import Scene, paint, sight_height
from schemeforge.gui.looking.shot import Arrangement, Drawn, margins, true_scale
from schemeforge.gui.looking.stages import before, stage_words
from schemeforge.gui.looking.turner import Turner
from schemeforge.gui.looking.words import sight_words
from schemeforge.gui.theme import GAP_TIGHT

_AZIMUTH = 20.0
_PITCH = 0.66  # of a model's picture from one model of a rank to the next
_RANK = 5


class ModelCanvas(QWidget):
    """Models as they are wished for, on the neutral surround.

    The picture follows an edit a frame or two after the rest of the page, so that a dragging
    hand never waits for it.
    """

    def __init__(self, bridge: Bridge, name: str, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.bridge = bridge
        self.maker = PictureMaker(bridge, self)
        self.maker.made.connect(self._show)
        self.maker.waits.connect(self._wait)
        bridge.tracer.progress.connect(self._on_progress)
        self.turner = Turner(_AZIMUTH, self)
        self.drawn: Drawn | None = None
        self.split_at = 0.5
        self._name = name
        self._scheme_id = self._other_id = self._step_id = ""
        self._arrangement, self._count = Arrangement.ONE, _RANK
        self._outlines = self._tells_stage = True
        self._progress = 0.0
        self._before = self._true_size = self._waits = False
        self.setAttribute(Qt.WidgetAttribute.WA_OpaquePaintEvent)
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Expanding)

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

    def leave_stage_to(self, _strip: QWidget) -> None:
        """Beside a strip that says after which step it is, only what is held is written."""
        self._tells_stage = False

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
        stage = stage_words(state, self._scheme_id, self._shown_step(state))
        if stage:
            facts.append(stage)
        sight = sight_words(state.selection.sight)
        self.setAccessibleDescription(", ".join([*facts, sight] if sight else facts))

    def _unit(self) -> float:
        """How large a model's square picture is drawn for the whole to fill the widget."""
        side, top, foot = margins(self._name)
        across, high = 1.0 - 2.0 * side, 1.0 - top - foot
        wide = across
        if self._arrangement is Arrangement.LIGHTS:
            wide = 3 * across
        elif self._arrangement is Arrangement.GROUP:
            wide = across + _PITCH * (_RANK - 1)
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
        stage = stage_words(state, self._scheme_id, self._shown_step(state))
        return Scene(
            drawn,
            self.frame(),
            QRectF(self.rect()),
            self.palette(),
            self._arrangement,
            self._split_x(),
            (names.get(shown, ""), names.get(self._other_id, "")),
            stage if self._tells_stage or self._before else "",
            sight_words(state.selection.sight),
            self.tr("sharpening…") if self._waits else "",
        )

    def _wait(self, on: bool) -> None:
        if on != self._waits:
            self._waits = on
            self.update()

    def _split_x(self) -> float:
        frame = self.frame()
        return frame.left() + self.split_at * frame.width()

    def _waiting_words(self) -> str:
        if not self.bridge.state.project.zones:
            return self.tr("No zones yet: add them on the Batch page.")
        if self.bridge.state.scheme is None:
            return self.tr("No scheme yet: add one on the Schemes page.")
        words = self.tr("The stand-in model is being built; this happens once.")
        return f"{words}\n{self.tr('{0} %').format(round(100 * self._progress))}"

    def _on_progress(self, share: float) -> None:
        self._progress = share
        if self.drawn is None:
            self.update()

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
