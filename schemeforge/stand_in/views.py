"""A model seen from one side: what is kept on disk of it, and what pictures are made from."""

from dataclasses import dataclass, field
from typing import Any, Final

import numpy as np
from numpy.typing import NDArray

from schemeforge.stand_in.exposure import Exposure
from schemeforge.stand_in.fields import Floats, turned
from schemeforge.stand_in.solid import Solid
from schemeforge.stand_in.surface import detail_of, relief_of
from schemeforge.stand_in.tracing import SPREAD, Frame, camera, place_again, trace

# How finely the surface's direction is kept: steps of the octahedron's square.
_TURNS: Final = 1023
_DEPTHS: Final = 65535
_IN_STEPS: Final = ("pixel", "depth", "turns", "relief", "along")


@dataclass(frozen=True, slots=True)
class Turn:
    """From where a model is seen, degrees: around it and above it."""

    azimuth: float = 20.0
    elevation: float = 14.0


@dataclass(frozen=True, slots=True, eq=False)
class Seen:
    """What one side shows, whatever is painted or sprayed on it: kept on disk.

    Args:
        size: Pixels across and down.
        pixel: Pixels, those with one spot first, ``(pixels,)``.
        plain: How many have one spot.
        part: Part of each spot, -1 for none, ``(spots,)``.
        depth: Distance from the eye's plane, 65535 for the frame's depth, ``(spots,)``.
        turns: Direction of the surface, two coordinates, ``(2, spots)``.
        relief: 0 to 255, ``(spots,)``.
        along: 0 to 255, ``(spots,)``.
    """

    size: int
    pixel: NDArray[np.int32]
    plain: int
    part: NDArray[np.int8]
    depth: NDArray[np.uint16]
    turns: NDArray[np.uint16]
    relief: NDArray[np.uint8]
    along: NDArray[np.uint8]

    def arrays(self) -> dict[str, NDArray[Any]]:
        """As plain arrays for a file, steps from one spot to the next, which pack better."""
        return {
            "plain": np.array(self.plain, np.int32),
            "part": self.part,
            **{name: _steps(getattr(self, name)) for name in _IN_STEPS},
        }

    @classmethod
    def from_arrays(cls, arrays: dict[str, NDArray[Any]], size: int, parts: int) -> "Seen":
        """Back from plain arrays; ValueError where they cannot be such a side."""
        whole = {name: _summed(arrays[name]) for name in _IN_STEPS}
        made = cls(size=size, plain=int(arrays["plain"]), part=arrays["part"], **whole)
        pixels, plain = len(made.pixel), made.plain
        spots = plain + (pixels - plain) * len(SPREAD)
        rows: tuple[NDArray[Any], ...] = (made.part, made.depth, made.relief, made.along)
        kinds = ("int8", "uint16", "uint8", "uint8")
        is_sound = (
            0 <= plain <= pixels
            and made.pixel.shape == (pixels,)
            and made.pixel.dtype == np.int32
            and all(r.shape == (spots,) and r.dtype == k for r, k in zip(rows, kinds, strict=True))
            and made.turns.shape == (2, spots)
            and made.turns.dtype == np.uint16
        )
        if not is_sound:
            raise ValueError("not such a side")
        in_range = (
            (not pixels or (made.pixel.min() >= 0 and made.pixel.max() < size * size))
            and (not spots or (made.part.min() >= -1 and made.part.max() < parts))
            and (not spots or made.turns.max() <= _TURNS)
        )
        if not in_range:
            raise ValueError("not such a side")
        return made


