"""The step clock: presses of keys folded into what was done and how long it took.

A press carries two times. The monotonic one never jumps and is what time is measured by; it means
something only within one run of the program, and on some systems stands still while the computer
sleeps. The wall time, seconds since 1970 in UTC, knows no daylight saving; it can be set by hand.
Where the two agree the time counts. Where more wall time has passed than monotonic time (sleep, or
a clock set forward), or the program was ended while the clock ran, there is a gap: the clock stops,
and the painter is asked whether to count it. A clock that was set back counts monotonic time.
"""

from dataclasses import dataclass, field, replace
from datetime import UTC, datetime
from enum import StrEnum

from schemeforge import checks
from schemeforge.errors import InputError
from schemeforge.scheme import Project, Timing

# Clocks drift, and are set right by the second.
TOLERANCE_SECONDS = 10.0
# What one record in a project holds at most.
_MOST_MODELS = 10_000
_MOST_MINUTES = 100_000.0


class Press(StrEnum):
    """What was pressed, or what the clock notes by itself."""

    START = "start"
    PAUSE = "pause"
    NEXT_MODEL = "next model"
    NEXT_STEP = "next step"
    STOP = "stop"
    COUNT_GAP = "count gap"
    DROP_GAP = "drop gap"
    BEAT = "beat"  # still running: narrows the gap after a kill


@dataclass(frozen=True, slots=True, kw_only=True)
class Moment:
    """When something was pressed.

    Args:
        wall: Seconds since 1970, UTC.
        monotonic: Seconds that never jump; compared within one run only.
        run: What tells runs of the program apart.
    """

    wall: float
    monotonic: float
    run: str

    def __post_init__(self) -> None:
        # up to the year 5138: what no calendar can hold is no time that was read off a clock
        checks.number(self.wall, "Wall time", low=0.0, high=1e11)
        checks.number(self.monotonic, "Monotonic time", low=0.0, high=1e12)


@dataclass(frozen=True, slots=True, kw_only=True)
class Target:
    """What is painted: a step of a scheme on a group, in a sitting or, "", in none.

    Args:
        is_test: True for a test model.
    """

    scheme_id: str
    step_id: str
    group_id: str
    sitting_id: str = ""
    is_test: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class Event:
    """One entry of the journal.

    Args:
        press: What was pressed.
        at: When.
        target: With ``START`` and ``NEXT_STEP``, what is painted from then on; START without one
            goes on with what was paused.
        models: With ``NEXT_MODEL``, ``NEXT_STEP`` and ``STOP``, how many models are done with it.
    """

    press: Press
    at: Moment
    target: Target | None = None
    models: int = 0

    def __post_init__(self) -> None:
        checks.whole(self.models, "Models done", low=0, high=_MOST_MODELS)


@dataclass(frozen=True, slots=True, kw_only=True)
class Stint:
    """Models of one step and group done without turning to another.

    Args:
        number: From 1, in the order of beginning: with the clock's id a stable id.
        target: What was painted.
        models: How many are done.
        seconds: Time at them.
        last_seconds: Time at the latest of them.
        ended: Wall time of the last press of it.
    """

    number: int
    target: Target
    models: int = 0
    seconds: float = 0.0
    last_seconds: float = 0.0
    ended: float = 0.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Gap:
    """Time of which the clock does not know whether it was spent at the model.

    Args:
        seconds: How long; 0 where even that is unknown, since the clock was set back.
        slept: True where the computer slept or its clock was set; False where the program ended.
    """

    seconds: float
    slept: bool

    @property
    def sentence(self) -> str:
        """The question to the painter."""
        why = (
            "The computer slept, or its clock was set,"
            if self.slept
            else "The program was ended while the clock ran,"
        )
        if not self.seconds:
            return f"{why} and how long is not known; go on without it."
        length = _span(self.seconds)
        return f"{why} and {length} passed: count them as painting time, or leave them out?"


@dataclass(frozen=True, slots=True, kw_only=True)
class ClockState:
    """What the presses so far amount to.

    Args:
        running: True while time counts.
        target: What is painted, None before the first start and after a stop.
        counted: Seconds at the model in hand, up to ``at``.
        sitting_seconds: Seconds counted at all, models and what lay between them, since START of
            this sitting.
        at: The latest moment known.
        gap: Set while the painter has to say whether to count it.
        stints: What is done, in order; the last is in hand while ``target`` is set.
    """

    running: bool = False
    target: Target | None = None
    counted: float = 0.0
    sitting_seconds: float = 0.0
    at: Moment | None = None
    gap: Gap | None = None
    stints: tuple[Stint, ...] = field(default=())

    @property
    def is_idle(self) -> bool:
        """True where nothing is in hand."""
        return self.target is None

    @property
    def stint(self) -> Stint | None:
        """What is in hand."""
        return None if self.target is None else self.stints[-1]

    def seconds(self, now: Moment) -> float:
        """Seconds at the model in hand, for the clock's face: 0 or more, never running back."""
        if not self.running or self.at is None or self.at.run != now.run:
            return self.counted
        return self.counted + max(0.0, now.monotonic - self.at.monotonic)

    def may(self, press: Press) -> bool:
        """Whether that press means something now."""
        if self.gap is not None:
            return press in {Press.COUNT_GAP, Press.DROP_GAP}
        if press is Press.START:
            return not self.running
        if press is Press.STOP:
            return not self.is_idle
        if press in {Press.COUNT_GAP, Press.DROP_GAP}:
            return False
        return self.running


