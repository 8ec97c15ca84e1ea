"""One step in large type: number, outline, what to do, mix, ticks, minutes, swatches, advice."""

from schemeforge.export import words
from schemeforge.export.blocks import BADGE_MM, Column, badge, side_by_side
from schemeforge.export.card_parts import (
    ELSEWHERE,
    Card,
    Spilled,
    capital,
    marks_of,
    no_colour,
    pieces_of_advice,
)
from schemeforge.export.facts import Facts
from schemeforge.export.figure import WIDTH as FIGURE_WIDTH
from schemeforge.export.figure import figure
from schemeforge.export.mix_block import again_block, mix_block
from schemeforge.export.options import Section
from schemeforge.export.page import (
    ACCENT,
    PAPER,
    Anchor,
    Box,
    Frame,
    Path,
    Text,
    moved,
)
from schemeforge.export.swatch_block import GAP, how_many, swatch_block
from schemeforge.export.swatch_block import WIDTH as SWATCH_WIDTH
from schemeforge.export.swatches import Swatch
from schemeforge.export.ticks import tick_rows
from schemeforge.export.typesetting import (
    BODY,
    FINE,
    HUGE,
    LEAST_PT,
    SMALL,
    SMALL_STRONG,
    STRONG,
    TITLE,
    Measure,
    lines_of,
)
from schemeforge.plan import PlannedStep

_LEFT = 23.0
_GUTTER = 3.0
_FIGURE_MM = 29.0
_LABEL_MM = 16.0
_MOST_LINES = 5
_MOST_SWATCHES = 12
_BESIDE = 3
_MOST_BADGES = 12
_TWO_COLUMNS_FROM = 150.0
_CHIP_MM = 12.0


def step_card(
    facts: Facts,
    step: PlannedStep,
    swatches: tuple[Swatch, ...],
    width: float,
    measure: Measure,
    *,
    mixed_for: int | None = None,
) -> Card:
    """The card of a step.

    Args:
        facts: What the sheet tells.
        step: The step.
        swatches: Its swatches; none for work without a predicted colour.
        width: Of the card, mm.
        measure: Width of a line of text.
        mixed_for: Number of the step for which its pot is mixed where that was earlier.
    """
    spilled: list[Spilled] = []
    left = _number_and_figure(facts, step, measure)
    start = _LEFT + _GUTTER
    room = width - start - SWATCH_WIDTH - _GUTTER
    wide = room >= _TWO_COLUMNS_FROM
    what_width = (room - _GUTTER) / 2.0 if wide else room
    what = Column(measure, start, what_width)
    _what(facts, step, what, spilled)
    _pot(facts, step, what, mixed_for, spilled)
    right = Column(measure, width - SWATCH_WIDTH, SWATCH_WIDTH)
    if facts.options.shows(Section.SWATCHES):
        _swatches_beside(facts, step, swatches, right)
    columns = [left, what, right]
    if wide:
        third = Column(measure, start + what_width + _GUTTER, what_width)
        _ticks(step, third)
        _minutes(facts, step, third)
        _advice(facts, step, third, spilled)
        columns.append(third)
    else:
        _ticks(step, _shorter(what, right))
        _minutes(facts, step, _shorter(what, right))
    card = Column(measure, 0.0, width)
    rule = Path(points=((0.0, 0.0), (width, 0.0)), line=ACCENT, width_mm=0.7, role="rule")
    card.add((rule,), 1.8)
    card.put(side_by_side(*columns))
    _swatches_below(facts, swatches, card)
    if not wide:
        _advice_below(facts, step, card, spilled)
    card.gap(2.5)
    return Card(block=card.block(), spilled=tuple(spilled))


def _advice_below(facts: Facts, step: PlannedStep, card: Column, spilled: list[Spilled]) -> None:
    """Advice under the card's columns, each piece over half of the width."""
    start = _LEFT + _GUTTER
    half = (card.width - start - _GUTTER) / 2.0
    pieces = pieces_of_advice(facts, step)
    card.gap(0.8 if pieces else 0.0)
    columns = [Column(card.measure, start + n * (half + _GUTTER), half) for n in range(2)]
    for n, (label, text) in enumerate(pieces):
        _limited(text, label, step, columns[n % 2], spilled)
    card.put(side_by_side(*columns))


