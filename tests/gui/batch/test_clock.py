"""The step clock as it is used at the desk: keys, the file behind them, and what is asked."""

import os
import signal
import subprocess
import sys
import textwrap
import time
from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path

import pytest
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest
from pytestqt.qtbot import QtBot

from schemeforge import plan
from schemeforge.desk import Page, Places, Session
from schemeforge.gui.batch.clock_face import LEAST_FIGURE
from schemeforge.gui.batch.clock_panel import ClockPanel
from schemeforge.gui.batch.keeper import ClockKeeper
from schemeforge.gui.batch.page import BatchPage
from schemeforge.gui.bridge import Bridge
from schemeforge.gui.main_window import MainWindow
from schemeforge.plan import ClockFile, PaceBasis, Target
from schemeforge.scheme.project_file import save
from tests.builders import small_project
from tests.gui.batch.driving import click
from tests.gui.opening import opened
from tests.plan.watches import Watch

Key = Qt.Key


@pytest.fixture
def watch(page: BatchPage) -> Watch:
    """The clock of the page goes by a watch of ours."""
    made = Watch()
    page.keeper._now = made
    return made


@pytest.fixture
def panel(qtbot: QtBot, page: BatchPage, watch: Watch) -> ClockPanel:
    """The clock with a plan beside it and the keyboard on it."""
    del watch
    qtbot.waitUntil(lambda: page.planner.latest is not None, timeout=20_000)
    page.window().activateWindow()
    page.clock.panel.setFocus()
    return page.clock.panel


def press(panel: ClockPanel, *keys: Qt.Key) -> None:
    for key in keys:
        QTest.keyClick(panel, key)


def journal(page: BatchPage) -> Path:
    return page.keeper._path


def test_space_starts_what_the_plan_would_do_now(page: BatchPage, panel: ClockPanel) -> None:
    made = page.planner.latest
    assert made is not None
    assert made.standing.do_now is not None
    press(panel, Key.Key_Space)
    target = page.keeper.state.target
    assert target is not None
    assert (target.step_id, target.group_id) == (
        made.standing.do_now.step.id,
        made.standing.do_now.group.id,
    )
    assert target.sitting_id == "evening"
    assert page.keeper.state.running
    assert "running" in panel.face.showing.state
    press(panel, Key.Key_Space)
    assert not page.keeper.state.running
    assert "paused" in panel.face.showing.state


def test_every_press_is_on_disk_before_it_shows(page: BatchPage, panel: ClockPanel) -> None:
    shown = []

    def read_back() -> None:
        # a reader of its own; the watch stands still, so that looking changes nothing
        copy = journal(page).with_suffix(".copy")
        copy.write_bytes(journal(page).read_bytes())
        on_disk = ClockFile(copy, page.keeper._now).state
        assert replace(on_disk, at=None) == replace(page.keeper.state, at=None)
        shown.append(page.keeper.state)

    page.keeper.changed.connect(read_back)
    press(panel, Key.Key_Space, Key.Key_Return, Key.Key_Down, Key.Key_Space, Key.Key_End)
    assert len(shown) >= 5


def test_models_that_are_timed_feed_the_plan(
    qtbot: QtBot, page: BatchPage, panel: ClockPanel, bridge: Bridge, watch: Watch
) -> None:
    panel.begin("wash", "rank")
    for _ in range(3):
        watch.passes(90.0)
        press(panel, Key.Key_Return)
    (timing,) = bridge.state.project.timings
    assert (timing.step_id, timing.group_id, timing.models) == ("wash", "rank", 3)
    assert timing.minutes == pytest.approx(4.5)
    assert timing.sitting_id == "evening"
    assert bridge.state.undo_label == "time at the clock"
    assert panel.face.showing.models == "4 of 10"

    def followed() -> bool:
        made = page.planner.latest
        return made is not None and made.paces["wash"].basis is PaceBasis.TIMED

    qtbot.waitUntil(followed, timeout=20_000)
    made = page.planner.latest
    assert made is not None
    assert made.paces["wash"].minutes == pytest.approx(1.5)
    assert made.progress.done["wash", "rank"] == 3
    bridge.session.undo()
    assert not bridge.state.project.timings
    press(panel, Key.Key_Return)
    assert [t.models for t in bridge.state.project.timings] == [4], "the clock has them all"


def test_several_models_at_once_and_the_last_of_the_group(
    page: BatchPage, panel: ClockPanel, bridge: Bridge, watch: Watch
) -> None:
    panel.begin("prime", "rank")
    watch.passes(60.0)
    press(panel, Key.Key_9)
    watch.passes(20.0)
    assert page.keeper.finishing() == 1
    press(panel, Key.Key_Down)
    assert [t.models for t in bridge.state.project.timings] == [10]
    target = page.keeper.state.target
    assert target is not None
    assert target.step_id != "prime" or target.group_id != "rank"


