"""The sheet's front: finished zones, who gets what, sittings, stock to fetch."""

from collections.abc import Iterator

from schemeforge.export import words
from schemeforge.export.blocks import (
    Block,
    Column,
    TableColumn,
    heading,
    paragraph,
    side_by_side,
    table,
)
from schemeforge.export.facts import Facts
from schemeforge.export.figure import WIDTH as FIGURE_WIDTH
from schemeforge.export.figure import Marks, figure
from schemeforge.export.options import Section
from schemeforge.export.page import Anchor, Item
from schemeforge.export.portrait import framed, portrait
from schemeforge.export.slim_swatch import GAP, how_many, slim_swatch
from schemeforge.export.slim_swatch import WIDTH as SWATCH_WIDTH
from schemeforge.export.swatches import (
    RAMP_MM,
    SLIM_FEATHERED_MM,
    SLIM_MM,
    SLIM_WET_MM,
    Swatches,
)
from schemeforge.export.typesetting import FINE, SMALL, Measure
from schemeforge.paint import Basis
from schemeforge.plan import PaintNeed
from schemeforge.scheme import ShareKind, zone_steps

_FIGURE_MM = 84.0
_PORTRAIT_MM = 36.0
_ZONES_A_TABLE = 12
_SITTINGS = "Sittings"
_WHO = "Who gets what"
_SHORT = 8
_BETWEEN_MM = 5.0
_HIGHEST_PAIR_MM = 100.0
_ROWS_IN_ONE = 6


def overview(facts: Facts, swatches: Swatches, width: float, measure: Measure) -> Iterator[Block]:
    """The blocks of the front, in order."""
    shows = facts.options.shows
    if shows(Section.PICTURE) and not shows(Section.FINISHED):
        model = portrait(facts)
        if model is not None:
            yield framed(model, _PORTRAIT_MM, _FIGURE_MM)
    if shows(Section.FINISHED) and facts.project.zones:
        yield heading("Finished zones, from recess to raised edge", width, measure)
        yield from _finished(facts, swatches, width, measure)
    if shows(Section.STOCK) and facts.needs:
        yield from _titled("Fetch before you start", _stock(facts, width, measure), width, measure)
    yield from _tables(facts, width, measure)


def _tables(facts: Facts, width: float, measure: Measure) -> Iterator[Block]:
    """Sittings and who gets what: side by side where both are short, else one after the other."""
    project, shows = facts.project, facts.options.shows
    sittings = shows(Section.SITTINGS) and bool(project.sittings)
    who = shows(Section.WHO) and bool(project.groups) and bool(project.zones)
    short = len(project.groups) <= _SHORT and len(facts.sittings) <= _SHORT
    if sittings and who and short and len(project.zones) <= _SHORT:
        half = (width - _BETWEEN_MM) / 2.0
        columns = []
        for x, title, rows in (
            (0.0, _SITTINGS, _sittings(facts, half, measure)),
            (half + _BETWEEN_MM, _WHO, _who(facts, half, measure)),
        ):
            column = Column(measure, x, half)
            for block in (heading(title, half, measure), *rows):
                column.put(block)
            columns.append(column)
        pair = side_by_side(*columns)
        if pair.height <= _HIGHEST_PAIR_MM:
            yield pair
            return
    if sittings:
        yield from _titled(_SITTINGS, _sittings(facts, width, measure), width, measure)
    if who:
        yield from _titled(_WHO, _who(facts, width, measure), width, measure)


def _titled(title: str, rows: tuple[Block, ...], width: float, measure: Measure) -> Iterator[Block]:
    """A heading that stays with the first block under it."""
    first = Column(measure, 0.0, width)
    first.put(heading(title, width, measure))
    for row in rows[:1]:
        first.put(row)
    yield first.block()
    yield from rows[1:]
    yield Block(items=(), height=1.5)


