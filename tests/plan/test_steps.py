from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from schemeforge import plan
from schemeforge.plan.steps import technique_words, where_words
from schemeforge.scheme import (
    AlongProfile,
    Habits,
    Placement,
    ReliefKind,
    ReliefProfile,
    Share,
    ShareKind,
    Technique,
    WorkKind,
)
from tests.builders import POOLED, TIPS, coat_step, small_project
from tests.plan.batch import large_project, scheme_of, with_steps, work


def test_steps_stand_in_painting_order_with_zones_pots_and_counts() -> None:
    project = small_project()
    steps = plan.planned_steps(project, scheme_of(project))
    assert [step.number for step in steps] == [1, 2, 3, 4, 5, 6]
    assert [step.step.id for step in steps] == ["prime", "spray", "wash", "red", "warm", "mud"]
    # The red pot serves two steps under one letter; texture has no pot.
    assert [step.pot for step in steps] == ["A", "B", "C", "D", "D", ""]
    assert [step.models for step in steps] == [12, 12, 12, 2, 2, 12]
    assert steps[1].zones == ("hide", "cloak")
    assert [step.sprayed for step in steps] == [True, True, False, False, False, False]


def test_default_minutes_and_waits_are_the_trades() -> None:
    # Minutes a model: prime and off-white 0.4 with 15 to set up, full wash 1 to 2, second
    # feathered glaze 0.5 to 2; waits: primer about 120, wash 30, glaze 5 to 20 (common practice).
    project = small_project()
    prime, spray, wash, red, warm, mud = plan.planned_steps(project, scheme_of(project))
    assert (prime.minutes_per_model, prime.set_up_minutes, prime.wait_minutes) == (0.4, 15.0, 120.0)
    assert (spray.minutes_per_model, spray.set_up_minutes, spray.wait_minutes) == (0.4, 15.0, 45.0)
    # The wash goes over hide and cloak in one go; the red is laid twice on the cloak.
    assert (wash.minutes_per_model, wash.passes, wash.wait_minutes) == (1.5, 1, 30.0)
    assert (red.minutes_per_model, red.passes, red.wait_minutes) == (2.0, 2, 15.0)
    assert [warm.minutes_per_model, warm.hands_on_minutes] == pytest.approx([0.6, 1.2])
    assert (mud.minutes_per_model, mud.hands_on_minutes) == (1.5, 18.0)
    assert prime.total_minutes == pytest.approx(0.4 * 12 + 15.0)


def test_the_painters_own_times_win_over_the_trades() -> None:
    step = replace(
        coat_step("both", "red-pot", "hide", "cloak", passes=3),
        minutes_per_model=2.5,
        set_up_minutes=0.0,
        wait_minutes=7.0,
    )
    project = with_steps(step)
    (planned,) = plan.planned_steps(project, scheme_of(project))
    # 2.5 minutes are for the whole step at one model: both zones, all three passes.
    assert planned.minutes_per_model == 2.5
    assert planned.total_minutes == 2.5 * 12
    assert planned.wait_minutes == 7.0


def test_default_minutes_of_a_brushed_coat_count_zones_and_passes() -> None:
    project = with_steps(coat_step("both", "red-pot", "hide", "cloak", passes=3))
    (planned,) = plan.planned_steps(project, scheme_of(project))
    assert planned.minutes_per_model == pytest.approx(0.6 * 2 * 3)


def test_a_group_with_fewer_zones_takes_its_share_of_a_brushed_step_but_all_of_a_wash() -> None:
    none = (Share(group_id="rank", zone_id="hide", kind=ShareKind.NONE),)
    glaze = coat_step("glaze", "red-pot", "hide", "cloak")
    wash = coat_step("wash", "wash-pot", "hide", "cloak", technique=Technique.WASH)
    project = with_steps(glaze, wash, shares=none)
    brushed, washed = plan.planned_steps(project, scheme_of(project))
    assert brushed.hands_on_minutes == pytest.approx(1.2 * (10 * 0.5 + 2))
    assert washed.hands_on_minutes == pytest.approx(1.5 * 12)


