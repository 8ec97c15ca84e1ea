"""Edits that save time, as pure functions of a project; what they lose is told by ``levers``."""

from dataclasses import replace

from schemeforge.scheme import (
    Coat,
    Placement,
    Project,
    Scheme,
    Share,
    ShareKind,
    Step,
    Technique,
    Way,
    edits,
    zone_steps,
)
from schemeforge.scheme.techniques import TECHNIQUES

# What a painter takes instead when there is no time (common practice, no source).
FASTER = {
    Technique.FEATHERED_GLAZE: Technique.GLAZE,
    Technique.EDGE_HIGHLIGHT: Technique.DRY_BRUSH,
}


def group_first(project: Project, group_id: str) -> Project:
    """That group finished before the others are gone on with."""
    groups = (
        replace(g, priority=1 if g.id == group_id else min(99, max(2, g.priority)))
        for g in project.groups
    )
    for group in groups:
        project = edits.update_group(project, group)
    return edits.set_habits(project, replace(project.habits, way=Way.BY_GROUP))


def one_pass_fewer(project: Project, scheme_id: str, step_id: str) -> Project:
    """A coat laid once less; the painter's own minutes shrink with it."""
    step = project.scheme(scheme_id).step(step_id)
    coat = _coat(step)
    fewer = edits.set_coat(project, scheme_id, step_id, passes=coat.passes - 1)
    return _scaled(fewer, scheme_id, step_id, (coat.passes - 1) / coat.passes)


def faster_technique(project: Project, scheme_id: str, step_id: str) -> Project:
    """A coat laid in the quicker way, as heavy for that way as it was; soft ends become hard."""
    step = project.scheme(scheme_id).step(step_id)
    coat = _coat(step)
    old, new = TECHNIQUES[coat.technique], TECHNIQUES[FASTER[coat.technique]]
    along = replace(coat.placement.along, feather_start=0.0, feather_end=0.0)
    faster = edits.set_coat(
        project,
        scheme_id,
        step_id,
        technique=FASTER[coat.technique],
        wet_um=coat.wet_um * new.normal_um / old.normal_um,
        placement=Placement(relief=coat.placement.relief, along=along),
    )
    return _scaled(faster, scheme_id, step_id, new.minutes_per_model / old.minutes_per_model)


def without_steps(
    project: Project, scheme_id: str, group_id: str, step_ids: frozenset[str]
) -> Project:
    """A group that no longer gets those steps on any zone; its cells become short."""
    for zone in project.zones:
        scheme = project.scheme(scheme_id)
        got = zone_steps(scheme, zone.id, group_id)
        dropped = [step.id for step in got if step.id in step_ids]
        if dropped:
            share = _less(scheme.share(group_id, zone.id), dropped)
            project = edits.set_share(project, scheme_id, share)
    return project


def droppable(project: Project, scheme: Scheme, group_id: str, step_ids: frozenset[str]) -> bool:
    """True where the group gets all of those coats, and each zone keeps at least one other."""
    met = set()
    for zone in project.zones:
        coats = {s.id for s in zone_steps(scheme, zone.id, group_id) if isinstance(s.layer, Coat)}
        met |= coats & step_ids
        if coats & step_ids and coats <= step_ids:
            return False
    return met == step_ids


def second_coats(project: Project, scheme: Scheme, group_id: str) -> frozenset[str]:
    """The coats that the group could go without: on none of its zones are they the first."""
    first, later = set(), set()
    for zone in project.zones:
        steps = zone_steps(scheme, zone.id, group_id)
        coats = [step.id for step in steps if isinstance(step.layer, Coat)]
        first.update(coats[:1])
        later.update(coats[1:])
    return frozenset(later - first)


def _less(share: Share, dropped: list[str]) -> Share:
    if share.kind is ShareKind.OWN:
        kept = tuple(step_id for step_id in share.step_ids if step_id not in dropped)
        return replace(share, step_ids=kept)
    named = share.step_ids if share.kind is ShareKind.SHORT else ()
    return replace(share, kind=ShareKind.SHORT, step_ids=(*named, *dropped))


def _coat(step: Step) -> Coat:
    if step.coat is None:
        raise TypeError(f"{step.id} is no coat")
    return step.coat


def _scaled(project: Project, scheme_id: str, step_id: str, factor: float) -> Project:
    step = project.scheme(scheme_id).step(step_id)
    if step.minutes_per_model is None:
        return project
    minutes = step.minutes_per_model * factor
    return edits.update_step(project, scheme_id, replace(step, minutes_per_model=minutes))
