"""The recipe strip: one PNG to share with the model, which opens as the project it shows.

The project's text is carried in an international text chunk [ISO15948], compressed. Reading it
never decodes a pixel, and every length is checked before anything is taken apart.
"""

import math
import os
import stat
import struct
import zlib
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING

from schemeforge.errors import (
    DamagedFileError,
    FileError,
    InputError,
    MissingFileError,
    SchemeForgeError,
)
from schemeforge.export.facts import gather
from schemeforge.export.options import SheetOptions
from schemeforge.export.pdf import pdf_of
from schemeforge.export.png import MOST_PIXELS, image_of, png_of
from schemeforge.export.strip_page import strip_page
from schemeforge.export.typeface import Typeface
from schemeforge.scheme import Project, project_file
from schemeforge.whole_file import reason, write_whole

if TYPE_CHECKING:
    from schemeforge.stand_in import StandIns

KEYWORD = "SchemeForge project"
SIGNATURE = b"\x89PNG\r\n\x1a\n"
MOST_BYTES = 64 * 1024 * 1024
# Pixels that are drawn at most, well below what is read, so that a strip stays easy to send.
MOST_DRAWN = 30_000_000
_MOST_CHUNKS = 100_000
_REMEDY = "choose a recipe strip that SchemeForge wrote, in its original file"


@dataclass(frozen=True, slots=True, kw_only=True)
class Strip:
    """A recipe strip as a file's content, and what could not be drawn as wished."""

    data: bytes
    findings: tuple[str, ...]


def strip_of(
    project: Project,
    scheme_id: str,
    options: SheetOptions | None = None,
    typeface: Typeface | None = None,
    views: "StandIns | None" = None,
) -> Strip:
    """The strip of one scheme, carrying the whole project.

    Args:
        project: The document.
        scheme_id: The scheme to show.
        options: Viewing, group, date and dots per inch count; SheetOptions() where None.
        typeface: To measure and draw with.
        views: Where views of stand-in models are kept; no pictures of one where None.

    Raises:
        UnknownNameError: For a scheme, group or light that does not exist.
        FileError: Where the project is larger than a strip may carry.
    """
    options = options or SheetOptions()
    face = typeface or Typeface()
    facts = gather(project, scheme_id, options, views)
    page = strip_page(facts, face.measure)
    pdf = pdf_of((page,), f"{project.name}: {facts.scheme.name}", face, subject="Recipe strip")
    dpi = _fitting(page.width, page.height, options.dpi)
    text = project_file.dumps(project)
    if len(text.encode("utf-8")) > project_file.MOST_BYTES:
        raise FileError(
            f"The project is larger than the {project_file.MOST_BYTES // 1024**2} MB that a "
            "recipe strip may carry",
            remedy="remove old timings or paints",
        )
    return Strip(
        data=png_of(image_of(pdf.data, 0, dpi), dpi, {KEYWORD: text}), findings=pdf.findings
    )


def write_strip(
    project: Project,
    scheme_id: str,
    out: Path,
    options: SheetOptions | None = None,
    *,
    views: "StandIns | None" = None,
) -> Strip:
    """As ``strip_of``, written whole to that file or not at all.

    Raises:
        FileError: Where the name does not end in .png or it cannot be written.
    """
    if out.suffix.lower() != ".png":
        raise FileError(
            "A recipe strip is a PNG picture", where=str(out), remedy="end its name in .png"
        )
    strip = strip_of(project, scheme_id, options, views=views)
    write_whole(out, strip.data, keep_previous=False)
    return strip


def read_strip(path: str | os.PathLike[str]) -> Project:
    """The project that a recipe strip carries.

    Raises:
        MissingFileError: Where the file is not there or may not be read.
        DamagedFileError: Where it is no strip, is damaged, or anything in it is too large.
        NewerVersionError, InputError: As for any project file.
    """
    place = os.fspath(path)
    try:
        return strip_project(_bytes_of(place))
    except (MissingFileError, SchemeForgeError) as error:
        raise error.at(place) from None


