"""Files that an earlier sheet of the same name left behind, told from anybody else's."""

import struct
from pathlib import Path
from typing import BinaryIO

from schemeforge.errors import shown

_KEYWORD = "SchemeForge sheet page"

SIGNATURE = b"\x89PNG\r\n\x1a\n"
_MOST_PIECES = 64
_MOST_TEXT = 4096


def marker(number: int) -> str:
    """Keyword of the text in a picture that says it is that page of a desk sheet, from 1."""
    return f"{_KEYWORD} {number}"


def is_stranger(path: Path, number: int, data: bytes) -> bool:
    """True where something is there that no earlier sheet wrote, beside the file that was named.

    Args:
        path: The place of a further file of a sheet.
        number: Which file of the sheet it is, from 1.
        data: What is about to be written there: a picture, or a table, of which an earlier one
            has the same columns in its first line.
    """
    if not path.is_symlink() and not path.exists():
        return False
    if data.startswith(SIGNATURE):
        return not _is_page(path, number)
    return not _begins_with(path, data.split(b"\n", 1)[0])


def remove_older(out: Path, pages: int) -> tuple[str, ...]:
    """Removes ``OUT-N.png`` with N beyond the pages, one after another while they are there.

    Only pictures that carry our marker for that very page go, so that the first page of a sheet
    called "OUT-N" stays; the first that does not, or is not there, ends it. What cannot be removed
    is told, one sentence each.
    """
    said: list[str] = []
    number = max(pages, 1) + 1
    while True:
        path = out.with_name(f"{out.stem}-{number}{out.suffix}")
        if not _is_page(path, number):
            return tuple(said)
        try:
            path.unlink()
        except OSError:
            said.append(
                f"{shown(str(path))} is left from an earlier sheet and cannot be removed; "
                "remove it by hand."
            )
        number += 1


def _is_page(path: Path, number: int) -> bool:
    """True for a plain file that is a picture with our marker for that page."""
    if path.is_symlink() or not path.is_file():
        return False
    try:
        with path.open("rb") as file:
            return _is_marked(file, marker(number).encode("ascii"))
    except OSError:
        return False


def _begins_with(path: Path, line: bytes) -> bool:
    """True for a plain file that begins with those bytes."""
    if path.is_symlink() or not path.is_file():
        return False
    try:
        with path.open("rb") as file:
            return file.read(len(line)) == line
    except OSError:
        return False


def _is_marked(file: BinaryIO, keyword: bytes) -> bool:
    """True where a text before the first pixels has that keyword."""
    if file.read(len(SIGNATURE)) != SIGNATURE:
        return False
    for _ in range(_MOST_PIECES):
        head = file.read(8)
        if len(head) < 8:
            return False
        length, kind = struct.unpack(">L4s", head)
        if kind in {b"IDAT", b"IEND"}:
            return False
        if kind == b"iTXt" and length <= _MOST_TEXT:
            body = file.read(length)
            if body.split(b"\0", 1)[0] == keyword:
                return True
            file.seek(4, 1)
        else:
            file.seek(length + 4, 1)
    return False
