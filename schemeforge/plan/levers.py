"""What to cut when the batch is late, in the order in which painters cut.

One group first; fewer passes; a coat left out; a quicker technique; details left out; a whole
group turned from full to short (common practice, no source). Leaders keep the full recipe: what is
left out for one group is left out for the one that matters least. Undercoat, drying and varnish are
never cut, nor cleaning and assembly.
"""

from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass, field, replace
from enum import StrEnum
from functools import partial

from schemeforge.plan import cuts
from schemeforge.plan.drying import steps_got
from schemeforge.plan.placing import working_time
from schemeforge.plan.progress import NOTHING_DONE, Progress
from schemeforge.plan.schedule import Schedule, schedule
from schemeforge.plan.seen_change import Seen, SeenChange
from schemeforge.plan.tasks import tasks_of
from schemeforge.plan.timeline import hours
from schemeforge.scheme import Coat, Group, Project, Scheme, Step, Work, WorkKind, edits

Edit = Callable[[Project], Project]
_WHOLE_GROUPS = 10_000
_DETAIL = frozenset({WorkKind.DETAIL, WorkKind.DECAL, WorkKind.TEXTURE})


class LeverKind(StrEnum):
    """What is cut, in the order in which painters do."""

    GROUP_FIRST = "one group first"
    PASSES = "fewer passes"
    COAT = "leave out a coat"
    TECHNIQUE = "quicker technique"
    DETAIL = "leave out detail"
    SHORT = "whole group short"


@dataclass(frozen=True, slots=True, kw_only=True)
class Lever:
    """One thing that can be cut.

    Args:
        key: Stable key: kind, step, group.
        kind: What sort of cut.
        title: What is done, as an imperative.
        loses: What is lost, in words.
        step_ids: The steps concerned.
        group_id: The group concerned, "" for all.
        saved_minutes: Hands-on time that it saves, breaks included, drying not.
        seen: What it changes to the eye; None where that was not worked out or has no colour.
        edit: The edit that does it.
    """

    key: str
    kind: LeverKind
    title: str
    loses: str
    step_ids: tuple[str, ...]
    group_id: str
    saved_minutes: float
    seen: SeenChange | None
    edit: Edit = field(repr=False, compare=False)

    @property
    def seen_per_hour(self) -> float | None:
        """Seen change for each hour saved, CIEDE2000 an hour; None where not known."""
        if self.seen is None or self.saved_minutes <= 0.0:
            return None
        return self.seen.delta_e / (self.saved_minutes / 60.0)

    @property
    def sentence(self) -> str:
        """What is done, saved and lost."""
        if self.kind is LeverKind.GROUP_FIRST:
            return f"{self.title}: {self.loses}."
        head = f"{self.title}: saves {hours(self.saved_minutes)}; {self.loses}"
        if self.seen is None:
            return f"{head}."
        return f"{head}; dE {self.seen.delta_e:.1f} where it lay."


def levers(
    project: Project,
    scheme: Scheme,
    progress: Progress = NOTHING_DONE,
    *,
    seen: Mapping[str, SeenChange] | None = None,
) -> tuple[Lever, ...]:
    """All that can be cut, kind by kind; coats of a kind by least seen change an hour.

    Args:
        project: The document.
        scheme: The scheme that is painted.
        progress: What is done; nothing that is done is offered to be cut.
        seen: By key, what each changes to the eye: ``seen_by_lever``.
    """
    seen = {} if seen is None else seen
    now = _work(project, scheme, progress)
    found = []
    for lever in _all(project, scheme, progress):
        saved = now - _work(lever.edit(project), scheme, progress)
        if lever.kind is LeverKind.GROUP_FIRST or saved > 0.0:
            found.append(replace(lever, saved_minutes=saved, seen=seen.get(lever.key)))
    kinds = list(LeverKind)
    return tuple(sorted(found, key=lambda lever: (kinds.index(lever.kind), *_rank(lever))))


def seen_by_lever(
    project: Project, scheme: Scheme, offered: tuple[Lever, ...]
) -> dict[str, SeenChange]:
    """What each lever changes to the eye, by its key; those without a predicted colour left out."""
    eye = Seen(project, scheme.id)
    changes = {lever.key: eye.change(lever.edit(project)) for lever in offered}
    return {key: change for key, change in changes.items() if change.area_cm2}


def with_lever(
    project: Project, scheme_id: str, lever: Lever, progress: Progress = NOTHING_DONE
) -> Schedule:
    """The plan as it would be with that cut; quick, without the last improvements."""
    edited = lever.edit(project)
    return schedule(edited, edited.scheme(scheme_id), progress, tries=0)


def _rank(lever: Lever) -> tuple[float, float]:
    per_hour = lever.seen_per_hour
    return (float("inf") if per_hour is None else per_hour, -lever.saved_minutes)


def _work(project: Project, scheme: Scheme, progress: Progress) -> float:
    """Hands-on minutes of what is left: work, each set-up and pot once, breaks."""
    tasks = tasks_of(project, project.scheme(scheme.id), progress, sub_batch=_WHOLE_GROUPS)
    work = sum(task.minutes for task in tasks)
    set_ups = {task.step.id: task.set_up for task in tasks}
    pots = {task.mix_id: task.mixing for task in tasks}
    habits = project.habits
    every = habits.break_every_minutes
    whole = work + sum(set_ups.values()) + sum(pots.values())
    return working_time(whole, every, habits.break_minutes)