def _finished(facts: Facts, swatches: Swatches, width: float, measure: Measure) -> Iterator[Block]:
    """The numbered outline with as many zones beside it as it is high, the rest in rows below."""
    shows = facts.options.shows(Section.SWATCHES)
    blocks = (
        [
            slim_swatch(s, facts.numbers, measure, zones=False, names=True)
            for s in swatches.finished()
        ]
        if shows
        else [_zone_line(facts, n, measure) for n in range(len(facts.project.zones))]
    )
    height = min(_FIGURE_MM, max(52.0, sum(b.height + GAP for b in blocks) / 2.0))
    model = portrait(facts)
    start = width - 2.0 * SWATCH_WIDTH - GAP
    if width >= 230.0:
        start = FIGURE_WIDTH * height + 8.0 + (0.0 if model is None else _PORTRAIT_MM + GAP)
    left = Block(items=(), height=0.0)
    if model is not None:
        left = framed(model, _PORTRAIT_MM, height)
    room = start - 4.0 - (0.0 if model is None else _PORTRAIT_MM)
    high = min(height, room / FIGURE_WIDTH)
    outline = figure(facts.project, facts.numbers, high, Marks(), measure)
    place = start - 4.0 - room / 2.0 - FIGURE_WIDTH * high / 2.0
    items = [*left.items, *outline.at(place, 0.0)]
    high = max(high, left.height)
    a_row = how_many(width - start)
    y, taken = 0.0, 0
    while taken < len(blocks) and y < height:
        row = blocks[taken : taken + a_row]
        items += _row(row, start, y)
        y += max(b.height for b in row) + GAP
        taken += len(row)
    yield Block(items=tuple(items), height=max(high, y) + 1.0)
    a_row = how_many(width)
    for first in range(taken, len(blocks), a_row):
        row = blocks[first : first + a_row]
        yield Block(items=_row(row, 0.0, 0.0), height=max(b.height for b in row) + GAP)
    yield paragraph(_source(facts), FINE, width, measure)


def _row(blocks: list[Block], x: float, y: float) -> tuple[Item, ...]:
    return tuple(
        item for n, b in enumerate(blocks) for item in b.at(x + n * (SWATCH_WIDTH + GAP), y)
    )


def _zone_line(facts: Facts, place: int, measure: Measure) -> Block:
    zone = facts.project.zones[place]
    return paragraph(f"{place + 1}  {zone.name}", SMALL, SWATCH_WIDTH, measure)


def _source(facts: Facts) -> str:
    """How the swatches are looked at, and how well the paints are known."""
    view = facts.viewing
    whose = "the full recipe" if facts.group is None else f"the group {facts.group.name}"
    used = {i.paint_id for mix in facts.scheme.mixes for i in mix.ingredients}
    paints = [paint for paint in facts.project.paints if paint.id in used]
    typical = sum(1 for paint in paints if paint.basis is Basis.TYPICAL)
    said = (
        f"Swatches: {whose}, {view.finish.value}, light {view.light}, "
        f"{view.observer} degree observer; recess on the left, raised edge on the right, root on "
        f"top; {RAMP_MM:.0f} mm long, dry {SLIM_MM:g} mm high ({SLIM_FEATHERED_MM:g} from "
        f"root to tip), wet {SLIM_WET_MM:g}. Below: lightness L* and screen colour of both ends. "
        "A cut corner: beyond what a screen shows. Zones that differ by less than 1 dE share one."
    )
    if facts.options.roomy:
        said = (
            f"Swatches: {whose}, {view.finish.value}, light {view.light}, {view.observer} degree "
            "observer. Zones that differ by less than 1 dE share a swatch."
        )
    if facts.options.shows(Section.TOLERANCES):
        said += (
            " dE under the chip's box (CIEDE2000): guide only, within so much in 9 of 10 repeats; "
            "below 1 is unseen, to 2 seen side by side, to 5 in the ranks."
        )
    if typical:
        said += (
            " The paints are typical, not measured."
            if typical == len(paints)
            else f" {typical} of {len(paints)} paints are typical, not measured."
        )
    return said


def _sittings(facts: Facts, width: float, measure: Measure) -> tuple[Block, ...]:
    many = bool(facts.project.sittings)
    rows = []
    for entry in facts.sittings:
        begun = words.ranges(sorted(step.number for step in entry.starts))
        on = words.ranges(sorted(step.number for step in entry.goes_on))
        steps = f"{begun}; on with {on}" if begun and on else begun or f"on with {on}"
        planned = words.duration(entry.minutes)
        if entry.sitting is not None:
            planned += f" of {words.duration(entry.at_desk)}"
        rows.append((words.sitting_name(entry, many=many), steps, planned, ""))
    columns = (
        TableColumn("sitting", 0.27 * width),
        TableColumn("steps", 0.27 * width),
        TableColumn("planned", 0.29 * width, Anchor.END),
        TableColumn("used?", 0.17 * width),
    )
    return table(columns, rows, SMALL.sized(8.5), measure)


