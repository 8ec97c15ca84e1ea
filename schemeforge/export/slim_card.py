"""A step as a slim card: number, what to do, mix, swatches, ticks and minutes side by side."""

from collections.abc import Iterator
from dataclasses import dataclass, field, replace

from schemeforge.export import words
from schemeforge.export.blocks import BADGE_MM, Block, Column, badge
from schemeforge.export.card_parts import (
    Card,
    Spilled,
    capital,
    marks_of,
    no_colour,
    pieces_of_advice,
)
from schemeforge.export.density import Density
from schemeforge.export.facts import Facts
from schemeforge.export.figure import WIDTH as FIGURE_WIDTH
from schemeforge.export.figure import figure
from schemeforge.export.hints import Hint, hint_lines
from schemeforge.export.options import Section
from schemeforge.export.page import ACCENT, PAPER, Box, Face, Frame, Item, Path, Text
from schemeforge.export.representatives import representatives
from schemeforge.export.slim_mix import slim_again, slim_mix
from schemeforge.export.slim_swatch import GAP, WIDTH, slim_swatch
from schemeforge.export.swatches import Swatch
from schemeforge.export.ticks import tick_rows, ticks_wide
from schemeforge.export.typesetting import FINE, LEAST_PT, Measure, Style, laid, shrunk
from schemeforge.plan import PlannedStep

_NUMBER = Style(size_pt=26.0, face=Face.BOLD, leading=1.0)
_LEFT = 16.0
_GUTTER = 3.0
_MIX_SHARE = 0.54
_LEAST_FIGURE_MM, _MOST_FIGURE_MM = 13.0, 22.0
_MOST_BADGES = 4
_CHIP_MM = 7.0
_RULE_MM = 0.6
_ABOVE_HINTS_MM = 0.2
# Room for the minutes beside the ticks, and for a number in the box of minutes taken.
_LEAST_TIMES_MM = 43.0
_TAKEN_MM = 9.0
_MOST_LINES = 4
# A name shrinks to this size to stay on one line.
_LEAST_NAME_PT = 13.0


@dataclass(slots=True)
class _Parts:
    """What a card is put together from."""

    number: Column
    name: Column
    where: Column
    mix: Column | None
    right: Column
    told: list[Hint] = field(default_factory=list)
    hints: list[Hint] = field(default_factory=list)


def slim_card(
    facts: Facts,
    step: PlannedStep,
    swatches: tuple[Swatch, ...],
    width: float,
    measure: Measure,
    density: Density,
    *,
    mixed_for: int | None = None,
) -> Card:
    """The card of a step, as low as its parts can be set.

    Args:
        facts: What the sheet tells.
        step: The step.
        swatches: All its swatches; none for work without a predicted colour.
        width: Of the card, mm.
        measure: Width of a line of text.
        density: Sizes.
        mixed_for: Number of the step for which its pot is mixed where that was earlier.
    """
    writer = _Writer(facts, step, measure, density, width)
    parts = writer.parts(swatches, mixed_for)
    # The lowest; of those, the one whose text is done first, so that it has the widest lines.
    body, _ = min(writer.settings(parts), key=lambda way: (round(way[0].height, 1), way[1]))
    card = Column(measure, 0.0, width)
    rule = Path(points=((0.0, 0.0), (width, 0.0)), line=ACCENT, width_mm=_RULE_MM, role="rule")
    card.add((rule,), density.gap_mm + 0.2)
    top = card.y
    card.put(body)
    writer.outline(card, top + parts.number.y, body.height - parts.number.y)
    card.gap(density.gap_mm)
    return Card(block=card.block(), spilled=tuple(writer.spilled))


