"""The plan against the trade's own figures: spreading rate, base areas, minutes and volumes."""

from dataclasses import replace

import pytest

from schemeforge import plan
from schemeforge.scheme import AreaBasis, Habits, ModelSize, Technique, Zone
from tests.builders import coat_step, small_project
from tests.plan.batch import large_project, scheme_of


@pytest.mark.parametrize("square_metres_per_litre", [10.0, 12.0])
def test_the_published_spreading_rate_comes_back(square_metres_per_litre: float) -> None:
    # Published sheets of house paint give 10 to 12 m2 a litre. That is 1000 / rate um wet, 83 to
    # 100 um, so 1 m2 = 10 000 cm2 must take 1000 / rate ml.
    film = 1000.0 / square_metres_per_litre
    panel = Zone(id="panel", name="panel", area_cm2=10_000.0)
    project = small_project()
    step = coat_step("coat", "red-pot", "panel", technique=Technique.BASE_COAT, wet_um=film)
    scheme = replace(scheme_of(project), steps=(step,), shares=())
    one = replace(
        project,
        zones=(panel,),
        groups=(replace(project.groups[0], count=1),),
        schemes=(scheme,),
        habits=Habits(waste=1.0, stays_in_pot_ml=0.0),
    )
    (pot,) = plan.pots(one, scheme)
    assert pot.ml == pytest.approx(1000.0 / square_metres_per_litre)


@pytest.mark.parametrize(
    ("base_mm", "top_cm2", "rim_cm2"),
    # Derived from circles with a rim of 3.5 mm, rounded to a tenth.
    [(25.0, 4.9, 2.7), (32.0, 8.0, 3.5), (40.0, 12.6, 4.4), (60.0, 28.3, 6.6)],
)
def test_base_areas(base_mm: float, top_cm2: float, rim_cm2: float) -> None:
    size = ModelSize(base_mm=base_mm)
    top = Zone(id="t", name="t", area_basis=AreaBasis.BASE_TOP).area_on(size)
    rim = Zone(id="r", name="r", area_basis=AreaBasis.RIM).area_on(size)
    assert top == pytest.approx(top_cm2, abs=0.05)
    assert rim == pytest.approx(rim_cm2, abs=0.05)


def test_a_plausible_scheme_takes_the_trades_minutes_a_model() -> None:
    # 10 to 35 minutes a model at tabletop standard; 40 glazed models 7 to 17 hours (published
    # tutorials, derived).
    project = large_project()
    figure = plan.hands_on(project, scheme_of(project))
    assert 10.0 <= figure.per_model <= 35.0
    assert 7.0 <= figure.total / 60.0 * 40.0 / 36.0 <= 17.0


def test_pots_for_a_plausible_batch_are_of_the_size_of_bottles() -> None:
    # Bottles hold 12 to 60 ml: a batch of 36 takes a few ml of each glaze and at most a bottle
    # or two of wash and primer (common practice, no source).
    project = large_project()
    for pot in plan.pots(project, scheme_of(project)):
        assert 0.5 < pot.ml < 60.0
    glaze = next(p for p in plan.pots(project, scheme_of(project)) if p.mix.id == "pot-cloak")
    assert glaze.ml < 10.0
