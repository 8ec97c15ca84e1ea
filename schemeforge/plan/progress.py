"""How far the batch is, by what was timed: models done, paint still wet, time left."""

from collections.abc import Sequence
from dataclasses import dataclass, field
from datetime import datetime, timedelta

from schemeforge.plan.drying import wait_minutes
from schemeforge.scheme import Project, Scheme, Sitting, Timing

Key = tuple[str, str]  # ids of a step and of a group


@dataclass(frozen=True, slots=True, kw_only=True)
class Progress:
    """Where the work stands.

    Args:
        done: By ids of step and group, how many of the group's models have had the step.
        wet: By the same ids, minutes from now until the last of them is dry; 0 left out.
        left: By sitting id, minutes left of it for those that are begun or over.
        now: When that was, None where it is not known; then nothing is wet.
        last_worked: When the latest record was made, None where none tells.
    """

    done: dict[Key, int] = field(default_factory=dict)
    wet: dict[Key, float] = field(default_factory=dict)
    left: dict[str, float] = field(default_factory=dict)
    now: datetime | None = None
    last_worked: datetime | None = None


NOTHING_DONE = Progress()


def progress(
    project: Project,
    scheme: Scheme,
    now: datetime | None = None,
    *,
    timings: Sequence[Timing] = (),
) -> Progress:
    """Where the work on that scheme stands by the project's timings.

    Args:
        project: The document.
        scheme: The scheme that is painted.
        now: Local time without a zone; None where the time of day does not matter.
        timings: Further records that the project does not hold yet, for example the clock's;
            one with the id of a record of the project takes its place.
    """
    newer = {timing.id for timing in timings}
    known = [t for t in project.timings if t.id not in newer] + list(timings)
    own = [t for t in known if t.scheme_id == scheme.id and not t.is_test]
    counts = {group.id: group.count for group in project.groups}
    waits = {step.id: wait_minutes(step) for step in scheme.steps}
    done: dict[Key, int] = {}
    wet: dict[Key, float] = {}
    for timing in own:
        key = (timing.step_id, timing.group_id)
        if timing.step_id in waits and timing.group_id in counts:
            done[key] = min(done.get(key, 0) + timing.models, counts[timing.group_id])
            left = _wet_minutes(timing, waits[timing.step_id], now)
            if left > 0.0:
                wet[key] = max(left, wet.get(key, 0.0))
    times = [at for timing in own if (at := when(timing.at)) is not None]
    return Progress(
        done=done,
        wet=wet,
        left=minutes_left(project, known, now),
        now=now,
        last_worked=max(times, default=None),
    )


def minutes_left(
    project: Project, timings: Sequence[Timing], now: datetime | None = None
) -> dict[str, float]:
    """Minutes left of each sitting that is begun or over, by sitting id.

    A sitting is begun when something was timed in it. It is over when its day has passed, or when
    a later one in the order of the project is begun.
    """
    used: dict[str, float] = {}
    for timing in timings:
        if timing.sitting_id:
            used[timing.sitting_id] = used.get(timing.sitting_id, 0.0) + timing.minutes
    sittings = in_order(project.sittings)
    latest = max((n for n, s in enumerate(sittings) if s.id in used), default=-1)
    today = "" if now is None else now.date().isoformat()
    left: dict[str, float] = {}
    for n, sitting in enumerate(sittings):
        if n < latest or (sitting.day and sitting.day < today):
            left[sitting.id] = 0.0
        elif n == latest:
            worked = used[sitting.id] + project.habits.sitting_minutes
            left[sitting.id] = max(0.0, sitting.minutes - worked)
    return left


def in_order(sittings: Sequence[Sitting]) -> tuple[Sitting, ...]:
    """The sittings by day; those without one stay behind the one that they are listed after."""
    days = []
    day = ""
    for sitting in sittings:
        day = sitting.day or day
        days.append(day)
    order = sorted(range(len(days)), key=lambda n: days[n])
    return tuple(sittings[n] for n in order)


def when(text: str) -> datetime | None:
    """The local time that a record tells, without a zone; None where it tells none."""
    try:
        at = datetime.fromisoformat(text)
    except ValueError:
        return None
    return at if at.tzinfo is None else at.astimezone().replace(tzinfo=None)


def _wet_minutes(timing: Timing, wait: float, now: datetime | None) -> float:
    at = when(timing.at)
    if now is None or at is None:
        return 0.0
    return min(wait, (at + timedelta(minutes=wait) - now) / timedelta(minutes=1))
