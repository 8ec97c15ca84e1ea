"""The error tree: each error says in one sentence what is wrong, where, and what to do.

    SchemeForgeError
    ├── InputError              a value outside its range, a name that does not exist
    │   ├── UnknownNameError    a light, finish, paint, zone or step that is not there
    │   └── ReadingError        a measured reflectance that no film or surface can give
    ├── FileError               a file that cannot be used
    │   ├── DamagedFileError    not the format it should be, truncated, or out of range
    │   ├── NewerVersionError   written by a later version of the program
    │   └── MissingFileError    not there, or not to be opened
    ├── PaintMissingError       a project names a paint that it does not carry
    └── MissingLibraryError     a system library that the window needs is not installed

Errors reach the user in two places only: the command line (one line on standard error, exit
code 2) and the window's error handler.
"""

from collections.abc import Iterable
from difflib import get_close_matches

_LONGEST_SHOWN = 80


def shown(text: str) -> str:
    """The text as a sentence can quote it: one line, printable, at most 80 characters."""
    short = text if len(text) <= _LONGEST_SHOWN else text[: _LONGEST_SHOWN - 1] + "…"
    return "".join(char if char.isprintable() else "�" for char in short)


def nearest(name: str, known: Iterable[str]) -> str:
    """The known name that looks most like the given one, or "" where none is near."""
    return next(iter(get_close_matches(shown(name), list(known), n=1, cutoff=0.5)), "")


class SchemeForgeError(Exception):
    """Base of all errors meant for the user.

    Args:
        what: What is wrong, starting with a capital, without a full stop.
        where: The file, field, band or object, or "" where the sentence already names it.
        remedy: What the user can do, as an imperative clause, or "".
    """

    def __init__(self, what: str, *, where: str = "", remedy: str = "") -> None:
        self.what = what
        self.where = where
        self.remedy = remedy
        super().__init__(self.sentence)

    @property
    def sentence(self) -> str:
        """The one sentence shown: ``where: what; remedy.`` with empty pieces left out."""
        head = f"{self.where}: {self.what}" if self.where else self.what
        return f"{head}; {self.remedy}." if self.remedy else f"{head}."

    def at(self, where: str) -> "SchemeForgeError":
        """The same error with an outer place put before its own, for example the file."""
        inner = f"{where}: {self.where}" if self.where else where
        return _rebuilt(type(self), self.what, inner, self.remedy)

    def __reduce__(self) -> tuple[object, ...]:
        return _rebuilt, (type(self), self.what, self.where, self.remedy)


def _rebuilt(kind: type[SchemeForgeError], what: str, where: str, remedy: str) -> SchemeForgeError:
    """An error of that kind from its pieces, past constructors that make up the sentence."""
    error = kind.__new__(kind)
    SchemeForgeError.__init__(error, what, where=where, remedy=remedy)
    return error


class InputError(SchemeForgeError):
    """A value outside its range, or of the wrong shape."""


class UnknownNameError(InputError):
    """A name that does not exist; the sentence suggests the nearest that does.

    Args:
        kind: What is named, for example "light".
        name: The name given.
        known: The names that exist, in the order to list them.
        where: As in the base class.
    """

    def __init__(self, kind: str, name: str, known: Iterable[str], *, where: str = "") -> None:
        names = list(known)
        close = nearest(name, names)
        if close:
            remedy = f'did you mean "{close}"'
        elif names:
            more = f" and {len(names) - 12} more" if len(names) > 12 else ""
            remedy = f"choose one of {', '.join(names[:12])}{more}"
        else:
            remedy = "none is defined yet"
        super().__init__(f'There is no {kind} called "{shown(name)}"', where=where, remedy=remedy)


class ReadingError(InputError):
    """A measured reflectance that no film or surface can give; names the band."""


class FileError(SchemeForgeError):
    """A file that cannot be used."""


class DamagedFileError(FileError):
    """A file that is not in the format it should be, is cut short, or is out of range."""


class NewerVersionError(FileError):
    """A file written by a later version of the program."""


class MissingFileError(FileError):
    """A file that is not there or cannot be opened."""


class PaintMissingError(InputError):
    """A project that names a paint it does not carry."""


class MissingLibraryError(SchemeForgeError):
    """A system library that the window needs is not installed."""
