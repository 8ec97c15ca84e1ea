"""Results kept by the identity of what they were made from.

Documents are frozen, and an edit shares all parts that it does not touch with the document
before, so that identity is as good a key as equality and needs no hashing of spectra.
"""

from collections.abc import Callable, Hashable
from threading import Lock
from typing import Any, Generic, TypeVar

T = TypeVar("T")


class Kept(Generic[T]):
    """Up to so many results, the oldest dropped first; safe to ask from several threads."""

    def __init__(self, most: int) -> None:
        self._most = most
        # The sources are held with the result: an id stays theirs for as long.
        self._held: dict[tuple[Hashable, ...], tuple[tuple[Any, ...], T]] = {}
        self._lock = Lock()

    def __len__(self) -> int:
        return len(self._held)

    def find(self, sources: tuple[Any, ...], plain: tuple[Hashable, ...]) -> T | None:
        """The result for these very objects and equal plain values, None where there is none."""
        found = self._held.get((*map(id, sources), *plain))
        return None if found is None else found[1]

    def keep(self, sources: tuple[Any, ...], plain: tuple[Hashable, ...], value: T) -> T:
        """Keeps the result, and gives it back."""
        with self._lock:
            while len(self._held) >= self._most:
                del self._held[next(iter(self._held))]
            self._held[(*map(id, sources), *plain)] = (sources, value)
        return value

    def get(
        self, sources: tuple[Any, ...], plain: tuple[Hashable, ...], make: Callable[[], T]
    ) -> T:
        """The result that is kept, or a new one that is from now on."""
        found = self.find(sources, plain)
        return self.keep(sources, plain, make()) if found is None else found
