"""The small project on a bridge, with its paints on a shelf that is kept on disk."""

from collections.abc import Iterator
from contextlib import contextmanager

from schemeforge.desk import Page, Places, Session
from schemeforge.gui.bridge import Bridge
from schemeforge.shelf import ShelfStore
from tests.builders import small_paints, small_project


@contextmanager
def small_bridge(places: Places, page: Page) -> Iterator[Bridge]:
    """Open session and bridge on a page, close both at the end."""
    store = ShelfStore(places.shelf_file)
    shelf = store.load_or_begin(small_paints())
    session = Session(
        small_project(), places=places, shelf=shelf, shelf_saver=store.save, shelf_news=store.news
    )
    session.select(page=page)
    bridge = Bridge(session)
    yield bridge
    bridge.close()
    session.close()
