"""The sheet's typeface: ReportLab's own fonts, and fonts of this computer for other scripts.

What ReportLab's fonts lack comes from a font file on this computer. TrueType outlines are
embedded; other outlines, and scripts whose letters join or change order, are set by Pillow as
fine pictures that carry their text. A sign that no font has is drawn as a box and reported.
"""

import itertools
import unicodedata
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from functools import cache, lru_cache
from pathlib import Path

import reportlab  # type: ignore[import-untyped]
from PIL import ImageFont, features
from reportlab.pdfbase import pdfmetrics  # type: ignore[import-untyped]
from reportlab.pdfbase.ttfonts import TTFError, TTFont  # type: ignore[import-untyped]

from schemeforge.export.font_files import FontFile, font_paths, fonts_in
from schemeforge.export.page import POINT_MM, Face

_FILES = {Face.REGULAR: "Vera.ttf", Face.BOLD: "VeraBd.ttf", Face.ITALIC: "VeraIt.ttf"}
# Size at which Pillow measures, in pixels; large, so that rounding does not show.
_MEASURED_PX = 200
MISSING_EM = 0.62
# Blocks whose letters join, stack or change order: from Hebrew to Thaana, N'Ko to Arabic
# extended, Devanagari to Tibetan, Myanmar, Khmer, Mongolian and the presentation forms.
_SHAPED = (
    (0x0590, 0x08FF), (0x0900, 0x0FFF), (0x1000, 0x109F), (0x1780, 0x18AF),
    (0xFB1D, 0xFDFF), (0xFE70, 0xFEFE),
)  # fmt: skip


@dataclass(frozen=True, slots=True)
class Run:
    """Signs of a line that are set alike.

    Args:
        text: The signs, in reading order.
        name: Name of the embedded font, "" where none.
        file: Font that Pillow sets it with; None where embedded or missing.
    """

    text: str
    name: str = ""
    file: FontFile | None = None

    @property
    def is_missing(self) -> bool:
        """True where no font has the signs."""
        return not self.name and self.file is None


class Typeface:
    """Measures lines and tells how each of their signs is set.

    Args:
        find: Font files of this computer for a bold or an upright line, best first.
    """

    def __init__(self, find: Callable[[bool], tuple[Path, ...]] | None = None) -> None:
        self._find = find or (lambda bold: font_paths(bold=bold))
        self._runs = lru_cache(maxsize=8192)(self._split)
        self._source = cache(self._font_for)

    def measure(self, text: str, face: Face, size_pt: float) -> float:
        """Width of a line in mm."""
        return sum(self.width(run, size_pt) for run in self.runs(text, face))

    def runs(self, text: str, face: Face) -> tuple[Run, ...]:
        """The line in runs, left to right."""
        return self._runs(text, face)

    def width(self, run: Run, size_pt: float) -> float:
        """Width of a run in mm."""
        if run.name:
            return float(pdfmetrics.stringWidth(run.text, run.name, size_pt)) * POINT_MM
        if run.file is not None:
            font = pillow_font(run.file, _MEASURED_PX)
            return font.getlength(run.text) / _MEASURED_PX * size_pt * POINT_MM
        return len(run.text) * MISSING_EM * size_pt * POINT_MM

    def _split(self, text: str, face: Face) -> tuple[Run, ...]:
        text = unicodedata.normalize("NFC", text)
        own = own_font(face)
        if all(ord(sign) in _signs_of(face) for sign in text):
            return (Run(text, own),)
        runs: list[Run] = []
        for shaped, piece in _pieces(text):
            for run in [self._set(piece, face)] if shaped else self._plain(piece, face):
                last = runs[-1] if runs else None
                if last and (last.name, last.file) == (run.name, run.file):
                    runs[-1] = Run(last.text + run.text, run.name, run.file)
                else:
                    runs.append(run)
        return tuple(runs)

    def _plain(self, text: str, face: Face) -> Iterator[Run]:
        for sign in text:
            if ord(sign) in _signs_of(face):
                yield Run(sign, own_font(face))
            elif sign.isspace():
                yield Run(" ", own_font(face))
            else:
                source = self._source(sign, face is Face.BOLD)
                yield Run(sign, *_embedded(source)) if source else Run(sign)

    def _set(self, text: str, face: Face) -> Run:
        """A piece whose letters must be shaped together, by the font that has all of them."""
        source = self._source(text, face is Face.BOLD)
        return Run(text) if source is None else Run(text, "", source)

    def _font_for(self, text: str, bold: bool) -> FontFile | None:
        """The first font with all of the signs, one that can be embedded where there is one."""
        wanted = {ord(sign) for sign in text if not sign.isspace()}
        second: FontFile | None = None
        for path in self._find(bold):
            for font in fonts_in(path):
                if wanted <= font.signs and (font.has_curves or second is None):
                    if font.has_curves and _registered(font):
                        return font
                    second = second or (font if _opens(font) else None)
        return second


