"""The painter's own numbers, a step's own words and times, and names of pots."""

from dataclasses import replace
from typing import Any

import pytest
from PySide6.QtCore import QModelIndex, Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication, QLineEdit, QPlainTextEdit
from pytestqt.qtbot import QtBot

from schemeforge import plan
from schemeforge.gui.batch.page import BatchPage
from schemeforge.gui.bridge import Bridge
from schemeforge.gui.main_window import MainWindow
from schemeforge.scheme import Habits, Step, edits
from schemeforge.scheme.settings import Way
from schemeforge.scheme.techniques import defaults_for
from tests.builders import small_project
from tests.gui.batch.driving import choose, click, type_into

# Shown value, then what the document is to hold.
NUMBERS: dict[str, tuple[float, Any]] = {
    "waste": (2.25, 2.25),
    "stays_in_pot_ml": (1.2, 1.2),
    "overspray": (30.0, 0.3),
    "drop_ml": (0.04, 0.04),
    "sub_batch": (9.0, 9),
    "hands": (2.0, 2),
    "hand_sigma": (22.0, 0.22),
    "mixing_minutes": (7.5, 7.5),
    "sitting_minutes": (12.0, 12.0),
    "brush_change_minutes": (2.0, 2.0),
    "spray_change_minutes": (9.0, 9.0),
    "break_every_minutes": (30.0, 30.0),
    "break_minutes": (4.0, 4.0),
}


def step_of(bridge: Bridge, step_id: str) -> Step:
    return bridge.state.project.schemes[0].step(step_id)


def write_note(box: QPlainTextEdit, text: str) -> None:
    box.setFocus()
    box.selectAll()
    QTest.keyClicks(box, text)


def test_every_number_of_the_habits_can_be_changed() -> None:
    assert {*NUMBERS, "way"} == set(Habits.__dataclass_fields__)


@pytest.mark.parametrize("key", sorted(NUMBERS))
def test_a_number_of_ones_own_is_one_edit(page: BatchPage, bridge: Bridge, key: str) -> None:
    shown, wanted = NUMBERS[key]
    box = page.numbers.boxes[key]
    before = box.value()
    box.setValue(shown)
    assert bridge.state.project.habits == replace(Habits(), **{key: wanted})
    assert "Common practice" in box.toolTip()
    bridge.session.undo()
    assert bridge.state.project == small_project()
    assert box.value() == before


def test_pots_follow_the_waste_and_go_back_to_common_practice(
    page: BatchPage, bridge: Bridge
) -> None:
    assert not page.numbers.usual.isEnabled()
    page.numbers.boxes["waste"].setValue(3.0)
    project = bridge.state.project
    wanted = plan.pots(project, project.schemes[0])
    assert [row[3] for row in page.pots.model.rows] == [f"{pot.ml:.1f}" for pot in wanted]
    click(page.numbers.usual)
    assert bridge.state.project.habits == Habits()


def test_the_order_of_the_models_is_chosen(page: BatchPage, bridge: Bridge) -> None:
    choose(page.numbers.way, Way.BY_GROUP.value)
    assert bridge.state.project.habits.way is Way.BY_GROUP


def test_observer_and_milkiness_come_with_the_numbers(page: BatchPage, bridge: Bridge) -> None:
    assert page.numbers.exact.isHidden()
    bridge.session.prefer(numbers=True)
    assert page.numbers.exact.isVisible()
    click(page.numbers.observer.button("10"))
    page.numbers.milk.setValue(0.002)
    assert bridge.state.project.viewing.observer == 10
    assert bridge.state.project.viewing.milk_per_um == 0.002
    bridge.session.undo()
    bridge.session.undo()
    assert bridge.state.project == small_project()
    assert page.numbers.observer.value == "2"


@pytest.mark.parametrize("name", ["keep_out", "look_for", "cure", "note"])
def test_what_the_sheet_says_of_a_step_is_written_here(
    page: BatchPage, bridge: Bridge, name: str
) -> None:
    page.steps.table.setCurrentIndex(page.steps.model.index(2, 0))
    step_id = bridge.state.project.schemes[0].steps[2].id
    box = page.steps.editor.texts[name]
    write_note(box, "the <b>blade</b>")
    box.clearFocus()
    assert getattr(step_of(bridge, step_id), name) == "the <b>blade</b>"
    write_note(box, "something else")
    QTest.keyClick(box, Qt.Key.Key_Escape)
    box.clearFocus()
    assert getattr(step_of(bridge, step_id), name) == "the <b>blade</b>"
    bridge.session.undo()
    assert bridge.state.project == small_project()
    assert box.toPlainText() == getattr(step_of(bridge, step_id), name)


