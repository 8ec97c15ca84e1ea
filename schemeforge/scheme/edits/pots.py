"""Edits of mixes: parts, ingredients, one pot shared by several steps or split."""

from dataclasses import replace

from schemeforge.errors import InputError
from schemeforge.scheme.candidate import Scheme
from schemeforge.scheme.edits._common import fresh_id, fresh_name, swap, with_scheme
from schemeforge.scheme.edits.work_list import with_mix, without_idle_mixes
from schemeforge.scheme.project import Project
from schemeforge.scheme.steps import Ingredient, Mix, Step


def steps_sharing(scheme: Scheme, mix_id: str) -> tuple[Step, ...]:
    """The steps that are laid from that pot: an edit of it touches them all."""
    scheme.mix(mix_id)
    return tuple(step for step in scheme.steps if step.mix_id == mix_id)


def update_mix(project: Project, scheme_id: str, mix: Mix) -> Project:
    """Another version of the mix of that id, for every step laid from it."""
    return with_scheme(
        project,
        scheme_id,
        lambda scheme: replace(scheme, mixes=swap(scheme.mixes, mix, "mix")),
    )


def rename_mix(project: Project, scheme_id: str, mix_id: str, name: str) -> Project:
    """Another name for a pot."""
    mix = project.scheme(scheme_id).mix(mix_id)
    return update_mix(project, scheme_id, replace(mix, name=name))


def set_parts(
    project: Project, scheme_id: str, mix_id: str, paint_id: str, parts: float
) -> Project:
    """Parts of one ingredient: changed, added, or taken out where parts is 0."""
    mix = project.scheme(scheme_id).mix(mix_id)
    if parts == 0.0:
        left = tuple(i for i in mix.ingredients if i.paint_id != paint_id)
        if not left:
            raise InputError(
                f'Mix "{mix.name}" would hold nothing', remedy="add another ingredient first"
            )
        return update_mix(project, scheme_id, replace(mix, ingredients=left))
    project.paint(paint_id)
    new = Ingredient(paint_id=paint_id, parts=parts)
    known = any(i.paint_id == paint_id for i in mix.ingredients)
    if known:
        changed = tuple(new if i.paint_id == paint_id else i for i in mix.ingredients)
    else:
        changed = (*mix.ingredients, new)
    return update_mix(project, scheme_id, replace(mix, ingredients=changed))


def swap_ingredient(
    project: Project, scheme_id: str, mix_id: str, old_paint_id: str, new_paint_id: str
) -> Project:
    """Another paint in the same parts, as for a substitute; merged where it is already in."""
    mix = project.scheme(scheme_id).mix(mix_id)
    project.paint(new_paint_id)
    parts = mix.parts_of(old_paint_id) + (
        mix.parts_of(new_paint_id) if new_paint_id != old_paint_id else 0.0
    )
    if mix.parts_of(old_paint_id) == 0.0:
        raise InputError(f'Mix "{mix.name}" holds no "{old_paint_id}"')
    changed = tuple(
        Ingredient(paint_id=new_paint_id, parts=parts) if i.paint_id == old_paint_id else i
        for i in mix.ingredients
        if i.paint_id != new_paint_id or new_paint_id == old_paint_id
    )
    return update_mix(project, scheme_id, replace(mix, ingredients=changed))


def own_pot(project: Project, scheme_id: str, step_id: str) -> Project:
    """A pot of its own for a step that shared one, with the same mix to begin with."""

    def change(scheme: Scheme) -> Scheme:
        step = scheme.step(step_id)
        if step.mix_id is None:
            raise InputError(f'"{step.name}" has no mix')
        if len(steps_sharing(scheme, step.mix_id)) == 1:
            return scheme
        mix = scheme.mix(step.mix_id)
        name = fresh_name(f"{mix.name}, own pot", (m.name for m in scheme.mixes))
        twin = replace(mix, id=fresh_id(name, (m.id for m in scheme.mixes)), name=name)
        steps = swap(scheme.steps, with_mix(step, twin.id), "step")
        return replace(scheme, mixes=(*scheme.mixes, twin), steps=steps)

    return with_scheme(project, scheme_id, change)


def use_pot(project: Project, scheme_id: str, step_id: str, mix_id: str) -> Project:
    """A step laid from another pot of the scheme; its old pot goes where nothing uses it."""

    def change(scheme: Scheme) -> Scheme:
        scheme.mix(mix_id)
        step = scheme.step(step_id)
        if step.mix_id is None:
            raise InputError(f'"{step.name}" has no mix')
        steps = swap(scheme.steps, with_mix(step, mix_id), "step")
        return without_idle_mixes(replace(scheme, steps=steps))

    return with_scheme(project, scheme_id, change)
