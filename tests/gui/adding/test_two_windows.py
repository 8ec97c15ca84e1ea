"""The shelf with two windows open: what each adds stays, and undo takes back its own only."""

from pathlib import Path

from pytestqt.qtbot import QtBot

from schemeforge.desk import Page, Places
from schemeforge.gui.adding.colours_view import OneColour
from schemeforge.gui.adding.ways import Way
from schemeforge.gui.bridge import Bridge
from schemeforge.gui.paints.page import PaintsPage
from schemeforge.shelf import ShelfStore, export_paints, import_paints
from tests.builders import small_paints
from tests.gui.adding.driving import fitted, shelf, type_colour
from tests.gui.opening import opened
from tests.gui.small_bridge import small_bridge


def add(qtbot: QtBot, bridge: Bridge, name: str, code: str) -> None:
    """A paint of one colour, through the window of that bridge."""
    page = opened(qtbot, bridge).page(Page.PAINTS)
    assert isinstance(page, PaintsPage)
    way = page.adding.view.open(Way.ONE_COLOUR)
    assert isinstance(way, OneColour)
    type_colour(way.colour, code)
    fitted(qtbot, way.review)
    way.review.name.setText("")
    qtbot.keyClicks(way.review.name, name)
    way.review.take()


def test_what_two_windows_add_is_on_the_shelf_and_undo_takes_back_its_own(
    qtbot: QtBot, bridge: Bridge, places: Places
) -> None:
    store = ShelfStore(places.shelf_file)
    with small_bridge(places, Page.PAINTS) as other:
        add(qtbot, bridge, "Reed", "#7f4a21")
        add(qtbot, other, "Mire", "#214a7f")
        names = [paint.name for paint in store.load()]
        assert names[:5] == [paint.name for paint in small_paints()]
        assert set(names[5:]) == {"Reed", "Mire"}
        bridge.session.undo()
        assert {paint.name for paint in store.load()[5:]} == {"Mire"}
        assert shelf(other)[-1].name == "Mire"


def test_a_paint_of_ones_own_goes_out_and_comes_in_whole(
    qtbot: QtBot, bridge: Bridge, tmp_path: Path
) -> None:
    """Basis, uncertainty and flags too, as JSON and as a table."""
    add(qtbot, bridge, "Reed", "#7f4a21")
    for name in ("paints.json", "paints.csv"):
        export_paints(shelf(bridge), tmp_path / name)
        assert import_paints(tmp_path / name) == shelf(bridge)
