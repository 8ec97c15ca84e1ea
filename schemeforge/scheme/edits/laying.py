"""Coats put onto a zone in the place of others, as when a recipe is taken over: one edit."""

from collections.abc import Sequence
from dataclasses import dataclass, replace

from schemeforge.scheme.candidate import Scheme, Share, ShareKind
from schemeforge.scheme.edits._common import (
    fresh_id,
    fresh_name,
    with_scheme,
    without_loose_records,
)
from schemeforge.scheme.edits.work_list import without_idle_mixes
from schemeforge.scheme.placement import Placement
from schemeforge.scheme.project import Project
from schemeforge.scheme.stack import coloured_steps
from schemeforge.scheme.steps import Coat, Ingredient, Mix, Primer, Spray, Step, Technique


@dataclass(frozen=True, slots=True, kw_only=True)
class NewCoat:
    """A coat with a pot of its own, before it has a step.

    Args:
        name: What its pot is called; its step is called after it and the technique.
        ingredients: What is in the pot.
        technique: How it is laid.
        wet_um: Wet film of one pass.
        passes: How many.
        placement: Where it goes.
    """

    name: str
    ingredients: tuple[Ingredient, ...]
    technique: Technique
    wet_um: float
    passes: int
    placement: Placement

    def layer(self, mix_id: str) -> Coat:
        """The coat of the pot of that id."""
        return Coat(
            mix_id=mix_id,
            technique=self.technique,
            wet_um=self.wet_um,
            passes=self.passes,
            placement=self.placement,
        )


def lay_coats(
    project: Project,
    scheme_id: str,
    zone_id: str,
    coats: Sequence[NewCoat],
    *,
    instead_of: Sequence[str] = (),
) -> tuple[Project, tuple[str, ...]]:
    """The project with new coats on a zone, and the ids of their steps, lowest first.

    Of the coats that go the lowest keeps its step, with its name and its own minutes, where it
    covers this zone alone; a step that covers other zones as well only leaves this one. Groups
    that had the coats that go in their own stack, or went without them, do so with the new ones.

    Args:
        project: The document.
        scheme_id: The scheme.
        zone_id: The zone.
        coats: Lowest first.
        instead_of: Ids of the zone's coats that go; where there are none the new ones lie on top.

    Raises:
        UnknownNameError: For a scheme or zone that does not exist.
    """
    project.zone(zone_id)
    laid: list[str] = []

    def change(scheme: Scheme) -> Scheme:
        steps, mixes = list(scheme.steps), list(scheme.mixes)
        at, kept = _place(scheme, zone_id, instead_of)
        for coat in coats:
            pot = fresh_name(coat.name, (mix.name for mix in mixes))
            mix_id = fresh_id(pot, (mix.id for mix in mixes))
            mixes.append(Mix(id=mix_id, name=pot, ingredients=coat.ingredients))
            if kept is not None:
                step, kept = replace(kept, layer=coat.layer(mix_id)), None
                steps[at] = step
            else:
                name = fresh_name(f"{coat.name} {coat.technique.value}", (s.name for s in steps))
                step_id = fresh_id(name, (s.id for s in steps))
                step = Step(id=step_id, name=name, zone_ids=(zone_id,), layer=coat.layer(mix_id))
                steps.insert(at, step)
            laid.append(step.id)
            at += 1
        gone = [step_id for step_id in instead_of if step_id not in laid]
        new = [step_id for step_id in laid if step_id not in instead_of]
        left = (_leaving(step, zone_id, gone) for step in steps)
        changed = replace(
            scheme,
            mixes=tuple(mixes),
            steps=tuple(step for step in left if step is not None),
            shares=tuple(_shared(share, zone_id, gone, new, laid) for share in scheme.shares),
        )
        return without_idle_mixes(changed)

    return without_loose_records(with_scheme(project, scheme_id, change)), tuple(laid)


def brush_instead(project: Project, scheme_id: str, step_id: str, coat: Coat, mix: Mix) -> Project:
    """A brushed coat in the place of what a step sprays, on all of its zones.

    Its pot is one of the scheme's that holds the very same, else a new one.
    """

    def change(scheme: Scheme) -> Scheme:
        pot = next((pot for pot in scheme.mixes if pot.ingredients == mix.ingredients), None)
        mixes = scheme.mixes
        if pot is None:
            name = fresh_name(mix.name, (known.name for known in mixes))
            pot = replace(mix, id=fresh_id(name, (known.id for known in mixes)), name=name)
            mixes = (*mixes, pot)
        layer = replace(coat, mix_id=pot.id)
        steps = tuple(replace(s, layer=layer) if s.id == step_id else s for s in scheme.steps)
        return without_idle_mixes(replace(scheme, steps=steps, mixes=mixes))

    project.scheme(scheme_id).step(step_id)
    return with_scheme(project, scheme_id, change)


def _place(scheme: Scheme, zone_id: str, instead_of: Sequence[str]) -> tuple[int, Step | None]:
    """Where the first new coat goes, and the step that is kept for it."""
    old = next((n for n, step in enumerate(scheme.steps) if step.id in instead_of), None)
    if old is not None:
        first = scheme.steps[old]
        return old, first if first.zone_ids == (zone_id,) else None
    stack = coloured_steps(scheme, zone_id)
    if stack:
        return scheme.steps.index(stack[-1]) + 1, None
    under = [n for n, s in enumerate(scheme.steps) if isinstance(s.layer, Primer | Spray)]
    return max(under, default=-1) + 1, None


def _leaving(step: Step, zone_id: str, gone: Sequence[str]) -> Step | None:
    """The step without the zone where it is one of those that go; None where no zone is left."""
    if step.id not in gone:
        return step
    others = tuple(other for other in step.zone_ids if other != zone_id)
    return replace(step, zone_ids=others) if others else None


def _shared(
    share: Share, zone_id: str, gone: Sequence[str], new: Sequence[str], laid: Sequence[str]
) -> Share:
    """Who had, or went without, coats that are replaced."""
    if share.zone_id != zone_id or share.kind not in {ShareKind.SHORT, ShareKind.OWN}:
        return share
    named = [step_id for step_id in share.step_ids if step_id not in gone]
    if len(named) < len(share.step_ids) or any(step_id in laid for step_id in named):
        named += new
    return replace(share, step_ids=tuple(named))
