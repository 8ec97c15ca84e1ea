"""Edits of what is painted: model size, zones, groups, and who gets what."""

from dataclasses import replace

from schemeforge.scheme.candidate import Scheme, Share, ShareKind
from schemeforge.scheme.edits._common import (
    drop,
    insert,
    move,
    swap,
    with_scheme,
    with_schemes,
    without_loose_records,
)
from schemeforge.scheme.edits.work_list import without_idle_mixes
from schemeforge.scheme.model import Group, ModelSize, Zone
from schemeforge.scheme.project import Project
from schemeforge.scheme.steps import Step


def set_size(project: Project, size: ModelSize) -> Project:
    """Another base diameter or build, from which areas are estimated."""
    return replace(project, size=size)


def add_group(project: Project, group: Group, at: int | None = None) -> Project:
    """One more group; it gets everything in full."""
    return replace(project, groups=insert(project.groups, group, at))


def update_group(project: Project, group: Group) -> Project:
    """Another name, count, priority, date or note for a group."""
    return replace(project, groups=swap(project.groups, group, "group"))


def move_group(project: Project, group_id: str, to: int) -> Project:
    """The group at another place in the list."""
    return replace(project, groups=move(project.groups, group_id, to, "group"))


def remove_group(project: Project, group_id: str) -> Project:
    """Without a group, and without what it got in any scheme."""
    schemes = tuple(
        replace(scheme, shares=tuple(s for s in scheme.shares if s.group_id != group_id))
        for scheme in project.schemes
    )
    groups = drop(project.groups, group_id, "group")
    return without_loose_records(replace(project, groups=groups, schemes=schemes))


def add_zone(project: Project, zone: Zone, at: int | None = None) -> Project:
    """One more zone, bordering back on the zones that it touches."""
    grown = replace(project, zones=insert(project.zones, replace(zone, touches=()), at))
    return update_zone(grown, zone)


def update_zone(project: Project, zone: Zone) -> Project:
    """Another name, area, facing, surface or neighbours; touching stays mutual."""
    zones = []
    for other in swap(project.zones, zone, "zone"):
        if other.id == zone.id:
            zones.append(other)
            continue
        touches = tuple(t for t in other.touches if t != zone.id)
        if other.id in zone.touches:
            touches = (*touches, zone.id)
        same = set(touches) == set(other.touches)
        zones.append(other if same else replace(other, touches=touches))
    return replace(project, zones=tuple(zones))


def move_zone(project: Project, zone_id: str, to: int) -> Project:
    """The zone at another place in the list."""
    return replace(project, zones=move(project.zones, zone_id, to, "zone"))


def remove_zone(project: Project, zone_id: str) -> Project:
    """Without a zone; what was done on it alone goes with it, and their pots."""
    zones = tuple(
        replace(zone, touches=tuple(t for t in zone.touches if t != zone_id))
        for zone in drop(project.zones, zone_id, "zone")
    )
    schemes = tuple(_without_zone(scheme, zone_id) for scheme in project.schemes)
    pruned = with_schemes(project, schemes)
    return without_loose_records(replace(pruned, zones=zones))


def _without_zone(scheme: Scheme, zone_id: str) -> Scheme:
    steps: list[Step] = []
    for step in scheme.steps:
        if zone_id not in step.zone_ids:
            steps.append(step)
            continue
        left = tuple(z for z in step.zone_ids if z != zone_id)
        if left:
            steps.append(replace(step, zone_ids=left))
    kept = {step.id for step in steps}
    shares = tuple(
        replace(share, step_ids=tuple(i for i in share.step_ids if i in kept))
        for share in scheme.shares
        if share.zone_id != zone_id
    )
    return without_idle_mixes(replace(scheme, steps=tuple(steps), shares=shares))


def set_share(project: Project, scheme_id: str, share: Share) -> Project:
    """What one group gets on one zone in one scheme."""

    def change(scheme: Scheme) -> Scheme:
        others = tuple(
            s for s in scheme.shares if (s.group_id, s.zone_id) != (share.group_id, share.zone_id)
        )
        listed = () if share.kind is ShareKind.FULL else (share,)
        return replace(scheme, shares=(*others, *listed))

    return with_scheme(project, scheme_id, change)
