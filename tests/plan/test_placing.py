from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from schemeforge import plan
from schemeforge.plan.axis import axis_of
from schemeforge.plan.job import Job, job_of
from schemeforge.plan.placing import Placer, _fitting, _worked, working_time
from schemeforge.plan.runs import Runs
from schemeforge.plan.search import by_step
from schemeforge.plan.tasks import tasks_of
from schemeforge.scheme import Group, Habits, Project, Sitting, Step, WorkKind
from tests.plan.batch import large_project, scheme_of, with_steps, work

EVERY, REST = 25.0, 5.0


def job(project: Project) -> Job:
    scheme = scheme_of(project)
    return job_of(project, tasks_of(project, scheme), axis_of(project))


def cleaning(minutes: float, models: int, *lengths: float, habits: Habits) -> Project:
    """So many models to clean in sittings of those lengths."""
    step: Step = replace(
        work("clean", WorkKind.CLEANING), minutes_per_model=minutes, set_up_minutes=0.0
    )
    project = with_steps(step, habits=habits)
    sittings = tuple(Sitting(id=f"s{n}", minutes=length) for n, length in enumerate(lengths))
    groups = (Group(id="rank", name="rank", count=models),)
    return replace(project, groups=groups, sittings=sittings)


PLAIN = Habits(break_minutes=0.0, sitting_minutes=0.0, sub_batch=100)


def test_breaks_lie_between_stretches_of_work() -> None:
    assert working_time(25.0, EVERY, REST) == 25.0
    assert working_time(26.0, EVERY, REST) == 31.0
    assert working_time(75.0, EVERY, REST) == 85.0
    assert _worked(20.0, 10.0, EVERY, REST) == (5.0, 15.0)
    assert working_time(1e6, float("inf"), 0.0) == 1e6


@given(st.floats(0.0, 25.0), st.floats(0.0, 500.0))
def test_what_fits_is_the_inverse_of_what_it_takes(since: float, room: float) -> None:
    fits = _fitting(since, room, EVERY, REST)
    assert 0.0 <= fits <= room + 1e-9
    assert _worked(since, fits, EVERY, REST)[1] <= room + 1e-6
    assert _worked(since, fits + 0.01, EVERY, REST)[1] > room - 1e-6


def test_work_goes_on_in_the_next_sitting_between_two_models() -> None:
    project = cleaning(30.0, 5, 100.0, 100.0, habits=PLAIN)
    placer = Placer(job(project), record=True).run([0])
    assert placer.pieces is not None
    pieces = [(p.window, p.start, p.end, p.models) for p in placer.pieces]
    assert pieces == [(0, 0.0, 90.0, 3.0), (1, 1440.0, 1500.0, 2.0)]
    assert placer.ends == [1500.0]


def test_a_model_that_no_sitting_has_room_for_is_put_down_half_done() -> None:
    project = cleaning(150.0, 1, 100.0, 100.0, habits=PLAIN)
    placer = Placer(job(project), record=True).run([0])
    assert placer.pieces is not None
    assert [p.models for p in placer.pieces] == pytest.approx([2 / 3, 1 / 3])
    assert placer.ends == pytest.approx([1490.0])


def test_a_set_up_longer_than_the_sitting_does_not_stop_work_for_ever() -> None:
    project = cleaning(5.0, 2, 6.0, habits=replace(PLAIN, break_minutes=100.0,
                                                   break_every_minutes=5.0))  # fmt: skip
    step = replace(scheme_of(project).steps[0], set_up_minutes=600.0)
    project = replace(project, schemes=(replace(scheme_of(project), steps=(step,)),))
    ends = Placer(job(project)).run([0]).ends
    assert ends[0] < 10 * 1440.0


