"""Reads finished sheets back, as a reader program would."""

import io
import re
from collections.abc import Iterator
from contextlib import contextmanager

import numpy as np
import pypdfium2  # type: ignore[import-untyped]
from numpy.typing import NDArray
from PIL import Image

from schemeforge.export.page import POINT_MM, Anchor, Page, Picture, Text
from schemeforge.export.png import RENDERER
from schemeforge.export.typesetting import Measure


@contextmanager
def _opened(pdf: bytes) -> Iterator[pypdfium2.PdfDocument]:
    """The document, with the window's own drawing kept out of the library meanwhile."""
    with RENDERER:
        document = pypdfium2.PdfDocument(pdf)
        try:
            yield document
        finally:
            document.close()


def text_of(pdf: bytes) -> list[str]:
    """The text of each page, white space drawn together."""
    pages = []
    with _opened(pdf) as document:
        for page in document:
            text = page.get_textpage()
            pages.append(" ".join(text.get_text_bounded().split()))
            text.close()
            page.close()
    return pages


def sizes_mm(pdf: bytes) -> list[tuple[float, float]]:
    """Width and height of each page."""
    with _opened(pdf) as document:
        sizes = [document.get_page_size(n) for n in range(len(document))]
    return [(width * POINT_MM, height * POINT_MM) for width, height in sizes]


def metadata(pdf: bytes) -> dict[str, str]:
    """Title, author and so on."""
    with _opened(pdf) as document:
        found: dict[str, str] = document.get_metadata_dict()
    return found


def fonts(pdf: bytes) -> list[tuple[bytes, bool]]:
    """Name of each font in the document, and whether its outlines are inside."""
    objects = dict(re.findall(rb"(?m)^(\d+) 0 obj\b(.*?)\bendobj", pdf, re.DOTALL))
    found = []
    for body in objects.values():
        if re.search(rb"/Type /Font\b(?!D)", body):
            name = re.search(rb"/BaseFont /(\S+)", body)
            assert name is not None
            descriptor = re.search(rb"/FontDescriptor (\d+) 0 R", body)
            inside = descriptor is not None and b"/FontFile2" in objects[descriptor.group(1)]
            found.append((name.group(1), inside))
    return found


def pixels(png: bytes) -> NDArray[np.uint8]:
    """Rows, columns, channels."""
    with Image.open(io.BytesIO(png)) as image:
        return np.asarray(image.convert("RGB"))


def swatch_pixels(picture: Picture) -> NDArray[np.uint8]:
    """A picture on a page as rows, columns, channels."""
    flat = np.frombuffer(picture.pixels, dtype=np.uint8)
    return flat.reshape(picture.rows, picture.columns, 3)


def pictures(page: Page, role: str) -> list[Picture]:
    """The page's pictures of that role, in drawing order."""
    return [i for i in page.items if isinstance(i, Picture) and i.role == role]


def ink(text: Text, measure: Measure) -> tuple[float, float, float, float]:
    """Left, top, right and bottom of a line's letters, mm: cap height above, descent below."""
    width = measure(text.text, text.face, text.size_pt)
    left = text.x
    if text.anchor is not Anchor.START:
        left -= width if text.anchor is Anchor.END else width / 2.0
    em = text.size_pt * POINT_MM
    return left, text.y - 0.73 * em, left + width, text.y + 0.21 * em
