"""Colours that the pages show, computed once for what did not change.

Values are kept under the identity of the immutable objects that they depend on: an edit of one
zone's coat makes new objects for that coat only, and all else is found again.
"""

from collections import OrderedDict
from collections.abc import Callable
from dataclasses import fields, is_dataclass
from typing import Any, NamedTuple, TypeVar

import numpy as np
from numpy.typing import NDArray

from schemeforge.appearance import Points, ramp_tones, zone_stages
from schemeforge.desk.state import Direction
from schemeforge.scheme import Project, Scheme, Step, Viewing, Zone, coloured_steps

T = TypeVar("T")
RAMP_POINTS = 64
_MOST_KEPT = 1500
_MOST_BYTES = 48_000_000


class ZoneView(NamedTuple):
    """A zone's stages along one cut.

    Args:
        zone: The zone.
        steps: Its coloured steps; one stage each, or one stage of bare plastic for none.
        xyz: ``(stages, points, 3)``, adapted to D65, white Y = 1.
    """

    zone: Zone
    steps: tuple[Step, ...]
    xyz: NDArray[Any]

    @property
    def final(self) -> NDArray[Any]:
        """The finished zone, ``(points, 3)``."""
        last: NDArray[Any] = self.xyz[-1]
        return last


class _Entry(NamedTuple):
    """What is kept: the objects that it depends on, the result, and its bytes."""

    objects: tuple[object, ...]
    result: Any
    size: int


class ColourBook:
    """Keeps the stages of zones by what they depend on, the latest used, within some memory."""

    def __init__(self) -> None:
        self._kept: OrderedDict[tuple[Any, ...], _Entry] = OrderedDict()
        self._bytes = 0

    def zone(
        self,
        project: Project,
        scheme: Scheme,
        zone: Zone,
        viewing: Viewing,
        *,
        direction: Direction = Direction.RELIEF,
        across: float = 0.5,
        count: int = RAMP_POINTS,
        group_id: str | None = None,
    ) -> ZoneView:
        """Every stage of a zone along the cut.

        Args:
            project: The document.
            scheme: One of its schemes.
            zone: One of its zones.
            viewing: Light, observer, finish, wet or dry.
            direction: The cut; tone goes with relief in both.
            across: Where the other coordinate stands, 0 to 1.
            count: Points along the cut.
            group_id: The group whose share counts; None for the full recipe.
        """
        steps = coloured_steps(scheme, zone.id, group_id)
        mixes = tuple(scheme.mix(step.mix_id) for step in steps if step.mix_id is not None)
        objects = (zone, viewing, project.lights, project.paints, *steps, *mixes)

        def compute() -> ZoneView:
            points = cut_points(zone, direction, across, count)
            stages = zone_stages(project, scheme, zone.id, points, viewing, group_id)
            return ZoneView(zone, steps, np.stack([stage.xyz for stage in stages]))

        return self.keep(("zone", direction, across, count), objects, compute)

    def keep(
        self, values: tuple[Any, ...], objects: tuple[object, ...], compute: Callable[[], T]
    ) -> T:
        """What was computed for those values and those very objects, or computed now.

        Args:
            values: Compared by equality.
            objects: Compared by identity, and held so that no other takes their place.
            compute: Called where nothing is kept.
        """
        key = (*values, *map(id, objects))
        held = self._kept.get(key)
        if held is not None:
            self._kept.move_to_end(key)
            found: T = held.result
            return found
        result = compute()
        entry = _Entry(objects, result, bytes_of(result))
        self._kept[key] = entry
        self._bytes += entry.size
        while len(self._kept) > _MOST_KEPT or (self._bytes > _MOST_BYTES and len(self._kept) > 1):
            self._bytes -= self._kept.popitem(last=False)[1].size
        return result


def bytes_of(value: object, depth: int = 2) -> int:
    """Memory that the arrays in a value hold; a view holds all of what it is a view of.

    Args:
        value: An array, or a tuple, list or dataclass with arrays in it.
        depth: How far down to look: documents beside the arrays hold none.
    """
    if isinstance(value, np.ndarray):
        return bytes_of(value.base) if value.base is not None else value.nbytes
    if depth == 0:
        return 0
    if isinstance(value, tuple | list):
        return sum(bytes_of(item, depth - 1) for item in value)
    if is_dataclass(value):
        return sum(bytes_of(getattr(value, part.name), depth - 1) for part in fields(value))
    return 0


def cut_points(zone: Zone, direction: Direction, across: float, count: int) -> Points:
    """Points along a cut of a zone, from recess to raised edge or from root to tip."""
    sweep = np.linspace(0.0, 1.0, count)
    if direction is Direction.RELIEF:
        return Points(ramp_tones(zone, count), sweep, np.array([across]))
    low, high = zone.tones
    return Points(np.array([low + (high - low) * across]), np.array([across]), sweep)
