"""The plan of the batch, worked out beside the hand, for every section that shows some of it."""

from dataclasses import dataclass
from datetime import datetime

from PySide6.QtCore import QObject, QTimer, Signal

from schemeforge import plan
from schemeforge.desk import CancelToken, DeskState
from schemeforge.errors import SchemeForgeError
from schemeforge.gui.batch.keeper import ClockKeeper
from schemeforge.gui.bridge import Bridge
from schemeforge.scheme import Project, Scheme

_SETTLE_MS = 200
# Paint dries while nobody touches the window.
_AGAIN_MS = 60_000
_SLOW_MS = 250
_KEY = "batch plan"


@dataclass(frozen=True, slots=True, kw_only=True)
class Made:
    """A plan with what stands beside it.

    Args:
        project, scheme: What it was made for.
        progress: Where the work stands.
        schedule: The plan of what is left.
        spread: Its chances.
        standing: The same in sentences.
        paces: Minutes a model of each step.
        pots: All pots as they stand.
        needs: Paints against the bottles.
    """

    project: Project
    scheme: Scheme
    progress: plan.Progress
    schedule: plan.Schedule
    spread: plan.Spread
    standing: plan.Standing
    paces: dict[str, plan.Pace]
    pots: tuple[plan.PotState, ...]
    needs: tuple[plan.PaintNeed, ...]


class Planner(QObject):
    """Makes the plan anew whenever the hand rests after a change, and as paint dries.

    Signals:
        made: A `Made`, or None where there is nothing to plan.
        slow: A plan takes long enough to say so.
    """

    made = Signal(object)
    slow = Signal()

    def __init__(self, bridge: Bridge, keeper: ClockKeeper, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self.bridge = bridge
        self._keeper = keeper
        self._wanted: tuple[Project, Scheme] | None = None
        self.latest: Made | None = None
        self._settle = QTimer(self)
        self._settle.setSingleShot(True)
        self._settle.setInterval(_SETTLE_MS)
        self._settle.timeout.connect(self._start)
        self._patience = QTimer(self)
        self._patience.setSingleShot(True)
        self._patience.setInterval(_SLOW_MS)
        self._patience.timeout.connect(self.slow)
        self._again = QTimer(self)
        self._again.setInterval(_AGAIN_MS)
        self._again.timeout.connect(self._on_minute)

    def want(self, state: DeskState) -> None:
        """Plan that state once the hand rests."""
        scheme = state.scheme
        if scheme is None or not any(group.count for group in state.project.groups):
            self._wanted = None
            self._settle.stop()
            self._again.stop()
            self.bridge.jobs.cancel(_KEY)
            self._give(None)
            return
        self._wanted = (state.project, scheme)
        self._settle.start()
        self._again.start()

    def rest(self) -> None:
        """Nobody looks: make nothing until wanted again."""
        self._patience.stop()
        self._settle.stop()
        self._again.stop()

    def _on_minute(self) -> None:
        if self.latest is not None and self.latest.standing.drying:
            self._start()

    def _start(self) -> None:
        if self._wanted is None:
            return
        project, scheme = self._wanted
        now = datetime.now().replace(microsecond=0)  # noqa: DTZ005 - the plan is in local time
        clock = self._keeper.in_hand()

        def work(_token: CancelToken) -> Made:
            return made_of(project, scheme, now, clock)

        self._patience.start()
        self.bridge.jobs.submit(_KEY, work, self._give, failed=self._on_failed)

    def _on_failed(self, error: Exception) -> None:
        if not isinstance(error, SchemeForgeError):
            raise error
        self.bridge.problem.emit(error.sentence)
        self._give(None)

    def _give(self, made: Made | None) -> None:
        self._patience.stop()
        self.latest = made
        self.made.emit(made)


def made_of(project: Project, scheme: Scheme, now: datetime | None, clock: plan.ClockState) -> Made:
    """The plan of a project with all that stands beside it.

    Args:
        project: The document.
        scheme: The scheme that is painted.
        now: Local time without a zone.
        clock: What the clock has in hand; what it has done is the project's.
    """
    known = plan.progress(project, scheme, now)
    schedule = plan.schedule(project, scheme, known)
    paces = plan.paces(project, scheme)
    spread = plan.spread(project, scheme, schedule, pace=paces)
    return Made(
        project=project,
        scheme=scheme,
        progress=known,
        schedule=schedule,
        spread=spread,
        standing=plan.standing(project, scheme, now=now, clock=clock, plan=schedule, chance=spread),
        paces=paces,
        pots=plan.pot_states(project, scheme, known),
        needs=plan.paint_needs(project, scheme),
    )
