"""Pictures: colours against direct computation, light, sheen, cover, stages, picking, rows."""

from dataclasses import replace

import numpy as np
import pytest

from schemeforge import colorimetry
from schemeforge.appearance import Points, zone_lattice, zone_stages
from schemeforge.errors import InputError
from schemeforge.scheme import Finish, Project, Scheme, Spray, Step, UserLight, coloured_steps
from schemeforge.stand_in import (
    WARDEN,
    LightDirection,
    SprayCone,
    StandIns,
    Turn,
    View,
    by_another_hand,
    formation,
    members,
    model,
    picture_of,
    render,
    row,
    split,
    stages_after,
    worn,
)
from schemeforge.stand_in.axes import axes_of
from schemeforge.stand_in.dressed import dressed
from schemeforge.stand_in.pictures import LIGHT, spot_colours, surface_colours
from schemeforge.stand_in.tables import reading_of, soften, zone_table
from tests.appearance.projects import random_project


def direct(project: Project, scheme: Scheme, zone_id: str, levels: np.ndarray) -> np.ndarray:
    """Linear sRGB ``(3, n)`` computed spot by spot in float64."""
    stages = zone_stages(project, scheme, zone_id, Points(*(levels / 255.0)))
    linear = np.ascontiguousarray(colorimetry.linear_rgb_from_xyz(stages[-1].xyz).T)
    soften(linear)
    return linear


def apart(a: np.ndarray, b: np.ndarray) -> np.ndarray:
    """CIEDE2000 of linear sRGB ``(3, n)`` each."""
    labs = [
        colorimetry.lab_from_xyz(colorimetry.xyz_from_linear_rgb(c.T.astype(np.float64)))
        for c in (a, b)
    ]
    return np.asarray(colorimetry.ciede2000(*labs))


