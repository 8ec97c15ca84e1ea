"""What the command line prints: whole text on standard output, one line a complaint on error."""

import contextlib
import io
import os
import sys
from collections.abc import Iterator

from schemeforge.errors import FileError


def prepare() -> None:
    """Makes both streams able to print any name, whatever the system's encoding."""
    for stream in (sys.stdout, sys.stderr):
        if isinstance(stream, io.TextIOWrapper):
            stream.reconfigure(errors="backslashreplace")


def say(text: str) -> None:
    """Prints the text and a line end; a reader that has gone away is no error.

    Raises:
        FileError: where the text cannot be written, for example to a full disk.
    """
    if sys.stdout is None:  # closed by whoever started the program
        return
    with _tell_failures():
        sys.stdout.write(text + "\n")


def finish() -> None:
    """Flushes what was said; errors as in ``say``."""
    if sys.stdout is not None:
        with _tell_failures():
            sys.stdout.flush()


def complain(sentence: str) -> None:
    """Prints ``schemeforge: sentence`` as one line on standard error."""
    if sys.stderr is None:
        return
    line = "".join(char if char.isprintable() or _is_lone(char) else "�" for char in sentence)
    with contextlib.suppress(OSError):
        sys.stderr.write(f"schemeforge: {line}\n")
        sys.stderr.flush()


def _is_lone(char: str) -> bool:
    """True for a byte of a file name that is no text; the stream spells it out."""
    return "\udc80" <= char <= "\udcff"


@contextlib.contextmanager
def _tell_failures() -> Iterator[None]:
    try:
        yield
    except BrokenPipeError:
        _discard_the_rest()
    except OSError as error:
        _discard_the_rest()
        reason = (error.strerror or str(error)).lower()
        raise FileError(
            f"The output cannot be written ({reason})",
            where="standard output",
            remedy="make room or send it elsewhere",
        ) from None


def _discard_the_rest() -> None:
    """Points standard output at nothing, so that the interpreter's last flush stays quiet."""
    nothing = os.open(os.devnull, os.O_WRONLY)
    try:
        os.dup2(nothing, sys.stdout.fileno())
    except (OSError, ValueError):  # a stream without a descriptor
        sys.stdout = None
    finally:
        os.close(nothing)
