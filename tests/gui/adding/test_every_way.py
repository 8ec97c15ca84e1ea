"""Every way by keyboard and by screen reader, and in words two fifths longer: nothing is cut."""

from collections.abc import Callable
from pathlib import Path

import pytest
from PySide6.QtWidgets import QAbstractItemView
from pytestqt.qtbot import QtBot

from schemeforge.calibration import BLACK, WHITE
from schemeforge.desk import Page
from schemeforge.gui.adding.model_view import ModelView
from schemeforge.gui.adding.photo_view import PhotoView
from schemeforge.gui.adding.readings_view import ReadingsView
from schemeforge.gui.adding.view import AddingView
from schemeforge.gui.adding.ways import Way
from schemeforge.gui.bridge import Bridge
from schemeforge.gui.keys import told_keys
from schemeforge.gui.main_window import MainWindow
from schemeforge.gui.paints.page import PaintsPage
from schemeforge.scheme import edits
from tests.builders import judged_model, small_project
from tests.calibration.swatches import red
from tests.gui.adding import painted_card, painted_model
from tests.gui.adding.test_colours import code
from tests.gui.adding.test_photograph import mark_references, mark_strips
from tests.gui.adding.test_readings import table
from tests.gui.every_widget import focusable, place_of, settle, spoken_name
from tests.gui.long_words import SIZE, Longer, cut_words, scrolls_sideways, squeezed_words
from tests.gui.test_accessible import parents, walk

Fill = Callable[[QtBot, AddingView, Path], None]


def ways(_qtbot: QtBot, view: AddingView, _folder: Path) -> None:
    view.offer_ways()


def two(qtbot: QtBot, view: AddingView, _folder: Path) -> None:
    way = view.open(Way.TWO_COLOURS)
    way.dark.show_code(code(BLACK))  # type: ignore[attr-defined]
    way.light.show_code(code(WHITE))  # type: ignore[attr-defined]
    way.refit()  # type: ignore[attr-defined]
    settle(qtbot, view.bridge)


def one(qtbot: QtBot, view: AddingView, _folder: Path) -> None:
    way = view.open(Way.ONE_COLOUR)
    way.colour.show_code("#7f4a21")  # type: ignore[attr-defined]
    way.refit()  # type: ignore[attr-defined]
    settle(qtbot, view.bridge)


def readings(qtbot: QtBot, view: AddingView, folder: Path) -> None:
    way = view.open(Way.READINGS)
    assert isinstance(way, ReadingsView)
    way.read([table(folder / "card.csv", first=400)])
    settle(qtbot, view.bridge)
    way.scales[0].button("PER_CENT").click()
    way.surface_of.button("INCLUDED").click()
    way.refit()
    settle(qtbot, view.bridge)
    assert way.review.results


def picture(qtbot: QtBot, view: AddingView, folder: Path) -> None:
    way = view.open(Way.PHOTOGRAPH)
    assert isinstance(way, PhotoView)
    strips = [(red(), 1.0), (red(), 2.0)]
    way.bench.read(painted_card.photograph(folder / "card.png", strips))
    settle(qtbot, view.bridge)
    mark_references(way)
    mark_strips(way, 1.0, 2.0)
    settle(qtbot, view.bridge)


def guide(_qtbot: QtBot, view: AddingView, _folder: Path) -> None:
    view.open(Way.PHOTOGRAPH)


def model(qtbot: QtBot, view: AddingView, folder: Path) -> None:
    view.bridge.edit("keep", lambda p: edits.add_evidence(p, judged_model(wash=1.5)))
    view.bridge.session.select(zone_id="cloak")
    way = view.open(Way.TEST_MODEL)
    assert isinstance(way, ModelView)
    path = painted_model.photograph(
        folder / "model.png", small_project(), "first", "cloak", {"wash": 1.4}
    )
    way.bench.read(path)
    settle(qtbot, view.bridge)
    way.line.draw(painted_model.LINE)
    way.judge()
    settle(qtbot, view.bridge)
    assert way.found is not None


FILLS = [ways, two, one, readings, guide, picture, model]


@pytest.mark.parametrize("fill", FILLS)
def test_everything_has_a_name_and_tab_reaches_it(
    qtbot: QtBot, view: AddingView, tmp_path: Path, fill: Fill
) -> None:
    fill(qtbot, view, tmp_path)
    nameless = [place_of(widget) for widget in focusable(view) if not spoken_name(widget).strip()]
    assert nameless == []
    order = walk(qtbot, view.back)
    missed = [
        f"{place_of(widget)} {spoken_name(widget)}"
        for widget in focusable(view)
        if widget.focusPolicy().value & 1
        and not any(widget is known for known in order)
        and not any(isinstance(at, QAbstractItemView) for at in parents(widget))
    ]
    assert missed == []


@pytest.fixture
def narrow(qtbot: QtBot, longer: Longer, bridge: Bridge) -> AddingView:
    """The ways in long words, in a window of the smallest size that is promised."""
    del longer
    made = MainWindow(bridge)
    made.files.may_leave = lambda: True  # type: ignore[method-assign]
    qtbot.addWidget(made)
    made.resize(*SIZE)
    made.show()
    qtbot.waitExposed(made)
    page = made.page(Page.PAINTS)
    assert isinstance(page, PaintsPage)
    page.adding.show_ways()
    return page.adding.view


@pytest.mark.parametrize("fill", FILLS)
def test_no_words_are_cut_and_nothing_scrolls_sideways(
    qtbot: QtBot, narrow: AddingView, tmp_path: Path, fill: Fill
) -> None:
    fill(qtbot, narrow, tmp_path)
    narrow.bridge.session.prefer(numbers=True)
    settle(qtbot, narrow.bridge)
    window = narrow.window()
    assert (window.width(), window.height()) == SIZE
    assert cut_words(narrow) == []
    assert scrolls_sideways(narrow) == []
    assert squeezed_words(qtbot, narrow) == []


def test_the_keys_are_listed_before_anything_was_opened(page: PaintsPage) -> None:
    told = {key.keys: key.meaning for key in told_keys(page)}
    assert told["Ins"] == "Add paints"
    assert told["W, G, B on a photograph"] == "mark a white, grey or black reference"
    assert told["Shift+arrows on a mark or a line's end"] == "make a mark larger or smaller"
