"""Breaks text into lines that fit, with the measuring handed in; nothing is ever cut off."""

from collections.abc import Callable, Iterator
from dataclasses import dataclass, replace

from schemeforge.export.page import INK, POINT_MM, Anchor, Colour, Face, Frame, Item, Text

Measure = Callable[[str, Face, float], float]
"""Width in mm of a line of text in a cut of the typeface at a size in points."""

LEADING = 1.22
# Nothing on a sheet is set smaller, unless a card is drawn smaller as a last resort.
LEAST_PT = 7.5
_ASCENT = 0.80
_STEP_PT = 0.5


@dataclass(frozen=True, slots=True, kw_only=True)
class Style:
    """How text looks: size in points, cut, colour, lines apart in sizes."""

    size_pt: float
    face: Face = Face.REGULAR
    colour: Colour = INK
    leading: float = LEADING

    @property
    def line_mm(self) -> float:
        """Distance from baseline to baseline."""
        return self.size_pt * self.leading * POINT_MM

    def sized(self, size_pt: float) -> "Style":
        """The same at another size."""
        return replace(self, size_pt=size_pt)

    @property
    def bold(self) -> "Style":
        """The same in bold."""
        return replace(self, face=Face.BOLD)


HUGE = Style(size_pt=34.0, face=Face.BOLD)
TITLE = Style(size_pt=15.0, face=Face.BOLD)
HEADING = Style(size_pt=12.5, face=Face.BOLD)
STRONG = Style(size_pt=10.0, face=Face.BOLD)
BODY = Style(size_pt=10.0)
SMALL = Style(size_pt=9.0)
SMALL_STRONG = Style(size_pt=9.0, face=Face.BOLD)
FINE = Style(size_pt=LEAST_PT, leading=1.14)


def lines_of(text: str, style: Style, width: float, measure: Measure) -> tuple[str, ...]:
    """The text in lines of at most ``width`` mm; words that are too long are broken."""
    lines: list[str] = []
    for paragraph in text.splitlines() or [""]:
        lines += _wrapped(paragraph.replace("\t", " "), style, width, measure)
    return tuple(lines)


def shrunk(
    text: str, style: Style, width: float, measure: Measure, *, most: int, least_pt: float
) -> tuple[Style, tuple[str, ...]]:
    """The largest size down to ``least_pt`` at which the text takes at most so many lines.

    Where it still takes more, it takes them: text is never cut off.
    """
    size = style.size_pt
    while size - _STEP_PT >= least_pt and len(_at(text, style, size, width, measure)) > most:
        size -= _STEP_PT
    return style.sized(size), _at(text, style, size, width, measure)


def laid(
    lines: tuple[str, ...],
    style: Style,
    frame: Frame,
    anchor: Anchor = Anchor.START,
) -> tuple[tuple[Item, ...], float]:
    """Lines set from the top of the frame down, and the height that they take, mm."""
    x = {
        Anchor.START: frame.x,
        Anchor.MIDDLE: frame.x + frame.width / 2.0,
        Anchor.END: frame.right,
    }[anchor]
    items = []
    for n, line in enumerate(lines):
        top = frame.y + n * style.line_mm
        items.append(
            Text(
                x=x,
                y=top + style.line_mm * _ASCENT,
                text=line,
                size_pt=style.size_pt,
                face=style.face,
                colour=style.colour,
                anchor=anchor,
                within=Frame(x=frame.x, y=top, width=frame.width, height=style.line_mm),
            )
        )
    return tuple(items), len(lines) * style.line_mm


def _at(text: str, style: Style, size: float, width: float, measure: Measure) -> tuple[str, ...]:
    return lines_of(text, style.sized(size), width, measure)


def _wrapped(text: str, style: Style, width: float, measure: Measure) -> Iterator[str]:
    line = ""
    for word in text.split(" "):
        longer = f"{line} {word}" if line else word
        if measure(longer, style.face, style.size_pt) <= width:
            line = longer
            continue
        if line:
            yield line
        *whole, line = _broken(word, style, width, measure)
        yield from whole
    yield line


def _broken(word: str, style: Style, width: float, measure: Measure) -> list[str]:
    """A word in pieces that fit, at least one character each; itself where it fits."""
    pieces = []
    while len(word) > 1:
        high = 1
        while high < len(word) and measure(word[: 2 * high], style.face, style.size_pt) <= width:
            high *= 2
        if high >= len(word):
            break
        low, high = high, min(2 * high, len(word)) - 1
        while low < high:
            middle = (low + high + 1) // 2
            fits = measure(word[:middle], style.face, style.size_pt) <= width
            low, high = (middle, high) if fits else (low, middle - 1)
        pieces.append(word[:low])
        word = word[low:]
    return [*pieces, word]
