import math
from dataclasses import replace

import numpy as np
import pytest

from schemeforge import plan
from schemeforge.plan.pace import STINT_SIGMA, TRADE_SIGMA
from schemeforge.scheme import Group, Habits, Project, Sitting, Timing, WorkKind, edits
from tests.builders import small_project
from tests.plan.batch import large_project, scheme_of, with_steps, work

CALM = Habits(break_minutes=0.0, sitting_minutes=0.0, sub_batch=100)


def one_step(limit: float, *, count: int = 10, needed_by: str = "") -> Project:
    """Ten models at 10 minutes with a spread of the trade's, in one sitting of that length."""
    step = replace(work("other", WorkKind.OTHER), set_up_minutes=0.0, wait_minutes=0.0)
    project = with_steps(step, habits=CALM)
    return replace(
        project,
        groups=(Group(id="rank", name="rank", count=count, needed_by=needed_by),),
        sittings=(Sitting(id="s", minutes=limit, day="2031-05-01"),),
    )


def chance(project: Project, runs: int = 1000, seed: int = 20) -> plan.Spread:
    made = plan.schedule(project, scheme_of(project))
    return plan.spread(project, scheme_of(project), made, runs=runs, seed=seed)


def test_the_chance_of_one_step_is_that_of_the_log_normal() -> None:
    # Work in all is 20 minutes (10 models at 2), times a log-normal factor whose log has the
    # variances of pace and stint added. P(work <= limit) = Phi(ln(limit / 20) / sigma).
    sigma = math.hypot(TRADE_SIGMA, STINT_SIGMA)
    for limit in (14.0, 20.0, 30.0, 45.0):
        found = chance(one_step(limit), runs=4000)
        expected = 0.5 * (1.0 + math.erf(math.log(limit / 20.0) / sigma / math.sqrt(2.0)))
        error = math.sqrt(expected * (1.0 - expected) / 4000)
        # four standard errors of a share of 4000 runs
        assert found.all_in_time == pytest.approx(expected, abs=4 * error + 1e-3)
    low, middle, high = chance(one_step(600.0), runs=4000).work_90
    assert middle == pytest.approx(20.0, rel=0.05)
    assert high / low == pytest.approx(math.exp(2 * 1.645 * sigma), rel=0.1)


def test_the_same_seed_gives_the_same_and_another_something_near() -> None:
    project = one_step(22.0)
    assert chance(project) == chance(project)
    one, other = chance(project, seed=1), chance(project, seed=2)
    assert one != other
    assert abs((one.all_in_time or 0) - (other.all_in_time or 0)) < 0.1


def test_timings_narrow_the_spread() -> None:
    project = one_step(26.0)
    timing = Timing(
        id="t", scheme_id="first", step_id="other", group_id="rank", models=3, minutes=6.0,
        is_test=True,
    )  # fmt: skip
    timed = edits.add_timing(project, timing)
    before, after = chance(project), chance(timed)
    assert after.work_90[2] - after.work_90[0] < before.work_90[2] - before.work_90[0]
    assert (after.all_in_time or 0) > (before.all_in_time or 0)


def test_a_date_counts_drying_and_no_date_counts_sittings() -> None:
    project = one_step(600.0, needed_by="2031-05-01")
    assert chance(project).all_in_time == 1.0
    late = one_step(600.0, needed_by="2031-04-30")
    found = chance(late)
    assert found.all_in_time == 0.0
    assert found.chances[0].in_time == 0.0
    assert "under 1 %" in found.sentence


def test_without_sittings_or_dates_there_is_no_chance_to_tell() -> None:
    project = replace(one_step(60.0), sittings=())
    found = chance(project)
    assert found.all_in_time is None
    assert found.chances[0].in_time is None
    assert found.sentence.startswith("Plan sittings")


def test_what_drives_it_is_the_longest_unsure_work() -> None:
    project = large_project()
    project = replace(project, sittings=tuple(Sitting(id=f"s{n}", minutes=240.0) for n in range(6)))
    found = chance(project)
    assert {found.drivers[0].name, found.drivers[1].name} == {
        "cleaning and mounting",
        "small details",
    }
    shares = [driver.share for driver in found.drivers]
    assert shares == sorted(shares, reverse=True)
    assert 0.3 < sum(shares) <= 1.05
    # 36 models at 4 minutes, one standard deviation slow: 144 x (exp(0.45) - 1).
    assert found.drivers[0].minutes == pytest.approx(144.0 * math.expm1(TRADE_SIGMA))
    assert found.drivers[0].name in found.sentence
    first, middle, last = found.chances[0].sittings_90
    assert first <= middle <= last
    assert found.chances[0].ends[0] < found.chances[0].ends[1] < found.chances[0].ends[2]


def test_work_of_no_minutes_has_no_drivers() -> None:
    project = one_step(60.0)
    step = replace(scheme_of(project).steps[0], minutes_per_model=0.0)
    project = replace(project, schemes=(replace(scheme_of(project), steps=(step,)),))
    found = chance(project)
    assert found.drivers == ()
    assert found.sentence == "The chance that all is in time is over 99 %."


def test_chances_in_words() -> None:
    words = [plan.chance_words(value) for value in (0.0, 0.005, 0.5, 0.994, 1.0)]
    assert words == ["under 1 %", "under 1 %", "50 %", "over 99 %", "over 99 %"]


def test_runs_of_the_plan_itself_end_like_the_plan() -> None:
    project = small_project()
    scheme = scheme_of(project)
    made = plan.schedule(project, scheme)
    sure = {k: replace(p, sigma=1e-12, stint_sigma=1e-12)
            for k, p in plan.paces(project, scheme).items()}  # fmt: skip
    found = plan.spread(project, scheme, made, pace=sure, runs=5)
    ends = {c.group.id: c.ends for c in found.chances}
    for finish in made.groups:
        assert ends[finish.group.id] == pytest.approx((finish.end,) * 3, rel=1e-4)
    assert np.ptp(found.work_90) < 1e-3
