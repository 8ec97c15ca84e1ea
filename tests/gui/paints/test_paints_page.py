"""The shelf as a painter uses it: look, search, open, edit, put into a mix, import and export."""

from collections.abc import Callable
from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest
from PySide6.QtCore import QMimeData, QPoint, Qt
from PySide6.QtGui import QDrag
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QFileDialog
from pytestqt.qtbot import QtBot

from schemeforge import colorimetry
from schemeforge.appearance.drawdown import drawdowns
from schemeforge.appearance.look import look_of
from schemeforge.desk import Page, Places
from schemeforge.gui.bridge import Bridge
from schemeforge.gui.main_window import MainWindow
from schemeforge.gui.paints.card import PaintCard, bands_image
from schemeforge.gui.paints.drag import PAINT_MIME, paint_id_from, paint_mime
from schemeforge.gui.paints.page import PaintsPage
from schemeforge.gui.paints.shelf_order import Order
from schemeforge.gui.paints.swatches import FILMS_UM, SwatchBook
from schemeforge.paint import Paint
from schemeforge.scheme import Finish, edits
from schemeforge.shelf import ShelfStore, export_paints, starter_paints
from tests.builders import off_white, red_glaze, small_paints


@pytest.fixture
def page(bridge: Bridge, window: MainWindow) -> PaintsPage:
    bridge.session.select(page=Page.PAINTS)
    found = window.page(Page.PAINTS)
    assert isinstance(found, PaintsPage)
    return found


def ids(page: PaintsPage) -> list[str]:
    return [card.paint_id for card in page.grid.cards]


def card(page: PaintsPage, paint_id: str) -> PaintCard:
    found = page.grid.card(paint_id)
    assert found is not None
    return found


def open_paint(page: PaintsPage, paint_id: str) -> None:
    QTest.mouseClick(card(page, paint_id), Qt.MouseButton.LeftButton)
    assert page.bridge.state.selection.paint_id == paint_id


def shelf(bridge: Bridge) -> tuple[Paint, ...]:
    return bridge.state.document.shelf


def on_shelf(bridge: Bridge, paint_id: str) -> Paint:
    return next(paint for paint in shelf(bridge) if paint.id == paint_id)


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
    assert page.clear_search.isVisible()
    assert not page.put_starter.isVisible()
    QTest.mouseClick(page.clear_search, Qt.MouseButton.LeftButton)
    assert len(ids(page)) == 5
    assert not page.empty.isVisible()


def test_an_empty_shelf_offers_the_starter_paints(page: PaintsPage, bridge: Bridge) -> None:
    bridge.session.edit_shelf("clear", lambda _shelf: ())
    assert page.put_starter.isVisible()
    QTest.mouseClick(page.put_starter, Qt.MouseButton.LeftButton)
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


Edit = Callable[[PaintsPage], object]
EDITS: list[tuple[Edit, str, object]] = [
    (lambda p: p.details.left.setValue(4.5), "stock.left_ml", 4.5),
    (lambda p: p.details.bottle.setValue(24.0), "stock.bottle_ml", 24.0),
    (lambda p: p.details.price.setValue(3.25), "stock.price", 3.25),
    (lambda p: p.details.solids.setValue(22.0), "volume_solids", 0.22),
    (lambda p: p.details.density.setValue(1.3), "density_g_per_ml", 1.3),
    (lambda p: QTest.keyClicks(p.details.note, "thick"), "note", "thick"),
]


@pytest.mark.parametrize(("do", "field", "value"), EDITS, ids=[e[1] for e in EDITS])
def test_each_edit_reaches_shelf_and_disk_and_is_one_undo(
    page: PaintsPage,
    bridge: Bridge,
    places: Places,
    do: Edit,
    field: str,
    value: object,
) -> None:
    open_paint(page, "red-glaze")
    before = on_shelf(bridge, "red-glaze")
    do(page)
    found: object = on_shelf(bridge, "red-glaze")
    for name in field.split("."):
        found = getattr(found, name)
    assert found == pytest.approx(value) if isinstance(value, float) else found == value
    assert ShelfStore(places.shelf_file).load() == shelf(bridge)
    bridge.session.undo()
    assert on_shelf(bridge, "red-glaze") == before
    assert ShelfStore(places.shelf_file).load() == shelf(bridge)
    assert bridge.state.undo_label == ""


def test_what_is_left_can_be_unknown_again(page: PaintsPage, bridge: Bridge) -> None:
    open_paint(page, "red-glaze")
    page.details.left.setValue(page.details.left.minimum())
    assert on_shelf(bridge, "red-glaze").stock.left_ml is None
    assert page.details.left.text() == "not known"
    page.details.left.setValue(0.0)
    assert on_shelf(bridge, "red-glaze").stock.left_ml == 0.0
    assert page.details.left.text() == "0 ml"


