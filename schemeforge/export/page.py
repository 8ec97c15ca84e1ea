"""Pages as data: drawing items in millimetres, measured from the upper left corner, y downwards.

Nothing here knows of a file format; a back end draws the items in their order.
"""

from collections.abc import Iterable
from dataclasses import dataclass, replace
from enum import StrEnum

Colour = tuple[float, float, float]
"""Encoded sRGB, 0 to 1 each."""

POINT_MM = 25.4 / 72.0

INK: Colour = (0.10, 0.11, 0.12)
SOFT: Colour = (0.34, 0.36, 0.38)
RULE: Colour = (0.72, 0.73, 0.74)
PALE: Colour = (0.93, 0.93, 0.93)
GREY: Colour = (0.80, 0.80, 0.80)
PAPER: Colour = (1.0, 1.0, 1.0)
ACCENT: Colour = (0.06, 0.30, 0.34)


class Face(StrEnum):
    """The three cuts of the sheet's typeface."""

    REGULAR = "regular"
    BOLD = "bold"
    ITALIC = "italic"


class Anchor(StrEnum):
    """Which end of a line of text stands at its x."""

    START = "start"
    MIDDLE = "middle"
    END = "end"


@dataclass(frozen=True, slots=True, kw_only=True)
class Frame:
    """A rectangle, mm: upper left corner, width and height."""

    x: float
    y: float
    width: float
    height: float

    @property
    def right(self) -> float:
        """Where it ends on the right."""
        return self.x + self.width

    @property
    def bottom(self) -> float:
        """Where it ends below."""
        return self.y + self.height

    def moved(self, dx: float, dy: float) -> "Frame":
        """The same rectangle elsewhere."""
        return replace(self, x=self.x + dx, y=self.y + dy)


@dataclass(frozen=True, slots=True, kw_only=True)
class Text:
    """One line of text, never markup.

    Args:
        x: Where its anchor stands, mm.
        y: Its baseline, mm.
        text: What it says.
        size_pt: Type size, points.
        face: Cut of the typeface.
        anchor: Start, middle or end at x.
        colour: Of the ink.
        within: The box that it must not leave.
    """

    x: float
    y: float
    text: str
    size_pt: float
    within: Frame
    face: Face = Face.REGULAR
    anchor: Anchor = Anchor.START
    colour: Colour = INK

    def moved(self, dx: float, dy: float) -> "Text":
        """The same line elsewhere."""
        return replace(self, x=self.x + dx, y=self.y + dy, within=self.within.moved(dx, dy))


@dataclass(frozen=True, slots=True, kw_only=True)
class Box:
    """A rectangle; without ``line`` or ``fill`` that is left out.

    Args:
        role: What it is for, for example "tick" or "chip"; "" for decoration.
        dash_mm: Length of dashes and gaps, 0 for a full line.
        round_mm: Radius of the corners.
    """

    frame: Frame
    line: Colour | None = INK
    fill: Colour | None = None
    width_mm: float = 0.25
    dash_mm: float = 0.0
    round_mm: float = 0.0
    role: str = ""

    def moved(self, dx: float, dy: float) -> "Box":
        """The same box elsewhere."""
        return replace(self, frame=self.frame.moved(dx, dy))


@dataclass(frozen=True, slots=True, kw_only=True)
class Path:
    """Straight strokes through the points; closed ones may be filled.

    Args:
        points: ``(x, y)``, mm.
        role: What it is for, for example "rule", "arrow" or "hatch"; "" for decoration.
    """

    points: tuple[tuple[float, float], ...]
    closed: bool = False
    line: Colour | None = INK
    fill: Colour | None = None
    width_mm: float = 0.25
    dash_mm: float = 0.0
    role: str = ""

    def moved(self, dx: float, dy: float) -> "Path":
        """The same strokes elsewhere."""
        return replace(self, points=tuple((x + dx, y + dy) for x, y in self.points))


@dataclass(frozen=True, slots=True, kw_only=True)
class Disc:
    """A circle, mm."""

    x: float
    y: float
    radius: float
    line: Colour | None = INK
    fill: Colour | None = None
    width_mm: float = 0.25

    def moved(self, dx: float, dy: float) -> "Disc":
        """The same circle elsewhere."""
        return replace(self, x=self.x + dx, y=self.y + dy)


@dataclass(frozen=True, slots=True, kw_only=True)
class Picture:
    """Pixels true to size.

    Args:
        frame: Where it stands.
        pixels: Rows from the top, 8-bit sRGB, ``width x height x 3`` bytes.
        columns: Pixels across.
        rows: Pixels down.
        role: What it shows, for example "swatch".
    """

    frame: Frame
    pixels: bytes
    columns: int
    rows: int
    role: str = ""

    def moved(self, dx: float, dy: float) -> "Picture":
        """The same picture elsewhere."""
        return replace(self, frame=self.frame.moved(dx, dy))


Item = Text | Box | Path | Disc | Picture


@dataclass(frozen=True, slots=True, kw_only=True)
class Page:
    """One side of paper.

    Args:
        width: Of the paper, mm.
        height: Of the paper, mm.
        items: What is drawn on it, in drawing order.
        title: What the side is about, as its heading says it in full.
    """

    width: float
    height: float
    items: tuple[Item, ...]
    title: str = ""

    @property
    def texts(self) -> tuple[Text, ...]:
        """The lines of text, in drawing order."""
        return tuple(item for item in self.items if isinstance(item, Text))


def moved(items: Iterable[Item], dx: float, dy: float) -> tuple[Item, ...]:
    """All items elsewhere."""
    return tuple(item.moved(dx, dy) for item in items)
