"""Signed distances to simple solids in mm, negative inside, at places ``(3, n)`` in float32.

x points right, y up and z towards the viewer. What bends or tapers is a lower bound of the
distance: who walks along a ray takes shorter steps there.
"""

import itertools
import math
from typing import Any

import numpy as np
from numpy.typing import NDArray

Floats = NDArray[Any]
Spot = tuple[float, float, float]


def away(P: Floats, centre: Spot) -> Floats:
    """Places seen from a centre, ``(3, n)``."""
    moved: Floats = P - np.array(centre, P.dtype)[:, np.newaxis]
    return moved


def length(P: Floats) -> Floats:
    """Length of each column, ``(n,)``."""
    squared = P[0] * P[0]
    for row in P[1:]:
        squared = squared + row * row
    root: Floats = np.sqrt(squared)
    return root


def turned(P: Floats, matrix: Floats) -> Floats:
    """Places in the axes whose directions are the rows of the matrix, ``(3, n)``."""
    m = matrix.tolist()
    return np.stack([row[0] * P[0] + row[1] * P[1] + row[2] * P[2] for row in m])


def axes(forward: Spot, up: Spot = (0.0, 1.0, 0.0)) -> Floats:
    """Right, up and forward as rows of a matrix, forward as given, ``(3, 3)``."""
    ahead = np.array(forward, np.float64)
    ahead /= np.linalg.norm(ahead)
    right = np.cross(np.array(up), ahead)
    right /= np.linalg.norm(right)
    return np.stack([right, np.cross(ahead, right), ahead])


def spin(degrees: float) -> Floats:
    """Axes turned about the upright, ``(3, 3)``: ``turned`` with it turns the solid that way."""
    c, s = math.cos(math.radians(degrees)), math.sin(math.radians(degrees))
    return np.array([[c, 0.0, -s], [0.0, 1.0, 0.0], [s, 0.0, c]])


def ball(P: Floats, centre: Spot, radius: float) -> Floats:
    """A sphere."""
    far: Floats = length(away(P, centre)) - radius
    return far


def ellipsoid(P: Floats, centre: Spot, radii: Spot) -> Floats:
    """An ellipsoid along the axes; right at the surface to first order, less far off."""
    Q = away(P, centre)
    half = np.array(radii, P.dtype)[:, np.newaxis]
    outer = length(Q / half)
    slope = length(Q / (half * half))
    return np.asarray(outer * (outer - 1.0) / np.maximum(slope, 1e-6))


def cone(P: Floats, a: Spot, b: Spot, wide: tuple[float, float]) -> tuple[Floats, Floats]:
    """A rod with round ends and two radii, and the share of the way from a to b, 0 to 1."""
    Q = away(P, a)
    line = np.array(b) - np.array(a)
    squared = float(line @ line)
    t = (Q[0] * line[0] + Q[1] * line[1] + Q[2] * line[2]) / squared
    t = np.clip(t, 0.0, 1.0).astype(P.dtype)
    off = Q - line.astype(P.dtype)[:, np.newaxis] * t
    return length(off) - (wide[0] + (wide[1] - wide[0]) * t), t


def chain(
    P: Floats, spots: tuple[Spot, ...], radii: tuple[float, ...], blend: float
) -> tuple[Floats, Floats]:
    """Rods end to end, run together softly; and the share of the way along them, 0 to 1."""
    lengths = [math.dist(a, b) for a, b in itertools.pairwise(spots)]
    total, gone = sum(lengths), 0.0
    far: Floats | None = None
    nearest = along = np.zeros(P.shape[1], P.dtype)
    for n, piece in enumerate(lengths):
        d, t = cone(P, spots[n], spots[n + 1], (radii[n], radii[n + 1]))
        here = (gone + t * piece) / total
        gone += piece
        if far is None:
            far, nearest, along = d, d, here
            continue
        along = np.where(d < nearest, here, along)
        nearest = np.minimum(nearest, d)
        far = melted(far, d, blend)
    assert far is not None  # noqa: S101 - there are two spots at least
    return far, along.astype(P.dtype)


def box(P: Floats, centre: Spot, half: Spot, rounding: float) -> Floats:
    """A box along the axes with rounded edges; ``half`` are its outer half-lengths."""
    Q = np.abs(away(P, centre)) - (np.array(half, P.dtype) - rounding)[:, np.newaxis]
    outside = length(np.maximum(Q, 0.0))
    inside = np.minimum(np.max(Q, axis=0), 0.0)
    return np.asarray(outside + inside - rounding)


def drum(P: Floats, centre: Spot, radius: float, half: float, rounding: float) -> Floats:
    """An upright cylinder with rounded edges."""
    Q = away(P, centre)
    across = np.hypot(Q[0], Q[2]) - (radius - rounding)
    tall = np.abs(Q[1]) - (half - rounding)
    outside = np.hypot(np.maximum(across, 0.0), np.maximum(tall, 0.0))
    inside = np.minimum(np.maximum(across, tall), 0.0)
    return np.asarray(outside + inside - rounding)


def ring(P: Floats, centre: Spot, radius: float, thick: float) -> Floats:
    """A lying ring."""
    Q = away(P, centre)
    return np.asarray(np.hypot(np.hypot(Q[0], Q[2]) - radius, Q[1]) - thick)


def melted(a: Floats, b: Floats, blend: float) -> Floats:
    """Two solids run together softly over ``blend`` mm."""
    h = np.maximum(blend - np.abs(a - b), 0.0) / blend
    return np.asarray(np.minimum(a, b) - h * h * (0.25 * blend))


def step(low: float, high: float, x: Floats) -> Floats:
    """0 below ``low``, 1 above ``high``, a smooth step in between."""
    t = np.clip((x - low) / (high - low), 0.0, 1.0)
    return np.asarray(t * t * (3.0 - 2.0 * t))