def test_a_model_that_was_hardly_begun_is_not_done(
    page: BatchPage, panel: ClockPanel, bridge: Bridge, watch: Watch
) -> None:
    panel.begin("mud", "rank")  # 1.5 minutes a model by the painter's figure
    watch.passes(90.0)
    press(panel, Key.Key_Return)
    watch.passes(10.0)
    assert page.keeper.finishing() == 0
    press(panel, Key.Key_End)
    assert [t.models for t in bridge.state.project.timings] == [1]
    assert page.keeper.state.is_idle


def test_starting_what_is_in_hand_counts_nothing(
    page: BatchPage, panel: ClockPanel, bridge: Bridge, watch: Watch
) -> None:
    panel.begin("wash", "rank")
    watch.passes(600.0)
    panel.begin("wash", "rank")
    assert not bridge.state.project.timings
    assert page.keeper.state.running
    press(panel, Key.Key_Space)
    panel.begin("wash", "rank")
    assert page.keeper.state.running
    assert len(page.keeper.state.stints) == 1
    assert page.keeper.state.seconds(watch()) == pytest.approx(600.0)


def test_test_models_time_the_plan_and_are_not_part_of_the_batch(
    page: BatchPage, panel: ClockPanel, bridge: Bridge, watch: Watch
) -> None:
    panel.choice.test.click()
    panel.begin("wash", "rank")
    watch.passes(240.0)
    press(panel, Key.Key_Return)
    assert panel.face.showing.models == "test 2"
    project = bridge.state.project
    (timing,) = project.timings
    assert timing.is_test
    scheme = project.schemes[0]
    assert plan.paces(project, scheme)["wash"].minutes == pytest.approx(4.0)
    assert plan.progress(project, scheme).done == {}
    assert page.keeper.left() == 1


def test_a_computer_that_slept_is_asked_about(
    page: BatchPage, panel: ClockPanel, bridge: Bridge, watch: Watch
) -> None:
    panel.begin("wash", "rank")
    watch.passes(30.0)
    watch.sleeps(600.0)
    page.keeper.beat()
    assert panel.question.isVisible()
    assert "10 minutes" in panel.question.text()
    assert not panel.go.isVisible()
    press(panel, Key.Key_Space)
    assert page.keeper.state.gap is not None, "only an answer answers"
    press(panel, Key.Key_Backspace)
    assert page.keeper.state.running
    watch.passes(30.0)
    press(panel, Key.Key_Return)
    assert bridge.state.project.timings[0].minutes == pytest.approx(1.0)
    watch.sleeps(120.0)
    press(panel, Key.Key_Return)  # brings the gap to light and does nothing else
    assert bridge.state.project.timings[0].models == 1
    press(panel, Key.Key_Return, Key.Key_Return)
    assert bridge.state.project.timings[0].models == 2
    assert bridge.state.project.timings[0].minutes == pytest.approx(3.0)


def test_a_clock_set_back_and_daylight_saving_count_what_really_passed(
    panel: ClockPanel, bridge: Bridge, watch: Watch, monkeypatch: pytest.MonkeyPatch
) -> None:
    panel.begin("wash", "rank")
    watch.passes(60.0)
    watch.wall -= 7200.0
    watch.passes(60.0)
    monkeypatch.setenv("TZ", "Europe/Vienna")
    time.tzset()
    watch.wall = 1_901_145_000.0  # minutes before summer time ends in 2030
    press(panel, Key.Key_Return)
    if not panel.question.isHidden():
        press(panel, Key.Key_Backspace, Key.Key_Return)
    watch.passes(1800.0)
    press(panel, Key.Key_Return)
    monkeypatch.undo()
    time.tzset()
    (timing,) = bridge.state.project.timings
    assert timing.minutes == pytest.approx(32.0)
    assert timing.at.endswith("+00:00")


def test_the_figures_can_be_read_from_two_metres(
    qtbot: QtBot, page: BatchPage, panel: ClockPanel, window: MainWindow
) -> None:
    # 10 mm from 2 m (an eye reads print from two hundred times its height away); digits are about
    # 0.72 of their font, and 96 px an inch are 3.8 px a millimetre.
    assert panel.face.figure_height() * 0.72 / 3.8 >= 10.0
    assert panel.face.figure_height() >= LEAST_FIGURE
    window.resize(1280, 720)
    press(panel, Key.Key_F)
    large = page.large
    assert large is not None
    qtbot.waitUntil(large.isVisible)
    assert large.face.figure_height() > 1.8 * LEAST_FIGURE
    assert all(key.height() >= 48 for key in (*panel.keys, *large.keys))
    press(large, Key.Key_Space)
    assert page.keeper.state.running
    press(large, Key.Key_Escape)
    assert page.area.isVisible()
    assert not large.isVisible()
    assert "running" in panel.face.showing.state


