import math
from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from schemeforge import plan
from schemeforge.errors import InputError, PaintMissingError
from schemeforge.scheme import (
    Group,
    Habits,
    Primer,
    Project,
    Scheme,
    Share,
    ShareKind,
    Spray,
    Step,
    Technique,
    Zone,
)
from tests.builders import TIPS, coat_step, mix, small_project, small_zones
from tests.plan.batch import large_project, scheme_of, with_steps

PLAIN = Habits(waste=1.0, stays_in_pot_ml=0.0, overspray=0.0)


def by_letter(project: Project) -> dict[str, plan.Pot]:
    return {pot.letter: pot for pot in plan.pots(project, scheme_of(project))}


def test_volumes_of_the_small_project_by_hand() -> None:
    # 32 mm base, medium build: body 23 cm2, hide 11.5, cloak 6, base top pi 1.6^2 = 8.0425 cm2.
    # A primer: 12 x 25.5425 x 80 / 10000 = 2.45208 ml on the models, /0.5 overspray = 4.90416,
    #   x 1.5 + 0.5 = 7.85624 ml.
    # B off-white: mean tone hide 0.5, cloak 0.35: 12 x (11.5 x 20 + 6 x 14) / 10000 = 0.3768,
    #   /0.5 = 0.7536, x 1.5 + 0.5 = 1.6304 ml.
    # C wash: 12 x 17.5 x 140 / 10000 = 2.94; x 1.5 + 0.5 = 4.91 ml.
    # D red: cloak, 2 captains, 25 um x 2 passes x mean along (0.6 - 0.2) = 20 um:
    #   2 x 6 x 20 / 10000 = 0.024; hide, 2 captains, 25 um: 2 x 11.5 x 25 / 10000 = 0.0575;
    #   0.0815 x 1.5 + 0.5 = 0.62225 ml.
    pots = by_letter(small_project())
    assert list(pots) == ["A", "B", "C", "D"]
    assert pots["A"].on_models_ml == pytest.approx(2.45208, abs=1e-5)
    assert pots["A"].ml == pytest.approx(7.85624, abs=1e-5)
    assert pots["B"].on_models_ml == pytest.approx(0.3768)
    assert pots["B"].ml == pytest.approx(1.6304)
    assert [pots["C"].on_models_ml, pots["C"].used_ml] == pytest.approx([2.94, 2.94])
    assert pots["C"].ml == pytest.approx(4.91)
    assert pots["D"].on_models_ml == pytest.approx(0.0815)
    assert pots["D"].ml == pytest.approx(0.62225)
    assert pots["D"].step_ids == ("red", "warm")
    assert pots["D"].step_numbers == (4, 5)
    assert pots["A"].is_neat
    assert not pots["C"].is_neat


def test_amounts_of_the_wash_by_hand() -> None:
    # 4.91 ml at 30:30:40: 1.473, 1.473, 1.964 ml; 1.1 g/ml but water 1.0: 1.6203, 1.6203, 1.964 g;
    # at 0.05 ml a drop 29.46, 29.46, 39.28 drops, counted out as 30:30:40.
    wash = by_letter(small_project())["C"]
    assert [a.name for a in wash.amounts] == ["brown wash", "clear medium", "water"]
    assert [a.share for a in wash.amounts] == pytest.approx([0.3, 0.3, 0.4])
    assert [a.ml for a in wash.amounts] == pytest.approx([1.473, 1.473, 1.964])
    assert [a.grams for a in wash.amounts] == pytest.approx([1.6203, 1.6203, 1.964])
    assert [a.drops for a in wash.amounts] == pytest.approx([29.46, 29.46, 39.28])
    assert [a.whole_drops for a in wash.amounts] == [30, 30, 40]
    assert wash.grams == pytest.approx(5.2046)
    assert wash.drops == pytest.approx(98.2)


@pytest.mark.parametrize("zone", small_zones())
def test_mean_film_of_each_layer(zone: Zone) -> None:
    low, high = zone.tones
    spray = Step(id="s", name="s", layer=Spray(mix_id="m", peak_um=50.0), zone_ids=(zone.id,))
    # Independent: the mean of a linear tone over relief by the midpoint rule.
    steps = 1000
    mean = sum(50.0 * (low + (high - low) * (i + 0.5) / steps) for i in range(steps)) / steps
    assert plan.film_um(spray, zone) == pytest.approx(mean)
    prime = Step(id="p", name="p", layer=Primer(mix_id="m"), zone_ids=(zone.id,))
    assert plan.film_um(prime, zone) == 80.0
    work = small_project().schemes[0].steps[-1]
    assert plan.film_um(work, zone) == 0.0
    coat = coat_step("c", "m", zone.id, wet_um=30.0, passes=3, placement=TIPS)
    assert plan.film_um(coat, zone) == pytest.approx(30.0 * 3 * 0.4)


