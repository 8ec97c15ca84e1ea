"""A view with zones on it: spots sorted by zone, so that each zone reads its own table."""

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
        zones: Zones that are seen, with the slice of spots of each.
        levels: Tone, relief and along, ``(3, n)``.
        single: Row of the spot of each pixel that has one, ``(plain,)``.
        several: Rows of the spots of each other pixel; n where one sees past, ``(4, rest)``.
        cover: Share of each of the other pixels that is covered, 0 to 1, ``(rest,)``.
        share: Share of each of its spots that show the model in its colour, ``(rest,)``.
        order: Row in the view of each spot, ``(n,)``.
        zone_index: Zone of each pixel of the picture, -1 for none, ``(size, size)``.
    """

    view: View
    zones: tuple[tuple[int, slice], ...]
    levels: NDArray[np.uint8]
    single: NDArray[np.intp]
    several: NDArray[np.intp]
    cover: Floats
    share: Floats
    order: NDArray[np.intp]
    zone_index: NDArray[np.int16]
    _readings: OrderedDict[Any, Reading] = field(default_factory=OrderedDict)
    _shades: OrderedDict[Any, Shade] = field(default_factory=OrderedDict)
    _lock: Lock = field(default_factory=Lock)

    def reading(self, zone: int, axes: Axes) -> Reading:
        """How a zone's spots read a table with such axes; kept."""
        key = (zone, axes)
        with self._lock:  # views are warmed up beside the window's own thread
            if key not in self._readings:
                some = next(spots for index, spots in self.zones if index == zone)
                self._readings[key] = reading_of(axes, self.levels[:, some])
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
    order = np.argsort(zone, kind="stable")
    order = order[zone[order] >= 0]
    count = len(order)
    row = np.full(len(zone), count, np.intp)
    row[order] = np.arange(count)
    sorted_zone = zone[order]
    zones = []
    for index in np.unique(sorted_zone).tolist():
        low, high = np.searchsorted(sorted_zone, [index, index + 1])
        zones.append((index, slice(int(low), int(high))))
    several = row[seen.plain :].reshape(-1, len(SPREAD)).T
    shown = (several < count).sum(axis=0).astype(np.float32)
    picture = np.full(view.size * view.size, -1, np.int16)
    picture[seen.pixel[: seen.plain]] = zone[: seen.plain]
    picture[seen.pixel[seen.plain :]] = _most_seen(zone[seen.plain :].reshape(-1, len(SPREAD)))
    return Dressed(
        view=view,
        zones=tuple(zones),
        levels=np.ascontiguousarray(view.levels[:, order]),
        single=row[: seen.plain],
        several=np.ascontiguousarray(several),
        cover=shown / np.float32(len(SPREAD)),
        share=np.float32(1.0) / np.maximum(shown, np.float32(1.0)),
        order=order,
        zone_index=picture.reshape(view.size, view.size),
    )


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