def test_a_press_that_cannot_be_written_is_told_and_does_not_count(
    page: BatchPage, panel: ClockPanel, window: MainWindow, monkeypatch: pytest.MonkeyPatch
) -> None:
    panel.begin("wash", "rank")
    before = page.keeper.state

    def full(_handle: int) -> None:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(os, "fsync", full)
    press(panel, Key.Key_Return)
    assert page.keeper.state == before
    assert "clock's journal cannot be written" in window.notice.text


def test_the_clock_goes_along_when_the_project_is_saved(
    page: BatchPage, panel: ClockPanel, bridge: Bridge, watch: Watch, tmp_path: Path
) -> None:
    panel.begin("wash", "rank")
    unsaved = journal(page)
    bridge.session.save(tmp_path / "marsh.schemeforge")
    assert journal(page) != unsaved
    assert not unsaved.exists()
    assert page.keeper.state.running
    assert page.keeper.state.gap is None
    watch.passes(60.0)
    press(panel, Key.Key_Return)
    assert bridge.state.project.timings[0].models == 1


def test_a_project_saved_over_another_does_not_take_its_clock(
    page: BatchPage, panel: ClockPanel, bridge: Bridge, watch: Watch, tmp_path: Path
) -> None:
    file = tmp_path / "marsh.schemeforge"
    bridge.session.save(file)
    panel.begin("wash", "rank")
    watch.passes(60.0)
    press(panel, Key.Key_3)
    first = journal(page)
    bridge.session.begin(replace(small_project(), id="other"))
    bridge.session.save(file)
    assert journal(page) == first
    assert page.keeper.state.is_idle
    assert page.keeper.loose() == ()
    assert first.with_name(f"{first.name}.old").exists()


def test_another_project_has_a_clock_of_its_own(
    page: BatchPage, panel: ClockPanel, bridge: Bridge, tmp_path: Path
) -> None:
    panel.begin("wash", "rank")
    other = tmp_path / "other.schemeforge"
    save(replace(small_project(), id="other"), other)
    bridge.session.open(other)
    assert page.keeper.state.is_idle
    bridge.session.begin(small_project())
    assert not page.keeper.state.is_idle


@pytest.fixture
def second(qtbot: QtBot, page: BatchPage, places: Places) -> Iterator[Bridge]:
    """Another window on the same project."""
    del qtbot, page
    session = Session(small_project(), places=places)
    made = Bridge(session)
    yield made
    made.close()
    session.close()


def test_a_second_window_does_not_press_the_same_clock(
    page: BatchPage, panel: ClockPanel, second: Bridge
) -> None:
    panel.begin("wash", "rank")
    told: list[str] = []
    second.problem.connect(told.append)
    keeper = ClockKeeper(second, parent=second)
    assert "another window" in keeper.trouble
    target = Target(scheme_id="first", step_id="wash", group_id="rank")
    assert not keeper.start(target)
    assert "another window" in told[-1]
    assert page.keeper.state.running
    page.keeper.close()
    assert keeper.start(target) or keeper.state.gap is not None


def test_what_the_project_lost_is_offered(
    page: BatchPage, panel: ClockPanel, bridge: Bridge, watch: Watch
) -> None:
    panel.begin("wash", "rank")
    watch.passes(60.0)
    press(panel, Key.Key_4, Key.Key_End)
    bridge.session.begin(small_project())  # as after "do not save"
    assert not bridge.state.project.timings
    assert "4 models on record" in panel.question.text()
    click(panel.yes)
    assert [t.models for t in bridge.state.project.timings] == [4]
    assert not panel.question.isVisible()
    bridge.session.begin(small_project())
    press(panel, Key.Key_Backspace)
    assert bridge.state.project.timings == ()
    assert not panel.question.isVisible()
    assert journal(page).with_name(journal(page).name + ".old").exists()


def test_the_clock_begins_an_empty_file_once_all_is_saved(
    page: BatchPage, panel: ClockPanel, bridge: Bridge, watch: Watch, tmp_path: Path
) -> None:
    panel.begin("wash", "rank")
    watch.passes(60.0)
    press(panel, Key.Key_Return, Key.Key_End)
    bridge.session.save(tmp_path / "marsh.schemeforge")
    first = bridge.state.project.timings
    panel.begin("wash", "rank")
    assert len(page.keeper.state.stints) == 1
    watch.passes(60.0)
    press(panel, Key.Key_Return)
    assert bridge.state.project.timings[:1] == first
    assert len(bridge.state.project.timings) == 2


