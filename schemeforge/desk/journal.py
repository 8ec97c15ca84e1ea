"""The autosave journal: after a crash at most the edit in flight is lost.

Every edit is written to a file of this run, beside the window, newest wins; a file is replaced
whole, so that a kill at any moment leaves the one before. A journal whose run has ended without
closing it is a leftover, offered for recovery at the next start.
"""

import json
import os
import threading
import uuid
from contextlib import suppress
from dataclasses import dataclass
from pathlib import Path

from schemeforge.errors import SchemeForgeError
from schemeforge.scheme import Project
from schemeforge.scheme.project_file import dumps, loads

_SUFFIX = ".journal"
_MOST_BYTES = 64 * 1024 * 1024


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
        with suppress(OSError):
            self.file.unlink()


class Journal:
    """Writes the documents of this run on a thread of its own.

    Args:
        folder: Where journals are kept; created when the first edit is written.
    """

    def __init__(self, folder: Path) -> None:
        self._folder = folder
        self._file = folder / f"{os.getpid()}-{uuid.uuid4().hex[:8]}{_SUFFIX}"
        self._wake = threading.Condition()
        self._waiting: tuple[Project, Path | None] | None = None
        self._busy = False
        self._ended = False
        self._thread: threading.Thread | None = None
        self.problem = ""

    @property
    def file(self) -> Path:
        """The journal of this run."""
        return self._file

    def record(self, project: Project, path: Path | None) -> None:
        """Have that document written soon; returns at once."""
        with self._wake:
            self._waiting = (project, path)
            if self._thread is None:
                self._thread = threading.Thread(target=self._run, name="journal", daemon=True)
                self._thread.start()
            self._wake.notify_all()

    def flush(self, timeout_seconds: float = 10.0) -> bool:
        """Wait until all that was recorded is on disk; False where time ran out."""
        with self._wake:
            return self._wake.wait_for(
                lambda: self._waiting is None and not self._busy, timeout_seconds
            )

    def clear(self) -> None:
        """The document is safe in its own file: drop the journal."""
        with self._wake:
            self._waiting = None
            self._wake.wait_for(lambda: not self._busy, 10.0)
            with suppress(OSError):
                self._file.unlink()

    def close(self) -> None:
        """End the thread; what was recorded is written first."""
        with self._wake:
            self._ended = True
            self._wake.notify_all()
        if self._thread is not None:
            self._thread.join()
            self._thread = None

    def _run(self) -> None:
        while True:
            with self._wake:
                self._wake.wait_for(lambda: self._waiting is not None or self._ended)
                if self._waiting is None:
                    return
                project, path = self._waiting
                self._waiting = None
                self._busy = True
            try:
                self._write(project, path)
                self.problem = ""
            except OSError as error:
                self.problem = f"The autosave journal cannot be written: {error.strerror}."
            finally:
                with self._wake:
                    self._busy = False
                    self._wake.notify_all()

    def _write(self, project: Project, path: Path | None) -> None:
        self._folder.mkdir(parents=True, exist_ok=True)
        body = {"path": None if path is None else str(path), "project": dumps(project)}
        fresh = self._file.with_suffix(".new")
        with fresh.open("w", encoding="utf-8") as stream:
            json.dump(body, stream)
            stream.flush()
            os.fsync(stream.fileno())
        fresh.replace(self._file)


def leftovers(folder: Path) -> tuple[Leftover, ...]:
    """Journals of runs that ended without closing them, newest first; unreadable ones skipped."""
    if not folder.is_dir():
        return ()
    found: list[tuple[float, Leftover]] = []
    for file in folder.glob(f"*{_SUFFIX}"):
        if _is_running(file):
            continue
        left = _read(file)
        if left is not None:
            found.append((file.stat().st_mtime, left))
    return tuple(left for _, left in sorted(found, key=lambda pair: -pair[0]))


def _read(file: Path) -> Leftover | None:
    try:
        if file.stat().st_size > _MOST_BYTES:
            return None
        body = json.loads(file.read_text(encoding="utf-8"))
        path = body["path"]
        project = loads(body["project"])
        return Leftover(file=file, project=project, path=None if path is None else Path(path))
    except (OSError, ValueError, KeyError, TypeError, RecursionError, SchemeForgeError):
        return None


def _is_running(file: Path) -> bool:
    """True where the process that wrote the journal still runs."""
    head = file.name.split("-")[0]
    if not head.isdecimal():
        return False
    if int(head) == os.getpid():
        return True
    try:
        os.kill(int(head), 0)
    except ProcessLookupError:
        return False
    except OSError:
        return True
    return True
