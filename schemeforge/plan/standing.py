"""Where the batch stands, in sentences: do now, next, drying, shall we finish?"""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime

from schemeforge.plan.clock import IDLE, ClockState, timings
from schemeforge.plan.letters import pot_letters
from schemeforge.plan.pace import paces
from schemeforge.plan.progress import Progress, progress, when
from schemeforge.plan.schedule import Schedule, schedule
from schemeforge.plan.spread import Spread, chance_words
from schemeforge.plan.timeline import SittingPlan, Stretch, hours, models_words, sentence_case
from schemeforge.scheme import Group, Project, Scheme, Step, Timing

_SOON = 5
# Longer than that and a painter does not remember where the work stood (rule of thumb).
_LONG_DAYS = 7


@dataclass(frozen=True, slots=True, kw_only=True)
class Todo:
    """Something to do.

    Args:
        step: The step.
        group: The first group that gets it.
        models: How many models.
        minutes: How long it takes, setting up included.
        wait: Minutes until it may begin, drying of what lies below.
        pot: Letter of its pot, "" for none.
        mix_first: True where the pot has to be mixed now.
        sentence: All of it.
    """

    step: Step
    group: Group
    models: float
    minutes: float
    wait: float
    pot: str
    mix_first: bool
    sentence: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Drying:
    """Paint that is wet.

    Args:
        step: What was laid.
        group: On which group.
        zones: Names of the zones; empty for the whole model.
        minutes: Until the last of it is dry.
    """

    step: Step
    group: Group
    zones: tuple[str, ...]
    minutes: float

    @property
    def sentence(self) -> str:
        """What dries and how long."""
        where = f" ({', '.join(self.zones)})" if self.zones else ""
        return f"{self.step.name} on {self.group.name}{where}: {hours(self.minutes)} more."


@dataclass(frozen=True, slots=True, kw_only=True)
class Standing:
    """Where the batch stands.

    Args:
        plan: The plan of what is left.
        progress: What it rests on.
        do_now: What to do; None where all is done or no step is left.
        do_now_words: The same in a sentence, also where there is nothing to do.
        next: What comes then, at most five.
        drying: What is wet, soonest dry first.
        finish: Shall we finish? One or more sentences.
        stood: Where the work stood, for a project opened after a while; "" where it goes on.
    """

    plan: Schedule
    progress: Progress
    do_now: Todo | None
    do_now_words: str
    next: tuple[Todo, ...]
    drying: tuple[Drying, ...]
    finish: str
    stood: str


def standing(
    project: Project,
    scheme: Scheme,
    *,
    now: datetime | None = None,
    clock: ClockState = IDLE,
    clock_id: str = "clock",
    plan: Schedule | None = None,
    chance: Spread | None = None,
) -> Standing:
    """Where the batch stands.

    Args:
        project: The document.
        scheme: The scheme that is painted.
        now: Local time without a zone; None where it does not matter.
        clock: What the step clock knows; what it has done counts as done.
        clock_id: The clock's id, so that stints that the project holds already count once.
        plan: A plan made for the same, where it is at hand.
        chance: The outcome of its runs, where at hand.
    """
    recorded = timings(clock, project, clock_id)
    known = progress(project, scheme, now, timings=recorded)
    plan = schedule(project, scheme, known) if plan is None else plan
    letters = pot_letters(scheme)
    todo = [
        _todo(sitting, stretch, letters)
        for sitting in plan.sittings[:2]
        for stretch in sitting.stretches[: _SOON + 1]
    ]
    in_hand = _in_hand(project, scheme, clock, known)
    if in_hand is not None:
        todo = [t for t in todo if (t.step.id, t.group.id) != (in_hand.step.id, in_hand.group.id)]
        todo.insert(0, in_hand)
    return Standing(
        plan=plan,
        progress=known,
        do_now=todo[0] if todo else None,
        do_now_words=todo[0].sentence if todo else plan.sentence,
        next=tuple(todo[1 : _SOON + 1]),
        drying=_drying(project, scheme, known),
        finish=_finish(plan, chance),
        stood=_stood(project, scheme, known, [*project.timings, *recorded]),
    )


