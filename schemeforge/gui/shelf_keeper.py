"""The shelf on disk, as the window needs it: load at the start, save after every change."""

from schemeforge.desk import Places
from schemeforge.errors import SchemeForgeError
from schemeforge.paint import Paint
from schemeforge.shelf.starter import starter_paints
from schemeforge.shelf.store import ShelfStore


def open_shelf(places: Places) -> tuple[tuple[Paint, ...], ShelfStore, str]:
    """The painter's paints, the starter shelf the first time; their store; what went wrong.

    One store loads and saves, so that it knows what changed in this window. A shelf that cannot
    be read is never written over: saving then raises the same error.
    """
    store = ShelfStore(places.shelf_file)
    try:
        return store.load_or_begin(starter_paints()), store, ""
    except SchemeForgeError as error:
        return starter_paints(), store, error.sentence
