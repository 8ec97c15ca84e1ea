"""The same PDF as pictures: one page description, one back end."""

import io
import threading
from typing import Final

import pypdfium2  # type: ignore[import-untyped]
from PIL import Image, PngImagePlugin

from schemeforge import colorimetry
from schemeforge.errors import InputError

MOST_PIXELS: Final = 120_000_000
# Held by whoever is in the renderer's library: it must not be entered by two threads at once.
RENDERER: Final = threading.Lock()


def images_of(pdf: bytes, dpi: float) -> tuple[Image.Image, ...]:
    """Every page of a document as an RGB picture.

    Raises:
        InputError: Where a page would have more than 120 million pixels.
    """
    with RENDERER:
        document = pypdfium2.PdfDocument(pdf)
        try:
            return tuple(_image(document, n, dpi) for n in range(len(document)))
        finally:
            document.close()


def image_of(pdf: bytes, number: int, dpi: float) -> Image.Image:
    """One page, counted from 0; errors as ``images_of``."""
    with RENDERER:
        document = pypdfium2.PdfDocument(pdf)
        try:
            return _image(document, number, dpi)
        finally:
            document.close()


def png_of(image: Image.Image, dpi: float, text: dict[str, str] | None = None) -> bytes:
    """The picture as PNG with the sRGB profile and its resolution.

    Args:
        image: An RGB picture.
        dpi: Its resolution.
        text: Compressed texts to carry, by keyword.
    """
    out = io.BytesIO()
    info = PngImagePlugin.PngInfo()
    for key, value in (text or {}).items():
        info.add_itxt(key, value, zip=True)
    image.save(
        out,
        "PNG",
        icc_profile=colorimetry.srgb_icc_profile(),
        dpi=(dpi, dpi),
        pnginfo=info,
        optimize=False,
    )
    return out.getvalue()


def _image(document: pypdfium2.PdfDocument, number: int, dpi: float) -> Image.Image:
    page = document[number]
    try:
        width, height = page.get_size()
        scale = dpi / 72.0
        if width * height * scale**2 > MOST_PIXELS:
            raise InputError(
                f"A page of {width / 72 * 25.4:.0f} x {height / 72 * 25.4:.0f} mm at {dpi:g} dots "
                "per inch is too large a picture",
                remedy="choose fewer dots per inch",
            )
        # The renderer rounds sizes up: a hair less, so that a whole number of pixels stays one.
        bitmap = page.render(scale=scale * (1.0 - 1e-7))
        try:
            image: Image.Image = bitmap.to_pil().convert("RGB").copy()
        finally:
            bitmap.close()
        return image
    finally:
        page.close()
