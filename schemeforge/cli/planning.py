"""A plan with all that the command line tells of it."""

from dataclasses import dataclass
from datetime import datetime

from schemeforge.plan import (
    Caution,
    Lever,
    PaintNeed,
    PotState,
    Schedule,
    Spread,
    Trial,
    levers,
    paint_needs,
    planned_steps,
    pot_states,
    progress,
    schedule,
    seen_by_lever,
    spread,
    trials,
)
from schemeforge.scheme import Project, Scheme


@dataclass(frozen=True, slots=True, kw_only=True)
class Planning:
    """The plan of a batch, its chances, its pots, and what can be cut."""

    project: Project
    scheme: Scheme
    plan: Schedule
    spread: Spread
    pots: tuple[PotState, ...]
    needs: tuple[PaintNeed, ...]
    levers: tuple[Lever, ...]
    trials: tuple[Trial, ...]
    cautions: tuple[Caution, ...]


def planning(project: Project, scheme: Scheme, now: datetime | None = None) -> Planning:
    """Everything about the batch; levers only where it is late.

    Args:
        project: The document.
        scheme: The scheme that is painted.
        now: Local time without a zone, None to plan from the first sitting on.
    """
    known = progress(project, scheme, now)
    made = schedule(project, scheme, known)
    offered: tuple[Lever, ...] = ()
    if made.is_late:
        offered = levers(project, scheme, known)
        seen = seen_by_lever(project, scheme, offered)
        offered = levers(project, scheme, known, seen=seen)
    steps = planned_steps(project, scheme)
    wanted = {caution for step in steps if step.models for caution in step.cautions}
    return Planning(
        project=project,
        scheme=scheme,
        plan=made,
        spread=spread(project, scheme, made),
        pots=pot_states(project, scheme, known),
        needs=paint_needs(project, scheme),
        levers=offered,
        trials=trials(project, scheme, known),
        cautions=tuple(caution for caution in Caution if caution in wanted),
    )
