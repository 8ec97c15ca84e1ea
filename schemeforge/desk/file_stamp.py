"""Tells whether a file is still the one that was read or written here."""

from pathlib import Path
from typing import NamedTuple


class FileStamp(NamedTuple):
    """What the file system says of one version of a file."""

    modified_ns: int
    size: int
    serial: int


def stamp_of(path: Path) -> FileStamp | None:
    """The file's stamp now, None where it is not there or cannot be looked at."""
    try:
        status = path.stat()
    except (OSError, ValueError):
        return None
    return FileStamp(status.st_mtime_ns, status.st_size, status.st_ino)
