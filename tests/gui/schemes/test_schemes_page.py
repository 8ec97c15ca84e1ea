"""The Schemes page as a painter uses it: look, compare, vary, choose, by mouse and by keyboard."""

from dataclasses import replace
from functools import partial

import numpy as np
import pytest
from PySide6.QtCore import QPoint, Qt
from PySide6.QtWidgets import QApplication
from pytestqt.qtbot import QtBot

from schemeforge import colorimetry
from schemeforge.appearance import Points, final_xyz
from schemeforge.comparison import Severity, compare
from schemeforge.desk import Direction, Page
from schemeforge.gui.bridge import Bridge
from schemeforge.gui.reading import reading_of
from schemeforge.gui.schemes.board import Column
from schemeforge.gui.schemes.figure import Figure
from schemeforge.gui.schemes.head import scheme_of
from schemeforge.gui.schemes.page import SchemesPage
from schemeforge.scheme import Project, Scheme, edits
from tests.gui.schemes.waiting import measured

LEFT = Qt.MouseButton.LeftButton
CTRL, SHIFT, ALT = (
    Qt.KeyboardModifier.ControlModifier,
    Qt.KeyboardModifier.ShiftModifier,
    Qt.KeyboardModifier.AltModifier,
)


def ids(bridge: Bridge) -> list[str]:
    return [scheme.id for scheme in bridge.state.project.schemes]


def reads_zones(figure: Figure) -> bool:
    return "feathered hide" in figure.accessibleDescription()


def columns(page: SchemesPage) -> list[Column]:
    return list(page.board.columns.values())


def remove(bridge: Bridge, scheme_id: str) -> None:
    assert bridge.edit("remove", lambda p: edits.remove_scheme(p, scheme_id))


def heavier(project: Project, scheme_id: str, zone_id: str) -> Project:
    """The scheme with the last coat that is on that zone alone laid twice as heavily."""
    step = next(
        s
        for s in reversed(project.scheme(scheme_id).steps)
        if s.coat is not None and s.zone_ids == (zone_id,)
    )
    assert step.coat is not None
    return edits.set_coat(project, scheme_id, step.id, wet_um=step.coat.wet_um * 2.0)


def test_columns_stand_in_order_and_one_is_the_yardstick(bridge: Bridge, page: SchemesPage) -> None:
    assert list(page.board.columns) == ids(bridge)
    marks = [c.head.yardstick.isVisibleTo(page) for c in page.board.columns.values()]
    assert marks == [True, False, False]
    assert page.board.columns[ids(bridge)[0]].head.yardstick.words.text() == "yardstick"
    tops = {c.figure.mapTo(page, QPoint(0, 0)).y() for c in page.board.columns.values()}
    widths = {c.pair.width() for c in page.board.columns.values()}
    assert len(tops) == 1
    assert max(widths) - min(widths) <= 1


def test_ramps_line_up_with_their_heads_and_with_each_other(page: SchemesPage) -> None:
    for column in page.board.columns.values():
        x = column.head.mapTo(page, QPoint(0, 0)).x()
        for cell in column.cells.values():
            assert cell.strip.mapTo(page, QPoint(0, 0)).x() == x
            assert cell.strip.width() == column.pair.width()
    for zone_id in page.board.labels:
        rows = {
            c.cells[zone_id].strip.mapTo(page, QPoint(0, 0)).y()
            for c in page.board.columns.values()
        }
        assert len(rows) == 1


@pytest.mark.parametrize("light", ["D65", "A"])
def test_ramps_and_readings_are_the_colours_of_the_engine(
    qtbot: QtBot, bridge: Bridge, page: SchemesPage, light: str
) -> None:
    view = replace(bridge.state.project.viewing, light=light)
    bridge.edit("light", lambda p: edits.set_viewing(p, view))
    measured(qtbot, page)
    project = bridge.state.project
    sweep = np.linspace(0.0, 1.0, 64)
    for scheme in project.schemes:
        for zone in project.zones:
            low, high = zone.tones
            points = Points(low + (high - low) * sweep, sweep, [0.5])
            expected = final_xyz(project, scheme, zone.id, points)
            strip = page.board.columns[scheme.id].cells[zone.id].strip
            assert strip.xyz == pytest.approx(expected, abs=1e-12)


