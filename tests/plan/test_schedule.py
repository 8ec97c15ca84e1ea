"""The plan in sittings: a batch worked by hand, pins, groups, and what it says."""

from dataclasses import replace
from datetime import datetime

import pytest

from schemeforge import plan
from schemeforge.plan import schedule
from schemeforge.scheme import Group, Habits, Pin, Project, Sitting, Step, Timing, WorkKind, edits
from schemeforge.scheme.steps import Primer, Spray, Technique, Work
from tests.builders import coat_step, small_project
from tests.plan.batch import large_project, scheme_of, with_steps

CALM = Habits(break_minutes=0.0)


def timed(step: Step, minutes: float, wait: float, set_up: float = 5.0) -> Step:
    return replace(step, minutes_per_model=minutes, wait_minutes=wait, set_up_minutes=set_up)


def work(step_id: str, kind: WorkKind, minutes: float, wait: float) -> Step:
    return timed(Step(id=step_id, name=step_id, layer=Work(kind=kind)), minutes, wait)


def forty(habits: Habits) -> Project:
    """Forty models, three sittings of 480 minutes, the painter's pins (common practice)."""
    everywhere = ("hide", "cloak", "base")
    steps = (
        work("cleaning", WorkKind.CLEANING, 12.0, 0.0),
        work("building", WorkKind.ASSEMBLY, 3.0, 30.0),
        work("basing", WorkKind.TEXTURE, 2.0, 240.0),
        timed(
            Step(id="priming", name="priming", layer=Primer(mix_id="primer-pot"),
                 zone_ids=everywhere),
            3.0, 120.0, 15.0,
        ),
        timed(
            Step(id="undercoat", name="undercoat", layer=Spray(mix_id="white-pot"),
                 zone_ids=("hide", "cloak")),
            3.75, 45.0, 15.0,
        ),
        timed(coat_step("wash", "wash-pot", "hide", "cloak", technique=Technique.WASH), 2.0, 30.0),
        work("details", WorkKind.DETAIL, 4.0, 10.0),
        work("varnish", WorkKind.VARNISH, 0.3, 1440.0),
    )  # fmt: skip
    project = with_steps(*steps, habits=habits)
    sittings = tuple(Sitting(id=f"day-{n}", minutes=480.0, day=f"2031-05-0{n}") for n in (3, 4, 5))
    pins = (
        *(Pin(scheme_id="first", step_id=s, sitting_id="day-3")
          for s in ("cleaning", "building", "basing")),
        *(Pin(scheme_id="first", step_id=s, sitting_id="day-4") for s in ("priming", "undercoat")),
    )  # fmt: skip
    groups = (Group(id="rank", name="rank and file", count=40),)
    return replace(project, sittings=sittings, pins=pins, groups=groups)


def test_the_worked_batch_tells_that_the_first_sitting_is_overfull_and_what_follows() -> None:
    # First sitting: laying out 10, three set-ups of 5, (12 + 3 + 2) x 40 = 680: 705 of 480.
    # Second: laying out 10, set-ups 2 x 15, 3 x 40 + 3.75 x 40 = 270: 300 of painting in all, and
    # 5 to mix the off-white. It is not overfull by what is pinned to it.
    project = forty(CALM)
    made = schedule(project, scheme_of(project))
    (first,) = made.overfull
    assert first.number == 1
    assert first.sitting.id == "day-3"
    assert first.pinned_minutes == pytest.approx(705.0)
    assert first.over_minutes == pytest.approx(225.0)
    # What was not done in the first sitting is done in the next, where it needs setting up anew.
    spilled = {spill.step.id: spill for spill in first.spills}
    assert sum(spill.minutes for spill in first.spills) >= 225.0 - 15.0
    assert all(spill.sittings == (2,) for spill in first.spills)
    assert "basing" in spilled
    second = made.sittings[1]
    assert {s.step.id for s in second.stretches} >= {"basing", "priming"}
    assert first.sentence.startswith(
        "Sitting 1 on 2031-05-03 is overfull: what is pinned to it takes 11.8 h, it has 8.0 h: "
        "3.8 h too much. Left as it is, "
    )
    assert "into sitting 2" in first.sentence
    assert "the batch then ends in sitting" in first.sentence


def test_breaks_count_in_what_is_pinned() -> None:
    # 695 minutes of work have 27 breaks of 5 between them, one after each 25 minutes.
    project = forty(Habits())
    (first,) = schedule(project, scheme_of(project)).overfull[:1]
    assert first.pinned_minutes == pytest.approx(705.0 + 27 * 5.0)
    assert first.over_minutes == pytest.approx(360.0)


