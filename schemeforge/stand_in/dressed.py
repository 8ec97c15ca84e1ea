"""A view with zones on it: spots sorted by zone, so that each zone reads its own table.

Spots that are a pixel of their own come first, then those of pixels on edges.
"""

from collections import OrderedDict
from dataclasses import dataclass, field
from threading import Lock
from typing import Any, Final

import numpy as np
from numpy.typing import NDArray

from schemeforge.scheme import Finish
from schemeforge.stand_in.axes import Axes
from schemeforge.stand_in.mapping import Wearing
from schemeforge.stand_in.shading import LightDirection, diffuse, gleam, lit, to_eye
from schemeforge.stand_in.tables import Reading, reading_of
from schemeforge.stand_in.tracing import SPREAD
from schemeforge.stand_in.views import View

Floats = NDArray[Any]
# Six schemes of six zones at 384 pixels take half of it.
_MOST_BYTES: Final = 40_000_000
_MOST_LIGHTS: Final = 4
_MOST_WEARINGS: Final = 8


@dataclass(frozen=True, slots=True, eq=False)
class Shade:
    """Light on the spots: a factor on linear colour, and what the finish's gleam adds."""

    factor: Floats
    gleam: Floats | None


@dataclass(frozen=True, slots=True, eq=False)
class Dressed:
    """Spots in the order of their zones.

    Args:
        view: The view.
        zones: Zones that are seen, with the slices of spots of each, up to two.
        levels: Tone, relief and along, ``(3, n)``.
        pixel: Pixel of each of the spots that have one of their own, ``(plain,)``.
        several: Rows of the spots of each pixel on an edge; any where one sees past,
            ``(4, rest)``.
        shares: Share of each of them in the pixel's colour, 0 where one sees past, ``(4, rest)``.
        cover: Share of each of those pixels that is covered, 0 to 255, ``(rest,)``.
        order: Row in the view of each spot, ``(n,)``.
        zone_index: Zone of each pixel of the picture, -1 for none, ``(size, size)``.
    """

    view: View
    zones: tuple[tuple[int, slice], ...]
    levels: NDArray[np.uint8]
    pixel: NDArray[np.intp]
    several: NDArray[np.intp]
    shares: Floats
    cover: NDArray[np.uint8]
    order: NDArray[np.intp]
    zone_index: NDArray[np.int16]
    _readings: OrderedDict[Any, Reading] = field(default_factory=OrderedDict)
    _shades: OrderedDict[Any, Shade] = field(default_factory=OrderedDict)
    _lock: Lock = field(default_factory=Lock)

    def reading(self, spots: slice, axes: Axes) -> Reading:
        """How the spots of a slice read a table with such axes; kept."""
        key = (spots.start, axes)
        with self._lock:  # views are warmed up beside the window's own thread
            if key not in self._readings:
                self._readings[key] = reading_of(axes, self.levels[:, spots])
                held = sum(reading.nbytes for reading in self._readings.values())
                while held > _MOST_BYTES and len(self._readings) > 1:
                    held -= self._readings.popitem(last=False)[1].nbytes
            self._readings.move_to_end(key)
            return self._readings[key]

    def shade(self, light: LightDirection, finish: Finish) -> Shade:
        """The light on the spots; kept."""
        key = (light, finish)
        with self._lock:
            if key not in self._shades:
                self._shades[key] = _shade(self.view, self.order, light, finish)
                while len(self._shades) > _MOST_LIGHTS:
                    self._shades.popitem(last=False)
            self._shades.move_to_end(key)
            return self._shades[key]


def dressed(view: View, worn: Wearing) -> Dressed:
    """The view with that zone on each part; kept with the view."""
    found = view.kept.get(worn)
    if found is None:
        while len(view.kept) >= _MOST_WEARINGS:
            view.kept.pop(next(iter(view.kept)), None)
        found = view.kept[worn] = _dress(view, worn)
    assert isinstance(found, Dressed)  # noqa: S101 - kept under its own key
    return found


def _dress(view: View, worn: Wearing) -> Dressed:
    seen = view.seen
    zone = np.array([*worn, -1], np.int16)[seen.part]  # part -1 reads the last
    whole, edges = np.split(zone, [seen.plain])
    order = np.concatenate([_by_zone(whole), seen.plain + _by_zone(edges)])
    own = int(np.count_nonzero(whole >= 0))
    zones = [*_slices(zone[order[:own]], 0), *_slices(zone[order[own:]], own)]
    row = np.full(len(zone), -1, np.intp)
    row[order] = np.arange(len(order))
    several = row[seen.plain :].reshape(-1, len(SPREAD)).T
    shown = (several >= 0).sum(axis=0)
    picture = np.full(view.size * view.size, -1, np.int16)
    picture[seen.pixel[: seen.plain]] = whole
    picture[seen.pixel[seen.plain :]] = _most_seen(edges.reshape(-1, len(SPREAD)))
    return Dressed(
        view=view,
        zones=tuple(zones),
        levels=np.ascontiguousarray(view.levels[:, order]),
        pixel=seen.pixel[order[:own]].astype(np.intp),
        several=np.ascontiguousarray(np.maximum(several, 0)),
        shares=((several >= 0) / np.maximum(shown, 1)).astype(np.float32),
        cover=np.rint(255.0 / len(SPREAD) * shown).astype(np.uint8),
        order=order,
        zone_index=picture.reshape(view.size, view.size),
    )


def _by_zone(zone: NDArray[np.int16]) -> NDArray[np.intp]:
    """Rows of the spots that show a zone, sorted by it."""
    order = np.argsort(zone, kind="stable")
    return order[zone[order] >= 0]


def _slices(zone: NDArray[np.int16], first: int) -> list[tuple[int, slice]]:
    """The slice of each zone in a sorted row of them that starts there."""
    found = []
    for index in np.unique(zone).tolist():
        low, high = np.searchsorted(zone, [index, index + 1]).tolist()
        found.append((index, slice(first + low, first + high)))
    return found


def _most_seen(zone: NDArray[np.int16]) -> NDArray[np.int16]:
    """The zone that most spots of each pixel show, any zone before none."""
    votes = (zone[:, :, np.newaxis] == zone[:, np.newaxis, :]).sum(axis=2)
    votes[zone < 0] = 0
    return np.take_along_axis(zone, votes.argmax(axis=1)[:, np.newaxis], axis=1)[:, 0]


def _shade(view: View, order: NDArray[np.intp], light: LightDirection, finish: Finish) -> Shade:
    elevation = view.turn.elevation
    lamp = light.vector(elevation)
    upright = to_eye(np.array([0.0, 1.0, 0.0]), elevation)
    normal = view.normal[:, order]
    openness, open_to = view.openness[order], view.open_to[:, order]
    factor = diffuse(normal, openness, open_to, lamp, upright)
    shadow = lit(lamp @ normal, openness, open_to, lamp)
    return Shade(factor, gleam(normal, shadow, lamp, finish))