def test_ramps_turn_from_relief_to_root_and_tip(
    qtbot: QtBot, bridge: Bridge, page: SchemesPage
) -> None:
    qtbot.mouseClick(page.bar.cuts.button(Direction.ALONG.value), LEFT)
    assert bridge.state.selection.direction is Direction.ALONG
    project, scheme = bridge.state.project, bridge.state.project.schemes[0]
    zone = project.zone("lantern")
    tone = zone.tones[0] + 0.5 * (zone.tones[1] - zone.tones[0])
    expected = final_xyz(
        project, scheme, "lantern", Points([tone], [0.5], np.linspace(0.0, 1.0, 64))
    )
    strip = page.board.columns[scheme.id].cells["lantern"].strip
    assert strip.xyz == pytest.approx(expected, abs=1e-12)


def test_the_figure_reads_the_very_colour_of_the_place(bridge: Bridge, page: SchemesPage) -> None:
    project, scheme = bridge.state.project, bridge.state.project.schemes[1]
    figure = page.board.columns[scheme.id].figure
    image = figure.grab().toImage()
    map_ = figure._map()
    for number, zone in enumerate(project.zones):
        inside = (map_.zone == number) & (map_.cover == 1.0)
        rows, places = np.nonzero(inside)
        at = len(rows) // 2
        x, y = float(places[at]), float(rows[at])
        assert figure.zone_at(x, y) == zone.id
        relief, along = map_.relief[rows[at], places[at]], map_.along[rows[at], places[at]]
        tone = zone.tones[0] + (zone.tones[1] - zone.tones[0]) * relief
        xyz = final_xyz(project, scheme, zone.id, Points([tone], [relief], [along]))
        assert figure.reading(x, y) == f"{zone.name}: {reading_of(xyz[0]).text(numbers=False)}"
        shown = image.pixelColor(int(x), int(y))
        rgb = 255.0 * colorimetry.srgb(xyz).rgb[0]
        # One unit of dither, and what straight lines between 24 x 9 nodes leave: at most a few.
        assert np.array([shown.red(), shown.green(), shown.blue()]) == pytest.approx(rgb, abs=5.0)


def test_clicking_a_zone_of_a_figure_picks_scheme_and_zone(
    qtbot: QtBot, bridge: Bridge, page: SchemesPage
) -> None:
    wanted = ids(bridge)[2]
    figure = page.board.columns[wanted].figure
    map_ = figure._map()
    rows, places = np.nonzero((map_.zone == 2) & (map_.cover == 1.0))
    middle = len(rows) // 2
    qtbot.mouseClick(figure, LEFT, pos=QPoint(int(places[middle]), int(rows[middle])))
    assert bridge.state.selection.scheme_id == wanted
    assert bridge.state.selection.zone_id == bridge.state.project.zones[2].id
    assert figure.zone_id == bridge.state.project.zones[2].id
    corner = bridge.state.selection.zone_id
    qtbot.mouseClick(figure, LEFT, pos=QPoint(1, 1))
    assert bridge.state.selection.zone_id == corner
    assert figure.zone_at(1, 1) == ""
    assert figure.reading(1, 1) == ""


