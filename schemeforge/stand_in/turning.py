"""A model while it is turned: what is seen from any side, within a frame.

Points of the whole surface are thrown onto the picture, and the nearest in each pixel wins: a
little coarser than a traced view.
"""

from collections import OrderedDict
from dataclasses import dataclass, field
from threading import Lock
from typing import Any, Final

import numpy as np
from numpy.typing import NDArray

from schemeforge.scheme import Finish
from schemeforge.stand_in.cloud import PER_PICTURE, Cloud, whole_view
from schemeforge.stand_in.dressed import Dressed, Shade, dressed
from schemeforge.stand_in.exposure import Exposure
from schemeforge.stand_in.fields import Floats
from schemeforge.stand_in.mapping import Wearing
from schemeforge.stand_in.shading import LightDirection, diffuse, gleam, lit, to_eye
from schemeforge.stand_in.tracing import Frame, camera
from schemeforge.stand_in.views import Turn

_EDGE_ON: Final = 0.03  # points seen from further behind than this are left out
_DEPTHS: Final = 65535
_BITS: Final = 32  # below the depth, for the point
_NOTHING: Final = _DEPTHS << _BITS
_GAP_MM: Final = 0.4
_AHEAD: Final = ((slice(1, None), slice(None)), (slice(None), slice(1, None)))
_BEHIND: Final = ((slice(None, -1), slice(None)), (slice(None), slice(None, -1)))
_MOST_SIDES: Final = 8
_MOST_CLOTHES: Final = 4


@dataclass(frozen=True, slots=True, eq=False)
class Side:
    """What each pixel shows from one side.

    Args:
        turn: From where.
        size: Pixels across and down.
        pixel: Pixels that show the model, ``(m,)``.
        point: Point that each shows, ``(m,)``.
        cover: Share of each that is covered, in 8 bits, ``(m,)``.
        shades: The light on them, by lamp and finish, once it was asked for.
    """

    turn: Turn
    size: int
    pixel: NDArray[np.intp]
    point: NDArray[np.intp]
    cover: NDArray[np.uint8]
    shades: dict[Any, Shade] = field(default_factory=dict)


@dataclass(frozen=True, slots=True, eq=False)
class Clothed:
    """All points with zones on them.

    Args:
        sight: The points in the order of their zones.
        row: Place in that order of each point, its length for none, ``(n,)``.
        zone: Zone of each place in that order, and -1, ``(n + 1,)``.
    """

    sight: Dressed
    row: NDArray[np.intp]
    zone: NDArray[np.int16]


class Turntable:
    """A model that can be seen from any side at once.

    Args:
        cloud: Points on its surface.
        frame: What its pictures take in.
        exposure: What reaches it of spray and light.
    """

    def __init__(self, cloud: Cloud, frame: Frame, exposure: Exposure) -> None:
        self.view = whole_view(cloud, exposure)
        self._place = cloud.place
        self._frame = frame
        view = self.view
        rows = [*view.normal, view.openness, *view.open_to, np.zeros_like(view.openness)]
        self._lit = np.ascontiguousarray(np.array(rows, np.float32).T)
        self._some: dict[int, tuple[NDArray[np.intp], Floats, Floats]] = {}
        self._sides: OrderedDict[tuple[Turn, int], Side] = OrderedDict()
        self._clothed: dict[Wearing, Clothed] = {}
        self._lock = Lock()

    def side(self, turn: Turn, size: int) -> Side:
        """What is seen from there; the latest are kept, for several schemes on one model."""
        key = (turn, size)
        with self._lock:  # who asks second waits for what the first one works out
            found = self._sides.get(key)
            if found is None:
                found = _seen_from(*self._points(size), self._frame, turn, size)
                self._sides[key] = found
                while len(self._sides) > _MOST_SIDES:
                    self._sides.popitem(last=False)
        return found

    def shade(self, side: Side, light: LightDirection, finish: Finish) -> Shade:
        """The light on the points seen; kept with the side."""
        key = (light, finish)
        with self._lock:
            if key not in side.shades:
                side.shades[key] = _shade(side, self._lit.take(side.point, axis=0), light, finish)
            return side.shades[key]

    def _points(self, size: int) -> tuple[NDArray[np.intp], Floats, Floats]:
        """As many points as a picture of that size needs: which, their places and directions."""
        found = self._some.get(size)
        if found is None:
            count = self._place.shape[1]
            many = round(count * min(1.0, (size / PER_PICTURE) ** 2))
            some = (np.arange(many) * (count / max(many, 1))).astype(np.intp)
            place, normal = (a.take(some, axis=1) for a in (self._place, self.view.normal))
            found = self._some[size] = (some, place, normal)
        return found

    def clothed(self, wearing: Wearing) -> Clothed:
        """The points with that zone on each part; kept."""
        found = self._clothed.get(wearing)
        if found is None:
            sight = dressed(self.view, wearing)
            count = len(sight.order)
            row = np.full(len(self.view.seen.part), count, np.intp)
            row[sight.order] = np.arange(count)
            zone = np.full(count + 1, -1, np.int16)
            for index, spots in sight.zones:
                zone[spots] = index
            found = self._clothed[wearing] = Clothed(sight, row, zone)
            while len(self._clothed) > _MOST_CLOTHES:
                self._clothed.pop(next(iter(self._clothed)), None)
        return found


