"""What a menu of recipes offers, and the place on a zone that it is offered for."""

from collections.abc import Callable
from typing import TYPE_CHECKING, NamedTuple

from schemeforge.desk import Direction

if TYPE_CHECKING:
    from schemeforge.gui.recipes.asked import Asked


class Choice(NamedTuple):
    """A line of the menu and what it asks the bench, or does."""

    label: str
    asked: "Asked | Callable[[], object]"


class ZonePlace(NamedTuple):
    """A place of a zone that a colour was read at; see `schemeforge.gui.recipes.sources`."""

    scheme_id: str
    zone_id: str
    after: str | None = None
    at: float | None = None
    direction: Direction = Direction.RELIEF
    across: float = 0.5
