"""The clock: pure folding of presses, and the journal on disk."""

import multiprocessing
import os
import signal
import time
from dataclasses import replace
from datetime import UTC, datetime
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from schemeforge.errors import FileError, InputError
from schemeforge.plan import clock_file
from schemeforge.plan.clock import (
    IDLE,
    ClockState,
    Event,
    Gap,
    Moment,
    Press,
    Target,
    check,
    pressed,
    replayed,
    timings,
)
from schemeforge.plan.clock_file import ClockFile, this_moment
from schemeforge.scheme import edits
from tests.builders import small_project
from tests.plan.watches import Watch

WASH = Target(scheme_id="first", step_id="wash", group_id="rank", sitting_id="evening")
RED = Target(scheme_id="first", step_id="red", group_id="captains", sitting_id="evening")


class Hand:
    """Presses keys and keeps the state."""

    def __init__(self) -> None:
        self.watch = Watch()
        self.state = IDLE

    def press(self, press: Press, target: Target | None = None, models: int = 0) -> ClockState:
        event = Event(press=press, at=self.watch(), target=target, models=models)
        self.state = pressed(self.state, event)
        return self.state


@pytest.fixture
def hand() -> Hand:
    hand = Hand()
    hand.press(Press.START, WASH)
    return hand


def test_models_are_timed_one_by_one(hand: Hand) -> None:
    hand.watch.passes(90)
    hand.press(Press.NEXT_MODEL)
    hand.watch.passes(60)
    hand.press(Press.NEXT_MODEL)
    (stint,) = hand.state.stints
    assert (stint.models, stint.seconds, stint.last_seconds) == (2, 150.0, 60.0)
    assert hand.state.counted == 0.0
    hand.watch.passes(7)
    assert hand.state.seconds(hand.watch()) == 7.0
    assert hand.state.sitting_seconds == 150.0


def test_several_models_may_be_done_with_one_press(hand: Hand) -> None:
    hand.watch.passes(300)
    assert hand.press(Press.NEXT_MODEL, models=6).stints[0].models == 6


def test_a_pause_does_not_count(hand: Hand) -> None:
    hand.watch.passes(30)
    hand.press(Press.PAUSE)
    assert not hand.state.running
    assert hand.state.seconds(hand.watch.passes(5)()) == 30.0
    hand.watch.passes(600)
    hand.press(Press.START)
    hand.watch.passes(30)
    hand.press(Press.NEXT_MODEL)
    assert hand.state.stints[0].seconds == 60.0


def test_the_next_step_ends_the_one_in_hand(hand: Hand) -> None:
    hand.watch.passes(60)
    hand.press(Press.NEXT_STEP, RED, models=1)
    hand.watch.passes(40)
    hand.press(Press.STOP, models=1)
    wash, red = hand.state.stints
    assert (wash.target, wash.models, wash.seconds) == (WASH, 1, 60.0)
    assert (red.target, red.models, red.seconds) == (RED, 1, 40.0)
    assert hand.state.is_idle
    assert hand.state.stint is None


def test_time_at_no_model_is_nobodys(hand: Hand) -> None:
    hand.watch.passes(60)
    hand.press(Press.NEXT_STEP, RED)
    assert hand.state.stints[0].seconds == 0.0
    assert hand.state.sitting_seconds == 60.0


def test_start_with_another_step_after_a_pause_turns_to_it(hand: Hand) -> None:
    hand.press(Press.PAUSE)
    assert hand.press(Press.START, RED).target == RED
    hand.press(Press.PAUSE)
    assert hand.press(Press.START, RED).running
    assert len(hand.state.stints) == 2


def test_a_laptop_that_slept_is_asked_about(hand: Hand) -> None:
    hand.watch.passes(30)
    hand.watch.sleeps(1800)
    state = hand.press(Press.BEAT)
    assert state.gap == Gap(seconds=1800.0, slept=True)
    assert not state.running
    assert state.counted == 30.0
    assert state.gap.sentence == (
        "The computer slept, or its clock was set, and 30 minutes passed: count them as painting "
        "time, or leave them out?"
    )
    # Nothing else is done until it is answered, and the time of asking does not count.
    hand.watch.passes(100)
    assert hand.press(Press.NEXT_MODEL).stints[0].models == 0
    counted = hand.press(Press.COUNT_GAP)
    assert (counted.running, counted.gap, counted.counted) == (True, None, 1830.0)


