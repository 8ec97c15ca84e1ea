"""Blocks of a page: items set from (0, 0) downwards, and the height that they take."""

from collections.abc import Iterable
from dataclasses import dataclass, field, replace

from schemeforge.export.page import (
    ACCENT,
    INK,
    PALE,
    PAPER,
    RULE,
    Anchor,
    Box,
    Disc,
    Frame,
    Item,
    Path,
    Picture,
    Text,
    moved,
)
from schemeforge.export.typesetting import (
    BODY,
    FINE,
    HEADING,
    LEAST_PT,
    Measure,
    Style,
    laid,
    lines_of,
    shrunk,
)

BADGE_MM = 2.3
# What a block says that is drawn smaller than it should be.
SMALLER = "Drawn smaller to fit this side: its swatches are not to size."
_NOTE_MM = 150.0
_CELL_MM = 2.0
_TICK_MM = 4.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Block:
    """Items from (0, 0) downwards and their height in mm.

    Args:
        repeat: What is set again on top when the block's followers go on over the page.
    """

    items: tuple[Item, ...]
    height: float
    repeat: "Block | None" = None

    def at(self, x: float, y: float) -> tuple[Item, ...]:
        """The items with the block's corner there."""
        return moved(self.items, x, y)


def fitted_into(block: Block, height: float, measure: Measure) -> Block:
    """The block drawn smaller where it is higher than that; nothing of it is lost.

    The last resort for names so long that no side of paper holds them at full size. It says so.
    """
    if block.height <= height:
        return block
    note = Column(measure, 0.0, _NOTE_MM)
    note.text(SMALLER, FINE.bold)
    factor = max(height - note.y, 0.1 * height) / block.height
    note_items = moved(note.items, 0.0, block.height * factor)
    return Block(
        items=(*(_scaled(item, factor) for item in block.items), *note_items),
        height=height,
        repeat=block.repeat,
    )


def _scaled(item: Item, by: float) -> Item:
    match item:
        case Text():
            return replace(
                item,
                x=item.x * by,
                y=item.y * by,
                size_pt=item.size_pt * by,
                within=_scaled_frame(item.within, by),
            )
        case Disc():
            return replace(item, x=item.x * by, y=item.y * by, radius=item.radius * by)
        case Path():
            return replace(item, points=tuple((x * by, y * by) for x, y in item.points))
        case Box():
            frame = _scaled_frame(item.frame, by)
            return replace(item, frame=frame, round_mm=item.round_mm * by)
        case Picture():
            return replace(item, frame=_scaled_frame(item.frame, by))


def _scaled_frame(frame: Frame, by: float) -> Frame:
    return Frame(x=frame.x * by, y=frame.y * by, width=frame.width * by, height=frame.height * by)


@dataclass(slots=True)
class Column:
    """A column of a block under construction: text and items one below the other.

    Args:
        measure: Width of a line of text.
        x: Left edge, mm.
        width: Of the column, mm.
        y: Where the next item goes.
    """

    measure: Measure
    x: float
    width: float
    y: float = 0.0
    items: list[Item] = field(default_factory=list)

    def gap(self, mm: float) -> None:
        """Leaves room."""
        self.y += mm

    def text(
        self,
        text: str,
        style: Style = BODY,
        anchor: Anchor = Anchor.START,
        *,
        indent: float = 0.0,
    ) -> None:
        """A paragraph at a fixed size, as many lines as it takes."""
        width = self.width - indent
        self.lines(lines_of(text, style, width, self.measure), style, anchor, indent=indent)

    def fitted(
        self,
        text: str,
        style: Style,
        *,
        most: int,
        least_pt: float,
        anchor: Anchor = Anchor.START,
    ) -> None:
        """A paragraph that shrinks to so many lines as long as it stays readable."""
        smaller, lines = shrunk(text, style, self.width, self.measure, most=most, least_pt=least_pt)
        self.lines(lines, smaller, anchor)

    def lines(
        self,
        lines: tuple[str, ...],
        style: Style,
        anchor: Anchor = Anchor.START,
        *,
        indent: float = 0.0,
    ) -> None:
        """Lines that are already broken."""
        frame = Frame(x=self.x + indent, y=self.y, width=self.width - indent, height=0.0)
        items, height = laid(lines, style, frame, anchor)
        self.items += items
        self.y += height

    def put(self, block: Block, *, indent: float = 0.0) -> None:
        """A finished block."""
        self.items += block.at(self.x + indent, self.y)
        self.y += block.height

    def add(self, items: Iterable[Item], height: float) -> None:
        """Items given from (0, 0), and the height that they take."""
        self.items += moved(tuple(items), self.x, self.y)
        self.y += height

    def block(self) -> Block:
        """What was set so far."""
        return Block(items=tuple(self.items), height=self.y)


