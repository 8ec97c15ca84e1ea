"""The sittings as they are drawn: where things stand, the keys, pins, and what is told in words."""

from dataclasses import replace
from datetime import UTC, datetime
from pathlib import Path

import pytest
from PySide6.QtCore import QPoint, Qt
from PySide6.QtGui import QAccessible
from PySide6.QtTest import QTest
from pytestqt.qtbot import QtBot

from schemeforge import plan
from schemeforge.gui.batch.evening_words import block_words, over_words, remark_words
from schemeforge.gui.batch.evenings import Evenings
from schemeforge.gui.batch.making import Made
from schemeforge.gui.batch.page import BatchPage
from schemeforge.gui.bridge import Bridge
from schemeforge.gui.main_window import MainWindow
from schemeforge.scheme import Group, Project, Sitting, Step, Work, WorkKind, edits
from tests.builders import small_project
from tests.gui.batch.driving import choose, click
from tests.plan.batch import work

Key = Qt.Key


def planned(qtbot: QtBot, page: BatchPage) -> Made:
    """The plan of the document as it is now."""

    def current() -> bool:
        made = page.planner.latest
        return made is not None and made.project is page.bridge.state.project

    qtbot.waitUntil(current, timeout=20_000)
    made = page.planner.latest
    assert made is not None
    return made


@pytest.fixture
def evenings(qtbot: QtBot, page: BatchPage, bridge: Bridge) -> Evenings:
    """Three short sittings of the small batch, drawn, with the keyboard on them."""

    def shorter(project: Project) -> Project:
        sittings = tuple(Sitting(id=f"s{n}", minutes=40.0, day=f"2099-05-0{n}") for n in (1, 2, 3))
        return replace(project, sittings=sittings)

    bridge.edit("sittings", shorter)
    planned(qtbot, page)
    page.window().activateWindow()
    page.time_line.evenings.setFocus()
    return page.time_line.evenings


def test_everything_in_the_plan_is_drawn_to_scale(
    qtbot: QtBot, page: BatchPage, evenings: Evenings
) -> None:
    made = page.planner.latest
    assert made is not None
    stretches = [s for sitting in made.schedule.sittings for s in sitting.stretches]
    assert [block.stretch for block in evenings.blocks] == stretches
    scale = evenings._layout.scale
    for block in evenings.blocks:
        assert block.box.width() == pytest.approx((block.stretch.end - block.stretch.start) * scale)
        assert block.box.right() <= evenings.width()
    counts = {block.box.height(): block.stretch.count for block in evenings.blocks}
    assert [counts[height] for height in sorted(counts)] == sorted(counts.values())
    for board in evenings.boards:
        assert board.line.width() == pytest.approx(board.sitting.minutes * scale)
        for drip in board.drips:
            assert drip.end <= board.line.right() + 1e-6
    qtbot.waitUntil(lambda: evenings.height() >= evenings._layout.height)


def test_the_arrows_walk_and_everything_is_said(evenings: Evenings) -> None:
    QTest.keyClick(evenings, Key.Key_Home)
    assert evenings.current is evenings.blocks[0]
    said = QAccessible.queryAccessibleInterface(evenings).text(QAccessible.Text.Description)
    assert said.startswith("1 prime, ")
    assert "rank and file" in said
    assert "sitting 1" in said
    QTest.keyClick(evenings, Key.Key_Right)
    assert evenings.current is evenings.blocks[1]
    assert evenings.accessibleDescription() == block_words(evenings.blocks[1])
    QTest.keyClick(evenings, Key.Key_Home)
    for number in (2, 3, 2, 1):
        before = evenings.current
        assert before is not None
        up = before.sitting.number > number
        QTest.keyClick(evenings, Key.Key_Up if up else Key.Key_Down)
        current = evenings.current
        assert current is not None
        assert current.sitting.number == number
    QTest.keyClick(evenings, Key.Key_End)
    assert evenings.current is evenings.blocks[-1]
    QTest.keyClick(evenings, Key.Key_Right)
    assert evenings.current is evenings.blocks[-1]