@pytest.mark.parametrize("which", [0, 1, 2])
def test_a_picture_is_within_half_a_ciede2000_of_direct_computation(
    which: int, demo: Project, warden: View
) -> None:
    scheme = demo.schemes[which]
    sight = dressed(warden, worn(demo, WARDEN))
    quick = surface_colours(demo, scheme, sight, demo.viewing)
    for index, spots in sight.zones:
        some = np.arange(spots.start, spots.stop)[:: max(1, (spots.stop - spots.start) // 400)]
        exact = direct(demo, scheme, demo.zones[index].id, sight.levels[:, some])
        assert apart(quick[:, some], exact).max() <= 0.5, demo.zones[index].id


@pytest.mark.parametrize("seed", range(6))
def test_tables_follow_any_stack_but_for_spots_on_hard_edges(seed: int) -> None:
    project = random_project(seed)
    scheme = project.schemes[0]
    levels = np.random.default_rng(seed).integers(0, 256, (3, 500)).astype(np.uint8)
    for zone in project.zones:
        table = zone_table(project, scheme, zone.id, None, None, None)
        quick = np.empty((3, 500), np.float32)
        reading_of(table.axes, levels).linear(table, quick)
        gap = apart(quick, direct(project, scheme, zone.id, levels))
        # Up to three passes of 160 um on hard edges: below what is seen side by side (trade, 1).
        assert np.percentile(gap, 95) <= 1.0
        assert np.median(gap) <= 0.25


def test_at_nodes_tables_are_exact() -> None:
    project = random_project(1)
    scheme = project.schemes[0]
    for zone in project.zones:
        table = zone_table(project, scheme, zone.id, None, None, None)
        rng = np.random.default_rng(2)
        levels = np.stack([rng.choice(axis, 60) for axis in table.axes]).astype(np.uint8)
        reading = reading_of(table.axes, levels)
        assert (reading.shares.sum(axis=0) == 256).all()
        assert reading.shares.min() >= 0
        quick = np.empty((3, 60), np.float32)
        reading.linear(table, quick)
        # Nodes hold the root of light in steps of 1.6/8191, and are read within one of them.
        assert np.allclose(quick, direct(project, scheme, zone.id, levels), atol=4e-4)


# Stages put the grounds of a spray into four, which is right to about 1e-6 (optics.reduction);
# lattices take them as they are where they are few, and do as stages do where they are many.
@pytest.mark.parametrize(
    ("spread_n", "droplet_um", "apart"),
    [(1.0, 8.0, 2e-6), (1.0, 1.0, 1e-12), (2.0, 8.0, 1e-12)],
)
@pytest.mark.parametrize("wet", [False, True])
def test_lattices_are_what_stages_are(
    spread_n: float, droplet_um: float, apart: float, wet: bool
) -> None:
    spray = Spray(mix_id="white-pot", peak_um=40.0, droplet_um=droplet_um, spread_n=spread_n)
    project = random_project(3, spray)
    scheme = project.schemes[0]
    viewing = replace(project.viewing, wet=wet)
    t, r, a = np.linspace(0, 1, 4), np.linspace(0, 1, 5), np.linspace(0, 1, 6)
    points = Points(t[:, None, None], r[:, None], a)
    for zone in project.zones:
        stages = zone_stages(project, scheme, zone.id, points, viewing)
        for n, stage in enumerate(stages):
            steps = n + 1 if coloured_steps(scheme, zone.id) else 0
            lattice = zone_lattice(project, scheme, zone.id, (t, r, a), viewing, steps=steps)
            assert lattice.shape == (4, 5, 6, 3)
            assert np.allclose(lattice, stage.xyz, rtol=apart, atol=apart)


def test_nodes_stay_while_a_coat_is_dragged_a_little(demo: Project) -> None:
    scheme = demo.schemes[0]
    step = next(s for s in scheme.steps if s.coat and "hide" in s.zone_ids)
    coat = step.coat
    assert coat is not None
    axes = set()
    for factor in (1.0, 1.01, 1.02, 1.03):
        other = replace(step, layer=replace(coat, wet_um=coat.wet_um * factor))
        steps = tuple(other if s is step else s for s in scheme.steps)
        axes.add(axes_of(demo, replace(scheme, steps=steps), "hide"))
    assert len(axes) <= 2


def test_light_scales_colour_and_comes_from_where_it_stands(demo: Project, views: StandIns) -> None:
    ball = views.view(model("sphere"), 64, Turn(0.0, 0.0), SprayCone())
    sight = dressed(ball, worn(demo, model("sphere"), "rim"))
    bare = surface_colours(demo, demo.schemes[0], sight, demo.viewing)
    lamp = LightDirection(azimuth=60.0, elevation=20.0)
    lit = spot_colours(demo, demo.schemes[0], sight, demo.viewing, lamp)
    factor = lit / bare
    assert np.allclose(factor[0], factor[1], rtol=1e-4)
    assert np.allclose(factor[0], factor[2], rtol=1e-4)
    normal = ball.normal[:, sight.order]
    towards = lamp.vector(0.0) @ normal
    assert factor[0][towards > 0.95].mean() > 0.9
    assert factor[0][towards > 0.95].mean() > 2.5 * factor[0][towards < -0.5].mean()
    assert factor.max() < 1.25


def test_sheen_lies_where_the_lamp_is_mirrored(demo: Project, views: StandIns) -> None:
    ball = views.view(model("sphere"), 96, Turn(0.0, 0.0), SprayCone())
    sight = dressed(ball, worn(demo, model("sphere"), "rim"))
    gleams = {finish: sight.shade(LIGHT, finish).gleam for finish in Finish}
    assert gleams[Finish.MATT] is None
    satin, gloss = gleams[Finish.SATIN], gleams[Finish.GLOSS]
    assert satin is not None
    assert gloss is not None
    half = LIGHT.vector(0.0) + np.array([0.0, 0.0, 1.0])
    towards = (half / np.linalg.norm(half)) @ ball.normal[:, sight.order]
    assert towards[gloss.argmax()] > 0.995
    assert gloss.max() > 3 * satin.max()
    wide = [np.count_nonzero(g > 0.5 * g.max()) for g in (satin, gloss)]
    assert wide[0] > 2 * wide[1]


def test_shadows_fall_where_parts_hide_the_lamp(demo: Project, warden: View) -> None:
    sight = dressed(warden, worn(demo, WARDEN))
    factor = sight.shade(LIGHT, Finish.MATT).factor
    part = warden.seen.part[sight.order]
    names = [p.name for p in WARDEN.parts]
    assert factor[part == names.index("thighs")].mean() < factor[part == names.index("head")].mean()


def test_cover_is_kept(demo: Project, warden: View) -> None:
    picture = picture_of(demo, demo.schemes[0], warden, worn(demo, WARDEN))
    seen = warden.seen
    alpha = picture.rgba[..., 3].astype(float) / 255
    held = (seen.part[seen.plain :] >= 0).reshape(-1, 4).mean(axis=1)
    assert alpha.sum() == pytest.approx(seen.plain + held.sum(), abs=0.002 * len(seen.pixel))
    assert ((picture.zone_index >= 0) == (alpha > 0)).all()
    assert (picture.rgba[alpha == 0] == 0).all()
    # A pixel half covered has the colour of what covers it, not a darker one.
    edge = (alpha > 0) & (alpha < 1)
    assert picture.rgba[edge][:, :3].mean() > 0.5 * picture.rgba[alpha == 1][:, :3].mean()


def test_a_click_finds_its_zone(demo: Project, warden: View) -> None:
    picture = picture_of(demo, demo.schemes[0], warden, worn(demo, WARDEN))
    assert picture.zone_at(0, 0) is None
    assert picture.zone_at(-1, 5) is None
    assert picture.zone_at(5, 128) is None
    rim = picture.zone_at(64, 122)
    assert rim is not None
    assert demo.zones[rim].id == "rim"
    found = {demo.zones[n].id for n in np.unique(picture.zone_index) if n >= 0}
    assert found == {zone.id for zone in demo.zones}


def test_stages_run_from_primer_to_finish(demo: Project, warden: View) -> None:
    scheme, wearing = demo.schemes[0], worn(demo, WARDEN)

    def after(step: Step | None) -> np.ndarray:
        stage = None if step is None else stages_after(demo, scheme, step.id)
        return picture_of(demo, scheme, warden, wearing, stage=stage).rgba

    primed = after(next(s for s in scheme.steps if s.name.startswith("prime")))
    assert np.ptp(primed[..., :3].astype(int), axis=2).max() <= 12  # black, nearly without hue
    assert np.array_equal(after(scheme.steps[-1]), after(None))
    lantern = next(s for s in scheme.steps if s.coat and s.zone_ids == ("lantern",))
    before = scheme.steps[scheme.steps.index(lantern) - 1]
    changed = (after(lantern) != after(before)).any(axis=2)
    index = [zone.id for zone in demo.zones].index("lantern")
    zone = picture_of(demo, scheme, warden, wearing).zone_index
    alone = np.isin(np.arange(128 * 128).reshape(128, 128), warden.seen.pixel[: warden.seen.plain])
    assert changed[alone & (zone == index)].mean() > 0.9
    assert not changed[alone & (zone != index)].any()  # none but the lantern and pixels on edges
    bare = picture_of(demo, scheme, warden, wearing, stage=0).rgba
    assert len(np.unique(bare[bare[..., 3] == 255][:, :3].mean(axis=1))) > 10


def test_the_light_that_colours_are_seen_under_counts(demo: Project, warden: View) -> None:
    wearing = worn(demo, WARDEN)
    pictures = [
        picture_of(demo, demo.schemes[0], warden, wearing, replace(demo.viewing, light=light))
        for light in ("D65", "A")
    ]
    assert not np.array_equal(pictures[0].rgba, pictures[1].rgba)
    own = UserLight(
        name="desk",
        wavelengths_nm=tuple(range(300, 810, 10)),
        power=tuple(0.2 + 0.01 * n for n in range(51)),
    )
    project = replace(demo, lights=(own,))
    picture_of(project, demo.schemes[0], warden, wearing, replace(demo.viewing, light="desk"))


def test_a_picture_does_not_depend_on_what_was_asked_before(demo: Project, warden: View) -> None:
    wearing = worn(demo, WARDEN)
    once = picture_of(demo, demo.schemes[0], warden, wearing).rgba
    picture_of(demo, demo.schemes[1], warden, wearing)
    gloss = replace(demo.viewing, finish=Finish.GLOSS)
    picture_of(demo, demo.schemes[0], warden, wearing, gloss)
    assert np.array_equal(picture_of(demo, demo.schemes[0], warden, wearing).rgba, once)


def test_two_schemes_share_a_model(demo: Project, warden: View) -> None:
    wearing = worn(demo, WARDEN)
    left, right = (picture_of(demo, s, warden, wearing) for s in demo.schemes[:2])
    both = split(left, right, 0.25)
    assert np.array_equal(both.rgba[:, :32], left.rgba[:, :32])
    assert np.array_equal(both.rgba[:, 32:], right.rgba[:, 32:])
    assert not np.array_equal(left.rgba[:, 32:], right.rgba[:, 32:])


def test_no_two_hands_are_alike_and_each_is_always_the_same(demo: Project) -> None:
    scheme = demo.schemes[0]
    made = [by_another_hand(demo, scheme, n) for n in (0, 1, 0)]
    assert made[0] == made[2] != made[1]
    steady = replace(demo, habits=replace(demo.habits, hand_sigma=0.0))
    assert by_another_hand(steady, scheme, 0) == scheme
    logs = []
    for n in range(60):
        pairs = zip(by_another_hand(demo, scheme, n).steps, scheme.steps, strict=True)
        logs += [np.log(a.coat.wet_um / b.coat.wet_um) for a, b in pairs if a.coat and b.coat]
    assert np.std(logs) == pytest.approx(demo.habits.hand_sigma, rel=0.1)
    assert np.mean(logs) == pytest.approx(0.0, abs=0.03)


def test_members_stand_for_the_batch(demo: Project) -> None:
    assert members(demo, 5) == ("captains", "lanterns", "wardens", "wardens", "wardens")
    ten = members(demo, 10)
    assert [ten.count(g.id) for g in demo.groups] == [1, 1, 8]
    assert len(members(demo, 1)) == 1
    assert (
        members(replace(demo, groups=(), schemes=(), chosen_scheme_id="", yardstick_id=""), 3)
        == (None,) * 3
    )
    with pytest.raises(InputError, match="Number of models"):
        members(demo, 21)


def test_a_row_shows_every_model(demo: Project, warden: View) -> None:
    wearing = worn(demo, WARDEN)
    made = row(demo, demo.schemes[0], (warden,), wearing, groups=members(demo, 5))
    height, width = made.zone_index.shape
    assert made.rgba.shape == (height, width, 4)
    assert (height, width) == (128, 4 * 84 + 128)
    one = picture_of(demo, demo.schemes[0], warden, wearing)
    rims = (made.zone_index == one.zone_at(64, 122)).sum()
    assert rims >= 4.5 * (one.zone_index == one.zone_at(64, 122)).sum()
    assert not np.array_equal(made.rgba[:, :80], made.rgba[:, 84:164])


def test_a_formation_puts_the_first_in_front_and_in_the_middle(demo: Project, warden: View) -> None:
    wearing, size = worn(demo, WARDEN), 128
    one = picture_of(demo, demo.schemes[0], warden, wearing)
    other = picture_of(demo, demo.schemes[1], warden, wearing)
    pitch, back = size - round(0.34 * size), round(0.3 * size)
    three = formation([other, one, one], across=5)
    assert three.zone_index.shape == (size, 2 * pitch + size)
    middle = slice(pitch + size // 3, pitch + size // 2)
    solid = other.rgba[:, size // 3 : size // 2, 3] == 255
    assert np.array_equal(three.rgba[:, middle][solid], other.rgba[:, size // 3 : size // 2][solid])
    two_ranks = formation([other, one, one, one], across=2)
    assert two_ranks.zone_index.shape == (size + back, pitch + size + pitch // 2)
    # The front rank hides nothing of itself: its first model is whole, a rank's way further down.
    assert np.array_equal(
        two_ranks.rgba[back:, :pitch][other.rgba[:, :pitch, 3] == 255],
        other.rgba[:, :pitch][other.rgba[:, :pitch, 3] == 255],
    )
    assert np.array_equal(formation([one]).rgba, one.rgba)
    with pytest.raises(InputError, match="Number of models"):
        formation([one] * 21)


def test_render_builds_what_is_missing_and_refuses_sizes(demo: Project, views: StandIns) -> None:
    made = render(demo, demo.schemes[0], model("limb"), views=views, size=48, zone_id="cloak")
    names = {demo.zones[n].id for n in np.unique(made.zone_index) if n >= 0}
    assert names == {"cloak"}
    with pytest.raises(InputError, match="Size of the picture"):
        render(demo, demo.schemes[0], views=views, size=4000)
