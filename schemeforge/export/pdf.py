"""Pages as PDF: fonts embedded, pictures lossless, names as text, the same bytes every time."""

import io
import threading
import unicodedata
from collections.abc import Iterable
from dataclasses import dataclass, field

from PIL import Image, ImageDraw
from reportlab.lib.utils import ImageReader  # type: ignore[import-untyped]
from reportlab.pdfbase import pdfdoc  # type: ignore[import-untyped]
from reportlab.pdfgen.canvas import Canvas  # type: ignore[import-untyped]

from schemeforge import colorimetry
from schemeforge.export.page import (
    POINT_MM,
    Anchor,
    Box,
    Colour,
    Disc,
    Face,
    Frame,
    Item,
    Page,
    Path,
    Picture,
    Text,
)
from schemeforge.export.typeface import (
    MISSING_EM,
    Run,
    Typeface,
    can_shape,
    is_shaped,
    own_font,
    pillow_font,
)

# Pixels per mm of signs that are set as pictures: 600 dots per inch.
_FINE_PX = 600.0 / 25.4
_LARGEST_PX = 400
# ReportLab keeps its fonts in one table for all threads.
_LOCK = threading.Lock()


@dataclass(frozen=True, slots=True, kw_only=True)
class Pdf:
    """A document and what could not be drawn as wished, one sentence each."""

    data: bytes
    findings: tuple[str, ...]


def pdf_of(pages: Iterable[Page], title: str, typeface: Typeface, *, subject: str = "") -> Pdf:
    """The pages as one document.

    Args:
        pages: At least one.
        title: The document's title, shown by viewers.
        typeface: The one that the pages were measured with.
        subject: What it is, for the document's properties.
    """
    with _LOCK:
        out = io.BytesIO()
        canvas = Canvas(
            out,
            invariant=1,
            pdfVersion=(1, 4),
            pageCompression=1,
            lang="en",
            initialFontName=own_font(Face.REGULAR),
        )
        canvas.setTitle(title)
        canvas.setAuthor("SchemeForge")
        canvas.setCreator("SchemeForge")
        canvas.setSubject(subject)
        _intend_srgb(canvas)
        lost = _Lost()
        for page in pages:
            canvas.setPageSize((page.width / POINT_MM, page.height / POINT_MM))
            canvas.setLineJoin(1)
            canvas.setLineCap(1)
            pen = _Pen(canvas, page.height, typeface, lost)
            for item in page.items:
                pen.draw(item)
            canvas.showPage()
        canvas.save()
        return Pdf(data=out.getvalue(), findings=lost.sentences())


@dataclass(slots=True)
class _Lost:
    """Signs that no font has, and signs that should have been joined."""

    signs: dict[str, None] = field(default_factory=dict)
    unjoined: bool = False

    def sentences(self) -> tuple[str, ...]:
        said = [
            f'No font on this computer has the sign "{sign}" (U+{ord(sign):04X} '
            f"{unicodedata.name(sign, 'without a name').lower()}); it is drawn as a box."
            for sign in self.signs
        ]
        if self.unjoined:
            said.append("Some letters that should join or run right to left stand one by one.")
        return tuple(said)


