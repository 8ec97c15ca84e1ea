"""Pictures of a model while it is turned.

What colours its points have depends on no side, so that from one frame to the next only the light
on those that are seen is worked out.
"""

from collections.abc import Mapping
from typing import Any, Final

import numpy as np
from numpy.typing import NDArray

from schemeforge.appearance.kept import Kept
from schemeforge.scheme import Finish, Project, Scheme, Viewing
from schemeforge.stand_in.mapping import Wearing
from schemeforge.stand_in.pictures import LIGHT, Picture, codes_of, lit_colours, surface_colours
from schemeforge.stand_in.shading import LightDirection
from schemeforge.stand_in.turning import Turntable
from schemeforge.stand_in.views import Turn

_COLOURS: Final[Kept[NDArray[Any]]] = Kept(12)


def turned_picture(
    project: Project,
    scheme: Scheme,
    turntable: Turntable,
    wearing: Wearing,
    turn: Turn,
    size: int,
    viewing: Viewing | None = None,
    *,
    light_direction: LightDirection = LIGHT,
    stage: Mapping[str, int] | int | None = None,
    group_id: str | None = None,
) -> Picture:
    """As ``pictures.picture_of``, from any side and of any size."""
    viewing = project.viewing if viewing is None else viewing
    finish = Finish.GLOSS if viewing.wet else viewing.finish
    clothed = turntable.clothed(wearing)
    stages = tuple(stage.items()) if isinstance(stage, Mapping) else stage
    colours = _COLOURS.get(
        (project, scheme, viewing, clothed),
        (stages, group_id),
        lambda: surface_colours(project, scheme, clothed.sight, viewing, stage, group_id),
    )
    side = turntable.side(turn, size)
    shown = clothed.row[side.point]
    linear = colours.take(shown, axis=1, mode="clip")
    lit_colours(linear, turntable.shade(side, light_direction, finish))
    some = np.empty((len(side.pixel), 4), np.uint8)
    for n, row in enumerate(linear):
        some[:, n] = codes_of(row)
    zone = clothed.zone[shown]
    some[:, 3] = np.where(zone >= 0, side.cover, 0)
    rgba = np.zeros((size * size, 4), np.uint8)
    rgba[side.pixel] = some
    zones = np.full(size * size, -1, np.int16)
    zones[side.pixel] = zone
    return Picture(rgba.reshape(size, size, 4), zones.reshape(size, size))
