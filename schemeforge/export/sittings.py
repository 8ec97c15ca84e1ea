"""The plan's sittings as the sheet tells them: one side each, the rest of the batch last."""

from collections.abc import Sequence
from dataclasses import dataclass, replace

from schemeforge.plan import PlannedStep, Schedule, SittingPlan, Stretch
from schemeforge.scheme import Sitting


@dataclass(frozen=True, slots=True, kw_only=True)
class SheetSitting:
    """What falls into one sitting.

    Args:
        number: From 1, over the sittings that are still to come.
        sitting: Its day and length; None for what no sitting has room for.
        at_desk: Minutes of all hands that it has.
        starts: Steps that begin in it, in the order in which they do.
        goes_on: Steps that began in an earlier one.
        minutes: Minutes planned in it: laying out, work, breaks and waiting.
        stretches: What is done one after the other.
    """

    number: int
    sitting: Sitting | None
    at_desk: float
    starts: tuple[PlannedStep, ...]
    goes_on: tuple[PlannedStep, ...]
    minutes: float
    stretches: tuple[Stretch, ...]


def sheet_sittings(
    schedule: Schedule, steps: Sequence[PlannedStep], group_id: str | None = None
) -> tuple[SheetSitting, ...]:
    """The sittings of the plan in order; those that nobody planned are drawn together at the end.

    Args:
        schedule: The plan.
        steps: The steps that the sheet tells.
        group_id: The group that the sheet is for; None for the whole batch.
    """
    told = {step.step.id: step for step in steps}
    begun: set[str] = set()
    found: list[SheetSitting] = []
    beyond: list[SheetSitting] = []
    for plan in schedule.sittings:
        stretches = tuple(own for s in plan.stretches if (own := _own(s, group_id)) is not None)
        order = list(dict.fromkeys(stretch.step.id for stretch in stretches))
        starts = tuple(told[i] for i in order if i in told and i not in begun)
        on = tuple(told[i] for i in order if i in told and i in begun)
        begun.update(order)
        entry = SheetSitting(
            number=plan.number,
            sitting=plan.sitting,
            at_desk=plan.minutes * schedule.hands,
            starts=starts,
            goes_on=on,
            minutes=_minutes(schedule, plan, stretches, group_id),
            stretches=stretches,
        )
        (found if plan.is_planned else beyond).append(entry)
    nobody = [step for step in steps if not step.models]
    if beyond or not found:
        found.append(_together(beyond, len(found) + 1, nobody))
    elif nobody:
        found[-1] = replace(found[-1], starts=(*found[-1].starts, *nobody))
    return tuple(found)


def step_minutes(sittings: Sequence[SheetSitting]) -> dict[str, float]:
    """By step id what the plan gives it: setting up, work and breaks, without waiting."""
    minutes: dict[str, float] = {}
    for entry in sittings:
        for stretch in entry.stretches:
            own = stretch.minutes - stretch.wait_minutes
            minutes[stretch.step.id] = minutes.get(stretch.step.id, 0.0) + own
    return minutes


def _own(stretch: Stretch, group_id: str | None) -> Stretch | None:
    """The share of a group in a stretch, None where it has none; its work as it comes in it."""
    if group_id is None:
        return stretch
    parts = tuple(part for part in stretch.models if part.group.id == group_id)
    if not parts or len(parts) == len(stretch.models):
        return stretch if parts else None
    each = (stretch.end - stretch.start) / stretch.count
    before = 0.0
    for part in stretch.models:
        if part.group.id == group_id:
            break
        before += part.models
    start = stretch.start + before * each
    end = start + each * sum(part.models for part in parts)
    begin = stretch.begin if before == 0.0 else start
    kept = replace(stretch, models=parts, begin=begin, start=start, end=end)
    return kept if before == 0.0 else replace(kept, set_up_minutes=0.0, wait_minutes=0.0)


def _minutes(
    schedule: Schedule, plan: SittingPlan, stretches: Sequence[Stretch], group_id: str | None
) -> float:
    if group_id is None:
        return plan.minutes * schedule.hands - plan.spare if stretches else 0.0
    return sum(stretch.minutes for stretch in stretches)


def _together(
    beyond: Sequence[SheetSitting], number: int, nobody: Sequence[PlannedStep]
) -> SheetSitting:
    """All that no planned sitting holds, and the steps that nobody gets."""
    starts = dict.fromkeys(step for entry in beyond for step in entry.starts)
    on = dict.fromkeys(step for entry in beyond for step in entry.goes_on)
    return SheetSitting(
        number=number,
        sitting=None,
        at_desk=0.0,
        starts=(*starts, *nobody),
        goes_on=tuple(step for step in on if step not in starts),
        minutes=sum(entry.minutes for entry in beyond),
        stretches=tuple(stretch for entry in beyond for stretch in entry.stretches),
    )
