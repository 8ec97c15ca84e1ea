"""What reaches a model's surface from outside: sprayed droplets, and light from all around.

Both are followed once through a grid of distances from every cell near the surface, in a fixed
set of directions, and kept in a form that takes the surface's direction afterwards: the spray
from above as a vector, the low pass as what comes from each of six sides, and what is open to
the outside as the first two orders of spherical harmonics.
"""

import math
from dataclasses import dataclass
from typing import Any, Final

import numpy as np
from numpy.typing import NDArray

from schemeforge.errors import InputError
from schemeforge.stand_in.fields import Floats
from schemeforge.stand_in.solid import AT_ONCE, Cells, Solid

CELL_MM: Final = 0.5
_SHELL_MM: Final = (0.02, 1.1)  # how far out cells are that keep what reaches them
_LIFT_MM: Final = 0.4  # how far out of the surface they are read
_FURTHER_MM: Final = 0.85
_LEAST_WEIGHT: Final = 0.08
_STEPS: Final = 14
_SHARPNESS: Final = 9.0  # how quickly a near miss turns into a hit: penumbra of 1/9 of the way
_CONE_RINGS: Final = ((0.0, 1), (0.45, 6), (0.85, 10))  # share of the half-angle, directions
_SIDES: Final = 6
_SPHERE: Final = 40
# What values lie between: they are kept in bytes.
_LEAST: Final = np.array([-1.2, 0, -1.2, *(0.0,) * (_SIDES + 1), -2, -2, -2], np.float32)
_MOST: Final = np.array([1.2, 1.2, 1.2, *(1.0,) * (_SIDES + 1), 2, 2, 2], np.float32)


@dataclass(frozen=True, slots=True)
class SprayCone:
    """How the undercoat is sprayed.

    Args:
        half_angle: Degrees from straight above within which droplets come, 5 to 80.
        low_pass: Share of a second pass from all sides against the first, 0 (none) to 1.
        low_angle: Degrees above the table from which it comes, 0 to 80.
    """

    half_angle: float = 48.0
    low_pass: float = 0.34
    low_angle: float = 35.0

    def __post_init__(self) -> None:
        for value, what, low, high in (
            (self.half_angle, "Half-angle of the spray", 5.0, 80.0),
            (self.low_pass, "Share of the low pass", 0.0, 1.0),
            (self.low_angle, "Angle of the low pass", 0.0, 80.0),
        ):
            if not low <= value <= high:
                raise InputError(f"{what} is {value:g}", remedy=f"give {low:g} to {high:g}")


@dataclass(frozen=True, slots=True)
class Exposure:
    """What reaches the cells near a model's surface.

    Args:
        cells: The grid.
        index: Row of each cell in ``values``, -1 for cells away from the surface, ``(cells,)``.
        values: ``(rows, 13)``: spray vector, six sides of the low pass, openness and its vector.
        spray: How it was sprayed.
    """

    cells: Cells
    index: NDArray[np.int32]
    values: Floats
    spray: SprayCone

    def arrays(self) -> dict[str, NDArray[Any]]:
        """As plain arrays for a file, in bytes."""
        scaled = np.rint((self.values - _LEAST) * (255.0 / (_MOST - _LEAST)))
        shell = np.flatnonzero(self.index >= 0).astype(np.int32)
        return {"cells": shell, "values": np.clip(scaled, 0, 255).astype(np.uint8)}

    @classmethod
    def from_arrays(
        cls, arrays: dict[str, NDArray[Any]], box: tuple[Floats, Floats], spray: SprayCone
    ) -> "Exposure":
        """Back from plain arrays; ValueError where they do not fit such a box."""
        cells = cells_around(box)
        shell, codes = arrays["cells"], arrays["values"]
        is_sound = (
            shell.ndim == 1
            and shell.dtype == np.int32
            and codes.shape == (len(shell), len(_LEAST))
            and codes.dtype == np.uint8
        )
        if not is_sound or (len(shell) and (shell.min() < 0 or shell.max() >= cells.count)):
            raise ValueError("not such an exposure")
        index = np.full(cells.count, -1, np.int32)
        index[shell] = np.arange(len(shell), dtype=np.int32)
        values = _LEAST + codes.astype(np.float32) * ((_MOST - _LEAST) / np.float32(255.0))
        return cls(cells, index, values, spray)

    def at(self, P: Floats, normal: Floats) -> tuple[Floats, Floats, Floats]:
        """Tone ``(n,)`` 0 to 1, openness ``(n,)`` and its vector ``(3, n)`` at the surface."""
        read, weight = _blend(self, P + np.float32(_LIFT_MM) * normal)
        lost = np.flatnonzero(weight < _LEAST_WEIGHT)  # thin tips and tight gaps: look further out
        if len(lost):
            further = P[:, lost] + np.float32(_FURTHER_MM) * normal[:, lost]
            read[lost] = _blend(self, further)[0]
        tone = np.maximum(np.einsum("in,ni->n", normal, read[:, :3]), 0.0)
        for n, side in enumerate(low_directions(self.spray)):
            facing = np.maximum(side.astype(np.float32) @ normal, 0.0)
            tone += np.float32(self.spray.low_pass * 4 / _SIDES) * facing * read[:, 3 + n]
        return np.clip(tone, 0.0, 1.0), read[:, -4], np.ascontiguousarray(read[:, -3:].T)


