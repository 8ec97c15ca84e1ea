"""The shelf on disk, as the window needs it: load at the start, save after every change."""

from collections.abc import Callable

from schemeforge.desk import Places
from schemeforge.errors import SchemeForgeError
from schemeforge.paint import Paint
from schemeforge.shelf.starter import starter_paints
from schemeforge.shelf.store import ShelfStore


def load_shelf(places: Places) -> tuple[tuple[Paint, ...], str]:
    """The painter's paints, the starter shelf the first time; and what went wrong, or ""."""
    try:
        return ShelfStore(places.shelf_file).load_or_begin(starter_paints()), ""
    except SchemeForgeError as error:
        return starter_paints(), error.sentence


def shelf_saver(places: Places) -> Callable[[tuple[Paint, ...]], None]:
    """Saves a whole shelf in one transaction."""
    return lambda paints: ShelfStore(places.shelf_file).save(paints)
