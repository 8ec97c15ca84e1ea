"""Sturdiness, ranking and reach: what a painter is told about recipes, and why."""

from dataclasses import replace

import numpy as np
import pytest

from schemeforge import colorimetry, optics
from schemeforge.paint import CERTAIN, Paint, Stock, Uncertainty
from schemeforge.recipe import (
    Bed,
    Laying,
    Part,
    Ranked,
    Recipe,
    RecipeCoat,
    Request,
    Saying,
    Sturdiness,
    Target,
    UnderLight,
    coat_words,
    plain_bed,
    ranking,
    reach,
    recipe_words,
    search,
    sturdiness,
)
from schemeforge.recipe.ranking import ranked_in_order, to_fetch, without_surplus, worth_judging
from schemeforge.recipe.reach import ideal_paints
from schemeforge.recipe.saying import listed
from schemeforge.recipe.sturdiness import DRAWS, drawn
from schemeforge.scheme import ReliefKind, ReliefProfile, Technique
from tests.builders import flat, synthetic_paint
from tests.recipe.shelves import LOOK, SMALL, depths, difference, ramp_bed, request, seen_lab, shelf

GLAZE = RecipeCoat(
    paints=(Part(paint_id="p00", parts=3), Part(paint_id="p01", parts=1)),
    technique=Technique.GLAZE,
    wet_um=25.0,
    coats=2,
    thinner_parts=2,
)


def plain(delta_e: float, *ids: str, coats: int = 1) -> Recipe:
    """A recipe that says no more than that."""
    coat = RecipeCoat(
        paints=tuple(Part(paint_id=one, parts=1) for one in ids),
        technique=Technique.GLAZE,
        wet_um=25.0,
        coats=coats,
    )
    return Recipe(coats=(coat,), lab=((50.0, 0.0, 0.0),), differences=(delta_e,), delta_e=delta_e)


def sturdy(slip: float = 1.0, light: float = 1.0) -> Sturdiness:
    """Sturdiness of that slip, all of it from a quarter part."""
    return Sturdiness(
        quarter_part=slip,
        ingredient_id="p00",
        heavy_coat=0.0,
        unsure=0.0,
        light="A",
        other_light=light,
    )


def test_slips_are_worked_out_from_the_mix() -> None:
    """Each slip of a recipe again, by hand: parts changed, films heavier, over each tone."""
    asked = request(4, 3, lab=((40.0, 5.0, 5.0),) * 3, bed=ramp_bed())
    certain = tuple(replace(p, uncertainty=CERTAIN) for p in asked.paints)
    asked = replace(asked, paints=certain)
    recipe = Recipe(coats=(GLAZE,), lab=((0.0, 0.0, 0.0),) * 3, differences=(0.0,) * 3, delta_e=0.0)
    (found,) = sturdiness([recipe], asked)

    def lab(first: float, second: float, thin: float, film: float) -> np.ndarray:
        K = np.array([p.absorption for p in certain[:2]] + [asked.thinner.absorption])
        S = np.array([p.scattering for p in certain[:2]] + [asked.thinner.scattering])
        return seen_lab([optics.mix([first, second, thin], film, K, S)], asked.bed, LOOK)

    nominal = lab(3.0, 1.0, 2.0, 50.0)
    slips = {
        "p00": [lab(3.25, 1.0, 2.0, 50.0), lab(2.75, 1.0, 2.0, 50.0)],
        "p01": [lab(3.0, 1.25, 2.0, 50.0), lab(3.0, 0.75, 2.0, 50.0)],
        "water": [lab(3.0, 1.0, 2.25, 50.0), lab(3.0, 1.0, 1.75, 50.0)],
    }
    worst = {name: max(difference(one, nominal) for one in two) for name, two in slips.items()}
    assert abs(found.quarter_part - max(worst.values())) < 1e-9
    assert found.ingredient_id == max(worst, key=lambda name: worst[name])
    assert abs(found.heavy_coat - difference(lab(3.0, 1.0, 2.0, 57.5), nominal)) < 1e-9
    assert found.unsure == 0.0
    assert found.slip == pytest.approx(np.hypot(found.quarter_part, found.heavy_coat))


