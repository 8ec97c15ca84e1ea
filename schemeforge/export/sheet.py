"""One front door: a desk sheet written as PDF, PNG or CSV, by the file's suffix."""

from dataclasses import dataclass
from pathlib import Path

from schemeforge.errors import FileError
from schemeforge.export.csv_export import pots_csv, steps_csv
from schemeforge.export.desk_sheet import sheet_pages
from schemeforge.export.facts import gather
from schemeforge.export.options import SheetOptions
from schemeforge.export.page import Page
from schemeforge.export.pdf import Pdf, pdf_of
from schemeforge.export.png import images_of, png_of
from schemeforge.export.typeface import Typeface
from schemeforge.scheme import Project
from schemeforge.whole_file import write_whole

SUFFIXES = (".pdf", ".png", ".csv")


@dataclass(frozen=True, slots=True, kw_only=True)
class SheetResult:
    """What was written.

    Args:
        pages: How many pages; 0 for tables.
        files: The files, in order.
        findings: What could not be drawn as wished, one sentence each.
    """

    pages: int
    files: tuple[Path, ...]
    findings: tuple[str, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Sheet:
    """A sheet made but not written: its pages, and the document that prints them."""

    pages: tuple[Page, ...]
    pdf: Pdf


def make_sheet(
    project: Project,
    scheme_id: str,
    options: SheetOptions | None = None,
    typeface: Typeface | None = None,
) -> Sheet:
    """The pages and their PDF; errors as ``desk_sheet.sheet_pages``."""
    face = typeface or Typeface()
    pages = sheet_pages(project, scheme_id, options or SheetOptions(), face.measure)
    scheme = project.scheme(scheme_id)
    title = f"{project.name}: {scheme.name}"
    return Sheet(pages=pages, pdf=pdf_of(pages, title, face, subject="Desk sheet"))


def write_sheet(
    project: Project, scheme_id: str, out: Path, options: SheetOptions | None = None
) -> SheetResult:
    """Writes the sheet; each file whole or not at all.

    ``OUT.pdf`` is one document. ``OUT.png`` is the first page, ``OUT-2.png`` and so on the
    others. ``OUT.csv`` is the steps, ``OUT-pots.csv`` the pots.

    Args:
        project: The document.
        scheme_id: The scheme.
        out: Where to; its suffix chooses the kind.
        options: SheetOptions() where None.

    Raises:
        FileError: For another suffix, a folder that is not there, a file that may not be written.
        UnknownNameError: For a scheme, group or light that does not exist.
        PaintMissingError: For a paint that the project does not carry.
        InputError: For pictures that would be too large.
    """
    options = options or SheetOptions()
    suffix = out.suffix.lower()
    if suffix not in SUFFIXES:
        raise FileError(
            f'A desk sheet cannot be written as "{out.suffix}"'
            if out.suffix
            else "The file's name does not say what to write",
            where=str(out),
            remedy="end its name in .pdf, .png or .csv",
        )
    if not out.parent.is_dir():
        raise FileError(
            "The folder is not there", where=str(out), remedy="make it or choose another"
        )
    if suffix == ".csv":
        facts = gather(project, scheme_id, options)
        tables = {out: steps_csv(facts), _beside(out, "pots"): pots_csv(facts)}
        return _written(tables, 0, ())
    sheet = make_sheet(project, scheme_id, options)
    if suffix == ".pdf":
        return _written({out: sheet.pdf.data}, len(sheet.pages), sheet.pdf.findings)
    images = images_of(sheet.pdf.data, options.dpi)
    pictures = {
        _beside(out, str(n)) if n > 1 else out: png_of(image, options.dpi)
        for n, image in enumerate(images, start=1)
    }
    return _written(pictures, len(sheet.pages), sheet.pdf.findings)


def _beside(out: Path, word: str) -> Path:
    return out.with_name(f"{out.stem}-{word}{out.suffix}")


def _written(files: dict[Path, bytes], pages: int, findings: tuple[str, ...]) -> SheetResult:
    for path, data in files.items():
        write_whole(path, data, keep_previous=False)
    return SheetResult(pages=pages, files=tuple(files), findings=findings)
