from dataclasses import replace
from datetime import datetime

import pytest

from schemeforge import plan
from schemeforge.plan.clock import IDLE, Event, Moment, Press, Target, pressed
from schemeforge.scheme import Pin, Project, Sitting, Timing, edits
from tests.builders import small_project
from tests.plan.batch import scheme_of

NOW = datetime(2031, 4, 25, 19, 0)  # noqa: DTZ001 - the painter's own time


def dated() -> Project:
    days = tuple(Sitting(id=f"s{n}", minutes=120.0, day=f"2031-04-{n}") for n in range(25, 30))
    return replace(small_project(), sittings=days)


def record(project: Project, step_id: str, group_id: str, models: int, at: str) -> Project:
    timing = Timing(
        id=f"t{len(project.timings)}", scheme_id="first", step_id=step_id, group_id=group_id,
        models=models, minutes=4.0, at=at, sitting_id="s25",
    )  # fmt: skip
    return edits.add_timing(project, timing)


def primed() -> Project:
    project = record(dated(), "prime", "rank", 10, "2031-04-25T18:30:00")
    return record(project, "prime", "captains", 2, "2031-04-25T18:40:00")


def stands(project: Project, now: datetime | None = NOW, **values: object) -> plan.Standing:
    return plan.standing(project, scheme_of(project), now=now, **values)  # type: ignore[arg-type]


def test_a_fresh_batch_begins_with_the_first_step() -> None:
    found = stands(dated())
    assert found.do_now is not None
    assert found.do_now.step.id == "prime"
    assert found.do_now_words in {
        f"Prime on {who}; pot A; about 20 min."
        for who in ("10 rank and file, 2 captains", "2 captains, 10 rank and file")
    }
    assert found.drying == ()
    assert found.stood == ""
    assert found.finish.startswith("Yes, as planned. 12 models: ")
    assert len(found.next) <= 5
    white = next(todo for todo in found.next if todo.step.id == "spray")
    assert white.mix_first
    assert "mix pot B first" in white.sentence


def test_what_dries_is_told_and_waited_for() -> None:
    found = stands(primed())
    assert [(d.group.id, round(d.minutes)) for d in found.drying] == [
        ("rank", 90),
        ("captains", 100),
    ]
    assert found.drying[0].sentence == "prime on rank and file (hide, cloak, base): 90 min more."
    assert found.progress.done == {("prime", "rank"): 10, ("prime", "captains"): 2}
    # Only 102 minutes are left today, and all of it lies on wet primer.
    assert found.do_now is not None
    assert found.do_now.wait > 60.0 or "in sitting 2" in found.do_now_words


def test_a_wait_of_the_first_thing_to_do_is_told() -> None:
    project = record(dated(), "prime", "rank", 10, "2031-04-25T17:30:00")
    project = record(project, "prime", "captains", 2, "2031-04-25T17:30:00")
    found = stands(project)
    assert found.do_now is not None
    assert found.do_now.wait == pytest.approx(10.0)
    assert "wait 10 min for what lies below to dry" in found.do_now_words


def clock_at(
    step_id: str, group_id: str = "captains", *, models: int = 0, **values: object
) -> plan.ClockState:
    target = Target(scheme_id="first", step_id=step_id, group_id=group_id, **values)  # type: ignore[arg-type]
    state = pressed(
        IDLE,
        Event(press=Press.START, at=Moment(wall=0.0, monotonic=0.0, run="r"), target=target),
    )
    for n in range(models):
        at = Moment(wall=60.0 * n, monotonic=60.0 * n, run="r")
        state = pressed(state, Event(press=Press.NEXT_MODEL, at=at))
    return state


def test_what_the_clock_has_in_hand_comes_first() -> None:
    found = stands(dated(), clock=clock_at("prime", "rank", models=3))
    assert found.do_now is not None
    assert found.do_now_words == "Prime on rank and file, model 4 of 10: about 24 s a model."
    assert found.do_now.models == 7
    assert found.progress.done == {("prime", "rank"): 3}
    assert all((t.step.id, t.group.id) != ("prime", "rank") for t in found.next)


def test_what_the_clock_has_done_on_all_models_is_not_to_be_done_again() -> None:
    found = stands(dated(), clock=clock_at("prime", "rank", models=10))
    assert found.do_now is not None
    assert (found.do_now.step.id, found.do_now.group.id) != ("prime", "rank")


def test_a_paused_clock_and_a_test_model_are_told() -> None:
    state = clock_at("wash", is_test=True)
    paused = pressed(state, Event(press=Press.PAUSE, at=Moment(wall=9.0, monotonic=9.0, run="r")))
    words = stands(dated(), clock=paused).do_now_words
    assert words == "Wash on captains, test model: about 1.5 min a model; the clock is paused."


@pytest.mark.parametrize(
    "state",
    [
        clock_at("gone"),
        clock_at("wash", "gone"),
        replace(clock_at("wash"), target=Target(scheme_id="x", step_id="wash", group_id="rank")),
    ],
)
def test_a_clock_on_something_that_is_gone_is_left_aside(state: plan.ClockState) -> None:
    found = stands(dated(), clock=state)
    assert found.do_now is not None
    assert found.do_now.step.id == "prime"


def test_after_months_it_says_where_it_stood() -> None:
    project = record(primed(), "spray", "rank", 4, "2031-04-25T21:00:00")
    found = stands(project, datetime(2031, 9, 1, 12, 0))  # noqa: DTZ001
    assert found.stood == (
        'Last worked on 2031-04-25, 128 days ago, with "off-white from above" on 4 models. Done: '
        "prime on all; off-white from above 4 of 12. Pots mixed then: A (primer pot), B (white "
        "pot); stir them and test them first."
    )
    assert found.drying == ()
    assert stands(project, datetime(2031, 4, 27, 12, 0)).stood == ""  # noqa: DTZ001
    assert stands(project, None).stood == ""


def test_where_it_stood_with_work_alone_names_no_pots() -> None:
    project = record(dated(), "mud", "rank", 10, "2031-04-25T21:00:00")
    words = stands(project, datetime(2031, 9, 1, 12, 0)).stood  # noqa: DTZ001
    assert words.endswith("Done: mud on the base 10 of 12.")


def test_shall_we_finish() -> None:
    short = replace(dated(), sittings=dated().sittings[:1])
    found = stands(short)
    assert found.finish.startswith("No, not as planned. ")
    none = replace(dated(), sittings=())
    assert stands(none).finish.startswith("No sittings are planned yet. ")
    project = dated()
    scheme = scheme_of(project)
    made = plan.schedule(project, scheme)
    chance = plan.spread(project, scheme, made)
    found = stands(project, plan=made, chance=chance)
    assert found.plan is made
    assert found.finish.endswith(" %.")
    unknown = plan.spread(none, scheme, plan.schedule(none, scheme))
    assert "Chance" not in stands(none, chance=unknown).finish
    pinned = replace(
        short, pins=tuple(Pin(scheme_id="first", step_id=s, sitting_id="s25")
                          for s in ("wash", "mud", "red")),
        sittings=(replace(short.sittings[0], minutes=40.0),),
    )  # fmt: skip
    assert "is overfull" in stands(pinned).finish


def test_a_batch_that_is_done_and_one_with_nothing_to_do() -> None:
    project = dated()
    for step in scheme_of(project).steps:
        for group in project.groups:
            project = record(project, step.id, group.id, group.count, "2031-04-24T10:00:00")
    found = stands(project)
    assert (found.do_now, found.next) == (None, ())
    assert found.do_now_words == found.finish == "All models are done."
