"""Project files: JSON with format and version, written whole or not at all."""

import os
import stat
from pathlib import Path
from typing import Any

from schemeforge.codec import decode, encode
from schemeforge.errors import (
    DamagedFileError,
    FileError,
    MissingFileError,
    NewerVersionError,
    SchemeForgeError,
    shown,
)
from schemeforge.json_text import EARLIER, OURS, layout, parse
from schemeforge.scheme.migrations import VERSION, migrate
from schemeforge.scheme.project import Project
from schemeforge.whole_file import backup_of, reason, write_whole

FORMAT = "schemeforge project"
SUFFIX = ".schemeforge"
MOST_BYTES = 32 * 1024 * 1024
_KEYS = ("format", "version", "project")


def dumps(project: Project) -> str:
    """The project as the text of a project file."""
    return layout({"format": FORMAT, "version": VERSION, "project": encode(project)})


def loads(text: str | bytes, *, where: str = "") -> Project:
    """The project that the text of a project file describes.

    Args:
        text: The text, or its UTF-8 bytes, of at most 32 MB.
        where: What to call its place in an error, for example the file's path.

    Raises:
        DamagedFileError: for text that is no project file.
        NewerVersionError: for a file of a later version.
        InputError: for a value out of range or a name that leads nowhere, with its place.
    """
    try:
        return _read(text.encode("utf-8", "surrogatepass") if isinstance(text, str) else text)
    except SchemeForgeError as error:
        raise (error.at(where) if where else error) from None
    except (MemoryError, RecursionError):
        raise DamagedFileError(
            "The project is too large or nested too deeply to be read", where=where, remedy=OURS
        ) from None


def load(path: str | os.PathLike[str]) -> Project:
    """The project stored in that file, older versions brought up to date.

    Raises:
        MissingFileError: where the file is not there or may not be read.
        DamagedFileError, NewerVersionError, InputError: as ``loads``, naming the file.
    """
    place = os.fspath(path)
    data = _bytes_of(place)
    try:
        return loads(data, where=place)
    except DamagedFileError as error:
        backup = backup_of(Path(place))
        if error.remedy != EARLIER or not backup.exists():
            raise
        raise DamagedFileError(
            error.what,
            where=error.where,
            remedy=f"open its previous version, kept as {backup.name}",
        ) from None


def save(project: Project, path: str | os.PathLike[str]) -> None:
    """Writes the project to that file, keeping what stood there as ``NAME.bak``.

    Raises:
        FileError: where it cannot be written, or would be too large to be read again; what
            stood there is then untouched.
    """
    data = dumps(project).encode("utf-8")
    if len(data) > MOST_BYTES:
        raise FileError(
            f"The project is larger than the {MOST_BYTES // 1024**2} MB that a file may hold",
            where=os.fspath(path),
            remedy="remove old timings or paints",
        )
    write_whole(path, data, keep_previous=True)


def _read(data: bytes) -> Project:
    if len(data) > MOST_BYTES:
        raise _too_large()
    tree = parse(_decoded(data))
    if not isinstance(tree, dict) or tree.get("format") != FORMAT:
        raise DamagedFileError("This is not a SchemeForge project", remedy="choose another file")
    version = _version(tree)
    body = tree.get("project")
    if not isinstance(body, dict):
        raise DamagedFileError('The file has no "project"', remedy=EARLIER)
    for name in tree:
        if name not in _KEYS:
            raise DamagedFileError(
                "The file has no place for such an entry", where=shown(name), remedy="remove it"
            )
    return decode(Project, migrate(body, version))


def _decoded(data: bytes) -> str:
    try:
        return data.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        line = data.count(b"\n", 0, error.start) + 1
        raise DamagedFileError(
            "This is not UTF-8 text", where=f"line {line}", remedy=OURS
        ) from None


def _version(tree: dict[str, Any]) -> int:
    version = tree.get("version")
    if type(version) is not int or version < 1:
        raise DamagedFileError("The file does not tell its version", remedy=EARLIER)
    if version > VERSION:
        number = str(version) if version < 10**9 else "unknown"
        raise NewerVersionError(
            f"The file is of version {number}, this program reads up to version {VERSION}",
            remedy="update SchemeForge",
        )
    return version


def _too_large() -> DamagedFileError:
    return DamagedFileError(
        f"The file is larger than {MOST_BYTES // 1024**2} MB", remedy="choose a project file"
    )


def _bytes_of(place: str) -> bytes:
    """The file's bytes; only ordinary files of bearable size are opened."""
    path = Path(place)
    try:
        kind = path.stat()
        if not stat.S_ISREG(kind.st_mode):
            raise MissingFileError("This is not a file", where=place, remedy="choose a file")
        if kind.st_size > MOST_BYTES:
            raise _too_large().at(place)
        with path.open("rb") as file:
            return file.read(MOST_BYTES + 1)
    except FileNotFoundError:
        raise MissingFileError(
            "There is no such file", where=place, remedy="check its name and folder"
        ) from None
    except (OSError, ValueError) as error:
        raise MissingFileError(
            f"The file cannot be opened ({reason(error)})",
            where=place,
            remedy="check its name and that you may read it",
        ) from None
