"""From placed pieces to what a painter reads: stretches of one step, sitting by sitting."""

from collections.abc import Sequence
from dataclasses import replace

from schemeforge.plan.job import Job
from schemeforge.plan.placing import Piece
from schemeforge.plan.timeline import GroupModels, SittingPlan, Stretch

_TINY = 1e-6


def sitting_plans(job: Job, pieces: Sequence[Piece]) -> tuple[SittingPlan, ...]:
    """The sittings with their stretches: all that are planned, and those that the work needs."""
    last = max((piece.window for piece in pieces), default=-1)
    rows: list[list[Stretch]] = [[] for _ in range(max(last + 1, len(job.axis.windows)))]
    waits = [0.0] * len(rows)
    done: dict[int, float] = {}
    mixed: set[str] = set()
    for piece in pieces:
        row = rows[piece.window]
        stretch = _stretch(job, piece, done.get(piece.task, 0.0), mixed)
        done[piece.task] = done.get(piece.task, 0.0) + piece.models
        waits[piece.window] += piece.waited
        place = next((n for n, known in enumerate(row) if _goes_on(known, stretch)), None)
        if place is None:
            row.append(stretch)
        else:
            row[place] = _joined(row[place], stretch)
    return tuple(
        _sitting_plan(job, number, row, wait)
        for number, (row, wait) in enumerate(zip(rows, waits, strict=True))
    )


def _stretch(job: Job, piece: Piece, before: float, mixed: set[str]) -> Stretch:
    task = job.tasks[piece.task]
    window = job.axis.window(piece.window)
    laid_out = window.start - window.laying_out
    mix = ""
    if task.mixing and task.mix_id not in mixed:
        mix = task.mix_id
        mixed.add(mix)
    coat = task.step.coat
    return Stretch(
        step=task.step,
        number=task.number,
        layer_pass=task.layer_pass,
        passes=1 if coat is None else coat.passes,
        hands=piece.hands,
        models=(
            GroupModels(group=task.group, first=task.first + int(before), models=piece.models),
        ),
        begin=piece.begin - laid_out,
        start=piece.start - laid_out,
        end=piece.end - laid_out,
        set_up_minutes=piece.set_up,
        wait_minutes=piece.waited,
        breaks=_breaks(job, piece, laid_out),
        mix_id=mix,
        dry_after=job.ready_wait[piece.task],
    )


def _breaks(job: Job, piece: Piece, laid_out: float) -> tuple[tuple[float, float], ...]:
    """The rests of a piece: one while setting up is told at its begin, others where they fall."""
    found = []
    at_set_up = piece.start - piece.begin - piece.set_up - piece.waited
    if at_set_up > _TINY:
        found.append((piece.begin, piece.begin + at_set_up))
    at = piece.start + job.break_every - piece.rested
    while at < piece.end - _TINY:
        found.append((at, at + job.break_minutes))
        at += job.break_every + job.break_minutes
    return tuple((begin - laid_out, end - laid_out) for begin, end in found)


def _goes_on(known: Stretch, more: Stretch) -> bool:
    """True where the second goes on with the first without a pause or a set-up."""
    return (
        known.hands == more.hands
        and (known.number, known.layer_pass) == (more.number, more.layer_pass)
        and abs(known.end - more.start) < _TINY
        and not more.set_up_minutes
    )


def _joined(known: Stretch, more: Stretch) -> Stretch:
    *rest, last = known.models
    (new,) = more.models
    if last.group.id == new.group.id and last.first + last.models == new.first:
        parts = (*rest, replace(last, models=last.models + new.models))
    else:
        parts = (*known.models, new)
    return replace(known, models=parts, end=more.end, breaks=known.breaks + more.breaks)


def _sitting_plan(job: Job, number: int, row: list[Stretch], waited: float) -> SittingPlan:
    window = job.axis.window(number)
    minutes = window.length + window.laying_out
    ends = [window.laying_out] * job.hands
    for stretch in row:
        ends[stretch.hands] = max(ends[stretch.hands], stretch.end)
    return SittingPlan(
        number=number + 1,
        sitting=window.sitting,
        day=job.axis.date_of(window.start),
        minutes=minutes,
        laying_out=window.laying_out,
        begin=window.start,
        stretches=tuple(sorted(row, key=lambda stretch: (stretch.begin, stretch.hands))),
        worked=sum(end - window.laying_out for end in ends) - waited,
        waited=waited,
        spare=sum(minutes - end for end in ends),
    )
