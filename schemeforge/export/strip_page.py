"""The recipe strip as one page: every stage of every zone, mixes, waits, title."""

from collections.abc import Iterator

from schemeforge import appearance
from schemeforge.appearance import Stage
from schemeforge.export import words
from schemeforge.export.blocks import BADGE_MM, Block, Column, badge, side_by_side
from schemeforge.export.facts import Facts
from schemeforge.export.page import (
    ACCENT,
    GREY,
    INK,
    PAPER,
    SOFT,
    Anchor,
    Box,
    Face,
    Frame,
    Item,
    Page,
    Path,
    Picture,
)
from schemeforge.export.portrait import framed, portrait, shown_steps
from schemeforge.export.swatches import seen, tile_pixels
from schemeforge.export.typesetting import FINE, SMALL_STRONG, Measure, Style, laid
from schemeforge.scheme import Zone

MARGIN_MM = 8.0
_NAME_MM = 40.0
_TILE_HIGH_MM = 15.0
_GAP_MM = 2.0
_PAD_MM = 2.0
# Tiles in a row: as many as the longest stack has stages, within these bounds.
FEWEST_TILES, MOST_TILES = 6, 9
_INNER_MM = 238.0
# Pictures of the stand-in, at most, and the room of each.
_MODELS = 5
_MODEL_MM, _MODEL_HIGH_MM = 46.0, 62.0
_UNDER = SMALL_STRONG.sized(8.0)
# Pixels of a tile: from recess to raised edge, from root to tip.
_COLUMNS, _ROWS = 160, 90


def strip_page(facts: Facts, measure: Measure) -> Page:
    """One page, as high as the recipe is long."""
    column = Column(measure, 0.0, _INNER_MM)
    _head(column, facts)
    _models(column, facts)
    stacks = {zone.id: _stages(facts, zone) for zone in facts.project.zones}
    longest = max((len(stack) for stack in stacks.values()), default=0)
    a_row = min(MOST_TILES, max(FEWEST_TILES, longest))
    for zone in facts.project.zones:
        for block in _zone_rows(facts, zone, stacks[zone.id], a_row, measure):
            column.put(block)
            column.gap(1.6)
    column.gap(1.5)
    half = (_INNER_MM - 6.0) / 2.0
    steps, pots = Column(measure, 0.0, half), Column(measure, half + 6.0, half)
    _steps(steps, facts)
    _pots(pots, facts)
    column.put(side_by_side(steps, pots))
    column.gap(2.5)
    column.text(_foot(facts), FINE.sized(7.5))
    width = _INNER_MM + 2.0 * MARGIN_MM
    height = column.y + 2.0 * MARGIN_MM
    ground = Box(frame=Frame(x=0.0, y=0.0, width=width, height=height), line=None, fill=PAPER)
    items = column.block().at(MARGIN_MM, MARGIN_MM)
    return Page(width=width, height=height, items=(ground, *items))


def _head(column: Column, facts: Facts) -> None:
    title = Style(size_pt=22.0, face=Face.BOLD, colour=ACCENT)
    column.fitted(facts.scheme.name, title, most=2, least_pt=12.0)
    models = sum(group.count for group in facts.project.groups)
    words_said = f"{facts.project.name}, {models} models. Recipe {facts.recipe}"
    today = facts.options.today
    if today is not None:
        words_said += f", {words.day(today)}"
    column.fitted(words_said, Style(size_pt=10.0, colour=SOFT), most=2, least_pt=7.0)
    column.gap(1.2)
    rule = Path(points=((0.0, 0.0), (column.width, 0.0)), line=ACCENT, width_mm=0.8, role="rule")
    column.add((rule,), 2.5)


def _models(column: Column, facts: Facts) -> None:
    """The stand-in from undercoat to finish, side by side on one panel."""
    steps = shown_steps(facts, _MODELS)
    found = [(step, portrait(facts, step)) for step in steps]
    shown = [(step, model) for step, model in found if model is not None]
    if not shown:
        return
    numbers = {step.id: n for n, step in enumerate(facts.scheme.steps, start=1)}
    pitch = _INNER_MM / len(shown)
    items: list[Item] = []
    height = 0.0
    for n, (step, model) in enumerate(shown):
        block = framed(model, min(pitch, _MODEL_MM), _MODEL_HIGH_MM)
        x = (n + 0.5) * pitch - min(pitch, _MODEL_MM) / 2.0
        items += block.at(x, 0.0)[1:]
        said = "finished" if n == len(shown) - 1 else f"after {numbers[step.id]}"
        under = Frame(x=n * pitch, y=block.height, width=pitch, height=0.0)
        lines, taken = laid((said,), _UNDER, under, Anchor.MIDDLE)
        items += lines
        height = max(height, block.height + taken + _PAD_MM)
    ground = Frame(x=0.0, y=0.0, width=_INNER_MM, height=height)
    column.put(
        Block(items=(Box(frame=ground, line=None, fill=GREY, round_mm=1.5), *items), height=height)
    )
    column.gap(1.6)


