"""Stages, ramps and tiles against one point worked out in plain floats, and against each other."""

from dataclasses import replace
from typing import Any

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from schemeforge import appearance, colorimetry
from schemeforge.appearance import Points, scheme_ramps, zone_stages, zone_tile
from schemeforge.errors import PaintMissingError, UnknownNameError
from schemeforge.scheme import Finish, Layer, Mix, Placement, Project, Scheme, Spray, Step, Viewing
from schemeforge.scheme.steps import Ingredient
from tests.appearance import oracle
from tests.appearance.projects import ZONES, random_project
from tests.builders import POOLED, TIPS, coat_step, mix, small_project

# What four grounds instead of all numbers of droplets may cost in reflectance, as derived and
# tested with the reduction; weights of XYZ take it on by the sum of their magnitudes.
REDUCED = 3e-6
# With light spread between droplets (n = 2) the reduction is that much coarser.
REDUCED_SPREAD = 2e-4
VIEWS = (
    Viewing(),
    Viewing(finish=Finish.GLOSS, light="A", observer=10),
    Viewing(finish=Finish.SATIN, light="FL11"),
    Viewing(finish=Finish.UNVARNISHED, light="kitchen lamp", observer=10),
    Viewing(wet=True, light="LED-B4"),
    Viewing(wet=True, milk_per_um=0.01),
)


def bound(view: Viewing, reduced: float = REDUCED) -> float:
    """Largest error of XYZ that an error of reflectance by ``reduced`` can make."""
    light = view.light if view.light != "kitchen lamp" else "A"  # of like magnitude
    matrix = colorimetry.adapted_matrix(light, view.observer)
    return reduced * float(np.abs(matrix).sum(axis=0).max()) + 1e-12


def scattered(seed: int, count: int) -> Any:
    """Random places, the ends of each coordinate among them: rows (tone, relief, along)."""
    rng = np.random.default_rng(seed)
    places = rng.uniform(0, 1, (count, 3))
    ends = rng.integers(0, 2, (count, 3)).astype(float)
    return np.where(rng.uniform(0, 1, (count, 3)) < 0.15, ends, places)


def worst(project: Project, view: Viewing, seed: int, group: str | None = None) -> float:
    """Largest difference of any stage of any zone to plain floats at a few random places."""
    places = scattered(seed, 4)
    points = Points(*places.T)
    scheme = project.schemes[0]
    gaps = [0.0]
    for zone in ZONES:
        ours = zone_stages(project, scheme, zone, points, view, group)
        for n, place in enumerate(places):
            plain = oracle.stages_at(project, scheme, zone, tuple(place), view, group)
            assert len(plain) == len(ours)
            gaps.append(float(np.abs(np.array([s.xyz[n] for s in ours]) - plain).max()))
    return max(gaps)


@pytest.mark.parametrize("seed", range(12))
def test_any_stack_is_what_plain_floats_give(seed: int) -> None:
    view = VIEWS[seed % len(VIEWS)]
    assert worst(random_project(seed), view, seed) <= bound(view)


@pytest.mark.parametrize("seed", range(8))
def test_groups_get_their_share(seed: int) -> None:
    project = random_project(seed + 100)
    assert worst(project, VIEWS[0], seed, "few") <= bound(VIEWS[0])


@pytest.mark.parametrize("view", VIEWS)
def test_spread_between_droplets(view: Viewing) -> None:
    spread = Spray(mix_id="white-pot", peak_um=40.0, droplet_um=8.0, spread_n=2.0)
    project = random_project(5, spread)
    assert worst(project, view, 3) <= bound(view, REDUCED_SPREAD)
    # and it is not the plain mean
    plain = random_project(5, replace(spread, spread_n=1.0))
    one, two = (
        zone_stages(p, p.schemes[0], "hide", Points(0.3, 0.5, 0.5))[1].xyz for p in (project, plain)
    )
    assert np.abs(one - two).max() > 0.01


def test_a_fine_spray_nears_the_smooth_film_as_derived() -> None:
    # The text's bound, 0.15 S droplet_um over black, where nothing absorbs; the rest is higher
    # terms of the expansion, smaller by another factor S droplet_um.
    reached = 0.0
    for S in (0.02, 0.1, 0.5):
        spray = Spray(mix_id="white-pot", peak_um=60.0, droplet_um=0.12)
        for tone in (0.01, 0.02, 0.05, 0.3, 1.0):
            spots = oracle.sprayed(0.0, 0.0, S, spray, tone)
            assert len(spots) > 1
            mean = sum(share * R for share, R in spots)
            gap = abs(mean - oracle.over(0.0, 0.0, tone * 60.0 * S)) / (0.12 * S)
            assert gap <= 0.15
            reached = max(reached, gap)
    assert reached > 0.13  # and it is no larger than needed