IDLE = ClockState()


def pressed(state: ClockState, event: Event) -> ClockState:
    """The state after the event. An event that means nothing then changes only the time.

    A press that brings a gap to light does nothing else: the painter answers, and presses again.
    """
    state = _passed(state, event.at)
    if not state.may(event.press):
        return state
    match event.press:
        case Press.START:
            return _started(state, event)
        case Press.PAUSE:
            return replace(state, running=False)
        case Press.NEXT_MODEL:
            return _done(state, max(event.models, 1))
        case Press.NEXT_STEP:
            return _turned(_done(state, event.models), event.target)
        case Press.STOP:
            return replace(
                _done(state, event.models), running=False, target=None, sitting_seconds=0.0
            )
        case Press.COUNT_GAP:
            return _answered(state, count=True)
        case Press.DROP_GAP:
            return _answered(state, count=False)
        case _:
            return state


def replayed(events: tuple[Event, ...]) -> ClockState:
    """The state after all events, from none."""
    state = IDLE
    for event in events:
        state = pressed(state, event)
    return state


def check(state: ClockState, event: Event) -> None:
    """Raises InputError where the press means nothing in that state."""
    if not state.may(event.press) and event.press is not Press.BEAT:
        answer = "say first whether the gap counts" if state.gap else "start the clock first"
        raise InputError(f'"{event.press.value}" means nothing now', remedy=answer)
    if event.press is Press.NEXT_STEP and event.target is None:
        raise InputError("The next step is not named", remedy="name step and group")
    if event.press is Press.START and event.target is None and state.is_idle:
        raise InputError("Nothing is in hand", remedy="name step and group to start with")


def timings(state: ClockState, project: Project, clock_id: str) -> tuple[Timing, ...]:
    """Records of all stints of which some model is done, for ``edits.put_timings``.

    Ids are made of the clock's and the stint's number, so that handing the same stint over again
    puts a longer one in place of a shorter. Stints whose step or group the project no longer has
    are left out.
    """
    steps = {(scheme.id, step.id): step for scheme in project.schemes for step in scheme.steps}
    groups = {group.id for group in project.groups}
    found = []
    for stint in state.stints:
        target = stint.target
        step = steps.get((target.scheme_id, target.step_id))
        if not stint.models or step is None or target.group_id not in groups:
            continue
        found.append(
            Timing(
                id=f"{clock_id}-{stint.number}",
                scheme_id=target.scheme_id,
                step_id=target.step_id,
                group_id=target.group_id,
                models=min(stint.models, _MOST_MODELS),
                minutes=min(stint.seconds / 60.0, _MOST_MINUTES),
                at=datetime.fromtimestamp(stint.ended, UTC).isoformat(timespec="seconds"),
                sitting_id=target.sitting_id,
                is_test=target.is_test,
                technique="" if step.coat is None else step.coat.technique.value,
                passes=0 if step.coat is None else step.coat.passes,
            )
        )
    return tuple(found)


def _passed(state: ClockState, now: Moment) -> ClockState:
    """The state with the time up to now counted, or with a gap."""
    before = state.at
    if before is None or not state.running:
        return replace(state, at=now)
    if before.run != now.run:
        gap = Gap(seconds=max(0.0, now.wall - before.wall), slept=False)
        return replace(state, at=now, running=False, gap=gap)
    passed = max(0.0, now.monotonic - before.monotonic)
    known = _counted(replace(state, at=now), passed)
    slept = (now.wall - before.wall) - passed
    if slept <= TOLERANCE_SECONDS:
        return known
    return replace(known, running=False, gap=Gap(seconds=slept, slept=True))


def _counted(state: ClockState, seconds: float) -> ClockState:
    return replace(
        state,
        counted=state.counted + seconds,
        sitting_seconds=state.sitting_seconds + seconds,
    )


def _started(state: ClockState, event: Event) -> ClockState:
    if event.target is None or event.target == state.target:
        return replace(state, running=not state.is_idle)
    return replace(_turned(state, event.target), running=True)


def _turned(state: ClockState, target: Target | None) -> ClockState:
    """Another step or group in hand; what was not finished with a model is not carried over."""
    if target is None:
        return state
    stint = Stint(number=len(state.stints) + 1, target=target)
    return replace(state, target=target, counted=0.0, stints=(*state.stints, stint))


def _done(state: ClockState, models: int) -> ClockState:
    """So many models done with the time counted; none leaves it to the model in hand."""
    stint = state.stint
    if not models or stint is None or state.at is None:
        return state
    stint = replace(
        stint,
        models=stint.models + models,
        seconds=stint.seconds + state.counted,
        last_seconds=state.counted,
        ended=state.at.wall,
    )
    return replace(state, counted=0.0, stints=(*state.stints[:-1], stint))


def _answered(state: ClockState, *, count: bool) -> ClockState:
    gap = state.gap
    state = replace(state, gap=None, running=True)
    return state if gap is None or not count else _counted(state, gap.seconds)


def _span(seconds: float) -> str:
    minutes = round(seconds / 60.0)
    if minutes < 1:
        return "less than a minute"
    if minutes < 120:
        return f"{minutes} minute{'' if minutes == 1 else 's'}"
    return f"{minutes / 60.0:.1f} hours"