def test_arrows_walk_columns_and_zones(qtbot: QtBot, bridge: Bridge, page: SchemesPage) -> None:
    first, second, third = ids(bridge)
    page.board.focus_column(first)
    qtbot.keyClick(QApplication.focusWidget(), Qt.Key.Key_Right)
    assert bridge.state.selection.scheme_id == second
    assert page.board.columns[second].figure.hasFocus()
    qtbot.keyClick(QApplication.focusWidget(), Qt.Key.Key_Down)
    zones = [zone.id for zone in bridge.state.project.zones]
    assert bridge.state.selection.zone_id == zones[1]
    qtbot.keyClick(QApplication.focusWidget(), Qt.Key.Key_Up)
    qtbot.keyClick(QApplication.focusWidget(), Qt.Key.Key_Up)
    assert bridge.state.selection.zone_id == zones[0]
    strip = page.board.columns[second].cells[zones[0]].strip
    strip.setFocus()
    qtbot.keyClick(strip, Qt.Key.Key_Down)
    assert page.board.columns[second].cells[zones[1]].strip.hasFocus()
    assert bridge.state.selection.zone_id == zones[1]
    qtbot.keyClick(QApplication.focusWidget(), Qt.Key.Key_Right, ALT)
    assert page.board.columns[third].cells[zones[1]].strip.hasFocus()
    qtbot.keyClick(QApplication.focusWidget(), Qt.Key.Key_Right, ALT)
    assert bridge.state.selection.scheme_id == third
    qtbot.keyClick(QApplication.focusWidget(), Qt.Key.Key_Left, ALT)
    assert bridge.state.selection.scheme_id == second
    page.board.columns[second].cells[zones[0]].strip.setFocus()
    qtbot.keyClick(QApplication.focusWidget(), Qt.Key.Key_Up)
    assert page.board.columns[second].figure.hasFocus()


def test_duplicate_makes_a_twin_and_goes_on_to_coats(
    qtbot: QtBot, bridge: Bridge, page: SchemesPage
) -> None:
    first = ids(bridge)[0]
    qtbot.mouseClick(page.board.columns[first].head.buttons["duplicate"], LEFT)
    assert len(ids(bridge)) == 4
    twin = bridge.state.project.schemes[1]
    assert twin.name == "First Light on the Flats, varied"
    assert twin.steps == bridge.state.project.schemes[0].steps
    assert bridge.state.selection.scheme_id == twin.id
    assert bridge.state.selection.page is Page.COATS
    bridge.session.select(page=Page.SCHEMES)
    assert list(page.board.columns) == ids(bridge)
    page.board.focus_column(twin.id)
    qtbot.keyClick(QApplication.focusWidget(), Qt.Key.Key_D, CTRL)
    assert bridge.state.project.schemes[2].name == "First Light on the Flats, varied 2"
    bridge.session.undo()
    bridge.session.undo()
    assert len(ids(bridge)) == 3


def test_a_note_is_written_in_place(qtbot: QtBot, bridge: Bridge, page: SchemesPage) -> None:
    second = ids(bridge)[1]
    before = bridge.state.project
    note = page.board.columns[second].head.note
    page.board.focus_column(second)
    qtbot.keyClick(QApplication.focusWidget(), Qt.Key.Key_F2, Qt.KeyboardModifier.ControlModifier)
    assert note.is_editing
    note.field.clear()
    qtbot.keyClicks(note.field, "dusk, <b>cold</b>")
    qtbot.keyClick(note.field, Qt.Key.Key_Return)
    assert bridge.state.project.scheme(second).note == "dusk, <b>cold</b>"
    assert note.label.text() == "dusk, <b>cold</b>"
    assert note.label.textFormat() is Qt.TextFormat.PlainText
    long = "tide out, " * 60
    qtbot.mouseDClick(note, LEFT)
    note.field.setText(long)
    qtbot.keyClick(note.field, Qt.Key.Key_Return)
    assert bridge.state.project.scheme(second).note == long.strip()
    assert note.label.text().endswith("…")
    assert note.height() <= max(
        2 * note.label.fontMetrics().lineSpacing(), note.field.sizeHint().height()
    )
    assert long.strip() in note.label.toolTip()
    bridge.session.undo()
    qtbot.mouseDClick(note, LEFT)
    note.field.clear()
    qtbot.keyClick(note.field, Qt.Key.Key_Return)
    assert bridge.state.project.scheme(second).note == ""
    assert note.label.text() == "no note"
    qtbot.mouseDClick(note, LEFT)
    assert note.field.text() == ""
    qtbot.keyClick(note.field, Qt.Key.Key_Escape)
    bridge.session.undo()
    bridge.session.undo()
    assert bridge.state.project == before