def test_renaming_by_key(page: PaintsPage, bridge: Bridge) -> None:
    page.grid.focus_card("red-glaze")
    QTest.keyClick(card(page, "red-glaze"), Qt.Key.Key_F2)
    QTest.keyClicks(page.details.name, "<b>poppy</b> & rose")
    QTest.keyClick(page.details.name, Qt.Key.Key_Return)
    assert on_shelf(bridge, "red-glaze").name == "<b>poppy</b> & rose"
    assert card(page, "red-glaze").accessibleName() == "<b>poppy</b> & rose"
    assert bridge.state.undo_label == "rename paint"


def test_an_empty_name_is_refused_and_the_old_one_comes_back(
    page: PaintsPage, bridge: Bridge, qtbot: QtBot
) -> None:
    open_paint(page, "red-glaze")
    page.details.rename()
    QTest.keyClick(page.details.name, Qt.Key.Key_Delete)
    with qtbot.waitSignal(bridge.problem) as told:
        QTest.keyClick(page.details.name, Qt.Key.Key_Return)
    assert "no name" in told.args[0]
    assert on_shelf(bridge, "red-glaze").name == red_glaze().name
    assert page.details.name.text() == red_glaze().name


def test_duplicating_and_removing_by_key_can_be_undone(page: PaintsPage, bridge: Bridge) -> None:
    page.grid.focus_card("red-glaze")
    QTest.keyClick(card(page, "red-glaze"), Qt.Key.Key_D)
    names = [paint.name for paint in shelf(bridge)]
    assert names[3:5] == [red_glaze().name, f"{red_glaze().name}, copy"]
    twin = bridge.state.selection.paint_id
    assert card(page, twin).hasFocus()
    QTest.keyClick(card(page, twin), Qt.Key.Key_Delete)
    assert shelf(bridge) == small_paints()
    assert any(c.hasFocus() for c in page.grid.cards)
    bridge.session.undo()
    bridge.session.undo()
    assert shelf(bridge) == small_paints()


def test_a_paint_goes_into_the_picked_coats_mix(
    page: PaintsPage, bridge: Bridge, qtbot: QtBot
) -> None:
    new = replace(red_glaze(), id="new", name="new paint")
    bridge.session.edit_shelf("add", lambda held: (*held, new))
    bridge.session.select(zone_id="cloak", step_id="red")
    open_paint(page, "new")
    with qtbot.waitSignal(bridge.told) as told:
        QTest.mouseClick(page.details.buttons["mix"], Qt.MouseButton.LeftButton)
    project = bridge.state.project
    assert project.schemes[0].mix("red-pot").parts_of("new") == 1.0
    assert project.paint("new") == new
    assert '"red"' in told.args[0]
    assert '"warm"' in told.args[0]
    bridge.session.undo()
    assert bridge.state.project.schemes[0].mix("red-pot").parts_of("new") == 0.0
    with qtbot.waitSignal(bridge.problem) as refused:
        page.grid.focus_card("red-glaze")
        QTest.keyClick(card(page, "red-glaze"), Qt.Key.Key_M)
    assert "already" in refused.args[0]


def test_without_a_coat_the_button_says_why_not(page: PaintsPage, bridge: Bridge) -> None:
    bridge.edit(
        "strip",
        lambda p: replace(p, schemes=(replace(p.schemes[0], steps=(), mixes=(), shares=()),)),
    )
    open_paint(page, "red-glaze")
    mix = page.details.buttons["mix"]
    assert not mix.isEnabled()
    assert "Coats page" in mix.toolTip()
    assert "Coats page" in mix.accessibleDescription()


def test_a_drag_carries_the_paint(page: PaintsPage) -> None:
    drag = card(page, "red-glaze").make_drag()
    assert isinstance(drag, QDrag)
    assert paint_id_from(drag.mimeData()) == "red-glaze"
    assert drag.mimeData().text() == red_glaze().name
    assert not drag.pixmap().isNull()


def test_a_hand_that_moves_far_enough_drags_and_does_not_open(
    page: PaintsPage, bridge: Bridge, monkeypatch: pytest.MonkeyPatch
) -> None:
    started: list[str] = []
    monkeypatch.setattr(
        QDrag, "exec", lambda drag, _action: started.append(paint_id_from(drag.mimeData()))
    )
    glaze = card(page, "red-glaze")
    QTest.mousePress(glaze, Qt.MouseButton.LeftButton, pos=QPoint(40, 40))
    QTest.mouseMove(glaze, QPoint(42, 40))
    assert started == []
    QTest.mouseMove(glaze, QPoint(90, 60))
    QTest.mouseRelease(glaze, Qt.MouseButton.LeftButton, pos=QPoint(500, 500))
    assert started == ["red-glaze"]
    assert bridge.state.selection.paint_id == ""


