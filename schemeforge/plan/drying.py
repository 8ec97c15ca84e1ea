"""What has to be dry before a step may begin, group by group and zone by zone."""

from schemeforge.scheme import Project, Scheme, Step, zone_steps
from schemeforge.scheme.techniques import defaults_for


def wait_minutes(step: Step) -> float:
    """Minutes that a step dries before the next on the same zone: the painter's or the trade's."""
    return defaults_for(step).wait_minutes if step.wait_minutes is None else step.wait_minutes


def steps_got(project: Project, scheme: Scheme, group_id: str) -> tuple[Step, ...]:
    """The steps that a group gets on at least one zone, in order; work without zones is for all."""
    got = {step.id for zone in project.zones for step in zone_steps(scheme, zone.id, group_id)}
    return tuple(step for step in scheme.steps if step.id in got or not step.zone_ids)


def waits_for(project: Project, scheme: Scheme, group_id: str) -> dict[str, tuple[str, ...]]:
    """For each step that the group gets, in order, the steps that must be dry before it.

    They are the last steps before it on each of its zones. Work on the whole model touches every
    zone: it waits for all of them, and all of them wait for it.
    """
    last: dict[str, str] = {}
    whole = ""
    found: dict[str, tuple[str, ...]] = {}
    for step in steps_got(project, scheme, group_id):
        if step.zone_ids:
            zones = [
                zone_id
                for zone_id in step.zone_ids
                if step in zone_steps(scheme, zone_id, group_id)
            ]
            before = [last.get(zone_id, whole) for zone_id in zones]
            last.update(dict.fromkeys(zones, step.id))
        else:
            before = [whole, *last.values()]
            last, whole = {}, step.id
        found[step.id] = tuple(dict.fromkeys(step_id for step_id in before if step_id))
    return found