def _stock(facts: Facts, width: float, measure: Measure) -> tuple[Block, ...]:
    """Paints in two halves side by side, so that they fit on the front."""
    rows = [_need_cells(need) for need in facts.needs]
    halves = 2 if len(rows) > _ROWS_IN_ONE else 1
    gap = 4.0
    half = (width - (halves - 1) * gap) / halves
    fixed = 6.5 + 25.0 + 17.0 + 15.0
    columns = (
        TableColumn("?", 6.5),
        TableColumn("paint", half - fixed),
        TableColumn("pots", 25.0),
        TableColumn("needed", 17.0, Anchor.END),
        TableColumn("left", 15.0),
    )
    if halves == 1:
        return table(columns, rows, SMALL.sized(9.0), measure)
    tall = -(-len(rows) // 2)
    empty = (" ",) * len(columns)
    pairs = [
        (*rows[n], " ", *(rows[n + tall] if n + tall < len(rows) else empty)) for n in range(tall)
    ]
    return table((*columns, TableColumn("", gap), *columns), pairs, SMALL.sized(8.5), measure)


def _need_cells(need: PaintNeed) -> tuple[str, ...]:
    if need.short_ml is None:
        fetch = "check"
    elif need.is_short:
        fetch = f"BUY {need.bottles_to_buy}"
    else:
        fetch = f"{words.amount(need.left_ml or 0.0)} ml"
    return ("", need.name, ", ".join(need.pots), f"{words.amount(need.needed_ml)} ml", fetch)


_WORDS = {
    ShareKind.FULL: "full",
    ShareKind.SHORT: "short",
    ShareKind.OWN: "own",
    ShareKind.NONE: "none",
}


def _who(facts: Facts, width: float, measure: Measure) -> tuple[Block, ...]:
    """Groups by zones; what a short or own recipe holds is told by step numbers below."""
    project, scheme = facts.project, facts.scheme
    groups = [g for g in project.groups if facts.group is None or g.id == facts.group.id]
    out: list[Block] = []
    notes: list[str] = []
    for first in range(0, len(project.zones), _ZONES_A_TABLE):
        zones = project.zones[first : first + _ZONES_A_TABLE]
        cell = min(26.0, 0.62 * width / len(zones))
        columns = (
            TableColumn("group", width - len(zones) * cell),
            *(TableColumn(str(facts.numbers[z.id]), cell, Anchor.MIDDLE) for z in zones),
        )
        rows = []
        for group in groups:
            kinds = [scheme.share(group.id, zone.id).kind for zone in zones]
            due = f", by {group.needed_by}" if group.needed_by else ""
            name = f"{group.name}: {group.count}{due}"
            rows.append((name, *(_WORDS[kind] for kind in kinds)))
            notes += [
                _recipe(facts, group.id, zone.id)
                for zone, kind in zip(zones, kinds, strict=True)
                if kind in {ShareKind.SHORT, ShareKind.OWN}
            ]
        out += table(columns, rows, SMALL.sized(8.5), measure)
    if notes:
        out.append(paragraph(_sentence("; ".join(notes)), SMALL.sized(8.0), width, measure))
    return tuple(out)


def _sentence(text: str) -> str:
    return f"{text[:1].upper()}{text[1:]}."


def _recipe(facts: Facts, group_id: str, zone_id: str) -> str:
    places = {step.id: n for n, step in enumerate(facts.scheme.steps, start=1)}
    got = zone_steps(facts.scheme, zone_id, group_id)
    steps = ", ".join(str(places[step.id]) for step in got) or "none"
    kind = _WORDS[facts.scheme.share(group_id, zone_id).kind]
    name = facts.project.group(group_id).name
    return f"{kind} on zone {facts.numbers[zone_id]} for {name}: steps {steps}"
