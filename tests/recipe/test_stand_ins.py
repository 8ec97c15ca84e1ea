"""Stand-ins for a paint, a pot and an airbrush, in the small project and by hand."""

from dataclasses import replace

import numpy as np
import pytest

from schemeforge import colorimetry
from schemeforge.errors import InputError, UnknownNameError
from schemeforge.paint import Paint, Stock
from schemeforge.recipe import (
    Use,
    brushed_scheme,
    mix_request,
    remix,
    search,
    shortages,
    swaps,
    with_mix,
    without_airbrush,
)
from schemeforge.scheme import Coat, Ingredient, ReliefKind, Spray, Step, Technique
from tests.builders import bump, coat_step, flat, mix, small_project, synthetic_paint
from tests.recipe.shelves import shelf

PROJECT = small_project()
SCHEME = PROJECT.schemes[0]
WASH = Use(project=PROJECT, scheme=SCHEME, zone_id="hide", step_id="wash")
SPRAY = Use(project=PROJECT, scheme=SCHEME, zone_id="hide", step_id="spray")


def twin(strength: float) -> Paint:
    """The brown wash of the project at another strength, under another name."""
    brown = PROJECT.paint("brown-wash")
    return replace(
        brown,
        id="twin",
        name="twin",
        absorption=tuple(strength * k for k in brown.absorption),
        scattering=tuple(strength * s for s in brown.scattering),
    )


def test_a_twin_of_half_the_strength_takes_more_parts_and_is_not_seen() -> None:
    """Of 30:30:40 three tenths are brown: at half the strength 105:30:40 leaves as much."""
    found = swaps(WASH, "brown-wash", (*shelf(2, 4), twin(0.5)), count=3)
    assert found is not None
    assert len(found) == 3
    best = found[0]
    assert (best.paint_id, best.words) == ("twin", "unseen")
    assert best.factor == pytest.approx(3.5, rel=0.02)
    assert best.mix.parts_of("twin") == pytest.approx(30.0 * best.factor)
    assert best.mix.parts_of("brown-wash") == 0.0
    assert list(found) == sorted(found, key=lambda swap: swap.delta_e)
    each = np.array(best.differences)
    assert best.delta_e == pytest.approx(np.sqrt(np.mean(each**2)))
    scheme = with_mix(SCHEME, best.mix)
    project = replace(PROJECT, paints=(*PROJECT.paints, twin(0.5)), schemes=(scheme,))
    again = Use(project=project, scheme=scheme, zone_id="hide", step_id="wash").ramp()
    assert np.allclose(colorimetry.ciede2000(again, WASH.ramp()), each)


def test_the_paint_itself_is_no_difference() -> None:
    found = swaps(WASH, "brown-wash", (twin(1.0),))
    assert found is not None
    assert found[0].factor == 1.0
    assert found[0].delta_e < 1e-9


def test_the_spray_and_the_primer_have_stand_ins_too() -> None:
    white = synthetic_paint("cream", absorption=flat(0.001), scattering=flat(0.15))
    for use, out in ((SPRAY, "off-white"), (replace(SPRAY, step_id="prime"), "black-primer")):
        found = swaps(use, out, (*shelf(2, 3), white))
        assert found is not None
        assert len(found) == 4
        if out == "off-white":
            assert found[0].paint_id == "cream"
        else:
            assert {swap.factor for swap in found} == {1.0}


def test_what_is_out_of_stock_is_no_stand_in_unless_asked_for() -> None:
    empty = replace(twin(1.0), stock=Stock(left_ml=0.0))
    assert swaps(WASH, "brown-wash", (empty,)) == ()
    found = swaps(WASH, "brown-wash", (empty,), only_in_stock=False)
    assert found is not None
    assert found[0].paint_id == "twin"
    assert swaps(WASH, "brown-wash", shelf(1, 3), go_on=lambda _share: False) is None


def test_uses_that_are_none() -> None:
    with pytest.raises(InputError, match='"wash pot" holds no "red glaze"'):
        swaps(WASH, "red-glaze", shelf(1, 3))
    with pytest.raises(InputError, match='"mud on the base" lays no paint'):
        _ = replace(WASH, zone_id="base", step_id="mud").mix
    with pytest.raises(UnknownNameError):
        swaps(replace(WASH, step_id="wahs"), "brown-wash", shelf(1, 3))
    with pytest.raises(InputError, match="is no coat; swap its paint instead"):
        mix_request(SPRAY, PROJECT.paints)


