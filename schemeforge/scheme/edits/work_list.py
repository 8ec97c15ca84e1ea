"""Edits of a scheme's steps: add, change, move, copy, remove, and their coats."""

from collections.abc import Iterable
from dataclasses import replace

from schemeforge.errors import InputError
from schemeforge.scheme.candidate import Scheme
from schemeforge.scheme.edits._common import (
    drop,
    fresh_id,
    fresh_name,
    insert,
    move,
    swap,
    with_scheme,
    without_loose_records,
)
from schemeforge.scheme.placement import Placement
from schemeforge.scheme.project import Project
from schemeforge.scheme.steps import Coat, Layer, Mix, Primer, Spray, Step, Technique, Work


def add_step(
    project: Project, scheme_id: str, step: Step, *, at: int | None = None, mix: Mix | None = None
) -> Project:
    """One more step, last or at that index, with its mix where that is new."""

    def change(scheme: Scheme) -> Scheme:
        mixes = scheme.mixes if mix is None else (*scheme.mixes, mix)
        return replace(scheme, mixes=mixes, steps=insert(scheme.steps, step, at))

    return with_scheme(project, scheme_id, change)


def update_step(project: Project, scheme_id: str, step: Step) -> Project:
    """Another version of the step of that id; mixes that no step uses any more go."""

    def change(scheme: Scheme) -> Scheme:
        return without_idle_mixes(replace(scheme, steps=swap(scheme.steps, step, "step")))

    return with_scheme(project, scheme_id, change)


def rename_step(project: Project, scheme_id: str, step_id: str, name: str) -> Project:
    """Another name for a step."""
    step = project.scheme(scheme_id).step(step_id)
    return update_step(project, scheme_id, replace(step, name=name))


def remove_step(project: Project, scheme_id: str, step_id: str) -> Project:
    """Without a step; a mix that no other step uses goes with it."""

    def change(scheme: Scheme) -> Scheme:
        steps = drop(scheme.steps, step_id, "step")
        shares = tuple(
            replace(share, step_ids=tuple(i for i in share.step_ids if i != step_id))
            for share in scheme.shares
        )
        return without_idle_mixes(replace(scheme, steps=steps, shares=shares))

    return without_loose_records(with_scheme(project, scheme_id, change))


def move_step(project: Project, scheme_id: str, step_id: str, to: int) -> Project:
    """The step at another index; raises InputError where the undercoat would no longer be first."""
    return with_scheme(
        project,
        scheme_id,
        lambda scheme: replace(scheme, steps=move(scheme.steps, step_id, to, "step")),
    )


def move_in_zone(project: Project, scheme_id: str, step_id: str, zone_id: str, by: int) -> Project:
    """The step moved past its ``by``-th neighbour among the zone's steps, up (+) or down (-)."""
    scheme = project.scheme(scheme_id)
    stack = [s for s in scheme.steps if zone_id in s.zone_ids and not isinstance(s.layer, Work)]
    ids = [s.id for s in stack]
    if step_id not in ids:
        raise InputError(f'"{scheme.step(step_id).name}" is not a coat on that zone')
    here = ids.index(step_id)
    there = max(0, min(here + by, len(ids) - 1))
    if there == here:
        return project
    target = scheme.steps.index(stack[there])
    return move_step(project, scheme_id, step_id, target)


def duplicate_step(project: Project, scheme_id: str, step_id: str) -> Project:
    """A copy of a coat or of work right behind it, from the same pot."""
    scheme = project.scheme(scheme_id)
    step = scheme.step(step_id)
    if isinstance(step.layer, Primer | Spray):
        raise InputError(
            f'"{step.name}" is part of the undercoat, which a zone has once',
            remedy="add an airbrushed coat instead",
        )
    name = fresh_name(f"{step.name}, again", (s.name for s in scheme.steps))
    twin = replace(step, id=fresh_id(name, (s.id for s in scheme.steps)), name=name)
    return add_step(project, scheme_id, twin, at=scheme.steps.index(step) + 1)


