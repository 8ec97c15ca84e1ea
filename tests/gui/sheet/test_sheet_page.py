"""The Sheet page as a painter uses it: look, turn, size, choose what stands on the sheet."""

import re
from dataclasses import replace
from functools import partial
from pathlib import Path

import numpy as np
import pytest
from numpy.typing import NDArray
from PySide6.QtCore import QPoint, QPointF, Qt
from PySide6.QtGui import QWheelEvent
from PySide6.QtWidgets import QApplication, QWidget
from pytestqt.qtbot import QtBot

from schemeforge import colorimetry
from schemeforge.desk import Page
from schemeforge.export.options import Section, SheetOptions
from schemeforge.export.page import Picture
from schemeforge.export.png import image_of
from schemeforge.export.sheet import Sheet, make_sheet
from schemeforge.gui.bridge import Bridge
from schemeforge.gui.main_window import MainWindow
from schemeforge.gui.sheet.index import Mark, marks_of
from schemeforge.gui.sheet.page import SheetPage
from schemeforge.gui.sheet.paper import Fit
from schemeforge.scheme import Group, Zone, edits
from tests.gui.opening import opened_page
from tests.gui.sheet.desk_tools import (
    PATIENCE_MS,
    anew,
    held_back,
    is_making,
    laid_out,
    pixels_of,
    tick,
    words_on,
)

LEFT = Qt.MouseButton.LeftButton
ALT = Qt.KeyboardModifier.AltModifier


def notices(page: SheetPage) -> str:
    window = page.window()
    assert isinstance(window, MainWindow)
    return window.notice.text


def wheel(widget: QWidget, notches: int) -> None:
    """Turn the wheel over the middle of a widget, towards the user where negative."""
    middle = QPointF(widget.rect().center())
    event = QWheelEvent(
        middle,
        QPointF(widget.mapToGlobal(middle.toPoint())),
        QPoint(),
        QPoint(0, 120 * notches),
        Qt.MouseButton.NoButton,
        Qt.KeyboardModifier.NoModifier,
        Qt.ScrollPhase.NoScrollPhase,
        False,  # noqa: FBT003 - Qt takes it by place alone
    )
    QApplication.sendEvent(widget, event)


def test_the_desk_shows_the_very_pages_that_are_printed(bridge: Bridge, page: SheetPage) -> None:
    assert page.sheet is not None
    scheme = bridge.state.scheme
    assert scheme is not None
    options, views = page.checklist.options(), bridge.stand_ins
    printed = make_sheet(bridge.state.project, scheme.id, options, views=views)
    assert page.sheet.pages == printed.pages
    assert page.sheet.pdf.data == printed.pdf.data
    shown = pixels_of(page.desk.paper.image)
    dpi = (shown.shape[1] - 1e-3) / printed.pages[0].width * 25.4
    assert np.array_equal(shown, np.asarray(image_of(printed.pdf.data, 0, dpi)))
    assert page.desk.place.text() == f"Side 1 of {len(printed.pages)}"


def test_swatches_on_the_desk_have_the_windows_colours(bridge: Bridge, page: SheetPage) -> None:
    # A pixel of the preview is a mean over its neighbours at most (bilinear, one pixel either
    # way), of a picture whose edges were moved to whole pixels (one more). Within that reach it
    # lies between the engine's colours; dither and rounding to 8 bits add one code either way.
    assert page.sheet is not None
    state, side = bridge.state, page.sheet.pages[0]
    swatches = [i for i in side.items if isinstance(i, Picture) and i.role == "swatch dry"]
    assert len(swatches) == len(state.project.zones)
    shown = pixels_of(page.desk.paper.image)
    scale = shown.shape[1] / side.width
    for zone, swatch in zip(state.project.zones, swatches, strict=True):
        frame = swatch.frame
        tile = engine_tile(bridge, zone, swatch.columns)
        for across, down in ((0.25, 0.3), (0.5, 0.5), (0.75, 0.7)):
            x = int((frame.x + across * frame.width) * scale)
            y = int((frame.y + down * frame.height) * scale)
            columns = reach((x + 0.5) / scale - frame.x, frame.width, 2.0 / scale, tile.shape[1])
            rows = reach((y + 0.5) / scale - frame.y, frame.height, 2.0 / scale, tile.shape[0])
            wanted = tile[rows, columns].reshape(-1, 3)
            pixel = shown[y, x].astype(float)
            assert np.all(pixel >= wanted.min(axis=0) - 1.0), (zone.name, across)
            assert np.all(pixel <= wanted.max(axis=0) + 1.0), (zone.name, across)


