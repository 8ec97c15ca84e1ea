"""Pictures of a project's scheme on a stand-in model."""

from collections.abc import Mapping
from dataclasses import dataclass
from functools import lru_cache
from typing import Any, Final

import numpy as np
from numpy.typing import NDArray

from schemeforge import checks, colorimetry
from schemeforge.appearance.kept import Kept
from schemeforge.scheme import Finish, Project, Scheme, Viewing, coloured_steps
from schemeforge.stand_in.catalogue import WARDEN, Model
from schemeforge.stand_in.dressed import Dressed, Shade, dressed
from schemeforge.stand_in.exposure import SprayCone
from schemeforge.stand_in.mapping import Wearing, zones_worn
from schemeforge.stand_in.shading import LightDirection
from schemeforge.stand_in.store import StandIns
from schemeforge.stand_in.tables import ZoneTable, zone_table
from schemeforge.stand_in.views import Turn, View

Floats = NDArray[Any]
LIGHT: Final = LightDirection()
SPRAY: Final = SprayCone()
FRONT: Final = Turn()
SMALLEST, LARGEST = 16, 2048
_ENTRIES: Final = 65536
_WEARING: Kept[Wearing] = Kept(64)
_TABLES: Kept[ZoneTable] = Kept(512)


@dataclass(frozen=True, slots=True, eq=False)
class Picture:
    """A picture of a model.

    Args:
        rgba: Encoded sRGB with alpha, not multiplied by it, uint8 ``(height, width, 4)``.
        zone_index: Index of the zone at each pixel in the project's order, -1 for none,
            int16 ``(height, width)``.
    """

    rgba: NDArray[np.uint8]
    zone_index: NDArray[np.int16]

    def zone_at(self, x: int, y: int) -> int | None:
        """Index of the zone at a pixel right of and below the upper left one, None for none."""
        height, width = self.zone_index.shape
        if not (0 <= x < width and 0 <= y < height):
            return None
        found = int(self.zone_index[y, x])
        return None if found < 0 else found


def render(
    project: Project,
    scheme: Scheme,
    model: Model = WARDEN,
    viewing: Viewing | None = None,
    *,
    views: StandIns,
    size: int = 512,
    view: Turn = FRONT,
    light_direction: LightDirection = LIGHT,
    stage: Mapping[str, int] | int | None = None,
    group_id: str | None = None,
    spray: SprayCone = SPRAY,
    zone_id: str | None = None,
) -> Picture:
    """A picture of the scheme on the model.

    Args:
        project: The document.
        scheme: One of its schemes.
        model: A stand-in of the catalogue.
        viewing: Light, observer, finish, wet or dry; the project's own where None.
        views: Where views of models are kept; a view that is not there yet is built first.
        size: Pixels across and down, 16 to 2048.
        view: From where the model is seen.
        light_direction: Where the lamp stands.
        stage: After how many coloured steps, for all zones or by zone id; finished where None.
        group_id: The group whose share of the coats counts; None for the full recipe.
        spray: How the undercoat is sprayed.
        zone_id: A zone that all parts wear; None for each part its own.

    Raises:
        InputError: For a size out of range.
        UnknownNameError: For a light, zone or group that does not exist.
        PaintMissingError: For a paint that the project does not carry.
    """
    checks.whole(size, "Size of the picture", low=SMALLEST, high=LARGEST)
    side = views.view(model, size, view, spray)
    return picture_of(
        project,
        scheme,
        side,
        worn(project, model, zone_id),
        viewing,
        light_direction=light_direction,
        stage=stage,
        group_id=group_id,
    )


def worn(project: Project, model: Model, zone_id: str | None = None) -> Wearing:
    """Index of the zone that each part of the model wears; kept while the zones stay."""
    if zone_id is not None:
        index = [zone.id for zone in project.zones].index(project.zone(zone_id).id)
        return (index,) * len(model.parts)
    key = (project.zones, project.size, model)
    return _WEARING.get(key, (), lambda: zones_worn(project, model.parts))


