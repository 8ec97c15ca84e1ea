import math
from dataclasses import replace

import pytest

from schemeforge import plan
from schemeforge.plan.pace import OWN_SIGMA, STINT_SIGMA, TRADE_SIGMA, PaceBasis, paces
from schemeforge.scheme import Project, Technique, Timing, edits
from tests.builders import coat_step, small_project
from tests.plan.batch import scheme_of, with_steps


def timed(project: Project, *minutes: float, models: int = 5, **values: object) -> Project:
    for n, each in enumerate(minutes):
        usual: dict[str, object] = {
            "id": f"t{n}", "scheme_id": "first", "step_id": "wash", "group_id": "rank",
            "models": models, "minutes": each,
        }  # fmt: skip
        project = edits.add_timing(project, Timing(**(usual | values)))  # type: ignore[arg-type]
    return project


def test_what_is_not_timed_is_the_trades_or_the_painters() -> None:
    project = small_project()
    found = paces(project, scheme_of(project))
    assert (found["wash"].minutes, found["wash"].basis) == (1.5, PaceBasis.TRADE)
    assert found["wash"].sigma == TRADE_SIGMA
    assert (found["mud"].minutes, found["mud"].basis) == (1.5, PaceBasis.OWN)
    assert found["mud"].sigma == OWN_SIGMA


def test_the_wide_default_covers_the_trades_own_ranges() -> None:
    # Minutes a model given by the trade (common practice): lowest, highest. Read as 90 %
    # intervals they are no wider than what is assumed, but for the widest.
    for low, high in ((2.0, 6.0), (1.0, 2.0), (2.0, 5.0), (10.0, 35.0)):
        assert math.log(high / low) / (2 * 1.645) <= TRADE_SIGMA
    assert math.log(1.0 / 0.2) / (2 * 1.645) == pytest.approx(TRADE_SIGMA, abs=0.05)


def test_the_range_holds_nine_in_ten() -> None:
    pace = paces(small_project(), scheme_of(small_project()))["wash"]
    low, high = pace.range_90
    assert math.log(high / low) == pytest.approx(2 * 1.645 * TRADE_SIGMA)


def test_timings_replace_the_default_and_make_it_surer() -> None:
    project = timed(small_project(), 10.0)
    pace = paces(project, scheme_of(project))["wash"]
    assert (pace.minutes, pace.basis, pace.models_timed) == (2.0, PaceBasis.TIMED, 5)
    # One stint against the prior: precisions add up.
    assert pace.sigma == pytest.approx((TRADE_SIGMA**-2 + STINT_SIGMA**-2) ** -0.5)
    more = timed(small_project(), 10.0, 10.0, 11.0, 9.0)
    surer = paces(more, scheme_of(more))["wash"]
    assert surer.sigma < pace.sigma
    assert surer.minutes == pytest.approx(40.0 / 20.0)
    # Four stints tell how much they differ: logs of 2, 2, 2.2, 1.8.
    logs = [math.log(x) for x in (2.0, 2.0, 2.2, 1.8)]
    mean = sum(logs) / 4
    assert surer.stint_sigma == pytest.approx(math.sqrt(sum((x - mean) ** 2 for x in logs) / 3))


def test_the_planned_step_takes_the_timings() -> None:
    project = timed(small_project(), 30.0, models=10)
    step = plan.planned_steps(project, scheme_of(project))[2]
    assert step.minutes_per_model == 3.0
    assert step.hands_on_minutes == pytest.approx(36.0)


def test_test_models_count_and_untimed_stints_do_not() -> None:
    project = timed(small_project(), 4.0, models=1, is_test=True)
    assert paces(project, scheme_of(project))["wash"].minutes == 4.0
    untimed = timed(small_project(), 0.0)
    assert paces(untimed, scheme_of(untimed))["wash"].basis is PaceBasis.TRADE


def test_a_group_with_a_share_of_the_zones_counts_by_its_share() -> None:
    step = coat_step("glaze", "red-pot", "hide", "cloak")
    project = with_steps(step)
    project = edits.set_share(
        project, "first",
        replace(scheme_of(small_project()).shares[0], step_ids=("glaze",)),
    )  # fmt: skip
    project = timed(project, 5.0, step_id="glaze")
    # Rank gets it on the hide only: five halves in 5 minutes are 2 minutes for both zones.
    assert paces(project, scheme_of(project))["glaze"].minutes == 2.0
    gone = edits.set_share(
        project, "first",
        replace(scheme_of(project).shares[0], zone_id="hide"),
    )  # fmt: skip
    assert paces(gone, scheme_of(gone))["glaze"].minutes == 1.0


def test_timings_count_by_the_pass_and_only_for_their_technique() -> None:
    project = timed(small_project(), 12.0, step_id="red", group_id="captains", models=2, passes=2,
                    technique="feathered glaze")  # fmt: skip
    assert paces(project, scheme_of(project))["red"].minutes == 6.0
    once = edits.set_coat(project, "first", "red", passes=1)
    assert paces(once, scheme_of(once))["red"].minutes == 3.0
    other = edits.set_coat(project, "first", "red", technique=Technique.GLAZE)
    assert paces(other, scheme_of(other))["red"].basis is PaceBasis.TRADE