def test_hundreds_of_droplets_are_still_told_apart() -> None:
    spray = Spray(mix_id="white-pot", peak_um=70.0, droplet_um=0.1)
    project = random_project(2, spray)
    scheme = project.schemes[0]
    for tone in (0.02, 0.4):
        stage = zone_stages(project, scheme, "hide", Points(tone, 0.5, 0.5))[1]
        assert stage.step is not None
        assert stage.step.id == "spray"
        two = replace(scheme, steps=scheme.steps[:2])
        plain = oracle.stages_at(project, two, "hide", (tone, 0.5, 0.5))
        assert np.abs(stage.xyz - plain[1]).max() <= bound(project.viewing)


def test_all_of_a_ramp_a_tile_and_a_stage_are_the_same_colour() -> None:
    for seed, view in enumerate(VIEWS):
        project = random_project(seed + 40)
        scheme = project.schemes[0]
        for group in (None, "few"):
            ramps = scheme_ramps(project, scheme, view, count=9, along=0.75, group_id=group)
            for zone in project.zones:
                ramp = ramps.zone(zone.id)
                tone = appearance.ramp_tones(zone, 9)
                relief = np.linspace(0, 1, 9)
                stages = zone_stages(
                    project, scheme, zone.id, Points(tone, relief, 0.75), view, group
                )
                tile = zone_tile(
                    project, scheme, zone.id, view, relief_count=9, along_count=5, group_id=group
                )
                assert ramp.steps == tuple(s.step for s in stages if s.step is not None)
                assert len(ramp.xyz) == len(stages) == len(tile)
                for shown, stage, cut in zip(ramp.xyz, stages, tile, strict=True):
                    # The same sums in another order: a few hundred roundings of numbers below 1.
                    np.testing.assert_allclose(stage.xyz, shown, rtol=0, atol=1e-13)
                    np.testing.assert_allclose(cut.xyz[:, 3], shown, rtol=0, atol=1e-13)
                    assert cut.step is stage.step


def grid_shapes() -> list[Points]:
    rng = np.random.default_rng(9)

    def unit(*shape: int) -> Any:
        return rng.uniform(0, 1, shape)

    return [
        Points(0.4, 0.3, 0.7),
        Points(unit(5), unit(5), unit(5)),
        Points(unit(4, 1), unit(4, 1), unit(1, 6)),
        Points(unit(1, 4), unit(4), unit(6, 1)),  # places along the part on the first axis
        Points(unit(3, 1, 1), unit(1, 4, 1), unit(1, 1, 5)),
        Points(unit(3, 1, 1), unit(1, 1, 4), unit(1, 5, 1)),
        Points(unit(3, 1), 0.5, unit(3, 4)),  # no grid: along varies with tone
        Points(unit(2, 1), unit(300), unit(2, 300)),  # no grid and several blocks
        Points(unit(20, 1), unit(1, 33), 0.6),  # many spots, few tones
        Points(unit(700), unit(700), 0.6),  # many spots, as many tones
        Points(unit(290, 1), unit(290, 1), unit(1, 3)),  # several blocks with columns
        Points(unit(0), unit(0), 0.5),  # nothing
        Points(unit(3, 1), 0.5, unit(1, 0)),  # nothing along
    ]


@pytest.mark.parametrize("points", grid_shapes())
@pytest.mark.parametrize("wet", [False, True])
def test_any_shape_of_points_gives_the_colours_of_its_points(points: Points, *, wet: bool) -> None:
    project = random_project(7)
    scheme = project.schemes[0]
    view = Viewing(wet=wet)
    tone, relief, along = (
        np.broadcast_to(a, points.shape).reshape(-1)
        for a in (points.tone, points.relief, points.along)
    )
    some = np.random.default_rng(1).permutation(len(tone))[:6]
    for zone in ZONES:
        whole = zone_stages(project, scheme, zone, points, view)
        for stage in whole:
            assert stage.xyz.shape == (*points.shape, 3)
            assert stage.xyz.dtype == np.float64
        for n in some:
            alone = zone_stages(project, scheme, zone, Points(tone[n], relief[n], along[n]), view)
            for stage, single in zip(whole, alone, strict=True):
                np.testing.assert_allclose(
                    stage.xyz.reshape(-1, 3)[n], single.xyz, rtol=0, atol=1e-13
                )


def changed(project: Project, *steps: Step, mixes: tuple[Mix, ...] = ()) -> Project:
    """The small project with those coats instead of its own on the hide."""
    scheme = project.schemes[0]
    own = tuple(s for s in scheme.steps if s.id in {"prime", "spray"})
    scheme = replace(scheme, steps=own + steps, mixes=scheme.mixes + mixes, shares=())
    return replace(project, schemes=(scheme,))