def test_the_picture_is_painted_pixel_for_pixel(page: SheetPage) -> None:
    paper = page.desk.paper
    seen = pixels_of(paper.viewport().grab().toImage())
    drawn = pixels_of(paper.image)
    ratio = paper.devicePixelRatioF()
    top, left = round(paper.paper().top() * ratio), round(paper.paper().left() * ratio)
    # Inside the line around the paper, above the fold, left of the tabs.
    size = (seen.shape[0] - top - 10, page.desk.index.x() - left - 10)
    part = drawn[5 : size[0], 5 : size[1]]
    assert np.array_equal(seen[top + 5 : top + size[0], left + 5 : left + size[1]], part)
    assert np.ptp(part) > 200  # there is ink on it


def engine_tile(bridge: Bridge, zone: Zone, columns: int) -> NDArray[np.float64]:
    """The finished zone in codes, ``(32 along, columns, 3)``, by the window's colour book."""
    state = bridge.state
    assert state.scheme is not None
    rows = [
        bridge.colours.zone(
            state.project,
            state.scheme,
            zone,
            replace(state.project.viewing, wet=False),
            across=row / 31,
            count=columns,
        ).final
        for row in range(32)
    ]
    return np.asarray(colorimetry.srgb(np.stack(rows)).rgb * 255.0)


def reach(at: float, length: float, either_way: float, count: int) -> slice:
    """The cells of a row of so many that lie within that distance, mm."""
    first = int((at - either_way) / length * count)
    last = int((at + either_way) / length * count)
    return slice(max(first, 0), min(last, count - 1) + 1)


def test_a_finish_of_the_view_bar_reaches_the_sheet(
    qtbot: QtBot, bridge: Bridge, page: SheetPage
) -> None:
    assert ", matt," in words_on(page)
    window = page.window()
    assert isinstance(window, MainWindow)
    before = page.desk.paper.image
    anew(qtbot, page, window.view_bar.finish.button("gloss").click)
    assert bridge.state.project.viewing.finish.value == "gloss"
    assert ", gloss," in words_on(page)
    assert page.desk.paper.image != before


def test_another_scheme_begins_at_its_first_side(
    qtbot: QtBot, bridge: Bridge, page: SheetPage
) -> None:
    page.desk.index.tabs[2].click()
    laid_out(qtbot, page)
    assert page.desk.paper.number > 0
    other = bridge.state.project.schemes[1]
    anew(qtbot, page, lambda: bridge.session.select(scheme_id=other.id))
    assert other.name in words_on(page)
    assert page.desk.paper.number == 0