def test_a_gap_may_be_left_out(hand: Hand) -> None:
    hand.watch.passes(30)
    hand.watch.sleeps(60)
    hand.press(Press.NEXT_MODEL)
    assert hand.state.gap is not None
    hand.press(Press.DROP_GAP)
    hand.watch.passes(10)
    assert hand.press(Press.NEXT_MODEL).stints[0].seconds == 40.0


def test_a_sleep_while_paused_is_nobodys_business(hand: Hand) -> None:
    hand.press(Press.PAUSE)
    hand.watch.sleeps(9000)
    assert hand.press(Press.START).gap is None


def test_a_clock_set_back_counts_what_really_passed(hand: Hand) -> None:
    hand.watch.passes(60)
    hand.watch.sleeps(-7200)
    hand.press(Press.NEXT_MODEL)
    assert hand.state.stints[0].seconds == 60.0
    assert hand.state.gap is None


def test_small_corrections_of_the_wall_clock_are_no_gap(hand: Hand) -> None:
    hand.watch.passes(60)
    hand.watch.sleeps(9.0)
    assert hand.press(Press.NEXT_MODEL).gap is None


def test_daylight_saving_changes_nothing(hand: Hand) -> None:
    # Wall times are in UTC: the change of 30 March 2031 at 01:00 UTC in central Europe is no step.
    before = datetime(2031, 3, 30, 0, 59, 30, tzinfo=UTC).timestamp()
    hand.watch.wall = before
    hand.press(Press.BEAT)
    if hand.state.gap:
        hand.press(Press.DROP_GAP)
    done = hand.state.counted
    hand.watch.passes(60)
    hand.press(Press.NEXT_MODEL)
    assert hand.state.stints[0].seconds == pytest.approx(done + 60.0)
    (record,) = timings(hand.state, small_project(), "c")
    assert record.at == "2031-03-30T01:00:30+00:00"


def test_a_program_that_was_ended_is_asked_about(hand: Hand) -> None:
    hand.watch.passes(50)
    hand.press(Press.BEAT)
    hand.watch.starts_anew(600.0)
    state = hand.press(Press.BEAT)
    assert state.gap == Gap(seconds=600.0, slept=False)
    assert state.counted == 50.0
    assert "The program was ended while the clock ran, and 10 minutes passed" in state.gap.sentence
    hand.press(Press.COUNT_GAP)
    assert hand.press(Press.NEXT_MODEL).stints[0].seconds == 650.0


def test_a_program_ended_and_a_clock_set_back() -> None:
    hand = Hand()
    hand.press(Press.START, WASH)
    hand.watch.starts_anew(-100.0)
    state = hand.press(Press.BEAT)
    assert state.gap is not None
    assert state.gap.sentence.endswith("how long is not known; go on without it.")
    assert hand.press(Press.COUNT_GAP).counted == 0.0


def test_gaps_in_words() -> None:
    def words(seconds: float) -> str:
        return Gap(seconds=seconds, slept=True).sentence

    assert "less than a minute" in words(20.0)
    assert "and 1 minute passed" in words(61.0)
    assert "and 3.0 hours passed" in words(3 * 3600.0)


def test_the_face_of_another_run_does_not_guess(hand: Hand) -> None:
    hand.watch.passes(20)
    hand.press(Press.BEAT)
    assert hand.state.seconds(hand.watch.starts_anew(50.0)()) == 20.0
    assert IDLE.seconds(hand.watch()) == 0.0