def test_a_new_mix_of_the_old_paints_is_the_old_ramp() -> None:
    """With 3:3:4 among the recipes the search finds the wash as it was, coat above and all."""
    over = coat_step("over", "red-pot", "hide", wet_um=20.0)
    scheme = replace(SCHEME, steps=(*SCHEME.steps, over))
    use = replace(WASH, scheme=scheme, project=replace(PROJECT, schemes=(scheme,)))
    request = mix_request(use, PROJECT.paints, count=3)
    assert request.thinner_id == "water"
    found = search(request)
    assert found is not None
    # 3:7 with water alone lacks but the medium's faint haze, and is among the recipes.
    watery = with_mix(scheme, mix("wash-pot", brown_wash=3, water=7))
    without_haze = colorimetry.ciede2000(use.ramp(watery), use.ramp())
    assert found.recipes[0].delta_e <= np.sqrt(np.mean(without_haze**2)) + 1e-9
    coat = found.recipes[0].coats[0]
    assert (coat.technique, coat.wet_um, coat.coats) == (Technique.WASH, 140.0, 1)
    kept = mix_request(use, shelf(1, 3), keep=("p01",), without=("brown-wash",))
    assert kept.must == ("p01",)
    assert kept.without == ()
    assert kept.thinner_id == "water"
    watered = replace(
        SCHEME,
        mixes=tuple(
            m if m.id != "wash-pot" else mix("wash-pot", brown_wash=1) for m in SCHEME.mixes
        ),
    )
    assert mix_request(replace(WASH, scheme=watered), shelf(1, 3)).thinner_id == "water"


def test_the_recipe_in_the_scheme_gives_what_it_says() -> None:
    """From request to edit: the ramp of the changed scheme is off by what the recipe says."""
    paints = (*shelf(3, 5), twin(0.8))
    request = mix_request(WASH, paints, without=(), only_in_stock=False)
    found = search(request)
    assert found is not None
    for recipe in found.recipes[:3]:
        (coat,) = recipe.coats
        pot = coat.as_mix("wash-pot", "wash pot")
        scheme = with_mix(SCHEME, pot)
        each = colorimetry.ciede2000(WASH.ramp(scheme, paints), WASH.ramp())
        assert np.allclose(each, recipe.differences, atol=1e-6)
        old = SCHEME.step("wash").coat
        assert old is not None
        assert coat.as_coat("wash-pot", old.placement) == old


def with_left(paints: tuple[Paint, ...], **left: float) -> tuple[Paint, ...]:
    """The paints with so many ml left of those named, and plenty of the others."""
    return tuple(
        replace(p, stock=Stock(left_ml=left.get(p.id.replace("-", "_"), 500.0))) for p in paints
    )


def test_enough_for_the_same_again() -> None:
    found = remix(WASH, with_left(PROJECT.paints), 10.0)
    assert found is not None
    assert found.shortages == ()
    assert found.others == ()
    assert found.again == SCHEME.mix("wash-pot")
    assert found.verdict.key == "again"
    assert found.verdict.sentence.startswith("There is enough to mix the same again; measured a ")
    before = WASH.ramp()
    total = found.again.total_parts
    worst = max(
        colorimetry.ciede2000(
            WASH.ramp(
                with_mix(
                    SCHEME,
                    replace(
                        found.again,
                        ingredients=tuple(
                            Ingredient(paint_id=i.paint_id, parts=i.parts + total / 30.0)
                            if n == wrong
                            else i
                            for n, i in enumerate(found.again.ingredients)
                        ),
                    ),
                )
            ),
            before,
        ).max()
        for wrong in range(3)
    )
    assert max(found.off_by_a_drop) == pytest.approx(worst)


def test_a_pot_mixed_again_from_what_is_left() -> None:
    """10 ml of 30:30:40 take 3 ml of brown, of which 1 ml is left; the twin makes up for it."""
    paints = with_left((*PROJECT.paints, twin(1.0), *shelf(4, 3)), brown_wash=1.0)
    found = remix(WASH, paints, 10.0)
    assert found is not None
    (short,) = found.shortages
    assert (short.paint_id, short.left_ml) == ("brown-wash", 1.0)
    assert short.needed_ml == pytest.approx(3.0)
    # One part brown and two of its twin to seven of water: all but the medium's faint haze.
    watery = with_mix(SCHEME, mix("wash-pot", brown_wash=3, water=7))
    without_haze = colorimetry.ciede2000(WASH.ramp(watery), WASH.ramp())
    assert found.others[0].delta_e <= np.sqrt(np.mean(without_haze**2)) + 1e-9
    assert found.verdict.key == "other"
    words = colorimetry.difference_words(found.others[0].largest)
    assert f"from what is left the nearest mix is {words} (" in found.verdict.sentence
    left = {p.id: p.stock.left_ml for p in paints}
    for recipe in found.others:
        for coat in recipe.coats:
            for part in coat.paints:
                there = left[part.paint_id]
                assert there is not None
                assert 10.0 * part.parts / coat.total_parts <= there + 1e-6
    assert remix(WASH, paints, 10.0, go_on=lambda _share: False) is None


