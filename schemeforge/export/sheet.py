"""One front door: a desk sheet written as PDF, PNG or CSV, by the file's suffix."""

from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from pathlib import Path
from typing import TYPE_CHECKING

from schemeforge.errors import FileError
from schemeforge.export.csv_export import pots_csv, steps_csv
from schemeforge.export.desk_sheet import sheet_pages
from schemeforge.export.facts import gather
from schemeforge.export.older_pages import is_stranger, marker, remove_older
from schemeforge.export.options import SheetOptions
from schemeforge.export.page import Page
from schemeforge.export.pdf import Pdf, pdf_of
from schemeforge.export.png import image_of, png_of
from schemeforge.export.typeface import Typeface
from schemeforge.scheme import Project
from schemeforge.whole_file import write_whole

if TYPE_CHECKING:
    from schemeforge.stand_in import StandIns

SUFFIXES = (".pdf", ".png", ".csv")


@dataclass(frozen=True, slots=True, kw_only=True)
class SheetResult:
    """What was written.

    Args:
        pages: How many pages; 0 for tables.
        files: The files, in order.
        findings: What could not be drawn as wished or put away, one sentence each.
    """

    pages: int
    files: tuple[Path, ...]
    findings: tuple[str, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Sheet:
    """A sheet made but not written: its pages, and the document that prints them."""

    pages: tuple[Page, ...]
    pdf: Pdf


class SheetCancelledError(Exception):
    """Work on a sheet was given up because it is no longer wanted; not an error for the user."""


def make_sheet(
    project: Project,
    scheme_id: str,
    options: SheetOptions | None = None,
    typeface: Typeface | None = None,
    *,
    views: "StandIns | None" = None,
    progress: Callable[[float], None] | None = None,
    cancelled: Callable[[], bool] | None = None,
) -> Sheet:
    """The pages and their PDF; errors as ``desk_sheet.sheet_pages``.

    Args:
        project: The document.
        scheme_id: The scheme.
        options: SheetOptions() where None.
        typeface: What to measure and draw with; its own where None.
        views: Where views of stand-in models are kept; no picture of one where None.
        progress: Told the share that is done, rising from 0 to 1.
        cancelled: Asked between steps whether the sheet is no longer wanted.

    Raises:
        SheetCancelledError: As soon as ``cancelled`` says so.
    """

    def watch(share: float) -> None:
        if cancelled is not None and cancelled():
            raise SheetCancelledError
        if progress is not None:
            progress(share)

    face = typeface or Typeface()
    pages = sheet_pages(project, scheme_id, options or SheetOptions(), face.measure, watch, views)
    scheme = project.scheme(scheme_id)
    title = f"{project.name}: {scheme.name}"
    pdf = pdf_of(pages, title, face, subject="Desk sheet")
    watch(1.0)
    return Sheet(pages=pages, pdf=pdf)


def files_of(out: Path, pages: int) -> tuple[Path, ...]:
    """The files that a sheet of so many pages is written to.

    ``OUT.pdf`` is one document. ``OUT.png`` is the first page, ``OUT-2.png`` and so on the
    others. ``OUT.csv`` is the steps, ``OUT-pots.csv`` the pots.
    """
    suffix = out.suffix.lower()
    if suffix == ".csv":
        return out, _beside(out, "pots")
    if suffix == ".png":
        return (out, *(_beside(out, str(n)) for n in range(2, pages + 1)))
    return (out,)


def write_sheet(
    project: Project,
    scheme_id: str,
    out: Path,
    options: SheetOptions | None = None,
    *,
    sheet: Sheet | None = None,
    views: "StandIns | None" = None,
    watch: Callable[[float], None] | None = None,
    replace_others: bool = False,
) -> SheetResult:
    """Writes the sheet, under the names of ``files_of``; each file whole or not at all.

    Pictures of later pages that an earlier, longer sheet of that name left are removed.

    Args:
        project: The document.
        scheme_id: The scheme.
        out: Where to; its suffix chooses the kind.
        options: SheetOptions() where None.
        sheet: The same sheet where it is made already.
        views: As for ``make_sheet``.
        watch: Told the share that is done, 0 to 1. What it raises ends the work before any file
            is written.
        replace_others: True where the painter agreed that further files of the sheet replace
            what stands in their places, whatever it is.

    Raises:
        FileError: For another suffix, a folder that is not there, a file that may not be written,
            and for a further file of the sheet whose place is taken by something that no earlier
            sheet wrote.
        UnknownNameError: For a scheme, group or light that does not exist.
        PaintMissingError: For a paint that the project does not carry.
        InputError: For pictures that would be too large.
    """
    options = options or SheetOptions()
    watch = watch or (lambda _share: None)
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
        tables = steps_csv(facts), pots_csv(facts)
        return _written(files_of(out, 0), tables, 0, (), replace_others=replace_others)
    sheet = sheet or make_sheet(project, scheme_id, options, views=views)
    count = len(sheet.pages)
    data = [sheet.pdf.data]
    if suffix == ".png":
        data = []
        for number in range(count):
            watch(number / count)
            image = image_of(sheet.pdf.data, number, options.dpi)
            data.append(png_of(image, options.dpi, {marker(number + 1): f"of {count}"}))
    watch(1.0)
    findings = sheet.pdf.findings
    result = _written(files_of(out, count), data, count, findings, replace_others=replace_others)
    if suffix == ".png":
        result = replace(result, findings=(*findings, *remove_older(out, count)))
    return result


def _beside(out: Path, word: str) -> Path:
    return out.with_name(f"{out.stem}-{word}{out.suffix}")


def _written(
    files: Sequence[Path],
    data: Sequence[bytes],
    pages: int,
    findings: tuple[str, ...],
    *,
    replace_others: bool,
) -> SheetResult:
    further = () if replace_others else tuple(zip(files, data, strict=True))[1:]
    for number, (path, content) in enumerate(further, start=2):
        if is_stranger(path, number, content):
            raise FileError(
                "This file is not from an earlier sheet and would be replaced",
                where=str(path),
                remedy="move it away or write the sheet under another name",
            )
    for path, content in zip(files, data, strict=True):
        write_whole(path, content, keep_previous=False)
    return SheetResult(pages=pages, files=tuple(files), findings=findings)
