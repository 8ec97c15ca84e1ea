"""Which size of sub-batch, and which order of zones, lose least time."""

from dataclasses import dataclass

from schemeforge.plan.progress import NOTHING_DONE, Progress
from schemeforge.plan.schedule import Schedule, schedule
from schemeforge.plan.timeline import hours
from schemeforge.scheme import Primer, Project, Scheme, Spray

# 5 to 10 at a time is what the trade does (common practice, no source); the rest is for contrast.
SIZES = (3, 4, 5, 6, 8, 10, 15)
# Gains below this are not worth a change of habit (rule of thumb, no source).
_WORTH = 5.0
_LARGE = 1500


@dataclass(frozen=True, slots=True, kw_only=True)
class Trial:
    """The plan with so many models at a time.

    Args:
        models: Models at a time; the largest group's count means whole groups.
        end: When the last model leaves the hands, minutes on the axis.
        lost: Minutes in which nothing is painted: setting up, turning, mixing, breaks, waiting.
        is_late: True where some group would be late.
    """

    models: int
    end: float
    lost: float
    is_late: bool


def trials(
    project: Project, scheme: Scheme, progress: Progress = NOTHING_DONE
) -> tuple[Trial, ...]:
    """The plan for several sizes of sub-batch, the painter's own among them, smallest first."""
    largest = max((group.count for group in project.groups), default=0)
    sizes = {size for size in (*SIZES, project.habits.sub_batch) if size < largest} | {largest}
    models = sum(group.count for group in project.groups)
    found = []
    for size in sorted(sizes - {0}):
        if models / size * len(scheme.steps) > _LARGE and size != project.habits.sub_batch:
            continue
        plan = schedule(project, scheme, progress, sub_batch=size, tries=0)
        painting = sum(task.minutes for task in plan.job.tasks)
        found.append(
            Trial(
                models=size,
                end=plan.end,
                lost=plan.worked + plan.waited - painting,
                is_late=plan.is_late,
            )
        )
    return tuple(found)


def best_trial(tried: tuple[Trial, ...]) -> Trial:
    """The trial that is in time, ends in the earliest sitting and loses least."""
    return min(tried, key=lambda t: (t.is_late, t.end // 60.0, t.lost, t.models))


def sub_batch_words(tried: tuple[Trial, ...], habit: int) -> str:
    """What another size of sub-batch would gain, in a sentence; "" for an empty batch."""
    if not tried:
        return ""
    best = best_trial(tried)
    own = min(tried, key=lambda t: (abs(t.models - habit), t.models))
    gained = own.lost - best.lost
    if own.models == best.models or (gained < _WORTH and own.is_late == best.is_late):
        return f"{own.models} models at a time lose {hours(own.lost)}, as little as any size tried."
    sooner = " and the batch is in time" if own.is_late and not best.is_late else ""
    return (
        f"{best.models} models at a time instead of {own.models} lose {hours(best.lost)} instead "
        f"of {hours(own.lost)}{sooner}."
    )


def zone_order(project: Project, plan: Schedule) -> tuple[str, ...]:
    """Names of the zones in the order in which the plan takes up their first coat or work.

    Undercoats are not counted, nor work on the whole model, nor zones that are done.
    """
    first: dict[str, tuple[int, float]] = {}
    for sitting in plan.sittings:
        for stretch in sitting.stretches:
            if not isinstance(stretch.step.layer, Primer | Spray):
                for zone_id in stretch.step.zone_ids:
                    first.setdefault(zone_id, (sitting.number, stretch.start))
    order = sorted(first, key=lambda zone_id: first[zone_id])
    return tuple(project.zone(zone_id).name for zone_id in order)
