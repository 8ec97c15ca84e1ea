"""Tasks, sittings and habits as plain lists: what the placing of tasks runs on."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from schemeforge.plan.axis import Axis
from schemeforge.plan.drying import wait_minutes
from schemeforge.plan.tasks import Task, lag
from schemeforge.scheme import Project, Way

# A day late outweighs a day more of work on the whole batch.
_LATE_WEIGHT = 100.0
_SPILL_WEIGHT = 10.0
# How much groups of a higher priority pull against an early end of the whole: a day earlier for
# them is worth up to an hour more of work (rule of thumb, no source).
_FIRST_WEIGHT = 0.05
# Turning to another step costs thought besides the time that is counted (rule of thumb).
TURN_MINUTES = 0.1
_NEVER = float("inf")


@dataclass(frozen=True, slots=True)
class Job:
    """Everything that placing needs, task by task.

    Attributes:
        before: ``(task, lag)`` of what has to come before.
        behind: Indices of the tasks that wait for each task.
        step: Index of its step, to tell whether it is set up.
        mix: Index of its mix, -1 for none.
        pin_start, pin_end: Begin and end of the sitting it is pinned to; 0 and infinity without.
        tail: Minutes from its end, by work and drying, to the end of what depends on it.
        weight: Per group, what a minute earlier is worth against one of the whole batch.
        deadline: Per group, the minute by which it must be ready, infinity for none.
        ready_wait: Minutes that a task dries after its end.
    """

    tasks: tuple[Task, ...]
    axis: Axis
    before: list[list[tuple[int, float]]]
    behind: list[list[int]]
    models: list[int]
    each: list[float]
    set_up: list[float]
    change: list[float]
    mixing: list[float]
    step: list[int]
    mix: list[int]
    group: list[int]
    release: list[float]
    pin_start: list[float]
    pin_end: list[float]
    tail: list[float]
    weight: list[float]
    deadline: list[float]
    ready_wait: list[float]
    steps: int
    mixes: int
    hands: int
    break_every: float
    break_minutes: float
    by_group: bool

    def cost(self, ends: Sequence[float], turns: int) -> float:
        """What the placing search makes small, in minutes.

        The end of the work; what groups are late, weighed by their priority; what pinned work
        spills over the end of its sitting; and, a little, early ends of groups that come first,
        and turning from step to step.
        """
        if not ends:
            return 0.0
        finish = [0.0] * len(self.weight)
        ready = [0.0] * len(self.weight)
        spill = 0.0
        for n, end in enumerate(ends):
            group = self.group[n]
            finish[group] = max(finish[group], end)
            ready[group] = max(ready[group], end + self.ready_wait[n])
            if end > self.pin_end[n]:
                spill += end - self.pin_end[n]
        late = first = 0.0
        for n, weight in enumerate(self.weight):
            first += weight * finish[n]
            if ready[n] > self.deadline[n]:
                late += (1.0 + weight) * (ready[n] - self.deadline[n])
        whole = 0.1 * max(ends) if self.by_group else max(ends)
        return whole + first + TURN_MINUTES * turns + _LATE_WEIGHT * late + _SPILL_WEIGHT * spill


def job_of(project: Project, tasks: tuple[Task, ...], axis: Axis) -> Job:
    """The tasks made ready for placing."""
    habits = project.habits
    groups = [group for group in project.groups if group.count]
    steps = _numbers(task.step.id for task in tasks)
    mixes = _numbers(task.mix_id for task in tasks if task.mix_id)
    places = {group.id: n for n, group in enumerate(groups)}
    before = [[(a.task, lag(task, a, tasks[a.task])) for a in task.after] for task in tasks]
    behind: list[list[int]] = [[] for _ in tasks]
    for n, row in enumerate(before):
        for earlier, _ in row:
            behind[earlier].append(n)
    sittings = {w.sitting.id: w for w in axis.windows if w.sitting is not None}
    pinned = [sittings.get(task.pinned_to) for task in tasks]
    by_group = habits.way is Way.BY_GROUP
    deadlines = [axis.deadline(group.needed_by) for group in groups]
    return Job(
        tasks=tasks,
        axis=axis,
        before=before,
        behind=behind,
        models=[task.models for task in tasks],
        each=[task.each for task in tasks],
        set_up=[task.set_up for task in tasks],
        change=[task.change for task in tasks],
        mixing=[task.mixing for task in tasks],
        step=[steps[task.step.id] for task in tasks],
        mix=[mixes.get(task.mix_id, -1) for task in tasks],
        group=[places[task.group.id] for task in tasks],
        release=[
            max(task.release, 0.0 if w is None else w.start)
            for task, w in zip(tasks, pinned, strict=True)
        ],
        pin_start=[0.0 if w is None else w.start for w in pinned],
        pin_end=[_NEVER if w is None else w.end for w in pinned],
        tail=_tails(tasks, before),
        weight=_weights([group.priority for group in groups], by_group=by_group),
        deadline=[_NEVER if d is None else d for d in deadlines],
        ready_wait=[wait_minutes(task.step) for task in tasks],
        steps=len(steps),
        mixes=len(mixes),
        hands=habits.hands,
        break_every=habits.break_every_minutes if habits.break_minutes else _NEVER,
        break_minutes=habits.break_minutes,
        by_group=by_group,
    )


def _numbers(ids: Iterable[str]) -> dict[str, int]:
    """Each id once, numbered from 0 in the order of its first mention."""
    found: dict[str, int] = {}
    for item in ids:
        found.setdefault(item, len(found))
    return found


def _tails(tasks: Sequence[Task], before: Sequence[Sequence[tuple[int, float]]]) -> list[float]:
    tails = [0.0] * len(tasks)
    for n in range(len(tasks) - 1, -1, -1):  # what waits stands behind what it waits for
        whole = tasks[n].minutes + tails[n]
        for earlier, wait in before[n]:
            tails[earlier] = max(tails[earlier], wait + whole)
    return tails


def _weights(priorities: Sequence[int], *, by_group: bool) -> list[float]:
    if by_group:
        order = sorted(range(len(priorities)), key=lambda n: priorities[n])
        weights = [0.0] * len(priorities)
        for rank, n in enumerate(order):
            weights[n] = 0.5**rank
        return weights
    if len(set(priorities)) < 2:
        return [0.0] * len(priorities)
    total = sum(1.0 / priority for priority in priorities)
    return [_FIRST_WEIGHT / priority / total for priority in priorities]