def test_a_step_that_nobody_gets_keeps_its_number_and_letter_and_costs_no_time() -> None:
    unasked = coat_step("extra", "red-pot", "hide", by_name_only=True)
    project = with_steps(unasked, coat_step("wash", "wash-pot", "hide"))
    first, second = plan.planned_steps(project, scheme_of(project))
    assert (first.number, first.pot, first.models, first.who) == (1, "A", 0, "nobody")
    assert (first.total_minutes, first.sub_batches) == (0.0, ())
    assert (second.number, second.pot) == (2, "B")


def test_sub_batches_come_from_the_painters_habit() -> None:
    project = with_steps(coat_step("glaze", "red-pot", "hide"), habits=Habits(sub_batch=5))
    (step,) = plan.planned_steps(project, scheme_of(project))
    assert step.sub_batches == (4, 4, 4)
    assert plan.sub_batches(38, 6) == (6, 6, 6, 5, 5, 5, 5)


@given(models=st.integers(0, 10000), largest=st.integers(1, 1000))
def test_sub_batches_hold_every_model_once_and_are_even(models: int, largest: int) -> None:
    runs = plan.sub_batches(models, largest)
    assert sum(runs) == models
    assert len(runs) == -(-models // largest)
    assert list(runs) == sorted(runs, reverse=True)
    if runs:
        assert runs[-1] >= 1
        assert runs[0] <= min(largest, runs[-1] + 1)


@given(rank=st.integers(0, 500), captains=st.integers(1, 500))
def test_minutes_are_linear_in_models(rank: int, captains: int) -> None:
    project = small_project()
    groups = (
        replace(project.groups[0], count=rank),
        replace(project.groups[1], count=captains),
    )
    steps = plan.planned_steps(replace(project, groups=groups), scheme_of(project))
    assert [step.hands_on_minutes for step in steps] == pytest.approx(
        [
            0.4 * (rank + captains),
            0.4 * (rank + captains),
            1.5 * (rank + captains),
            2.0 * captains,
            0.6 * captains,
            1.5 * (rank + captains),
        ]
    )


def test_technique_in_trade_words() -> None:
    project = small_project()
    words = [step.technique for step in plan.planned_steps(project, scheme_of(project))]
    assert words == [
        "primer, all over",
        "sprayed from above",
        "wash, normal",
        "feathered glaze, normal, 2 passes",
        "glaze, normal",
        "texture",
    ]
    assert technique_words(work("v", WorkKind.VARNISH, sprayed=True)) == "varnish, sprayed"
    assert technique_words(coat_step("h", "red-pot", "hide", wet_um=60.0)) == "glaze, heavy"


def test_where_in_words() -> None:
    def words(placement: Placement) -> str:
        return where_words(coat_step("s", "red-pot", "hide", placement=placement))

    assert words(Placement()) == ""
    assert words(POOLED) == "pools in recesses"
    assert words(TIPS) == "from 40% to 100% of the length, feather the start over 40%"
    both = Placement(
        relief=ReliefProfile(kind=ReliefKind.CATCHES),
        along=AlongProfile(start=0.0, end=0.5, feather_start=0.1, feather_end=0.25),
    )
    assert words(both) == (
        "catches raised edges, from 0% to 50% of the length, "
        "feather the start over 10% and the end over 25%"
    )
    hard = Placement(along=AlongProfile(start=0.2, end=0.8))
    assert words(hard) == "from 20% to 80% of the length"
    assert where_words(work("w", WorkKind.OTHER)) == ""


def test_letters_run_past_z() -> None:
    from schemeforge.plan.letters import letter

    assert [letter(i) for i in (0, 25, 26, 27, 51, 52, 701, 702)] == [
        "A", "Z", "AA", "AB", "AZ", "BA", "ZZ", "AAA",
    ]  # fmt: skip
    everything = [letter(i) for i in range(1000)]
    assert len(set(everything)) == 1000


def test_letters_do_not_move_when_a_group_is_turned_to_none() -> None:
    project = large_project()
    scheme = scheme_of(project)
    none = tuple(
        Share(group_id=group.id, zone_id="hide", kind=ShareKind.NONE) for group in project.groups
    )
    fewer = replace(scheme, shares=none)
    assert plan.pot_letters(fewer) == plan.pot_letters(scheme)
    assert plan.pot_letters(scheme)["pot-hide"] == "C"


def test_a_mix_that_no_step_uses_has_no_letter() -> None:
    project = with_steps(coat_step("glaze", "red-pot", "hide"))
    assert plan.pot_letters(scheme_of(project)) == {"red-pot": "A"}
