"""Tick boxes: one for every run of models, a row for every pass."""

from schemeforge.export.blocks import Block, Column
from schemeforge.export.page import PAPER, SOFT, Anchor, Box, Frame, Item
from schemeforge.export.typesetting import (
    FINE,
    LEAST_PT,
    SMALL_STRONG,
    Measure,
    Style,
    laid,
    lines_of,
    shrunk,
)
from schemeforge.plan import PlannedStep

BOX_MM = 8.0
_LEAST_BOX_MM = 4.8
_BETWEEN_MM = 0.7
_DONE_MM, _PASS_MM = 9.4, 11.0
MOST_BOXES = 24


def runs_of(step: PlannedStep) -> tuple[tuple[int, ...], int]:
    """Models that each tick box stands for, and how many runs a box covers (1 as a rule)."""
    runs = step.sub_batches
    together = -(-len(runs) // MOST_BOXES) if runs else 1
    sums = tuple(sum(runs[n : n + together]) for n in range(0, len(runs), together))
    return sums, together


def tick_rows(step: PlannedStep, width: float, measure: Measure, box_mm: float = BOX_MM) -> Block:
    """Rows of boxes; the small number in a box is how many models it stands for."""
    sums, together = runs_of(step)
    column = Column(measure, 0.0, width)
    side = _label_mm(step)
    shared = (width - side + _BETWEEN_MM) / max(1, len(sums)) - _BETWEEN_MM
    if shared >= _LEAST_BOX_MM:  # smaller boxes rather than a second row
        box_mm = min(box_mm, shared)
    pitch = box_mm + _BETWEEN_MM
    a_row = max(1, int((width - side + _BETWEEN_MM + 1e-6) / pitch))
    for one_pass in range(step.passes):
        label = "done" if step.passes == 1 else f"pass {one_pass + 1}"
        for start in range(0, len(sums), a_row):
            items: list[Item] = []
            if start == 0:
                items += _label(label, side, box_mm, measure)
            for n, models in enumerate(sums[start : start + a_row]):
                items += _tick(side + n * pitch, models, box_mm, measure)
            column.add(items, pitch)
    if together > 1:
        column.text(f"each box: {together} runs", FINE, indent=side)
    column.gap(0.3)
    return column.block()


def ticks_wide(step: PlannedStep, box_mm: float) -> float:
    """Width of the boxes and their label where they stand in one row a pass."""
    return _label_mm(step) + len(runs_of(step)[0]) * (box_mm + _BETWEEN_MM)


def _label_mm(step: PlannedStep) -> float:
    return _DONE_MM if step.passes == 1 else _PASS_MM


def _label(text: str, side: float, box_mm: float, measure: Measure) -> tuple[Item, ...]:
    frame = Frame(x=0.0, y=0.0, width=side - 0.5, height=box_mm)
    style = SMALL_STRONG.sized(8.0)
    style, lines = shrunk(text, style, frame.width, measure, most=1, least_pt=LEAST_PT)
    items, tall = laid(lines, style, frame)
    return tuple(i.moved(0.0, (box_mm - tall) / 2.0) for i in items)


def _tick(x: float, models: int, box_mm: float, measure: Measure) -> tuple[Item, ...]:
    frame = Frame(x=x, y=0.0, width=box_mm, height=box_mm)
    style = Style(size_pt=LEAST_PT, colour=SOFT, leading=1.1)
    inner = Frame(x=x + 0.2, y=0.0, width=box_mm - 0.6, height=0.0)
    lines = lines_of(str(models), style, inner.width, measure)
    items, tall = laid(lines, style, inner, Anchor.END)
    count = tuple(i.moved(0.0, box_mm - tall - 0.1) for i in items)
    return (Box(frame=frame, fill=PAPER, width_mm=0.4, round_mm=0.8, role="tick"), *count)