def test_overspray_counts_for_sprayed_layers_only() -> None:
    brushed = coat_step("b", "red-pot", "hide")
    sprayed = coat_step("a", "wash-pot", "hide", technique=Technique.AIRBRUSH)
    habits = replace(PLAIN, overspray=0.75)
    project = with_steps(brushed, sprayed, habits=habits)
    pots = by_letter(project)
    assert pots["A"].used_ml == pytest.approx(pots["A"].on_models_ml)
    assert pots["B"].used_ml == pytest.approx(4.0 * pots["B"].on_models_ml)


def test_what_stays_in_the_pot_counts_once_a_pot_and_waste_is_a_factor() -> None:
    steps = (coat_step("one", "red-pot", "hide"), coat_step("two", "red-pot", "cloak"))
    plain = by_letter(with_steps(*steps, habits=PLAIN))["A"].ml
    habits = replace(PLAIN, waste=2.0, stays_in_pot_ml=0.75)
    assert by_letter(with_steps(*steps, habits=habits))["A"].ml == pytest.approx(2 * plain + 0.75)


def test_a_coat_that_nobody_gets_takes_nothing_not_even_the_rest_in_the_pot() -> None:
    (pot,) = by_letter(with_steps(coat_step("x", "red-pot", "hide", by_name_only=True))).values()
    assert (pot.ml, pot.grams, pot.drops) == (0.0, 0.0, 0.0)
    assert [a.whole_drops for a in pot.amounts] == [0, 0, 0]
    assert pot.warning is None


@pytest.mark.parametrize("kind", list(ShareKind))
def test_who_gets_what_is_honoured(kind: ShareKind) -> None:
    # Ten of rank and file on the hide, two captains always in full: 25 um x 11.5 cm2 each.
    steps = (coat_step("a", "red-pot", "hide"), coat_step("b", "wash-pot", "hide"))
    named = ("b",) if kind in {ShareKind.SHORT, ShareKind.OWN} else ()
    share = Share(group_id="rank", zone_id="hide", kind=kind, step_ids=named)
    pots = by_letter(with_steps(*steps, shares=(share,), habits=PLAIN))
    each = 11.5 * 25.0 / 10000.0
    models = {
        ShareKind.FULL: (12, 12),
        ShareKind.SHORT: (12, 2),
        ShareKind.OWN: (2, 12),
        ShareKind.NONE: (2, 2),
    }[kind]
    assert (pots["A"].ml, pots["B"].ml) == pytest.approx((models[0] * each, models[1] * each))


def counted(rank: int, captains: int, habits: Habits) -> Project:
    project = small_project()
    groups = (
        Group(id="rank", name="r", count=rank),
        Group(id="captains", name="c", count=captains),
    )
    return replace(project, groups=groups, habits=habits)


@given(rank=st.integers(0, 300), captains=st.integers(0, 300), times=st.integers(1, 10))
def test_volumes_are_linear_in_models(rank: int, captains: int, times: int) -> None:
    habits = Habits(stays_in_pot_ml=0.0)
    once = plan.pots(counted(rank, captains, habits), scheme_of(small_project()))
    more = plan.pots(counted(times * rank, times * captains, habits), scheme_of(small_project()))
    apart = [
        plan.pots(counted(*counts, habits), scheme_of(small_project()))
        for counts in ((rank, 0), (0, captains))
    ]
    for pot, multiple, first, second in zip(once, more, *apart, strict=True):
        assert multiple.ml == pytest.approx(times * pot.ml)
        assert first.ml + second.ml == pytest.approx(pot.ml)


