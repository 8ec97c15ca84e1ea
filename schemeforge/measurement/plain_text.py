"""Bytes of a file as text, and cells of it as numbers, whatever the country of the instrument."""

import re
import stat
from pathlib import Path
from typing import Final

from schemeforge.errors import DamagedFileError, MissingFileError
from schemeforge.whole_file import reason

MOST_BYTES: Final = 16 * 1024**2
_NUMBER: Final = re.compile(r"[+-]?(\d+([.,]\d*)?|[.,]\d+)([eE][+-]?\d{1,3})?")
_ODD: Final = re.compile(r"[\x00-\x08\x0b\x0e-\x1f]")


def read_bytes(path: Path) -> bytes:
    """The file's bytes.

    Raises:
        MissingFileError: Where it cannot be opened.
        DamagedFileError: Where it is empty or larger than any instrument writes.
    """
    try:
        if not stat.S_ISREG(path.stat().st_mode):
            raise MissingFileError("This is not a file", remedy="choose an instrument's file")
        with path.open("rb") as file:
            data = file.read(MOST_BYTES + 1)
    except (OSError, ValueError) as error:
        raise MissingFileError(
            f"The file cannot be opened ({reason(error)})", remedy="check its name and folder"
        ) from None
    if len(data) > MOST_BYTES:
        raise DamagedFileError(
            f"The file is larger than {MOST_BYTES // 1024**2} MB", remedy="export fewer readings"
        )
    if not data.strip():
        raise DamagedFileError("The file is empty", remedy="export it again")
    return data


def as_text(data: bytes) -> str:
    """The bytes as text: UTF-8, UTF-16 with its mark, or else Western European.

    Raises:
        DamagedFileError: For what is no text.
    """
    if data.startswith((b"\xff\xfe", b"\xfe\xff")):
        encodings: tuple[str, ...] = ("utf-16",)
    else:
        encodings = ("utf-8-sig", "cp1252")
    for encoding in encodings:
        try:
            text = data.decode(encoding)
        except UnicodeDecodeError:
            continue
        if not _ODD.search(text):
            return text
    raise DamagedFileError(
        "This is not a text file of readings", remedy="export as CGATS text, CSV or TM-27 XML"
    )


def number(cell: str) -> float | None:
    """The number in a cell, with decimal point or comma and perhaps a unit sign; else None."""
    plain = cell.strip().strip('"').removesuffix("%").strip()
    if not _NUMBER.fullmatch(plain) or len(plain) > 40:
        return None
    return float(plain.replace(",", "."))