def _seen_from(
    some: NDArray[np.intp], place: Floats, normal: Floats, frame: Frame, turn: Turn, size: int
) -> Side:
    right, up, eye = camera(turn.azimuth, turn.elevation)
    scale, deep = size / frame.span, _DEPTHS / (2.0 * frame.reach)
    rows = np.array([scale * right, -scale * up, -deep * eye], np.float32)
    shift = np.array([size / 2, size / 2, deep * frame.reach]) - rows[:, 1] * frame.middle
    front = np.flatnonzero(eye @ normal > -_EDGE_ON)
    # Rows that rise are fetched in order, which costs less than leaving out first.
    x, y, depth = (row.take(front) for row in rows @ place)
    column, line = (x + np.float32(shift[0])).astype(np.int32), (y + np.float32(shift[1]))
    line = line.astype(np.int32)
    code = np.clip(depth + np.float32(shift[2]), 0.0, _DEPTHS - 1).astype(np.uint16)
    inside = (column > 1) & (column < size - 2) & (line > 1) & (line < size - 2)
    # The nearest is written last; sorting 16 bits takes one pass each.
    order = np.argsort(code, kind="stable")[::-1]
    if not inside.all():
        order = order[inside[order]]
    key = (code.astype(np.int64) << _BITS) + some[front]
    nearest = np.full(size * size, _NOTHING, np.int64)
    nearest[(line * np.int32(size) + column)[order]] = key[order]
    gap = round(_GAP_MM * deep)
    return _closed(nearest.reshape(size, size), gap, turn)


def _closed(nearest: NDArray[np.int64], gap: int, turn: Turn) -> Side:
    """Gaps between points are filled with the nearest beside them, edges come out soft.

    Args:
        nearest: Depth and point of the nearest in each pixel, ``(size, size)``.
        gap: By how much deeper than those around it a point is one of another surface.
        turn: From where.
    """
    size = len(nearest)
    around = _of_nine(nearest, np.minimum)
    surface = _of_nine(around, np.maximum)
    through = (nearest >> _BITS) > (surface >> _BITS) + gap
    shown = np.where(through, around, nearest).reshape(-1)
    solid = (surface != _NOTHING).astype(np.uint16)
    cover = solid * np.uint16(2)
    for axis in (0, 1):
        cover[_AHEAD[axis]] += solid[_BEHIND[axis]]
        cover[_BEHIND[axis]] += solid[_AHEAD[axis]]
    pixel = np.flatnonzero((shown != _NOTHING) & (cover.reshape(-1) > 0))
    codes = np.rint(np.linspace(0.0, 255.0, 7)).astype(np.uint8)
    point = (shown[pixel] & ((1 << _BITS) - 1)).astype(np.intp)
    return Side(turn, size, pixel, point, codes[cover.reshape(-1)[pixel]])


def _of_nine(keys: NDArray[np.int64], pick: np.ufunc) -> NDArray[np.int64]:
    """The least or the most of each pixel and the eight around it."""
    for axis in (0, 1):
        ahead, behind = _AHEAD[axis], _BEHIND[axis]
        out = keys.copy()
        pick(out[ahead], keys[behind], out=out[ahead])
        pick(out[behind], keys[ahead], out=out[behind])
        keys = out
    return keys


def _shade(side: Side, rows: Floats, light: LightDirection, finish: Finish) -> Shade:
    """The light on points given as normal, openness, its vector and nothing, ``(m, 8)``."""
    axes = camera(side.turn.azimuth, side.turn.elevation)
    lamp = light.vector(side.turn.elevation)
    upright = to_eye(np.array([0.0, 1.0, 0.0]), side.turn.elevation)
    normal = axes @ rows[:, :3].T
    open_to = axes @ rows[:, 4:7].T
    openness = np.ascontiguousarray(rows[:, 3])
    factor = diffuse(normal, openness, open_to, lamp, upright)
    shadow = lit(lamp @ normal, openness, open_to, lamp)
    return Shade(factor, gleam(normal, shadow, lamp, finish))
