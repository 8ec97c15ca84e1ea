"""The shelf as a painter looks at it: cards, search, order, keys, long names, many paints."""

from dataclasses import replace

import numpy as np
import pytest
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest
from pytestqt.qtbot import QtBot

from schemeforge import colorimetry
from schemeforge.appearance.drawdown import drawdowns
from schemeforge.appearance.look import look_of
from schemeforge.desk import Page
from schemeforge.gui.bridge import Bridge
from schemeforge.gui.main_window import MainWindow
from schemeforge.gui.paints.card import bands_image
from schemeforge.gui.paints.page import PaintsPage
from schemeforge.gui.paints.shelf_order import Order
from schemeforge.gui.paints.swatches import FILMS_UM, SwatchBook
from schemeforge.scheme import Finish, edits
from schemeforge.shelf import starter_paints
from tests.builders import red_glaze, small_paints
from tests.gui.paints.driving import card, ids, open_paint, shelf


def test_every_paint_has_a_card_that_says_what_is_known_of_it(page: PaintsPage) -> None:
    assert ids(page) == [paint.id for paint in small_paints()]
    glaze = card(page, "red-glaze")
    assert glaze.accessibleName() == red_glaze().name
    said = glaze.accessibleDescription()
    for words in ("translucent", "typical, not measured", "bottle", "in this project"):
        assert words in said
    assert page.count.text() == "5 of 5 paints"


def test_a_card_shows_the_colours_of_the_one_path(page: PaintsPage, bridge: Bridge) -> None:
    info = card(page, "red-glaze").info
    assert info is not None
    expected = drawdowns((red_glaze(),), FILMS_UM, look_of(bridge.state.project))[0]
    assert np.array_equal(info.xyz, expected)
    page.details.show()
    image = bands_image(info.xyz, 200, 20)
    codes = colorimetry.hex_codes(expected[:, -1])
    for place, code in enumerate(codes):
        seen = image.pixelColor(199, 20 * place + 10)
        wanted = tuple(int(code[n : n + 2], 16) for n in (1, 3, 5))
        assert (seen.red(), seen.green(), seen.blue()) == pytest.approx(wanted, abs=1)
        bare = image.pixelColor(2, 20 * place + 10)
        ground = colorimetry.hex_codes(expected[place, :1])[0]
        wanted = tuple(int(ground[n : n + 2], 16) for n in (1, 3, 5))
        assert (bare.red(), bare.green(), bare.blue()) == pytest.approx(wanted, abs=1)


def test_another_light_or_finish_changes_the_cards(page: PaintsPage, bridge: Bridge) -> None:
    before = card(page, "red-glaze").info
    viewing = replace(bridge.state.project.viewing, finish=Finish.GLOSS)
    bridge.edit("finish", lambda p: edits.set_viewing(p, viewing))
    after = card(page, "red-glaze").info
    assert before is not None
    assert after is not None
    assert after.xyz[0, -1, 1] < before.xyz[0, -1, 1]


def test_only_paints_that_changed_are_worked_out_again(bridge: Bridge) -> None:
    book, project = SwatchBook(), bridge.state.project
    first = book.swatches(project, small_paints())
    renamed = (replace(small_paints()[0], note="new"), *bridge.state.document.shelf[1:])
    kept = book.swatches(project, bridge.state.document.shelf)
    again = book.swatches(project, renamed)
    assert all(again[p.id].xyz is kept[p.id].xyz for p in renamed[1:])
    assert again[renamed[0].id].xyz is not kept[renamed[0].id].xyz
    assert first[renamed[0].id].looks == again[renamed[0].id].looks


def test_searching_and_sorting(page: PaintsPage) -> None:
    QTest.keyClick(page, Qt.Key.Key_F, Qt.KeyboardModifier.ControlModifier)
    QTest.keyClicks(page.search, "wash")
    assert ids(page) == ["brown-wash"]
    page.search.clear()
    page.order.setCurrentIndex(page.order.findData(Order.LIGHTNESS.value))
    page.order.activated.emit(page.order.currentIndex())
    lightness = [colorimetry.lab_from_xyz(c.info.xyz[2, -1])[0] for c in page.grid.cards if c.info]
    assert lightness == sorted(lightness)
    assert page.grid.cards[0].paint_id == "black-primer"


def test_a_search_without_a_match_says_so_and_leads_back(page: PaintsPage) -> None:
    page.search.setText("nothing like it")
    assert ids(page) == []
    assert page.empty.isVisible()
    assert page.empty.clear_search.isVisible()
    assert not page.empty.put_starter.isVisible()
    QTest.mouseClick(page.empty.clear_search, Qt.MouseButton.LeftButton)
    assert len(ids(page)) == 5
    assert not page.empty.isVisible()


def test_an_empty_shelf_offers_the_starter_paints(page: PaintsPage, bridge: Bridge) -> None:
    bridge.session.edit_shelf("clear", lambda _shelf: ())
    assert page.empty.put_starter.isVisible()
    QTest.mouseClick(page.empty.put_starter, Qt.MouseButton.LeftButton)
    assert shelf(bridge) == starter_paints()
    assert len(ids(page)) == len(starter_paints())


