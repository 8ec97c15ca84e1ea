"""Who gets what, worked out once for a whole scheme: step by step, group by group."""

from dataclasses import dataclass

from schemeforge.scheme import Group, Project, Scheme, Zone, zone_steps


@dataclass(frozen=True, slots=True, kw_only=True)
class Receiver:
    """A group of at least one model that gets a step.

    Args:
        group_id: The group.
        name: The group's name.
        models: How many models it has, 1 or more.
        zones: Names of the step's zones on which it gets the step; empty for work on the whole
            model.
        everywhere: True where it gets the step on all the step's zones.
    """

    group_id: str
    name: str
    models: int
    zones: tuple[str, ...]
    everywhere: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class Laid:
    """One cell of the grid for one step: so many models of one group get it on one zone."""

    group: Group
    zone: Zone


Grid = dict[str, tuple[Laid, ...]]


def grid(project: Project, scheme: Scheme) -> Grid:
    """For each step's id the cells of who gets what that receive it; zone by zone, then group.

    Groups without models are left out. Work without zones has no cells.
    """
    cells: dict[str, list[Laid]] = {step.id: [] for step in scheme.steps}
    groups = [group for group in project.groups if group.count]
    for zone in project.zones:
        for group in groups:
            cell = Laid(group=group, zone=zone)
            for step in zone_steps(scheme, zone.id, group.id):
                cells[step.id].append(cell)
    return {step_id: tuple(found) for step_id, found in cells.items()}


def receivers(
    project: Project, zone_ids: tuple[str, ...], cells: tuple[Laid, ...]
) -> tuple[Receiver, ...]:
    """The groups that get a step, in the project's order; every group for work without zones.

    Args:
        project: The document.
        zone_ids: The step's zones.
        cells: The step's cells out of ``grid``.
    """
    found = []
    for group in project.groups:
        zones = tuple(cell.zone.name for cell in cells if cell.group.id == group.id)
        if group.count and (zones or not zone_ids):
            found.append(
                Receiver(
                    group_id=group.id,
                    name=group.name,
                    models=group.count,
                    zones=zones,
                    everywhere=len(zones) == len(zone_ids),
                )
            )
    return tuple(found)


def who_words(project: Project, receiving: tuple[Receiver, ...]) -> str:
    """Who gets a step, for the sheet: "all", "nobody", or groups with counts and partial zones.

    For example ``wardens 30, captains 2 (cloak only)``.
    """
    if not receiving:
        return "nobody"
    manned = sum(1 for group in project.groups if group.count)
    if len(receiving) == manned and all(receiver.everywhere for receiver in receiving):
        return "all"
    return ", ".join(_one(receiver) for receiver in receiving)


def _one(receiver: Receiver) -> str:
    partly = "" if receiver.everywhere else f" ({' and '.join(receiver.zones)} only)"
    return f"{receiver.name} {receiver.models}{partly}"
