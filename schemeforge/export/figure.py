"""A numbered outline of the model: a turned peg with a beak, cut into one field for each zone.

The program does not know what a model looks like, so the outline stands for any: fields follow
the zones' order from the head down, base and rim below, and the number is what counts.
"""

import itertools
import math
from collections.abc import Mapping
from dataclasses import dataclass, field

from schemeforge.export.blocks import Block
from schemeforge.export.page import (
    INK,
    PAPER,
    POINT_MM,
    SOFT,
    Anchor,
    Colour,
    Face,
    Frame,
    Item,
    Path,
)
from schemeforge.export.typesetting import LEAST_PT, Measure, Style, laid, shrunk
from schemeforge.scheme import AreaBasis, Coat, Project

Point = tuple[float, float]
Polygon = tuple[Point, ...]

_LIT: Colour = (0.22, 0.24, 0.25)
_SAMPLES = 7
WIDTH = 0.72
# Height of digits in sizes of type.
_CAPITAL = 0.73
_LOW = (AreaBasis.BASE_TOP, AreaBasis.RIM)
_NECK, _HEM = 0.27, 0.82


@dataclass(frozen=True, slots=True, kw_only=True)
class Marks:
    """What the outline shows besides numbers.

    Args:
        lit: Ids of zones that are worked on.
        keep_out: Ids of zones that must not be touched.
        feathers: For zones with a coat feathered along the part: whether it fades towards the
            root, towards the tip.
    """

    lit: frozenset[str] = frozenset()
    keep_out: frozenset[str] = frozenset()
    feathers: Mapping[str, tuple[bool, bool]] = field(default_factory=dict)


def feathers_of(coat: Coat | None, zone_ids: tuple[str, ...]) -> dict[str, tuple[bool, bool]]:
    """Which ends of a coat fade out, for each of its zones; empty where neither does."""
    if coat is None:
        return {}
    along = coat.placement.along
    ends = (along.feather_start > 0.0, along.feather_end > 0.0)
    return dict.fromkeys(zone_ids, ends) if any(ends) else {}


def figure(
    project: Project, numbers: Mapping[str, int], height: float, marks: Marks, measure: Measure
) -> Block:
    """The outline, of that height in mm, ``WIDTH`` times as wide."""
    items: list[Item] = []
    if all(zone.area_basis in _LOW for zone in project.zones):
        whole = tuple(((WIDTH / 2.0 + x) * height, y * height) for x, y in _body_fields(1)[0])
        items.append(Path(points=whole, closed=True, fill=PAPER, line=SOFT, dash_mm=0.8))
    for zone_id, shape in _fields(project, height).items():
        lit = zone_id in marks.lit
        items.append(
            Path(
                points=shape,
                closed=True,
                fill=_LIT if lit else PAPER,
                line=INK,
                width_mm=0.3,
                role=f"field {numbers[zone_id]}",
            )
        )
        if zone_id in marks.keep_out:
            items += _hatch(shape, height / 26.0)
        place, high = _middle(shape), _bounds(shape).height
        if zone_id in _low_fields(project):
            place, high = (place[0], _bounds(shape).bottom - 0.035 * height), 0.07 * height
        items += _number(str(numbers[zone_id]), place, shape, high, measure, lit=lit)
        if lit and zone_id in marks.feathers:
            items += _arrow(shape, marks.feathers[zone_id])
    return Block(items=tuple(items), height=height)


def _fields(project: Project, height: float) -> dict[str, Polygon]:
    """Outline of each zone's field, mm."""
    bases = dict.fromkeys(_LOW, "")
    body = []
    for zone in project.zones:
        if zone.area_basis in bases and not bases[zone.area_basis]:
            bases[zone.area_basis] = zone.id
        else:
            body.append(zone.id)
    shapes = dict(zip(body, _body_fields(len(body)), strict=True))
    top, rim = bases[AreaBasis.BASE_TOP], bases[AreaBasis.RIM]
    if top:
        shapes[top] = _disc_top()
    if rim:
        shapes[rim] = _disc_side()
    middle = WIDTH / 2.0
    return {
        zone.id: tuple(((middle + x) * height, y * height) for x, y in shapes[zone.id])
        for zone in project.zones
    }


def _half_width(y: float) -> float:
    """Half the width of the body at that height, both in heights of the figure."""
    t = (y - _NECK) / (_HEM - _NECK)
    shoulder = min(1.0, t / 0.16)
    return 0.075 + 0.085 * math.sin(shoulder * math.pi / 2.0) + 0.11 * math.pow(t, 1.4)


def _head() -> Polygon:
    """A round head with a beak to the left."""
    radius, middle = 0.125, 0.14
    turn = [math.radians(a) for a in range(-150, 151, 12)]
    ring = [(radius * math.cos(a), middle + radius * math.sin(a)) for a in turn]
    return (*ring, (-0.30, 0.19))