@given(
    waste=st.floats(1.0, 20.0),
    stays=st.floats(0.0, 100.0),
    overspray=st.floats(0.0, 0.95),
    drop=st.floats(0.005, 1.0),
)
def test_amounts_add_up_to_the_pot(
    waste: float, stays: float, overspray: float, drop: float
) -> None:
    habits = Habits(waste=waste, stays_in_pot_ml=stays, overspray=overspray, drop_ml=drop)
    project = replace(large_project(), habits=habits)
    for pot in plan.pots(project, scheme_of(project)):
        assert sum(a.ml for a in pot.amounts) == pytest.approx(pot.ml)
        assert sum(a.share for a in pot.amounts) == pytest.approx(1.0)
        assert sum(a.drops for a in pot.amounts) == pytest.approx(pot.ml / drop)
        assert pot.drops == pytest.approx(pot.ml / drop)
        assert pot.ml >= pot.used_ml >= pot.on_models_ml > 0.0
        assert 1.0 * pot.ml <= pot.grams <= 1.1 * pot.ml + 1e-9


def test_a_small_or_lopsided_pot_is_warned_of() -> None:
    project = small_project()
    pots = by_letter(project)
    # D: 0.62225 ml are 12.4 drops, a fifth of it paint: 2.489 drops, so one drop is 40.2 %.
    warning = pots["D"].warning
    assert warning is not None
    assert (warning.pot, warning.ingredient) == ("D", "red glaze")
    assert warning.total_drops == pytest.approx(12.445)
    assert warning.change == pytest.approx(1.0 / 2.489)
    # B: 32.6 drops, 21.7 of paint; C: 98 drops, 29.5 of wash; A is neat.
    assert [pots[letter].warning for letter in "ABC"] == [None] * 3
    assert plan.drop_warnings(tuple(pots.values())) == (warning,)


@pytest.mark.parametrize(
    ("white", "change"),
    # 12 x 11.5 cm2 x 50 um = 0.69 ml, x 1.5 + 0.5 = 1.535 ml = 30.7 drops. At 99:1 that is 0.307
    # drops of red, at 9:1 3.07 drops, and at 3:1 7.675 drops: one is 13 %, less than the hand's
    # own 15 %.
    [(99.0, 1.0 / 0.307), (9.0, 1.0 / 3.07), (3.0, None)],
)
def test_a_trace_of_strong_colour_in_a_larger_pot_is_warned_of(
    white: float, change: float | None
) -> None:
    tint = mix("tint", off_white=white, red_glaze=1.0)
    scheme = Scheme(
        id="s",
        name="s",
        mixes=(tint,),
        steps=(coat_step("t", "tint", "hide", technique=Technique.BASE_COAT, wet_um=50.0),),
    )
    project = replace(small_project(), schemes=(scheme,), chosen_scheme_id="")
    (pot,) = plan.pots(project, scheme)
    assert pot.drops == pytest.approx(30.7)
    if change is None:
        assert pot.warning is None
    else:
        assert pot.warning is not None
        assert pot.warning.ingredient == "red glaze"
        assert pot.warning.change == pytest.approx(change)


def test_clear_ingredients_do_not_make_a_warning() -> None:
    thin = mix("thin", red_glaze=50.0, water=1.0)
    scheme = Scheme(
        id="s",
        name="s",
        mixes=(thin,),
        steps=(coat_step("t", "thin", "hide", technique=Technique.BASE_COAT, wet_um=50.0),),
    )
    project = replace(small_project(), schemes=(scheme,), chosen_scheme_id="")
    assert plan.pots(project, scheme)[0].warning is None


def test_topping_up_keeps_the_ratio() -> None:
    wash = by_letter(small_project())["C"]
    more = plan.topping_up(wash, 2.0)
    assert [a.ml for a in more] == pytest.approx([0.6, 0.6, 0.8])
    assert [a.grams for a in more] == pytest.approx([0.66, 0.66, 0.8])
    assert [a.whole_drops for a in more] == [12, 12, 16]
    assert [a.name for a in more] == [a.name for a in wash.amounts]
    assert all(a.ml == 0.0 for a in plan.topping_up(wash, 0.0))
    same = plan.topping_up(wash, wash.ml)
    assert same == wash.amounts


@pytest.mark.parametrize("more", [-1.0, math.nan, math.inf])
def test_topping_up_refuses_nonsense_in_a_sentence(more: float) -> None:
    with pytest.raises(InputError, match="Further mix"):
        plan.topping_up(by_letter(small_project())["C"], more)


def test_a_scheme_of_another_project_names_the_paint_that_is_missing() -> None:
    project = replace(small_project(), paints=(), schemes=(), chosen_scheme_id="")
    with pytest.raises(PaintMissingError, match="black-primer"):
        plan.pots(project, scheme_of(small_project()))
