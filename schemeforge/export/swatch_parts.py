"""What the large and the slim swatch have in common."""

from schemeforge.export.blocks import Column
from schemeforge.export.page import GREY, INK, PAPER, SOFT, Anchor, Box, Face, Frame, Item, Path
from schemeforge.export.swatches import RAMP_MM, Shade, Swatch
from schemeforge.export.typesetting import FINE, LEAST_PT, Measure, Style, laid, shrunk

_CORNER_MM = 2.2


def side_by_side(width: float, each: float, gap: float) -> int:
    """How many swatches of a width stand side by side, at least one; mm."""
    return max(1, int((width + gap + 1e-6) / (each + gap)))


def ends_of(swatch: Swatch, measure: Measure, room: float) -> tuple[str, str]:
    """What root and tip are called beside the ramp: the zone's words where those are short."""
    own = swatch.zones[0].along_words
    short = all(measure(word, Face.REGULAR, LEAST_PT) <= room for word in own)
    return own if short else ("root", "tip")


def rows_of(swatch: Swatch, ends: tuple[str, str]) -> list[tuple[str, tuple[Shade, Shade]]]:
    """Colours at recess and raised edge, of a feathered coat at root and at tip."""
    if swatch.feathered:
        return [(ends[0], swatch.dry.root), (ends[1], swatch.dry.tip)]
    return [("", swatch.dry.root)]


def end_figures(ends: tuple[Shade, Shade], left: float) -> tuple[list[Item], float]:
    """Lightness and screen colour under both ends of the ramp, and how high they stand."""
    frame = Frame(x=left, y=0.0, width=RAMP_MM, height=0.0)
    low, height = laid((ends[0].words,), FINE, frame)
    high, _ = laid((ends[1].words,), FINE, frame, Anchor.END)
    return [*low, *high], height


def own_words(column: Column, swatch: Swatch, ends: tuple[str, str]) -> None:
    """What root and tip are on that zone, where the ramp could not say it."""
    own = swatch.zones[0].along_words
    if swatch.feathered and own != ends:
        column.text(f"root: {own[0]}; tip: {own[1]}", FINE)


def beyond(ramp: Frame) -> Path:
    """The cut corner of a ramp that a screen cannot show."""
    corner = ((ramp.right, 0.0), (ramp.right - _CORNER_MM, 0.0), (ramp.right, _CORNER_MM))
    return Path(points=corner, closed=True, fill=PAPER, line=INK, role="beyond")


def chip_box(frame: Frame, measure: Measure, style: Style, drop: float) -> tuple[Item, ...]:
    """The empty box for the painted chip, its word that far below its upper edge."""
    box = Box(frame=frame, fill=PAPER, line=SOFT, dash_mm=0.9, role="chip")
    width = frame.width - 1.0
    fitted, lines = shrunk("chip", style, width, measure, most=1, least_pt=LEAST_PT)
    inner = Frame(x=frame.x + 0.5, y=frame.y + drop, width=width, height=0.0)
    return (box, *laid(lines, fitted, inner, Anchor.MIDDLE)[0])


def panel(width: float, height: float, round_mm: float) -> Box:
    """The neutral grey that a swatch stands on."""
    return Box(
        frame=Frame(x=0.0, y=0.0, width=width, height=height),
        line=None,
        fill=GREY,
        round_mm=round_mm,
        role="swatch panel",
    )
