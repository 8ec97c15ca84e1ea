"""The outline that stands for the model: a shield of zones on a disc, the same for every scheme.

Every zone covers its share of the painted area. Body zones lie on the shield like rows of
plumage, root on top and tip below; the top of the base is the disc, its rim the edge of it. What
a zone's surface is like decides where its recesses run: over folds, between scales, or towards
the edges of a smooth panel.
"""

from dataclasses import dataclass
from functools import lru_cache
from itertools import pairwise
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from schemeforge.scheme import AreaBasis, Project, Surfacing

Array = NDArray[np.float64]

# Height over width of the whole outline, how far rows of plumage sag in the middle, and the
# shield's width over the disc's.
_TALL = 1.3
_SAG = 0.07
_GAP = 0.02
_WIDE = 0.8
_LINE = 0.006


class ZoneShape(NamedTuple):
    """What the outline needs to know of a zone."""

    area: float
    place: AreaBasis
    surfacing: Surfacing


@dataclass(frozen=True, slots=True, eq=False)
class Outline:
    """For every pixel the zone and the place on it.

    Args:
        zone: Index of the zone, -1 outside, ``(height, width)``.
        relief: 0 to 1.
        along: 0 to 1.
        cover: Share of the pixel that the outline covers, 0 to 1.
        middles: Height of each zone's middle and its half-width there, both in pixels.
    """

    zone: NDArray[np.int16]
    relief: Array
    along: Array
    cover: Array
    middles: tuple[tuple[float, float], ...]


def shapes_of(project: Project) -> tuple[ZoneShape, ...]:
    """The zones of a project as shapes."""
    return tuple(
        ZoneShape(zone.area_on(project.size), zone.area_basis, zone.surfacing)
        for zone in project.zones
    )


@lru_cache(maxsize=24)
def outline(shapes: tuple[ZoneShape, ...], width: int, height: int) -> Outline:
    """The outline of that many pixels, as large as fits, in the middle.

    Args:
        shapes: The zones in the project's order, at least one.
        width: Pixels, 8 or more.
        height: Pixels, 8 or more.
    """
    unit = min(width * 0.92, height * 0.96 / _TALL)
    x = (np.arange(width) + 0.5 - width / 2) / unit
    y = (np.arange(height) + 0.5 - (height - _TALL * unit) / 2) / unit
    X, Y = np.meshgrid(x, y)
    canvas = _Canvas(X, Y, unit)
    tops = [n for n, s in enumerate(shapes) if s.place is AreaBasis.BASE_TOP]
    rims = [n for n, s in enumerate(shapes) if s.place is AreaBasis.RIM]
    body = [n for n in range(len(shapes)) if n not in {*tops, *rims}]
    if not tops:
        tops, rims = rims, []  # a rim alone takes the place of the disc
    areas = [sum(shapes[n].area for n in group) for group in (body, tops, rims)]
    tall = _heights(*areas)
    top = _TALL - tall[1] - tall[2]
    if body:
        canvas.stack(body, shapes, _shield(X, Y, tall[0]), Y - _SAG * (1 - (2 * X) ** 2))
    disc = _disc(X, Y, top, tall[1])
    if rims:
        below = _disc(X, Y - tall[2], top, tall[1])
        canvas.stack(rims, shapes, np.where(top + tall[1] / 2 < Y, below, -1.0), -Y)
    if tops:
        canvas.stack(tops, shapes, disc, Y)
    return canvas.finished(len(shapes))


def _heights(body: float, top: float, rim: float) -> tuple[float, float, float]:
    """Heights of shield, disc and rim of width 1 whose areas are in proportion."""
    raw = np.array([body / _MEAN_WIDTH, top * 4 / np.pi, rim])
    room = _TALL - (_GAP if body and (top or rim) else 0.0)
    tall = raw / raw.sum() * room
    return float(tall[0]), float(tall[1]), float(tall[2])


def _profile(v: Array) -> Array:
    """Half-width of the shield from its top (0) to its foot (1)."""
    inside = np.clip(v, 0.0, 1.0)
    shoulder = np.sqrt(np.clip(1.0 - (1.0 - np.clip(inside / 0.22, 0, 1)) ** 2, 0, 1))
    flank = np.cos(np.clip((inside - 0.22) / 0.78, 0.0, 1.0) ** 1.9 * 0.46 * np.pi)
    return np.asarray(0.5 * _WIDE * (0.25 + 0.75 * shoulder) * flank)


