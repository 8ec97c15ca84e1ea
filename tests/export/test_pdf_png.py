"""The printed document read back: text, fonts, sizes, pictures true to size, names as text."""

import io
import math
from pathlib import Path

import numpy as np
import pytest
from PIL import Image, ImageCms

from schemeforge.errors import InputError
from schemeforge.export.options import SheetOptions
from schemeforge.export.page import POINT_MM, Face
from schemeforge.export.png import image_of, images_of, png_of
from schemeforge.export.sheet import make_sheet
from schemeforge.export.typeface import Typeface
from tests.builders import small_project
from tests.export import hard_projects as hard
from tests.export.reading import fonts, metadata, pictures, sizes_mm, swatch_pixels, text_of

NO_FONTS = Typeface(find=lambda _bold: ())


def pdf_of_small(**options: object) -> bytes:
    chosen = SheetOptions(**options)  # type: ignore[arg-type]
    return make_sheet(small_project(), "first", chosen).pdf.data


def test_steps_mixes_and_drops_can_be_read_from_the_document() -> None:
    said = " ".join(text_of(pdf_of_small()))
    for text in ("prime", "off-white from above", "wash", "red", "mud on the base"):
        assert text in said
    assert "brown wash 30 30 1.6 1.5" in said
    assert "Top up by 1 ml: 6 + 6 + 8 drops" in said


@pytest.mark.parametrize(
    ("options", "size"),
    [
        ({}, (210.0, 297.0)),
        ({"paper": "Letter"}, (215.9, 279.4)),
        ({"landscape": True}, (297.0, 210.0)),
        ({"paper": "Letter", "landscape": True}, (279.4, 215.9)),
    ],
)
def test_pages_have_the_papers_size(options: dict[str, object], size: tuple[float, float]) -> None:
    for found in sizes_mm(pdf_of_small(**options)):
        assert found == pytest.approx(size, abs=0.01)


def test_every_font_is_inside() -> None:
    for data in (
        pdf_of_small(),
        make_sheet(hard.renamed(hard.SCRIPTS["Cyrillic"]), "first").pdf.data,
        make_sheet(hard.renamed(hard.SCRIPTS["Cyrillic"]), "first", None, NO_FONTS).pdf.data,
    ):
        found = fonts(data)
        assert found
        assert all(inside for _, inside in found), found


def test_title_and_author_are_told_and_nothing_can_run() -> None:
    data = make_sheet(hard.renamed("(a) \\ <b>"), "first").pdf.data
    assert metadata(data)["Title"] == "(a) \\ <b>: (a) \\ <b>"
    assert metadata(data)["Author"] == "SchemeForge"
    for word in (b"/JavaScript", b"/JS", b"/OpenAction", b"/Launch", b"/URI", b"/EmbeddedFile"):
        assert word not in data
    assert b"/OutputIntents" in data


def test_the_same_project_gives_the_same_bytes() -> None:
    assert pdf_of_small() == pdf_of_small()


def test_markup_like_names_stand_as_they_are_written() -> None:
    name = "<b>bold</b> &amp; %s {0}"
    said = " ".join(text_of(make_sheet(hard.renamed(name), "first").pdf.data))
    assert name in said


