"""What is done in a sitting, one thing after the other, with its minutes."""

from collections.abc import Sequence

from schemeforge.export import words
from schemeforge.export.blocks import Block, Column, TableColumn, heading, side_by_side, table
from schemeforge.export.page import Anchor
from schemeforge.export.sittings import SheetSitting
from schemeforge.export.typesetting import SMALL, Measure
from schemeforge.plan import Stretch

_TYPE = SMALL.sized(8.5)
_ROWS_IN_ONE = 4
_GAP_MM = 5.0


def order_block(entry: SheetSitting, width: float, measure: Measure, *, times: bool) -> Block:
    """Steps of a sitting in the order of the plan, in two columns where they are many.

    Args:
        entry: The sitting.
        width: Room, mm.
        measure: Width of a line of text.
        times: True to tell when each begins and how long it takes.
    """
    whole = Column(measure, 0.0, width)
    whole.put(heading("In this order", width, measure))
    rows = list(entry.stretches)
    halves = 2 if len(rows) > _ROWS_IN_ONE else 1
    each = (width - (halves - 1) * _GAP_MM) / halves
    tall = -(-len(rows) // halves)
    columns = []
    for n in range(halves):
        column = Column(measure, n * (each + _GAP_MM), each)
        for block in _rows(rows[n * tall : (n + 1) * tall], each, measure, times=times):
            column.put(block)
        columns.append(column)
    whole.put(side_by_side(*columns))
    whole.gap(1.5)
    return whole.block()


def _rows(
    stretches: Sequence[Stretch], width: float, measure: Measure, *, times: bool
) -> tuple[Block, ...]:
    fixed = 6.5 + (28.0 if times else 0.0)
    name = 0.52 * (width - fixed)
    columns = [
        TableColumn("?", 6.5),
        TableColumn("step", name),
        TableColumn("models", width - fixed - name),
    ]
    if times:
        columns.insert(1, TableColumn("at", 11.0, Anchor.END))
        columns.append(TableColumn("takes", 17.0, Anchor.END))
    return table(tuple(columns), [_cells(s, times=times) for s in stretches], _TYPE, measure)


def _cells(stretch: Stretch, *, times: bool) -> tuple[str, ...]:
    cells = ["", f"{stretch.number} {stretch.name}", _models(stretch)]
    if times:
        at = round(stretch.begin)
        cells.insert(1, f"{at // 60}:{at % 60:02d}")
        takes = words.duration(stretch.minutes - stretch.wait_minutes)
        wait = stretch.wait_minutes
        cells.append(f"{takes}, wait {words.duration(wait)}" if wait >= 1.0 else takes)
    return tuple(cells)


def _models(stretch: Stretch) -> str:
    counts: dict[str, float] = {}
    for part in stretch.models:
        counts[part.group.name] = counts.get(part.group.name, 0.0) + part.models
    return ", ".join(f"{models:.3g} {name}" for name, models in counts.items())
