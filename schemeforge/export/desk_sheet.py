"""The desk sheet as pages in millimetres: what to do at the desk, in order, on paper."""

from collections.abc import Iterable
from dataclasses import dataclass, field

from schemeforge import plan
from schemeforge.export import words
from schemeforge.export.blocks import Block, Column, fitted_into, paragraph
from schemeforge.export.facts import Facts, SittingPlan, gather
from schemeforge.export.options import Section, SheetOptions
from schemeforge.export.overview import overview
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
from schemeforge.export.step_card import Card, Spilled, step_card
from schemeforge.export.swatches import Swatches
from schemeforge.export.typesetting import (
    FINE,
    SMALL,
    SMALL_STRONG,
    STRONG,
    Measure,
    Style,
    lines_of,
)
from schemeforge.export.usual import advice_for
from schemeforge.plan import PlannedStep
from schemeforge.scheme import Project

MARGIN_MM = 10.0
_SCALE_MM = 50.0
_NOTES_FROM_MM = 22.0
_NOTE_LINE_MM = 8.0
_USED_MM = 38.0
_IN_FULL = "In full"


@dataclass(slots=True)
class _Side:
    """One side of paper being filled: its title, its blocks, the steps on it."""

    title: str
    sub: str = ""
    blocks: list[Block] = field(default_factory=list)
    steps: list[PlannedStep] = field(default_factory=list)
    used_box: bool = False


def sheet_pages(
    project: Project, scheme_id: str, options: SheetOptions, measure: Measure
) -> tuple[Page, ...]:
    """The pages of the desk sheet of one scheme.

    All on one side where it fits; otherwise a front with what to fetch and know, then the steps,
    each sitting beginning on a side of its own.

    Args:
        project: The document.
        scheme_id: The scheme.
        options: Paper, sections, viewing, group, date.
        measure: Width in mm of a line of text.

    Raises:
        UnknownNameError: For a scheme, group or light that does not exist.
        PaintMissingError: For a paint that the project does not carry.
    """
    return _Sheet(gather(project, scheme_id, options), measure).pages()


