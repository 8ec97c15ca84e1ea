"""What the document and its plan know, gathered once for a sheet."""

import hashlib
import json
from dataclasses import dataclass
from functools import cached_property
from typing import TYPE_CHECKING

from schemeforge import plan
from schemeforge.codec import encode
from schemeforge.errors import InputError
from schemeforge.export.options import SheetOptions
from schemeforge.export.sittings import SheetSitting, sheet_sittings, step_minutes
from schemeforge.plan import PaintNeed, PlannedStep, Pot, Schedule
from schemeforge.scheme import Group, Project, Scheme, Viewing, edits

if TYPE_CHECKING:
    from schemeforge.stand_in import StandIns


@dataclass(frozen=True)
class Facts:
    """The project with everything worked out that a sheet tells.

    Args:
        project: The document.
        scheme: The scheme that is told.
        options: What is asked for.
        views: Where views of stand-in models are kept; no pictures of them where None.
    """

    project: Project
    scheme: Scheme
    options: SheetOptions
    views: "StandIns | None" = None

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
    def schedule(self) -> Schedule:
        """The plan of what is left; of the whole batch where nothing is."""
        known = plan.progress(self.project, self.scheme, self.options.now)
        made = plan.schedule(self.project, self.scheme, known)
        return plan.schedule(self.project, self.scheme) if made.is_done else made

    @cached_property
    def sittings(self) -> tuple[SheetSitting, ...]:
        """What the plan has in each sitting, and last what no sitting has room for."""
        return sheet_sittings(self.schedule, self.steps, self.options.group_id)

    @cached_property
    def minutes(self) -> dict[str, float]:
        """By step id the minutes that the plan gives it, setting up and breaks included."""
        return step_minutes(self.sittings)

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


def gather(
    project: Project, scheme_id: str, options: SheetOptions, views: "StandIns | None" = None
) -> Facts:
    """The facts of a sheet.

    Raises:
        UnknownNameError: For a scheme or group that the project does not have.
        InputError: For a group without models.
    """
    facts = Facts(project, project.scheme(scheme_id), options, views)
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


def _with_only(project: Project, group: Group) -> Project:
    """The project with no models in any other group."""
    for other in project.groups:
        if other.id != group.id and other.count:
            empty = Group(id=other.id, name=other.name, count=0)
            project = edits.update_group(project, empty)
    return project
