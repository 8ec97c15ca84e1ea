"""Errors that nobody expected: said in a sentence, written to a log, and the work kept."""

import sys
import threading
import traceback
from collections.abc import Callable
from datetime import datetime
from pathlib import Path
from types import TracebackType

from PySide6.QtCore import QCoreApplication

from schemeforge import __version__
from schemeforge.errors import SchemeForgeError

_MOST_BYTES = 500_000


def catch_trouble(say: Callable[[str], None], log: Path) -> Callable[[], None]:
    """From now on every uncaught exception ends in ``say``; gives what puts things back.

    Args:
        say: Takes one sentence; may be called on any thread.
        log: A file that tells the details of what was not meant for the user.
    """
    before, before_threads = sys.excepthook, threading.excepthook

    def hook(kind: type[BaseException], error: BaseException, trace: TracebackType | None) -> None:
        if isinstance(error, KeyboardInterrupt | SystemExit):
            before(kind, error, trace)
        elif isinstance(error, SchemeForgeError):
            say(error.sentence)
        else:
            say(_sentence(kind, error, trace, log))

    def thread_hook(found: threading.ExceptHookArgs) -> None:
        if found.exc_value is not None:
            hook(found.exc_type, found.exc_value, found.exc_traceback)

    def restore() -> None:
        sys.excepthook, threading.excepthook = before, before_threads

    sys.excepthook, threading.excepthook = hook, thread_hook
    return restore


def _sentence(
    kind: type[BaseException], error: BaseException, trace: TracebackType | None, log: Path
) -> str:
    written = _write(log, "".join(traceback.format_exception(kind, error, trace)))
    if written:
        text = QCoreApplication.translate(
            "Trouble",
            "Something unexpected happened ({0}); your work is kept, and the details are in {1}.",
        )
        return text.format(kind.__name__, log)
    text = QCoreApplication.translate(
        "Trouble", "Something unexpected happened ({0}); your work is kept. Save it now."
    )
    return text.format(kind.__name__)


def _write(log: Path, details: str) -> bool:
    head = f"\n{datetime.now().astimezone().isoformat(timespec='seconds')}  {__version__}\n"
    try:
        log.parent.mkdir(parents=True, exist_ok=True)
        start = "w" if log.exists() and log.stat().st_size > _MOST_BYTES else "a"
        with log.open(start, encoding="utf-8", errors="backslashreplace") as stream:
            stream.write(head + details)
    except OSError:
        return False
    return True
