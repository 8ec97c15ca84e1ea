"""A lock that the system holds for a run and lets go when the run ends, however it ends.

A process number says little: another program may carry it by the time of the next start.
"""

import os
import sys
from enum import Enum
from pathlib import Path
from typing import BinaryIO

if sys.platform == "win32":  # pragma: no cover
    import msvcrt

    def _take(stream: BinaryIO, *, wait: bool) -> None:
        msvcrt.locking(stream.fileno(), msvcrt.LK_LOCK if wait else msvcrt.LK_NBLCK, 1)
else:
    import fcntl

    def _take(stream: BinaryIO, *, wait: bool) -> None:
        fcntl.flock(stream.fileno(), fcntl.LOCK_EX | (0 if wait else fcntl.LOCK_NB))


class Holder(Enum):
    """Whether some run holds a lock."""

    NOBODY = "nobody"
    SOMEBODY = "somebody"
    UNKNOWN = "unknown"


class RunLock:
    """Holds the lock of a file, made for the purpose, until ``release`` or the end of the run.

    Raises OSError where the file cannot be made. Where the system knows no locks the file alone
    stands, and ``holder_of`` says UNKNOWN.
    """

    def __init__(self, file: Path) -> None:
        self._stream = _held(file)

    def release(self) -> None:
        """Let go; the file stays."""
        self._stream.close()


def _held(file: Path) -> BinaryIO:
    while True:
        stream = file.open("ab")
        try:
            # Whoever looks holds it only for a moment.
            _take(stream, wait=True)
        except OSError:
            return stream
        if _is_in_place(stream, file):
            return stream
        stream.close()  # swept away by another run between making and locking


def _is_in_place(stream: BinaryIO, file: Path) -> bool:
    try:
        return os.path.samestat(os.fstat(stream.fileno()), file.stat())
    except FileNotFoundError:
        return False


def holder_of(file: Path) -> Holder:
    """Whether a run holds the lock of that file; UNKNOWN where there is no way to tell."""
    try:
        stream = file.open("r+b")
    except OSError:
        return Holder.UNKNOWN
    with stream:
        try:
            _take(stream, wait=False)
        except (BlockingIOError, PermissionError):
            return Holder.SOMEBODY
        except OSError:
            return Holder.UNKNOWN
    return Holder.NOBODY


def is_alive(process: int) -> bool:
    """True where a process of that number runs, be it ours or not."""
    if process == os.getpid():
        return True
    try:
        os.kill(process, 0)
    except ProcessLookupError:
        return False
    except OSError:
        return True
    return True