_MEAN_WIDTH = float(2.0 * _profile(np.linspace(0.0, 1.0, 2001)).mean())


def _shield(X: Array, Y: Array, tall: float) -> Array:
    """Distance inside the shield's edge, negative outside, widths of 1."""
    half = _profile(Y / max(tall, 1e-6))
    inside = np.minimum(half - np.abs(X), np.minimum(Y, tall - Y))
    return np.asarray(inside)


def _disc(X: Array, Y: Array, top: float, tall: float) -> Array:
    """The same for an ellipse of width 1."""
    across = max(tall / 2, 1e-3)
    far = np.hypot(X / 0.5, (Y - top - across) / across)
    return np.asarray((1.0 - far) * min(across, 0.5))


class _Canvas:
    """Pixels filled group by group, later ones on top."""

    def __init__(self, X: Array, Y: Array, unit: float) -> None:
        self._X, self._Y, self._unit = X, Y, unit
        self._zone = np.full(X.shape, -1, dtype=np.int16)
        self._relief = np.zeros(X.shape)
        self._along = np.zeros(X.shape)
        self._cover = np.zeros(X.shape)

    def stack(
        self, group: list[int], shapes: tuple[ZoneShape, ...], inside: Array, down: Array
    ) -> None:
        """Fill a shape with rows of zones, each as many pixels as its area asks for."""
        cover = np.clip(inside * self._unit + 0.5, 0.0, 1.0)
        held = cover > 0.0
        levels = np.sort(down[held])
        if not levels.size:
            return
        areas = np.array([shapes[n].area for n in group])
        ends = np.concatenate([[0.0], np.cumsum(areas) / areas.sum()])
        cuts = np.quantile(levels, ends)
        for n, (first, last) in zip(group, pairwise(cuts), strict=True):
            row = held & (down >= first) & (down <= last)
            self._zone[row] = n
            self._along[row] = (down[row] - first) / max(last - first, 1e-9)
            self._relief[row] = self._surface(shapes[n].surfacing, row, down)
            near = np.minimum(down - first, last - down)
            line = np.clip((near - _LINE) * self._unit + 0.5, 0.0, 1.0)
            at_edge = (near == down - first) & (first <= levels[0])
            at_edge |= (near == last - down) & (last >= levels[-1])
            self._cover[row] = (cover * np.where(at_edge, 1.0, line))[row]

    def _surface(self, surfacing: Surfacing, row: NDArray[np.bool_], down: Array) -> Array:
        """Relief over a row: folds, scales, or a panel that falls off to its edges."""
        X, t = self._X[row], down[row]
        half = max(float(np.abs(X).max()), 1e-6)
        across = X / half
        if surfacing is Surfacing.FOLDED:
            wave = 0.5 + 0.5 * np.cos(2 * np.pi * (2.0 * across + 0.12 * np.sin(9.0 * t)))
            return np.asarray(np.clip(0.85 * wave + 0.15 * (1 - np.abs(across)), 0.0, 1.0))
        if surfacing is Surfacing.TEXTURED:
            size = 0.1
            level = np.floor(t / (size / 2))
            p = (X / size + 0.5 * (level % 2)) % 1.0 - 0.5
            q = t / (size / 2) - level
            return np.asarray(np.clip(1.0 - 1.9 * np.hypot(p, 0.62 * (1.0 - q)), 0.0, 1.0))
        return np.asarray(np.clip(1.0 - np.abs(across) ** 1.6, 0.0, 1.0))

    def finished(self, count: int) -> Outline:
        """The outline, read-only."""
        middles = []
        for n in range(count):
            rows, columns = np.nonzero(self._zone == n)
            if not rows.size:
                middles.append((0.0, 0.0))
                continue
            middle = round(float(rows.mean()))
            there = columns[rows == middle] if (rows == middle).any() else columns
            middles.append((float(middle), float(np.ptp(there)) / 2))
        for array in (self._zone, self._relief, self._along, self._cover):
            array.setflags(write=False)
        return Outline(self._zone, self._relief, self._along, self._cover, tuple(middles))