def test_nothing_left_at_all() -> None:
    paints = (replace(PROJECT.paint("brown-wash"), stock=Stock(left_ml=0.1)),)
    found = remix(WASH, paints, 1000.0)
    assert found is not None
    assert found.others == ()
    assert found.verdict.sentence.endswith("and nothing that is left makes the mix")


def test_shortages_know_water_and_what_is_not_on_the_shelf() -> None:
    pot = SCHEME.mix("wash-pot")
    short = shortages(pot, with_left((PROJECT.paint("brown-wash"),)), 10.0)
    assert [(one.paint_id, one.left_ml) for one in short] == [("clear-medium", 0.0)]
    unknown = replace(PROJECT.paint("brown-wash"), stock=Stock(left_ml=None))
    assert shortages(mix("m", brown_wash=1, water=3), (unknown,), 10.0) == ()


def test_a_brush_instead_of_the_airbrush() -> None:
    found = without_airbrush(SPRAY)
    assert found is not None
    assert list(found) == sorted(found, key=lambda way: way.delta_e)
    assert {way.coat.technique for way in found} == {Technique.DRY_BRUSH, Technique.LAYER}
    for way in found:
        assert way.coat.placement.relief.kind is ReliefKind.CATCHES
        scheme = brushed_scheme(SPRAY, way.coat, way.mix)
        layer = scheme.step("spray").layer
        assert isinstance(layer, Coat)
        each = colorimetry.ciede2000(SPRAY.ramp(scheme), SPRAY.ramp())
        assert np.allclose(each, way.differences)
        assert way.words == colorimetry.difference_words(each.max())
    dry = next(way for way in found if way.coat.technique is Technique.DRY_BRUSH)
    # A dry brush takes the paint without its water, from a pot of its own.
    assert dry.mix.id == "white-pot-neat"
    assert [i.paint_id for i in dry.mix.ingredients] == ["off-white"]
    assert brushed_scheme(SPRAY, dry.coat, dry.mix).mix("white-pot") == SCHEME.mix("white-pot")
    bare = brushed_scheme(SPRAY, dry.coat, dry.mix)
    steps = tuple(step for step in bare.steps if step.id != "spray")
    none = colorimetry.ciede2000(SPRAY.ramp(replace(bare, steps=steps)), SPRAY.ramp())
    assert dry.delta_e < 0.5 * np.sqrt(np.mean(none**2))


def test_a_neat_pot_stays_the_pot_that_it_is() -> None:
    pots = tuple(
        mix("white-pot", off_white=1.0) if m.id == "white-pot" else m for m in SCHEME.mixes
    )
    use = replace(SPRAY, scheme=replace(SCHEME, mixes=pots))
    found = without_airbrush(use, count=1)
    assert found is not None
    assert len(found) == 1
    assert found[0].mix.id == "white-pot"


def test_only_a_spray_is_replaced_by_a_brush() -> None:
    with pytest.raises(InputError, match="is not the off-white sprayed from above"):
        without_airbrush(WASH)
    assert without_airbrush(SPRAY, go_on=lambda _share: False) is None
    assert isinstance(SCHEME.step("spray").layer, Spray)


def test_ramps_are_where_they_are_asked_for() -> None:
    steps = (*SCHEME.steps, Step(id="x", name="x", layer=SCHEME.steps[2].layer, zone_ids=("base",)))
    use = Use(
        project=PROJECT,
        scheme=replace(SCHEME, steps=steps),
        zone_id="base",
        step_id="x",
        relief=(0.2, 0.9),
    )
    assert use.ramp().shape == (2, 3)
    tint = synthetic_paint("tint", absorption=bump(450.0, 30.0, 0.1))
    assert np.array_equal(use.ramp(paints=(tint,)), use.ramp())
