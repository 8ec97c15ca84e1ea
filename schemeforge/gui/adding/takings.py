"""What the painter told of each result, until it is on the shelf. No Qt."""

from collections.abc import Iterable, Sequence
from dataclasses import replace

from schemeforge.gui.adding.result import NEW, Result, Taking
from schemeforge.paint import Paint
from schemeforge.scheme import edits


class Takings:
    """A taking for each result of a view; a view's results have the same keys again and again.

    What was told of a result lasts while its colours are changed, and no longer than until it is
    on the shelf: the next paint of the same key is another one.
    """

    def __init__(self) -> None:
        self._by_key: dict[str, Taking] = {}
        self._put: set[str] = set()

    def __getitem__(self, key: str) -> Taking:
        return self._by_key[key]

    def __setitem__(self, key: str, taking: Taking) -> None:
        self._by_key[key] = taking

    def meet(self, results: Sequence[Result], shelf: Iterable[Paint]) -> None:
        """Results as they are now: a taking for each, under a free name unless one was told.

        Of several, those that were put on the shelf before are left out at first.
        """
        taken = [paint.name for paint in shelf]
        several = len(results) > 1
        for result in results:
            taking = self._by_key.get(result.key)
            if taking is None:
                again = several and result.key in self._put
                taking = Taking(name="", kind=result.kind, taken=not again)
            if not taking.is_named:
                taking = replace(taking, name=free_name(result.name, taken))
            self._by_key[result.key] = replace(taking, kind=result.kind)
            taken.append(taking.name)

    def aim(self, result: Result, target: str, shelf: Sequence[Paint]) -> Taking:
        """The taking with another target; what is known of the paint replaced is carried over."""
        taking = self._by_key[result.key]
        old = replaced(target, shelf)
        if old is not None:
            taking = replace(
                taking,
                name=old.name,
                pigment=old.colour_index,
                stock=old.stock,
                in_place_of=old.id,
                is_named=True,
            )
        elif taking.in_place_of != NEW:
            name = free_name(result.name, (paint.name for paint in shelf))
            taking = Taking(name=name, kind=result.kind, taken=taking.taken)
        self._by_key[result.key] = taking
        return taking

    def put(self, results: Iterable[Result]) -> None:
        """These are on the shelf: forget what was told of them."""
        for result in results:
            self._by_key.pop(result.key, None)
            self._put.add(result.key)

    def clear(self) -> None:
        """Other paints altogether."""
        self._by_key.clear()
        self._put.clear()

    def is_twin(self, result: Result, shelf: Iterable[Paint]) -> bool:
        """Whether another paint of the shelf has its name."""
        taking = self._by_key[result.key]
        return any(
            _same(paint.name, taking.name) for paint in shelf if paint.id != taking.in_place_of
        )


def replaced(target: str, shelf: Iterable[Paint]) -> Paint | None:
    """The shelf's paint that a result takes the place of, None for a new paint."""
    return next((paint for paint in shelf if paint.id == target), None)


def free_name(name: str, taken: Iterable[str]) -> str:
    """The name, with a number behind it where one is taken that differs in no letter."""
    long = len(name)
    alike = [name + other[long:] if _same(other[:long], name) else other for other in taken]
    return edits.fresh_name(name, alike)


def _same(one: str, other: str) -> bool:
    return one.strip().casefold() == other.strip().casefold()
