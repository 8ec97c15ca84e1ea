"""The desk sheet as pages in millimetres: what to do at the desk, in order, on paper."""

from collections.abc import Callable, Iterable
from dataclasses import replace
from functools import lru_cache
from typing import TYPE_CHECKING

from schemeforge.export import words
from schemeforge.export.blocks import Block, Column, fitted_into, paragraph
from schemeforge.export.card_parts import Card, Spilled
from schemeforge.export.density import DENSITIES, Density
from schemeforge.export.facts import Facts, gather
from schemeforge.export.options import Section, SheetOptions
from schemeforge.export.order_block import order_block
from schemeforge.export.overview import overview
from schemeforge.export.page import Page
from schemeforge.export.pager import spans
from schemeforge.export.side import Frames, Side
from schemeforge.export.sittings import SheetSitting
from schemeforge.export.slim_card import slim_card
from schemeforge.export.step_card import step_card
from schemeforge.export.swatches import Swatch, Swatches
from schemeforge.export.typesetting import SMALL, SMALL_STRONG, Measure, lines_of
from schemeforge.plan import PlannedStep
from schemeforge.scheme import Project

if TYPE_CHECKING:
    from schemeforge.stand_in import StandIns

_IN_FULL = "In full"
_FRONT = "Before you start"
_MOST_MEASURED = 100_000
# Shares of the work that are done once swatches are known, once cards are set.
_LOOKED, _SET = 0.6, 0.9
Watch = Callable[[float], None]


def sheet_pages(
    project: Project,
    scheme_id: str,
    options: SheetOptions,
    measure: Measure,
    watch: Watch | None = None,
    views: "StandIns | None" = None,
) -> tuple[Page, ...]:
    """The pages of the desk sheet of one scheme.

    All on one side where it fits; otherwise a front with what to fetch and know, then the steps,
    each sitting on one side of its own where its cards can be set closely enough, else on as few
    as hold them.

    Args:
        project: The document.
        scheme_id: The scheme.
        options: Paper, sections, viewing, group, date.
        measure: Width in mm of a line of text.
        watch: Told the share that is done, 0 to 1; what it raises ends the work.
        views: Where views of stand-in models are kept; no picture of one where None.

    Raises:
        UnknownNameError: For a scheme, group or light that does not exist.
        PaintMissingError: For a paint that the project does not carry.
    """
    return _Sheet(gather(project, scheme_id, options, views), measure, watch).pages()