def _todo(sitting: SittingPlan, stretch: Stretch, letters: dict[str, str]) -> Todo:
    group = stretch.models[0].group
    pot = letters.get(stretch.step.mix_id or "", "")
    models = _models_words(stretch)
    takes = stretch.minutes
    wait = stretch.wait_minutes if stretch.wait_minutes > 0.5 else 0.0
    pieces = [f"{sentence_case(stretch.name)} on {models}"]
    if stretch.mix_id:
        pieces.append(f"mix pot {pot} first")
    elif pot:
        pieces.append(f"pot {pot}")
    if wait:
        pieces.append(f"wait {hours(wait)} for what lies below to dry")
    pieces.append(f"about {hours(takes - wait)}")
    if sitting.number > 1:
        pieces.append(f"in {sitting.name}")
    return Todo(
        step=stretch.step,
        group=group,
        models=stretch.count,
        minutes=takes,
        wait=wait,
        pot=pot,
        mix_first=bool(stretch.mix_id),
        sentence=f"{'; '.join(pieces)}.",
    )


def _models_words(stretch: Stretch) -> str:
    counts: dict[str, float] = {}
    for part in stretch.models:
        counts[part.group.name] = counts.get(part.group.name, 0.0) + part.models
    return ", ".join(f"{models:.3g} {name}" for name, models in counts.items())


def _in_hand(project: Project, scheme: Scheme, clock: ClockState, known: Progress) -> Todo | None:
    """What the clock has in hand, as long as models of it are left."""
    target = clock.target
    if target is None or target.scheme_id != scheme.id:
        return None
    step = next((s for s in scheme.steps if s.id == target.step_id), None)
    group = next((g for g in project.groups if g.id == target.group_id), None)
    if step is None or group is None:
        return None
    place = known.done.get((step.id, group.id), 0) + 1
    each = paces(project, scheme)[step.id].minutes
    left = max(group.count - place + 1, 0)
    if not left and not target.is_test:
        return None
    sort = "test model" if target.is_test else f"model {min(place, group.count)} of {group.count}"
    return Todo(
        step=step,
        group=group,
        models=left,
        minutes=left * each,
        wait=0.0,
        pot=pot_letters(scheme).get(step.mix_id or "", ""),
        mix_first=False,
        sentence=(
            f"{sentence_case(step.name)} on {group.name}, {sort}: "
            f"about {_short(each)} a model{'' if clock.running else '; the clock is paused'}."
        ),
    )


def _short(minutes: float) -> str:
    return f"{minutes * 60.0:.0f} s" if minutes < 1.0 else f"{minutes:.1f} min"


def _drying(project: Project, scheme: Scheme, known: Progress) -> tuple[Drying, ...]:
    names = {zone.id: zone.name for zone in project.zones}
    found = []
    for (step_id, group_id), minutes in known.wet.items():
        step = scheme.step(step_id)
        zones = tuple(names[zone_id] for zone_id in step.zone_ids)
        group = project.group(group_id)
        found.append(Drying(step=step, group=group, zones=zones, minutes=minutes))
    return tuple(sorted(found, key=lambda drying: drying.minutes))


def _finish(plan: Schedule, chance: Spread | None) -> str:
    if plan.is_done:
        return "All models are done."
    head = "No, not as planned." if plan.is_late else "Yes, as planned."
    if not plan.axis.windows:
        head = "No sittings are planned yet."
    sentences = [head, plan.sentence, *(overfull.sentence for overfull in plan.overfull)]
    if chance is not None and chance.all_in_time is not None:
        sentences.append(f"Chance that all is in time: {chance_words(chance.all_in_time)}.")
    return " ".join(sentences)


def _stood(project: Project, scheme: Scheme, known: Progress, records: Sequence[Timing]) -> str:
    """Where the work stood, if it was last gone on with more than a week ago."""
    if known.now is None or known.last_worked is None:
        return ""
    days = (known.now - known.last_worked).days
    if days < _LONG_DAYS:
        return ""
    last = next(t for t in records if t.scheme_id == scheme.id and when(t.at) == known.last_worked)
    step = next((s.name for s in scheme.steps if s.id == last.step_id), last.step_id)
    total = sum(group.count for group in project.groups)
    rows = []
    for item in scheme.steps:
        done = sum(known.done.get((item.id, group.id), 0) for group in project.groups)
        if done:
            rows.append(f"{item.name} {done} of {total}" if done < total else f"{item.name} on all")
    letters = pot_letters(scheme)
    begun = {i.mix_id for i in scheme.steps for g in project.groups if (i.id, g.id) in known.done}
    pots = [
        f"{letter} ({scheme.mix(mix_id).name})"
        for mix_id, letter in letters.items()
        if mix_id in begun
    ]
    open_pots = (
        f" Pots mixed then: {', '.join(pots)}; stir them and test them first." if pots else ""
    )
    return (
        f"Last worked on {known.last_worked.date().isoformat()}, {days} days ago, with "
        f'"{step}" on {models_words(last.models)}. Done: {"; ".join(rows)}.{open_pots}'
    )
