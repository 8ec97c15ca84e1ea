"""The plan of a batch: which step on which models in which sitting, and when it is finished."""

from collections.abc import Sequence
from dataclasses import dataclass, field

from schemeforge.plan.axis import Axis, axis_of
from schemeforge.plan.job import Job, job_of
from schemeforge.plan.overfull import overfull_of
from schemeforge.plan.placing import Piece, Placer
from schemeforge.plan.progress import NOTHING_DONE, Progress
from schemeforge.plan.search import best_order, by_step
from schemeforge.plan.stretches import sitting_plans
from schemeforge.plan.tasks import tasks_of
from schemeforge.plan.timeline import (
    GroupFinish,
    Overfull,
    SittingPlan,
    day_words,
    hours,
    models_words,
)
from schemeforge.scheme import Group, Project, Scheme

_DAY = 1440.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Schedule:
    """A plan.

    Args:
        scheme: What is painted.
        sittings: All sittings still to come and as many more as the work needs.
        groups: When each group with models is finished, in the project's order.
        overfull: Sittings to which more is pinned than they hold.
        hands: Pairs of hands.
        models: Models that something is left to do on.
        end: Minute on the axis when the last model leaves the hands; 0 where nothing is left.
        first_come_end: The same where each step is done on all models before the next begins.
        worked: Minutes of all hands, setting up and breaks included, laying out not.
        waited: Minutes that hands wait for paint to dry.
        beyond: Minutes of work that no planned sitting holds.
        spare: Minutes of planned sittings that are left over after the work.
        job: What it was made from.
        order: The tasks in the order of placing.
    """

    scheme: Scheme
    sittings: tuple[SittingPlan, ...]
    groups: tuple[GroupFinish, ...]
    overfull: tuple[Overfull, ...]
    hands: int
    models: int
    end: float
    first_come_end: float
    worked: float
    waited: float
    beyond: float
    spare: float
    job: Job = field(repr=False, compare=False)
    order: tuple[int, ...] = field(repr=False, compare=False)

    @property
    def axis(self) -> Axis:
        """The sittings on the line of minutes."""
        return self.job.axis

    @property
    def is_late(self) -> bool:
        """True where some group is late or work is left when the sittings are over."""
        return any(finish.is_late for finish in self.groups)

    @property
    def is_done(self) -> bool:
        """True where nothing is left to do."""
        return not self.order

    @property
    def last(self) -> SittingPlan | None:
        """The sitting in which the work ends, None where nothing is left."""
        return next((s for s in reversed(self.sittings) if s.stretches), None)

    @property
    def sentence(self) -> str:
        """Whether the batch can be done, in one or two sentences."""
        last = self.last
        if last is None:
            return "All models are done."
        head = (
            f"{models_words(self.models)}: the last leaves the desk in {last.name}; "
            f"{hours(self.worked)} at work, {hours(self.waited)} waiting for paint."
        )
        if self.beyond:
            return f"{head} {hours(self.beyond)} of it fit into no sitting planned."
        late = [finish.group.name for finish in self.groups if finish.is_late]
        if late:
            return f"{head} Too late for {', '.join(late)}."
        return f"{head} {hours(self.spare)} of the sittings are left over."


def schedule(
    project: Project,
    scheme: Scheme,
    progress: Progress = NOTHING_DONE,
    *,
    sub_batch: int | None = None,
    tries: int | None = None,
) -> Schedule:
    """The plan of what is left of the batch.

    Args:
        project: The document.
        scheme: The scheme that is painted.
        progress: Where the work stands, ``progress.progress``.
        sub_batch: Models at a time; None for the painter's way.
        tries: How hard to search, as in ``search.best_order``.
    """
    tasks = tasks_of(project, scheme, progress, sub_batch=sub_batch)
    job = job_of(project, tasks, axis_of(project, progress))
    order = best_order(job, tries=tries) if tasks else ()
    placer = Placer(job, record=True)
    ends = placer.run(order).ends
    pieces = placer.pieces or []
    plans = sitting_plans(job, pieces)
    end = max(ends, default=0.0)
    first_come = max(Placer(job).run(by_step(job)).ends, default=0.0)
    return Schedule(
        scheme=scheme,
        sittings=plans,
        groups=tuple(_finish(job, group, ends, pieces) for group in project.groups if group.count),
        overfull=overfull_of(job, pieces, project, _end_words(job, plans)),
        hands=job.hands,
        models=_models(job),
        end=end,
        first_come_end=first_come,
        worked=sum(plan.worked for plan in plans),
        waited=sum(plan.waited for plan in plans),
        beyond=sum(plan.worked for plan in plans if not plan.is_planned),
        spare=sum(plan.spare for plan in plans if plan.is_planned),
        job=job,
        order=order,
    )


def _finish(job: Job, group: Group, ends: Sequence[float], pieces: Sequence[Piece]) -> GroupFinish:
    own = {n for n, task in enumerate(job.tasks) if task.group.id == group.id}
    if not own:
        return GroupFinish(
            group=group,
            sitting=0,
            end=0.0,
            ready=0.0,
            ready_day=None,
            late_days=None,
            in_sittings=True,
        )
    end = max(ends[n] for n in own)
    ready = max(ends[n] + job.ready_wait[n] for n in own)
    window = max(piece.window for piece in pieces if piece.task in own)
    deadline = job.axis.deadline(group.needed_by)
    return GroupFinish(
        group=group,
        sitting=window + 1,
        end=end,
        ready=ready,
        ready_day=job.axis.date_of(ready),
        late_days=None if deadline is None else max(0, -int((deadline - ready) // _DAY)),
        in_sittings=window < len(job.axis.windows) or not job.axis.windows,
    )


def _end_words(job: Job, plans: Sequence[SittingPlan]) -> str:
    last = next((plan for plan in reversed(plans) if plan.stretches), None)
    if last is None:
        return ""
    beyond = sum(plan.worked for plan in plans if not plan.is_planned)
    if beyond:
        return (
            f"the batch then ends in sitting {last.number}{day_words(last.day, ' on ')}, "
            f"{hours(beyond)} of work beyond the {len(job.axis.windows)} planned."
        )
    spare = sum(plan.spare for plan in plans if plan.is_planned)
    return (
        f"the batch then ends in sitting {last.number}{day_words(last.day, ' on ')}, with "
        f"{hours(spare)} to spare."
    )


def _models(job: Job) -> int:
    """Models that something is left to do on."""
    first: dict[str, int] = {}
    counts: dict[str, int] = {}
    for task in job.tasks:
        first[task.group.id] = min(first.get(task.group.id, task.first), task.first)
        counts[task.group.id] = task.group.count
    return sum(count - first[group_id] for group_id, count in counts.items())