def picture_of(
    project: Project,
    scheme: Scheme,
    view: View,
    wearing: Wearing,
    viewing: Viewing | None = None,
    *,
    light_direction: LightDirection = LIGHT,
    stage: Mapping[str, int] | int | None = None,
    group_id: str | None = None,
) -> Picture:
    """As ``render``, on a view that is there: this is what a drag calls."""
    sight = dressed(view, wearing)
    viewing = project.viewing if viewing is None else viewing
    linear = spot_colours(project, scheme, sight, viewing, light_direction, stage, group_id)
    return Picture(_pixels(sight, linear), sight.zone_index)


def spot_colours(
    project: Project,
    scheme: Scheme,
    sight: Dressed,
    viewing: Viewing,
    light_direction: LightDirection = LIGHT,
    stage: Mapping[str, int] | int | None = None,
    group_id: str | None = None,
) -> Floats:
    """Linear sRGB of the lit spots, before it is clipped and rounded, ``(3, n)``, float32."""
    finish = Finish.GLOSS if viewing.wet else viewing.finish
    shade = sight.shade(light_direction, finish)
    linear = surface_colours(project, scheme, sight, viewing, stage, group_id)
    return lit_colours(linear, shade)


def surface_colours(
    project: Project,
    scheme: Scheme,
    sight: Dressed,
    viewing: Viewing,
    stage: Mapping[str, int] | int | None = None,
    group_id: str | None = None,
) -> Floats:
    """Linear sRGB of the spots in full light: the colours of the engine, ``(3, n)``, float32."""
    linear = np.empty((3, len(sight.order)), np.float32)
    tables = {}
    for index in dict.fromkeys(index for index, _ in sight.zones):
        zone = project.zones[index]
        steps = stage.get(zone.id) if isinstance(stage, Mapping) else stage
        tables[index] = _table(project, scheme, zone.id, viewing, group_id, steps)
    for index, spots in sight.zones:
        table = tables[index]
        sight.reading(spots, table.axes).linear(table, linear[:, spots])
    return linear


def lit_colours(linear: Floats, shade: Shade) -> Floats:
    """Colours under the lamp, in place."""
    linear *= shade.factor
    if shade.gleam is not None:
        linear += shade.gleam
    return linear


def _table(
    project: Project,
    scheme: Scheme,
    zone_id: str,
    viewing: Viewing,
    group_id: str | None,
    steps: int | None,
) -> ZoneTable:
    """The zone's table, kept by what it depends on."""
    stack = coloured_steps(scheme, zone_id, group_id)[:steps]
    mixes = tuple(scheme.mix(step.mix_id) for step in stack if step.mix_id is not None)
    sources = (project.paints, project.lights, viewing, *stack, *mixes)
    return _TABLES.get(
        sources,
        (),
        lambda: zone_table(project, scheme, zone_id, viewing, group_id, steps),
    )


def _pixels(sight: Dressed, linear: Floats) -> NDArray[np.uint8]:
    """The picture; a pixel on an edge is the mean of its spots in linear light."""
    size, seen = sight.view.size, sight.view.seen
    out = np.zeros((size * size, 4), np.uint8)
    packed = out.view(np.uint32)[:, 0]
    own, rest = len(sight.pixel), seen.pixel[seen.plain :]
    inner = np.full((own, 4), 255, np.uint8)
    edge = np.empty((len(rest), 4), np.uint8)
    edge[:, 3] = sight.cover
    for n, row in enumerate(linear):
        mean = np.minimum(row.take(sight.several, mode="clip"), np.float32(1.0))
        mean *= sight.shares
        edge[:, n] = codes_of(mean.sum(axis=0))
        inner[:, n] = codes_of(row[:own])
    packed[sight.pixel] = inner.view(np.uint32)[:, 0]
    packed[rest] = edge.view(np.uint32)[:, 0]
    return out.reshape(size, size, 4)


def codes_of(linear: Floats) -> NDArray[np.uint8]:
    """8-bit codes of linear light, at most 0.525 of a code off; the array is used up."""
    linear *= _ENTRIES
    linear += np.float32(0.5)
    return _curve().take(linear.astype(np.int32), mode="clip")


@lru_cache(maxsize=1)
def _curve() -> NDArray[np.uint8]:
    steps = np.linspace(0.0, 1.0, _ENTRIES + 1)
    return np.rint(colorimetry.encode(steps) * 255).astype(np.uint8)