def test_swatches_are_true_to_size_and_colour_when_printed() -> None:
    """At 254 dots per inch a millimetre is ten pixels, of six in the swatch."""
    sheet = make_sheet(small_project(), "first")
    images = images_of(sheet.pdf.data, 254.0)
    checked = 0
    for page, image in zip(sheet.pages, images, strict=True):
        shown = np.asarray(image).astype(float)
        assert shown.shape[:2] == (2970, 2100)
        for picture in pictures(page, "swatch dry"):
            frame = picture.frame
            left, top = round(frame.x * 10), round(frame.y * 10)
            right, bottom = round(frame.right * 10), round(frame.bottom * 10)
            inside = shown[top + 3 : bottom - 3, left + 3 : right - 3]
            grey = round(0.8 * 255)
            assert np.abs(shown[(top + bottom) // 2, left - 4] - grey).max() <= 1
            assert np.abs(shown[(top + bottom) // 2, right + 4] - grey).max() <= 1
            pixels = swatch_pixels(picture).astype(float)
            assert np.abs(inside.mean((0, 1)) - pixels.mean((0, 1))).max() < 1.5
            assert np.abs(inside[:, :20].mean((0, 1)) - pixels[:, 2:14].mean((0, 1))).max() < 2.5
            checked += 1
    assert checked >= 6


def test_scale_line_is_50_mm() -> None:
    sheet = make_sheet(small_project(), "first")
    shown = np.asarray(image_of(sheet.pdf.data, 0, 254.0)).astype(int).sum(axis=2)
    row = next(item for item in sheet.pages[0].items if getattr(item, "role", "") == "scale")
    y = round(row.points[2][1] * 10)  # type: ignore[union-attr]
    dark = np.flatnonzero(shown[y] < 300)
    ends = np.flatnonzero(np.diff(dark) > 1)
    assert dark[ends[0]] - dark[0] == pytest.approx(500, abs=5)


def test_pictures_carry_the_srgb_profile_and_their_resolution() -> None:
    image = image_of(pdf_of_small(), 0, 60.0)
    with Image.open(io.BytesIO(png_of(image, 60.0))) as read:
        profile = ImageCms.ImageCmsProfile(io.BytesIO(read.info["icc_profile"]))
        assert "sRGB" in ImageCms.getProfileDescription(profile)
        assert read.info["dpi"] == pytest.approx((60.0, 60.0), abs=0.02)
        assert read.size == (math.ceil(210 / 25.4 * 60), math.ceil(297 / 25.4 * 60))


def test_a_page_too_large_for_a_picture_is_refused() -> None:
    with pytest.raises(InputError, match="too large a picture; choose fewer dots per inch"):
        images_of(pdf_of_small(), 2400.0)


@pytest.mark.parametrize("name", ["Latin beyond ReportLab's fonts", "Cyrillic", "Greek"])
def test_other_scripts_stay_text_where_a_font_has_them(name: str) -> None:
    text = hard.SCRIPTS[name]
    face = Typeface()
    if any(run.is_missing for run in face.runs(text, Face.REGULAR)):
        pytest.skip("no font on this computer has that script")
    sheet = make_sheet(hard.renamed(text), "first", None, face)
    assert text in " ".join(text_of(sheet.pdf.data))
    assert sheet.pdf.findings == ()


def test_letters_that_join_are_set_as_a_picture_that_carries_its_text() -> None:
    text = hard.SCRIPTS["Arabic"]
    face = Typeface()
    runs = face.runs(text, Face.REGULAR)
    if any(run.is_missing for run in runs):
        pytest.skip("no font on this computer has that script")
    assert [run.text for run in runs] == [text]
    assert face.measure(text, Face.REGULAR, 20.0) == pytest.approx(
        2.0 * face.measure(text, Face.REGULAR, 10.0)
    )
    sheet = make_sheet(hard.renamed(text), "first", None, face)
    blank = make_sheet(hard.renamed("\u2002" * 20 + "."), "first", None, face)
    shown = np.asarray(image_of(sheet.pdf.data, 0, 60.0)).astype(int)
    empty = np.asarray(image_of(blank.pdf.data, 0, 60.0)).astype(int)
    assert np.abs(shown[20:60, :300] - empty[20:60, :300]).max() > 50


@pytest.mark.parametrize("name", hard.SCRIPTS)
def test_without_fonts_there_is_still_text_and_the_lack_is_reported(name: str) -> None:
    sheet = make_sheet(hard.renamed(f"abc {hard.SCRIPTS[name]}"), "first", None, NO_FONTS)
    said = " ".join(text_of(sheet.pdf.data))
    assert "Before you start" in said
    assert "abc" in said
    assert sheet.pdf.findings
    assert all("No font on this computer has the sign" in s for s in sheet.pdf.findings[:-1])
    assert "?" in said


def test_a_damaged_font_file_is_passed_over(tmp_path: Path) -> None:
    from schemeforge.export.font_files import fonts_in

    for number, data in enumerate(
        (b"", b"ttcf\0\0\0\0\xff\xff\xff\xff", b"\0\1\0\0\0\x09" + b"z" * 200)
    ):
        path = tmp_path / f"{number}.ttf"
        path.write_bytes(data)
        assert fonts_in(path) == ()
    face = Typeface(find=lambda _bold: tuple(sorted(tmp_path.iterdir())))
    assert face.runs("ж", Face.REGULAR)[0].is_missing


def test_a_found_fonts_signs_agree_with_a_second_reader() -> None:
    """ReportLab's own parser is the second opinion on our reading of a font's table of signs."""
    from reportlab.pdfbase.ttfonts import TTFontFile  # type: ignore[import-untyped]

    from schemeforge.export.font_files import font_paths, fonts_in

    checked = 0
    for path in font_paths(bold=False)[:12]:
        for font in fonts_in(path):
            if font.has_curves:
                theirs = TTFontFile(str(path), subfontIndex=font.index)
                known = {code for code, glyph in theirs.charToGlyph.items() if glyph}
                assert font.signs >= known - {0, 160}
                assert len(font.signs - known) <= 0.02 * len(known) + 2
                checked += 1
    if not checked:
        pytest.skip("no TrueType fonts on this computer")


def test_widths_in_the_document_are_the_measured_ones() -> None:
    face = Typeface()
    width = face.measure("H" * 10, Face.REGULAR, 10.0)
    # Bitstream Vera Sans: H is 1540 of 2048 units wide (its hmtx table).
    assert width == pytest.approx(10 * 10 * 1540 / 2048 * POINT_MM, rel=1e-3)
