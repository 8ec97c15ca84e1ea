"""Cards before and after, to which a hand that slipped goes back. No Qt."""

from dataclasses import replace
from typing import Final

from schemeforge.gui.adding.card import Card

TOGETHER_S: Final = 1.0  # changes of one thing that follow each other so soon are one step
_MOST: Final = 500

Thing = tuple[str, int]


class CardHistory:
    """Every card of a picture, and where among them the hand stands.

    Dragging a mark or typing its name makes many cards; they are one step while they follow each
    other at once.
    """

    def __init__(self) -> None:
        self._before: list[Card] = []
        self._after: list[Card] = []
        self._thing: Thing | None = None
        self._at_s = 0.0

    @property
    def can_go_back(self) -> bool:
        """Whether a card came before."""
        return bool(self._before)

    @property
    def can_go_on(self) -> bool:
        """Whether a card was gone back from."""
        return bool(self._after)

    def record(self, old: Card, new: Card, at_s: float) -> None:
        """A change, at a time in seconds that only grows."""
        thing = changed_thing(old, new)
        together = thing is not None and thing == self._thing and at_s - self._at_s <= TOGETHER_S
        if not (together and self._before):
            self._before = [*self._before[-_MOST + 1 :], old]
        self._after.clear()
        self._thing, self._at_s = thing, at_s

    def back(self, now: Card) -> Card | None:
        """The card before, None at the beginning."""
        return self._step(self._before, self._after, now)

    def on(self, now: Card) -> Card | None:
        """The card that was gone back from, None at the end."""
        return self._step(self._after, self._before, now)

    def _step(self, source: list[Card], target: list[Card], now: Card) -> Card | None:
        self._thing = None
        if not source:
            return None
        target.append(now)
        return source.pop()


def changed_thing(old: Card, new: Card) -> Thing | None:
    """What alone differs: a mark's area or its rest, a paint, film, line; None for more."""
    if [mark.id for mark in old.marks] != [mark.id for mark in new.marks]:
        return None
    if replace(old, marks=new.marks) == new:
        pairs = [(a, b) for a, b in zip(old.marks, new.marks, strict=True) if a != b]
        if len(pairs) != 1:
            return None
        a, b = pairs[0]
        return ("area" if replace(a, area=b.area) == b else "mark", a.id)
    if replace(old, film_um=new.film_um) == new:
        return ("film", 0)
    if replace(old, line=new.line) == new:
        return ("line", 0) if old.line is not None and new.line is not None else None
    if replace(old, paints=new.paints) == new and len(old.paints) == len(new.paints):
        ids = [a.id for a, b in zip(old.paints, new.paints, strict=True) if a != b]
        return ("paint", ids[0]) if len(ids) == 1 else None
    return None