def test_undo_in_a_note_is_that_of_the_document(
    page: BatchPage, bridge: Bridge, window: MainWindow, qtbot: QtBot
) -> None:
    del window
    page.numbers.boxes["waste"].setValue(3.0)
    box = page.steps.editor.texts["note"]
    box.setFocus()
    QTest.keyClick(box, Qt.Key.Key_Z, Qt.KeyboardModifier.ControlModifier)
    qtbot.waitUntil(lambda: bridge.state.project == small_project())


@pytest.mark.parametrize("name", ["minutes_per_model", "set_up_minutes", "wait_minutes"])
def test_times_of_a_step_are_the_trades_until_one_is_given(
    page: BatchPage, bridge: Bridge, window: MainWindow, name: str
) -> None:
    page.steps.table.setCurrentIndex(page.steps.model.index(2, 0))
    step = bridge.state.project.schemes[0].steps[2]
    usual = getattr(defaults_for(step), name)
    box = page.steps.editor.times[name]
    type_into(box, "7,5")
    assert getattr(step_of(bridge, step.id), name) == 7.5
    type_into(box, "soon")
    assert '"soon" is no number of minutes' in window.notice.text
    assert box.text() == "7.5"
    type_into(box, "99999")
    assert "outside" in window.notice.text
    assert box.text() == "7.5"
    type_into(box, "")
    assert getattr(step_of(bridge, step.id), name) is None
    assert box.text() == ""
    assert float(box.placeholderText()) == usual


def test_a_step_by_name_only_is_for_those_who_name_it(page: BatchPage, bridge: Bridge) -> None:
    page.steps.table.setCurrentIndex(page.steps.model.index(2, 0))
    step = bridge.state.project.schemes[0].steps[2]
    page.steps.editor.by_name.click()
    assert step_of(bridge, step.id).by_name_only is not step.by_name_only
    bridge.session.undo()
    assert page.steps.editor.by_name.isChecked() is step.by_name_only


def test_the_current_row_stays_with_its_step(page: BatchPage, bridge: Bridge) -> None:
    page.steps.table.setCurrentIndex(page.steps.model.index(3, 0))
    step = bridge.state.project.schemes[0].steps[3]
    bridge.edit("x", lambda p: edits.rename_step(p, p.schemes[0].id, step.id, "another name"))
    assert page.steps.table.currentIndex().row() == 3
    assert page.steps.editor.heading.text() == "Step 4, another name"
    first = bridge.state.project.schemes[0].steps[2]
    bridge.edit("x", lambda p: edits.remove_step(p, p.schemes[0].id, first.id))
    assert page.steps.table.currentIndex().row() == 2
    assert page.steps.editor.heading.text() == "Step 3, another name"


def test_enter_picks_a_step_on_another_zone_too(page: BatchPage, bridge: Bridge) -> None:
    scheme = bridge.state.project.schemes[0]
    zone = bridge.state.selection.zone_id
    row, step = next(
        (n, s) for n, s in enumerate(scheme.steps) if s.zone_ids and zone not in s.zone_ids
    )
    page.steps.table.activated.emit(page.steps.model.index(row, 0))
    assert bridge.state.selection.step_id == step.id


def rename_in_row(page: BatchPage, index: QModelIndex, name: str) -> None:
    page.pots.table.setFocus()
    page.pots.table.setCurrentIndex(index)
    QTest.keyClick(page.pots.table, Qt.Key.Key_F2)
    field = QApplication.focusWidget()
    assert isinstance(field, QLineEdit)
    field.selectAll()
    QTest.keyClicks(field, name)
    QTest.keyClick(field, Qt.Key.Key_Return)


def test_a_pot_is_renamed_in_its_row(
    page: BatchPage, bridge: Bridge, window: MainWindow, qtbot: QtBot
) -> None:
    scheme = bridge.state.project.schemes[0]
    mix = plan.pots(bridge.state.project, scheme)[1].mix
    index = page.pots.model.index(1, 1)
    rename_in_row(page, index, "Reed  water")
    qtbot.waitUntil(lambda: bridge.state.project.schemes[0].mix(mix.id).name == "Reed water")
    assert page.pots.model.rows[1][1].startswith("Reed water\n")
    assert bridge.state.undo_label == "rename a pot"
    assert page.pots.table.currentIndex().row() == 1
    rename_in_row(page, index, " ")
    qtbot.waitUntil(lambda: "no name" in window.notice.text)
    assert bridge.state.project.schemes[0].mix(mix.id).name == "Reed water"