def _number_and_figure(facts: Facts, step: PlannedStep, measure: Measure) -> Column:
    column = Column(measure, 0.0, _LEFT)
    column.fitted(str(step.number), HUGE, most=1, least_pt=14.0)
    column.gap(1.0)
    marks = marks_of(facts, step)
    outline = figure(facts.project, facts.numbers, _FIGURE_MM, marks, measure)
    column.put(outline, indent=(_LEFT - FIGURE_WIDTH * _FIGURE_MM) / 2.0)
    if marks.keep_out:
        column.gap(0.6)
        column.text("hatched: keep off", FINE, Anchor.MIDDLE)
    return column


def _what(facts: Facts, step: PlannedStep, column: Column, spilled: list[Spilled]) -> None:
    """Name, zones, groups, technique, tool."""
    column.fitted(step.step.name, TITLE, most=2, least_pt=10.0)
    column.gap(0.8)
    _zones(facts, step, column, spilled)
    _limited(words.who(facts, step), "Who", step, column, spilled)
    relief = words.relief(step)
    tool = step.tool if step.spray is None else ""
    how = ", ".join(part for part in (step.technique, relief) if part)
    _labelled("How", ". ".join(capital(part) for part in (how, tool) if part), column)
    along = sorted(
        {
            said
            for zone_id in step.step.zone_ids
            if (said := words.along(step, *facts.project.zone(zone_id).along_words))
        }
    )
    for said in along[:3]:
        label = "Feather" if words.is_feathered(step) else "Along"
        _limited(said, label, step, column, spilled)
    if step.spray is not None:
        _labelled("Spray", capital(step.spray.words), column)


def _zones(facts: Facts, step: PlannedStep, column: Column, spilled: list[Spilled]) -> None:
    ids = step.step.zone_ids
    if not ids:
        _labelled("Where", "The whole model", column)
        return
    if len(ids) == len(facts.numbers) > 1:
        _labelled("Where", "All zones, the whole model", column)
        return
    if len(ids) > _MOST_BADGES:
        _limited(
            ", ".join(f"{facts.numbers[z]} {n}" for z, n in _named(facts, ids)),
            "Where",
            step,
            column,
            spilled,
        )
        return
    column.gap(0.4)
    x = 0.0
    for zone_id, name in _named(facts, ids):
        number = str(facts.numbers[zone_id])
        inner = Column(column.measure, 2.0 * BADGE_MM + 1.2, column.width - 2.0 * BADGE_MM - 1.2)
        inner.fitted(name, STRONG, most=1, least_pt=8.0)
        width = inner.x + max(
            column.measure(t.text, t.face, t.size_pt) for t in inner.items if isinstance(t, Text)
        )
        if x and x + width > column.width:
            column.gap(2.0 * BADGE_MM + 0.5)
            x = 0.0
        mark = badge(number, BADGE_MM, BADGE_MM, filled=True, measure=column.measure)
        drop = max(0.0, BADGE_MM - inner.y / 2.0)
        items = (*mark, *(i.moved(0.0, drop) for i in inner.items))
        column.items += moved(items, column.x + x, column.y)
        x += width + 4.0
        if inner.y > 2.0 * BADGE_MM:
            column.gap(inner.y - 2.0 * BADGE_MM)
    column.gap(2.0 * BADGE_MM + 0.8)


def _named(facts: Facts, ids: tuple[str, ...]) -> list[tuple[str, str]]:
    return [(zone_id, facts.project.zone(zone_id).name) for zone_id in ids]


def _pot(
    facts: Facts,
    step: PlannedStep,
    column: Column,
    mixed_for: int | None,
    spilled: list[Spilled],
) -> None:
    pot = facts.pots.get(step.pot)
    if pot is None or not facts.options.shows(Section.MIXES):
        return
    column.gap(1.5)
    if mixed_for is None:
        column.put(mix_block(pot, column.width, column.measure))
        if pot.mix.note:
            _limited(pot.mix.note, "Pot", step, column, spilled)
    else:
        column.put(again_block(pot, mixed_for, column.width, column.measure))


def _shorter(one: Column, other: Column) -> Column:
    """The column with more room; the second where they end alike."""
    return one if one.y + 1.0 < other.y else other


def _ticks(step: PlannedStep, column: Column) -> None:
    """Tick boxes of every run and pass."""
    if step.models:
        column.gap(1.2)
        column.put(tick_rows(step, column.width, column.measure))


