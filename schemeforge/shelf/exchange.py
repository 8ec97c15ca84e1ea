"""Paints into and out of files, and how those that come in join a shelf."""

import stat
from collections.abc import Iterable
from dataclasses import dataclass, replace
from enum import StrEnum
from pathlib import Path

from schemeforge import checks
from schemeforge.errors import DamagedFileError, MissingFileError, SchemeForgeError
from schemeforge.paint import WATER_ID, Paint
from schemeforge.shelf.limits import MOST_BYTES_EXCHANGED
from schemeforge.shelf.paints_csv import from_csv, to_csv
from schemeforge.shelf.paints_json import from_json, to_json
from schemeforge.whole_file import reason, write_whole

SUFFIXES = (".json", ".csv")


class Clash(StrEnum):
    """What happens to a paint that comes in under an id that the shelf has, but differs."""

    REPLACE = "replace"
    KEEP_BOTH = "keep both"
    LEAVE = "leave the shelf's"


@dataclass(frozen=True, slots=True, kw_only=True)
class Joined:
    """A shelf after paints came in.

    Args:
        shelf: All paints; the same object where nothing came in.
        added: Names of paints that are new.
        replaced: Names of paints that took the place of the shelf's.
        same: How many were there already, just so.
        left: Names of paints that differ and were left out.
    """

    shelf: tuple[Paint, ...]
    added: tuple[str, ...] = ()
    replaced: tuple[str, ...] = ()
    same: int = 0
    left: tuple[str, ...] = ()


def export_paints(paints: Iterable[Paint], path: Path) -> None:
    """Writes the paints to a ``.json`` or ``.csv`` file, whole or not at all.

    Raises:
        FileError: Where it cannot be written, or the name ends in neither.
    """
    text = to_csv(paints) if _suffix(path) == ".csv" else to_json(paints)
    # Spreadsheets take a table for UTF-8 only where it says so.
    encoding = "utf-8-sig" if _suffix(path) == ".csv" else "utf-8"
    write_whole(path, text.encode(encoding), keep_previous=False)


def import_paints(path: Path) -> tuple[Paint, ...]:
    """The paints of a ``.json`` or ``.csv`` file.

    Raises:
        SchemeForgeError: One sentence that names the file and the place in it.
    """
    try:
        text = _text(path)
        paints = from_csv(text) if _suffix(path) == ".csv" else from_json(text)
        checks.unique((paint.id for paint in paints), "Paint")
    except SchemeForgeError as error:
        raise error.at(str(path)) from None
    return tuple(paint for paint in paints if paint.id != WATER_ID)


def clashing(shelf: Iterable[Paint], incoming: Iterable[Paint]) -> tuple[Paint, ...]:
    """Those that come in under an id that the shelf has, but differ from its paint."""
    known = {paint.id: paint for paint in shelf}
    return tuple(paint for paint in incoming if known.get(paint.id, paint) != paint)


def join(shelf: tuple[Paint, ...], incoming: Iterable[Paint], clash: Clash) -> Joined:
    """The shelf with the paints that come in behind it; pure, the old shelf stays as it is."""
    paints = {paint.id: paint for paint in shelf}
    added, replaced, left = [], [], []
    same = 0
    for paint in incoming:
        held = paints.get(paint.id)
        if held is None:
            paints[paint.id] = paint
            added.append(paint.name)
        elif held == paint:
            same += 1
        elif clash is Clash.REPLACE:
            paints[paint.id] = paint
            replaced.append(paint.name)
        elif clash is Clash.KEEP_BOTH:
            twin = _twin(paint, paints)
            paints[twin.id] = twin
            added.append(twin.name)
        else:
            left.append(paint.name)
    return Joined(
        shelf=tuple(paints.values()) if added or replaced else shelf,
        added=tuple(added),
        replaced=tuple(replaced),
        same=same,
        left=tuple(left),
    )


def _twin(paint: Paint, paints: dict[str, Paint]) -> Paint:
    """The paint under an id and a name that are not taken."""
    names = {held.name for held in paints.values()}
    number = 2
    while True:
        twin_id = f"{paint.id[: checks.LONGEST_ID - 8]}-{number}"
        name = f"{paint.name[: checks.LONGEST_NAME - 8]} {number}"
        if twin_id not in paints and name not in names:
            return replace(paint, id=twin_id, name=name)
        number += 1


def _suffix(path: Path) -> str:
    suffix = path.suffix.lower()
    if suffix not in SUFFIXES:
        raise DamagedFileError(
            "Paints are kept in files that end in .json or .csv", remedy="choose such a name"
        )
    return suffix


def _text(path: Path) -> str:
    _suffix(path)
    try:
        kind = path.stat()
        if not stat.S_ISREG(kind.st_mode):
            raise MissingFileError("This is not a file", remedy="choose a file")
        with path.open("rb") as file:
            data = file.read(MOST_BYTES_EXCHANGED + 1)
    except (OSError, ValueError) as error:
        raise MissingFileError(
            f"The file cannot be opened ({reason(error)})", remedy="check its name and folder"
        ) from None
    if len(data) > MOST_BYTES_EXCHANGED:
        raise DamagedFileError(
            f"The file is larger than {MOST_BYTES_EXCHANGED // 1024**2} MB",
            remedy="choose a file of paints",
        )
    try:
        return data.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        line = data.count(b"\n", 0, error.start) + 1
        raise DamagedFileError(
            "This is not UTF-8 text", where=f"line {line}", remedy="export it again as UTF-8"
        ) from None
