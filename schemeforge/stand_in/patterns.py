"""Detail on surfaces: feathers, plates, reeds, ripples.

Each pattern says how high a place stands (0 in the recess, 1 on the raised edge) and where on its
feather, plate or reed it lies; it takes two coordinates on the surface, counted in cells.
"""

from typing import Any, NamedTuple

import numpy as np
from numpy.typing import NDArray

Floats = NDArray[Any]


class Detail(NamedTuple):
    """Height and place on a pattern, ``(n,)`` each, 0 to 1."""

    height: Floats
    along: Floats


def hashed(cell: Floats) -> Floats:
    """A number of 0 to 1 for each whole cell, looking random, the same every time."""
    value = np.sin(cell * np.float32(12.9898) + np.float32(4.1414)) * np.float32(437.5853)
    return np.asarray(value - np.floor(value))


def noise(x: Floats, y: Floats, z: Floats) -> Floats:
    """Smooth bumps of about one unit, 0 to 1: a sum of turned waves."""
    total = np.sin(1.7 * x + 0.9 * y + 1.3 * np.sin(1.1 * z + 0.4 * x))
    total = total + np.sin(1.5 * z - 0.8 * y + 1.2 * np.sin(1.3 * x - 0.6 * y))
    total = total + 0.7 * np.sin(2.9 * x - 2.3 * z + 2.1 * y)
    return np.asarray(0.5 + total / 5.4)


def feathers(u: Floats, v: Floats) -> Detail:
    """Rows of feathers that overlap downwards: u around, v along, both in feathers."""
    height = np.full(u.shape, 0.1, u.dtype)
    along = np.zeros_like(height)
    free = np.ones(u.shape, bool)
    for back in (1, 0):  # the row above lies on top of this one
        row = np.floor(v) - back
        column = u + 0.5 * (row % 2)
        jitter = hashed(np.floor(column) + 17.0 * row) - 0.5
        fx = 2.0 * (column - np.floor(column) - 0.5)
        fy = (v - row + 0.25 * jitter) / 1.75
        half = np.sqrt(np.clip(1.0 - (np.maximum(fy - 0.35, 0.0) / 0.65) ** 2.6, 0.0, 1.0))
        inside = free & (fy >= 0.0) & (fy <= 1.0) & (np.abs(fx) <= half)
        edge = np.abs(fx) / np.maximum(half, 1e-3)
        round_ = 0.2 + 0.62 * fy - 0.2 * edge**3
        shaft = 0.16 * np.exp(-((fx / 0.13) ** 2)) * fy
        barbs = 0.05 * np.cos(16.0 * (fy * 1.6 - np.abs(fx))) * fy
        height = np.where(inside, round_ + shaft + barbs, height)
        along = np.where(inside, fy, along)
        free &= ~inside
    return Detail(np.clip(height, 0.0, 1.0), along)


def lamellae(u: Floats, v: Floats) -> Detail:
    """Laced rows of small plates, each row lapping over the next: u around, v along, in plates."""
    row = np.floor(v)
    fy = v - row
    column = u + 0.5 * (row % 2)
    fx = 2.0 * np.abs(column - np.floor(column) - 0.5)
    gap = np.clip((1.0 - fx) / 0.22, 0.0, 1.0)
    lip = np.clip((1.0 - fy) / 0.12, 0.0, 1.0)
    body = (0.22 + 0.6 * fy) * gap * (3.0 - 2.0 * gap) * gap
    bead = 0.25 * np.exp(-(((1.0 - fx) / 0.16) ** 2) - ((fy - 0.3) / 0.14) ** 2)
    rim = 0.22 * np.exp(-(((fy - 0.88) / 0.1) ** 2)) * gap
    height = (body + rim) * (0.25 + 0.75 * np.sqrt(lip)) + bead
    return Detail(np.clip(height, 0.0, 1.0), fy)


def reeds(u: Floats, v: Floats, tiers: float) -> Detail:
    """Bundles of reeds hanging in ragged tiers: u in reeds around, v from collar (0) to hem (1)."""
    reed = np.floor(u)
    fx = 2.0 * (u - reed - 0.5)
    own, other = hashed(reed), hashed(reed + 53.0)
    rag = (0.24 * (own - 0.5) + 0.1 * np.sin(0.9 * u)).astype(u.dtype)
    down = v * tiers + rag
    tier = np.floor(down)
    fy = down - tier
    strand = np.sqrt(np.clip(1.0 - fx * fx * 0.95, 0.0, 1.0))
    joint = 0.1 * np.exp(-(((fy - 0.3 - 0.4 * other) / 0.03) ** 2))
    lip = np.clip((1.0 - fy) / 0.05, 0.0, 1.0)
    height = (0.1 + 0.4 * fy + 0.36 * strand + 0.14 * (own - 0.5) + joint) * (0.3 + 0.7 * lip)
    return Detail(np.clip(height, 0.0, 1.0), np.clip(v, 0.0, 1.0))


def ripples(x: Floats, z: Floats) -> Floats:
    """Mud that water has drawn into ripples, 0 to 1; in mm."""
    bend = 1.5 * np.sin(0.21 * x + 0.4) + 1.1 * np.sin(0.31 * z - 0.17 * x)
    wave = 0.5 + 0.5 * np.sin(1.75 * (0.42 * x + z + bend))
    crest = wave**1.6
    lumps = 0.5 + 0.25 * np.sin(0.83 * x + 1.1 * z) + 0.25 * np.sin(1.31 * z - 0.67 * x + 1.0)
    grain = 0.06 * np.sin(4.7 * x + 1.9 * z) * np.sin(3.9 * z - 1.3 * x)
    return np.asarray(np.clip(0.78 * crest * (0.55 + 0.45 * lumps) + 0.2 * lumps + grain, 0.0, 1.0))


def wound(t: Floats, turn: Floats) -> Floats:
    """Cord wound around a rod, 0 to 1: turns along it, and turns around it."""
    s = t + turn
    return np.asarray(np.abs(np.sin(np.pi * s)) ** 0.6)
