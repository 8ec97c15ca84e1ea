"""A swatch on a slim card: ramps true to size, lightness and code at the ends, the chip's box."""

from schemeforge.export import words
from schemeforge.export.blocks import BADGE_MM, Block, Column, badge
from schemeforge.export.page import (
    SOFT,
    Anchor,
    Face,
    Frame,
    Item,
    Picture,
)
from schemeforge.export.swatch_parts import (
    beyond,
    chip_box,
    end_figures,
    ends_of,
    own_words,
    panel,
    rows_of,
    side_by_side,
)
from schemeforge.export.swatches import PIXELS_PER_MM, RAMP_MM, Ramp, Swatch
from schemeforge.export.typesetting import FINE, LEAST_PT, Measure, Style, laid

_PAD = 1.0
_SIDE = 7.0
_SLIT = 1.2
_CHIP = 11.4
WIDTH = 2.0 * _PAD + _SIDE + RAMP_MM + _SLIT + _CHIP
GAP = 0.9
_SMALL = Style(size_pt=LEAST_PT, face=Face.BOLD)
_NAME = Style(size_pt=9.5, face=Face.BOLD, leading=1.14)
_BADGES = 6


def slim_swatch(
    swatch: Swatch, numbers: dict[str, int], measure: Measure, *, zones: bool, names: bool = False
) -> Block:
    """A swatch in its panel.

    Args:
        swatch: What to show.
        numbers: Zone numbers by id.
        measure: Width of a line of text.
        zones: True to say which zones it stands for; needless where it is the step's only one.
        names: True to name its zone, for the finished model.
    """
    column = Column(measure, _PAD, WIDTH - 2.0 * _PAD, y=_PAD)
    if names:
        _named(column, swatch, numbers)
    elif zones:
        _stands_for(column, swatch, numbers)
    top = column.y
    root, tip = ends_of(swatch, measure, _SIDE - 0.6)
    _ramp(column, "dry", swatch.dry, (root, tip) if swatch.feathered else ("", ""))
    if swatch.wet is not None:
        column.gap(0.5)
        _ramp(column, "wet", swatch.wet, ("", ""))
    chip = _chip(top, column.y - top, measure)
    column.gap(0.3)
    _figures(column, swatch, (root, tip))
    if names:
        own_words(column, swatch, (root, tip))
    column.gap(0.4)
    return Block(items=(panel(WIDTH, column.y, 1.2), *column.items, *chip), height=column.y)


def how_many(width: float) -> int:
    """Swatches that stand side by side in that width, at least one."""
    return side_by_side(width, WIDTH, GAP)


def _named(column: Column, swatch: Swatch, numbers: dict[str, int]) -> None:
    zone = swatch.zones[0]
    number = str(numbers[zone.id])
    start = 2.0 * BADGE_MM + 1.2
    name = Column(column.measure, column.x + start, column.width - start)
    name.fitted(zone.name, _NAME, most=1, least_pt=LEAST_PT)
    drop = max(0.0, BADGE_MM - name.y / 2.0)
    column.items += [item.moved(0.0, column.y + drop) for item in name.items]
    mark = badge(number, BADGE_MM, BADGE_MM, filled=True, measure=column.measure)
    column.add(mark, max(2.0 * BADGE_MM, name.y) + 0.7)


def _stands_for(column: Column, swatch: Swatch, numbers: dict[str, int]) -> None:
    """Badges of the zones that look like this, and the zones that come nearest to it."""
    pitch = 2.0 * BADGE_MM + 0.7
    if len(swatch.zones) > _BADGES:
        column.text(f"zones {words.ranges(sorted(numbers[z.id] for z in swatch.zones))}", _SMALL)
        start = 0.0
    else:
        row: list[Item] = []
        for n, zone in enumerate(sorted(swatch.zones, key=lambda z: numbers[z.id])):
            place = BADGE_MM + n * pitch
            number = str(numbers[zone.id])
            row += badge(number, place, BADGE_MM, filled=True, measure=column.measure)
        column.add(row, 0.0)
        start = len(swatch.zones) * pitch + 0.8
    height = 2.0 * BADGE_MM if start else 0.0
    if swatch.near:
        near = words.ranges(sorted(numbers[zone.id] for zone in swatch.near))
        beside = Column(column.measure, column.x + start, column.width - start)
        beside.text(f"nearest for {near}", FINE)
        drop = max(0.0, (height - beside.y) / 2.0)
        column.items += [item.moved(0.0, column.y + drop) for item in beside.items]
        height = max(height, beside.y)
    column.gap(height + 0.7)


def _ramp(column: Column, label: str, ramp: Ramp, ends: tuple[str, str]) -> None:
    height = ramp.rows / PIXELS_PER_MM
    frame = Frame(x=_SIDE, y=0.0, width=RAMP_MM, height=height)
    items: list[Item] = [
        Picture(
            frame=frame,
            pixels=ramp.pixels,
            columns=ramp.columns,
            rows=ramp.rows,
            role=f"swatch {label}",
        )
    ]
    side = Frame(x=0.0, y=0.0, width=_SIDE - 0.6, height=height)
    for text, style, share in ((label, _SMALL, 0.5), (ends[0], FINE, 0.0), (ends[1], FINE, 1.0)):
        said, tall = laid((text,) if text else (), style, side)
        items += [item.moved(0.0, share * (height - tall)) for item in said]
    if ramp.outside:
        items.append(beyond(frame))
    column.add(items, height)


def _figures(column: Column, swatch: Swatch, ends: tuple[str, str]) -> None:
    """Lightness and screen colour at the ends, at root and tip of a feather; how sure they are."""
    top = column.y
    for word, shades in rows_of(swatch, ends):
        items, height = end_figures(shades, _SIDE)
        if word:
            items += laid((word,), FINE, Frame(x=0.0, y=0.0, width=_SIDE - 0.6, height=0.0))[0]
        column.add(items, height)
    if swatch.tolerance is not None:
        said, _ = laid(
            (words.within(swatch.tolerance),),
            FINE,
            Frame(x=_PAD + _SIDE + RAMP_MM + _SLIT, y=top, width=_CHIP, height=0.0),
            Anchor.MIDDLE,
        )
        column.items += said


def _chip(top: float, height: float, measure: Measure) -> tuple[Item, ...]:
    frame = Frame(x=_PAD + _SIDE + RAMP_MM + _SLIT, y=top, width=_CHIP, height=height)
    style = Style(size_pt=LEAST_PT, colour=SOFT, leading=1.14)
    return chip_box(frame, measure, style, 0.2)