def test_sides_turn_by_button_tab_and_key(qtbot: QtBot, page: SheetPage) -> None:
    paper, sheet = page.desk.paper, page.sheet
    assert sheet is not None
    last = len(sheet.pages) - 1
    assert not page.desk.back.isEnabled()
    qtbot.mouseClick(page.desk.on, LEFT)
    assert paper.number == 1
    qtbot.mouseClick(page.desk.back, LEFT)
    assert paper.number == 0
    paper.setFocus()
    qtbot.keyClick(paper, Qt.Key.Key_Right)
    assert paper.number == 1
    qtbot.keyClick(paper, Qt.Key.Key_End)
    assert paper.number == last
    assert not page.desk.on.isEnabled()
    qtbot.keyClick(paper, Qt.Key.Key_Right)
    assert paper.number == last
    qtbot.keyClick(paper, Qt.Key.Key_Left)
    assert paper.number == last - 1
    qtbot.keyClick(paper, Qt.Key.Key_Home)
    assert paper.number == 0
    qtbot.keyClick(page.checklist.date.box, Qt.Key.Key_Right, ALT)
    assert paper.number == 1
    titles = [side.title for side in sheet.pages]
    tabs = page.desk.index.tabs
    assert [tab.text() for tab in tabs] == list(dict.fromkeys(titles))
    qtbot.mouseClick(tabs[2], LEFT)
    assert paper.number == titles.index(tabs[2].text())
    assert [tab.isChecked() for tab in tabs] == [tab is tabs[2] for tab in tabs]
    qtbot.mouseClick(tabs[2], LEFT)
    assert tabs[2].isChecked()
    laid_out(qtbot, page)


def test_page_keys_and_wheel_scroll_before_they_turn(qtbot: QtBot, page: SheetPage) -> None:
    paper = page.desk.paper
    bar = paper.verticalScrollBar()
    assert bar.maximum() > 0
    paper.setFocus()
    qtbot.keyClick(paper, Qt.Key.Key_PageDown)
    assert (paper.number, bar.value() > 0) == (0, True)
    while bar.value() < bar.maximum():
        qtbot.keyClick(paper, Qt.Key.Key_PageDown)
    assert paper.number == 0
    qtbot.keyClick(paper, Qt.Key.Key_PageDown)
    assert (paper.number, bar.value()) == (1, 0)
    qtbot.keyClick(paper, Qt.Key.Key_PageUp)
    assert (paper.number, bar.value()) == (0, bar.maximum())
    wheel(paper.viewport(), -1)
    assert (paper.number, bar.value()) == (1, 0)
    wheel(paper.viewport(), -1)
    assert paper.number == 1
    assert bar.value() > 0


def test_paper_is_pulled_by_hand(qtbot: QtBot, page: SheetPage) -> None:
    view, bar = page.desk.paper.viewport(), page.desk.paper.verticalScrollBar()
    qtbot.mousePress(view, LEFT, pos=QPoint(200, 300))
    qtbot.mouseMove(view, QPoint(200, 220))
    qtbot.mouseRelease(view, LEFT, pos=QPoint(200, 220))
    assert bar.value() == 80
    qtbot.mouseMove(view, QPoint(200, 100))
    assert bar.value() == 80


def test_three_sizes_by_button_and_key(qtbot: QtBot, page: SheetPage) -> None:
    paper = page.desk.paper
    wide = paper.paper().width()
    qtbot.keyClick(paper, Qt.Key.Key_W)
    laid_out(qtbot, page)
    assert page.desk.fit.value == "whole"
    assert paper.verticalScrollBar().maximum() == 0
    assert paper.paper().height() < paper.viewport().height()
    assert paper.paper().width() < wide
    qtbot.mouseClick(page.desk.fit.button("true"), LEFT)
    laid_out(qtbot, page)
    inch = paper.screen().physicalDotsPerInch()
    assert paper.fit is Fit.TRUE
    assert paper.paper().width() == pytest.approx(210.0 / 25.4 * inch, abs=0.6)
    qtbot.keyClick(paper, Qt.Key.Key_F)
    laid_out(qtbot, page)
    assert paper.paper().width() == wide


def test_tabs_stand_at_the_edge_of_the_paper(qtbot: QtBot, page: SheetPage) -> None:
    index, paper = page.desk.index, page.desk.paper
    for way in ("upright", "across"):
        if way == "across":
            anew(qtbot, page, page.checklist.way.button(way).click)
        for fit in Fit:
            page.desk.set_fit(fit)
            laid_out(qtbot, page)
            bar = paper.horizontalScrollBar()
            bar.setValue(bar.maximum())
            assert abs(index.x() - paper.paper().right()) <= 1.0, (way, fit)
            assert index.geometry().right() < paper.viewport().width(), (way, fit)