def test_after_a_column_is_gone_its_neighbour_has_the_focus(
    qtbot: QtBot, bridge: Bridge, page: SchemesPage
) -> None:
    first, second, third = ids(bridge)[:3]
    button = page.board.columns[second].head.buttons["remove"]
    button.setFocus()
    qtbot.waitUntil(button.hasFocus)
    qtbot.keyClick(button, Qt.Key.Key_Space)
    assert ids(bridge)[:2] == [first, third]
    assert scheme_of(QApplication.focusWidget()) == third
    button = page.board.columns[third].head.buttons["left"]
    button.setFocus()
    qtbot.keyClick(button, Qt.Key.Key_Space)
    assert ids(bridge)[:2] == [third, first]
    assert scheme_of(QApplication.focusWidget()) == third


def test_rename_in_place_by_key_and_by_double_click(
    qtbot: QtBot, bridge: Bridge, page: SchemesPage
) -> None:
    second = ids(bridge)[1]
    name = page.board.columns[second].head.name
    page.board.focus_column(second)
    qtbot.keyClick(QApplication.focusWidget(), Qt.Key.Key_F2)
    assert name.is_editing
    name.field.clear()
    qtbot.keyClicks(name.field, "Yon Bell & <b>Tide</b>")
    qtbot.keyClick(name.field, Qt.Key.Key_Return)
    assert bridge.state.project.scheme(second).name == "Yon Bell & <b>Tide</b>"
    assert name.label.text() == "Yon Bell & <b>Tide</b>"
    assert name.label.textFormat() is Qt.TextFormat.PlainText
    qtbot.mouseDClick(name, LEFT)
    qtbot.keyClicks(name.field, "dropped")
    qtbot.keyClick(name.field, Qt.Key.Key_Escape)
    assert not name.is_editing
    assert bridge.state.project.scheme(second).name == "Yon Bell & <b>Tide</b>"
    assert bridge.state.undo_label == "rename a scheme"
    qtbot.mouseDClick(name, LEFT)
    name.field.clear()
    with qtbot.waitSignal(bridge.problem):
        qtbot.keyClick(name.field, Qt.Key.Key_Return)
    assert name.label.text() == "Yon Bell & <b>Tide</b>"


def test_yardstick_batch_order_and_removal_by_mouse(
    qtbot: QtBot, bridge: Bridge, page: SchemesPage
) -> None:
    first, second, third = ids(bridge)
    head = page.board.columns[second].head
    qtbot.mouseClick(head.buttons["yardstick"], LEFT)
    assert bridge.state.project.yardstick_id == second
    assert head.yardstick.isVisibleTo(page)
    qtbot.mouseClick(head.buttons["choose"], LEFT)
    assert bridge.state.project.chosen_scheme_id == second
    assert head.chosen.isVisibleTo(page)
    qtbot.mouseClick(head.buttons["right"], LEFT)
    assert ids(bridge) == [first, third, second]
    assert list(page.board.columns) == [first, third, second]
    qtbot.mouseClick(page.board.columns[first].head.buttons["remove"], LEFT)
    assert ids(bridge) == [third, second]
    assert list(page.board.columns) == [third, second]
    assert not page.board.columns[third].head.buttons["left"].isEnabled()
    measured(qtbot, page)


def test_yardstick_batch_order_and_removal_by_key(
    qtbot: QtBot, bridge: Bridge, page: SchemesPage
) -> None:
    first, second, third = ids(bridge)
    page.board.focus_column(third)
    qtbot.keyClick(QApplication.focusWidget(), Qt.Key.Key_Y)
    assert bridge.state.project.yardstick_id == third
    qtbot.keyClick(QApplication.focusWidget(), Qt.Key.Key_B)
    assert bridge.state.project.chosen_scheme_id == third
    qtbot.keyClick(QApplication.focusWidget(), Qt.Key.Key_Left, CTRL | SHIFT)
    assert ids(bridge) == [first, third, second]
    assert page.board.columns[third].figure.hasFocus()
    qtbot.keyClick(QApplication.focusWidget(), Qt.Key.Key_Delete)
    assert ids(bridge) == [first, second]
    assert page.board.columns[second].figure.hasFocus()
    qtbot.keyClick(QApplication.focusWidget(), Qt.Key.Key_D, CTRL | SHIFT)
    assert bridge.state.project.schemes[-1].name == "New scheme"
    assert bridge.state.project.schemes[-1].steps == ()
    qtbot.keyClick(QApplication.focusWidget(), Qt.Key.Key_Return, CTRL)
    assert bridge.state.selection.page is Page.COATS


