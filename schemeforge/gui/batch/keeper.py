"""The step clock of the open project: its file, its beat, and what it hands to the plan."""

from collections.abc import Callable
from contextlib import suppress
from dataclasses import replace
from pathlib import Path

from PySide6.QtCore import QObject, QTimer, Signal

from schemeforge import plan
from schemeforge.desk import DeskState
from schemeforge.desk.run_lock import Holder, RunLock, holder_of
from schemeforge.errors import FileError, InputError, SchemeForgeError
from schemeforge.gui.bridge import Bridge
from schemeforge.plan import ClockFile, ClockState, Moment, Press, Target, this_moment
from schemeforge.plan.clock import IDLE
from schemeforge.scheme import Timing, edits

# So much of the usual time at a model and it counts as begun (rule of thumb, no source).
_BEGUN = 0.2
_BEAT_MS = 15_000


class ClockKeeper(QObject):
    """Every press goes to the clock's file first, then into the project as a record.

    The file lies with the user's data, one for each project, so that it outlives a crash of the
    window and a project that is not saved yet. A second window on the same project only looks.

    Signals:
        changed: After every press and every change of project.
    """

    changed = Signal()

    def __init__(
        self,
        bridge: Bridge,
        now: Callable[[], Moment] = this_moment,
        parent: QObject | None = None,
    ) -> None:
        super().__init__(parent)
        self.bridge = bridge
        self._now = now
        self._file: ClockFile | None = None
        self._lock: RunLock | None = None
        self._path = Path()
        self._is_closed = False
        self._asks: frozenset[str] = frozenset()
        self.trouble = ""
        self._beat = QTimer(self)
        self._beat.setInterval(_BEAT_MS)
        self._beat.timeout.connect(self.beat)
        bridge.changed.connect(self._on_changed)
        bridge.closing.connect(self.close)
        self._open()

    @property
    def state(self) -> ClockState:
        """What all presses so far amount to."""
        return IDLE if self._file is None else self._file.state

    @property
    def now(self) -> Moment:
        """This moment."""
        return self._now()

    def in_hand(self) -> ClockState:
        """The state without what is done, which the project has on record."""
        stints = tuple(replace(stint, models=0) for stint in self.state.stints)
        return replace(self.state, stints=stints)

    def loose(self) -> tuple[Timing, ...]:
        """What an earlier run clocked and the project does not hold."""
        return tuple(timing for timing in self._missing() if timing.id in self._asks)

    def _missing(self) -> tuple[Timing, ...]:
        if self._file is None:
            return ()
        project = self.bridge.state.project
        held = {timing.id: timing for timing in project.timings}
        return tuple(
            timing
            for timing in plan.timings(self.state, project, self._file.clock_id)
            if timing.id not in held or held[timing.id].models < timing.models
        )

    def take_loose(self) -> bool:
        """Put into the project what it does not hold."""
        records = self.loose()
        label = self.tr("records of the clock")
        done = self.bridge.edit(label, lambda p: edits.put_timings(p, records))
        self.changed.emit()
        return done

    def drop_loose(self) -> bool:
        """Begin an empty file; the old one is put aside, not deleted."""
        file = self._file
        if file is None:
            return True

        def drop() -> None:
            if not file.state.is_idle:
                file.press(Press.STOP)
            file.start_anew()

        return self._tried(drop)

    def start(self, target: Target | None = None) -> bool:
        """Go on, or begin with a step."""
        if target is not None and self.state.is_idle:
            self._tidy()
        return self._press(Press.START, target)

    def pause(self) -> bool:
        """Stand still; the model stays in hand."""
        return self._press(Press.PAUSE)

    def next_model(self, models: int = 1) -> bool:
        """So many models are done with the time that has passed."""
        return self._press(Press.NEXT_MODEL, models=models)

    def next_step(self, target: Target) -> bool:
        """Turn to another step; a model that was begun counts as done."""
        return self._press(Press.NEXT_STEP, target, self.finishing())

    def stop(self) -> bool:
        """Put the brush down; a model that was begun counts as done."""
        return self._press(Press.STOP, models=self.finishing())

    def answer(self, *, count: bool) -> bool:
        """Whether the gap was painting time."""
        return self._press(Press.COUNT_GAP if count else Press.DROP_GAP)

    def finishing(self) -> int:
        """1 where the model in hand was begun, and so is done when one turns away from it."""
        target = self.state.target
        if target is None or not self.left():
            return 0
        usual = self.usual_seconds()
        return int(self.state.seconds(self.now) >= _BEGUN * usual)

    def usual_seconds(self) -> float:
        """What the model in hand usually takes; 0 where nothing is."""
        target, project = self.state.target, self.bridge.state.project
        if target is None:
            return 0.0
        scheme = next((s for s in project.schemes if s.id == target.scheme_id), None)
        pace = None if scheme is None else plan.paces(project, scheme).get(target.step_id)
        return 0.0 if pace is None else 60.0 * pace.minutes

    def done(self) -> int:
        """Models of the group that have had the step in hand; of test models those clocked now."""
        target = self.state.target
        if target is None:
            return 0
        if target.is_test:
            return self.state.stints[-1].models
        return sum(
            timing.models
            for timing in self.bridge.state.project.timings
            if not timing.is_test
            and (timing.scheme_id, timing.step_id) == (target.scheme_id, target.step_id)
            and timing.group_id == target.group_id
        )

    def left(self) -> int:
        """Models of the group that have not had the step in hand; without end for test models."""
        target = self.state.target
        if target is None:
            return 0
        if target.is_test:
            return 1
        group = next((g for g in self.bridge.state.project.groups if g.id == target.group_id), None)
        return 0 if group is None else max(0, group.count - self.done())

    def beat(self) -> None:
        """Note that the clock still runs; brings to light that the computer slept."""
        file = self._file
        if file is not None and file.state.running:
            self._tried(lambda: file.press(Press.BEAT))

    def close(self) -> None:
        """Let go of the file; a clock that is left running is asked about at the next opening."""
        self.beat()
        self._beat.stop()
        self._release()
        self._is_closed = True

    def _press(self, press: Press, target: Target | None = None, models: int = 0) -> bool:
        def act() -> None:
            self._ready().press(press, target, models)

        def act_and_tell() -> None:
            act()
            if models:
                self._hand_over()

        return self._tried(act_and_tell)

    def _tried(self, act: Callable[[], object]) -> bool:
        done = self.bridge.attempt(act)
        self._wind()
        if done:
            self.changed.emit()
        return done

    def _wind(self) -> None:
        if self.state.running:
            self._beat.start()
        else:
            self._beat.stop()

    def _hand_over(self) -> None:
        """The stints that the press added models to, into the project, one step of undo each."""
        file, project = self._file, self.bridge.state.project
        if file is None:
            return
        done = [stint for stint in file.state.stints if stint.models]
        if not done:
            return
        latest = f"{file.clock_id}-{done[-1].number}"
        records = [t for t in plan.timings(file.state, project, file.clock_id) if t.id == latest]
        label = self.tr("time at the clock")
        self.bridge.edit(label, lambda p: edits.put_timings(p, records), merge=f"clock {latest}")

    def _ready(self) -> ClockFile:
        """The file, made where it was not needed yet."""
        if self._file is None:
            self._take()
        if self._file is None:
            raise FileError("The clock's journal cannot be opened", where=str(self._path))
        return self._file

    def _tidy(self) -> None:
        """Begin an empty file where the project holds all that the old one tells, saved."""
        file = self._file
        state = self.bridge.state
        kept = state.is_saved and state.path is not None and not self.loose()
        if file is not None and file.state.stints and kept:
            self._tried(file.start_anew)

    def _open(self) -> None:
        """The clock of the project that is open, if it has one."""
        self._path = self._path_of(self.bridge.state)
        self.trouble = ""
        try:
            if self._path.exists():
                self._take()
        except SchemeForgeError as error:
            self.trouble = error.sentence
            self.bridge.problem.emit(error.sentence)
        self._ask()

    def _ask(self) -> None:
        """Ask about all that the project does not hold now."""
        self._asks = frozenset(timing.id for timing in self._missing())
        self._wind()
        self.changed.emit()

    def _take(self) -> None:
        lock = self._path.with_suffix(".lock")
        try:
            self._path.parent.mkdir(parents=True, exist_ok=True)
            if lock.exists() and holder_of(lock) is Holder.SOMEBODY:
                raise InputError(
                    "The clock of this project runs in another window", remedy="use it there"
                )
            self._lock = RunLock(lock)
        except OSError as error:
            raise FileError(
                f"The clock's folder cannot be used ({error.strerror})",
                where=str(self._path.parent),
                remedy="make room, or check the folder",
            ) from None
        self._file = ClockFile(self._path, self._now)
        self.trouble = self._file.trouble

    def _release(self) -> None:
        self._file = None
        if self._lock is not None:
            self._lock.release()
            self._lock = None

    def _path_of(self, state: DeskState) -> Path:
        return self.bridge.session.places.clock_file(state.project.id, state.path)

    def _on_changed(self, old: DeskState, new: DeskState) -> None:
        path = self._path_of(new)
        if self._is_closed:
            return
        if path == self._path:
            if old.project is not new.project and not (new.undo_label or new.redo_label):
                self._ask()  # another document in the same place, as after a recovery
            return
        was = self._path
        self.beat()
        self._release()
        if old.project is new.project:  # saved under another name: the clock goes along
            _put_aside(path)
            if was.exists():
                with suppress(OSError):
                    was.replace(path)
        self._open()


def keeper_of(bridge: Bridge) -> ClockKeeper:
    """The one keeper of a bridge, made when first asked for: it holds the clock's file."""
    found = bridge.findChild(ClockKeeper)
    return ClockKeeper(bridge, parent=bridge) if found is None else found


def _put_aside(path: Path) -> None:
    """Keep the clock of a project that another was saved over, out of the way."""
    if path.exists():
        with suppress(OSError):
            path.replace(path.with_name(f"{path.name}.old"))