class _Sheet:
    def __init__(self, facts: Facts, measure: Measure, watch: Watch | None = None) -> None:
        self._facts = facts
        # The same words are measured again and again while cards are fitted.
        self._measure = measure = lru_cache(_MOST_MEASURED)(measure)
        self._watch = watch or (lambda _share: None)
        self._frames = Frames(facts, measure)
        self._inner = self._frames.inner
        tolerances = facts.options.shows(Section.TOLERANCES)
        self._swatches = Swatches(facts, tolerances=tolerances)
        self._of_step: dict[int, tuple[Swatch, ...]] = {}
        self._cards: dict[tuple[object, ...], Card] = {}

    def pages(self) -> tuple[Page, ...]:
        self._watch(0.0)
        front = list(overview(self._facts, self._swatches, self._inner, self._measure))
        self._look()
        sides, used = self._on_one(front)
        if not sides:
            sides = self._flow(Side(_FRONT, notes=True), [(b, None) for b in front])
            for n, entry in enumerate(self._facts.sittings):
                self._watch(_LOOKED + (_SET - _LOOKED) * n / len(self._facts.sittings))
                more, cards = self._sitting(entry)
                sides += more
                used += cards
        spilled = [one for card in used for one in card.spilled]
        if spilled:
            sides += self._flow(Side(_IN_FULL), [(b, None) for b in self._in_full(spilled)])
        self._watch(_SET)
        sides = [side for side in sides if side.blocks]
        return tuple(self._frames.page(side, n, len(sides)) for n, side in enumerate(sides, 1))

    def _look(self) -> None:
        """Works out the swatches of every step, which is most of the work."""
        count = len(self._facts.steps)
        for n, step in enumerate(self._facts.steps, start=1):
            shown = self._facts.options.shows(Section.SWATCHES) and step.models
            self._of_step[step.number] = self._swatches.of_step(step) if shown else ()
            self._watch(_LOOKED * n / count)

    def _on_one(self, front: list[Block]) -> tuple[list[Side], list[Card]]:
        """Everything on one side where there is no more than one sitting and it fits."""
        if len(self._facts.sittings) > 1:
            return [], []
        (entry,) = self._facts.sittings
        head = self._head(entry)
        for density in self._densities:
            cards = [self._card(step, None, density) for step in entry.starts]
            blocks = [*front, *([] if head is None else [head]), *(card.block for card in cards)]
            side = Side("Desk sheet", blocks=blocks, notes=True)
            side.steps = list(entry.starts)
            if self._frames.room(side) >= sum(block.height for block in side.blocks):
                return [side], cards
        return [], []

    @property
    def _densities(self) -> tuple[Density | None, ...]:
        """Ways to set a card, the most open first; None is the large type."""
        return (None,) if self._facts.options.roomy else DENSITIES

    def _card(self, step: PlannedStep, mixed_for: int | None, density: Density | None) -> Card:
        key = (step.number, mixed_for, density)
        if key not in self._cards:
            facts, swatches = self._facts, self._of_step[step.number]
            self._cards[key] = (
                step_card(facts, step, swatches, self._inner, self._measure, mixed_for=mixed_for)
                if density is None
                else slim_card(
                    facts,
                    step,
                    swatches,
                    self._inner,
                    self._measure,
                    density,
                    mixed_for=mixed_for,
                )
            )
        return self._cards[key]

    def _sitting(self, entry: SheetSitting) -> tuple[list[Side], list[Card]]:
        """The sides of one sitting and their cards; a pot is told in full once a sitting."""
        if not entry.starts and not entry.stretches:
            return [], []
        best: tuple[list[Side], list[Card]] = ([], [])
        for density in self._densities:
            mixed: dict[str, int] = {}
            cards = []
            for step in entry.starts:
                first = mixed.setdefault(step.pot, step.number) if step.pot else step.number
                cards.append(self._card(step, None if first == step.number else first, density))
            sides = self._shared_out(entry, cards)
            if not best[0] or len(sides) < len(best[0]):
                best = sides, cards
            if len(sides) == 1:
                break
        return best

    def _shared_out(self, entry: SheetSitting, cards: list[Card]) -> list[Side]:
        """The cards over the fewest sides, all about equally full."""
        first = self._side_of(entry)
        blocks = [card.block for card in cards]
        told: list[tuple[PlannedStep, ...]] = [(step,) for step in entry.starts]
        head = self._head(entry)
        if head is not None:
            blocks.insert(0, head)
            told.insert(0, entry.goes_on)

        def steps(start: int, end: int) -> list[PlannedStep]:
            return list(dict.fromkeys(step for row in told[start:end] for step in row))

        def room(start: int, end: int) -> float:
            return self._frames.room(replace(first, steps=steps(start, end)))

        sides: list[Side] = []
        for start, end in spans([block.height for block in blocks], room):
            side = replace(first, steps=steps(start, end), used_box=False)
            side.used_box = first.used_box and not sides
            height = self._frames.room(side)
            side.blocks = [fitted_into(b, height, self._measure) for b in blocks[start:end]]
            side.notes = end == len(blocks)
            sides.append(side)
        return sides

    def _side_of(self, entry: SheetSitting) -> Side:
        title = words.sitting_name(entry, many=bool(self._facts.project.sittings))
        sub = f"{words.duration(entry.minutes)} planned"
        if entry.sitting is not None:
            sub = f"{words.duration(entry.at_desk)} at the desk, {sub}"
        return Side(title, sub, used_box=entry.sitting is not None, spread=True)

    def _head(self, entry: SheetSitting) -> Block | None:
        """What is done in which order, and which steps go on from an earlier sitting."""
        blocks = []
        if entry.sitting is not None and self._facts.options.shows(Section.SITTINGS):
            times = self._facts.options.shows(Section.TIMES)
            blocks.append(order_block(entry, self._inner, self._measure, times=times))
        if entry.goes_on:
            blocks.append(self._goes_on(entry))
        if not blocks:
            return None
        return _stacked(blocks[0], blocks[1]) if len(blocks) == 2 else blocks[0]

    def _goes_on(self, entry: SheetSitting) -> Block:
        on = ", ".join(f"{s.number} {s.step.name}" for s in entry.goes_on)
        text = f"Goes on from an earlier sitting, tick there: {on}"
        block = paragraph(text, SMALL_STRONG.sized(8.5), self._inner, self._measure)
        return Block(items=block.items, height=block.height + 0.5)

    def _flow(self, first: Side, blocks: Iterable[tuple[Block, PlannedStep | None]]) -> list[Side]:
        """The blocks over as many sides as they take, table heads repeated."""
        sides = [first]
        for block, step in blocks:
            side = sides[-1]
            trial = replace(side, blocks=[*side.blocks, block], steps=[*side.steps])
            trial.steps += [step] if step else []
            height = sum(b.height for b in trial.blocks)
            if side.blocks and height > self._frames.room(trial):
                if not block.items:  # a gap at the foot of a side
                    continue
                side = Side(first.title, first.sub, notes=first.notes)
                sides[-1].notes = False
                sides.append(side)
                if block.repeat is not None:
                    side.blocks.append(block.repeat)
            side.steps += [step] if step else []
            room = self._frames.room(side) - sum(b.height for b in side.blocks)
            side.blocks.append(fitted_into(block, room, self._measure))
        return sides

    def _in_full(self, spilled: Iterable[Spilled]) -> list[Block]:
        """The words that were too long for their cards, line by line so that they can flow."""
        blocks = []
        for one in spilled:
            title = f"Step {one.number}, {one.label.lower()}"
            blocks.append(paragraph(title, SMALL_STRONG, self._inner, self._measure))
            for line in lines_of(one.text, SMALL, self._inner, self._measure):
                column = Column(self._measure, 0.0, self._inner)
                column.lines((line,), SMALL)
                blocks.append(column.block())
            blocks.append(Block(items=(), height=2.0))
        return blocks


def _stacked(upper: Block, lower: Block) -> Block:
    items = (*upper.items, *lower.at(0.0, upper.height))
    return Block(items=items, height=upper.height + lower.height)
