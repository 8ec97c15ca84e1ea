"""Hands-on time of the whole batch against the time at the desk.

No schedule: drying is not counted here, so a batch that fits by these figures may still have to
wait for paint.
"""

from collections.abc import Sequence
from dataclasses import dataclass

from schemeforge.plan.steps import PlannedStep, planned_steps
from schemeforge.plan.volumes import Pot, pots
from schemeforge.plan.who import grid
from schemeforge.scheme import Project, Scheme


@dataclass(frozen=True, slots=True, kw_only=True)
class HandsOn:
    """Where the hands-on minutes of a batch go.

    Args:
        at_models: Time at the models.
        set_up: Setting up and cleaning, once a step.
        mixing: Each pot of more than one ingredient that is needed, once.
        models: Models in the batch.
        available: Minutes at the desk over all sittings and hands.
    """

    at_models: float
    set_up: float
    mixing: float
    models: int
    available: float

    @property
    def total(self) -> float:
        """All hands-on minutes."""
        return self.at_models + self.set_up + self.mixing

    @property
    def per_model(self) -> float:
        """All hands-on minutes shared out over the models; 0 for an empty batch."""
        return self.total / self.models if self.models else 0.0

    @property
    def left(self) -> float:
        """Minutes of the sittings that remain; below 0 where the batch does not fit."""
        return self.available - self.total

    @property
    def sentence(self) -> str:
        """The plain figure, in hours."""
        head = f"Hands-on {self.total / 60.0:.1f} h"
        if not self.available:
            return f"{head}; no sittings are planned yet."
        what = "to spare" if self.left >= 0.0 else "too few"
        return (
            f"{head}, sittings give {self.available / 60.0:.1f} h: "
            f"{abs(self.left) / 60.0:.1f} h {what}, drying not counted."
        )


def sitting_hours(project: Project) -> float:
    """Hours at the desk over all sittings, times the number of hands."""
    return sum(sitting.minutes for sitting in project.sittings) * project.habits.hands / 60.0


def hands_on(
    project: Project,
    scheme: Scheme,
    *,
    steps: Sequence[PlannedStep] | None = None,
    filled: Sequence[Pot] | None = None,
) -> HandsOn:
    """Where the hands-on minutes go, against what the sittings give.

    Args:
        project: The document.
        scheme: One of its schemes.
        steps: ``planned_steps`` of the two where they are at hand.
        filled: ``pots`` of the two where they are at hand.
    """
    cells = grid(project, scheme)
    steps = planned_steps(project, scheme, cells=cells) if steps is None else steps
    filled = pots(project, scheme, cells=cells) if filled is None else filled
    return HandsOn(
        at_models=sum(step.hands_on_minutes for step in steps),
        set_up=sum(step.set_up_minutes for step in steps),
        mixing=project.habits.mixing_minutes
        * sum(1 for pot in filled if pot.ml and not pot.is_neat),
        models=sum(group.count for group in project.groups),
        available=60.0 * sitting_hours(project),
    )


def total_minutes(project: Project, scheme: Scheme) -> float:
    """Hands-on minutes of the batch: at the models, setting up, and mixing."""
    return hands_on(project, scheme).total
