"""The autosave journal: after a crash at most the edit in flight is lost.

Edits are written to a file of this run, newest wins; the file is replaced whole, so that a kill
at any moment leaves the one before. While a hand drags, the thread waits until it rests: the
window needs the time. A journal whose run has ended without closing it is a leftover, offered
for recovery at the next start.
"""

import json
import os
import threading
import time
import uuid
from collections.abc import Callable
from contextlib import suppress
from dataclasses import dataclass
from pathlib import Path
from typing import NamedTuple

from schemeforge.codec import encode
from schemeforge.desk.run_lock import Holder, RunLock, holder_of, is_alive
from schemeforge.errors import SchemeForgeError
from schemeforge.scheme import Project
from schemeforge.scheme.migrations import VERSION
from schemeforge.scheme.project_file import FORMAT, loads

_SUFFIX = ".journal"
_MOST_BYTES = 64 * 1024 * 1024
# An edit that more may follow is written once the hand rests that long, or after that long.
REST_SECONDS = 0.2
MOST_SECONDS = 2.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Leftover:
    """Unsaved work of a run that did not end well.

    Args:
        file: The journal.
        project: The last document in it.
        path: The project's own file, None where it was never saved.
    """

    file: Path
    project: Project
    path: Path | None

    def discard(self) -> None:
        """Remove the journal."""
        _remove(self.file)


class _Waiting(NamedTuple):
    """A document to be written, and the clock's reading when it is due at the latest."""

    project: Project
    path: Path | None
    due: float
    latest: float


class Journal:
    """Writes the documents of this run on a thread of its own.

    Args:
        folder: Where journals are kept; created when the first edit is written.
        on_problem: Told once, on the journal's thread, when writing begins to fail.
    """

    def __init__(
        self, folder: Path, on_problem: Callable[[str], None] = lambda _sentence: None
    ) -> None:
        self._folder = folder
        self._file = folder / f"{os.getpid()}-{uuid.uuid4().hex[:8]}{_SUFFIX}"
        self._on_problem = on_problem
        self._wake = threading.Condition()
        self._waiting: _Waiting | None = None
        self._busy = False
        self._ended = False
        self._thread: threading.Thread | None = None
        self._lock: RunLock | None = None
        self.problem = ""

    @property
    def file(self) -> Path:
        """The journal of this run."""
        return self._file

    def record(self, project: Project, path: Path | None, *, settled: bool = True) -> None:
        """Have that document written: at once, or where more will follow when the hand rests."""
        now = time.monotonic()
        with self._wake:
            is_first = self._waiting is None
            latest = now + MOST_SECONDS if self._waiting is None else self._waiting.latest
            due = now if settled else min(now + REST_SECONDS, latest)
            self._waiting = _Waiting(project, path, due, latest)
            if self._thread is None:
                self._thread = threading.Thread(target=self._run, name="journal", daemon=True)
                self._thread.start()
            if settled or is_first:  # else the thread finds the new hour when the old one is up
                self._wake.notify_all()

    def settle(self) -> None:
        """The hand let go: write what waits."""
        with self._wake:
            if self._waiting is not None:
                self._waiting = self._waiting._replace(due=0.0)
                self._wake.notify_all()

    def flush(self, timeout_seconds: float = 10.0) -> bool:
        """Wait until all that was recorded is on disk; False where it cannot be."""
        self.settle()
        with self._wake:
            done = self._wake.wait_for(
                lambda: self._waiting is None and not self._busy, timeout_seconds
            )
            return done and not self.problem

    def clear(self) -> None:
        """The document is safe in its own file: drop the journal."""
        with self._wake:
            self._waiting = None
            self._wake.wait_for(lambda: not self._busy, 10.0)
            with suppress(OSError):
                self._file.unlink(missing_ok=True)

    def close(self) -> None:
        """End the thread; what was recorded is written first, and its lock let go."""
        with self._wake:
            self._ended = True
            self._wake.notify_all()
        if self._thread is not None:
            self._thread.join()
            self._thread = None
        if self._lock is not None:
            self._lock.release()
            self._lock = None
            if not self._file.exists():
                _remove(self._file)

    def _run(self) -> None:
        while (waiting := self._next()) is not None:
            problem = self._write(waiting.project, waiting.path)
            with self._wake:
                is_new = bool(problem) and not self.problem
                self.problem = problem
                self._busy = False
                self._wake.notify_all()
            if is_new:
                self._on_problem(problem)

    def _next(self) -> _Waiting | None:
        """Waits for a document that is due; None at the end."""
        with self._wake:
            while True:
                waiting, now = self._waiting, time.monotonic()
                if waiting is not None and (self._ended or waiting.due <= now):
                    self._waiting, self._busy = None, True
                    return waiting
                if self._ended:
                    return None
                self._wake.wait(None if waiting is None else waiting.due - now)

    def _write(self, project: Project, path: Path | None) -> str:
        """Replaces the journal; gives what hindered it, or ""."""
        try:
            self._folder.mkdir(parents=True, exist_ok=True)
            if self._lock is None:
                self._lock = RunLock(self._file.with_suffix(".lock"))
            fresh = self._file.with_suffix(".new")
            with fresh.open("w", encoding="utf-8") as stream:
                stream.write(_text(project, path))
                stream.flush()
                os.fsync(stream.fileno())
            fresh.replace(self._file)
        except (OSError, ValueError, MemoryError) as error:
            why = error.strerror if isinstance(error, OSError) else None
            return (
                f"Edits cannot be kept against a crash ({why or error}); "
                "save the project now and then."
            )
        return ""


def _text(project: Project, path: Path | None) -> str:
    """A journal's content: on one line, which is several times faster than a project file's."""
    content = {"format": FORMAT, "version": VERSION, "project": encode(project)}
    body = {"path": None if path is None else str(path), "content": content}
    return json.dumps(body, ensure_ascii=False, allow_nan=False)


def leftovers(folder: Path) -> tuple[Leftover, ...]:
    """Journals of runs that ended without closing them, newest first; unreadable ones skipped.

    Crumbs of runs that left no work behind are swept up.
    """
    found: list[tuple[float, Leftover]] = []
    with suppress(OSError):
        for lock in tuple(folder.glob("*.lock")):
            if not lock.with_suffix(_SUFFIX).exists() and holder_of(lock) is Holder.NOBODY:
                _remove(lock)
        for file in tuple(folder.glob(f"*{_SUFFIX}")):
            if not _is_running(file):
                found += _read(file)
    return tuple(left for _, left in sorted(found, key=lambda pair: -pair[0]))


def _read(file: Path) -> list[tuple[float, Leftover]]:
    """The journal with its time, or nothing where it cannot be read."""
    try:
        status = file.stat()
        if status.st_size > _MOST_BYTES:
            return []
        body = json.loads(file.read_text(encoding="utf-8"))
        path = body["path"]
        left = Leftover(
            file=file,
            project=loads(json.dumps(body["content"])),
            path=None if path is None else Path(path),
        )
    except (OSError, ValueError, KeyError, TypeError, RecursionError, SchemeForgeError):
        return []
    return [(status.st_mtime, left)]


def _remove(file: Path) -> None:
    with suppress(OSError):
        for suffix in (_SUFFIX, ".new", ".lock"):
            file.with_suffix(suffix).unlink(missing_ok=True)


def _is_running(file: Path) -> bool:
    """True where the run that wrote the journal still goes on."""
    holder = holder_of(file.with_suffix(".lock"))
    if holder is not Holder.UNKNOWN:
        return holder is Holder.SOMEBODY
    head = file.name.split("-")[0]
    return head.isdecimal() and is_alive(int(head))