def test_paints_that_are_less_sure_make_recipes_less_sure() -> None:
    asked = request(4, 3)
    recipe = Recipe(coats=(GLAZE,), lab=((0.0, 0.0, 0.0),), differences=(0.0,), delta_e=0.0)
    found = []
    for level in (0.05, 0.3):
        unsure = Uncertainty(level_k=level, level_s=level)
        paints = tuple(replace(p, uncertainty=unsure) for p in asked.paints)
        (one,) = sturdiness([recipe], replace(asked, paints=paints))
        found.append(one.unsure)
    assert 0.0 < found[0] < found[1]
    K, S = drawn(asked.paints[0], DRAWS)
    assert K.shape == S.shape == (DRAWS + 1, optics.bands.COUNT)
    assert np.allclose(K[0], asked.paints[0].absorption)
    # The level of the builders' paints has a standard deviation of 0.2 in log K.
    assert 0.12 < np.log(K[1:] / K[0]).mean(axis=1).std() < 0.32


def test_constancy_is_from_the_target_where_that_is_known() -> None:
    asked = request(4, 3)
    found = search(asked)
    assert found is not None
    recipe = found.recipes[0]
    (alone,) = sturdiness([recipe], asked, ("D65", "A"))
    assert alone.light == "A"
    part = recipe.coats[0]
    paints = [asked.paint(p.paint_id) for p in part.paints]
    depth = depths(
        paints,
        asked.thinner,
        tuple(p.parts for p in part.paints),
        part.thinner_parts,
        part.wet_um * part.coats,
    )
    there = seen_lab([depth], asked.bed, replace(LOOK, light="A"))
    assert alone.other_light == pytest.approx(difference(there, np.array(recipe.lab)))
    same = UnderLight(light="A", lab=(tuple(float(v) for v in there[0]),))  # type: ignore[arg-type]
    target = replace(asked.target, others=(same,))
    (matched,) = sturdiness([recipe], replace(asked, target=target), ("A",))
    assert matched.other_light < 1e-9
    (none,) = sturdiness([recipe], asked, ("D65",))
    assert (none.light, none.other_light) == ("", 0.0)


ORDER = [
    ("match", plain(0.9, "p00"), sturdy(9.0), plain(1.1, "p01"), sturdy(0.1)),
    ("sturdiness", plain(0.9, "p00", "p01"), sturdy(1.0), plain(0.1, "p02"), sturdy(2.0)),
    ("lights", plain(0.9, "p00"), sturdy(1.0, 0.4), plain(0.1, "p01"), sturdy(1.0, 3.0)),
    ("paints", plain(0.9, "p00"), sturdy(), plain(0.1, "p01", "p02"), sturdy()),
    ("stock", plain(0.9, "p00"), sturdy(), plain(0.1, "p02"), sturdy()),
    ("effort", plain(0.9, "p00"), sturdy(), plain(0.1, "p01", coats=3), sturdy()),
    ("nearest", plain(0.1, "p00"), sturdy(), plain(0.2, "p01"), sturdy()),
    ("nearest", plain(0.1, "p00"), sturdy(), plain(0.1, "p01"), sturdy()),
]


@pytest.mark.parametrize(("key", "first", "firm", "second", "weak"), ORDER)
def test_the_order_and_its_reason(
    key: str, first: Recipe, firm: Sturdiness, second: Recipe, weak: Sturdiness
) -> None:
    asked = request(1, 4)
    paints = list(asked.paints)
    paints[2] = replace(paints[2], name="dear blue", stock=Stock(left_ml=0.0))
    asked = replace(asked, paints=tuple(paints))
    entries = [
        Ranked(recipe=one, sturdiness=s, to_fetch=to_fetch(one, asked), hours=None)
        for one, s in ((second, weak), (first, firm))
    ]
    best, last = ranked_in_order(entries, asked)
    assert best.recipe == first
    assert last.why is None
    assert best.why is not None
    assert best.why.key == key
    sentence = best.why.sentence
    assert sentence[0].isupper()
    assert "{" not in sentence
    if key == "stock":
        assert sentence == "As good as the next, and to fetch for it: nothing, against dear blue"
    if key == "sturdiness":
        assert sentence.endswith("shows less: 1.0 against 2.0")


def test_hours_count_where_they_are_known() -> None:
    asked = request(1, 4)
    quick, slow = plain(0.9, "p00", coats=3), plain(0.1, "p01")
    entries = [
        Ranked(recipe=one, sturdiness=sturdy(), to_fetch=(), hours=hours)
        for one, hours in ((slow, 5.0), (quick, 1.5))
    ]
    best, _ = ranked_in_order(entries, asked)
    assert best.recipe == quick
    assert best.why is not None
    assert best.why.sentence == "As good as the next in less time: 1.5 h against 5.0 h"