def side_by_side(*columns: Column) -> Block:
    """Columns of one block; it is as high as the highest."""
    items = tuple(item for column in columns for item in column.items)
    return Block(items=items, height=max(column.y for column in columns))


def heading(text: str, width: float, measure: Measure) -> Block:
    """A heading over a rule."""
    column = Column(measure, 0.0, width)
    column.gap(0.6)
    style = Style(size_pt=HEADING.size_pt, face=HEADING.face, colour=ACCENT)
    column.fitted(text, style, most=1, least_pt=9.0)
    column.gap(0.4)
    rule = Path(points=((0.0, 0.0), (width, 0.0)), line=ACCENT, width_mm=0.5, role="rule")
    column.add((rule,), 1.4)
    return column.block()


def paragraph(text: str, style: Style, width: float, measure: Measure) -> Block:
    """A paragraph on its own."""
    column = Column(measure, 0.0, width)
    column.text(text, style)
    return column.block()


def badge(text: str, x: float, y: float, *, filled: bool, measure: Measure) -> tuple[Item, ...]:
    """A zone's number in a ring whose centre is there."""
    radius = BADGE_MM
    inner = Frame(x=x - radius, y=y - radius, width=2.0 * radius, height=2.0 * radius)
    style = Style(size_pt=8.5, face=HEADING.face, colour=PAPER if filled else INK)
    style, lines = shrunk(text, style, 1.7 * radius, measure, most=1, least_pt=LEAST_PT)
    words, height = laid(lines, style, inner, Anchor.MIDDLE)
    ring = Disc(x=x, y=y, radius=radius, line=INK, fill=INK if filled else PAPER)
    return (ring, *moved(words, 0.0, radius - height / 2.0 - 0.1))


@dataclass(frozen=True, slots=True)
class TableColumn:
    """A column of a table: its heading, width in mm, and which end it is set to."""

    name: str
    width: float
    anchor: Anchor = Anchor.START


def table(
    columns: tuple[TableColumn, ...],
    rows: Iterable[tuple[str, ...]],
    style: Style,
    measure: Measure,
) -> tuple[Block, ...]:
    """A table as one block a row, so that it can go on over the page; the head is repeated.

    The head stays with the first row.

    Cells wrap; an empty cell in a column called "" or ending in "?" stays a box to write in.
    """
    head_style = Style(size_pt=style.size_pt - 1.0, face=HEADING.face)
    head = _row(columns, tuple(c.name.rstrip("?") for c in columns), head_style, measure, head=True)
    body = [_row(columns, row, style, measure, head=False) for row in rows]
    rest = [Block(items=b.items, height=b.height, repeat=head) for b in body[1:]]
    if not body:
        return (head,)
    first = Block(
        items=(*head.items, *body[0].at(0.0, head.height)), height=head.height + body[0].height
    )
    return (first, *rest)


def _row(
    columns: tuple[TableColumn, ...],
    cells: tuple[str, ...],
    style: Style,
    measure: Measure,
    *,
    head: bool,
) -> Block:
    pad = 1.0
    total = sum(column.width for column in columns)
    set_cells, x = [], 0.0
    for column, cell in zip(columns, cells, strict=True):
        side = _CELL_MM if column.anchor is Anchor.START else pad / 2.0
        inner = Column(measure, x + side, column.width - side - pad / 2.0, y=pad)
        if column.anchor is Anchor.MIDDLE:
            inner.fitted(cell, style, most=1, least_pt=LEAST_PT, anchor=column.anchor)
        else:
            inner.text(cell, style, column.anchor)
        set_cells.append(inner)
        x += column.width
    height = max(inner.y for inner in set_cells) + pad
    items: list[Item] = []
    if head:
        frame = Frame(x=0.0, y=0.0, width=total, height=height)
        items.append(Box(frame=frame, line=None, fill=PALE))
    x = 0.0
    for column, cell in zip(columns, cells, strict=True):
        if not head and column.name.endswith("?") and not cell:
            frame = Frame(x=x + pad, y=0.8, width=column.width - 2.0 * pad, height=height - 1.6)
            if column.name == "?":
                frame = Frame(x=x + pad, y=0.9, width=_TICK_MM, height=_TICK_MM)
            items.append(Box(frame=frame, fill=PAPER, role="write"))
        x += column.width
    items += [item for inner in set_cells for item in inner.items]
    items.append(Path(points=((0.0, height), (total, height)), line=RULE, role="rule"))
    return Block(items=tuple(items), height=height)