def test_the_menu_does_the_same(bridge: Bridge, page: SchemesPage, qtbot: QtBot) -> None:
    first, second, _third = ids(bridge)
    menu = page.menu_for(second)
    names = [action.objectName() for action in menu.actions()]
    assert names == [
        "rename",
        "note",
        "vary",
        "duplicate",
        "yardstick",
        "choose",
        "left",
        "right",
        "remove",
    ]
    assert all("\t" in action.text() for action in menu.actions())
    next(a for a in menu.actions() if a.objectName() == "left").trigger()
    assert ids(bridge)[:2] == [second, first]
    next(a for a in menu.actions() if a.objectName() == "rename").trigger()
    assert page.board.columns[second].head.name.is_editing
    head = page.board.columns[first].head
    qtbot.waitUntil(lambda: page.scheme_at(head.mapTo(page, QPoint(5, 5))) == first)
    assert page.scheme_at(QPoint(-5, -5)) == page.current_id
    measured(qtbot, page)


def test_findings_are_those_of_the_comparison_best_first_and_expand(
    qtbot: QtBot, bridge: Bridge, page: SchemesPage
) -> None:
    project = bridge.state.project
    outside = compare(project)
    assert outside is not None
    for scheme in project.schemes:
        column = page.board.columns[scheme.id]
        assert page.comparison is not None
        found = page.comparison.scheme(scheme.id).findings
        told = {f.sentence for f in found if f.key not in {"hours", "paints"}}
        # Hours and paints are handed in by the page; all else is the engine's alone.
        assert told == {
            f.sentence
            for f in outside.scheme(scheme.id).findings
            if f.key not in {"hours", "paints"}
        }
        assert [f.key for f in found if f.key in {"hours", "paints"}]
        kinds = [f.severity for f in found]
        shown = [sentence.finding for sentence in column.verdict.sentences]
        assert shown == [found[kinds.index(kind)] for kind in dict.fromkeys(kinds)]
        for kind in Severity:
            assert column.tally.counts[kind].text() == str(kinds.count(kind))
        for finding in found:
            assert finding.sentence in column.verdict.accessibleDescription()
    verdict = column.verdict
    qtbot.mouseClick(verdict.more, LEFT)
    assert [s.label.text() for s in verdict.sentences] == [f.sentence for f in found]
    assert verdict.more.text() == "Fewer"
    qtbot.mouseClick(verdict.more, LEFT)
    assert len(verdict.sentences) < len(found)


def test_findings_end_where_the_page_ends(qtbot: QtBot, bridge: Bridge, page: SchemesPage) -> None:
    for column in page.board.columns.values():
        column.verdict.more.click()
    bar = page.board.area.verticalScrollBar()
    longest = max(len(column.verdict.sentences) for column in page.board.columns.values())
    assert longest > 10

    def snug() -> bool:
        last = [c.verdict.more.mapTo(page.board.area, QPoint(0, 0)) for c in columns(page)]
        foot = max(at.y() for at in last) + page.board.columns[ids(bridge)[0]].verdict.more.height()
        return bar.value() == bar.maximum() and 0 <= page.board.area.height() - foot < 40

    def scrolled() -> bool:
        bar.setValue(bar.maximum())
        return snug()

    qtbot.waitUntil(scrolled)


def test_the_tally_goes_to_the_findings(qtbot: QtBot, bridge: Bridge, page: SchemesPage) -> None:
    column = page.board.columns[ids(bridge)[0]]
    bar = page.board.area.verticalScrollBar()
    qtbot.waitUntil(lambda: bar.maximum() > 0)
    assert bar.value() == 0
    qtbot.mouseClick(column.tally, LEFT)
    assert bar.value() > 0
    assert "To mend" in column.tally.accessibleName()