def test_a_wait_as_long_as_a_break_is_one() -> None:
    # 20 minutes of priming and 30 of drying: then 25 minutes pass before the next break.
    clean = replace(
        work("a", WorkKind.OTHER), minutes_per_model=20.0, set_up_minutes=0.0, wait_minutes=30.0
    )
    then = replace(work("b", WorkKind.OTHER), minutes_per_model=25.0, set_up_minutes=0.0)
    project = with_steps(clean, then, habits=Habits(sitting_minutes=0.0))
    project = replace(
        project,
        groups=(Group(id="rank", name="rank", count=1),),
        sittings=(Sitting(id="s", minutes=300.0),),
    )
    assert Placer(job(project)).run([0, 1]).ends == pytest.approx([20.0, 75.0])
    quick = replace(clean, wait_minutes=2.0)
    scheme = replace(scheme_of(project), steps=(quick, then))
    project = replace(project, schemes=(scheme,))
    # 2 minutes of waiting are no break: after 5 minutes of b comes one.
    assert Placer(job(project)).run([0, 1]).ends == pytest.approx([20.0, 22.0 + 25.0 + 5.0])


def test_hands_wait_for_the_sitting_after_a_long_drying() -> None:
    a = replace(
        work("a", WorkKind.OTHER), minutes_per_model=20.0, set_up_minutes=5.0, wait_minutes=1000.0
    )
    b = replace(work("b", WorkKind.OTHER), minutes_per_model=10.0, set_up_minutes=5.0)
    project = with_steps(a, b, habits=PLAIN)
    project = replace(
        project,
        groups=(Group(id="rank", name="rank", count=1),),
        sittings=tuple(Sitting(id=f"s{n}", minutes=100.0) for n in range(2)),
    )
    assert Placer(job(project)).run([0, 1]).ends == pytest.approx([25.0, 1455.0])


@given(data=st.data())
@settings(max_examples=20, deadline=None)
def test_many_runs_at_once_go_the_same_way_as_one(data: st.DataObject) -> None:
    project = large_project()
    groups = tuple(replace(g, count=data.draw(st.integers(1, 7))) for g in project.groups)
    lengths = data.draw(st.lists(st.floats(5.0, 300.0), min_size=1, max_size=4))
    habits = Habits(
        hands=data.draw(st.integers(1, 3)),
        sub_batch=data.draw(st.integers(1, 8)),
        break_minutes=data.draw(st.sampled_from((0.0, 5.0, 20.0))),
    )
    sittings = tuple(Sitting(id=f"s{n}", minutes=m) for n, m in enumerate(lengths))
    made = job(replace(project, groups=groups, sittings=sittings, habits=habits))
    order = by_step(made)
    factors = np.array(data.draw(st.lists(st.floats(0.3, 3.0), min_size=4, max_size=4)))
    ends, windows = Runs(made, 4).run(order, [task.each * factors for task in made.tasks])
    for run, factor in enumerate(factors):
        tasks = tuple(replace(task, each=task.each * factor) for task in made.tasks)
        project = replace(project, groups=groups, sittings=sittings, habits=habits)
        one = Placer(job_of(project, tasks, axis_of(project)), record=True).run(order)
        assert [end[run] for end in ends] == pytest.approx(one.ends, abs=1e-6)
        last = {piece.task: piece.window for piece in one.pieces or []}
        assert [int(w[run]) for w in windows] == [last[n] for n in range(len(tasks))]


def test_the_runs_need_no_minutes_at_all() -> None:
    project = cleaning(0.0, 3, 30.0, habits=PLAIN)
    ends, _ = Runs(job(project), 2).run([0], [np.zeros(2)])
    assert ends[0].tolist() == [0.0, 0.0]


def test_the_cost_of_nothing() -> None:
    project = cleaning(5.0, 1, 60.0, habits=PLAIN)
    assert job(project).cost([], 0) == 0.0


def test_whole_models_may_not_be_half_done_while_waiting() -> None:
    # b is dry 5 minutes before the end of the sitting: it begins in the next one instead.
    a = replace(
        work("a", WorkKind.OTHER), minutes_per_model=5.0, set_up_minutes=0.0, wait_minutes=90.0
    )
    b = replace(work("b", WorkKind.OTHER), minutes_per_model=20.0, set_up_minutes=0.0)
    project = with_steps(a, b, habits=PLAIN)
    project = replace(
        project,
        groups=(Group(id="rank", name="rank", count=1),),
        sittings=tuple(Sitting(id=f"s{n}", minutes=100.0) for n in range(2)),
    )
    made = plan.schedule(project, scheme_of(project))
    assert made.end == pytest.approx(1460.0)
