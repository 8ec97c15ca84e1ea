"""How a swatch stands on the sheet: ramps true to size on neutral grey, and room for the chip."""

from schemeforge.export.blocks import BADGE_MM, Block, Column, badge
from schemeforge.export.page import (
    INK,
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
from schemeforge.export.swatches import BAND_MM, PIXELS_PER_MM, RAMP_MM, Ramp, Swatch
from schemeforge.export.typesetting import FINE, LEAST_PT, Measure, Style, laid, shrunk
from schemeforge.export.words import within

PAD = 1.6
_SIDE = 7.2
_CHIP = 10.6
_SLIT = 1.2
WIDTH = 2.0 * PAD + _SIDE + RAMP_MM + _SLIT + _CHIP
# Between two swatches that stand side by side or one below the other.
GAP = 1.7
_BADGES_BESIDE = 5
_LABEL = Style(size_pt=7.5, face=Face.BOLD)


def swatch_block(swatch: Swatch, numbers: dict[str, int], measure: Measure) -> Block:
    """A swatch with its zones, ends in numbers, tolerance and a box for the painted chip.

    Args:
        swatch: What to show.
        numbers: Zone numbers by id.
        measure: Width of a line of text.
    """
    column = Column(measure, PAD, WIDTH - 2.0 * PAD, y=PAD)
    _zones(column, swatch, numbers)
    _ends(column)
    first = column.y
    _ramp(column, "dry", swatch.dry, swatch)
    if swatch.wet is not None:
        column.gap(0.8)
        _ramp(column, "wet", swatch.wet, swatch)
    last = column.y
    _figures(column, swatch)
    column.gap(PAD - 0.4)
    chip = _chip(first, last - first, measure)
    return Block(items=(panel(WIDTH, column.y, 1.5), *column.items, *chip), height=column.y)


def how_many(width: float) -> int:
    """Swatches that stand side by side in that width, at least one."""
    return side_by_side(width, WIDTH, GAP)


def _zones(column: Column, swatch: Swatch, numbers: dict[str, int]) -> None:
    """Badges in rows; how sure the colour is beside or below."""
    pitch = 2.0 * BADGE_MM + 0.8
    a_row = int(column.width // pitch)
    for start in range(0, len(swatch.zones), a_row):
        some = swatch.zones[start : start + a_row]
        row: list[Item] = []
        for n, zone in enumerate(some):
            x = BADGE_MM + n * pitch
            row += badge(str(numbers[zone.id]), x, BADGE_MM, filled=True, measure=column.measure)
        beside = start + a_row >= len(swatch.zones) and len(some) <= _BADGES_BESIDE
        if beside:
            top = column.y
            _certainty(column, swatch, len(some) * pitch + 1.0)
            column.y, below = top, column.y
            column.add(row, 2.0 * BADGE_MM + 0.8)
            column.y = max(column.y, below)
        else:
            column.add(row, 2.0 * BADGE_MM + 0.8)
    if len(swatch.zones) % a_row == 0 or len(swatch.zones) % a_row > _BADGES_BESIDE:
        _certainty(column, swatch, 0.0)


def _certainty(column: Column, swatch: Swatch, indent: float) -> None:
    words = []
    if swatch.tolerance is not None:
        words.append(f"guide only, within {within(swatch.tolerance)}")
    if swatch.dry.outside:
        words.append("partly beyond a screen")
    if words:
        column.text("; ".join(words), FINE, indent=indent)
        column.gap(0.4)


def _ends(column: Column) -> None:
    frame = Frame(x=_SIDE, y=0.0, width=RAMP_MM, height=0.0)
    left, height = laid(("recess",), FINE, frame)
    right, _ = laid(("raised",), FINE, frame, Anchor.END)
    column.add((*left, *right), height)


def _ramp(column: Column, label: str, ramp: Ramp, swatch: Swatch) -> None:
    height = ramp.rows / PIXELS_PER_MM
    frame = Frame(x=_SIDE, y=0.0, width=RAMP_MM, height=height)
    picture = Picture(
        frame=frame,
        pixels=ramp.pixels,
        columns=ramp.columns,
        rows=ramp.rows,
        role=f"swatch {label}",
    )
    side = Frame(x=0.0, y=0.0, width=_SIDE - 0.8, height=height)
    style, lines = shrunk(label, _LABEL, side.width, column.measure, most=1, least_pt=LEAST_PT)
    words, tall = laid(lines, style, side)
    items: list[Item] = [picture, *(w.moved(0.0, height / 2.0 - tall / 2.0) for w in words)]
    if swatch.feathered and height > BAND_MM and label == "dry":
        root, tip = ends_of(swatch, column.measure, _SIDE - 0.8)
        items += _edge(root, side, column.measure, at_top=True)
        items += _edge(tip, side, column.measure, at_top=False)
    if ramp.outside:
        items.append(beyond(frame))
    column.add(items, height)


def _edge(word: str, side: Frame, measure: Measure, *, at_top: bool) -> tuple[Item, ...]:
    style, lines = shrunk(
        word, Style(size_pt=LEAST_PT, colour=INK), side.width, measure, most=1, least_pt=LEAST_PT
    )
    items, height = laid(lines, style, side)
    return items if at_top else tuple(i.moved(0.0, side.height - height) for i in items)


def _figures(column: Column, swatch: Swatch) -> None:
    """Lightness and screen colour at the ends; for a feather at root and tip."""
    ends = ends_of(swatch, column.measure, _SIDE - 0.8)
    for word, shades in rows_of(swatch, ends):
        items, height = end_figures(shades, _SIDE)
        if word:
            side = Frame(x=0.0, y=0.0, width=_SIDE - 0.8, height=height)
            items += _edge(word, side, column.measure, at_top=True)
        column.add(items, height)
    own_words(column, swatch, ends)


def _chip(top: float, height: float, measure: Measure) -> tuple[Item, ...]:
    frame = Frame(x=PAD + _SIDE + RAMP_MM + _SLIT, y=top, width=_CHIP, height=height)
    return chip_box(frame, measure, Style(size_pt=LEAST_PT, colour=SOFT), 0.4)