class _Sheet:
    def __init__(self, facts: Facts, measure: Measure) -> None:
        self._facts = facts
        self._measure = measure
        self._width, self._height = facts.options.size_mm
        self._inner = self._width - 2.0 * MARGIN_MM
        tolerances = facts.options.shows(Section.TOLERANCES)
        self._swatches = Swatches(facts, tolerances=tolerances)
        self._spilled: list[Spilled] = []

    def pages(self) -> tuple[Page, ...]:
        front = list(overview(self._facts, self._swatches, self._inner, self._measure))
        cards = {step.number: self._card(step, None) for step in self._facts.steps}
        one = _Side("Desk sheet", blocks=[*front, *(c.block for c in cards.values())])
        one.steps = list(self._facts.steps)
        if self._room(one) >= sum(block.height for block in one.blocks):
            sides = [one]
        else:
            sides = [*self._flow(_Side("Before you start"), [(b, None) for b in front])]
            for entry in self._facts.sittings:
                sides += self._sitting(entry, cards)
        self._spilled = [s for card in cards.values() for s in card.spilled]
        if self._spilled:
            sides += self._flow(_Side(_IN_FULL), [(b, None) for b in self._in_full()])
        sides = [side for side in sides if side.blocks]
        return tuple(self._page(side, n, len(sides)) for n, side in enumerate(sides, start=1))

    def _card(self, step: PlannedStep, mixed_for: int | None) -> Card:
        shown = self._facts.options.shows(Section.SWATCHES) and step.models
        swatches = self._swatches.of_step(step) if shown else ()
        return step_card(
            self._facts, step, swatches, self._inner, self._measure, mixed_for=mixed_for
        )

    def _sitting(self, entry: SittingPlan, cards: dict[int, Card]) -> list[_Side]:
        """The sides of one sitting; a pot is told in full once a sitting."""
        title = words.sitting_name(entry, many=bool(self._facts.project.sittings))
        sub = f"hands-on {words.duration(entry.minutes)} planned"
        if entry.sitting is not None:
            at_desk = entry.sitting.minutes * self._facts.project.habits.hands
            sub = f"{words.duration(at_desk)} at the desk, {sub}"
        blocks: list[tuple[Block, PlannedStep | None]] = []
        if entry.goes_on:
            on = ", ".join(f"{s.number} {s.step.name}" for s in entry.goes_on)
            text = f"Goes on from an earlier sitting, tick there: {on}"
            blocks.append((self._spaced(paragraph(text, STRONG, self._inner, self._measure)), None))
        mixed: dict[str, int] = {}
        for step in entry.starts:
            first = mixed.setdefault(step.pot, step.number) if step.pot else step.number
            card = cards[step.number] if first == step.number else self._card(step, first)
            blocks.append((card.block, step))
        side = _Side(title, sub, used_box=entry.sitting is not None)
        return self._flow(side, blocks) if entry.starts else []

    def _spaced(self, block: Block) -> Block:
        return Block(items=block.items, height=block.height + 2.0)

    def _flow(
        self, first: _Side, blocks: Iterable[tuple[Block, PlannedStep | None]]
    ) -> list[_Side]:
        """The blocks over as many sides as they take, table heads repeated."""
        sides = [first]
        for block, step in blocks:
            side = sides[-1]
            trial = _Side(side.title, side.sub, [*side.blocks, block], [*side.steps])
            trial.steps += [step] if step else []
            height = sum(b.height for b in trial.blocks)
            if side.blocks and height > self._room(trial):
                if not block.items:  # a gap at the foot of a side
                    continue
                side = _Side(first.title, first.sub)
                sides.append(side)
                if block.repeat is not None:
                    side.blocks.append(block.repeat)
            side.steps += [step] if step else []
            room = self._room(side) - sum(b.height for b in side.blocks)
            side.blocks.append(fitted_into(block, room))
        return sides

    def _room(self, side: _Side) -> float:
        """Height left for blocks between head and foot."""
        taken = self._head(side, 1, 1).height + self._foot(side).height
        return self._height - 2.0 * MARGIN_MM - taken - 1e-6

    def _page(self, side: _Side, number: int, count: int) -> Page:
        head, foot = self._head(side, number, count), self._foot(side)
        items = list(head.at(MARGIN_MM, MARGIN_MM))
        y = MARGIN_MM + head.height
        for block in side.blocks:
            items += block.at(MARGIN_MM, y)
            y += block.height
        foot_top = self._height - MARGIN_MM - foot.height
        if side.title != _IN_FULL and foot_top - y >= _NOTES_FROM_MM:
            items += self._notes(y + 1.0, foot_top - 3.0)
        items += foot.at(MARGIN_MM, foot_top)
        return Page(width=self._width, height=self._height, items=tuple(items), title=side.title)

    def _head(self, side: _Side, number: int, count: int) -> Block:
        """Project and scheme; the side's title; page, date, recipe; the box for hours used."""
        facts = self._facts
        right_width = 44.0
        used_width = _USED_MM + 3.0 if side.used_box else 0.0
        left = Column(self._measure, 0.0, self._inner - right_width - 3.0 - used_width)
        label = f"{facts.project.name}: {facts.scheme.name}"
        label += f", for {facts.group.name}" if facts.group else ""
        left.fitted(label, Style(size_pt=10.0, colour=SOFT), most=2, least_pt=7.0)
        left.fitted(
            side.title, Style(size_pt=19.0, face=Face.BOLD, colour=ACCENT), most=1, least_pt=11.0
        )
        if side.sub:
            left.text(side.sub, SMALL.sized(9.5))
        right = Column(self._measure, self._inner - right_width, right_width)
        right.text(f"page {number} of {count}", STRONG, Anchor.END)
        today = facts.options.today
        if today is not None:
            right.text(words.day(today), SMALL, Anchor.END)
        right.text(f"recipe {facts.recipe}", SMALL, Anchor.END)
        items = [*left.items, *right.items]
        height = max(left.y, right.y)
        if side.used_box:
            frame = Frame(
                x=self._inner - right_width - _USED_MM, y=0.5, width=_USED_MM, height=height - 1.0
            )
            items.append(Box(frame=frame, fill=PAPER, round_mm=1.0, role="hours used"))
            inner = Column(self._measure, frame.x + 1.0, frame.width - 2.0, y=frame.y + 0.3)
            inner.text("hours used", SMALL.sized(7.5))
            items += inner.items
        return Block(items=tuple(items), height=height + 3.0)

    def _foot(self, side: _Side) -> Block:
        """Stop rules, cautions of the steps on this side, and a line to check the print's scale."""
        column = Column(self._measure, 0.0, self._inner)
        rule = Path(points=((0.0, 0.0), (self._inner, 0.0)), line=INK, width_mm=0.5, role="rule")
        column.add((rule,), 1.4)
        steps = side.steps
        stops = list(
            dict.fromkeys(said for s in steps if s.models and (said := advice_for(s.step).stop))
        )
        if stops:
            column.text("STOP  " + " ".join(stops), SMALL_STRONG)
            column.gap(0.4)
        keys = {key for step in steps for key in step.cautions}
        column.text(f"TAKE CARE  {plan.safety_line(keys)}", SMALL.sized(7.5))
        column.gap(1.2)
        scale = Path(
            points=(
                (0.0, 0.0),
                (0.0, 1.6),
                (0.0, 0.8),
                (_SCALE_MM, 0.8),
                (_SCALE_MM, 1.6),
                (_SCALE_MM, 0.0),
            ),
            width_mm=0.3,
            role="scale",
        )
        beside = Column(self._measure, _SCALE_MM + 2.0, self._inner - _SCALE_MM - 2.0)
        beside.lines(
            lines_of(
                f"50 mm when printed at full size. {words.GUIDE}",
                FINE,
                beside.width,
                self._measure,
            ),
            FINE,
        )
        column.add((scale, *beside.items), max(1.8, beside.y))
        return column.block()

    def _notes(self, top: float, bottom: float) -> list[Item]:
        """Ruled lines for notes where a side would stay empty."""
        title = Column(self._measure, MARGIN_MM, self._inner, y=top)
        title.text("Notes", SMALL_STRONG)
        items = list(title.items)
        y = title.y + _NOTE_LINE_MM - 2.0
        while y <= bottom:
            ends = ((MARGIN_MM, y), (MARGIN_MM + self._inner, y))
            items.append(Path(points=ends, line=RULE, width_mm=0.2, role="note line"))
            y += _NOTE_LINE_MM
        return items

    def _in_full(self) -> list[Block]:
        """The words that were too long for their cards, line by line so that they can flow."""
        blocks = []
        for one in self._spilled:
            title = f"Step {one.number}, {one.label.lower()}"
            blocks.append(paragraph(title, SMALL_STRONG, self._inner, self._measure))
            for line in lines_of(one.text, SMALL, self._inner, self._measure):
                column = Column(self._measure, 0.0, self._inner)
                column.lines((line,), SMALL)
                blocks.append(column.block())
            blocks.append(Block(items=(), height=2.0))
        return blocks
