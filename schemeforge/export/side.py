"""One side of paper: head, foot, what stands between them, and lines for notes."""

from dataclasses import dataclass, field

from schemeforge import plan
from schemeforge.export import words
from schemeforge.export.blocks import Block, Column
from schemeforge.export.facts import Facts
from schemeforge.export.page import (
    ACCENT,
    INK,
    PAPER,
    RULE,
    SOFT,
    Anchor,
    Box,
    Face,
    Frame,
    Item,
    Page,
    Path,
)
from schemeforge.export.typesetting import (
    FINE,
    LEAST_PT,
    SMALL,
    SMALL_STRONG,
    STRONG,
    Measure,
    Style,
)
from schemeforge.export.usual import advice_for
from schemeforge.plan import PlannedStep

MARGIN_MM = 7.5
_SCALE_MM = 50.0
_NOTE_LINE_MM = 8.0
_FEWEST_NOTE_LINES, _MOST_NOTE_LINES = 2, 4
# The most that is added between two cards where a side has room to spare.
_MOST_SPREAD_MM = 7.0
_USED_MM = 30.0
_RIGHT_MM = 56.0


@dataclass(slots=True)
class Side:
    """One side of paper being filled: its title, its blocks, the steps on it.

    Args:
        title: What it is about.
        sub: A line beside the title.
        blocks: From the top down.
        steps: The steps told on it, whose cautions it bears.
        used_box: True for a box to write the hours used in.
        notes: True for note lines where there is room for them.
        spread: True to let blocks stand apart where there is room.
    """

    title: str
    sub: str = ""
    blocks: list[Block] = field(default_factory=list)
    steps: list[PlannedStep] = field(default_factory=list)
    used_box: bool = False
    notes: bool = False
    spread: bool = False


