"""The batch as tasks: one pass of one step on a few models of a group, and what each waits for."""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import TypeVar

import numpy as np
from numpy.typing import NDArray

from schemeforge.plan.drying import steps_got, wait_minutes, waits_for
from schemeforge.plan.letters import pot_letters
from schemeforge.plan.pace import Pace, paces, passes_of, set_up_minutes, share_of, zones_got
from schemeforge.plan.progress import NOTHING_DONE, Progress
from schemeforge.plan.steps import sub_batches
from schemeforge.scheme import Group, Project, Scheme, Step, Way
from schemeforge.scheme.techniques import is_sprayed

Minutes = TypeVar("Minutes", float, NDArray[np.float64])


@dataclass(frozen=True, slots=True, kw_only=True)
class After:
    """A task that has to come before, and how it dries.

    Args:
        task: Index of the earlier task.
        wait: Minutes that each model dries after it.
        ahead: Models of the earlier task that come before the first of the later one; below 0
            where the later one begins with models that had the earlier step long ago.
    """

    task: int
    wait: float
    ahead: int = 0


@dataclass(frozen=True, slots=True, kw_only=True)
class Task:
    """One pass of one step on some models of one group, done in one go.

    Args:
        step: The step.
        number: Its place in painting order, from 1.
        layer_pass: Which pass, from 1.
        group: The group.
        first: Index of the first of the models among those of the group, from 0.
        models: How many models.
        each: Minutes at one model.
        after: What has to come before.
        release: Minutes from now until what was done earlier is dry.
        pinned_to: Id of the sitting that it is wished for, "" for none.
        set_up: Minutes to set up for it, the first time in a sitting.
        change: Minutes to turn to it again in the same sitting.
        mix_id: The mix that it takes, "" for none.
        mixing: Minutes to mix the pot, for the first task that takes it; 0 where it needs none.
    """

    step: Step
    number: int
    layer_pass: int
    group: Group
    first: int
    models: int
    each: float
    after: tuple[After, ...]
    release: float
    pinned_to: str
    set_up: float
    change: float
    mix_id: str
    mixing: float

    @property
    def minutes(self) -> float:
        """Minutes at all its models."""
        return self.models * self.each


def lag(task: Task, after: After, earlier: Task) -> float:
    """Minutes from the end of the earlier task until this one may begin, see ``lag_of``."""
    return float(lag_of(after, earlier.models, earlier.each, task.each))


def lag_of(after: After, models: int, before: Minutes, each: Minutes) -> Minutes:
    """Minutes from the end of the earlier task until the later one may begin, 0 or more.

    Models are taken in the same order in both, so the first have dried while the last were
    painted. For model j of the earlier task, done (models - 1 - j) x before ahead of its end and
    taken up (j - ahead) x each after the later one begins, the wait has to lie between; what is
    left to wait is largest for the first or for the last of them.

    Args:
        after: The wait and how the two sets of models lie.
        models: Models of the earlier task.
        before: Minutes a model of the earlier task.
        each: Minutes a model of the later one; arrays of the same shape do, too.
    """
    last = models - 1
    gained = np.minimum(last * before - after.ahead * each, (last - after.ahead) * each)
    left: Minutes = np.maximum(0.0, after.wait - gained)
    return left


def tasks_of(
    project: Project,
    scheme: Scheme,
    progress: Progress = NOTHING_DONE,
    *,
    sub_batch: int | None = None,
    pace: Mapping[str, Pace] | None = None,
) -> tuple[Task, ...]:
    """What is left to do, group by group, sub-batch by sub-batch, in the order of the steps.

    Args:
        project: The document.
        scheme: One of its schemes.
        progress: What is done already.
        sub_batch: Models at a time; None for the painter's habit.
        pace: ``pace.paces`` of the two where they are at hand.
    """
    pace = paces(project, scheme) if pace is None else pace
    size = project.habits.sub_batch if sub_batch is None else sub_batch
    if sub_batch is None and project.habits.way is not Way.SUB_BATCHES:
        size = 10000
    maker = _Maker(project, scheme, progress, pace)
    for group in project.groups:
        if group.count:
            maker.add(group, size)
    return tuple(maker.tasks)


class _Maker:
    """Makes the tasks of one group after the other."""

    def __init__(
        self, project: Project, scheme: Scheme, progress: Progress, pace: Mapping[str, Pace]
    ) -> None:
        self._project = project
        self._scheme = scheme
        self._progress = progress
        self._pace = pace
        self._numbers = {step.id: n for n, step in enumerate(scheme.steps, start=1)}
        self._pinned = {p.step_id: p.sitting_id for p in project.pins if p.scheme_id == scheme.id}
        letters = pot_letters(scheme)
        self._to_mix = {mix.id: len(mix.ingredients) > 1 for mix in scheme.mixes}
        self._open = {  # pots that work has begun with are mixed
            step.mix_id
            for step in scheme.steps
            if step.mix_id in letters and any(key[0] == step.id for key in progress.done)
        }
        self.tasks: list[Task] = []

    def add(self, group: Group, size: int) -> None:
        """Adds what the group still needs."""
        steps = steps_got(self._project, self._scheme, group.id)
        before = waits_for(self._project, self._scheme, group.id)
        first = 0
        for models in sub_batches(group.count, size):
            self._add_models(group, steps, before, range(first, first + models))
            first += models

    def _add_models(
        self,
        group: Group,
        steps: tuple[Step, ...],
        before: Mapping[str, tuple[str, ...]],
        models: range,
    ) -> None:
        last: dict[str, int] = {}  # the last task of each step on these models
        for step in steps:
            begin = max(models.start, self._done(step.id, group.id))
            if begin >= models.stop:
                continue
            after: list[After] = []
            release = 0.0
            for earlier in before[step.id]:
                wait = wait_minutes(self._scheme.step(earlier))
                if earlier in last:
                    ahead = begin - self.tasks[last[earlier]].first
                    after.append(After(task=last[earlier], wait=wait, ahead=ahead))
                if begin < self._done(earlier, group.id):
                    release = max(release, self._progress.wet.get((earlier, group.id), 0.0))
            for layer_pass in range(1, passes_of(step) + 1):
                self.tasks.append(
                    self._task(step, group, begin, models.stop, layer_pass, tuple(after), release)
                )
                last[step.id] = len(self.tasks) - 1
                after = [After(task=last[step.id], wait=wait_minutes(step))]

    def _task(
        self,
        step: Step,
        group: Group,
        begin: int,
        end: int,
        layer_pass: int,
        after: tuple[After, ...],
        release: float,
    ) -> Task:
        habits = self._project.habits
        mix_id = step.mix_id or ""
        share = share_of(step, zones_got(self._scheme, step, group.id))
        mixes = self._to_mix.get(mix_id, False) and mix_id not in self._open
        return Task(
            step=step,
            number=self._numbers[step.id],
            layer_pass=layer_pass,
            group=group,
            first=begin,
            models=end - begin,
            each=self._pace[step.id].minutes * share / passes_of(step),
            after=after,
            release=release,
            pinned_to=self._pinned.get(step.id, ""),
            set_up=set_up_minutes(step),
            change=habits.spray_change_minutes if is_sprayed(step) else habits.brush_change_minutes,
            mix_id=mix_id,
            mixing=habits.mixing_minutes if mixes else 0.0,
        )

    def _done(self, step_id: str, group_id: str) -> int:
        return self._progress.done.get((step_id, group_id), 0)
