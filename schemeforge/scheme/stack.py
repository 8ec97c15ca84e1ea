"""Which steps a group's zone gets, in order: who gets what, worked out."""

from schemeforge.scheme.candidate import Scheme, Share, ShareKind
from schemeforge.scheme.project import Project
from schemeforge.scheme.steps import Step, Work


def zone_steps(scheme: Scheme, zone_id: str, group_id: str | None = None) -> tuple[Step, ...]:
    """The steps that touch the zone, in order.

    Args:
        scheme: The candidate.
        zone_id: The zone.
        group_id: The group whose share counts; None for the full recipe.
    """
    touching = tuple(step for step in scheme.steps if zone_id in step.zone_ids)
    if group_id is None:
        return tuple(step for step in touching if not step.by_name_only)
    return _shared(touching, scheme.share(group_id, zone_id))


def coloured_steps(scheme: Scheme, zone_id: str, group_id: str | None = None) -> tuple[Step, ...]:
    """As ``zone_steps``, without work that has no predicted colour: the zone's stack."""
    return tuple(
        step for step in zone_steps(scheme, zone_id, group_id) if not isinstance(step.layer, Work)
    )


def models_getting(project: Project, scheme: Scheme, step: Step, zone_id: str) -> int:
    """How many models of the batch get that step on that zone."""
    return sum(
        group.count for group in project.groups if step in zone_steps(scheme, zone_id, group.id)
    )


def groups_getting(project: Project, scheme: Scheme, step: Step) -> tuple[str, ...]:
    """Ids of the groups that get the step on at least one zone; all for work without zones."""
    if not step.zone_ids:
        return tuple(group.id for group in project.groups)
    return tuple(
        group.id
        for group in project.groups
        if any(step in zone_steps(scheme, zone_id, group.id) for zone_id in step.zone_ids)
    )


def _shared(touching: tuple[Step, ...], share: Share) -> tuple[Step, ...]:
    named = share.step_ids
    if share.kind is ShareKind.NONE:
        return ()
    if share.kind is ShareKind.OWN:
        return tuple(step for step in touching if step.id in named)
    left_out = named if share.kind is ShareKind.SHORT else ()
    return tuple(step for step in touching if not step.by_name_only and step.id not in left_out)
