"""The batch as a painter sets it up: groups, zones, who gets what, sittings; and what it shows."""

from dataclasses import replace

import pytest
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest
from pytestqt.qtbot import QtBot

from schemeforge import plan
from schemeforge.desk import Page
from schemeforge.gui.batch.page import BatchPage
from schemeforge.gui.batch.shares import new_share
from schemeforge.gui.bridge import Bridge
from schemeforge.gui.main_window import MainWindow
from schemeforge.plan.cautions import Caution
from schemeforge.scheme import (
    Group,
    Project,
    Share,
    ShareKind,
    Zone,
    edits,
)
from tests.builders import small_project, small_scheme
from tests.gui.batch.driving import click, editor, type_into


def test_rows_follow_the_document(page: BatchPage, bridge: Bridge) -> None:
    click(page.groups.add)
    assert list(page.groups.list.rows) == [g.id for g in bridge.state.project.groups]
    assert "13 models in 3 groups" in page.groups.heading.text()
    bridge.session.undo()
    assert list(page.groups.list.rows) == ["rank", "captains"]
    assert page.groups.list.rows["rank"].name.text() == "rank and file"
    assert page.groups.list.rows["captains"].needed_by.text() == "2031-05-01"
    click(page.zones.list.rows["cloak"].tools[0])
    assert list(page.zones.list.rows) == ["cloak", "hide", "base"]


def test_one_is_said_as_one(page: BatchPage, bridge: Bridge) -> None:
    project = bridge.state.project
    one = replace(project.groups[0], count=1)
    bridge.edit("x", lambda p: edits.remove_group(p, p.groups[1].id))
    bridge.edit("x", lambda p: edits.update_group(p, one))
    for zone in project.zones[1:]:
        bridge.edit("x", lambda p, z=zone: edits.remove_zone(p, z.id))  # type: ignore[misc]
    assert page.groups.heading.text() == "Groups: 1 model in 1 group"
    assert "1 zone," in page.zones.heading.text()
    for sitting in project.sittings:
        bridge.edit("x", lambda p, s=sitting: edits.remove_sitting(p, s.id))  # type: ignore[misc]
    assert page.hours.bar._names()[1] == "No sittings yet"


@pytest.mark.parametrize("text", ["tomorrow", "2031-13-01"])
def test_a_date_that_is_none_is_refused_in_a_sentence(
    page: BatchPage, bridge: Bridge, window: MainWindow, text: str
) -> None:
    type_into(page.groups.list.rows["captains"].needed_by, text)
    assert "YYYY-MM-DD" in window.notice.text
    assert bridge.state.project == small_project()
    assert page.groups.list.rows["captains"].needed_by.text() == "2031-05-01"
    type_into(page.hours.sittings.rows["evening"].day, text)
    assert page.hours.sittings.rows["evening"].day.text() == ""


def test_an_empty_name_is_refused(page: BatchPage, bridge: Bridge, window: MainWindow) -> None:
    type_into(page.groups.list.rows["rank"].name, "")
    assert "no name" in window.notice.text
    assert page.groups.list.rows["rank"].name.text() == "rank and file"
    type_into(editor(page, "cloak").root, "")
    assert editor(page, "cloak").root.text() == "collar"
    assert bridge.state.project == small_project()


def test_only_the_field_that_gives_the_area_is_shown(page: BatchPage) -> None:
    assert not editor(page, "cloak").area.isHidden()
    assert editor(page, "cloak").area.isVisible()
    assert not editor(page, "cloak").share.isVisible()
    assert editor(page, "hide").share.isVisible()
    assert not editor(page, "hide").area.isVisible()
    assert not page.zones.list.rows["cloak"].editor.isVisible()  # type: ignore[union-attr]


def test_a_zone_says_its_area_and_follows_the_size(page: BatchPage, bridge: Bridge) -> None:
    assert "8.0 cm²" in page.zones.list.rows["base"].line.text()  # 32 mm round: pi 1.6^2
    page.zones.base.setValue(40.0)
    assert "12.6 cm²" in page.zones.list.rows["base"].line.text()
    assert bridge.state.selection.page is Page.BATCH


def cell(page: BatchPage, zone_id: str, group_id: str) -> Share:
    scheme = page.bridge.state.scheme
    assert scheme is not None
    return scheme.share(group_id, zone_id)


def go_to(page: BatchPage, row: int, column: int) -> None:
    page.shares.table.setCurrentIndex(page.shares.model.index(row, column))