def final(project: Project, places: int = 40, view: Viewing | None = None) -> Any:
    points = Points(*scattered(8, places).T)
    return appearance.final_xyz(project, project.schemes[0], "hide", points, view)


def test_two_half_coats_are_one() -> None:
    for placement in (Placement(), POOLED, TIPS):
        half = [
            coat_step(f"h{n}", "wash-pot", "hide", wet_um=35.0, placement=placement)
            for n in range(2)
        ]
        whole = coat_step("h", "wash-pot", "hide", wet_um=70.0, placement=placement)
        twice = coat_step("h", "wash-pot", "hide", wet_um=35.0, passes=2, placement=placement)
        once = final(changed(small_project(), whole))
        # One composition more: the rounding of a few dozen operations.
        np.testing.assert_allclose(final(changed(small_project(), *half)), once, atol=1e-13)
        np.testing.assert_allclose(final(changed(small_project(), twice)), once, atol=1e-13)


def test_water_leaves_nothing_and_thins() -> None:
    water = mix("water-pot", water=1.0)
    under = final(changed(small_project()))
    wet_through = changed(
        small_project(), coat_step("w", "water-pot", "hide", wet_um=500.0), mixes=(water,)
    )
    np.testing.assert_allclose(final(wet_through), under, rtol=0, atol=1e-15)
    # twice the film of a mix with as much water again is the same paint
    strong = mix("strong", red_glaze=1.0, clear_medium=2.0, water=2.0)
    thin = mix("thin", red_glaze=1.0, clear_medium=2.0, water=7.0)
    one = changed(small_project(), coat_step("g", "strong", "hide", wet_um=30.0), mixes=(strong,))
    two = changed(small_project(), coat_step("g", "thin", "hide", wet_um=60.0), mixes=(thin,))
    np.testing.assert_allclose(final(one), final(two), rtol=0, atol=1e-13)


def test_no_film_leaves_what_is_there() -> None:
    bare = changed(small_project())
    nothing = changed(small_project(), coat_step("g", "red-pot", "hide", wet_um=0.0))
    np.testing.assert_allclose(final(nothing), final(bare), rtol=0, atol=1e-15)


def test_order_matters_where_films_scatter() -> None:
    a = coat_step("a", "wash-pot", "hide", wet_um=120.0)
    b = coat_step("b", "white-pot", "hide", wet_um=15.0)
    gap = final(changed(small_project(), a, b)) - final(changed(small_project(), b, a))
    assert np.abs(gap).max() > 0.01


def test_a_clear_coat_only_darkens_and_a_pale_one_lightens() -> None:
    clear = replace(small_project().paint("red-glaze"), scattering=(0.0,) * 36)
    project = replace(
        small_project(),
        paints=tuple(clear if p.id == clear.id else p for p in small_project().paints),
    )
    neat = mix("neat", red_glaze=1.0)
    glazed = changed(project, coat_step("g", "neat", "hide", wet_um=30.0), mixes=(neat,))
    for view in VIEWS[:1]:
        assert np.all(final(glazed, view=view) <= final(changed(project), view=view) + 1e-12)
    pale = changed(project, coat_step("p", "white-pot", "hide", wet_um=40.0))
    dark = Points(0.0, 0.5, 0.5)
    assert (
        appearance.final_xyz(pale, pale.schemes[0], "hide", dark)[1]
        > appearance.final_xyz(changed(project), changed(project).schemes[0], "hide", dark)[1]
    )


def test_wet_shows_the_last_coat_milky_and_glossy_on_dry_ones() -> None:
    project = random_project(3)
    view = Viewing(wet=True, milk_per_um=0.02)
    clear = replace(view, milk_per_um=0.0)
    points = Points(0.0, 0.5, 0.9)  # over bare primer milkiness lightens
    for zone in ("hide", "cloak"):
        milky = zone_stages(project, project.schemes[0], zone, points, view)
        gloss = zone_stages(project, project.schemes[0], zone, points, clear)
        dry = zone_stages(project, project.schemes[0], zone, points, Viewing(finish=Finish.GLOSS))
        for stage, glossy, dried in zip(milky, gloss, dry, strict=True):
            assert stage.xyz[1] >= glossy.xyz[1] - 1e-15
            np.testing.assert_allclose(glossy.xyz, dried.xyz, rtol=0, atol=1e-15)