def _all(project: Project, scheme: Scheme, progress: Progress) -> Iterator[Lever]:
    groups = [group for group in project.groups if group.count]
    if not groups:
        return
    if len(groups) > 1:
        yield from (_group_first(project, group) for group in groups)
    ranks = _ranks(groups)
    for step in steps_got(project, scheme, ranks.id):
        left = [g for g in groups if progress.done.get((step.id, g.id), 0) < g.count]
        if isinstance(step.layer, Coat) and left:
            yield from _of_coat(project, scheme, step, step.layer, ranks, left)
        elif isinstance(step.layer, Work) and step.layer.kind in _DETAIL and left:
            yield _of_detail(scheme, step, ranks, groups)
    coats = frozenset(
        step_id
        for step_id in cuts.second_coats(project, scheme, ranks.id)
        if progress.done.get((step_id, ranks.id), 0) < ranks.count
    )
    if len(coats) > 1:
        yield _short(scheme, ranks, coats)


def _ranks(groups: list[Group]) -> Group:
    """The group that matters least: of the lowest priority, among those the largest."""
    return max(groups, key=lambda group: (group.priority, group.count))


def _of_coat(
    project: Project, scheme: Scheme, step: Step, coat: Coat, ranks: Group, left: list[Group]
) -> Iterator[Lever]:
    if coat.passes > 1:
        yield _lever(
            LeverKind.PASSES,
            f'Lay "{step.name}" {_times(coat.passes - 1)} instead of {_times(coat.passes)}',
            "the coat comes out thinner on every group",
            (step.id,),
            "",
            partial(cuts.one_pass_fewer, scheme_id=scheme.id, step_id=step.id),
        )
    only = frozenset({step.id})
    if ranks in left and cuts.droppable(project, scheme, ranks.id, only):
        yield _lever(
            LeverKind.COAT,
            f'Leave "{step.name}" out on {ranks.name}',
            f"{ranks.name} go without that coat",
            (step.id,),
            ranks.id,
            partial(cuts.without_steps, scheme_id=scheme.id, group_id=ranks.id, step_ids=only),
        )
    if coat.technique in cuts.FASTER:
        quick = cuts.FASTER[coat.technique].value
        yield _lever(
            LeverKind.TECHNIQUE,
            f'Lay "{step.name}" as {_a(quick)} instead of {_a(coat.technique.value)}',
            "its edges come out harder and less neat on every group",
            (step.id,),
            "",
            partial(cuts.faster_technique, scheme_id=scheme.id, step_id=step.id),
        )


def _of_detail(scheme: Scheme, step: Step, ranks: Group, groups: list[Group]) -> Lever:
    if step.zone_ids and len(groups) > 1:
        return _lever(
            LeverKind.DETAIL,
            f'Leave "{step.name}" out on {ranks.name}',
            f"{ranks.name} go without it",
            (step.id,),
            ranks.id,
            partial(
                cuts.without_steps,
                scheme_id=scheme.id,
                group_id=ranks.id,
                step_ids=frozenset({step.id}),
            ),
        )
    return _lever(
        LeverKind.DETAIL,
        f'Leave "{step.name}" out',
        "every group goes without it",
        (step.id,),
        "",
        partial(edits.remove_step, scheme_id=scheme.id, step_id=step.id),
    )


def _short(scheme: Scheme, ranks: Group, coats: frozenset[str]) -> Lever:
    names = [f'"{step.name}"' for step in scheme.steps if step.id in coats]
    return _lever(
        LeverKind.SHORT,
        f"Turn {ranks.name} from full to short",
        f"{ranks.name} keep undercoat, first coats and varnish, and go without {', '.join(names)}",
        tuple(step.id for step in scheme.steps if step.id in coats),
        ranks.id,
        partial(cuts.without_steps, scheme_id=scheme.id, group_id=ranks.id, step_ids=coats),
    )


def _group_first(project: Project, group: Group) -> Lever:
    others = [g.name for g in project.groups if g.count and g.id != group.id]
    return _lever(
        LeverKind.GROUP_FIRST,
        f"Finish {group.name} first",
        f"{', '.join(others)} come after, and setting up is done more than once",
        (),
        group.id,
        partial(cuts.group_first, group_id=group.id),
    )


def _lever(
    kind: LeverKind, title: str, loses: str, step_ids: tuple[str, ...], group_id: str, edit: Edit
) -> Lever:
    return Lever(
        key=" ".join((kind.name.lower(), "+".join(step_ids), group_id)),
        kind=kind,
        title=title,
        loses=loses,
        step_ids=step_ids,
        group_id=group_id,
        saved_minutes=0.0,
        seen=None,
        edit=edit,
    )


def _a(noun: str) -> str:
    return f"{'an' if noun[0] in 'aeiou' else 'a'} {noun}"


def _times(count: int) -> str:
    return {1: "once", 2: "twice"}.get(count, f"{count} times")
