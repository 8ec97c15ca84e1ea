"""What each pixel of a stand-in shows: spots on its surface.

They are found by walking along rays through signed distances; a pixel on an edge gets several
spots, so that edges come out smooth.
"""

import math
from dataclasses import dataclass
from typing import Any, Final

import numpy as np
from numpy.typing import NDArray

from schemeforge.stand_in.fields import Floats
from schemeforge.stand_in.solid import AT_ONCE, Solid

# Spots in one pixel on an edge, pixels from its middle: no two in one row or column.
SPREAD: Final = ((-0.375, 0.125), (-0.125, -0.375), (0.125, 0.375), (0.375, -0.125))
_CLOSE_MM: Final = 0.008
_STRIDE: Final = 0.8  # of the distance: what bends and ripples is nearer than it says
_MOST_STEPS: Final = 64
_GRAZED_MM: Final = 0.05  # who is no nearer than this after so many steps has passed by
_DEPTH_EDGE_MM: Final = 0.7
_BEFORE_MM: Final = 2.0  # spots on edges are sought from so far before the nearest around


@dataclass(frozen=True, slots=True)
class Frame:
    """What the picture takes in, mm.

    Args:
        middle: Height of the picture's middle above the ground.
        span: Height and width of the picture.
        reach: Radius of a ball around the middle that holds the model.
        half: Half-width of the box that holds it, mm.
        top: Its height.
    """

    middle: float
    span: float
    reach: float
    half: float
    top: float

    @property
    def box(self) -> tuple[Floats, Floats]:
        """Opposite corners of the box that holds the model, ``(3,)`` each."""
        low = np.array([-self.half, -0.5, -self.half], np.float32)
        return low, np.array([self.half, self.top, self.half], np.float32)


@dataclass(frozen=True, slots=True)
class Spots:
    """Spots on the surface, one a pixel inside and several on edges.

    Args:
        pixel: Where each is seen, row times width plus column, rising, ``(n,)``.
        plain: How many at the front are alone in their pixel.
        spread: Spots of each of the other pixels; -1 in ``part`` where one sees past the model.
        part: Index of the part, ``(n,)``.
        way: How far along its ray each is, mm, ``(n,)``.
        place: mm, ``(3, n)``.
    """

    pixel: NDArray[np.int32]
    plain: int
    spread: int
    part: NDArray[np.int8]
    way: Floats
    place: Floats


def walk(
    solid: Solid, start: Floats, ahead: Floats, t: Floats, most: float
) -> tuple[Floats, NDArray[np.int8]]:
    """How far along each ray the surface is, and the part found, -1 for none."""
    found = np.full(len(t), -1, np.int8)
    t = t.copy()
    for first in range(0, len(t), AT_ONCE):
        some = slice(first, first + AT_ONCE)
        _walk(solid, start[:, some], ahead, t[some], most, found[some])
    return t, found


def _walk(
    solid: Solid, start: Floats, ahead: Floats, t: Floats, most: float, found: NDArray[np.int8]
) -> None:
    live = np.arange(len(t))
    for _ in range(_MOST_STEPS):
        d, which = solid.nearest(start[:, live] + ahead[:, np.newaxis] * t[live])
        there = d < _CLOSE_MM
        found[live[there]] = which[there]
        t[live] += np.where(there, 0.0, np.where(which < 0, d, np.float32(_STRIDE) * d))
        live = live[~there & (t[live] < most)]
        if not len(live):
            return
    d, which = solid.nearest(start[:, live] + ahead[:, np.newaxis] * t[live])
    found[live] = np.where(d < _GRAZED_MM, which, np.int8(-1))


def camera(azimuth: float, elevation: float) -> Floats:
    """Right, up and towards the eye as rows, ``(3, 3)``; the model turns by the azimuth."""
    a, e = math.radians(azimuth), math.radians(elevation)
    right = (math.cos(a), 0.0, -math.sin(a))
    eye = (math.sin(a) * math.cos(e), math.sin(e), math.cos(a) * math.cos(e))
    up = (-math.sin(a) * math.sin(e), math.cos(e), -math.cos(a) * math.sin(e))
    return np.array([right, up, eye], np.float32)


