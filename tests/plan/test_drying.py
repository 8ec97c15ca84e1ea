from dataclasses import replace
from datetime import UTC, date, datetime

import pytest
from hypothesis import given
from hypothesis import strategies as st

from schemeforge.plan.axis import axis_of
from schemeforge.plan.drying import steps_got, waits_for
from schemeforge.plan.progress import Progress, in_order, progress, when
from schemeforge.plan.tasks import After, Task, lag, tasks_of
from schemeforge.scheme import Project, Sitting, Timing, Way, WorkKind, edits
from tests.builders import coat_step, small_project
from tests.plan.batch import scheme_of, with_steps, work

NOON = datetime(2031, 5, 1, 12, 0)  # noqa: DTZ001 - the painter's own time


def record(project: Project, step_id: str, models: int, **values: object) -> Project:
    usual: dict[str, object] = {
        "id": f"t{len(project.timings)}", "scheme_id": "first", "step_id": step_id,
        "group_id": "rank", "models": models, "minutes": 5.0,
    }  # fmt: skip
    return edits.add_timing(project, Timing(**(usual | values)))  # type: ignore[arg-type]


def test_steps_wait_for_the_last_on_each_of_their_zones() -> None:
    project = small_project()
    scheme = scheme_of(project)
    assert waits_for(project, scheme, "captains") == {
        "prime": (), "spray": ("prime",), "wash": ("spray",), "red": ("wash",),
        "warm": ("wash",), "mud": ("prime",),
    }  # fmt: skip
    # Rank and file go without the red, and the warm glaze is for captains by name.
    assert [s.id for s in steps_got(project, scheme, "rank")] == ["prime", "spray", "wash", "mud"]


def test_work_on_the_whole_model_waits_for_all_zones_and_all_wait_for_it() -> None:
    project = with_steps(
        coat_step("a", "red-pot", "hide"),
        coat_step("b", "red-pot", "cloak"),
        work("whole", WorkKind.DETAIL),
        coat_step("c", "red-pot", "hide"),
        work("last", WorkKind.VARNISH),
    )
    assert waits_for(project, scheme_of(project), "rank") == {
        "a": (), "b": (), "whole": ("a", "b"), "c": ("whole",), "last": ("whole", "c"),
    }  # fmt: skip


@given(
    models=st.integers(1, 8),
    ahead=st.integers(-4, 0),
    before=st.floats(0.0, 10.0),
    each=st.floats(0.0, 10.0),
    wait=st.floats(0.0, 60.0),
)
def test_the_lag_lets_every_model_dry_and_not_a_minute_more(
    models: int, ahead: int, before: float, each: float, wait: float
) -> None:
    project = with_steps(coat_step("a", "red-pot", "hide"))
    task = tasks_of(project, scheme_of(project))[0]

    def made(count: int, minutes: float) -> Task:
        return replace(task, models=count, each=minutes)

    earlier, later = made(models, before), made(models - ahead, each)
    end = models * before
    begin = end + lag(later, After(task=0, wait=wait, ahead=ahead), earlier)
    slack = [(begin + (j - ahead) * each) - ((j + 1) * before + wait) for j in range(models)]
    assert min(slack) >= -1e-9
    assert min(slack) <= 1e-9 or begin == end  # no sooner, unless hands are still at the earlier


def test_tasks_of_the_small_project() -> None:
    project = small_project()
    tasks = tasks_of(project, scheme_of(project))
    assert [(t.step.id, t.group.id, t.first, t.models) for t in tasks[:8]] == [
        ("prime", "rank", 0, 5), ("spray", "rank", 0, 5), ("wash", "rank", 0, 5),
        ("mud", "rank", 0, 5), ("prime", "rank", 5, 5), ("spray", "rank", 5, 5),
        ("wash", "rank", 5, 5), ("mud", "rank", 5, 5),
    ]  # fmt: skip
    red = [t for t in tasks if t.step.id == "red"]
    assert [(t.layer_pass, t.each) for t in red] == [(1, 1.0), (2, 1.0)]
    assert red[1].after == (After(task=tasks.index(red[0]), wait=15.0),)
    assert [t.mixing for t in tasks[:4]] == [0.0, 5.0, 5.0, 0.0]
    assert [t.change for t in tasks[:4]] == [7.0, 7.0, 1.0, 1.0]
    whole = replace(project, habits=replace(project.habits, way=Way.WHOLE_BATCH))
    assert [t.models for t in tasks_of(whole, scheme_of(whole))[:4]] == [10, 10, 10, 10]


def test_what_is_done_is_no_task_and_what_is_wet_holds_up() -> None:
    project = record(small_project(), "prime", 7, at="2031-05-01T11:30:00")
    scheme = scheme_of(project)
    known = progress(project, scheme, NOON)
    assert known.done == {("prime", "rank"): 7}
    assert known.wet == {("prime", "rank"): pytest.approx(90.0)}
    tasks = tasks_of(project, scheme, known)
    prime = [(t.first, t.models) for t in tasks if t.step.id == "prime" and t.group.id == "rank"]
    assert prime == [(7, 3)]
    spray = [t for t in tasks if t.step.id == "spray" and t.group.id == "rank"]
    assert [(t.first, bool(t.after)) for t in spray] == [(0, False), (5, True)]
    assert [t.release for t in spray] == pytest.approx([90.0, 90.0])
    # The second sub-batch begins with two models that are primed already.
    assert spray[1].after[0].ahead == -2
    # A pot that work has begun with is mixed.
    washed = record(project, "wash", 1)
    tasks = tasks_of(washed, scheme, progress(washed, scheme))
    assert {t.mixing for t in tasks if t.step.id == "wash"} == {0.0}