def test_a_paint_that_adds_nothing_makes_no_recipe_of_its_own() -> None:
    pair, triple, better = (
        plain(1.2, "a", "b"),
        plain(1.1, "a", "b", "c"),
        plain(0.3, "a", "b", "d"),
    )
    assert without_surplus([better, triple, pair]) == [better, pair]


def test_what_is_far_off_is_not_judged() -> None:
    pool = [plain(0.1 * n, f"p{n}") for n in range(60)]
    assert len(worth_judging(pool, 10)) == 21
    assert len(worth_judging(pool, 40)) == 60
    assert worth_judging([], 10) == []


def test_what_is_to_be_fetched() -> None:
    asked = request(1, 3, needed_ml=6.0)
    paints = tuple(
        replace(p, stock=Stock(left_ml=ml))
        for p, ml in zip(asked.paints, (2.0, None, 0.0), strict=True)
    )
    asked = replace(asked, paints=paints)
    recipe = plain(0.5, "p00", "p01", "p02")
    assert to_fetch(recipe, asked) == ("p02",)
    assert to_fetch(recipe, replace(asked, needed_ml=9.0)) == ("p00", "p02")


def test_the_ranking_of_a_search() -> None:
    asked = replace(request(2, 9), count=5)
    found = ranking(asked, hours_of=lambda recipe: 0.5 * recipe.coat_count)
    assert found is not None
    assert len(found.recipes) == 5
    searched = search(asked)
    assert searched is not None
    assert found.nearest == searched.recipes[0]
    assert found.searched == searched.searched
    sets = [entry.recipe.paint_ids for entry in found.recipes]
    assert len(set(sets)) == 5
    steps = [int(entry.recipe.delta_e) for entry in found.recipes]
    assert steps == sorted(steps)
    assert [entry.why is None for entry in found.recipes] == [False] * 4 + [True]
    for entry in found.recipes:
        assert entry.words == colorimetry.difference_words(entry.recipe.delta_e)
        assert entry.hours == 0.5 * entry.recipe.coat_count
    assert ranking(asked) == ranking(asked)
    for stop in (0.3, 1.0):
        assert ranking(asked, go_on=lambda share, stop=stop: share < stop) is None  # type: ignore[misc]


def test_a_ranking_of_nothing() -> None:
    asked = request(1, 2, needed_ml=100.0)
    paints = tuple(replace(p, stock=Stock(left_ml=0.01)) for p in asked.paints)
    found = ranking(replace(asked, paints=paints))
    assert found is not None
    assert found.recipes == ()
    assert found.nearest is None


def causes(asked: Request) -> dict[str, str]:
    """What holds the target back, by key, and checks that it is told in order."""
    found = search(asked)
    assert found is not None
    told = reach(asked, found.recipes[0])
    assert told is not None
    assert not told.is_reached
    assert told.delta_e == found.recipes[0].delta_e
    gains = [cause.delta_e for cause in told.causes]
    assert gains == sorted(gains)
    assert all(gain <= 0.75 * told.delta_e for gain in gains)
    assert "differs from the target" in told.miss.sentence
    return {cause.saying.key: cause.saying.sentence for cause in told.causes}


def paint_of(name: str, K: float, S: float) -> Paint:
    return synthetic_paint(name, absorption=flat(K), scattering=flat(S))


def with_paints(asked: Request, *paints: Paint) -> Request:
    return replace(asked, paints=paints)


def test_a_glaze_over_black_is_held_back_by_its_ground() -> None:
    asked = request(1, 1, lab=((70.0, 0.0, 0.0),), bed=plain_bed(0.02))
    told = causes(with_paints(asked, paint_of("grey-glaze", 0.01, 0.0)))
    assert told["dark ground"].startswith("The undercoat is too dark here: over an off-white")


def test_a_clear_dark_over_white_is_held_back_by_its_ground() -> None:
    asked = request(1, 1, lab=((28.0, 0.0, 0.0),), bed=plain_bed(0.8))
    told = causes(with_paints(asked, paint_of("grey-glaze", 0.002, 0.0)))
    assert told["light ground"].startswith("The undercoat is too light here: over black")
    assert told["thin"].startswith("The coats are too thin to hide what is below: with 12 coats")


def test_a_strong_paint_is_held_back_by_whole_parts() -> None:
    asked = request(1, 1, lab=((88.0, 0.0, 0.0),), bed=plain_bed(0.8))
    told = causes(with_paints(asked, paint_of("soot", 0.5, 0.0)))
    assert told["strong"].startswith("One part is already too much of soot: let down to one in ten")


