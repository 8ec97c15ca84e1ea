"""Finding things by id."""

from collections.abc import Iterable
from typing import Protocol, TypeVar

from schemeforge.errors import UnknownNameError


class HasId(Protocol):
    """Anything with a stable id."""

    @property
    def id(self) -> str:
        """Its id."""


T = TypeVar("T", bound=HasId)


def find(items: Iterable[T], wanted: str, kind: str, where: str = "") -> T:
    """The item of that id; raises UnknownNameError naming the kind and suggesting the nearest."""
    names = []
    for item in items:
        if item.id == wanted:
            return item
        names.append(item.id)
    raise UnknownNameError(kind, wanted, names, where=where)


def require(ids: Iterable[str], known: Iterable[str], kind: str, where: str) -> None:
    """Raises UnknownNameError for the first id that is not known."""
    names = list(known)
    there = set(names)
    for item in ids:
        if item not in there:
            raise UnknownNameError(kind, item, names, where=where)