def test_presses_that_mean_nothing_are_told_and_change_nothing() -> None:
    watch = Watch()
    cases = [
        (IDLE, Event(press=Press.NEXT_MODEL, at=watch()), "start the clock first"),
        (IDLE, Event(press=Press.STOP, at=watch()), "start the clock first"),
        (IDLE, Event(press=Press.COUNT_GAP, at=watch()), "start the clock first"),
        (IDLE, Event(press=Press.START, at=watch()), "name step and group to start with"),
    ]
    running = pressed(IDLE, Event(press=Press.START, at=watch(), target=WASH))
    cases += [
        (running, Event(press=Press.START, at=watch(), target=WASH), "means nothing now"),
        (running, Event(press=Press.NEXT_STEP, at=watch()), "name step and group"),
        (
            replace(running, gap=Gap(seconds=5.0, slept=True)),
            Event(press=Press.NEXT_MODEL, at=watch()),
            "say first whether the gap counts",
        ),
    ]
    for state, event, words in cases:
        with pytest.raises(InputError, match=words):
            check(state, event)
        if event.press is not Press.NEXT_STEP:
            after = pressed(state, event)
            assert (after.target, after.stints) == (state.target, state.stints)
    check(IDLE, Event(press=Press.BEAT, at=watch()))
    assert pressed(IDLE, Event(press=Press.START, at=watch())).running is False


def test_a_next_step_without_a_name_goes_on_with_the_same(hand: Hand) -> None:
    assert hand.press(Press.NEXT_STEP, models=1).target == WASH


def test_moments_and_models_out_of_range_are_refused() -> None:
    with pytest.raises(InputError, match="Wall time"):
        Moment(wall=-1.0, monotonic=0.0, run="x")
    with pytest.raises(InputError, match="Monotonic time"):
        Moment(wall=0.0, monotonic=-5.0, run="x")
    with pytest.raises(InputError, match="Models done"):
        Event(press=Press.STOP, at=Watch()(), models=-1)


@given(st.data())
@settings(max_examples=100)
def test_time_is_never_lost_nor_made_up(data: st.DataObject) -> None:
    hand = Hand()
    running_time = 0.0
    for _ in range(data.draw(st.integers(1, 25))):
        seconds = data.draw(st.floats(0.0, 500.0))
        was_running = hand.state.running
        hand.watch.passes(seconds)
        running_time += seconds if was_running else 0.0
        press = data.draw(st.sampled_from(Press))
        target = data.draw(st.sampled_from((WASH, RED, None)))
        before = hand.state.sitting_seconds
        hand.press(press, target, data.draw(st.integers(0, 3)))
        after = hand.state
        if press is not Press.STOP or not was_running:
            assert after.sitting_seconds >= before - 1e-9 or after.is_idle
        assert after.counted >= 0.0
        assert sum(s.seconds for s in after.stints) <= running_time + 1e-6
        assert all(s.models >= 0 for s in after.stints)


def test_timings_of_what_the_project_holds(hand: Hand) -> None:
    hand.watch.passes(120)
    hand.press(Press.NEXT_MODEL, models=2)
    hand.watch.passes(30)
    hand.press(Press.NEXT_STEP, RED, models=1)
    hand.watch.passes(60)
    hand.press(Press.NEXT_STEP, replace(RED, is_test=True), models=1)
    hand.press(Press.NEXT_STEP, replace(WASH, step_id="gone"), models=1)
    hand.press(Press.NEXT_STEP, replace(WASH, group_id="gone"), models=1)
    hand.press(Press.STOP, models=1)
    project = small_project()
    records = timings(hand.state, project, "clock-x")
    assert [(r.id, r.step_id, r.models, r.minutes) for r in records] == [
        ("clock-x-1", "wash", 3, 2.5),
        ("clock-x-2", "red", 1, 1.0),
        ("clock-x-3", "red", 1, 0.0),
    ]
    assert [(r.technique, r.passes, r.is_test) for r in records] == [
        ("wash", 1, False), ("feathered glaze", 2, False), ("feathered glaze", 2, True),
    ]  # fmt: skip
    assert {r.sitting_id for r in records} == {"evening"}
    once = edits.put_timings(project, records)
    assert edits.put_timings(once, records) == once
    primed = pressed(IDLE, Event(press=Press.START, at=hand.watch(),
                                 target=replace(WASH, step_id="prime")))  # fmt: skip
    primed = pressed(primed, Event(press=Press.STOP, at=hand.watch(), models=1))
    assert timings(primed, project, "c")[0].passes == 0


# The journal


def journal(path: Path, watch: Watch) -> ClockFile:
    return ClockFile(path, watch)