class Frames:
    """Puts sides into pages of one sheet.

    Args:
        facts: What the sheet tells.
        measure: Width in mm of a line of text.
    """

    def __init__(self, facts: Facts, measure: Measure) -> None:
        self._facts = facts
        self._measure = measure
        self.width, self.height = facts.options.size_mm
        self.inner = self.width - 2.0 * MARGIN_MM
        self._heads: dict[tuple[object, ...], float] = {}
        self._feet: dict[tuple[object, ...], Block] = {}

    def room(self, side: Side) -> float:
        """Height left for blocks between head and foot."""
        key = (side.title, side.sub, side.used_box)
        if key not in self._heads:
            self._heads[key] = self._head(side, 1, 1).height
        taken = self._heads[key] + self._foot(side).height
        return self.height - 2.0 * MARGIN_MM - taken - 1e-6

    def page(self, side: Side, number: int, count: int) -> Page:
        """The finished page."""
        head, foot = self._head(side, number, count), self._foot(side)
        items = list(head.at(MARGIN_MM, MARGIN_MM))
        y = MARGIN_MM + head.height
        foot_top = self.height - MARGIN_MM - foot.height
        spare = foot_top - y - sum(block.height for block in side.blocks)
        between = 0.0
        if side.spread:
            between = max(0.0, min(_MOST_SPREAD_MM, spare / max(1, len(side.blocks))))
        for block in side.blocks:
            items += block.at(MARGIN_MM, y)
            y += block.height + between
        lines = min(_MOST_NOTE_LINES, int((foot_top - y - 3.0) / _NOTE_LINE_MM))
        if side.notes and lines >= _FEWEST_NOTE_LINES:
            items += self._notes(foot_top - 2.0 - lines * _NOTE_LINE_MM, lines)
        items += foot.at(MARGIN_MM, foot_top)
        return Page(width=self.width, height=self.height, items=tuple(items), title=side.title)

    def _head(self, side: Side, number: int, count: int) -> Block:
        """Project and scheme; the side's title; page, date, recipe; the box for hours used."""
        facts, measure = self._facts, self._measure
        used_width = _USED_MM + 3.0 if side.used_box else 0.0
        left = Column(measure, 0.0, self.inner - _RIGHT_MM - 3.0 - used_width)
        label = f"{facts.project.name}: {facts.scheme.name}"
        label += f", for {facts.group.name}" if facts.group else ""
        style = Style(size_pt=9.0, colour=SOFT, leading=1.14)
        left.fitted(label, style, most=1, least_pt=LEAST_PT)
        title = Style(size_pt=17.0, face=Face.BOLD, colour=ACCENT, leading=1.16)
        wide = measure(side.title, title.face, title.size_pt) + 3.0
        small = SMALL.sized(8.5)
        if side.sub and wide + measure(side.sub, small.face, small.size_pt) <= left.width:
            beside = Column(measure, wide, left.width - wide, y=left.y)
            beside.text(side.sub, small)
            drop = 0.77 * (title.line_mm - small.line_mm)
            left.items += [item.moved(0.0, drop) for item in beside.items]
            left.fitted(side.title, title, most=1, least_pt=11.0)
        else:
            left.fitted(side.title, title, most=1, least_pt=11.0)
            if side.sub:
                left.text(side.sub, small)
        right = Column(measure, self.inner - _RIGHT_MM, _RIGHT_MM)
        right.text(f"page {number} of {count}", STRONG, Anchor.END)
        today = facts.options.today
        when = f"{words.day(today)}, " if today is not None else ""
        right.text(f"{when}recipe {facts.recipe}", small, Anchor.END)
        items = [*left.items, *right.items]
        height = max(left.y, right.y)
        if side.used_box:
            x = self.inner - _RIGHT_MM - _USED_MM
            frame = Frame(x=x, y=0.3, width=_USED_MM, height=height - 0.6)
            items.append(Box(frame=frame, fill=PAPER, round_mm=1.0, role="hours used"))
            inside = Column(measure, frame.x + 1.0, frame.width - 2.0, y=frame.y + 0.3)
            inside.text("hours used", FINE)
            items += inside.items
        return Block(items=tuple(items), height=height + 1.2)

    def _foot(self, side: Side) -> Block:
        """Stop rules, cautions of the steps on this side, and a line to check the print's scale."""
        stops = tuple(
            dict.fromkeys(
                said for s in side.steps if s.models and (said := advice_for(s.step).stop)
            )
        )
        keys = frozenset(key for step in side.steps for key in step.cautions)
        key = (stops, keys)
        if key not in self._feet:
            column = Column(self._measure, 0.0, self.inner)
            column.gap(1.0)
            ends = ((0.0, 0.0), (self.inner, 0.0))
            column.add((Path(points=ends, line=INK, width_mm=0.5, role="rule"),), 1.0)
            if stops:
                column.text("STOP  " + " ".join(stops), SMALL_STRONG.sized(8.5))
                column.gap(0.2)
            column.text(f"TAKE CARE  {plan.safety_line(set(keys))}", FINE)
            column.gap(0.8)
            self._scale(column)
            self._feet[key] = column.block()
        return self._feet[key]

    def _scale(self, column: Column) -> None:
        """A line of known length, and what to trust."""
        points = ((0.0, 0.0), (0.0, 1.6), (0.0, 0.8), (_SCALE_MM, 0.8), (_SCALE_MM, 1.6))
        scale = Path(points=(*points, (_SCALE_MM, 0.0)), width_mm=0.3, role="scale")
        said = f"50 mm when printed at full size. {words.GUIDE}"
        beside = Column(self._measure, _SCALE_MM + 2.0, self.inner - _SCALE_MM - 2.0)
        beside.text(said, FINE)
        column.add((scale, *beside.items), max(1.8, beside.y))

    def _notes(self, top: float, lines: int) -> list[Item]:
        """A few ruled lines for notes."""
        title = Column(self._measure, MARGIN_MM, self.inner, y=top)
        title.text("Notes", SMALL_STRONG)
        items = list(title.items)
        for n in range(lines):
            y = top + (n + 1) * _NOTE_LINE_MM
            ends = ((MARGIN_MM, y), (MARGIN_MM + self.inner, y))
            items.append(Path(points=ends, line=RULE, width_mm=0.2, role="note line"))
        return items
