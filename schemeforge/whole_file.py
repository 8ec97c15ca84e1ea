"""Writes a file whole or not at all: at any moment one complete version is in place."""

import contextlib
import os
import secrets
import stat
from collections.abc import Iterator
from pathlib import Path

from schemeforge.errors import FileError

BACKUP_SUFFIX = ".bak"


def backup_of(path: Path) -> Path:
    """Where the previous version of that file is kept: ``NAME.bak`` beside it."""
    return path.with_name(path.name + BACKUP_SUFFIX)


def write_whole(path: str | os.PathLike[str], data: bytes, *, keep_previous: bool) -> None:
    """Writes the bytes to a new file beside the old one, flushes it and puts it in its place.

    A link is followed, and the old file's permissions are kept.

    Args:
        path: The file, which need not exist; its folder must.
        data: All of its content.
        keep_previous: True to keep what stood there as ``NAME.bak``.

    Raises:
        FileError: where it cannot be written; what stood there is then untouched.
    """
    place = os.fspath(path)
    try:
        _replace(Path(os.path.realpath(place)), data, keep_previous=keep_previous)
    except FileError as error:
        raise error.at(place) from None
    except (OSError, ValueError) as error:
        raise FileError(
            f"The file cannot be written ({reason(error)})",
            where=place,
            remedy="make room or save in another folder",
        ) from None


def reason(error: Exception) -> str:
    """The system's own words for what went wrong, to stand inside a sentence."""
    text = error.strerror if isinstance(error, OSError) and error.strerror else str(error)
    return text[:1].lower() + text[1:]


def _replace(target: Path, data: bytes, *, keep_previous: bool) -> None:
    mode = _mode_to_keep(target)
    with _spare(target) as fresh:
        with fresh.open("xb") as file:
            file.write(data)
            file.flush()
            os.fsync(file.fileno())
        if mode is not None:
            fresh.chmod(mode)
            if keep_previous:
                _keep(target)
        fresh.replace(target)
    _flush_folder(target.parent)


def _mode_to_keep(target: Path) -> int | None:
    """Permissions of the file to be replaced, None where there is none yet."""
    if not target.parent.is_dir():
        raise FileError("The folder is not there", remedy="make it or choose another")
    if not target.exists():
        return None
    mode = target.stat().st_mode
    if not stat.S_ISREG(mode):
        raise FileError("This is not a file", remedy="choose another name")
    if not mode & stat.S_IWUSR or not os.access(target, os.W_OK):
        raise FileError("The file is read-only", remedy="save under another name")
    return stat.S_IMODE(mode)


def _keep(target: Path) -> None:
    """Makes the version now in place also the backup, never leaving either name half written."""
    with _spare(target) as spare:
        try:
            os.link(target, spare)
        except OSError:  # a file system without hard links
            spare.write_bytes(target.read_bytes())
        spare.replace(backup_of(target))


@contextlib.contextmanager
def _spare(target: Path) -> Iterator[Path]:
    """A name beside the target that nothing has yet; what is left under it is removed."""
    spare = target.with_name(f".schemeforge-{secrets.token_hex(8)}.tmp")
    try:
        yield spare
    finally:
        spare.unlink(missing_ok=True)


def _flush_folder(folder: Path) -> None:
    """Makes the renaming outlast a power cut, where the system can flush a folder."""
    with contextlib.suppress(OSError, AttributeError):
        handle = os.open(folder, os.O_RDONLY | os.O_DIRECTORY)
        try:
            os.fsync(handle)
        finally:
            os.close(handle)