def trace(solid: Solid, frame: Frame, size: int, azimuth: float, elevation: float) -> Spots:
    """The spots that a square picture of so many pixels shows."""
    axes = camera(azimuth, elevation)
    ahead, most = -axes[2], 2.0 * frame.reach
    every = np.arange(size * size)
    start = _start(frame, axes, size, every, (0.0, 0.0))
    way, part = walk(solid, start, ahead, np.zeros(size * size, np.float32), most)
    edge = _edges(way.reshape(size, size), part.reshape(size, size), frame)
    plain = np.flatnonzero((part >= 0) & ~edge)
    rest = np.flatnonzero(edge)
    close = _nearest_around(np.where(part >= 0, way, np.inf).reshape(size, size), rest)
    begin = np.maximum(close - np.float32(_BEFORE_MM), 0.0)
    columns = [
        walk(solid, _start(frame, axes, size, rest, offset), ahead, begin, most)
        for offset in SPREAD
    ]
    found = np.stack([column[1] for column in columns], axis=1)
    ways = np.stack([column[0] for column in columns], axis=1)
    held = (found >= 0).any(axis=1)
    rest, found, ways = rest[held], found[held], ways[held]
    _mend(found, ways, _is_amid(part.reshape(size, size))[rest])
    way = np.minimum(np.concatenate([way[plain], ways.reshape(-1)]), np.float32(most))
    pixels = np.concatenate([plain, rest]).astype(np.int32)
    return Spots(
        pixel=np.concatenate([plain, np.repeat(rest, len(SPREAD))]).astype(np.int32),
        plain=len(plain),
        spread=len(SPREAD),
        part=np.concatenate([part[plain], found.reshape(-1)]),
        way=way,
        place=place_again(frame, axes, size, pixels, len(plain), way),
    )


def _is_amid(part: NDArray[np.int8]) -> NDArray[np.bool_]:
    """Pixels that show a part, as do all eight around them."""
    shown = np.pad(part >= 0, 1)
    amid = np.ones(part.shape, bool)
    for dy in range(3):
        for dx in range(3):
            amid &= shown[dy : dy + part.shape[0], dx : dx + part.shape[1]]
    return amid.reshape(-1)


def _mend(found: NDArray[np.int8], ways: Floats, amid: NDArray[np.bool_]) -> None:
    """Gives a spot amid the model that was lost grazing an edge that of another in its pixel.

    It would let the background through as a bright or dark speck.
    """
    lost = np.flatnonzero(amid & (found < 0).any(axis=1))
    first = (found[lost] >= 0).argmax(axis=1)
    for column in range(found.shape[1]):
        gone = found[lost, column] < 0
        rows = lost[gone]
        found[rows, column] = found[rows, first[gone]]
        ways[rows, column] = ways[rows, first[gone]]


def place_again(
    frame: Frame, axes: Floats, size: int, pixels: NDArray[np.int32], plain: int, way: Floats
) -> Floats:
    """Where the spots of those pixels are, mm, ``(3, n)``: one a pixel, then several a pixel."""
    rest = pixels[plain:]
    several = np.empty((3, len(rest), len(SPREAD)), np.float32)
    for n, offset in enumerate(SPREAD):
        several[:, :, n] = _start(frame, axes, size, rest, offset)
    start = [_start(frame, axes, size, pixels[:plain], (0.0, 0.0)), several.reshape(3, -1)]
    return np.asarray(np.concatenate(start, axis=1) - axes[2][:, np.newaxis] * way)


def _start(
    frame: Frame, axes: Floats, size: int, pixel: NDArray[Any], offset: tuple[float, float]
) -> Floats:
    """Where the rays of those pixels begin, ``(3, n)``; the offset is right and down in pixels."""
    scale = np.float32(frame.span / size)
    x = ((pixel % size).astype(np.float32) + np.float32(0.5 + offset[0] - size / 2)) * scale
    y = (np.float32(size / 2 - 0.5 - offset[1]) - (pixel // size).astype(np.float32)) * scale
    right, up, eye = axes
    spots = np.outer(right, x) + np.outer(up, y) + np.float32(frame.reach) * eye[:, np.newaxis]
    spots[1] += np.float32(frame.middle)
    return np.asarray(spots, dtype=np.float32)


def _edges(t: Floats, part: NDArray[np.int8], frame: Frame) -> NDArray[np.bool_]:
    """Pixels beside which another part or another depth begins."""
    seen = np.where(part >= 0, t, np.float32(4.0 * frame.reach))
    edge = np.zeros(part.shape, bool)
    for axis in (0, 1):
        ahead = [slice(None)] * 2
        behind = [slice(None)] * 2
        ahead[axis], behind[axis] = slice(1, None), slice(None, -1)
        a, b = tuple(ahead), tuple(behind)
        differs = (part[a] != part[b]) | (np.abs(seen[a] - seen[b]) > _DEPTH_EDGE_MM)
        edge[a] |= differs
        edge[b] |= differs
    return edge.reshape(-1)


def _nearest_around(t: Floats, pixel: NDArray[np.intp]) -> Floats:
    """The least depth among each pixel and its eight neighbours."""
    wide = np.pad(t, 1, constant_values=np.inf)
    size = t.shape[1]
    row, column = pixel // size, pixel % size
    least = np.full(len(pixel), np.inf, np.float32)
    for dy in range(3):
        for dx in range(3):
            least = np.minimum(least, wide[row + dy, column + dx])
    return np.where(np.isfinite(least), least, 0.0).astype(np.float32)