def test_only_paints_of_the_project(page: PaintsPage, bridge: Bridge) -> None:
    stranger = replace(red_glaze(), id="stranger", name="stranger")
    bridge.session.edit_shelf("add", lambda held: (*held, stranger))
    assert "stranger" in ids(page)
    QTest.mouseClick(page.used_only, Qt.MouseButton.LeftButton)
    assert "stranger" not in ids(page)
    assert page.count.text() == "5 of 6 paints"


def test_keys_walk_the_cards_open_and_close_them(page: PaintsPage, bridge: Bridge) -> None:
    page.window().resize(1100, 700)
    page.grid.focus_card("")
    order = ids(page)
    assert page.grid.columns < 5

    def focused() -> str:
        return next(c.paint_id for c in page.grid.cards if c.hasFocus())

    assert focused() == order[0]
    for key, expected in (
        (Qt.Key.Key_Right, 1),
        (Qt.Key.Key_End, 4),
        (Qt.Key.Key_Right, 4),
        (Qt.Key.Key_Home, 0),
        (Qt.Key.Key_Down, page.grid.columns),
        (Qt.Key.Key_Up, 0),
        (Qt.Key.Key_Left, 0),
    ):
        QTest.keyClick(card(page, focused()), key)
        assert focused() == order[expected]
    stops = [c for c in page.grid.cards if c.focusPolicy() is Qt.FocusPolicy.StrongFocus]
    assert [c.paint_id for c in stops] == [focused()]
    QTest.keyClick(card(page, focused()), Qt.Key.Key_Return)
    assert bridge.state.selection.paint_id == order[0]
    assert page.details.isVisible()
    assert card(page, order[0]).isChecked()
    QTest.keyClick(card(page, focused()), Qt.Key.Key_Escape)
    assert bridge.state.selection.paint_id == ""
    assert not page.details.isVisible()
    QTest.keyClick(card(page, focused()), Qt.Key.Key_Space)
    assert page.details.isVisible()


def test_details_open_beneath_the_row_of_their_card(page: PaintsPage) -> None:
    open_paint(page, "off-white")
    own = card(page, "off-white").geometry()
    assert page.details.y() > own.bottom()
    assert page.details.width() == page.grid.width()
    below = [c for c in page.grid.cards if c.y() > own.y()]
    assert all(c.y() > page.details.geometry().bottom() for c in below)
    QTest.mouseClick(card(page, "off-white"), Qt.MouseButton.LeftButton)
    assert not page.details.isVisible()


def test_a_hidden_page_does_nothing_until_it_is_shown(page: PaintsPage, bridge: Bridge) -> None:
    bridge.session.select(page=Page.BATCH)
    bridge.session.edit_shelf("lose one", lambda held: held[1:])
    assert len(ids(page)) == 5
    bridge.session.select(page=Page.PAINTS)
    assert len(ids(page)) == 4


def test_three_hundred_paints_are_cards_of_which_only_those_in_view_are_painted(
    page: PaintsPage, bridge: Bridge, qtbot: QtBot
) -> None:
    many = tuple(replace(red_glaze(), id=f"p{n}", name=f"paint {n}") for n in range(300))
    bridge.session.edit_shelf("many", lambda _shelf: many)
    qtbot.waitUntil(lambda: page.grid.cards[0].is_painted)
    painted = [c for c in page.grid.cards if c.is_painted]
    assert 0 < len(painted) < 60
    page.grid.focus_card("p299")
    qtbot.waitUntil(lambda: card(page, "p299").is_painted)


def test_the_spectrum_can_be_read_by_keys(page: PaintsPage) -> None:
    open_paint(page, "red-glaze")
    plot = page.details.spectrum
    K = red_glaze().absorption
    assert f"{380 + 10 * K.index(max(K))} nm" in plot.accessibleDescription()
    plot.setFocus()
    QTest.keyClick(plot, Qt.Key.Key_Right)
    assert plot.accessibleDescription().startswith("380 nm")
    QTest.keyClick(plot, Qt.Key.Key_End)
    assert f"730 nm: absorbs {K[-1]:.3g}" in plot.accessibleDescription()
    QTest.keyClick(plot, Qt.Key.Key_Escape)
    assert "most" in plot.accessibleDescription()


def test_numbers_add_how_far_off_the_data_may_be(page: PaintsPage, bridge: Bridge) -> None:
    assert "±" not in card(page, "red-glaze").accessibleDescription()
    bridge.session.prefer(numbers=True)
    assert "(±" in card(page, "red-glaze").accessibleDescription()


def test_all_of_the_page_fits_a_small_window_with_long_names(
    page: PaintsPage, bridge: Bridge, window: MainWindow, qtbot: QtBot
) -> None:
    long = "Donaudampfschifffahrtsgesellschaftskapitänsmützenabzeichengrundierung für Panzerplatten"
    bridge.session.edit_shelf("long", lambda held: tuple(replace(p, name=long) for p in held))
    window.resize(1280, 720)
    open_paint(page, "red-glaze")
    qtbot.waitUntil(lambda: window.width() == 1280)
    assert page.grid.width() <= page.area.viewport().width()
    for one in page.grid.cards:
        assert page.grid.rect().contains(one.geometry())
        assert one.toolTip().startswith(long), "what is cut short can be read in full"
