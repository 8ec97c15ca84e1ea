"""What the document and its plan know, gathered once for a sheet."""

import hashlib
import json
from dataclasses import dataclass
from functools import cached_property

from schemeforge import plan
from schemeforge.codec import encode
from schemeforge.errors import InputError
from schemeforge.export.options import SheetOptions
from schemeforge.plan import PaintNeed, PlannedStep, Pot
from schemeforge.plan.sessions import MIXING_MINUTES
from schemeforge.scheme import Group, Project, Scheme, Sitting, Viewing, edits


@dataclass(frozen=True, slots=True, kw_only=True)
class SittingPlan:
    """What falls into one sitting by hands-on time; drying is not counted.

    Args:
        number: From 1.
        sitting: Its day and length; None for what no sitting has room for.
        starts: Steps that begin in it.
        goes_on: Steps that began in an earlier one.
        minutes: Hands-on minutes planned in it.
    """

    number: int
    sitting: Sitting | None
    starts: tuple[PlannedStep, ...]
    goes_on: tuple[PlannedStep, ...]
    minutes: float


@dataclass(frozen=True)
class Facts:
    """The project with everything worked out that a sheet tells.

    Args:
        project: The document.
        scheme: The scheme that is told.
        options: What is asked for.
    """

    project: Project
    scheme: Scheme
    options: SheetOptions

    @cached_property
    def group(self) -> Group | None:
        """The group that the sheet is for, None for the whole batch."""
        wanted = self.options.group_id
        return None if wanted is None else self.project.group(wanted)

    @cached_property
    def steps(self) -> tuple[PlannedStep, ...]:
        """Steps in painting order; for one group those that it gets."""
        if self.group is None:
            return plan.planned_steps(self.project, self.scheme)
        steps = plan.planned_steps(_with_only(self.project, self.group), self.scheme)
        return tuple(step for step in steps if step.models)

    @cached_property
    def pots(self) -> dict[str, Pot]:
        """Pots of the whole batch by letter."""
        return {pot.letter: pot for pot in plan.pots(self.project, self.scheme)}

    @cached_property
    def needs(self) -> tuple[PaintNeed, ...]:
        """Paints of the whole batch."""
        return plan.paint_needs(self.project, self.scheme)

    @cached_property
    def sittings(self) -> tuple[SittingPlan, ...]:
        """The steps shared out over the sittings, and last what no sitting has room for."""
        return shared_out(self.project, self.steps, self.pots)

    @cached_property
    def numbers(self) -> dict[str, int]:
        """Number of each zone on the outline, by its id."""
        return {zone.id: n for n, zone in enumerate(self.project.zones, start=1)}

    @cached_property
    def recipe(self) -> str:
        """Short fingerprint of the scheme."""
        return recipe_version(self.scheme)

    @cached_property
    def viewing(self) -> Viewing:
        """How the swatches are looked at when dry."""
        return self.options.viewing or self.project.viewing

    def recipe_group(self, step: PlannedStep, zone_id: str) -> str | None:
        """The group whose stack of the zone shows that step: None where the full recipe does."""
        if self.group is not None:
            return self.group.id
        if not step.step.by_name_only:
            return None
        name = self.project.zone(zone_id).name
        for receiver in step.receivers:
            if name in receiver.zones:
                return receiver.group_id
        return None


def gather(project: Project, scheme_id: str, options: SheetOptions) -> Facts:
    """The facts of a sheet.

    Raises:
        UnknownNameError: For a scheme or group that the project does not have.
        InputError: For a group without models.
    """
    facts = Facts(project, project.scheme(scheme_id), options)
    if facts.group is not None and not facts.group.count:
        raise InputError(
            f'Group "{facts.group.name}" has no models', remedy="choose a group that has some"
        )
    return facts


def recipe_version(scheme: Scheme) -> str:
    """Eight hexadecimal digits that change whenever the scheme does."""
    text = json.dumps(encode(scheme), sort_keys=True, ensure_ascii=True)
    digest = hashlib.sha256(text.encode("ascii")).hexdigest()[:8]
    return f"{digest[:4]}-{digest[4:]}"


def shared_out(
    project: Project, steps: tuple[PlannedStep, ...], pots: dict[str, Pot]
) -> tuple[SittingPlan, ...]:
    """Steps in painting order over the sittings by hands-on minutes, mixing included.

    A step that outlasts its sitting goes on in the next. What no sitting has room for stands in a
    last entry without a sitting; without any sittings that is the only one.
    """
    room = [sitting.minutes * project.habits.hands for sitting in project.sittings]
    starts: list[list[PlannedStep]] = [[] for _ in range(len(room) + 1)]
    goes_on: list[list[PlannedStep]] = [[] for _ in range(len(room) + 1)]
    minutes = [0.0] * (len(room) + 1)
    now = 0
    mixed: set[str] = set()
    for step in steps:
        left = step.total_minutes
        pot = pots.get(step.pot)
        if pot is not None and pot.ml and not pot.is_neat and pot.letter not in mixed:
            left += MIXING_MINUTES
            mixed.add(pot.letter)
        begun = False
        while True:
            while now < len(room) and minutes[now] >= room[now] - 1e-9:
                now += 1
            (goes_on if begun else starts)[now].append(step)
            begun = True
            taken = left if now == len(room) else min(left, room[now] - minutes[now])
            minutes[now] += taken
            left -= taken
            if left <= 1e-9:
                break
    plans = [
        SittingPlan(
            number=n + 1,
            sitting=project.sittings[n] if n < len(room) else None,
            starts=tuple(starts[n]),
            goes_on=tuple(goes_on[n]),
            minutes=minutes[n],
        )
        for n in range(len(room) + 1)
    ]
    last = plans[-1]
    return tuple(plans if last.starts or last.goes_on or not room else plans[:-1])


def _with_only(project: Project, group: Group) -> Project:
    """The project with no models in any other group."""
    for other in project.groups:
        if other.id != group.id and other.count:
            empty = Group(id=other.id, name=other.name, count=0)
            project = edits.update_group(project, empty)
    return project
