"""The clock's journal: every press is on disk before it counts, and the clock goes on from there.

One line a press: a checksum, then the press as JSON. Lines are only ever added. A line that was
being written when the power went, or that was damaged later, does not match its checksum and is
left out; what stands before and behind it counts.
"""

import json
import os
import secrets
import time
import zlib
from collections.abc import Callable
from contextlib import suppress
from pathlib import Path
from typing import Any

from schemeforge.codec import decode, encode
from schemeforge.errors import FileError, SchemeForgeError
from schemeforge.plan.clock import (
    IDLE,
    ClockState,
    Event,
    Moment,
    Press,
    Target,
    check,
    pressed,
)
from schemeforge.whole_file import reason

MOST_BYTES = 32 * 1024 * 1024
_RUN = secrets.token_hex(8)
_HEADER = "clock"


def this_moment() -> Moment:
    """Now, in this run of the program."""
    return Moment(wall=time.time(), monotonic=time.monotonic(), run=_RUN)


class ClockFile:
    """The clock of one project, kept in a file.

    Opening one that was left running notes the gap, so that the state asks about it.

    Args:
        path: The journal; made at the first press, in a folder that exists by then.
        now: Where moments come from.

    Attributes:
        state: What all presses so far amount to.
        damaged: How many lines could not be read.

    Raises:
        FileError: Where the journal cannot be read, or written to note a gap.
    """

    def __init__(self, path: Path, now: Callable[[], Moment] = this_moment) -> None:
        self._path = path
        self._now = now
        self._id = ""
        self.state: ClockState = IDLE
        self.damaged = 0
        self._read()
        if self.state.running:
            self.press(Press.BEAT)

    @property
    def clock_id(self) -> str:
        """What tells this journal's stints from those of others; "" before the first press."""
        return self._id

    @property
    def trouble(self) -> str:
        """What could not be read, in a sentence; "" for nothing."""
        if not self.damaged:
            return ""
        if self.damaged == 1:
            return "One press of the clock could not be read and is left out."
        return f"{self.damaged} presses of the clock could not be read and are left out."

    def press(self, press: Press, target: Target | None = None, models: int = 0) -> ClockState:
        """Writes the press to disk, then gives the new state.

        Raises:
            InputError: Where the press means nothing now.
            FileError: Where it cannot be written; the state is then as before.
        """
        event = Event(press=press, at=self._now(), target=target, models=models)
        check(self.state, event)
        self._write(event)
        self.state = pressed(self.state, event)
        return self.state

    def start_anew(self) -> None:
        """Puts the journal aside as ``NAME.old``, once its stints are safe in the project.

        Raises:
            FileError: Where something is in hand, or the file cannot be renamed.
        """
        if not self.state.is_idle:
            raise FileError("The clock is in use", where=str(self._path), remedy="stop it first")
        try:
            if self._path.exists():
                self._path.replace(self._path.with_name(self._path.name + ".old"))
        except OSError as error:
            raise self._failed("put aside", error) from None
        self._id, self.state, self.damaged = "", IDLE, 0

    def _read(self) -> None:
        try:
            if not self._path.exists():
                return
            if self._path.stat().st_size > MOST_BYTES:
                raise FileError(
                    "The clock's journal is too large to be one",
                    where=str(self._path),
                    remedy="move it away",
                )
            data = self._path.read_bytes()
        except OSError as error:
            raise self._failed("read", error) from None
        for line in data.split(b"\n"):
            if line:
                self._take(line)

    def _take(self, line: bytes) -> None:
        try:
            plain = _plain(line)
            if _HEADER in plain:
                self._id = self._id or str(plain[_HEADER])
            else:
                self.state = pressed(self.state, decode(Event, plain))
        except (ValueError, RecursionError, SchemeForgeError):
            self.damaged += 1

    def _write(self, event: Event) -> None:
        size = -1
        try:
            with self._path.open("ab") as file:
                size = file.tell()
                lines = _line(encode(event))
                new_id = self._id
                if not new_id:
                    new_id = f"clock-{secrets.token_hex(6)}"
                    lines = _line({_HEADER: new_id}) + lines
                if size and not self._ends_in_line():
                    lines = b"\n" + lines
                file.write(lines)
                file.flush()
                os.fsync(file.fileno())
            if not size:
                self._flush_folder()
        except OSError as error:
            if size >= 0:
                with suppress(OSError):
                    os.truncate(self._path, size)
            raise self._failed("written", error) from None
        self._id = new_id

    def _ends_in_line(self) -> bool:
        with self._path.open("rb") as file:
            file.seek(-1, os.SEEK_END)
            return file.read(1) == b"\n"

    def _flush_folder(self) -> None:
        """Makes the new file's name outlast a power cut, where the system can flush a folder."""
        with suppress(OSError, AttributeError):
            handle = os.open(self._path.parent, os.O_RDONLY | os.O_DIRECTORY)
            try:
                os.fsync(handle)
            finally:
                os.close(handle)

    def _failed(self, what: str, error: OSError) -> FileError:
        return FileError(
            f"The clock's journal cannot be {what} ({reason(error)})",
            where=str(self._path),
            remedy="make room, or check its folder",
        )


def _line(plain: dict[str, Any]) -> bytes:
    text = json.dumps(plain, ensure_ascii=True, allow_nan=False, separators=(",", ":")).encode()
    return f"{zlib.crc32(text):08x} ".encode() + text + b"\n"


def _plain(line: bytes) -> dict[str, Any]:
    """What the line holds; raises ValueError where it is not what was written."""
    checksum, _, text = line.partition(b" ")
    if int(checksum, 16) != zlib.crc32(text):
        raise ValueError(line)
    plain: dict[str, Any] = json.loads(text)
    return plain
