"""What a recipe is laid on: the picked zone as it is, or a plain tone."""

from dataclasses import dataclass
from enum import StrEnum
from typing import Any

import numpy as np
from numpy.typing import NDArray

from schemeforge import optics
from schemeforge.appearance import Look, Points, final_xyz
from schemeforge.recipe import Bed, plain_bed, zone_bed
from schemeforge.scheme import Coat, Placement, Project, Scheme, Viewing, Zone, coloured_steps

# Internal reflectance of plain grounds: black primer, a mid grey, an off-white that covers.
_PLAIN = {"black": 0.02, "grey": 0.3, "white": 0.85}


class GroundKind(StrEnum):
    """Grounds to choose from."""

    UNDERCOAT = "undercoat"
    IN_PLACE = "in place"
    ON_TOP = "on top"
    BLACK = "black"
    GREY = "grey"
    WHITE = "white"

    @property
    def is_plain(self) -> bool:
        """True for a tone that no zone of the project has."""
        return self.value in _PLAIN


@dataclass(frozen=True, slots=True, kw_only=True)
class Ground:
    """A ground on a zone of a scheme.

    Args:
        kind: Which.
        step_ids: The steps that the recipe takes the place of, for ``IN_PLACE``.
    """

    kind: GroundKind = GroundKind.UNDERCOAT
    step_ids: tuple[str, ...] = ()

    def replaces(self, scheme: Scheme, zone_id: str) -> tuple[str, ...]:
        """Ids of the zone's coats that go where a recipe is put in."""
        coats = [s.id for s in coloured_steps(scheme, zone_id) if isinstance(s.layer, Coat)]
        if self.kind is GroundKind.UNDERCOAT:
            return tuple(coats)
        if self.kind is GroundKind.IN_PLACE:
            return tuple(step_id for step_id in coats if step_id in self.step_ids)
        return ()


def held(ground: Ground, scheme: Scheme, zone_id: str) -> Ground:
    """The ground where the scheme still has it, else the undercoat."""
    if ground.kind is GroundKind.IN_PLACE and not ground.replaces(scheme, zone_id):
        return Ground()
    return ground


def placement_of(ground: Ground, scheme: Scheme) -> Placement | None:
    """Where the coat goes that a recipe takes the place of, None where it is no coat's place."""
    if ground.kind is not GroundKind.IN_PLACE:
        return None
    coats = [scheme.step(step_id).coat for step_id in ground.step_ids]
    return next((coat.placement for coat in coats if coat is not None), None)


def bed_of(
    project: Project,
    scheme: Scheme,
    zone: Zone,
    ground: Ground,
    places: tuple[float, ...],
    placement: Placement,
) -> Bed:
    """The bed that the ground offers at those places of the relief.

    Raises:
        InputError: As `schemeforge.recipe.zone_bed`.
    """
    if ground.kind.is_plain:
        plain = plain_bed(np.full((len(places), optics.bands.COUNT), _PLAIN[ground.kind.value]))
        film = placement.relief.film(np.array(places))
        return Bed(plain.reflectance, plain.weights, film, tone=places, relief=places)
    stack = coloured_steps(scheme, zone.id)
    top = stack[-1].id if ground.kind is GroundKind.ON_TOP and stack else None
    return zone_bed(
        project,
        scheme,
        zone.id,
        relief=places,
        after=top,
        instead_of=ground.replaces(scheme, zone.id),
        placement=placement,
    )


def ground_xyz(
    project: Project,
    scheme: Scheme,
    zone: Zone,
    ground: Ground,
    places: tuple[float, ...],
    look: Look,
    viewing: Viewing,
) -> NDArray[Any]:
    """The ground as it is seen before the recipe is laid, XYZ ``(places, 3)``."""
    if ground.kind.is_plain:
        R = np.full((len(places), optics.bands.COUNT), _PLAIN[ground.kind.value])
        return np.asarray(optics.seen(R, look.surface) @ look.matrix())
    stack = coloured_steps(scheme, zone.id)
    gone = ground.replaces(scheme, zone.id)
    first = next((n for n, step in enumerate(stack) if step.id in gone), len(stack))
    below = {step.id for step in stack[:first]}
    steps = tuple(s for s in scheme.steps if s.id in below)
    bare = Scheme(id=scheme.id, name=scheme.name, mixes=scheme.mixes, steps=steps)
    relief = np.array(places)
    low, high = zone.tones
    points = Points(low + (high - low) * relief, relief, 0.5)
    return final_xyz(project, bare, zone.id, points, viewing)