def test_models_of_a_step_in_two_passes_run_over_once() -> None:
    project = with_steps(
        coat_step("rim", "red-pot", "cloak", technique=Technique.BASE_COAT, passes=2),
        habits=CALM,
    )
    project = replace(
        project,
        sittings=(Sitting(id="one", minutes=15.0), Sitting(id="two", minutes=400.0)),
        pins=(Pin(scheme_id="first", step_id="rim", sitting_id="one"),),
    )
    (found,) = schedule(project, scheme_of(project)).overfull
    (spill,) = found.spills
    assert 0.0 < spill.models <= 12.0
    assert f"rim of {spill.models:.3g} models into sitting 2" in found.sentence


def test_without_pins_nothing_is_overfull_and_work_flows_over() -> None:
    project = replace(forty(CALM), pins=())
    made = schedule(project, scheme_of(project))
    assert made.overfull == ()
    assert made.sittings[0].spare < 12.0  # less than one model's cleaning


def test_a_fitting_pin_is_kept_and_not_reported() -> None:
    project = forty(CALM)
    project = replace(project, groups=(replace(project.groups[0], count=20),))
    made = schedule(project, scheme_of(project))
    assert made.overfull == ()
    where: dict[str, set[int]] = {}
    for sitting in made.sittings:
        for stretch in sitting.stretches:
            where.setdefault(stretch.step.id, set()).add(sitting.number)
    assert where["cleaning"] == where["building"] == where["basing"] == {1}
    assert where["priming"] == where["undercoat"] == {2}


def test_a_pin_to_a_sitting_that_is_over_is_told() -> None:
    project = forty(CALM)
    known = plan.progress(project, scheme_of(project), datetime(2031, 5, 4, 9, 0))  # noqa: DTZ001
    made = schedule(project, scheme_of(project), known)
    over = made.overfull[0]
    assert (over.number, over.sitting.id) == (0, "day-3")
    assert over.sentence == (
        "A sitting on 2031-05-03 is over, and 11.6 h of work are still pinned to it; unpin them "
        "or pin them to another."
    )


def test_an_overfull_sitting_of_a_batch_that_ends_in_time() -> None:
    project = forty(CALM)
    short = replace(project.sittings[0], minutes=300.0)
    project = replace(
        project,
        sittings=(short, *project.sittings[1:]),
        groups=(replace(project.groups[0], count=20),),
    )
    made = schedule(project, scheme_of(project))
    (first,) = made.overfull
    assert first.over_minutes == pytest.approx(10 + 15 + 340 - 300)
    assert "to spare." in first.sentence


def test_stretches_fill_the_sittings_by_hand() -> None:
    # Prime 12 models: set-up 15, 0.4 each; off-white from above after 120 minutes.
    project = small_project()
    steps = scheme_of(project).steps[:2]
    project = with_steps(*steps, habits=Habits(break_minutes=0.0, sub_batch=20))
    project = replace(project, sittings=(Sitting(id="evening", minutes=200.0),))
    made = schedule(project, scheme_of(project))
    first, second = made.sittings[0].stretches
    assert (first.begin, first.start, first.end) == pytest.approx((10.0, 25.0, 29.8))
    assert first.count == 12
    assert first.mix_id == ""  # neat
    # Set up and mixed while the primer dries. Rank (10) is dry 120 minutes after the end of its
    # last model less the nine models that were done before, 0.4 minutes each.
    assert second.mix_id == "white-pot"
    assert second.set_up_minutes == pytest.approx(20.0)
    starts = {part.group.id for part in second.models}
    assert starts == {"rank", "captains"}
    assert second.start >= 25.0 + 0.4 + 120.0 - 1e-6
    assert made.waited > 70.0
    assert made.end == pytest.approx(second.end)
    assert second.name == "off-white from above"


def test_passes_are_laid_one_after_the_other() -> None:
    step = timed(coat_step("red", "red-pot", "cloak", passes=3), 3.0, 20.0)
    project = with_steps(step, habits=Habits(break_minutes=0.0, sub_batch=20))
    project = replace(project, sittings=(Sitting(id="s", minutes=400.0),))
    made = schedule(project, scheme_of(project))
    passes = [s for s in made.sittings[0].stretches if s.models[0].group.id == "captains"]
    names = {s.name for s in made.sittings[0].stretches}
    assert names == {"red, pass 1 of 3", "red, pass 2 of 3", "red, pass 3 of 3"}
    assert passes
    assert sum(s.count for s in made.sittings[0].stretches) == 36


