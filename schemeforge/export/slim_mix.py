"""A pot on a slim card: one line an ingredient, in parts, drops, grams and millilitres."""

from schemeforge.export import words
from schemeforge.export.blocks import Block, Column
from schemeforge.export.density import Density
from schemeforge.export.page import INK, PAPER, RULE, Anchor, Box, Face, Frame, Item, Path
from schemeforge.export.typesetting import FINE, LEAST_PT, Measure, Style, laid, lines_of, shrunk
from schemeforge.plan import Pot

_LETTER_MM = 5.4
_ROW_GAP_MM = 0.3
# Heads of the columns, and the widest number that they hold at full size.
_COLUMNS = (("parts", "99.9"), ("drops", "999"), ("g", "99.9"), ("ml", "99.9"))
_BETWEEN_MM = 1.2
# An ingredient's name shrinks to this size to stay on the line of its numbers.
_LEAST_NAME_PT = 8.0


def slim_mix(pot: Pot, density: Density, width: float, measure: Measure) -> Block:
    """The whole pot for the batch."""
    column = Column(measure, 0.0, width)
    wide = _widths(density.work, measure)
    names = width - sum(wide) - 0.6
    _title(column, pot, density, width)
    if not pot.ml:
        column.text("Nobody gets it: mix none.", density.hint)
        return column.block()
    total = Column(measure, 0.0, names, y=column.y)
    total.text(words.in_all(pot), density.hint)
    drop = density.hint.line_mm - FINE.line_mm
    heads = tuple(name for name, _ in _COLUMNS)
    height = _row(column, heads, (FINE,) * len(heads), wide, column.y + 0.8 * drop)
    column.items += total.items
    column.y = max(column.y + height + drop, total.y) + 0.1
    sized = [
        shrunk(one.name, density.work, names, measure, most=1, least_pt=_LEAST_NAME_PT)
        for one in pot.amounts
    ]
    name = min((s for s, lines in sized if len(lines) == 1), key=lambda s: s.size_pt, default=None)
    for one in pot.amounts:
        _ingredient(column, one.name, name, density, names)
        cells = (
            words.parts(one.parts),
            str(one.whole_drops),
            words.amount(one.grams),
            words.amount(one.ml),
        )
        work = density.work
        styles = (work, work.bold, work, work)
        tall = _row(column, cells, styles, wide, column.y)
        column.gap(tall + _ROW_GAP_MM / 2.0)
        rule = Path(points=((0.0, column.y), (width, column.y)), line=RULE, width_mm=0.15)
        column.items.append(rule)
        column.gap(_ROW_GAP_MM)
    column.gap(0.2)
    if not pot.is_neat:
        column.text(words.top_up_short(pot), density.hint)
    if pot.warning is not None:
        column.text(words.weigh(pot.warning), density.hint.bold)
    return column.block()


def slim_again(
    pot: Pot, step_number: int, density: Density, width: float, measure: Measure
) -> Block:
    """A pot that is already mixed: its letter, ratio and where its mix stands."""
    column = Column(measure, 0.0, width)
    _title(column, pot, density, width)
    column.text(
        f"Mixed for step {step_number}; {words.ratio(pot)} by parts. Stir well.", density.hint
    )
    return column.block()


def _title(column: Column, pot: Pot, density: Density, width: float) -> None:
    """The letter in a square and the pot's name."""
    square = Frame(x=0.0, y=0.0, width=_LETTER_MM, height=_LETTER_MM)
    style = Style(size_pt=13.0, face=Face.BOLD, colour=PAPER)
    style, lines = shrunk(
        pot.letter, style, _LETTER_MM - 0.6, column.measure, most=1, least_pt=LEAST_PT
    )
    letter, tall = laid(lines, style, square, Anchor.MIDDLE)
    items: list[Item] = [
        Box(frame=square, fill=INK, round_mm=0.9, role="pot"),
        *(item.moved(0.0, (_LETTER_MM - tall) / 2.0) for item in letter),
    ]
    start = _LETTER_MM + 1.4
    beside = Column(column.measure, start, width - start)
    beside.fitted(pot.mix.name, density.work.bold, most=1, least_pt=8.5)
    items += [item.moved(0.0, max(0.0, (_LETTER_MM - beside.y) / 2.0)) for item in beside.items]
    column.add(items, max(_LETTER_MM, beside.y) + 0.3)


def _ingredient(
    column: Column, name: str, style: Style | None, density: Density, width: float
) -> None:
    """A name left of its numbers; one that takes more lines than one stands above them."""
    lines = () if style is None else lines_of(name, style, width, column.measure)
    if style is None or len(lines) > 1:
        column.text(name, density.work)
        return
    items, _ = laid(lines, style, Frame(x=0.0, y=0.0, width=width, height=0.0))
    drop = 0.8 * (density.work.line_mm - style.line_mm)
    column.items += [item.moved(column.x, column.y + drop) for item in items]


def _widths(style: Style, measure: Measure) -> tuple[float, ...]:
    return tuple(
        max(measure(sample, style.bold.face if name == "drops" else style.face, style.size_pt),
            measure(name, Face.REGULAR, FINE.size_pt)) + _BETWEEN_MM
        for name, sample in _COLUMNS
    )  # fmt: skip


def _row(
    column: Column,
    cells: tuple[str, ...],
    styles: tuple[Style, ...],
    wide: tuple[float, ...],
    top: float,
) -> float:
    """Cells set to their right ends; their height."""
    x, tallest = column.width - sum(wide), 0.0
    for cell, style, width in zip(cells, styles, wide, strict=True):
        frame = Frame(x=x, y=top, width=width, height=0.0)
        small, lines = shrunk(cell, style, width - 0.3, column.measure, most=1, least_pt=LEAST_PT)
        items, tall = laid(lines, small, frame, Anchor.END)
        column.items += items
        tallest = max(tallest, tall)
        x += width
    return tallest
