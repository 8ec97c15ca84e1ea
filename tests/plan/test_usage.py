from dataclasses import replace

import pytest

from schemeforge import plan
from schemeforge.plan.usage import PotState
from schemeforge.scheme import Habits, PotUse, Project, Technique, Timing, edits
from tests.builders import coat_step, small_project
from tests.plan.batch import scheme_of, with_steps

# One coat of 100 um on the cloak's 6 cm2: 0.06 ml a model, 0.72 ml for twelve.
EACH = 0.06


def batch() -> Project:
    step = coat_step("coat", "red-pot", "cloak", technique=Technique.BASE_COAT, wet_um=100.0)
    return with_steps(step, habits=Habits(waste=1.5, stays_in_pot_ml=0.5))


def used(project: Project, models: int, mixed: float, left: float, **values: str) -> Project:
    use = PotUse(
        id=f"u{len(project.pot_uses)}", scheme_id="first", mix_id="red-pot", models=models,
        mixed_ml=mixed, left_ml=left, **values,
    )  # fmt: skip
    return edits.put_pot_use(project, use)


def done(project: Project, models: int) -> Project:
    timing = Timing(
        id=f"t{len(project.timings)}", scheme_id="first", step_id="coat", group_id="rank",
        models=models, minutes=5.0,
    )  # fmt: skip
    return edits.add_timing(project, timing)


def state(project: Project) -> PotState:
    scheme = scheme_of(project)
    (found,) = plan.pot_states(project, scheme, plan.progress(project, scheme))
    return found


def test_a_pot_without_records_is_as_estimated() -> None:
    project = batch()
    found = state(project)
    (pot,) = plan.pots(project, scheme_of(project))
    assert found.needed_ml == pytest.approx(pot.ml) == pytest.approx(12 * EACH * 1.5 + 0.5)
    assert (found.factor, found.left_ml, found.short_ml, found.models_left) == (
        1.0,
        None,
        None,
        None,
    )
    assert found.sentence == "Pot A, red pot: 1.6 ml for the batch, by estimate."


def test_the_estimate_is_put_right_after_five_models() -> None:
    # Five models took 0.6 ml where 0.3 were to end on them: twice as much. The seven others take
    # 7 x 0.12 = 0.84 and 0.5 stays in the pot.
    project = used(done(batch(), 5), 5, mixed=2.0, left=1.4)
    found = state(project)
    assert found.is_reset
    assert found.factor == pytest.approx(2.0)
    assert found.needed_ml == pytest.approx(12 * EACH * 2.0 + 0.5)
    assert found.still_ml == pytest.approx(0.84)
    assert found.left_ml == pytest.approx(1.4)
    assert found.short_ml == 0.0
    assert found.sentence.endswith("1.4 ml left, 0.8 ml still needed: it lasts.")


def test_it_warns_before_the_pot_runs_short() -> None:
    project = used(done(batch(), 5), 5, mixed=1.58, left=0.98)
    found = state(project)
    assert found.short_ml == pytest.approx(0.84 + 0.5 - 0.98)
    # 0.48 ml can be got out: four models at 0.12.
    assert found.models_left == 4
    assert "runs short after 4 more models; mix 0.4 ml before" in found.sentence


def test_what_was_done_since_the_record_is_taken_off() -> None:
    project = used(done(batch(), 7), 5, mixed=2.0, left=1.4)
    found = state(project)
    assert found.left_ml == pytest.approx(1.4 - 2 * 0.12)
    assert found.still_ml == pytest.approx(5 * 0.12)


def test_fewer_than_five_models_do_not_change_the_estimate() -> None:
    project = used(done(batch(), 3), 3, mixed=2.0, left=1.0)
    found = state(project)
    assert not found.is_reset
    assert found.factor == 1.0
    assert found.sentence == (
        "Pot A, red pot: 1.0 ml left; the estimate is put right after 5 models, 3 are recorded."
    )


def test_records_add_up_and_the_latest_tells_what_is_left() -> None:
    project = used(done(batch(), 6), 3, mixed=2.0, left=1.7)
    project = used(project, 3, mixed=1.7, left=1.4)
    found = state(project)
    assert found.models_seen == 6
    assert found.factor == pytest.approx(0.6 / (6 * EACH))
    assert found.left_ml == pytest.approx(1.4)


def test_records_of_one_group() -> None:
    small = small_project()
    captains = PotUse(
        id="u", scheme_id="first", mix_id="red-pot", group_id="captains", models=2, mixed_ml=1.0,
        left_ml=0.8,
    )  # fmt: skip
    project = edits.put_pot_use(small, captains)
    states = {s.pot.mix.id: s for s in plan.pot_states(project, scheme_of(project))}
    assert states["red-pot"].models_seen == 2
    # The off-white is sprayed: half of it misses.
    (white,) = [p for p in plan.pots(project, scheme_of(project)) if p.mix.id == "white-pot"]
    assert states["white-pot"].needed_ml == pytest.approx(white.ml)


def test_a_pot_whose_work_is_done_lasts() -> None:
    project = used(done(batch(), 10), 12, mixed=2.0, left=0.1)
    project = edits.add_timing(
        project,
        Timing(id="c", scheme_id="first", step_id="coat", group_id="captains", models=2,
               minutes=1.0),
    )  # fmt: skip
    found = state(project)
    assert found.still_ml == pytest.approx(0.0)
    assert found.short_ml == pytest.approx(0.0)
    assert found.sentence.endswith("it lasts.")


def test_groups_without_models_take_nothing() -> None:
    project = used(batch(), 6, mixed=2.0, left=1.0, group_id="captains")
    empty = replace(project, groups=(project.groups[0], replace(project.groups[1], count=0)))
    assert state(empty).factor == 1.0