class _Writer:
    """Sets one step at one density."""

    def __init__(
        self, facts: Facts, step: PlannedStep, measure: Measure, density: Density, width: float
    ) -> None:
        self.spilled: list[Spilled] = []
        self._facts = facts
        self._step = step
        self._measure = measure
        self._density = density
        self._width = width
        self._middle = width - _LEFT - WIDTH - _GUTTER
        if not self._has_right:
            self._middle = width - _LEFT

    @property
    def _has_right(self) -> bool:
        """False where nothing stands on the right: no swatches and nobody to tick."""
        return bool(self._facts.options.shows(Section.SWATCHES) or self._step.models)

    def parts(self, swatches: tuple[Swatch, ...], mixed_for: int | None) -> _Parts:
        """The parts, each in a column of its own."""
        step, density, measure = self._step, self._density, self._measure
        number = Column(measure, 0.0, _LEFT - 1.0)
        number.fitted(str(step.number), _NUMBER, most=1, least_pt=14.0)
        mix = self._mix(mixed_for)
        room = self._middle - (mix.width + _GUTTER if mix else 0.0)
        name = Column(measure, _LEFT, room)
        one_line, lines = shrunk(
            step.step.name, density.name, room, measure, most=1, least_pt=_LEAST_NAME_PT
        )
        if len(lines) == 1:
            name.lines(lines, one_line)
        else:
            name.fitted(step.step.name, density.name, most=2, least_pt=10.0)
        name.gap(0.5)
        where = Column(measure, _LEFT, room)
        self._where(where)
        parts = _Parts(number=number, name=name, where=where, mix=mix, right=self._right(swatches))
        parts.told = self._told()
        parts.hints = [Hint(label, text) for label, text in pieces_of_advice(self._facts, step)]
        pot = self._facts.pots.get(step.pot)
        if mix is not None and pot is not None and mixed_for is None and pot.ml and pot.mix.note:
            parts.hints.append(Hint("Pot", pot.mix.note))
        self._spill(parts)
        return parts

    def settings(self, parts: _Parts) -> Iterator[tuple[Block, float]]:
        """The card's body in several ways, and where its text ends: more or less of it in hints."""
        for moved in range(len(parts.told) + 1):
            kept = parts.told[: len(parts.told) - moved]
            hints = [*parts.told[len(kept) :], *parts.hints]
            what = Column(self._measure, _LEFT, parts.where.width, y=parts.name.y)
            what.items += [*parts.name.items, *(i.moved(0.0, what.y) for i in parts.where.items)]
            what.gap(parts.where.y)
            if kept:
                what.put(hint_lines(kept, self._density.told, what.width, self._measure))
            high = max(what.y, parts.mix.y if parts.mix else 0.0)
            for beside in range(len(hints) + 1):
                yield self._body(parts, what, high, hints[:beside], hints[beside:])

    def _body(
        self, parts: _Parts, what: Column, high: float, beside: list[Hint], below: list[Hint]
    ) -> tuple[Block, float]:
        """Some hints beside the right column, the others below it over the whole width."""
        hint, measure = self._density.hint, self._measure
        under = Column(measure, _LEFT, self._middle, y=high)
        if beside:
            under.gap(_ABOVE_HINTS_MM)
            under.put(hint_lines(beside, hint, self._middle, measure))
        last = Column(measure, _LEFT, self._width - _LEFT, y=max(under.y, parts.right.y))
        if below:
            last.gap(_ABOVE_HINTS_MM)
            last.put(hint_lines(below, hint, last.width, measure))
        items = [*parts.number.items, *what.items, *parts.right.items]
        items += [*under.items, *last.items, *(parts.mix.items if parts.mix else [])]
        least = parts.number.y + _LEAST_FIGURE_MM + 0.5
        end = last.y if below else under.y
        return Block(items=tuple(items), height=max(last.y, least)), end

    def outline(self, card: Column, top: float, room: float) -> None:
        """The model's outline under the number, as large as there is room."""
        marks = marks_of(self._facts, self._step)
        note = FINE.line_mm * 2.0 if marks.keep_out else 0.0
        height = min(_MOST_FIGURE_MM, room - 0.5 - note, (_LEFT - 1.0) / FIGURE_WIDTH)
        if height < _LEAST_FIGURE_MM:
            height, note = max(_LEAST_FIGURE_MM, min(height + note, room - 0.5)), 0.0
        block = figure(self._facts.project, self._facts.numbers, height, marks, self._measure)
        left = max(0.0, (_LEFT - 1.0 - FIGURE_WIDTH * height) / 2.0)
        card.items += block.at(left, top + 0.3)
        if note:
            under = Column(self._measure, 0.0, _LEFT - 1.0, y=top + 0.5 + height)
            under.lines(("hatched:", "keep off"), FINE)
            card.items += under.items

    def _where(self, column: Column) -> None:
        """Zones as badges and names."""
        facts, step, style = self._facts, self._step, self._density.told
        ids = step.step.zone_ids
        if not ids or len(ids) == len(facts.numbers) > 1:
            column.text("The whole model" if not ids else "All zones", style.bold)
            return
        if len(ids) > _MOST_BADGES:
            numbers = words.ranges(sorted(facts.numbers[i] for i in ids))
            column.text(f"Zones {numbers}", style.bold)
            return
        x, high = 0.0, 2.0 * BADGE_MM
        for zone_id in ids:
            width, items, tall = self._zone(zone_id, column.width)
            if x and x + width > column.width:
                column.gap(high + 0.4)
                x, high = 0.0, 2.0 * BADGE_MM
            column.items += [item.moved(column.x + x, column.y) for item in items]
            high = max(high, tall)
            x += width + 3.0
        column.gap(high + 0.4)

    def _zone(self, zone_id: str, width: float) -> tuple[float, tuple[Item, ...], float]:
        """Badge and name: width, items from (0, 0), height."""
        facts, measure = self._facts, self._measure
        start = 2.0 * BADGE_MM + 1.0
        name = Column(measure, start, width - start)
        name.fitted(facts.project.zone(zone_id).name, self._density.told.bold, most=1, least_pt=8.0)
        wide = max(measure(t.text, t.face, t.size_pt) for t in name.items if isinstance(t, Text))
        mark = badge(str(facts.numbers[zone_id]), BADGE_MM, BADGE_MM, filled=True, measure=measure)
        drop = max(0.0, BADGE_MM - name.y / 2.0)
        items = (*mark, *(item.moved(0.0, drop) for item in name.items))
        return start + wide, items, max(2.0 * BADGE_MM, name.y)

    def _told(self) -> list[Hint]:
        """Groups, technique and tool, feathering, spraying."""
        facts, step = self._facts, self._step
        tool = step.tool if step.spray is None else ""
        how = ", ".join(part for part in (step.technique, words.relief(step)) if part)
        told = [Hint("Who", words.who(facts, step))]
        told.append(Hint("How", ". ".join(capital(part) for part in (how, tool) if part)))
        along = {
            said
            for zone_id in step.step.zone_ids
            if (said := words.along(step, *facts.project.zone(zone_id).along_words))
        }
        label = "Feather" if words.is_feathered(step) else "Along"
        told += [Hint(label, said) for said in sorted(along)[:3]]
        if step.spray is not None:
            told.append(Hint("Spray", capital(step.spray.words)))
        return told

    def _spill(self, parts: _Parts) -> None:
        """What takes too many lines stands in full at the sheet's end."""
        parts.told = [self._short(hint, self._middle) for hint in parts.told]
        parts.hints = [self._short(hint, self._middle) for hint in parts.hints]

    def _short(self, hint: Hint, width: float) -> Hint:
        shorter, whole = hint.at_most(_MOST_LINES, self._density.hint, width, self._measure)
        if not whole:
            self.spilled.append(Spilled(number=self._step.number, label=hint.label, text=hint.text))
        return shorter

    def _mix(self, mixed_for: int | None) -> Column | None:
        pot = self._facts.pots.get(self._step.pot)
        if pot is None or not self._facts.options.shows(Section.MIXES):
            return None
        width = _MIX_SHARE * self._middle
        start = _LEFT + self._middle - width
        column = Column(self._measure, start, width)
        if mixed_for is None:
            column.put(slim_mix(pot, self._density, width, self._measure))
        else:
            column.put(slim_again(pot, mixed_for, self._density, width, self._measure))
        return column

    def _right(self, swatches: tuple[Swatch, ...]) -> Column:
        """Swatches, ticks, minutes."""
        facts, step, density = self._facts, self._step, self._density
        column = Column(self._measure, self._width - WIDTH, WIDTH)
        if facts.options.shows(Section.SWATCHES):
            if not swatches:
                panel = no_colour(step, WIDTH, density.hint, _CHIP_MM, self._measure)
                if panel is not None:
                    column.put(panel)
                    column.gap(GAP)
            few = sorted(
                representatives(swatches, density.swatches),
                key=lambda swatch: facts.numbers[swatch.zones[0].id],
            )
            alone = len(few) == 1 and len(step.step.zone_ids) <= 1
            for swatch in few:
                column.put(slim_swatch(swatch, facts.numbers, self._measure, zones=not alone))
                column.gap(GAP)
        if step.models:
            ticks = tick_rows(step, WIDTH, self._measure, density.tick_mm)
            if not facts.options.shows(Section.TIMES):
                column.put(ticks)
                return column
            start = ticks_wide(step, density.tick_mm) + 1.2
            times = self._minutes(WIDTH - start) if start + _LEAST_TIMES_MM <= WIDTH else None
            if times is None:
                column.put(ticks)
                times, start = self._minutes(WIDTH), 0.0
                column.put(times)
            else:
                column.items += ticks.at(column.x, column.y)
                drop = max(0.0, (density.tick_mm - times.height) / 2.0)
                column.items += times.at(column.x + start, column.y + drop)
                column.gap(max(ticks.height, times.height))
        return column

    def _minutes(self, width: float) -> Block:
        """Planned, a box for what it took, the wait."""
        step, measure = self._step, self._measure
        said = (
            ("plan", words.duration(self._facts.minutes.get(step.step.id, 0.0))),
            ("dry", words.wait(step.wait_minutes)),
        )
        style = replace(self._density.work.bold, leading=1.1)
        while style.size_pt > LEAST_PT and width - sum(self._wide(said, style)) < _TAKEN_MM + 3.0:
            style = style.sized(style.size_pt - 0.5)
        wide = self._wide(said, style)
        height = max(style.line_mm, FINE.line_mm) + 0.8
        taken = Frame(
            x=wide[0] + 1.5, y=0.0, width=max(1.0, width - sum(wide) - 3.0), height=height
        )
        items: list[Item] = [Box(frame=taken, fill=PAPER, role="minutes taken")]
        for x, (word, time) in zip((0.0, width - wide[1]), said, strict=True):
            start = wide[0] if x == 0.0 else wide[1]
            start -= measure(time, Face.BOLD, style.size_pt)
            base = Frame(x=x, y=0.4, width=start, height=0.0)
            head, _ = laid((word,), FINE, base)
            tail, _ = laid((time,), style, Frame(x=x + start, y=0.4, width=wide[1], height=0.0))
            items += [i.moved(0.0, 0.8 * (style.line_mm - FINE.line_mm)) for i in head]
            items += [
                replace(i, within=Frame(x=x, y=0.4, width=sum(wide), height=height))
                for i in tail
                if isinstance(i, Text)
            ]
        inside = Frame(x=taken.x + 0.8, y=0.2, width=taken.width - 0.8, height=0.0)
        items += laid(("taken",), FINE, inside)[0]
        return Block(items=tuple(items), height=height + 0.4)

    def _wide(self, said: tuple[tuple[str, str], ...], style: Style) -> list[float]:
        """Width of each label with its time."""
        return [
            self._measure(word, FINE.face, FINE.size_pt)
            + 1.0
            + self._measure(time, style.face, style.size_pt)
            for word, time in said
        ]