@lru_cache(maxsize=64)
def pillow_font(font: FontFile, size_px: int) -> ImageFont.FreeTypeFont:
    """The font as Pillow sets it, letters joined and ordered where its library can."""
    return ImageFont.truetype(font.path, size_px, index=font.index)


def can_shape() -> bool:
    """True where Pillow's library joins and orders the letters of every script."""
    return bool(features.check("raqm"))


def is_shaped(sign: str) -> bool:
    """True for a sign of a script whose letters join, stack or run from right to left."""
    code = ord(sign)
    return any(low <= code <= high for low, high in _SHAPED)


def _pieces(text: str) -> Iterator[tuple[bool, str]]:
    """The line cut into shaped and plain pieces; what lies between shaped words stays with them."""
    kinds = [
        is_shaped(sign) or unicodedata.combining(sign) > 0 or unicodedata.combining(after) > 0
        for sign, after in itertools.zip_longest(text, text[1:], fillvalue=" ")
        if sign
    ][: len(text)]
    last = None
    for place, kind in enumerate(kinds):
        if kind:
            if last is not None and all(not s.isalpha() for s in text[last + 1 : place]):
                kinds[last + 1 : place] = [True] * (place - last - 1)
            last = place
    for kind, group in itertools.groupby(zip(kinds, text, strict=True), key=lambda pair: pair[0]):
        yield kind, "".join(sign for _, sign in group)


@cache
def own_font(face: Face) -> str:
    """Name under which ReportLab knows the sheet's own font."""
    name = f"Sheet-{face.value}"
    pdfmetrics.registerFont(TTFont(name, str(_bundled(face)), shapable=False))
    return name


def _bundled(face: Face) -> Path:
    return Path(reportlab.__file__).parent / "fonts" / _FILES[face]


@cache
def _signs_of(face: Face) -> frozenset[int]:
    return fonts_in(_bundled(face))[0].signs


def _embedded(font: FontFile) -> tuple[str, FontFile | None]:
    """Name of the font once registered, or the font for Pillow where it cannot be embedded."""
    name = _registered(font)
    return (name, None) if name else ("", font)


@cache
def _registered(font: FontFile) -> str:
    """Name under which a font with TrueType outlines is embedded, "" where it is refused."""
    if not font.has_curves:
        return ""
    name = f"Found-{Path(font.path).stem}-{font.index}"
    try:
        found = TTFont(name, font.path, subfontIndex=font.index, shapable=False)
        pdfmetrics.registerFont(found)
    except (TTFError, OSError, ValueError, KeyError, IndexError):
        return ""
    return name


@cache
def _opens(font: FontFile) -> bool:
    """True where Pillow can set it."""
    try:
        return pillow_font(font, _MEASURED_PX).getlength("x") >= 0
    except (OSError, ValueError):
        return False