def strip_project(data: bytes) -> Project:
    """The project in the bytes of a strip; errors as ``read_strip``, without the place."""
    if len(data) > MOST_BYTES:
        raise _too_large()
    if not data.startswith(SIGNATURE):
        raise DamagedFileError("This is not a PNG picture", remedy=_REMEDY)
    found: bytes | None = None
    for number, (kind, body) in enumerate(_chunks(data)):
        if number == 0:
            _check_header(kind, body)
        if kind == b"iTXt" and body.startswith(KEYWORD.encode("latin-1") + b"\0"):
            if found is not None:
                raise DamagedFileError("The picture carries two projects", remedy=_REMEDY)
            found = body[len(KEYWORD) + 1 :]
    if found is None:
        raise DamagedFileError("The picture carries no project", remedy=_REMEDY)
    return project_file.loads(_text(found))


def _chunks(data: bytes) -> Iterator[tuple[bytes, bytes]]:
    """Type and content of each chunk up to the end mark, lengths and checksums checked."""
    place = len(SIGNATURE)
    for _ in range(_MOST_CHUNKS):
        if place + 12 > len(data):
            raise DamagedFileError("The picture is cut short", remedy=_REMEDY)
        length, kind = struct.unpack(">L4s", data[place : place + 8])
        end = place + 12 + length
        if end > len(data):
            raise DamagedFileError("The picture is cut short", remedy=_REMEDY)
        body = data[place + 8 : end - 4]
        if zlib.crc32(kind + body) != struct.unpack(">L", data[end - 4 : end])[0]:
            raise DamagedFileError("The picture is damaged", remedy=_REMEDY)
        if kind == b"IEND":
            return
        yield kind, body
        place = end
    raise DamagedFileError("The picture has too many pieces", remedy=_REMEDY)


def _check_header(kind: bytes, body: bytes) -> None:
    if kind != b"IHDR" or len(body) != 13:
        raise DamagedFileError("The picture has no header", remedy=_REMEDY)
    width, height = struct.unpack(">LL", body[:8])
    if not 0 < width * height <= MOST_PIXELS:
        raise DamagedFileError(
            f"The picture claims {width} x {height} pixels, more than a recipe strip has",
            remedy=_REMEDY,
        )


def _text(chunk: bytes) -> bytes:
    """The text of an iTXt chunk after its keyword, unpacked to at most a project's size."""
    packed, method, rest = chunk[:1], chunk[1:2], chunk[2:]
    try:
        _, _, body = rest.split(b"\0", 2)  # language and translated keyword
    except ValueError:
        raise DamagedFileError("The project in the picture is damaged", remedy=_REMEDY) from None
    if packed == b"\0":
        return body
    if packed != b"\1" or method != b"\0":
        raise DamagedFileError("The project in the picture is packed oddly", remedy=_REMEDY)
    unpacker = zlib.decompressobj()
    try:
        text = unpacker.decompress(body, project_file.MOST_BYTES + 1)
    except zlib.error:
        raise DamagedFileError("The project in the picture is damaged", remedy=_REMEDY) from None
    if len(text) > project_file.MOST_BYTES:
        raise DamagedFileError(
            f"The project in the picture is larger than {project_file.MOST_BYTES // 1024**2} MB",
            remedy=_REMEDY,
        )
    if not unpacker.eof:
        raise DamagedFileError("The project in the picture is cut short", remedy=_REMEDY)
    return text


def _fitting(width_mm: float, height_mm: float, dpi: int) -> float:
    """The resolution asked for, or the highest at which the picture stays easy to send."""
    inches = width_mm * height_mm / 25.4**2
    if not inches:
        raise InputError("The strip has no size")
    return min(float(dpi), math.sqrt(0.98 * MOST_DRAWN / inches))


def _bytes_of(place: str) -> bytes:
    path = Path(place)
    try:
        kind = path.stat()
        if not stat.S_ISREG(kind.st_mode):
            raise MissingFileError("This is not a file", remedy="choose a file")
        if kind.st_size > MOST_BYTES:
            raise _too_large()
        with path.open("rb") as file:
            return file.read(MOST_BYTES + 1)
    except FileNotFoundError:
        raise MissingFileError("There is no such file", remedy="check its name") from None
    except (OSError, ValueError) as error:
        raise MissingFileError(
            f"The file cannot be opened ({reason(error)})",
            remedy="check its name and that you may read it",
        ) from None


def _too_large() -> DamagedFileError:
    return DamagedFileError(
        f"The picture is larger than {MOST_BYTES // 1024**2} MB", remedy=_REMEDY
    )