def test_records_of_others_and_of_test_models_are_no_progress() -> None:
    project = record(small_project(), "prime", 3, is_test=True)
    project = record(project, "prime", 30)
    scheme = scheme_of(project)
    assert progress(project, scheme).done == {("prime", "rank"): 10}  # never more than there are
    gone = replace(project, timings=(replace(project.timings[1], step_id="gone"),))
    assert progress(gone, scheme).done == {}


def test_a_record_handed_in_takes_the_place_of_the_one_known() -> None:
    project = record(small_project(), "prime", 3, at="2031-05-01T10:00:00")
    newer = replace(project.timings[0], models=4, at="2031-05-01T10:30:00")
    known = progress(project, scheme_of(project), NOON, timings=(newer,))
    assert known.done == {("prime", "rank"): 4}
    assert known.last_worked == datetime(2031, 5, 1, 10, 30)  # noqa: DTZ001
    assert known.wet[("prime", "rank")] == pytest.approx(30.0)
    assert progress(project, scheme_of(project), NOON).wet == {}


def test_times_of_records() -> None:
    assert when("") is None
    assert when("last Tuesday") is None
    assert when("2031-05-01T10:00") == datetime(2031, 5, 1, 10)  # noqa: DTZ001
    local = when("2031-05-01T10:00:00+00:00")
    assert local == datetime(2031, 5, 1, 10, tzinfo=UTC).astimezone().replace(tzinfo=None)


def test_a_clock_set_back_does_not_make_paint_wetter_than_it_ever_was() -> None:
    project = record(small_project(), "prime", 3, at="2031-05-02T10:00:00")
    known = progress(project, scheme_of(project), NOON)
    assert known.wet[("prime", "rank")] == pytest.approx(120.0)


def sittings(*days: str) -> tuple[Sitting, ...]:
    return tuple(Sitting(id=f"s{n}", minutes=100.0, day=day) for n, day in enumerate(days))


def test_sittings_go_by_day() -> None:
    mixed = sittings("2031-05-03", "", "2031-05-01", "")
    assert [s.id for s in in_order(mixed)] == ["s2", "s3", "s0", "s1"]
    assert [s.id for s in in_order(sittings("", "", ""))] == ["s0", "s1", "s2"]


def test_the_axis_counts_days_and_lays_out() -> None:
    days = sittings("2031-05-03", "2031-05-03", "2031-05-06", "")
    project = replace(small_project(), sittings=days)
    axis = axis_of(project)
    starts = [(w.day, w.start, w.end) for w in axis.windows]
    assert starts == [
        (0, 10.0, 100.0), (0, 170.0, 260.0), (3, 4330.0, 4420.0), (4, 5770.0, 5860.0),
    ]  # fmt: skip
    assert axis.first_day == date(2031, 5, 3)
    assert axis.minutes == pytest.approx(360.0)
    assert axis.last_planned_end == 5860.0
    more = axis.window(5)
    assert (more.day, more.sitting, more.length) == (6, None, 90.0)
    assert axis.date_of(more.start) == date(2031, 5, 9)
    assert axis.deadline("2031-05-03") == 1440.0
    assert axis.deadline("2031-05-01") == -1440.0
    assert axis.deadline("") is None


def test_the_axis_begins_with_what_is_left_today() -> None:
    days = sittings("2031-04-30", "2031-05-01", "2031-05-02")
    project = replace(small_project(), sittings=days)
    project = record(project, "prime", 3, minutes=30.0, sitting_id="s1")
    known = progress(project, scheme_of(project), NOON)
    assert known.left == {"s0": 0.0, "s1": 60.0}
    axis = axis_of(project, known)
    assert [(w.start, w.end) for w in axis.windows] == [(0.0, 60.0), (1450.0, 1540.0)]
    assert axis.first_day == date(2031, 5, 1)


def test_undated_sittings_are_over_when_a_later_one_is_begun() -> None:
    project = replace(small_project(), sittings=sittings("", "", ""))
    project = record(project, "prime", 3, minutes=95.0, sitting_id="s1")
    known = progress(project, scheme_of(project))
    assert known.left == {"s0": 0.0, "s1": 0.0}
    assert [w.sitting.id for w in axis_of(project, known).windows if w.sitting] == ["s2"]


def test_an_axis_without_dates_or_sittings() -> None:
    project = replace(small_project(), sittings=())
    axis = axis_of(project, Progress())
    assert axis.windows == ()
    assert axis.last_planned_end == 0.0
    assert axis.date_of(5.0) is None
    assert axis.deadline("2031-05-03") is None
    assert (axis.window(0).start, axis.window(1).start) == (10.0, 1450.0)
    later = replace(project, sittings=sittings("", "2031-05-03"))
    assert axis_of(later).first_day == date(2031, 5, 2)
