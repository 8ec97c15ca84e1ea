"""The colours that are compared: small tiles of every zone, recess to raised by root to tip."""

from dataclasses import replace
from functools import lru_cache
from typing import Any

import numpy as np
from numpy.typing import NDArray

from schemeforge import colorimetry
from schemeforge.appearance import zone_tile
from schemeforge.scheme import Coat, Layer, Project, Scheme, Spray, Viewing, coloured_steps
from schemeforge.scheme.steps import THICKEST_UM

# Enough that means are within a quarter of a unit of CIELAB, which is shown in whole ones, of
# those over a fine tile; a test holds that.
RELIEF_POINTS = 17
ALONG_POINTS = 5

Array = NDArray[np.float64]


def is_feathered(scheme: Scheme, zone_id: str) -> bool:
    """True where some coat of the zone changes from root to tip."""
    coats = (step.layer for step in coloured_steps(scheme, zone_id))
    return any(isinstance(c, Coat) and not c.placement.along.is_even for c in coats)


def zone_xyz(project: Project, scheme: Scheme, zone_id: str, viewing: Viewing) -> Array:
    """XYZ of the finished zone, ``(17, 5, 3)``, or ``(17, 1, 3)`` where root and tip are alike."""
    along = ALONG_POINTS if is_feathered(scheme, zone_id) else 1
    stages = zone_tile(
        project, scheme, zone_id, viewing, relief_count=RELIEF_POINTS, along_count=along
    )
    return np.asarray(stages[-1].xyz, dtype=np.float64)


def lab(xyz: NDArray[Any]) -> Array:
    """CIELAB of a tile."""
    return np.asarray(colorimetry.lab_from_xyz(xyz), dtype=np.float64)


def mean(tile: NDArray[Any]) -> Array:
    """Mean over a tile's first two axes by the trapezoid rule, shape of the rest."""
    rows, columns, *rest = tile.shape
    whole = np.outer(_weights(rows), _weights(columns)).reshape(-1)
    return np.asarray((whole @ tile.reshape(rows * columns, -1)).reshape(rest))


def along_means(tile: Array) -> Array:
    """Mean over relief at each place along the part, ``(along, 3)``."""
    return np.asarray(np.tensordot(_weights(tile.shape[0]), tile, axes=(0, 0)))


def relief_means(tile: Array) -> Array:
    """Mean along the part at each place of relief, ``(relief, 3)``."""
    return np.asarray(np.tensordot(_weights(tile.shape[1]), tile, axes=(0, 1)))


def along_weights(tile: Array) -> Array:
    """Share of the zone that each place along the part stands for, ``(along,)``."""
    return _weights(tile.shape[1])


@lru_cache(maxsize=8)
def _weights(count: int) -> Array:
    weights = np.ones(count)
    if count > 1:
        weights[[0, -1]] = 0.5
    weights /= weights.sum()
    weights.setflags(write=False)
    return weights


def with_hand(scheme: Scheme, factor: float) -> Scheme:
    """The scheme as a light or a heavy hand lays it: all films times a factor.

    The primer is opaque and stays; films beyond what a document may hold are cut there.
    """
    steps = tuple(replace(step, layer=_scaled(step.layer, factor)) for step in scheme.steps)
    return replace(scheme, steps=steps)


def _scaled(layer: Layer, factor: float) -> Layer:
    if isinstance(layer, Coat):
        return replace(layer, wet_um=min(layer.wet_um * factor, THICKEST_UM))
    if isinstance(layer, Spray):
        return replace(layer, peak_um=min(layer.peak_um * factor, THICKEST_UM))
    return layer