def test_the_grid_says_what_each_group_gets_on_each_zone(page: BatchPage) -> None:
    model = page.shares.model
    said = [
        [model.data(model.index(row, column)) for column in range(2)]
        for row in range(model.rowCount())
    ]
    assert said == [["full", "own stack of 4"], ["short, without 1", "full"], ["full", "full"]]
    spoken = model.data(model.index(1, 0), Qt.ItemDataRole.AccessibleTextRole)
    assert spoken == "rank and file, cloak: short, without 1: red"
    assert model.headerData(0, Qt.Orientation.Horizontal) == "rank and file (10)"
    assert model.headerData(2, Qt.Orientation.Vertical) == "base"


@pytest.mark.parametrize(
    ("key", "kind"),
    [
        (Qt.Key.Key_S, ShareKind.SHORT),
        (Qt.Key.Key_O, ShareKind.OWN),
        (Qt.Key.Key_N, ShareKind.NONE),
    ],
)
def test_letters_set_the_picked_cell(
    page: BatchPage, bridge: Bridge, key: Qt.Key, kind: ShareKind
) -> None:
    go_to(page, 1, 1)
    QTest.keyClick(page.shares.table, key)
    assert cell(page, "cloak", "captains").kind is kind
    assert page.shares.kind.value == kind.value
    QTest.keyClick(page.shares.table, Qt.Key.Key_F)
    assert cell(page, "cloak", "captains").kind is ShareKind.FULL
    bridge.session.undo()
    bridge.session.undo()
    assert bridge.state.project == small_project()


def test_several_picked_cells_are_set_at_once_and_undone_at_once(
    page: BatchPage, bridge: Bridge
) -> None:
    page.shares.table.selectAll()
    QTest.keyClick(page.shares.table, Qt.Key.Key_N)
    scheme = bridge.state.project.schemes[0]
    assert len(scheme.shares) == 6
    assert {share.kind for share in scheme.shares} == {ShareKind.NONE}
    bridge.session.undo()
    assert bridge.state.project == small_project()


def test_arrow_keys_move_the_cell_and_the_editor_follows(page: BatchPage) -> None:
    go_to(page, 0, 0)
    page.shares.table.setFocus()
    QTest.keyClick(page.shares.table, Qt.Key.Key_Down)
    assert page.shares.cell.text() == "rank and file on cloak"
    assert page.shares.kind.value == "short"
    assert page.shares.which.text() == "Left out:"
    assert page.shares.steps["red"].isChecked()
    QTest.keyClick(page.shares.table, Qt.Key.Key_Up)
    assert not page.shares.which.isVisible()


def test_the_coats_of_a_short_cell_are_chosen(page: BatchPage, bridge: Bridge) -> None:
    go_to(page, 1, 0)
    click(page.shares.steps["wash"])
    assert cell(page, "cloak", "rank").step_ids == ("wash", "red")
    click(page.shares.steps["red"])
    assert cell(page, "cloak", "rank").step_ids == ("wash",)
    assert bridge.state.undo_label == "coats of a cell"
    assert not page.shares.steps["red"].isChecked()


def test_an_own_stack_may_take_steps_that_are_by_name_only(page: BatchPage) -> None:
    go_to(page, 0, 1)
    assert set(page.shares.steps) == {"prime", "spray", "wash", "warm"}
    click(page.shares.steps["warm"])
    assert cell(page, "hide", "captains").step_ids == ("prime", "spray", "wash")
    go_to(page, 0, 0)
    QTest.keyClick(page.shares.table, Qt.Key.Key_S)
    assert "warm" not in page.shares.steps, "nobody gets it by default, so nobody leaves it out"


def test_a_cell_begins_short_without_its_last_coat_and_own_with_what_it_gets() -> None:
    scheme = small_scheme()
    assert new_share(scheme, "captains", "cloak", ShareKind.SHORT).step_ids == ("red",)
    own = new_share(scheme, "rank", "cloak", ShareKind.OWN)
    assert own.step_ids == ("prime", "spray", "wash")
    old = scheme.share("rank", "cloak")
    assert new_share(scheme, "rank", "cloak", ShareKind.SHORT) is old


def test_steps_pots_and_hours_are_those_of_the_plan(page: BatchPage, bridge: Bridge) -> None:
    project, scheme = bridge.state.project, bridge.state.project.schemes[0]
    steps, pots = plan.planned_steps(project, scheme), plan.pots(project, scheme)
    rows = page.steps.model.rows
    assert [row[0] for row in rows] == [str(step.number) for step in steps]
    assert [row[2] for row in rows] == [step.who for step in steps]
    assert [row[6] for row in rows] == [step.pot or "–" for step in steps]
    assert rows[5][3] == "1.5 min"
    assert [row[3] for row in page.pots.model.rows] == [f"{pot.ml:.1f}" for pot in pots]
    assert [row[4] for row in page.pots.model.rows] == [f"{pot.drops:.0f}" for pot in pots]
    assert "neat" in page.pots.model.rows[0][1]
    warned = [pot.warning.sentence for pot in pots if pot.warning]
    assert page.pots.warnings.text() == "\n".join(warned)
    sentence = plan.hands_on(project, scheme).sentence
    assert page.hours.sentence.text() == sentence
    assert page.hours.bar.accessibleName() == sentence