def test_a_missing_hue_is_named() -> None:
    asked = request(1, 1, lab=((60.0, -45.0, 10.0),), bed=plain_bed(0.8))
    told = causes(with_paints(asked, paint_of("grey-glaze", 0.01, 0.0)))
    assert "green" in told["hue"]
    assert told["hue"].startswith("No paint here is of that hue and strength (")


def test_a_matt_finish_keeps_blacks_pale() -> None:
    asked = request(1, 1, lab=((10.0, 0.0, 0.0),), bed=plain_bed(0.02))
    told = causes(with_paints(asked, paint_of("black", 0.4, 0.001)))
    assert told["finish"].startswith("The finish keeps it pale: under a gloss varnish")
    gloss = replace(
        asked, look=replace(LOOK, surface=optics.GLOSS), target=Target(lab=((0, 0, 0),))
    )
    assert "finish" not in causes(with_paints(gloss, paint_of("black", 0.002, 0.001)))


def test_a_ramp_wants_the_coat_elsewhere() -> None:
    black = paint_of("soot", 0.1, 0.0)
    places = np.linspace(0.0, 1.0, 5)
    bed = plain_bed(np.full((5, optics.bands.COUNT), 0.7))
    film = ReliefProfile(kind=ReliefKind.POOLS).film(places)
    pooled = Bed(bed.reflectance, bed.weights, film, tone=bed.tone, relief=bed.relief)
    K = np.full(optics.bands.COUNT, 0.1)
    lab = seen_lab([(5.0 * K, 0.0 * K)], pooled, LOOK)
    target = tuple(tuple(float(v) for v in row) for row in lab)
    asked = request(1, 1, lab=target, bed=bed)  # type: ignore[arg-type]
    told = causes(with_paints(asked, black))
    assert "laid pooling in recesses" in told["place"]


def test_what_is_reached_has_no_causes_and_trials_can_be_stopped() -> None:
    asked = request(2, 5)
    found = search(asked)
    assert found is not None
    recipe = found.recipes[0]
    near = reach(replace(asked, target=Target(lab=recipe.lab)), replace(recipe, delta_e=0.0))
    assert near is not None
    assert near.is_reached
    assert near.causes == ()
    assert near.miss.sentence == "The nearest recipe is off by 0.0"
    far = replace(asked, target=Target(lab=((90.0, -60.0, 60.0),)))
    lost = search(far)
    assert lost is not None
    shares: list[float] = []

    def note(share: float) -> bool:
        shares.append(share)
        return share < 0.5

    assert reach(far, lost.recipes[0], go_on=note) is None
    assert shares == sorted(shares)
    assert shares[-1] >= 0.5


def test_a_full_shelf_leaves_room_for_trials() -> None:
    asked = request(2, 5, lab=((90.0, -60.0, 60.0),))
    asked = replace(asked, paints=shelf(3, 399), without=tuple(f"p{n:02d}" for n in range(3, 399)))
    found = search(asked)
    assert found is not None
    assert reach(asked, found.recipes[0]) is not None


def test_ideal_paints_are_paints() -> None:
    ids = [paint.id for paint in ideal_paints()]
    assert len(set(ids)) == len(ids) > 20


def test_recipes_in_words() -> None:
    paints = shelf(1, 2)
    names = {paint.id: paint.name for paint in paints} | {"water": "water"}
    assert (
        coat_words(GLAZE, names)
        == "3 parts p00 to 1 of p01 and 2 of water: glaze, 2 coats of 25 um"
    )
    neat = RecipeCoat(
        paints=(Part(paint_id="p01", parts=1),),
        technique=Technique.BASE_COAT,
        wet_um=50.0,
        coats=1,
    )
    recipe = Recipe(coats=(neat, GLAZE), lab=(), differences=(), delta_e=0.0)
    assert recipe_words(recipe, paints).startswith("p01, neat: base coat, 1 coat of 50 um; then 3 ")
    assert listed([]) == ""
    assert listed(["a", "b", "c"]) == "a, b and c"


def test_sayings_are_translated_by_their_template() -> None:
    saying = Saying(key="k", template="{a} and more", names=(("a", "this"),))
    assert saying.said(lambda text: text.replace("and more", "und mehr")) == "This und mehr"


def test_layings_that_a_trial_widens_stay_valid() -> None:
    asked = request(2, 3, lab=((90.0, -60.0, 60.0),), laying=Laying(coats=(12,), most_parts=4))
    found = search(asked)
    assert found is not None
    assert reach(asked, found.recipes[0]) is not None
    assert SMALL.films == (25.0,)