def test_presses_are_on_disk_and_the_clock_goes_on_from_there(tmp_path: Path) -> None:
    path, watch = tmp_path / "clock", Watch()
    clock = journal(path, watch)
    assert (clock.clock_id, clock.state, path.exists()) == ("", IDLE, False)
    clock.press(Press.START, WASH)
    watch.passes(60)
    clock.press(Press.NEXT_MODEL)
    clock.press(Press.PAUSE)
    again = journal(path, watch)
    assert again.state == clock.state
    assert again.clock_id == clock.clock_id != ""
    assert again.trouble == ""
    again.press(Press.START)
    assert journal(path, watch).state.running


def test_every_press_is_flushed_before_it_is_told(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    path, watch, flushed = tmp_path / "clock", Watch(), []
    real = os.fsync

    def spy(handle: int) -> None:
        real(handle)
        flushed.append(path.read_bytes())

    monkeypatch.setattr(os, "fsync", spy)
    clock = journal(path, watch)
    clock.press(Press.START, WASH)
    clock.press(Press.NEXT_MODEL)
    assert b"next model" in flushed[-1]
    assert path.read_bytes() == flushed[-1]


def test_a_clock_left_running_asks_when_it_is_opened(tmp_path: Path) -> None:
    path, watch = tmp_path / "clock", Watch()
    journal(path, watch).press(Press.START, WASH)
    watch.starts_anew(300.0)
    clock = journal(path, watch)
    assert clock.state.gap == Gap(seconds=300.0, slept=False)
    # The question outlives another kill.
    watch.starts_anew(50.0, "three")
    assert journal(path, watch).state.gap == Gap(seconds=300.0, slept=False)


def test_every_cut_through_the_journal_leaves_all_whole_presses(tmp_path: Path) -> None:
    path, watch = tmp_path / "clock", Watch()
    clock = journal(path, watch)
    clock.press(Press.START, WASH)
    for _ in range(3):
        watch.passes(10)
        clock.press(Press.NEXT_MODEL)
    clock.press(Press.STOP)
    whole = path.read_bytes()
    ends = [n + 1 for n, byte in enumerate(whole) if byte == 10]
    cut_path = tmp_path / "cut"
    for cut in range(len(whole) + 1):
        cut_path.write_bytes(whole[:cut])
        watch.starts_anew(1.0, f"run {cut}")
        cut_clock = journal(cut_path, watch)
        lines = sum(end - 1 <= cut for end in ends)  # the line's end itself may be missing
        models = max(0, min(lines - 2, 3))
        assert sum(s.models for s in cut_clock.state.stints) == models
        assert cut_clock.damaged == (cut > 0 and cut not in ends and cut + 1 not in ends)


def test_after_a_torn_line_the_next_press_stands_on_a_line_of_its_own(tmp_path: Path) -> None:
    path, watch = tmp_path / "clock", Watch()
    clock = journal(path, watch)
    clock.press(Press.START, WASH)
    clock.press(Press.PAUSE)
    path.write_bytes(path.read_bytes()[:-9])
    torn = journal(path, watch)
    assert torn.damaged == 1
    assert torn.trouble == "One press of the clock could not be read and is left out."
    if torn.state.gap is not None:
        torn.press(Press.DROP_GAP)
    torn.press(Press.NEXT_MODEL)
    assert journal(path, watch).state.stints[0].models == 1


def test_damage_in_the_middle_costs_that_press_alone(tmp_path: Path) -> None:
    path, watch = tmp_path / "clock", Watch()
    clock = journal(path, watch)
    clock.press(Press.START, WASH)
    for _ in range(4):
        clock.press(Press.NEXT_MODEL)
    clock.press(Press.STOP)
    lines = path.read_bytes().splitlines(keepends=True)
    lines[3] = lines[3].replace(b"next", b"text")
    lines[4] = b"\xff\xfe nonsense\n"
    lines.insert(2, b"deadbeef " + b"[" * 100_000 + b"\n")
    path.write_bytes(b"".join(lines))
    damaged = journal(path, watch)
    assert damaged.state.stints[0].models == 2
    assert damaged.damaged == 3
    assert damaged.trouble.startswith("3 presses of the clock could not be read and are")


def test_what_is_well_formed_but_makes_no_sense_is_left_out(tmp_path: Path) -> None:
    path = tmp_path / "clock"
    moment = {"wall": 1e300, "monotonic": 0.0, "run": "x"}
    lines = [
        clock_file._line({"press": "start", "at": moment}),
        clock_file._line({"press": "dance", "at": {**moment, "wall": 0.0}}),
        clock_file._line({"press": "stop"}),
    ]
    path.write_bytes(b"".join(lines))
    clock = journal(path, Watch())
    assert (clock.damaged, clock.state) == (3, IDLE)


def test_a_disk_that_is_full_leaves_state_and_file_as_they_were(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    path, watch = tmp_path / "clock", Watch()
    clock = journal(path, watch)
    clock.press(Press.START, WASH)
    before, state = path.read_bytes(), clock.state

    def full(_handle: int) -> None:
        raise OSError(28, "No space left on device")

    with monkeypatch.context() as patch:
        patch.setattr(os, "fsync", full)
        with pytest.raises(FileError, match="no space left on device"):
            clock.press(Press.NEXT_MODEL)
    assert (path.read_bytes(), clock.state) == (before, state)
    assert clock.press(Press.NEXT_MODEL).stints[0].models == 1


def test_a_folder_that_is_not_there_is_told(tmp_path: Path) -> None:
    clock = journal(tmp_path / "gone" / "clock", Watch())
    with pytest.raises(FileError, match="cannot be written"):
        clock.press(Press.START, WASH)
    assert clock.state == IDLE


def test_what_cannot_be_read_is_told(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    folder = tmp_path / "folder"
    folder.mkdir()
    with pytest.raises(FileError, match="cannot be read"):
        journal(folder, Watch())
    path = tmp_path / "clock"
    path.write_bytes(b"x" * 100)
    monkeypatch.setattr(clock_file, "MOST_BYTES", 99)
    with pytest.raises(FileError, match="too large"):
        journal(path, Watch())


def test_starting_anew_keeps_the_old_journal(tmp_path: Path) -> None:
    path, watch = tmp_path / "clock", Watch()
    clock = journal(path, watch)
    clock.start_anew()
    clock.press(Press.START, WASH)
    with pytest.raises(FileError, match="stop it first"):
        clock.start_anew()
    clock.press(Press.STOP, models=1)
    old = clock.clock_id
    clock.start_anew()
    assert (clock.state, clock.clock_id, path.exists()) == (IDLE, "", False)
    assert (tmp_path / "clock.old").exists()
    clock.press(Press.START, RED)
    assert clock.clock_id != old


def test_a_journal_that_cannot_be_put_aside_is_told(tmp_path: Path) -> None:
    path = tmp_path / "clock"
    clock = journal(path, Watch())
    clock.press(Press.START, WASH)
    clock.press(Press.STOP)
    (tmp_path / "clock.old").mkdir()
    with pytest.raises(FileError, match="put aside"):
        clock.start_anew()


def _press_on(path: str) -> None:
    clock = ClockFile(Path(path))
    clock.press(Press.START, WASH)
    while True:
        clock.press(Press.NEXT_MODEL)


def test_a_kill_at_any_moment_loses_nothing_that_was_told(tmp_path: Path) -> None:
    path = tmp_path / "clock"
    context = multiprocessing.get_context("spawn")
    process = context.Process(target=_press_on, args=(str(path),))
    process.start()
    deadline = time.monotonic() + 60.0
    while time.monotonic() < deadline and (not path.exists() or path.stat().st_size < 4000):
        time.sleep(0.01)
    assert process.pid is not None
    os.kill(process.pid, signal.SIGKILL)
    process.join()
    told = path.read_bytes().count(b"next model")
    clock = ClockFile(path)
    assert clock.damaged <= 1
    assert told - 1 <= clock.state.stints[0].models <= told
    assert told > 5
    assert clock.state.gap is not None


def test_moments_of_this_run_agree() -> None:
    one, two = this_moment(), this_moment()
    assert one.run == two.run
    assert two.monotonic >= one.monotonic
    state = replayed((Event(press=Press.START, at=one, target=WASH),))
    assert state.seconds(two) == two.monotonic - one.monotonic