def test_differences_are_said_in_words_and_with_numbers_on_request(
    qtbot: QtBot, bridge: Bridge, page: SchemesPage
) -> None:
    first, second, _third = ids(bridge)
    assert page.comparison is not None
    difference = page.comparison.scheme(second).difference("hide")
    assert difference is not None
    column = page.board.columns[second]
    cell = column.cells["hide"]
    # What holds for most zones is said once, over all of them; the others say what differs.
    said = [d.words for d in page.comparison.scheme(second).differences]
    assert (
        column.head.differs.words.text()
        == f"another colour on {said.count('another colour')} of 6 zones"
    )
    assert difference.words == "another colour"
    assert "another colour" not in cell.words.text()
    assert column.cells["rim"].words.text().endswith("unseen")
    assert page.board.columns[first].head.differs.isHidden()
    assert "yardstick" not in page.board.columns[first].cells["hide"].words.text()
    assert "dE" not in cell.words.text()
    bridge.session.prefer(numbers=True)
    assert f"dE {difference.mean:.1f}, at most {difference.worst:.1f}" in cell.words.text()
    assert "L*" in page.board.columns[first].cells["hide"].words.text()
    qtbot.waitUntil(lambda: "#" in cell.strip.accessibleDescription())


def test_only_what_differs_hides_zones_that_look_the_same(
    qtbot: QtBot, bridge: Bridge, page: SchemesPage
) -> None:
    first, second, third = ids(bridge)
    for scheme_id in (second, third):
        remove(bridge, scheme_id)
    bridge.edit("duplicate", lambda p: edits.duplicate_scheme(p, first, "twin"))
    measured(qtbot, page)
    page.board.focus_column(first)
    qtbot.keyClick(QApplication.focusWidget(), Qt.Key.Key_O)
    assert page.bar.only.isChecked()
    assert all(label.isHidden() for label in page.board.labels.values())
    assert page.board.same.isVisibleTo(page)
    bridge.edit("heavier", lambda p: heavier(p, "twin", "cloak"))
    measured(qtbot, page)
    shown = {zone_id for zone_id, label in page.board.labels.items() if not label.isHidden()}
    assert shown == {"cloak"}
    assert not page.board.columns["twin"].cells["cloak"].isHidden()
    assert page.board.columns["twin"].cells["hide"].isHidden()
    qtbot.mouseClick(page.bar.only, LEFT)
    assert not any(label.isHidden() for label in page.board.labels.values())


def test_an_edit_measures_only_what_changed(
    qtbot: QtBot, bridge: Bridge, page: SchemesPage
) -> None:
    first, second, _third = ids(bridge)
    assert page.comparison is not None
    before = {entry.scheme.id: entry.measures for entry in page.comparison.schemes}
    bridge.edit("heavier", lambda p: heavier(p, second, "cloak"))
    measured(qtbot, page)
    assert page.comparison.scheme(first).measures is before[first]
    assert page.comparison.scheme(second).measures is not before[second]


def test_a_hidden_page_waits_until_it_is_seen(
    qtbot: QtBot, bridge: Bridge, page: SchemesPage
) -> None:
    first, second, _third = ids(bridge)
    strip = page.board.columns[second].cells["cloak"].strip
    before = strip.xyz
    bridge.session.select(page=Page.PAINTS)
    bridge.edit("heavier", lambda p: heavier(p, second, "cloak"))
    assert not page.measuring.is_busy
    assert strip.xyz is before
    bridge.session.select(page=Page.SCHEMES)
    assert strip.xyz is not before
    measured(qtbot, page)
    assert page.board.columns[first].cells["cloak"].words.text() == "muted yellow"


def test_measuring_can_be_stopped_and_taken_up_again(
    qtbot: QtBot, bridge: Bridge, page: SchemesPage
) -> None:
    first, second, _third = ids(bridge)
    page.measuring._timer.setInterval(0)
    with qtbot.waitSignal(page.measuring.slow):
        bridge.edit("heavier", lambda p: heavier(p, second, "cloak"))
    if page.measuring.is_busy:
        assert page.bar.busy.isVisibleTo(page)
        page.bar.stop.click()
    else:  # it was done before anyone could stop it
        page.measuring.stop()
    assert page.comparison is None
    assert page.board.columns[first].cells["cloak"].words.text() == "…"
    assert page.board.columns[first].verdict.accessibleDescription() == "Not measured."
    assert page.bar.again.isVisibleTo(page)
    assert not page.bar.busy.isVisibleTo(page)
    bridge.session.select(zone_id="cloak")
    assert not page.measuring.is_busy
    qtbot.mouseClick(page.bar.again, LEFT)
    measured(qtbot, page)
    assert not page.bar.again.isVisibleTo(page)
    assert page.board.columns[second].verdict.sentences