def copy_step(
    project: Project,
    scheme_id: str,
    step_id: str,
    *,
    to_scheme_id: str,
    zone_ids: Iterable[str] | None = None,
) -> Project:
    """A copy of a step on other zones or in another scheme, where it lands last.

    Within a scheme the copy uses the same pot; in another scheme it brings its mix along, or
    uses the pot there that holds the very same mix.
    """
    source = project.scheme(scheme_id)
    target = project.scheme(to_scheme_id)
    step = source.step(step_id)
    zones = step.zone_ids if zone_ids is None else tuple(zone_ids)
    name = fresh_name(step.name, (s.name for s in target.steps))
    copy = replace(step, id=fresh_id(name, (s.id for s in target.steps)), name=name, zone_ids=zones)
    mix: Mix | None = None
    if step.mix_id is not None and to_scheme_id != scheme_id:
        pot = source.mix(step.mix_id)
        same = next((m for m in target.mixes if m.ingredients == pot.ingredients), None)
        if same is None:
            mix = replace(pot, id=fresh_id(pot.name, (m.id for m in target.mixes)))
        copy = with_mix(copy, (mix or same or pot).id)
    return add_step(project, to_scheme_id, copy, mix=mix)


def copy_stack(project: Project, scheme_id: str, from_zone_id: str, to_zone_id: str) -> Project:
    """The coats of one zone laid on another too, in place of its own; work stays as it is."""

    def change(scheme: Scheme) -> Scheme:
        steps = []
        for step in scheme.steps:
            if isinstance(step.layer, Work):
                steps.append(step)
                continue
            others = tuple(z for z in step.zone_ids if z != to_zone_id)
            zones = (*others, to_zone_id) if from_zone_id in step.zone_ids else others
            if set(zones) == set(step.zone_ids):
                steps.append(step)
            elif zones:
                steps.append(replace(step, zone_ids=zones))
        kept = {step.id for step in steps}
        shares = tuple(
            replace(share, step_ids=tuple(i for i in share.step_ids if i in kept))
            for share in scheme.shares
        )
        return without_idle_mixes(replace(scheme, steps=tuple(steps), shares=shares))

    project.zone(from_zone_id)
    project.zone(to_zone_id)
    return without_loose_records(with_scheme(project, scheme_id, change))


def set_layer(project: Project, scheme_id: str, step_id: str, layer: Layer) -> Project:
    """Another layer for a step."""
    step = project.scheme(scheme_id).step(step_id)
    return update_step(project, scheme_id, replace(step, layer=layer))


def set_coat(
    project: Project,
    scheme_id: str,
    step_id: str,
    *,
    wet_um: float | None = None,
    passes: int | None = None,
    technique: Technique | None = None,
    placement: Placement | None = None,
) -> Project:
    """Some of a coat's values changed; raises InputError where the step is no coat."""
    step = project.scheme(scheme_id).step(step_id)
    coat = step.coat
    if coat is None:
        raise InputError(f'"{step.name}" is not a coat', remedy="choose a wash, glaze or layer")
    new = Coat(
        mix_id=coat.mix_id,
        technique=coat.technique if technique is None else technique,
        wet_um=coat.wet_um if wet_um is None else wet_um,
        passes=coat.passes if passes is None else passes,
        placement=coat.placement if placement is None else placement,
    )
    return set_layer(project, scheme_id, step_id, new)


def set_zones(project: Project, scheme_id: str, step_id: str, zone_ids: Iterable[str]) -> Project:
    """Other zones for a step, in the project's order."""
    wanted = set(zone_ids)
    for zone_id in wanted:
        project.zone(zone_id)
    zones = tuple(zone.id for zone in project.zones if zone.id in wanted)
    step = project.scheme(scheme_id).step(step_id)
    return update_step(project, scheme_id, replace(step, zone_ids=zones))


def with_mix(step: Step, mix_id: str) -> Step:
    """The step laying another mix; work is returned as it is."""
    layer = step.layer
    if isinstance(layer, Work):
        return step
    return replace(step, layer=replace(layer, mix_id=mix_id))


def without_idle_mixes(scheme: Scheme) -> Scheme:
    """The scheme without mixes that no step uses."""
    used = {step.mix_id for step in scheme.steps}
    mixes = tuple(mix for mix in scheme.mixes if mix.id in used)
    return scheme if len(mixes) == len(scheme.mixes) else replace(scheme, mixes=mixes)