@dataclass(slots=True)
class _Pen:
    """Draws items of one page, from millimetres down to points up."""

    canvas: Canvas
    height: float
    typeface: Typeface
    lost: _Lost

    def draw(self, item: Item) -> None:
        match item:
            case Text():
                self._text(item)
            case Box():
                self._box(item)
            case Path():
                self._path(item)
            case Disc():
                self._disc(item)
            case Picture():
                mode = Image.frombytes("RGB", (item.columns, item.rows), item.pixels)
                self._picture(mode, item.frame)

    def _y(self, y: float) -> float:
        return (self.height - y) / POINT_MM

    def _pens(
        self, line: Colour | None, fill: Colour | None, width: float, dash: float = 0.0
    ) -> dict[str, int]:
        if line is not None:
            self.canvas.setStrokeColorRGB(*line)
        if fill is not None:
            self.canvas.setFillColorRGB(*fill)
        self.canvas.setLineWidth(width / POINT_MM)
        self.canvas.setDash([dash / POINT_MM] * 2 if dash else [])
        return {"stroke": int(line is not None), "fill": int(fill is not None)}

    def _box(self, item: Box) -> None:
        how = self._pens(item.line, item.fill, item.width_mm, item.dash_mm)
        frame = item.frame
        place = (
            frame.x / POINT_MM,
            self._y(frame.bottom),
            frame.width / POINT_MM,
            frame.height / POINT_MM,
        )
        if item.round_mm:
            self.canvas.roundRect(*place, item.round_mm / POINT_MM, **how)
        else:
            self.canvas.rect(*place, **how)

    def _path(self, item: Path) -> None:
        how = self._pens(item.line, item.fill, item.width_mm, item.dash_mm)
        path = self.canvas.beginPath()
        for n, (x, y) in enumerate(item.points):
            (path.lineTo if n else path.moveTo)(x / POINT_MM, self._y(y))
        if item.closed:
            path.close()
        self.canvas.drawPath(path, **how)

    def _disc(self, item: Disc) -> None:
        how = self._pens(item.line, item.fill, item.width_mm)
        self.canvas.circle(item.x / POINT_MM, self._y(item.y), item.radius / POINT_MM, **how)

    def _picture(self, image: Image.Image, frame: Frame) -> None:
        self.canvas.drawImage(
            ImageReader(image),
            frame.x / POINT_MM,
            self._y(frame.bottom),
            frame.width / POINT_MM,
            frame.height / POINT_MM,
            mask="auto" if image.mode == "RGBA" else None,
        )

    def _text(self, item: Text) -> None:
        width = self.typeface.measure(item.text, item.face, item.size_pt)
        x = item.x
        if item.anchor is not Anchor.START:
            x -= width if item.anchor is Anchor.END else width / 2.0
        for run in self.typeface.runs(item.text, item.face):
            if run.name:
                self.canvas.setFillColorRGB(*item.colour)
                self.canvas.setFont(run.name, item.size_pt)
                self.canvas.drawString(x / POINT_MM, self._y(item.y), run.text)
                self._note_unjoined(run)
            elif run.file is not None:
                self._pictured(run, x, item)
                self._note_unjoined(run)
            else:
                self._boxes(run, x, item)
            x += self.typeface.width(run, item.size_pt)

    def _note_unjoined(self, run: Run) -> None:
        if not can_shape() and any(is_shaped(sign) for sign in run.text):
            self.lost.unjoined = True

    def _pictured(self, run: Run, x: float, item: Text) -> None:
        """Signs set by Pillow as a fine picture that carries its text for copying."""
        if run.file is None:
            return
        size = min(_LARGEST_PX, max(8, round(item.size_pt * POINT_MM * _FINE_PX)))
        font = pillow_font(run.file, size)
        scale = item.size_pt * POINT_MM / size
        left, top, right, bottom = font.getbbox(run.text, anchor="ls")
        columns, rows = int(right - left) + 2, int(bottom - top) + 2
        if columns <= 2 or rows <= 2:
            return
        ink = Image.new("L", (columns, rows), 0)
        ImageDraw.Draw(ink).text((1 - left, 1 - top), run.text, fill=255, font=font, anchor="ls")
        colour = tuple(round(255 * channel) for channel in item.colour)
        image = Image.new("RGBA", (columns, rows), (*colour, 0))
        image.putalpha(ink)
        frame = Frame(
            x=x + (left - 1) * scale,
            y=item.y + (top - 1) * scale,
            width=columns * scale,
            height=rows * scale,
        )
        spelt = run.text.encode("utf-16-be").hex().upper()
        self.canvas._code.append(f"/Span <</ActualText <FEFF{spelt}>>> BDC")  # noqa: SLF001
        self._picture(image, frame)
        self.canvas._code.append("EMC")  # noqa: SLF001

    def _boxes(self, run: Run, x: float, item: Text) -> None:
        """A box with a question mark for each sign that cannot be had."""
        em = item.size_pt * POINT_MM
        for sign in run.text:
            self.lost.signs[sign] = None
            frame = Frame(
                x=x + 0.05 * em,
                y=item.y - 0.74 * em,
                width=(MISSING_EM - 0.1) * em,
                height=0.82 * em,
            )
            self._box(Box(frame=frame, line=item.colour, width_mm=0.05 * em))
            mark = Text(
                x=frame.x + frame.width / 2.0,
                y=item.y - 0.12 * em,
                text="?",
                size_pt=0.62 * item.size_pt,
                face=Face.REGULAR,
                colour=item.colour,
                anchor=Anchor.MIDDLE,
                within=frame,
            )
            self._text(mark)
            x += MISSING_EM * em


def _intend_srgb(canvas: Canvas) -> None:
    """Says that the document's colours are sRGB, with the profile inside."""
    document = canvas._doc  # noqa: SLF001 - ReportLab has no public way to the catalogue
    profile = pdfdoc.PDFStream(content=colorimetry.srgb_icc_profile())
    profile.dictionary["N"] = 3
    intent = pdfdoc.PDFDictionary(
        {
            "Type": pdfdoc.PDFName("OutputIntent"),
            "S": pdfdoc.PDFName("GTS_PDFA1"),
            "OutputConditionIdentifier": pdfdoc.PDFString("sRGB"),
            "DestOutputProfile": document.Reference(profile),
        }
    )
    catalogue = document.Catalog
    catalogue.__NoDefault__ = [*catalogue.__NoDefault__, "OutputIntents"]
    catalogue.__Refs__ = list(catalogue.__Refs__)
    catalogue.OutputIntents = pdfdoc.PDFArray([intent])