def test_float32_stays_within_half_an_8_bit_step() -> None:
    for seed, view in enumerate(VIEWS):
        project = random_project(seed + 60)
        scheme = project.schemes[0]
        wide = scheme_ramps(project, scheme, view)
        narrow = scheme_ramps(project, scheme, view, dtype=np.float32)
        for ramp, pixels in zip(wide.zones, narrow.zones, strict=True):
            assert pixels.xyz.dtype == np.float32
            assert half_steps(ramp.xyz, pixels.xyz) < 0.5
            tile = zone_tile(project, scheme, ramp.zone.id, view, relief_count=8)
            small = zone_tile(project, scheme, ramp.zone.id, view, relief_count=8, dtype=np.float32)
            for stage, pixel in zip(tile, small, strict=True):
                assert pixel.xyz.dtype == np.float32
                assert half_steps(stage.xyz, pixel.xyz) < 0.5


def half_steps(one: Any, two: Any) -> float:
    """Largest difference in 8-bit steps of encoded sRGB, unclipped."""
    codes = [
        255 * colorimetry.encode(np.clip(colorimetry.linear_rgb_from_xyz(np.float64(v)), 0, 1))
        for v in (one, two)
    ]
    return float(np.abs(codes[0] - codes[1]).max())


def with_layer(scheme: Scheme, step_id: str, layer: Layer) -> Scheme:
    """The scheme with another layer in one step."""
    steps = (replace(s, layer=layer) if s.id == step_id else s for s in scheme.steps)
    return replace(scheme, steps=tuple(steps))


def test_an_edit_of_one_coat_is_not_answered_from_what_is_kept() -> None:
    project = small_project()
    before = final(project)
    scheme = project.schemes[0]
    wash, spray = scheme.step("wash").coat, scheme.step("spray").layer
    assert wash is not None
    assert isinstance(spray, Spray)
    thicker = with_layer(scheme, "wash", replace(wash, wet_um=180.0))
    sprayed = with_layer(scheme, "spray", replace(spray, peak_um=80.0))
    blue = tuple(
        replace(m, ingredients=(Ingredient(paint_id="red-glaze", parts=1.0),))
        if m.id == "wash-pot"
        else m
        for m in scheme.mixes
    )
    for other in (thicker, sprayed, replace(scheme, mixes=blue)):
        assert np.abs(final(replace(project, schemes=(other,))) - before).max() > 1e-3
    np.testing.assert_array_equal(final(project), before)


def test_what_does_not_exist_is_named() -> None:
    project = small_project()
    scheme = project.schemes[0]
    points = Points(0.5, 0.5, 0.5)
    with pytest.raises(UnknownNameError, match="zone"):
        zone_stages(project, scheme, "tail", points)
    with pytest.raises(UnknownNameError, match="zone"):
        zone_tile(project, scheme, "tail")
    with pytest.raises(UnknownNameError, match="light"):
        scheme_ramps(project, scheme, Viewing(light="moon"))
    stray = replace(scheme, mixes=(*scheme.mixes[:2], mix("wash-pot", gone=1.0), scheme.mixes[3]))
    with pytest.raises(PaintMissingError, match="gone"):
        zone_stages(project, stray, "hide", points)


@settings(max_examples=40, deadline=None)
@given(
    seed=st.integers(0, 10_000),
    tone=st.floats(0, 1),
    relief=st.floats(0, 1),
    along=st.floats(0, 1),
    wet=st.booleans(),
)
def test_colours_are_finite_and_between_black_and_white(
    seed: int, tone: float, relief: float, along: float, *, wet: bool
) -> None:
    project = random_project(seed)
    for zone in ZONES:
        points = Points(tone, relief, along)
        for stage in zone_stages(project, project.schemes[0], zone, points, Viewing(wet=wet)):
            assert stage.xyz.dtype == np.float64
            assert np.all(np.isfinite(stage.xyz))
            assert 0.0 <= stage.xyz[1] <= 1.0 + 1e-12


@pytest.mark.parametrize("dtype", [np.float64, np.float32])
def test_the_thickest_and_thinnest_films_do_not_warn(dtype: Any) -> None:
    thick = [
        coat_step(f"t{n}", pot, "hide", wet_um=1000.0, passes=12, placement=POOLED)
        for n, pot in enumerate(("white-pot", "wash-pot", "primer-pot"))
    ]
    thin = [coat_step(f"u{n}", "red-pot", "hide", wet_um=1e-6) for n in range(2)]
    project = changed(small_project(), *thin, *thick)
    black = replace(small_project().paint("black-primer"), absorption=(1e4,) * 36)
    white = replace(small_project().paint("off-white"), scattering=(1e4,) * 36)
    paints = {p.id: p for p in (*project.paints, black, white)}
    extreme = replace(project, paints=tuple(paints.values()))
    for paints_of in (project, extreme):
        with np.errstate(over="raise", invalid="raise", divide="raise"):
            for stage in zone_tile(
                paints_of, paints_of.schemes[0], "hide", relief_count=5, dtype=dtype
            ):
                assert np.all(np.isfinite(stage.xyz))
                assert np.all(stage.xyz[..., 1] <= 1.0 + 1e-6)
