"""Sittings to which the painter has pinned more than they hold."""

from collections.abc import Sequence

from schemeforge.plan.job import Job
from schemeforge.plan.placing import Piece, working_time
from schemeforge.plan.timeline import Overfull, Spill
from schemeforge.scheme import Project

_TINY = 1e-6


def overfull_of(
    job: Job, pieces: Sequence[Piece], project: Project, end_words: str
) -> tuple[Overfull, ...]:
    """The sittings to which more is pinned than they hold, in the order of the project.

    Args:
        job: The tasks.
        pieces: Where they were placed.
        project: The document.
        end_words: When the batch ends, for the sentence.
    """
    windows = {w.sitting.id: n for n, w in enumerate(job.axis.windows) if w.sitting is not None}
    found = []
    for sitting in project.sittings:
        pinned = [n for n, task in enumerate(job.tasks) if task.pinned_to == sitting.id]
        if not pinned:
            continue
        number = windows.get(sitting.id)
        takes = _pinned_minutes(job, pinned)
        over = takes
        spills: tuple[Spill, ...] = ()
        if number is not None:
            window = job.axis.window(number)
            takes += window.laying_out
            over = takes - window.length - window.laying_out
            spills = _spills(job, pieces, pinned, number)
        if over > _TINY:
            found.append(
                Overfull(
                    number=0 if number is None else number + 1,
                    sitting=sitting,
                    pinned_minutes=takes,
                    over_minutes=over,
                    spills=spills,
                    end=end_words,
                )
            )
    return tuple(found)


def _pinned_minutes(job: Job, pinned: Sequence[int]) -> float:
    """Work, set-ups, pots and breaks of the pinned tasks, shared out over all hands."""
    set_ups = {job.step[n]: job.set_up[n] for n in pinned}
    pots = {job.mix[n]: job.mixing[n] for n in pinned}
    work = sum(job.models[n] * job.each[n] for n in pinned)
    whole = (work + sum(set_ups.values()) + sum(pots.values())) / job.hands
    return working_time(whole, job.break_every, job.break_minutes)


def _models(job: Job, rows: Sequence[Piece]) -> float:
    """How many models the pieces of a step are for: those of the pass that most are left of."""
    passes: dict[int, float] = {}
    for piece in rows:
        number = job.tasks[piece.task].layer_pass
        passes[number] = passes.get(number, 0.0) + piece.models
    return max(passes.values())


def _spills(
    job: Job, pieces: Sequence[Piece], pinned: Sequence[int], number: int
) -> tuple[Spill, ...]:
    own = set(pinned)
    steps: dict[str, list[Piece]] = {}
    for piece in pieces:
        if piece.task in own and piece.window > number:
            steps.setdefault(job.tasks[piece.task].step.id, []).append(piece)
    return tuple(
        Spill(
            step=job.tasks[rows[0].task].step,
            models=_models(job, rows),
            minutes=sum(piece.models * job.each[piece.task] for piece in rows),
            sittings=tuple(sorted({piece.window + 1 for piece in rows})),
        )
        for rows in steps.values()
    )