def _stages(facts: Facts, zone: Zone) -> tuple[Stage, ...]:
    return appearance.zone_tile(
        facts.project,
        facts.scheme,
        zone.id,
        seen(facts.viewing, wet=False),
        relief_count=_COLUMNS,
        along_count=_ROWS,
        group_id=facts.options.group_id,
    )


def _zone_rows(
    facts: Facts, zone: Zone, stages: tuple[Stage, ...], a_row: int, measure: Measure
) -> Iterator[Block]:
    """A zone's name and a tile for each of its stages, in as many rows as they take."""
    numbers = {step.id: n for n, step in enumerate(facts.scheme.steps, start=1)}
    pitch = (_INNER_MM - _NAME_MM - 2.0 * _PAD_MM + _GAP_MM) / a_row
    for first in range(0, len(stages), a_row):
        name = Column(measure, 0.0, _NAME_MM - 3.0)
        items: list[Item] = []
        if first == 0:
            number = str(facts.numbers[zone.id])
            items += badge(number, BADGE_MM, BADGE_MM, filled=True, measure=measure)
            beside = Column(measure, 2.0 * BADGE_MM + 1.4, name.width - 2.0 * BADGE_MM - 1.4)
            beside.fitted(zone.name, SMALL_STRONG.sized(10.0), most=3, least_pt=6.0)
            items += beside.items
            name.y = beside.y
        height = max(name.y, _TILE_HIGH_MM + _PAD_MM + 3.8)
        ground = Frame(x=_NAME_MM, y=0.0, width=_INNER_MM - _NAME_MM, height=height)
        items.append(Box(frame=ground, line=None, fill=GREY, round_mm=1.5))
        for n, stage in enumerate(stages[first : first + a_row]):
            x = _NAME_MM + _PAD_MM + n * pitch
            frame = Frame(x=x, y=_PAD_MM, width=pitch - _GAP_MM, height=_TILE_HIGH_MM)
            label = "bare" if stage.step is None else str(numbers[stage.step.id])
            items += _tile(frame, label, tile_pixels(stage.xyz, _ROWS), measure)
        yield Block(items=tuple(items), height=height)


def _tile(frame: Frame, label: str, pixels: bytes, measure: Measure) -> tuple[Item, ...]:
    picture = Picture(frame=frame, pixels=pixels, columns=_COLUMNS, rows=_ROWS, role="stage")
    under = Column(measure, frame.x, frame.width, y=frame.bottom)
    under.fitted(label, SMALL_STRONG.sized(8.0), most=1, least_pt=5.0)
    return (picture, *under.items)


def _steps(column: Column, facts: Facts) -> None:
    column.text("Steps", SMALL_STRONG.sized(11.0))
    column.gap(0.6)
    for step in facts.steps:
        said = [step.technique]
        if step.pot:
            said.append(f"pot {step.pot}")
        said.append(f"wait {words.duration(step.wait_minutes)}" if step.wait_minutes else "no wait")
        if step.who != "all":
            said.append(words.who(facts, step))
        _entry(column, str(step.number), step.step.name, ", ".join(said))


def _pots(column: Column, facts: Facts) -> None:
    column.text("Pots, in parts", SMALL_STRONG.sized(11.0))
    column.gap(0.6)
    for pot in facts.pots.values():
        mix = " + ".join(f"{words.parts(a.parts)} {a.name}" for a in pot.amounts)
        _entry(column, pot.letter, pot.mix.name, mix)


def _entry(column: Column, mark: str, title: str, text: str) -> None:
    """A mark in bold, a title, and text hanging below the title."""
    side = 8.0
    head = Column(column.measure, column.x, side - 1.0, y=column.y)
    head.fitted(mark, SMALL_STRONG, most=1, least_pt=5.0)
    body = Column(column.measure, column.x + side, column.width - side, y=column.y)
    body.fitted(title, SMALL_STRONG, most=1, least_pt=7.0)
    body.text(text, Style(size_pt=8.5, colour=INK))
    column.items += [*head.items, *body.items]
    column.y = max(head.y, body.y) + 0.9


def _foot(facts: Facts) -> str:
    view = facts.viewing
    return (
        "Tiles: recess on the left to raised edge on the right, root on top to tip below, after "
        f"the step of that number; {view.finish.value}, light {view.light}. {words.GUIDE} "
        "This picture carries its project: open it with SchemeForge."
    )