def test_a_click_picks_and_the_panel_tells(page: BatchPage, evenings: Evenings) -> None:
    block = next(b for b in evenings.blocks if b.stretch.step.id == "prime")
    at = block.box.center().toPoint() + QPoint(3, 3)
    QTest.mouseClick(evenings, Qt.MouseButton.LeftButton, pos=at)
    picked = page.time_line.picked
    assert picked.heading.text() == "1  prime"
    made = page.planner.latest
    assert made is not None
    assert "trade default" in picked.facts.text()
    assert "pot A" in picked.facts.text()
    assert "then dries 2 h 00 min" in picked.facts.text()
    assert picked.care.text().startswith("Spraying:")
    assert "label" in picked.defer.text()


def test_keys_pin_and_let_go_and_undo_does_too(
    qtbot: QtBot, page: BatchPage, evenings: Evenings, bridge: Bridge
) -> None:
    evenings.pick(next(b.index for b in evenings.blocks if b.stretch.step.id == "mud"))
    QTest.keyClick(evenings, Key.Key_3)
    (pin,) = bridge.state.project.pins
    assert (pin.scheme_id, pin.step_id, pin.sitting_id) == ("first", "mud", "s3")
    assert bridge.state.undo_label == "pin a step"
    planned(qtbot, page)
    current = evenings.current
    assert current is not None
    assert current.stretch.step.id == "mud"
    assert current.sitting.number >= 3
    assert current.pinned == 3
    assert "pinned to sitting 3" in evenings.accessibleDescription()
    assert page.time_line.picked.pin.currentData() == "s3"
    QTest.keyClick(evenings, Key.Key_Delete)
    assert not bridge.state.project.pins
    bridge.session.undo()
    assert bridge.state.project.pins == (pin,)
    bridge.session.undo()
    assert not bridge.state.project.pins


def test_the_menu_and_the_panel_pin_too(
    qtbot: QtBot, page: BatchPage, evenings: Evenings, bridge: Bridge
) -> None:
    evenings.pick(0)
    menu = evenings.pin_menu()
    texts = [action.text() for action in menu.actions() if action.text()]
    assert texts[0] == "&1: pin to sitting 1, 2099-05-01"
    assert texts[-1] == "&Unpin: wherever it fits"
    menu.actions()[1].trigger()
    assert bridge.state.project.pins[0].sitting_id == "s2"
    planned(qtbot, page)
    choose(page.time_line.picked.pin, "")
    assert bridge.state.project.pins == ()


def test_more_than_a_sitting_holds_is_told_and_drawn(
    qtbot: QtBot, page: BatchPage, evenings: Evenings, bridge: Bridge
) -> None:
    for step in ("prime", "wash", "mud"):
        bridge.edit("pin", lambda p, s=step: edits.pin_step(p, "first", s, "s1"))  # type: ignore[misc]
    made = planned(qtbot, page)
    (found,) = made.schedule.overfull
    assert page.time_line.findings.text() == found.sentence
    assert "too much" in found.sentence
    board = evenings.boards[0]
    assert board.overfull == found
    assert "overfull" in remark_words(board)
    assert over_words(board).startswith("+ ")
    spilled = [block for block in evenings.blocks if block.spilled]
    assert {block.stretch.step.id for block in spilled} == {s.step.id for s in found.spills}
    assert "no room in sitting 1" in block_words(spilled[0])


def test_a_step_done_without_the_clock_leaves_the_plan(
    qtbot: QtBot, page: BatchPage, evenings: Evenings, bridge: Bridge
) -> None:
    first = evenings.blocks[0]
    evenings.pick(0)
    click(page.time_line.picked.done)
    timings = bridge.state.project.timings
    assert sum(t.models for t in timings) == round(first.stretch.count)
    assert all(t.minutes == 0.0 and t.step_id == "prime" for t in timings)
    made = planned(qtbot, page)
    assert sum(made.progress.done.values()) == round(first.stretch.count)
    assert bridge.state.undo_label == "mark as done"


def test_enter_picks_the_step_on_every_page(evenings: Evenings, bridge: Bridge) -> None:
    evenings.pick(next(b.index for b in evenings.blocks if b.stretch.step.id == "wash"))
    QTest.keyClick(evenings, Key.Key_Return)
    assert bridge.state.selection.step_id == "wash"