def _body_fields(count: int) -> list[Polygon]:
    if count == 0:
        return []
    if count == 1:
        body = _between(_NECK, _HEM, 0.0, 1.0)
        head = _head()
        half = len(body) // 2
        # The head on top of the body as one outline: up the right side, round, down the left.
        return [(*body[half:], *reversed(head[: len(head) - 1]), *body[:half])]
    rest = count - 1
    rows = max(1, round(math.sqrt(1.5 * rest)))
    spread = [rest // rows + (row >= rows - rest % rows) for row in range(rows)]
    step = (_HEM - _NECK) / rows
    fields = [_head()]
    for row, cells in enumerate(spread):
        top = _NECK + row * step
        fields += [
            _between(top, top + step, cell / cells, (cell + 1) / cells) for cell in range(cells)
        ]
    return fields


def _between(top: float, bottom: float, left: float, right: float) -> Polygon:
    """The body between two heights and two shares of its width."""
    heights = [top + (bottom - top) * n / (_SAMPLES - 1) for n in range(_SAMPLES)]
    down = [(_half_width(y) * (2.0 * left - 1.0), y) for y in heights]
    up = [(_half_width(y) * (2.0 * right - 1.0), y) for y in reversed(heights)]
    return (*down, *up)


def _low_fields(project: Project) -> set[str]:
    """The rim, whose field is a bow: its middle lies outside of it."""
    return {z.id for z in project.zones if z.area_basis is AreaBasis.RIM}


def _disc_top() -> Polygon:
    """The upper side of the base, seen a little from above, behind the hem."""
    turn = [math.radians(a) for a in range(0, 181, 12)]
    front = [(0.34 * math.cos(a), 0.82 + 0.1 * math.sin(a)) for a in turn]
    return (*front, (-_half_width(_HEM), 0.82), (_half_width(_HEM), 0.82))


def _disc_side() -> Polygon:
    turn = [math.radians(a) for a in range(0, 181, 12)]
    upper = [(0.34 * math.cos(a), 0.82 + 0.1 * math.sin(a)) for a in turn]
    lower = [(x, y + 0.07) for x, y in reversed(upper)]
    return (*upper, *lower)


def _bounds(shape: Polygon) -> Frame:
    xs, ys = [x for x, _ in shape], [y for _, y in shape]
    return Frame(x=min(xs), y=min(ys), width=max(xs) - min(xs), height=max(ys) - min(ys))


def _middle(shape: Polygon) -> Point:
    """Centre of area."""
    area = x = y = 0.0
    for (x0, y0), (x1, y1) in itertools.pairwise((*shape, shape[0])):
        cross = x0 * y1 - x1 * y0
        area += cross
        x += (x0 + x1) * cross
        y += (y0 + y1) * cross
    return (x / (3.0 * area), y / (3.0 * area))


def _number(
    text: str, place: Point, shape: Polygon, high: float, measure: Measure, *, lit: bool
) -> tuple[Item, ...]:
    """The number in its field, ``high`` mm high; none where it could not be read."""
    x, y = place
    cuts = _crossings(shape, y)
    room = max(1.0, 0.9 * (cuts[-1] - cuts[0])) if cuts else _bounds(shape).width
    largest = max(LEAST_PT, min(13.0, 1.3 * high))
    style = Style(size_pt=largest, face=Face.BOLD, colour=PAPER if lit else SOFT)
    style, lines = shrunk(text, style, room, measure, most=1, least_pt=LEAST_PT)
    if len(lines) > 1 or 0.85 * high < _CAPITAL * LEAST_PT * POINT_MM:
        return ()
    frame = Frame(x=x - room / 2.0, y=y, width=room, height=0.0)
    items, height = laid(lines, style, frame, Anchor.MIDDLE)
    return tuple(item.moved(0.0, -height / 2.0) for item in items)


def _crossings(shape: Polygon, y: float) -> list[float]:
    """Where a horizontal line crosses the outline, from the left."""
    found = []
    for (x0, y0), (x1, y1) in itertools.pairwise((*shape, shape[0])):
        if (y0 <= y) != (y1 <= y):
            found.append(x0 + (x1 - x0) * (y - y0) / (y1 - y0))
    return sorted(found)


def _hatch(shape: Polygon, gap: float) -> list[Item]:
    """Slanting lines inside the outline: what must not be touched."""
    slanted = tuple((x, y + x) for x, y in shape)
    box = _bounds(slanted)
    lines: list[Item] = []
    for n in range(1, int(box.height / gap) + 1):
        level = box.y + (n - 0.5) * gap
        cuts = _crossings(slanted, level)
        for left, right in zip(cuts[::2], cuts[1::2], strict=False):
            points = ((left, level - left), (right, level - right))
            lines.append(Path(points=points, line=SOFT, width_mm=0.2, role="hatch"))
    return lines


def _arrow(shape: Polygon, ends: tuple[bool, bool]) -> list[Item]:
    """A stroke from root to tip on the field's right side, with a head where the coat fades."""
    box = _bounds(shape)
    x = box.x + 0.82 * box.width
    top, bottom = box.y + 0.16 * box.height, box.bottom - 0.16 * box.height
    size = min(0.9, 0.2 * box.height)
    items: list[Item] = [
        Path(points=((x, top), (x, bottom)), line=PAPER, width_mm=0.45, role="arrow")
    ]
    for wanted, y, turn in ((ends[0], top, 1.0), (ends[1], bottom, -1.0)):
        if wanted:
            head = ((x - size, y + turn * size), (x, y), (x + size, y + turn * size))
            items.append(Path(points=head, line=PAPER, width_mm=0.45, role="arrow"))
    return items
