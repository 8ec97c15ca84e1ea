"""A pot on the sheet: its letter, its mix in parts, drops, grams and millilitres, topping up."""

from schemeforge.export import words
from schemeforge.export.blocks import Block, Column
from schemeforge.export.page import (
    INK,
    PAPER,
    RULE,
    Anchor,
    Box,
    Face,
    Frame,
    Item,
    Path,
)
from schemeforge.export.typesetting import (
    LEAST_PT,
    SMALL,
    STRONG,
    Measure,
    Style,
    laid,
    lines_of,
    shrunk,
)
from schemeforge.plan import Pot

_LETTER_MM = 9.0
_NUMBERS = (("parts", 13.0), ("drops", 14.0), ("g", 12.0), ("ml", 12.0))
_HEAD = Style(size_pt=LEAST_PT)
_ROW = Style(size_pt=9.5)
_BOLD = Style(size_pt=9.5, face=Face.BOLD)


def mix_block(pot: Pot, width: float, measure: Measure) -> Block:
    """The whole pot for the batch."""
    column = _title(pot, width, measure)
    if not pot.ml:
        return column.block()
    numbers = sum(wide for _, wide in _NUMBERS)
    name_width = width - numbers - 1.0
    _numbers_row(column, tuple(name for name, _ in _NUMBERS), _HEAD, name_width)
    for one in pot.amounts:
        top = column.y
        name = Column(measure, 0.0, name_width, y=top)
        name.fitted(one.name, _ROW, most=1, least_pt=LEAST_PT)
        drops = str(one.whole_drops)
        cells = (words.parts(one.parts), drops, words.amount(one.grams), words.amount(one.ml))
        column.items += name.items
        _numbers_row(column, cells, _BOLD, name_width)
        column.y = max(column.y, name.y) + 0.2
        rule = Path(points=((0.0, column.y), (width, column.y)), line=RULE, width_mm=0.15)
        column.items.append(rule)
        column.gap(0.3)
    if not pot.is_neat:
        column.text(words.top_up(pot), SMALL)
    if pot.warning is not None:
        column.text(words.careful(pot.warning), SMALL)
    return column.block()


def again_block(pot: Pot, step_number: int, width: float, measure: Measure) -> Block:
    """A pot that is already mixed: its letter, ratio and where its mix stands."""
    column = _title(pot, width, measure)
    column.text(f"Mixed for step {step_number}; {words.ratio(pot)} by parts. Stir well.", SMALL)
    return column.block()


def _title(pot: Pot, width: float, measure: Measure) -> Column:
    """The letter in a square, the pot's name and how much of it there is."""
    column = Column(measure, 0.0, width)
    square = Frame(x=0.0, y=0.0, width=_LETTER_MM, height=_LETTER_MM)
    style = Style(size_pt=17.0, face=Face.BOLD, colour=PAPER)
    style, lines = shrunk(pot.letter, style, _LETTER_MM - 1.0, measure, most=1, least_pt=LEAST_PT)
    letter, tall = laid(lines, style, square, Anchor.MIDDLE)
    items: list[Item] = [
        Box(frame=square, fill=INK, round_mm=1.2, role="pot"),
        *(i.moved(0.0, (_LETTER_MM - tall) / 2.0) for i in letter),
    ]
    beside = Column(measure, _LETTER_MM + 2.0, width - _LETTER_MM - 2.0)
    beside.fitted(pot.mix.name, STRONG, most=1, least_pt=8.0)
    beside.lines(lines_of(_total(pot), SMALL, beside.width, measure), SMALL)
    items += [i.moved(0.0, max(0.0, (_LETTER_MM - beside.y) / 2.0)) for i in beside.items]
    column.add(items, max(_LETTER_MM, beside.y) + 0.8)
    return column


def _total(pot: Pot) -> str:
    if not pot.ml:
        return "nobody gets it: mix none"
    total = f"{words.amount(pot.ml)} ml for the batch"
    drops = sum(a.whole_drops for a in pot.amounts)
    return f"{total}, neat" if pot.is_neat else f"{total}, about {drops} drops"


def _numbers_row(column: Column, cells: tuple[str, ...], style: Style, start: float) -> None:
    x, tallest = start, 0.0
    for cell, (_, wide) in zip(cells, _NUMBERS, strict=True):
        frame = Frame(x=x, y=column.y, width=wide, height=0.0)
        small, lines = shrunk(cell, style, wide - 0.5, column.measure, most=1, least_pt=LEAST_PT)
        items, tall = laid(lines, small, frame, Anchor.END)
        column.items += items
        tallest = max(tallest, tall)
        x += wide
    column.gap(tallest)