def test_paper_and_its_way_change_the_pages(qtbot: QtBot, page: SheetPage) -> None:
    anew(qtbot, page, page.checklist.paper.button("Letter").click)
    anew(qtbot, page, page.checklist.way.button("across").click)
    assert page.sheet is not None
    assert {(side.width, side.height) for side in page.sheet.pages} == {(279.4, 215.9)}
    shown = page.desk.paper.paper()
    assert shown.width() / shown.height() == pytest.approx(279.4 / 215.9, rel=2e-3)


def test_large_type_makes_cards_bigger_and_sides_more(qtbot: QtBot, page: SheetPage) -> None:
    assert page.sheet is not None
    before = page.sheet.pages
    assert not page.checklist.large.is_ticked
    anew(qtbot, page, lambda: qtbot.mouseClick(page.checklist.large.words, LEFT))
    assert page.checklist.options().roomy
    after = page.sheet.pages
    assert len(after) > len(before)
    biggest = [
        max(text.size_pt for side in pages for text in side.texts) for pages in (before, after)
    ]
    assert biggest == [26.0, 34.0]


# What only that part of the sheet says, as a pattern for one line.
SAID = {
    Section.FINISHED: "^Finished zones",
    Section.STOCK: "^Fetch before you start$",
    Section.SITTINGS: "^In this order",
    Section.WHO: "^Who gets what$",
    Section.SWATCHES: "^wet$",
    Section.TOLERANCES: r"\d\.\d dE",
    Section.MIXES: "Top up by",
    Section.ADVICE: "^Look for",
    Section.TIMES: "^taken$",
}


def test_each_line_of_the_checklist_takes_its_part_off_and_puts_it_back(
    qtbot: QtBot, page: SheetPage
) -> None:
    first = page.sheet
    for section, said in SAID.items():
        assert is_said(page, said), section
        anew(qtbot, page, partial(tick, page, section))
        assert section not in page.checklist.options().include
        assert not is_said(page, said), section
        tick(page, section)
        assert page.sheet is first, section  # found again, not made again
    laid_out(qtbot, page)


def test_the_model_is_on_the_front_unless_it_is_taken_off(qtbot: QtBot, page: SheetPage) -> None:
    def shown() -> int:
        assert page.sheet is not None
        items = page.sheet.pages[0].items
        return sum(isinstance(item, Picture) and item.role == "model" for item in items)

    assert shown() == 1
    anew(qtbot, page, partial(tick, page, Section.PICTURE))
    assert shown() == 0


def is_said(page: SheetPage, said: str) -> bool:
    """True where a line of the sheet fits the pattern."""
    return re.search(said, words_on(page), re.MULTILINE) is not None


def test_every_section_has_a_line(page: SheetPage) -> None:
    assert set(page.checklist.lines) == set(Section)
    assert page.checklist.options().include == SheetOptions().include


def test_how_sure_goes_with_the_colours(qtbot: QtBot, page: SheetPage) -> None:
    sure = page.checklist.lines[Section.TOLERANCES]
    assert sure.isEnabled()
    anew(qtbot, page, lambda: tick(page, Section.SWATCHES))
    assert not sure.isEnabled()
    assert sure.is_ticked


def test_a_click_on_the_words_ticks_and_space_does_too(qtbot: QtBot, page: SheetPage) -> None:
    date = page.checklist.date
    assert page.checklist.options().today is not None
    anew(qtbot, page, lambda: qtbot.mouseClick(date.words, LEFT))
    assert page.checklist.options().today is None
    date.box.setFocus()
    qtbot.keyClick(date.box, Qt.Key.Key_Space)
    assert page.checklist.options().today is not None


