"""Arguments of the command line: errors as one sentence, near misses suggested."""

import argparse
import re
from collections.abc import Callable, Iterable, Sequence
from typing import NoReturn, Protocol, TypeVar

from schemeforge.errors import InputError, UnknownNameError, nearest, shown

_OF_ARGUMENT = re.compile(r"argument (?P<name>[^:]+): (?P<what>.*)", re.DOTALL)


class Command(Protocol):
    """What a module that holds one command offers."""

    SUMMARY: str
    DESCRIPTION: str

    def add_arguments(self, parser: "Parser") -> None:
        """Declares the command's arguments."""

    def run(self, arguments: argparse.Namespace) -> int:
        """Does the work and gives the exit code."""


class Parser(argparse.ArgumentParser):
    """An argument parser that raises InputError instead of printing usage and leaving."""

    def __init__(self, *, prog: str, description: str, usage: str = "", epilog: str = "") -> None:
        super().__init__(
            prog=prog,
            usage=usage or None,
            description=description,
            epilog=epilog,
            allow_abbrev=False,  # what is short today may be ambiguous tomorrow
            formatter_class=argparse.RawDescriptionHelpFormatter,
        )

    def parse(self, words: Sequence[str]) -> argparse.Namespace:
        """The arguments; raises InputError for words that mean nothing here."""
        known, rest = self.parse_known_args(list(words))
        if rest:
            raise self._unknown(rest[0])
        return known

    def error(self, message: str) -> NoReturn:
        """Raises InputError with argparse's message as a sentence of ours."""
        found = _OF_ARGUMENT.fullmatch(message)
        what = found["what"] if found else message
        where = found["name"] if found else ""
        raise InputError(
            shown(what[:1].upper() + what[1:]), where=where, remedy=f'see "{self.prog} --help"'
        )

    def _unknown(self, word: str) -> InputError:
        option = word.split("=", 1)[0]
        options = [text for action in self._actions for text in action.option_strings]
        if not option.startswith("-"):
            return InputError(
                f'"{shown(word)}" is one word too many',
                remedy=f'put names with spaces in quotes, and see "{self.prog} --help"',
            )
        close = nearest(option, options)
        remedy = f'did you mean "{close}"' if close else f'see "{self.prog} --help"'
        return InputError(f'There is no option "{shown(option)}"', remedy=remedy)


def number_in(option: str, low: float, high: float) -> Callable[[str], float]:
    """A reader of one number from ``low`` to ``high``; NaN and words raise InputError.

    A comma is the decimal sign as a point is: nothing else can be meant by it in one number.
    """

    def read(text: str) -> float:
        try:
            value = float(text.replace(",", "."))
        except ValueError:
            value = float("nan")
        if not low <= value <= high:
            raise _out_of_range(option, text, f"a number from {low:g} to {high:g}")
        return value

    return read


def whole_in(option: str, low: int, high: int) -> Callable[[str], int]:
    """A reader of whole numbers from ``low`` to ``high``."""

    def read(text: str) -> int:
        # Longer texts are out of range, and very long ones would be slow to read.
        value = int(text) if len(text) <= len(str(high)) and text.isdecimal() else low - 1
        if not low <= value <= high:
            raise _out_of_range(option, text, f"a whole number from {low} to {high}")
        return value

    return read


def one_of(option: str, kind: str, known: Iterable[str]) -> Callable[[str], str]:
    """A reader of one of the names, whatever its case."""
    by_fold = {name.casefold(): name for name in known}

    def read(text: str) -> str:
        try:
            return by_fold[text.casefold()]
        except KeyError:
            raise UnknownNameError(kind, text, by_fold.values(), where=option) from None

    return read


class Named(Protocol):
    """Anything with an id and a name in words."""

    @property
    def id(self) -> str:
        """Its stable id."""

    @property
    def name(self) -> str:
        """Its name in words."""


T = TypeVar("T", bound=Named)


def pick(items: Sequence[T], wanted: str, kind: str, option: str) -> T:
    """The item of that id or, whatever its case, of that name.

    Raises:
        UnknownNameError: where there is none.
        InputError: where several have that name.
    """
    for item in items:
        if item.id == wanted:
            return item
    alike = [item for item in items if item.name.casefold() == wanted.casefold()]
    if not alike:
        raise UnknownNameError(kind, wanted, [item.name for item in items], where=option)
    if len(alike) > 1:
        raise InputError(
            f'Several have the name "{shown(wanted)}"',
            where=option,
            remedy=f"give an id: {', '.join(item.id for item in alike)}",
        )
    return alike[0]


def _out_of_range(option: str, text: str, wanted: str) -> InputError:
    return InputError(f'"{shown(text)}" is out of range', where=option, remedy=f"give {wanted}")