def test_the_calendar_file_holds_the_sittings(
    page: BatchPage, evenings: Evenings, bridge: Bridge, window: MainWindow, tmp_path: Path
) -> None:
    del evenings
    section = page.time_line
    assert section.write_calendar(tmp_path / "marsh.ics")
    text = (tmp_path / "marsh.ics").read_text("utf-8")
    assert text.count("BEGIN:VEVENT") == 3
    assert "DTSTART;VALUE=DATE:20990501" in text
    assert window.notice.text == "Wrote marsh.ics."
    section.all_day.click()
    assert section.begins.isEnabled()
    assert section.write_calendar(tmp_path / "marsh.ics")
    assert "DTSTART:20990501T190000" in (tmp_path / "marsh.ics").read_text("utf-8")
    assert not section.write_calendar(tmp_path / "nowhere" / "marsh.ics")
    assert "nowhere" in window.notice.text
    assert bridge.state.project.sittings[0].day == "2099-05-01"


def test_the_worked_batch(qtbot: QtBot, page: BatchPage, bridge: Bridge) -> None:
    """40 models, three sittings of 480 minutes; common practice, no source."""

    def batch(_project: Project) -> Project:
        project = small_project()
        minutes = {"clean": 12.0, "base": 5.0, "prime": 3.75, "spray": 3.75}
        steps = (
            replace(work("clean", WorkKind.CLEANING), minutes_per_model=12.0),
            Step(
                id="texture",
                name="base",
                layer=Work(kind=WorkKind.TEXTURE),
                zone_ids=("base",),
                minutes_per_model=minutes["base"],
            ),
            *(
                replace(step, minutes_per_model=minutes.get(step.id, step.minutes_per_model))
                for step in project.schemes[0].steps
            ),
        )
        scheme = replace(project.schemes[0], steps=steps, shares=())
        sittings = tuple(Sitting(id=f"s{n}", minutes=480.0) for n in (1, 2, 3))
        made = replace(
            project,
            groups=(Group(id="all", name="all", count=40),),
            schemes=(scheme,),
            sittings=sittings,
        )
        for step, sitting in (
            ("clean", "s1"),
            ("texture", "s1"),
            ("prime", "s2"),
            ("spray", "s2"),
        ):
            made = edits.pin_step(made, scheme.id, step, sitting)
        return made

    bridge.edit("the worked batch", batch)
    made = planned(qtbot, page)
    (found,) = made.schedule.overfull
    # 40 x 12 + 40 x 5 = 680 minutes alone are more than 480.
    assert found.number == 1
    assert found.over_minutes > 200.0
    said = page.time_line.findings.text()
    assert said == found.sentence
    assert "Sitting 1 is overfull" in said
    assert "too much" in said
    assert "must go over" in said
    assert "the batch then ends in sitting" in said
    spilled = [block for block in page.time_line.evenings.blocks if block.spilled]
    assert {block.sitting.number for block in spilled if block.pinned == 1} == {2}
    in_two = [b for b in page.time_line.evenings.blocks if b.pinned == 2]
    assert min(b.sitting.number for b in in_two) == 2


def test_a_far_day_is_no_sitting_of_today(page: BatchPage, evenings: Evenings) -> None:
    del evenings
    target = page.clock.panel.choice.target()
    assert target is not None
    assert target.sitting_id == ""
    assert datetime.now(UTC).year < 2099
    assert plan.Target is type(target)


def test_what_is_told_opens_below_the_board_and_what_was_picked_stays_in_place(
    qtbot: QtBot, page: BatchPage, evenings: Evenings, window: MainWindow
) -> None:
    window.resize(1280, 720)
    picked = page.time_line.picked
    QTest.keyClick(evenings, Key.Key_Home)
    qtbot.waitUntil(lambda: evenings.height() >= evenings._layout.height)

    def told_below(number: int) -> bool:
        above = [b.line.bottom() for b in evenings.boards if b.sitting.number <= number]
        below = [b.title.top() for b in evenings.boards if b.sitting.number > number]
        return max(above) < picked.y() and picked.geometry().bottom() < min(below, default=1e9)

    assert told_below(1)
    block = next(b for b in evenings.blocks if b.sitting.number == 3)
    column = page.area.widget()
    assert column is not None
    at = evenings.mapTo(column, block.box.center()).toPoint()
    page.area.ensureVisible(0, at.y())
    before = evenings.mapTo(page.area.viewport(), block.box.center())
    evenings.clearFocus()
    evenings.pick(block.index)
    after = evenings.mapTo(page.area.viewport(), evenings.blocks[block.index].box.center())
    assert told_below(3)
    assert after.y() == pytest.approx(before.y(), abs=1.0)
    assert picked.heading.text().startswith(str(block.stretch.number))
    layout = picked.layout()
    assert layout is not None
    assert picked.height() >= layout.totalMinimumSize().height()