def test_one_group_alone(qtbot: QtBot, bridge: Bridge, page: SheetPage) -> None:
    box = page.checklist.group
    groups = bridge.state.project.groups
    assert [box.itemText(n) for n in range(box.count())] == [
        "The whole batch",
        *(group.name for group in groups),
    ]

    def choose() -> None:
        box.setCurrentIndex(1)
        box.activated.emit(1)

    anew(qtbot, page, choose)
    assert page.sheet is not None
    assert f"for {groups[0].name}" in words_on(page)
    empty = Group(id=groups[0].id, name=groups[0].name, count=0)
    anew(qtbot, page, lambda: bridge.edit("count", lambda p: edits.update_group(p, empty)))
    assert page.checklist.options().group_id is None
    assert box.currentText() == "The whole batch"


def test_the_old_sheet_stays_until_the_new_one_is_there(
    qtbot: QtBot, bridge: Bridge, page: SheetPage
) -> None:
    image, desk = page.desk.paper.image, page.desk
    with held_back(bridge):
        tick(page, Section.MIXES)
        qtbot.waitUntil(desk.note.isVisible)
        assert "how it was before" in desk.said.text()
        assert desk.stop.isVisible()
        assert desk.share.isVisible()
        assert desk.share.value() == 0
        assert desk.paper.image is image
        assert page.sheet is None
    laid_out(qtbot, page)
    assert desk.share.value() == 100
    assert not desk.note.isVisible()
    assert "Top up by" not in words_on(page)


def test_laying_out_is_stopped_and_taken_up_again(
    qtbot: QtBot, bridge: Bridge, page: SheetPage
) -> None:
    image, desk = page.desk.paper.image, page.desk
    with held_back(bridge):
        tick(page, Section.MIXES)
        qtbot.waitUntil(desk.note.isVisible)
        desk.stop.setFocus()
        qtbot.mouseClick(desk.stop, LEFT)
        assert not page.making.is_busy
        assert "not on this sheet" in desk.said.text()
        assert desk.redo.isVisible()
    assert desk.paper.image is image
    qtbot.mouseClick(desk.redo, LEFT)
    laid_out(qtbot, page)
    assert not desk.note.isVisible()
    assert "Top up by" not in words_on(page)


def test_changes_in_a_row_make_one_sheet(qtbot: QtBot, bridge: Bridge, page: SheetPage) -> None:
    made: list[object] = []
    page.making.made.connect(lambda _request, sheet: made.append(sheet))
    with held_back(bridge):
        for section in (Section.MIXES, Section.ADVICE, Section.TIMES):
            tick(page, section)
            qtbot.waitUntil(lambda: is_making(page))
    laid_out(qtbot, page)
    assert len(made) == 1
    assert page.sheet is made[0]


def test_undo_finds_the_sheet_again(qtbot: QtBot, bridge: Bridge, page: SheetPage) -> None:
    first, image = page.sheet, page.desk.paper.image
    anew(qtbot, page, lambda: bridge.edit("name", lambda p: edits.rename_project(p, "Reed Folk")))
    assert "Reed Folk" in words_on(page)
    assert bridge.session.undo()
    assert page.sheet is first
    laid_out(qtbot, page)
    assert page.desk.paper.image == image


def test_a_hidden_page_works_only_once_it_is_shown(
    qtbot: QtBot, bridge: Bridge, page: SheetPage
) -> None:
    bridge.session.select(page=Page.BATCH)
    bridge.edit("name", lambda p: edits.rename_project(p, "Reed Folk"))
    assert not page.making.is_busy
    assert "Reed Folk" not in words_on(page)
    anew(qtbot, page, lambda: bridge.session.select(page=Page.SHEET))
    assert "Reed Folk" in words_on(page)