def test_records_can_be_taken_out(
    page: BatchPage, panel: ClockPanel, bridge: Bridge, watch: Watch
) -> None:
    panel.begin("wash", "rank")
    watch.passes(60.0)
    press(panel, Key.Key_2, Key.Key_End)
    (row,) = page.records.list.rows.values()
    assert "2 rank and file" in row.said.text()
    click(row.remove)
    assert bridge.state.project.timings == ()
    assert page.records.isHidden()
    bridge.session.undo()
    assert not page.records.isHidden()


KILLED = """
    import sys
    from pathlib import Path
    from schemeforge.desk import Page, Places, Session
    from schemeforge.gui.app import make_application
    from schemeforge.gui.bridge import Bridge
    from schemeforge.gui.main_window import MainWindow
    from tests.builders import small_project

    app = make_application()
    folder = Path(sys.argv[1])
    session = Session(small_project(), places=Places(data=folder, settings=folder))
    session.select(page=Page.BATCH)
    window = MainWindow(Bridge(session))
    window.show()
    page = window.page(Page.BATCH)
    page.clock.panel.begin("wash", "rank")
    done = 0
    while True:
        page.clock.panel.done_with(1)
        done += 1
        print(page.keeper.state.stints[-1].models, flush=True)
        app.processEvents()
"""


def test_killed_at_any_moment_nothing_that_was_shown_is_lost(qtbot: QtBot, tmp_path: Path) -> None:
    folder = tmp_path / "home"
    folder.mkdir()
    child = subprocess.Popen(  # noqa: S603 - our own interpreter on our own code
        [sys.executable, "-c", textwrap.dedent(KILLED), str(folder)],
        stdout=subprocess.PIPE,
        text=True,
        env={**os.environ, "QT_QPA_PLATFORM": "offscreen"},
        cwd=Path(__file__).parents[3],
    )
    assert child.stdout is not None
    shown = 0
    for line in child.stdout:
        shown = int(line)
        if shown >= 7:
            child.send_signal(signal.SIGKILL)
            break
    rest = child.stdout.read().split()
    child.wait()
    child.stdout.close()
    shown = max([shown, *(int(word) for word in rest if word.isdigit())])
    assert child.returncode == -signal.SIGKILL

    session = Session(small_project(), places=Places(data=folder, settings=folder))
    bridge = Bridge(session)
    window = opened(qtbot, bridge, Page.BATCH)
    page = window.page(Page.BATCH)
    assert isinstance(page, BatchPage)
    gap = page.keeper.state.gap
    assert gap is not None
    assert not gap.slept
    panel = page.clock.panel
    assert panel.question.text() == gap.sentence
    assert "ended while the clock ran" in gap.sentence
    assert shown <= page.keeper.state.stints[-1].models <= shown + 1
    press(panel, Key.Key_Backspace)
    assert page.keeper.state.running
    assert "on record" in panel.question.text(), "the project had no time to hold them"
    press(panel, Key.Key_Return)
    assert bridge.state.project.timings[0].models >= shown
    bridge.close()
    session.close()


def test_a_window_that_opens_says_that_the_clock_waits(
    page: BatchPage, panel: ClockPanel, window: MainWindow, bridge: Bridge, watch: Watch
) -> None:
    window.offers.offer_clock()
    assert window.notice.text == "", "nothing was ever clocked"
    panel.begin("wash", "rank")
    watch.passes(60.0)
    bridge.session.select(page=Page.COATS)
    window.offers.offer_clock()
    assert "still has a step in hand" in window.notice.text
    watch.sleeps(600.0)
    page.keeper.beat()
    window.offers.offer_clock()
    window.offers._go_to_the_clock()
    assert bridge.state.selection.page is Page.BATCH
    assert panel.hasFocus()


def test_a_damaged_file_is_told_and_costs_that_press_alone(
    page: BatchPage, panel: ClockPanel, bridge: Bridge, watch: Watch, tmp_path: Path
) -> None:
    panel.begin("wash", "rank")
    watch.passes(60.0)
    press(panel, Key.Key_Return, Key.Key_End)
    file = journal(page)
    lines = file.read_bytes().splitlines(keepends=True)
    file.write_bytes(b"".join(lines[:-1]) + lines[-1].replace(b"stop", b"spot"))
    other = tmp_path / "other.schemeforge"
    save(replace(small_project(), id="other"), other)
    bridge.session.open(other)
    assert page.clock.trouble.isHidden()
    bridge.session.begin(small_project())
    assert page.keeper.state.stints[-1].models == 1
    assert "could not be read" in page.clock.trouble.text()
    assert not page.clock.trouble.isHidden()
