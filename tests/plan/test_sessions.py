from dataclasses import replace

import pytest

from schemeforge import plan
from schemeforge.scheme import Habits, Sitting
from tests.builders import small_project
from tests.plan.batch import scheme_of


def test_hands_on_time_of_the_small_project_by_hand() -> None:
    # At the models: 0.4 x 12 + 0.4 x 12 + 1.5 x 12 + 2.0 x 2 + 0.6 x 2 + 1.5 x 12 = 50.8 min.
    # Set-up: 15 + 15 + 4 x 5 = 50; mixing: three pots of more than one ingredient, 15.
    project = small_project()
    figure = plan.hands_on(project, scheme_of(project))
    assert figure.at_models == pytest.approx(50.8)
    assert (figure.set_up, figure.mixing) == (50.0, 15.0)
    assert figure.total == pytest.approx(115.8)
    assert figure.total == plan.total_minutes(project, scheme_of(project))
    assert figure.per_model == pytest.approx(9.65)
    assert figure.left == pytest.approx(4.2)
    assert figure.sentence == (
        "Hands-on 1.9 h, sittings give 2.0 h: 0.1 h to spare, drying not counted."
    )


def test_the_painters_own_minutes_for_mixing_count() -> None:
    project = replace(small_project(), habits=Habits(mixing_minutes=8.0))
    assert plan.hands_on(project, scheme_of(project)).mixing == 24.0


def test_too_few_hours_are_said_plainly() -> None:
    project = replace(small_project(), sittings=(Sitting(id="short", minutes=60.0),))
    figure = plan.hands_on(project, scheme_of(project))
    assert figure.left == pytest.approx(-55.8)
    assert figure.sentence.endswith("sittings give 1.0 h: 0.9 h too few, drying not counted.")


def test_no_sittings() -> None:
    project = replace(small_project(), sittings=())
    assert plan.sitting_hours(project) == 0.0
    figure = plan.hands_on(project, scheme_of(project))
    assert figure.sentence == "Hands-on 1.9 h; no sittings are planned yet."


def test_sittings_add_up_over_days_and_hands() -> None:
    sittings = (Sitting(id="a", minutes=90.0), Sitting(id="b", minutes=120.0))
    project = replace(small_project(), sittings=sittings)
    assert plan.sitting_hours(project) == 3.5
    assert plan.sitting_hours(replace(project, habits=Habits(hands=2))) == 7.0


def test_an_empty_batch_takes_no_time() -> None:
    empty = tuple(replace(group, count=0) for group in small_project().groups)
    project = replace(small_project(), groups=empty)
    figure = plan.hands_on(project, scheme_of(project))
    assert (figure.total, figure.per_model) == (0.0, 0.0)


def test_steps_and_pots_at_hand_are_used() -> None:
    project = small_project()
    scheme = scheme_of(project)
    whole = plan.hands_on(project, scheme)
    steps, filled = plan.planned_steps(project, scheme), plan.pots(project, scheme)
    assert plan.hands_on(project, scheme, steps=steps, filled=filled) == whole
    fewer = plan.hands_on(project, scheme, steps=steps[:1], filled=filled[:1])
    assert fewer.total == pytest.approx(0.4 * 12 + 15.0)
