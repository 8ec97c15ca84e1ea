"""Tick boxes: one for every run of models, a row for every pass."""

from schemeforge.export.blocks import Block, Column
from schemeforge.export.page import PAPER, SOFT, Anchor, Box, Frame, Item
from schemeforge.export.typesetting import SMALL, SMALL_STRONG, Measure, Style, laid, shrunk
from schemeforge.plan import PlannedStep

_BOX_MM = 8.0
_PITCH_MM = 8.7
_LABEL_MM = 9.0
MOST_BOXES = 24


def runs_of(step: PlannedStep) -> tuple[tuple[int, ...], int]:
    """Models that each tick box stands for, and how many runs a box covers (1 as a rule)."""
    runs = step.sub_batches
    together = -(-len(runs) // MOST_BOXES) if runs else 1
    sums = tuple(sum(runs[n : n + together]) for n in range(0, len(runs), together))
    return sums, together


def tick_rows(step: PlannedStep, width: float, measure: Measure) -> Block:
    """Rows of boxes; the small number in a box is how many models it stands for."""
    sums, together = runs_of(step)
    column = Column(measure, 0.0, width)
    a_row = max(1, int((width - _LABEL_MM) / _PITCH_MM))
    for one_pass in range(step.passes):
        label = "done" if step.passes == 1 else f"pass {one_pass + 1}"
        for start in range(0, len(sums), a_row):
            items: list[Item] = []
            if start == 0:
                items += _label(label, measure)
            for n, models in enumerate(sums[start : start + a_row]):
                items += _tick(_LABEL_MM + n * _PITCH_MM, models, measure)
            column.add(items, _PITCH_MM)
    if together > 1:
        column.text(f"each box: {together} runs", SMALL.sized(7.0), indent=_LABEL_MM)
    column.gap(0.6)
    return column.block()


def _label(text: str, measure: Measure) -> tuple[Item, ...]:
    frame = Frame(x=0.0, y=0.0, width=_LABEL_MM - 1.0, height=_BOX_MM)
    style, lines = shrunk(text, SMALL_STRONG, frame.width, measure, most=1, least_pt=5.5)
    items, tall = laid(lines, style, frame)
    return tuple(i.moved(0.0, (_BOX_MM - tall) / 2.0) for i in items)


def _tick(x: float, models: int, measure: Measure) -> tuple[Item, ...]:
    frame = Frame(x=x, y=0.0, width=_BOX_MM, height=_BOX_MM)
    style = Style(size_pt=6.5, colour=SOFT)
    style, lines = shrunk(str(models), style, _BOX_MM - 1.0, measure, most=1, least_pt=4.0)
    inner = Frame(x=x + 0.5, y=0.0, width=_BOX_MM - 1.0, height=0.0)
    items, tall = laid(lines, style, inner, Anchor.END)
    count = tuple(i.moved(0.0, _BOX_MM - tall - 0.2) for i in items)
    return (Box(frame=frame, fill=PAPER, width_mm=0.45, round_mm=0.8, role="tick"), *count)
