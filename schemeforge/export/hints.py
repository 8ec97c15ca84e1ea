"""Short labelled sentences packed into lines: each on the first line that holds it whole."""

from collections.abc import Iterable
from dataclasses import dataclass

from schemeforge.export.blocks import Block, Column
from schemeforge.export.card_parts import ELSEWHERE
from schemeforge.export.typesetting import Measure, Style, lines_of

_AFTER_LABEL_MM = 1.2
_BETWEEN_MM = 4.0


@dataclass(frozen=True, slots=True)
class Hint:
    """A label in bold and what follows it."""

    label: str
    text: str

    def at_most(
        self, lines: int, style: Style, width: float, measure: Measure
    ) -> tuple["Hint", bool]:
        """The hint in so many lines and whether that is all of it; else the last says so."""
        set_lines = lines_of(self.text, style, width - _label_mm(self, style, measure), measure)
        if len(set_lines) <= lines:
            return self, True
        return Hint(self.label, " ".join((*set_lines[: lines - 1], ELSEWHERE))), False


def hint_lines(hints: Iterable[Hint], style: Style, width: float, measure: Measure) -> Block:
    """The hints from (0, 0) down."""
    column = Column(measure, 0.0, width)
    # Lines with one hint or more of one line each: where they end and their upper edge.
    open_lines: list[tuple[float, float]] = []
    for hint in hints:
        start = _label_mm(hint, style, measure)
        lines = lines_of(hint.text, style, width - start, measure)
        if len(lines) == 1:
            needed = start + measure(hint.text, style.face, style.size_pt)
            for n, (end, top) in enumerate(open_lines):
                if end + _BETWEEN_MM + needed <= width:
                    _put(column, hint, style, lines, end + _BETWEEN_MM, top, start)
                    open_lines[n] = (end + _BETWEEN_MM + needed, top)
                    break
            else:
                _put(column, hint, style, lines, 0.0, column.y, start)
                open_lines.append((needed, column.y))
                column.gap(style.line_mm)
            continue
        _put(column, hint, style, lines, 0.0, column.y, start)
        column.gap(len(lines) * style.line_mm)
    return column.block()


def _label_mm(hint: Hint, style: Style, measure: Measure) -> float:
    return measure(hint.label, style.bold.face, style.size_pt) + _AFTER_LABEL_MM


def _put(
    column: Column,
    hint: Hint,
    style: Style,
    lines: tuple[str, ...],
    x: float,
    top: float,
    start: float,
) -> None:
    head = Column(column.measure, x, start, y=top)
    head.lines((hint.label,), style.bold)
    body = Column(column.measure, x + start, column.width - x - start + 0.01, y=top)
    body.lines(lines, style)
    column.items += [*head.items, *body.items]
