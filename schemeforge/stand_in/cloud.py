"""A model as points spread evenly over its surface, which can be shown from any side at once."""

from collections.abc import Callable
from dataclasses import dataclass
from typing import Any, Final

import numpy as np
from numpy.typing import NDArray

from schemeforge.stand_in.exposure import Exposure
from schemeforge.stand_in.fields import Floats
from schemeforge.stand_in.solid import AT_ONCE, Cells, Solid
from schemeforge.stand_in.surface import detail_of, relief_of
from schemeforge.stand_in.tracing import Frame
from schemeforge.stand_in.views import Seen, Turn, View, folded, unfolded

MOST_POINTS: Final = 2_000_000
PER_PICTURE: Final = 400.0  # points across a picture's height and width, on a plane facing the eye
_CELL_MM: Final = 0.8
_NEAR_MM: Final = 0.12  # points so near the surface are drawn onto it
_THROWS: Final = 400_000  # points thrown into cells at a time
_SEED: Final = 7
_STEPS: Final = 65535
_CURVE_BITS: Final = 9


@dataclass(frozen=True, slots=True, eq=False)
class Cloud:
    """Points on the surface of a model.

    Args:
        place: mm, ``(3, n)``.
        turns: Direction of the surface, two coordinates, ``(2, n)``.
        part: Part of each, ``(n,)``.
        relief: 0 to 255, ``(n,)``.
        along: 0 to 255, ``(n,)``.
    """

    place: Floats
    turns: NDArray[np.uint16]
    part: NDArray[np.int8]
    relief: NDArray[np.uint8]
    along: NDArray[np.uint8]

    def arrays(self, frame: Frame) -> dict[str, NDArray[Any]]:
        """As plain arrays for a file, places in steps of the box that holds the model."""
        low, high = (edge[:, np.newaxis] for edge in _box(frame))
        share = np.clip((self.place - low) / (high - low), 0.0, 1.0)
        return {
            "place": np.rint(share * _STEPS).astype(np.uint16),
            "turns": self.turns,
            "part": self.part,
            "relief": self.relief,
            "along": self.along,
        }

    @classmethod
    def from_arrays(cls, arrays: dict[str, NDArray[Any]], frame: Frame, parts: int) -> "Cloud":
        """Back from plain arrays; ValueError where they cannot be such a cloud."""
        place, turns, part = (arrays[name] for name in ("place", "turns", "part"))
        relief, along = arrays["relief"], arrays["along"]
        count = len(part)
        is_sound = (
            count <= MOST_POINTS
            and place.shape == (3, count)
            and place.dtype == np.uint16
            and turns.shape == (2, count)
            and turns.dtype == np.uint16
            and part.dtype == np.int8
            and all(row.shape == (count,) for row in (part, relief, along))
            and relief.dtype == along.dtype == np.uint8
            and (not count or (part.min() >= 0 and part.max() < parts))
        )
        if not is_sound:
            raise ValueError("not such a cloud")
        low, high = (edge[:, np.newaxis] for edge in _box(frame))
        where = low + place.astype(np.float32) * ((high - low) / np.float32(_STEPS))
        return cls(where.astype(np.float32), turns, part, relief, along)


def cloud_of(
    solid: Solid, frame: Frame, *, cancelled: Callable[[], bool] = lambda: False
) -> Cloud | None:
    """Points over the whole surface, the same every time; takes seconds. None where cancelled."""
    pieces = []
    thrown = _thrown(solid, frame, cancelled)
    if thrown is None:
        return None
    for first in range(0, thrown.shape[1], AT_ONCE):
        if cancelled():
            return None
        pieces.append(_settled(solid, thrown[:, first : first + AT_ONCE]))
    columns = [np.concatenate(rows, axis=-1) for rows in zip(*pieces, strict=True)]
    order = np.argsort(_curve(columns[0], frame), kind="stable")
    return Cloud(*(column[..., order] for column in columns))


def whole_view(cloud: Cloud, exposure: Exposure) -> View:
    """The points with what reaches them of spray and light, in the model's own axes."""
    normal = unfolded(cloud.turns)
    tone, openness, open_to = exposure.at(cloud.place, normal)
    count = len(cloud.part)
    seen = Seen(
        size=1,
        pixel=np.zeros(count, np.int32),
        plain=count,
        part=cloud.part,
        depth=np.zeros(count, np.uint16),
        turns=cloud.turns,
        relief=cloud.relief,
        along=cloud.along,
    )
    levels = np.stack([np.rint(255 * tone).astype(np.uint8), cloud.relief, cloud.along])
    return View(seen, Turn(0.0, 0.0), levels, normal, openness, open_to)


def _curve(place: Floats, frame: Frame) -> NDArray[np.int64]:
    """Where each place comes on a curve through the box that keeps what is near together.

    Bits of the three coordinates take turns [Morton1966]. What is seen side by side then lies
    side by side in memory, and every n-th point is spread as evenly as all are.
    """
    low, high = (edge[:, np.newaxis] for edge in _box(frame))
    cells = ((place - low) * (2**_CURVE_BITS / (high - low))).astype(np.int64)
    key = np.zeros(place.shape[1], np.int64)
    for bit in range(_CURVE_BITS):
        for axis, row in enumerate(cells):
            key |= (row >> bit & 1) << (3 * bit + axis)
    return key


def _box(frame: Frame) -> tuple[Floats, Floats]:
    low, high = frame.box
    return low - np.float32(1.0), high + np.float32(1.0)


def _thrown(solid: Solid, frame: Frame, cancelled: Callable[[], bool]) -> Floats | None:
    """Places close to the surface, evenly thick everywhere."""
    cells = Cells(*_box(frame), _CELL_MM)
    middles = cells.middles()
    far = solid.distance(middles)
    close = middles[:, np.abs(far) < 0.87 * _CELL_MM + _NEAR_MM]
    dense = (PER_PICTURE / frame.span) ** 2  # points a mm2
    each = dense * _CELL_MM**3 / (2.0 * _NEAR_MM)  # thrown into a cell
    draw = np.random.default_rng(_SEED)
    count = round(each * close.shape[1])
    kept = []
    for first in range(0, count, _THROWS):
        if cancelled():
            return None
        many = min(_THROWS, count - first)
        cell = draw.integers(0, close.shape[1], many)
        jitter = draw.random((3, many), np.float32) - np.float32(0.5)
        P = close[:, cell] + jitter * np.float32(_CELL_MM)
        kept.append(P[:, np.abs(solid.distance(P)) < _NEAR_MM])
    return np.concatenate(kept, axis=1) if kept else np.zeros((3, 0), np.float32)


def _settled(solid: Solid, P: Floats) -> tuple[NDArray[Any], ...]:
    """Drawn onto the surface, with what a view says of its spots."""
    P = (P - solid.normals(P) * solid.distance(P)).astype(np.float32)
    normal = solid.normals(P)
    part = solid.nearest(P, exact=True)[1]
    on = part >= 0
    P, normal, part = P[:, on], normal[:, on], part[on]
    detail, carved = detail_of(solid, part, P)
    relief = relief_of(solid, P, normal, detail.height, carved)
    codes = [np.rint(255 * row).astype(np.uint8) for row in (relief, detail.along)]
    return P, folded(normal), part, codes[0], codes[1]