@pytest.mark.parametrize("data", [b"", b"\xff\xfe", b"x" * 65])
def test_a_drag_of_nonsense_carries_no_paint(data: bytes) -> None:
    mime = QMimeData()
    mime.setData(PAINT_MIME, data)
    assert paint_id_from(mime) == ""
    assert paint_id_from(QMimeData()) == ""
    assert paint_id_from(paint_mime(off_white())) == "off-white"


def test_a_paint_that_changed_is_told_by_name_and_the_shelfs_can_be_used(
    page: PaintsPage, bridge: Bridge
) -> None:
    assert page.differs.text == ""
    open_paint(page, "red-glaze")
    page.details.density.setValue(1.3)
    assert red_glaze().name in page.differs.text
    assert "solids or density" in page.differs.text
    assert "differs" in card(page, "red-glaze").accessibleDescription()
    assert bridge.state.project.paint("red-glaze").density_g_per_ml != 1.3
    page.details.density.setValue(1.4)
    QTest.mouseClick(page.differs.buttons[0], Qt.MouseButton.LeftButton)
    assert bridge.state.project.paint("red-glaze").density_g_per_ml == 1.4
    assert page.differs.text == ""


def test_the_projects_own_version_can_be_kept(page: PaintsPage, bridge: Bridge) -> None:
    open_paint(page, "red-glaze")
    page.details.density.setValue(1.3)
    before = bridge.state.project
    QTest.mouseClick(page.differs.buttons[1], Qt.MouseButton.LeftButton)
    assert page.differs.text == ""
    assert bridge.state.project is before
    page.details.density.setValue(1.5)
    assert page.differs.text != "", "another change is another question"


def test_paints_that_a_project_brings_can_be_put_on_the_shelf(
    page: PaintsPage, bridge: Bridge
) -> None:
    bridge.session.edit_shelf("lose one", lambda held: held[:-1])
    lost = small_paints()[-1]
    assert lost.name in page.differs.text
    QTest.mouseClick(page.differs.buttons[0], Qt.MouseButton.LeftButton)
    assert shelf(bridge) == small_paints()
    assert page.differs.text == ""


@pytest.mark.parametrize("suffix", [".json", ".csv"])
def test_exporting_and_importing_through_the_dialogs(
    page: PaintsPage,
    bridge: Bridge,
    tmp_path: Path,
    monkeypatch: pytest.MonkeyPatch,
    suffix: str,
) -> None:
    path = tmp_path / f"mine{suffix}"
    monkeypatch.setattr(QFileDialog, "getSaveFileName", lambda *_: (str(path), ""))
    monkeypatch.setattr(QFileDialog, "getOpenFileName", lambda *_: (str(path), ""))
    QTest.mouseClick(page.hand_out, Qt.MouseButton.LeftButton)
    bridge.session.edit_shelf("clear", lambda _shelf: ())
    QTest.mouseClick(page.import_first, Qt.MouseButton.LeftButton)
    assert shelf(bridge) == small_paints()
    assert bridge.state.undo_label == "import paints"


@pytest.mark.parametrize(
    ("answer", "note", "count"), [(0, "theirs", 5), (1, "", 6), (2, "", 5), (3, "", 5)]
)
def test_a_paint_that_differs_in_the_file_is_asked_about(
    page: PaintsPage,
    bridge: Bridge,
    tmp_path: Path,
    answer: int,
    note: str,
    count: int,
) -> None:
    path = tmp_path / "theirs.json"
    export_paints((replace(red_glaze(), note="theirs"),), path)
    page.import_from(path)
    assert red_glaze().name in page.clash.text
    assert shelf(bridge) == small_paints()
    QTest.mouseClick(page.clash.buttons[answer], Qt.MouseButton.LeftButton)
    assert on_shelf(bridge, "red-glaze").note == note
    assert len(shelf(bridge)) == count
    assert page.clash.text == ""


def test_a_bad_file_is_told_and_the_shelf_stays(
    page: PaintsPage, bridge: Bridge, window: MainWindow, tmp_path: Path
) -> None:
    path = tmp_path / "bad.csv"
    path.write_bytes(b"\xff\xfe\x00")
    page.import_from(path)
    assert "bad.csv" in window.notice.text
    assert shelf(bridge) == small_paints()
    assert bridge.state.undo_label == ""


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
    assert "×" not in card(page, "red-glaze").accessibleDescription()
    bridge.session.prefer(numbers=True)
    assert "K ×" in card(page, "red-glaze").accessibleDescription()


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