def test_an_undone_batch_without_sittings_is_planned_on_evenings_of_its_own() -> None:
    project = replace(small_project(), sittings=())
    made = schedule(project, scheme_of(project))
    assert not any(sitting.is_planned for sitting in made.sittings)
    assert made.sittings[0].minutes == pytest.approx(180.0)
    assert made.groups[0].in_sittings
    assert made.beyond == pytest.approx(made.worked)
    assert "fit into no sitting planned" in made.sentence


def test_a_batch_that_is_done() -> None:
    project = small_project()
    scheme = scheme_of(project)
    for n, step in enumerate(scheme.steps):
        for group in project.groups:
            project = edits.add_timing(
                project,
                plan_timing(f"t-{n}-{group.id}", step.id, group.id, group.count),
            )
    known = plan.progress(project, scheme)
    made = schedule(project, scheme, known)
    assert made.is_done
    assert not made.is_late
    assert made.sentence == "All models are done."
    assert made.groups[0].sentence == "Rank and file: done."
    assert (made.end, made.worked, made.models, made.last) == (0.0, 0.0, 0, None)


def plan_timing(timing_id: str, step_id: str, group_id: str, models: int) -> Timing:
    return Timing(
        id=timing_id, scheme_id="first", step_id=step_id, group_id=group_id, models=models,
        minutes=0.0,
    )  # fmt: skip


def test_only_what_is_left_is_planned() -> None:
    project = large_project()
    scheme = scheme_of(project)
    project = edits.add_timing(
        project,
        Timing(id="t", scheme_id="first", step_id="clean", group_id="rank", models=20,
                    minutes=60.0),
    )  # fmt: skip
    made = schedule(project, scheme, plan.progress(project, scheme))
    cleaned = [
        (part.group.id, part.first, part.models)
        for sitting in made.sittings
        for stretch in sitting.stretches
        if stretch.step.id == "clean"
        for part in stretch.models
    ]
    assert sum(models for group, _, models in cleaned if group == "rank") == 10
    assert min(first for group, first, _ in cleaned if group == "rank") == 20
    assert made.models == 36


def test_what_the_groups_and_the_whole_say() -> None:
    project = replace(
        small_project(),
        sittings=tuple(Sitting(id=f"s{n}", minutes=120.0, day=f"2031-04-2{n}") for n in range(4)),
    )
    made = schedule(project, scheme_of(project))
    rank, captains = made.groups
    assert rank.sentence.startswith("Rank and file: off the desk in sitting ")
    assert captains.sentence.endswith("in time.")
    assert captains.late_days == 0
    assert not made.is_late
    assert made.sentence.endswith("of the sittings are left over.")
    late = replace(
        project, groups=(project.groups[0], replace(project.groups[1], needed_by="2031-04-19"))
    )
    made = schedule(late, scheme_of(late))
    assert made.is_late
    assert (made.groups[1].late_days or 0) >= 1
    assert "Too late for captains." in made.sentence
    assert "late." in made.groups[1].sentence


def test_a_project_without_groups_or_steps_is_nothing_to_plan() -> None:
    small = replace(small_project(), schemes=(replace(scheme_of(small_project()), shares=()),))
    for project in (
        replace(small, groups=()),
        with_steps(),
        replace(small, groups=(Group(id="g", name="g", count=0),)),
    ):
        made = schedule(project, scheme_of(project))
        assert made.is_done
        assert made.sentence == "All models are done."
        assert plan.spread(project, scheme_of(project), made).drivers == ()
        assert plan.trials(replace(project, groups=()), scheme_of(project)) == ()


def test_every_minute_of_a_stretch_is_set_up_wait_rest_or_work() -> None:
    project = replace(
        large_project(), sittings=tuple(Sitting(id=f"s{n}", minutes=240.0) for n in range(6))
    )
    plan = schedule(project, scheme_of(project))
    each = {(task.step.id, task.layer_pass): task.each for task in plan.job.tasks}
    rests = 0
    for sitting in plan.sittings:
        for stretch in sitting.stretches:
            work = stretch.count * each[stretch.step.id, stretch.layer_pass]
            rest = sum(end - begin for begin, end in stretch.breaks)
            told = stretch.set_up_minutes + stretch.wait_minutes + rest + work
            assert told == pytest.approx(stretch.minutes), stretch.name
            assert all(stretch.begin <= b < e <= stretch.end + 1e-6 for b, e in stretch.breaks)
            rests += len(stretch.breaks)
        assert sitting.waited == pytest.approx(sum(s.wait_minutes for s in sitting.stretches))
    assert rests > 10