def cone_directions(spray: SprayCone) -> tuple[Floats, Floats]:
    """Directions to the nozzle ``(n, 3)`` and their weights, scaled so that up gets 1."""
    rows, weights = [], []
    for share, count in _CONE_RINGS:
        tilt = math.radians(spray.half_angle) * share
        for n in range(count):
            turn = 2 * math.pi * (n + 0.25) / count
            across = math.sin(tilt)
            rows.append((across * math.cos(turn), math.cos(tilt), across * math.sin(turn)))
            weights.append(math.exp(-1.2 * share**2) * (1.0 if share == 0.0 else share * 6 / count))
    directions, plain = np.array(rows), np.array(weights)
    return directions, plain / (plain @ directions[:, 1])


def low_directions(spray: SprayCone) -> Floats:
    """Directions of the low pass, from all sides, ``(sides, 3)``."""
    up = math.radians(spray.low_angle)
    turns = [2 * math.pi * (n + 0.5) / _SIDES for n in range(_SIDES)]
    rows = [(math.cos(up) * math.sin(t), math.sin(up), math.cos(up) * math.cos(t)) for t in turns]
    return np.array(rows)


def sphere_directions(count: int = _SPHERE) -> Floats:
    """Directions spread evenly, ``(count, 3)``: a spiral of golden angles."""
    n = np.arange(count) + 0.5
    y = 1.0 - 2.0 * n / count
    turn = math.pi * (3.0 - math.sqrt(5.0)) * n
    across = np.sqrt(1.0 - y * y)
    return np.stack([across * np.cos(turn), y, across * np.sin(turn)], axis=1)


def cells_around(box: tuple[Floats, Floats]) -> Cells:
    """The grid for a model in that box."""
    return Cells(box[0] - 1.0, box[1] + 1.0, CELL_MM)


def exposure_of(
    solid: Solid, box: tuple[Floats, Floats], spray: SprayCone, ground: float = -1.0
) -> Exposure:
    """Follows spray and light to every cell near the surface.

    Args:
        solid: The model.
        box: Opposite corners of a box that holds it, mm.
        spray: How it is sprayed.
        ground: Height of the table, mm.
    """
    cells = cells_around(box)
    middles = cells.middles()
    far = np.concatenate(
        [solid.nearest(middles[:, n : n + AT_ONCE])[0] for n in range(0, cells.count, AT_ONCE)]
    )
    shell = np.flatnonzero((far > _SHELL_MM[0]) & (far < _SHELL_MM[1]))
    start = np.ascontiguousarray(middles[:, shell])
    np.minimum(far, middles[1] - np.float32(ground), out=far)
    values = np.zeros((len(shell), len(_LEAST)), np.float32)
    directions, weights = cone_directions(spray)
    for d, w in zip(directions.astype(np.float32), weights.astype(np.float32), strict=True):
        values[:, :3] += np.outer(w * _open(cells, far, start, d, 60.0), d)
    for n, d in enumerate(low_directions(spray).astype(np.float32)):
        values[:, 3 + n] = _open(cells, far, start, d, 30.0)
    for d in sphere_directions().astype(np.float32):
        seen = _open(cells, far, start, d, 16.0) / np.float32(_SPHERE)
        values[:, -4] += seen
        values[:, -3:] += np.outer(3.0 * seen, d)
    index = np.full(cells.count, -1, np.int32)
    index[shell] = np.arange(len(shell), dtype=np.int32)
    return Exposure(cells, index, values, spray)


def _open(cells: Cells, far: Floats, start: Floats, ahead: Floats, most: float) -> Floats:
    """Share of what comes from that direction that reaches each place, 0 to 1."""
    seen = np.ones(start.shape[1], np.float32)
    t = np.full(start.shape[1], 0.9, np.float32)
    live = np.arange(start.shape[1])
    low = cells.low[:, np.newaxis]
    high = low + np.array(cells.shape, np.float32)[:, np.newaxis] * np.float32(cells.cell)
    for _ in range(_STEPS):
        P = start[:, live] + ahead[:, np.newaxis] * t[live]
        d = far[cells.index(P)]
        share = np.clip(np.float32(_SHARPNESS) * (d + np.float32(0.15)) / t[live], 0.0, 1.0)
        seen[live] = np.minimum(seen[live], share)
        t[live] += np.maximum(d, np.float32(0.45))
        P = start[:, live] + ahead[:, np.newaxis] * t[live]
        inside = ((low < P) & (high > P)).all(axis=0)
        live = live[inside & (t[live] < most) & (seen[live] > 0.01)]
        if not len(live):
            break
    return np.asarray(seen * seen * (3.0 - 2.0 * seen))


def _blend(exposure: Exposure, P: Floats) -> tuple[Floats, Floats]:
    """Values between the middles of eight cells, those without values left out, ``(n, 13)``.

    And the weight of those that have some, 0 to 1, ``(n,)``.
    """
    cells = exposure.cells
    scaled = (P - cells.low[:, np.newaxis]) / np.float32(cells.cell) - np.float32(0.5)
    for row, most in zip(scaled, cells.shape, strict=True):
        np.clip(row, 0.0, most - 1.001, out=row)
    lower = scaled.astype(np.int32)
    part = scaled - lower
    total = np.zeros((P.shape[1], exposure.values.shape[1]), np.float32)
    weight = np.full(P.shape[1], 1e-3, np.float32)
    for corner in range(8):
        bits = [corner >> 2 & 1, corner >> 1 & 1, corner & 1]
        share = np.ones(P.shape[1], np.float32)
        cell = np.zeros(P.shape[1], np.int64)
        for n, bit in enumerate(bits):
            share *= part[n] if bit else 1.0 - part[n]
            cell = cell * cells.shape[n] + lower[n] + bit
        row = exposure.index[cell]
        share[row < 0] = 0.0
        total += share[:, np.newaxis] * exposure.values[row]
        weight += share
    return np.asarray(total / weight[:, np.newaxis]), weight