def test_without_steps_it_leads_to_the_coats(qtbot: QtBot, bridge: Bridge, page: SheetPage) -> None:
    bridge.edit("new", lambda p: edits.add_scheme(p, type(p.schemes[0])(id="bare", name="<b>Bare")))
    bridge.session.select(scheme_id="bare")
    assert page.desk.is_empty
    assert '"<b>Bare" has no steps yet' in page.desk.empty_words.text()
    assert page.desk.empty_words.textFormat() is Qt.TextFormat.PlainText
    assert not page.along.isEnabled()
    qtbot.mouseClick(page.desk.empty_do, LEFT)
    assert bridge.state.selection.page is Page.COATS
    bridge.session.select(page=Page.SHEET, scheme_id=bridge.state.project.schemes[0].id)
    laid_out(qtbot, page)
    assert not page.desk.is_empty
    assert page.along.isEnabled()


def test_without_a_scheme_it_leads_to_the_schemes(
    qtbot: QtBot, bridge: Bridge, page: SheetPage
) -> None:
    bridge.session.begin(
        replace(bridge.state.project, schemes=(), chosen_scheme_id="", yardstick_id="")
    )
    assert bridge.state.scheme is None
    assert page.desk.is_empty
    qtbot.mouseClick(page.desk.empty_do, LEFT)
    assert bridge.state.selection.page is Page.SCHEMES


def test_a_sheet_that_cannot_be_made_is_told_in_a_sentence(
    qtbot: QtBot, bridge: Bridge, page: SheetPage
) -> None:
    view = replace(bridge.state.project.viewing, light="nowhere")
    with qtbot.waitSignal(page.making.failed, timeout=PATIENCE_MS):
        bridge.edit("light", lambda p: edits.set_viewing(p, view))
    said = 'There is no light called "nowhere"'
    assert said in notices(page)
    assert said in page.desk.said.text()
    assert page.desk.note.isVisible()
    assert page.sheet is None
    assert page.desk.paper.image.isNull()
    qtbot.mouseClick(page.along.print, LEFT)
    assert "no sheet to print" in notices(page)
    bridge.session.undo()
    laid_out(qtbot, page)
    assert not page.desk.note.isVisible()


def test_signs_that_no_font_has_are_told_beside_the_sheet(
    qtbot: QtBot, bridge: Bridge, page: SheetPage
) -> None:
    assert not page.findings.isVisible()
    name = "Reed \U0010fffd Folk"
    anew(qtbot, page, lambda: bridge.edit("name", lambda p: edits.rename_project(p, name)))
    assert page.findings.isVisible()
    assert "U+10FFFD" in page.findings.text()
    bridge.session.undo()
    assert not page.findings.isVisible()


def test_the_side_can_be_read_without_seeing_it(qtbot: QtBot, page: SheetPage) -> None:
    paper, sheet = page.desk.paper, page.sheet
    assert sheet is not None
    count = len(sheet.pages)
    assert paper.accessibleName() == f"Side 1 of {count}: {sheet.pages[0].title}"
    assert "Fetch before you start" in paper.accessibleDescription()
    page.desk.on.click()
    laid_out(qtbot, page)
    assert paper.accessibleName() == f"Side 2 of {count}: {sheet.pages[1].title}"
    for line in page.checklist.lines.values():
        assert line.box.accessibleName() == line.words.text()


def test_sides_under_one_heading_share_a_tab() -> None:
    assert marks_of(["a", "b", "b", "a"]) == (Mark("a", 0, 1), Mark("b", 1, 2), Mark("a", 3, 1))
    assert marks_of([]) == ()


def test_while_the_model_is_traced_the_sheet_is_there_without_it(
    qtbot: QtBot, bridge: Bridge, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv("SCHEMEFORGE_STAND_INS", str(tmp_path / "nothing traced"))
    page = opened_page(qtbot, bridge, Page.SHEET)
    assert isinstance(page, SheetPage)
    shown: list[int] = []

    def note(_request: object, sheet: object) -> None:
        assert isinstance(sheet, Sheet)
        items = sheet.pages[0].items
        shown.append(sum(isinstance(item, Picture) and item.role == "model" for item in items))

    page.making.made.connect(note)
    assert page._asked is not None
    assert not page._asked.pictured
    qtbot.waitUntil(lambda: shown[-1:] == [1])
    laid_out(qtbot, page)