@dataclass(frozen=True, slots=True, eq=False)
class View:
    """A side with all that pictures need.

    Args:
        seen: What it shows.
        turn: From where.
        levels: Tone, relief and along in 256 levels, ``(3, spots)``.
        normal: Direction of the surface in right, up and towards the eye, ``(3, spots)``.
        openness: See ``exposure.Exposure.at``, ``(spots,)``.
        open_to: Its vector in the same axes, ``(3, spots)``.
        kept: What was worked out for this view and may serve again, by whoever worked it out.
    """

    seen: Seen
    turn: Turn
    levels: NDArray[np.uint8]
    normal: Floats
    openness: Floats
    open_to: Floats
    kept: dict[Any, Any] = field(default_factory=dict)

    @property
    def size(self) -> int:
        """Pixels across and down."""
        return self.seen.size


def look(solid: Solid, frame: Frame, size: int, turn: Turn) -> Seen:
    """Traces one side of a model; takes seconds for large pictures."""
    spots = trace(solid, frame, size, turn.azimuth, turn.elevation)
    normal = solid.normals(spots.place)
    detail, carved = detail_of(solid, spots.part, spots.place)
    relief = relief_of(solid, spots.place, normal, detail.height, carved)
    pixels = np.concatenate([spots.pixel[: spots.plain], spots.pixel[spots.plain :: spots.spread]])
    return Seen(
        size=size,
        pixel=pixels,
        plain=spots.plain,
        part=spots.part,
        depth=np.rint(spots.way * (_DEPTHS / (2.0 * frame.reach))).astype(np.uint16),
        turns=folded(normal),
        relief=np.rint(255 * relief).astype(np.uint8),
        along=np.rint(255 * detail.along).astype(np.uint8),
    )


def view_of(seen: Seen, frame: Frame, turn: Turn, exposure: Exposure) -> View:
    """The side with what reaches it of spray and light."""
    axes = camera(turn.azimuth, turn.elevation)
    way = seen.depth.astype(np.float32) * np.float32(2.0 * frame.reach / _DEPTHS)
    P = place_again(frame, axes, seen.size, seen.pixel, seen.plain, way)
    normal = unfolded(seen.turns)
    tone, openness, open_to = exposure.at(P, normal)
    levels = np.stack([np.rint(255 * tone).astype(np.uint8), seen.relief, seen.along])
    return View(
        seen=seen,
        turn=turn,
        levels=levels,
        normal=turned(normal, axes).astype(np.float32),
        openness=openness,
        open_to=turned(open_to, axes).astype(np.float32),
    )


def _steps(values: NDArray[Any]) -> NDArray[Any]:
    """Each value less the one before it, wrapping around, which ``_summed`` undoes."""
    steps = values.copy()
    steps[..., 1:] -= values[..., :-1]
    return steps


def _summed(steps: NDArray[Any]) -> NDArray[Any]:
    return np.cumsum(steps, axis=-1, dtype=steps.dtype)


def folded(normal: Floats) -> NDArray[np.uint16]:
    """Unit vectors on the square of an unfolded octahedron, ``(2, n)``."""
    n = normal / np.maximum(np.abs(normal).sum(axis=0), 1e-9)
    below = n[1] < 0
    a, b = n[0], n[2]
    folded_a = np.where(below, (1.0 - np.abs(b)) * np.where(a < 0, -1.0, 1.0), a)
    folded_b = np.where(below, (1.0 - np.abs(a)) * np.where(b < 0, -1.0, 1.0), b)
    both = np.stack([folded_a, folded_b])
    return np.rint((0.5 + 0.5 * both) * _TURNS).astype(np.uint16)


def unfolded(turns: NDArray[np.uint16]) -> Floats:
    """Unit vectors of the square's coordinates, ``(3, n)``."""
    a, b = turns.astype(np.float32) * np.float32(2.0 / _TURNS) - np.float32(1.0)
    y = 1.0 - np.abs(a) - np.abs(b)
    under = np.maximum(-y, 0.0)
    a = a - np.where(a < 0, -under, under)
    b = b - np.where(b < 0, -under, under)
    n = np.stack([a, y, b])
    return np.asarray(n / np.sqrt((n * n).sum(axis=0)), dtype=np.float32)