def _minutes(facts: Facts, step: PlannedStep, column: Column) -> None:
    """Minutes planned, a box for minutes taken, the wait."""
    if not step.models or not facts.options.shows(Section.TIMES):
        return
    third = min(column.width, SWATCH_WIDTH) / 3.0
    top = column.y
    planned = Column(column.measure, column.x, third - 1.0, y=top)
    planned.text("planned", SMALL.sized(7.5))
    planned.fitted(
        words.duration(facts.minutes.get(step.step.id, 0.0)),
        STRONG.sized(12.0),
        most=1,
        least_pt=8.0,
    )
    taken = Frame(x=column.x + third, y=top + 0.5, width=third - 2.0, height=9.0)
    label = Column(column.measure, taken.x + 1.0, taken.width - 2.0, y=taken.y + 0.2)
    label.fitted("taken", SMALL.sized(7.5), most=1, least_pt=LEAST_PT)
    wait = Column(column.measure, column.x + 2.0 * third, third, y=top)
    wait.text("then let dry", SMALL.sized(7.5))
    wait.fitted(words.wait(step.wait_minutes), STRONG.sized(12.0), most=1, least_pt=8.0)
    box = Box(frame=taken, fill=PAPER, role="minutes taken")
    column.items += [box, *planned.items, *label.items, *wait.items]
    column.y = max(planned.y, wait.y, taken.bottom) + 1.0


def _advice(facts: Facts, step: PlannedStep, column: Column, spilled: list[Spilled]) -> None:
    for label, text in pieces_of_advice(facts, step):
        _limited(text, label, step, column, spilled)


def _labelled(label: str, text: str, column: Column) -> None:
    """A short label in bold and its text hanging beside it."""
    beside = lines_of(text, SMALL, column.width - _LABEL_MM, column.measure)
    _hang(label, beside, column)


def _hang(label: str, lines: tuple[str, ...], column: Column) -> None:
    head = Column(column.measure, column.x, _LABEL_MM - 1.0, y=column.y)
    head.fitted(label, SMALL_STRONG, most=1, least_pt=LEAST_PT)
    column.lines(lines, SMALL, indent=_LABEL_MM)
    column.items += head.items
    column.y = max(column.y, head.y) + 0.4


def _limited(
    text: str, label: str, step: PlannedStep, column: Column, spilled: list[Spilled]
) -> None:
    """As ``_labelled``; what takes too many lines stands in full at the sheet's end."""
    lines = lines_of(text, SMALL, column.width - _LABEL_MM, column.measure)
    if len(lines) > _MOST_LINES:
        spilled.append(Spilled(number=step.number, label=label, text=text))
        more = lines_of(ELSEWHERE, SMALL, column.width - _LABEL_MM, column.measure)
        lines = (*lines[: _MOST_LINES - 1], *more)
    _hang(label, lines, column)


def _swatches_beside(
    facts: Facts, step: PlannedStep, swatches: tuple[Swatch, ...], column: Column
) -> None:
    if not swatches:
        panel = no_colour(step, SWATCH_WIDTH, BODY, _CHIP_MM, column.measure)
        if panel is not None:
            column.put(panel)
            column.gap(GAP)
    for swatch in swatches[:_BESIDE]:
        column.put(swatch_block(swatch, facts.numbers, column.measure))
        column.gap(GAP)


def _swatches_below(facts: Facts, swatches: tuple[Swatch, ...], card: Column) -> None:
    """The swatches that have no room beside, as many a row as the card takes."""
    rest = swatches[_BESIDE:_MOST_SWATCHES]
    a_row = how_many(card.width)
    for start in range(0, len(rest), a_row):
        blocks = [swatch_block(s, facts.numbers, card.measure) for s in rest[start : start + a_row]]
        card.gap(GAP)
        items = [i for n, b in enumerate(blocks) for i in b.at(n * (SWATCH_WIDTH + GAP), 0.0)]
        card.add(items, max(b.height for b in blocks))
    if len(swatches) > _MOST_SWATCHES:
        left_out = [z for s in swatches[_MOST_SWATCHES:] for z in s.zones]
        card.gap(0.8)
        card.text(
            f"{len(left_out)} smaller zones without a swatch of this step: "
            "see them finished on the first page.",
            SMALL,
        )
