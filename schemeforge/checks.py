"""Small validators that documents share: each returns the value or raises one clear sentence."""

import re
from collections.abc import Iterable

from schemeforge.errors import InputError, shown

LONGEST_NAME = 120
LONGEST_NOTE = 4000
LONGEST_ID = 64
_ID = re.compile(r"[A-Za-z0-9][A-Za-z0-9_.-]*")
# Control characters, direction overrides, line separators that are no newline, and lone
# surrogates, which no file can hold.
_CONTROL = re.compile(r"[\x00-\x08\x0b-\x1f\x7f-\x9f\u2028-\u202e\u2066-\u2069\ud800-\udfff]")


def number(value: object, what: str, *, low: float, high: float, unit: str = "") -> float:
    """The value as a float in ``[low, high]``; raises InputError for NaN or out of range."""
    if isinstance(value, bool) or not isinstance(value, int | float):
        raise InputError(f"{what} must be a number", remedy=f"give {low:g} to {high:g}{_of(unit)}")
    if not low <= value <= high:  # NaN too: it compares false with everything
        raise InputError(
            f"{what} is {_figure(value)}, outside {low:g} to {high:g}{_of(unit)}",
            remedy=f"give a value from {low:g} to {high:g}",
        )
    return float(value)


def whole(value: object, what: str, *, low: int, high: int) -> int:
    """The value as an int in ``[low, high]``; raises InputError otherwise."""
    if isinstance(value, bool) or not isinstance(value, int):
        raise InputError(f"{what} must be a whole number", remedy=f"give {low} to {high}")
    if not low <= value <= high:
        raise InputError(
            f"{what} is {_figure(value)}, outside {low} to {high}",
            remedy=f"give a whole number from {low} to {high}",
        )
    return value


def name(value: object, what: str) -> str:
    """A non-empty single line of at most 120 characters without control characters."""
    if not isinstance(value, str) or not value.strip():
        raise InputError(f"{what} has no name", remedy="give it one")
    return _text(value, what, LONGEST_NAME, lines=False)


def note(value: object, what: str) -> str:
    """Free text of at most 4000 characters without control characters."""
    if not isinstance(value, str):
        raise InputError(f"{what} must be text")
    return _text(value, what, LONGEST_NOTE, lines=True)


def identifier(value: object, what: str) -> str:
    """A stable id: letters, digits, ``_ . -``, at most 64 characters."""
    if not isinstance(value, str) or len(value) > LONGEST_ID or not _ID.fullmatch(value):
        raise InputError(
            f"{what} has an id that is not usable",
            remedy="use letters, digits, dots, hyphens and underscores, 64 at most",
        )
    return value


def unique(values: Iterable[str], what: str) -> None:
    """Raises InputError naming the first value that stands twice."""
    seen: set[str] = set()
    for value in values:
        if value in seen:
            raise InputError(f'{what} "{shown(value)}" stands twice', remedy="give each its own id")
        seen.add(value)


def _text(value: str, what: str, longest: int, *, lines: bool) -> str:
    if len(value) > longest:
        raise InputError(
            f"{what} is {len(value)} characters long", remedy=f"keep it to {longest} characters"
        )
    if _CONTROL.search(value) or (not lines and ("\n" in value or "\t" in value)):
        raise InputError(f"{what} contains control characters", remedy="remove them")
    return value


def _figure(value: float) -> str:
    """The number for a sentence; whole numbers may be too long to spell out, or for a float."""
    if isinstance(value, int):
        return str(value) if abs(value) < 10**15 else "far too large"
    return f"{value:g}"


def _of(unit: str) -> str:
    return f" {unit}" if unit else ""