def test_one_scheme_says_how_to_get_another(
    qtbot: QtBot, bridge: Bridge, page: SchemesPage
) -> None:
    for scheme_id in ids(bridge)[1:]:
        remove(bridge, scheme_id)
    measured(qtbot, page)
    assert page.empty.isVisibleTo(page)
    assert "Duplicate" in page.empty.words.text()
    only = page.board.columns[ids(bridge)[0]]
    assert not only.head.buttons["remove"].isEnabled()
    qtbot.mouseClick(page.empty.do, LEFT)
    assert len(ids(bridge)) == 2
    assert bridge.state.selection.page is Page.COATS
    bridge.session.select(page=Page.SCHEMES)
    assert not page.empty.isVisibleTo(page)


def test_without_schemes_or_zones_the_page_says_what_to_do(
    qtbot: QtBot, bridge: Bridge, page: SchemesPage
) -> None:
    project = bridge.state.project
    bare = replace(project, schemes=(), chosen_scheme_id="", yardstick_id="")
    bridge.session.begin(bare)
    assert page.empty.do.text() == "Add an empty scheme"
    assert not page.board.isVisibleTo(page)
    qtbot.keyClick(page, Qt.Key.Key_Delete)  # nothing to remove, nothing said
    qtbot.mouseClick(page.empty.do, LEFT)
    assert len(ids(bridge)) == 1
    empty = Scheme(id="a", name="a")
    bridge.session.begin(replace(bare, zones=(), schemes=(empty,)))
    assert page.empty.do.text() == "Go to Batch"
    qtbot.mouseClick(page.empty.do, LEFT)
    assert bridge.state.selection.page is Page.BATCH


def test_more_than_six_schemes_are_chosen_from(
    qtbot: QtBot, bridge: Bridge, page: SchemesPage
) -> None:
    for _ in range(5):
        bridge.edit("add", lambda p: edits.duplicate_scheme(p, p.schemes[-1].id))
    measured(qtbot, page)
    every = ids(bridge)
    assert len(every) == 8
    assert list(page.board.columns) == every[:6]
    assert page.bar.shown.text() == "Shown: 6 of 8"
    entries = page.bar.menu.actions()
    assert not entries[0].isEnabled()  # the yardstick
    assert [entry.isEnabled() for entry in entries[6:]] == [False, False]
    entries[2].trigger()
    measured(qtbot, page)
    assert list(page.board.columns) == [*every[:2], *every[3:6]]
    page.bar.menu.actions()[7].trigger()
    measured(qtbot, page)
    assert list(page.board.columns) == [*every[:2], *every[3:6], every[7]]


def test_a_scheme_picked_elsewhere_is_shown(
    qtbot: QtBot, bridge: Bridge, page: SchemesPage
) -> None:
    for _ in range(5):
        bridge.edit("add", lambda p: edits.duplicate_scheme(p, p.schemes[-1].id))
    bridge.session.select(scheme_id=ids(bridge)[-1])
    assert list(page.board.columns) == [*ids(bridge)[:5], ids(bridge)[-1]]
    measured(qtbot, page)


def test_every_control_has_a_name_a_tooltip_and_a_key(qtbot: QtBot, page: SchemesPage) -> None:
    for column in page.board.columns.values():
        for button in column.head.buttons.values():
            assert button.accessibleName()
            assert "(" in button.toolTip()
        assert column.figure.accessibleName().startswith("Outline of")
        qtbot.waitUntil(partial(reads_zones, column.figure))
    for cell in page.board.columns[next(iter(page.board.columns))].cells.values():
        assert cell.strip.accessibleName()