def test_more_models_take_more_mix_and_minutes_at_once(page: BatchPage) -> None:
    before = page.pots.model.rows[2][3], page.hours.sentence.text()
    page.groups.list.rows["rank"].count.setValue(100)
    after = page.pots.model.rows[2][3], page.hours.sentence.text()
    assert float(after[0]) > 2 * float(before[0])
    assert after[1] != before[1]


def test_cautions_name_their_steps(page: BatchPage) -> None:
    labels = page.cautions.labels
    assert labels[Caution.SPRAYING].isVisible()
    assert labels[Caution.SPRAYING].text().endswith("(steps: 1, 2)")
    assert not labels[Caution.MAGNETS].isVisible()
    assert "label" in page.cautions.about.text()


def test_a_batch_of_nothing_says_what_to_do(page: BatchPage, bridge: Bridge) -> None:
    def emptied(project: Project) -> Project:
        return replace(project, groups=(), zones=(), schemes=(), chosen_scheme_id="", sittings=())

    bridge.edit("empty", emptied)
    for words in (
        page.groups.empty,
        page.zones.empty,
        page.shares.empty,
        page.steps.empty,
        page.pots.empty,
        page.hours.empty,
    ):
        assert words.isVisible()
        assert words.text()
    assert not page.shares.table.isVisible()
    assert not page.cautions.isVisible()
    click(page.groups.add)
    assert [group.count for group in bridge.state.project.groups] == [1]
    bridge.session.undo()
    bridge.session.undo()
    assert page.shares.table.isVisible()


def test_enter_on_a_step_picks_it(page: BatchPage, bridge: Bridge) -> None:
    bridge.session.select(zone_id="cloak")
    page.steps.table.setCurrentIndex(page.steps.model.index(3, 0))
    page.steps.table.activated.emit(page.steps.model.index(3, 0))
    assert bridge.state.selection.step_id == "red"


def test_a_hidden_page_does_nothing_until_it_is_shown(page: BatchPage, bridge: Bridge) -> None:
    bridge.session.select(page=Page.PAINTS)
    bridge.edit("more", lambda p: replace(p, groups=(*p.groups, Group(id="x", name="x", count=3))))
    assert list(page.groups.list.rows) == ["rank", "captains"]
    bridge.session.select(page=Page.BATCH)
    assert list(page.groups.list.rows) == ["rank", "captains", "x"]


def test_tables_are_as_high_as_their_rows_and_long_names_do_not_widen_the_page(
    page: BatchPage, bridge: Bridge, window: MainWindow, qtbot: QtBot
) -> None:
    long = "Donaudampfschifffahrtsgesellschaftskapitänsmützenabzeichen & <b>Panzerplatten</b>"

    def lengthen(project: Project) -> Project:
        zones = tuple(replace(zone, name=f"{long} {zone.id}") for zone in project.zones)
        groups = tuple(replace(group, name=f"{long} {group.id}") for group in project.groups)
        return replace(project, zones=zones, groups=groups)

    bridge.edit("long names", lengthen)
    window.resize(1280, 720)

    def settled() -> None:
        for table in (page.steps.table, page.pots.table):
            head, rows = table.horizontalHeader().height(), table.verticalHeader().length()
            assert table.viewport().height() == pytest.approx(rows, abs=4), head
        column = page.area.widget()
        assert column is not None
        assert column.width() <= page.area.viewport().width()

    qtbot.waitUntil(settled)


def test_the_page_scrolls_to_where_the_keys_are(page: BatchPage, qtbot: QtBot) -> None:
    bar = page.area.verticalScrollBar()
    qtbot.waitUntil(lambda: bar.maximum() > 0)
    page.steps.table.setCurrentIndex(page.steps.model.index(0, 0))
    page.steps.table.setFocus()
    QTest.keyClick(page.steps.table, Qt.Key.Key_End, Qt.KeyboardModifier.ControlModifier)
    rect = page.steps.table.current_rect()
    at = page.steps.table.mapTo(page.area.viewport(), rect.center())
    assert page.area.viewport().rect().contains(at)


def test_zones_added_here_are_ready_to_be_named(page: BatchPage, bridge: Bridge) -> None:
    click(page.zones.add)
    new: Zone = bridge.state.project.zones[-1]
    assert page.zones.open_id == new.id
    assert editor(page, new.id).name.hasFocus()
    QTest.keyClicks(editor(page, new.id).name, "plates")
    QTest.keyClick(editor(page, new.id).name, Qt.Key.Key_Return)
    assert bridge.state.project.zones[-1].name == "plates"
