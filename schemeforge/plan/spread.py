"""The plan run a thousand times with other minutes: how likely each group is in time.

Each run draws, for every step, one factor that holds for the whole batch (how far its minutes a
model are off) and for every task one of its own (how a sub-batch comes out). Both are log-normal
with the figure planned as their median. The order of tasks stays; sittings, drying, breaks and
set-ups are gone through as in ``placing``, for all runs at once.
"""

from collections.abc import Mapping
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from schemeforge.plan.pace import Pace, paces
from schemeforge.plan.runs import Floats, Indices, Runs
from schemeforge.plan.schedule import Schedule
from schemeforge.scheme import Group, Project, Scheme

RUNS = 1000
SEED = 20
_MOST_DRIVERS = 5
_LEAST_SHARE = 0.02


@dataclass(frozen=True, slots=True, kw_only=True)
class Chance:
    """How likely a group is in time.

    Args:
        group: The group.
        in_time: Share of the runs in which it is ready by its date, or, without one, off the desk
            within the sittings planned; None where neither is known.
        sittings_90: Sitting in which it is off the desk: 1 in 20 earlier, median, 1 in 20 later.
        ends: Minute on the axis likewise.
    """

    group: Group
    in_time: float | None
    sittings_90: tuple[int, int, int]
    ends: tuple[float, float, float]


@dataclass(frozen=True, slots=True, kw_only=True)
class Driver:
    """A step whose pace the end of the batch hangs on.

    Args:
        step_id, name: The step.
        share: Share of the variance of the whole work that its pace makes up, 0 to 1.
        minutes: Work of the batch added where its pace is one standard deviation slow.
    """

    step_id: str
    name: str
    share: float
    minutes: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Spread:
    """The outcome of all runs.

    Args:
        runs: How many.
        chances: For each group of the plan that has something left, in its order.
        all_in_time: Share of the runs in which every one of them is in time, as above.
        work_90: Minutes of work: 1 in 20 less, median, 1 in 20 more.
        drivers: What the spread comes from, most first; at most five.
    """

    runs: int
    chances: tuple[Chance, ...]
    all_in_time: float | None
    work_90: tuple[float, float, float]
    drivers: tuple[Driver, ...]

    @property
    def sentence(self) -> str:
        """The chance and what it hangs on most."""
        if self.all_in_time is None:
            return "Plan sittings, or give dates to be held: then the chance can be told."
        head = f"The chance that all is in time is {chance_words(self.all_in_time)}"
        if not self.drivers:
            return f"{head}."
        first = self.drivers[0]
        return f'{head}; most of the doubt is "{first.name}": time a few models of it first.'


def spread(
    project: Project,
    scheme: Scheme,
    plan: Schedule,
    *,
    runs: int = RUNS,
    seed: int = SEED,
    pace: Mapping[str, Pace] | None = None,
) -> Spread:
    """The plan's outcome over many runs.

    Args:
        project: The document.
        scheme: The scheme of the plan.
        plan: ``schedule.schedule`` of the two.
        runs: How many, 2 or more.
        seed: The same seed gives the same outcome.
        pace: ``pace.paces`` of the two where they are at hand.
    """
    pace = paces(project, scheme) if pace is None else pace
    job = plan.job
    rng = np.random.default_rng(seed)
    step_ids = list(dict.fromkeys(task.step.id for task in job.tasks))
    sigmas = np.array([[pace[step_id].sigma] for step_id in step_ids])
    logs = rng.standard_normal((len(step_ids), runs)) * sigmas.reshape(-1, 1)
    row = {step_id: n for n, step_id in enumerate(step_ids)}
    factors = rng.standard_normal((len(job.tasks), runs), np.float32)
    work = np.zeros(runs)
    each = []
    for task, own in zip(job.tasks, factors, strict=True):
        log = own * np.float32(pace[task.step.id].stint_sigma)
        log += logs[row[task.step.id]]
        each.append(task.each * np.exp(log).astype(np.float64))
        work += task.models * each[-1]
    ends, windows = Runs(job, runs).run(plan.order, each)
    outcomes = [_outcome(plan, group, ends, windows) for group in _groups(plan)]
    in_time = [flags for _, flags in outcomes if flags is not None]
    return Spread(
        runs=runs,
        chances=tuple(chance for chance, _ in outcomes),
        all_in_time=float(np.mean(np.all(in_time, axis=0))) if in_time else None,
        work_90=_percentiles(work),
        drivers=_drivers(plan, pace, step_ids, logs, work),
    )


def chance_words(chance: float) -> str:
    """A chance as a painter reads it: whole per cent, never a flat 0 or 100."""
    if chance < 0.01:
        return "under 1 %"
    return "over 99 %" if chance > 0.99 else f"{chance * 100.0:.0f} %"


def _groups(plan: Schedule) -> list[Group]:
    return [finish.group for finish in plan.groups if finish.sitting]


def _outcome(
    plan: Schedule, group: Group, ends: list[Floats], windows: list[Indices]
) -> tuple[Chance, NDArray[np.bool_] | None]:
    job = plan.job
    own = [n for n, task in enumerate(job.tasks) if task.group.id == group.id]
    end = np.max([ends[n] for n in own], axis=0)
    window = np.max([windows[n] for n in own], axis=0)
    deadline = job.axis.deadline(group.needed_by)
    flags: NDArray[np.bool_] | None = None
    if deadline is not None:
        ready = np.max([ends[n] + job.ready_wait[n] for n in own], axis=0)
        flags = ready <= deadline
    elif job.axis.windows:
        flags = window < len(job.axis.windows)
    sittings = _percentiles(window + 1.0)
    return (
        Chance(
            group=group,
            in_time=None if flags is None else float(np.mean(flags)),
            sittings_90=(int(sittings[0]), int(sittings[1]), int(sittings[2])),
            ends=_percentiles(end),
        ),
        flags,
    )


def _drivers(
    plan: Schedule,
    pace: Mapping[str, Pace],
    step_ids: list[str],
    logs: Floats,
    work: Floats,
) -> tuple[Driver, ...]:
    """Steps by their share of the variance: squared correlation of log pace and work."""
    spread_of_work = float(np.std(work))
    if not spread_of_work:
        return ()
    found = []
    for n, step_id in enumerate(step_ids):
        tasks = [task for task in plan.job.tasks if task.step.id == step_id]
        minutes = sum(task.minutes for task in tasks)
        together = float(np.mean((logs[n] - logs[n].mean()) * (work - work.mean())))
        share = (together / (float(np.std(logs[n])) * spread_of_work)) ** 2
        found.append(
            Driver(
                step_id=step_id,
                name=tasks[0].step.name,
                share=share,
                minutes=minutes * float(np.expm1(pace[step_id].sigma)),
            )
        )
    found.sort(key=lambda driver: -driver.share)
    return tuple(d for d in found[:_MOST_DRIVERS] if d.share >= _LEAST_SHARE)


def _percentiles(values: Floats) -> tuple[float, float, float]:
    low, middle, high = np.percentile(values, (5.0, 50.0, 95.0))
    return float(low), float(middle), float(high)
