"""Measures against colour-science, against finer sampling, and at their limits."""

from dataclasses import replace

import numpy as np
import pytest
from numpy.typing import ArrayLike, NDArray

from schemeforge.appearance import scheme_ramps, zone_tile
from schemeforge.colorimetry import (
    D65_WHITE,
    linear_rgb_from_xyz,
    xyz_from_lab,
    xyz_from_linear_rgb,
)
from schemeforge.comparison import LIGHTS, SchemeMeasures, Thresholds, measure
from schemeforge.comparison.measures import hue_between
from schemeforge.comparison.metrics import shift
from schemeforge.comparison.tiles import mean, with_hand
from schemeforge.errors import UnknownNameError
from schemeforge.gui.files import demo_project
from schemeforge.scheme import Coat, Project, Scheme, Spray, Viewing
from tests.builders import flat, small_project, synthetic_paint
from tests.colorimetry.oracles import colour_science
from tests.comparison.by_hand import candidates

KINDS = {"protan": "Protanomaly", "deutan": "Deuteranomaly", "tritan": "Tritanomaly"}


def outside_lab(xyz: ArrayLike) -> NDArray[np.float64]:
    """CIELAB by colour-science."""
    colour = colour_science()
    return np.asarray(colour.XYZ_to_Lab(xyz, colour.XYZ_to_xy(D65_WHITE)))


def outside_difference(one: ArrayLike, two: ArrayLike) -> NDArray[np.float64]:
    """CIEDE2000 by colour-science."""
    found = colour_science().difference.delta_E_CIE2000(np.asarray(one), np.asarray(two))
    return np.asarray(found)


def measures_of(project: Project, scheme: Scheme, viewing: Viewing | None = None) -> SchemeMeasures:
    found = measure(project, scheme, viewing)
    assert found is not None
    return found


def test_lightness_of_an_even_zone_is_the_mean_of_its_fine_ramp_by_colour_science() -> None:
    project = small_project()
    scheme = project.schemes[0]
    found = measures_of(project, scheme)
    ramps = scheme_ramps(project, scheme, count=801)
    for zone_id in ("hide", "base"):  # the cloak is feathered and so no single ramp
        fine = outside_lab(ramps.zone(zone_id).xyz[-1])
        lightness = np.trapezoid(fine[:, 0], dx=1 / 800)
        assert found.zone(zone_id).lightness == pytest.approx(lightness, abs=0.25)
        assert found.zone(zone_id).span == pytest.approx(fine[-1, 0] - fine[0, 0], abs=1e-6)


@pytest.mark.parametrize("number", range(3))
def test_small_tiles_give_the_means_of_fine_ones(number: int) -> None:
    project = demo_project()
    scheme = project.schemes[number]
    found = measures_of(project, scheme)
    for zone in project.zones:
        fine = zone_tile(project, scheme, zone.id, relief_count=161, along_count=41)[-1].xyz
        expected = mean(outside_lab(fine))
        assert np.array(found.zone(zone.id).lab) == pytest.approx(expected, abs=0.25)


def test_pairs_are_the_touching_zones_once_each_with_delta_e_by_colour_science() -> None:
    project = small_project()
    found = measures_of(project, project.schemes[0])
    assert {frozenset(p.zone_ids) for p in found.pairs} == {
        frozenset({"hide", "cloak"}),
        frozenset({"cloak", "base"}),
    }
    for pair in found.pairs:
        top, low = found.zone(pair.lighter_id), found.zone(pair.darker_id)
        assert pair.lightness == pytest.approx(top.lightness - low.lightness)
        assert pair.lightness >= 0.0
        expected = outside_difference(top.lab, low.lab)
        assert pair.delta_e == pytest.approx(expected, abs=1e-6)


def test_the_lighter_zone_comes_first_wherever_it_stands_in_the_list() -> None:
    project = demo_project()
    order = [zone.id for zone in project.zones]
    turned = set()
    for scheme in project.schemes:
        found = measures_of(project, scheme)
        for pair in found.pairs:
            top, low = (found.zone(zone_id).lightness for zone_id in pair.zone_ids)
            assert pair.lightness == pytest.approx(top - low)
            assert top >= low
            turned.add(order.index(pair.lighter_id) > order.index(pair.darker_id))
    assert turned == {True, False}


def test_without_a_deficiency_other_eyes_see_what_all_see() -> None:
    project = small_project()
    found = measure(project, project.schemes[0], thresholds=Thresholds(severity=0.0))
    assert found is not None
    for pair in found.pairs:
        assert [seen.deficiency for seen in pair.seen_with] == ["protan", "deutan", "tritan"]
        for seen in pair.seen_with:
            assert seen.delta_e == pytest.approx(pair.delta_e, abs=1e-6)
            assert seen.lightness == pytest.approx(pair.lightness, abs=1e-6)


def test_other_eyes_see_what_the_published_matrices_say() -> None:
    """[Machado2009] by colour-science's table, on linear sRGB, for every touching pair."""
    project = demo_project()
    scheme = project.schemes[0]
    found = measures_of(project, scheme)
    xyz = {z.id: xyz_from_lab(found.tiles[z.id]) for z in project.zones}
    for kind, theirs in KINDS.items():
        matrix = np.asarray(colour_science().CVD_MATRICES_MACHADO2010[theirs][1.0])
        seen = {
            zone_id: mean(outside_lab(xyz_from_linear_rgb(linear_rgb_from_xyz(tile) @ matrix.T)))
            for zone_id, tile in xyz.items()
        }
        for pair in found.pairs:
            top, low = seen[pair.lighter_id], seen[pair.darker_id]
            ours = next(s for s in pair.seen_with if s.deficiency == kind)
            # Their six printed digits move colours by some thousandths.
            assert ours.delta_e == pytest.approx(outside_difference(top, low), abs=0.01)
            assert ours.lightness == pytest.approx(abs(top[0] - low[0]), abs=0.01)
            assert pair.hardest.delta_e <= ours.delta_e


def test_greys_keep_their_colour_under_every_light() -> None:
    """A reflectance alike in all bands is the white times a factor, and the white is adapted to."""
    grey = synthetic_paint("black-primer", absorption=flat(0.3), scattering=flat(0.05))
    project = small_project()
    project = replace(
        project, paints=tuple(grey if p.id == "black-primer" else p for p in project.paints)
    )
    base = measures_of(project, project.schemes[0]).zone("base")
    assert [name for name, _ in base.lights] == list(LIGHTS)
    assert all(moved.worst < 1e-6 for _, moved in base.lights)
    assert base.chroma < 1e-6


def test_constancy_is_from_daylight_whatever_light_is_on() -> None:
    project = small_project()
    scheme = project.schemes[0]
    by_day = measures_of(project, scheme)
    by_bulb = measures_of(project, scheme, replace(project.viewing, light="A"))
    for one, two in zip(by_day.zones, by_bulb.zones, strict=True):
        assert one.lights == two.lights
    # Under the bulb the zone has moved by what constancy says.
    hide = by_day.zone("hide")
    moved = outside_difference(
        by_bulb.tiles["hide"].reshape(-1, 3), by_day.tiles["hide"].reshape(-1, 3)
    )
    assert dict(hide.lights)["A"].worst == pytest.approx(moved.max(), abs=1e-6)


def test_a_hand_that_lays_what_was_asked_changes_nothing() -> None:
    project = small_project()
    steady = Thresholds(light_hand=1.0, heavy_hand=1.0)
    found = measure(project, project.schemes[0], thresholds=steady)
    assert found is not None
    assert all(zone.worst_hand == 0.0 for zone in found.zones)


def test_a_heavy_hand_darkens_a_wash_and_a_light_one_lightens_it() -> None:
    project = small_project()
    scheme = project.schemes[0]
    # Without the spray only the translucent coats vary: they can only darken what is below.
    steps = tuple(s for s in scheme.steps if not isinstance(s.layer, Spray))
    found = measures_of(project, replace(scheme, steps=steps))
    cloak = found.zone("cloak")
    assert cloak.heavy_hand.lightness * cloak.light_hand.lightness <= 0.0
    assert cloak.heavy_hand.worst >= cloak.heavy_hand.mean > 0.0
    assert found.zone("base").worst_hand == 0.0  # primer alone is opaque


def test_hands_scale_every_film_and_stop_at_what_a_document_holds() -> None:
    scheme = small_project().schemes[0]
    heavy = with_hand(scheme, 1.25)
    for before, after in zip(scheme.steps, heavy.steps, strict=True):
        if isinstance(before.layer, Coat) and isinstance(after.layer, Coat):
            assert after.layer.wet_um == pytest.approx(before.layer.wet_um * 1.25)
        elif isinstance(before.layer, Spray) and isinstance(after.layer, Spray):
            assert after.layer.peak_um == pytest.approx(before.layer.peak_um * 1.25)
        else:
            assert after.layer == before.layer
    thick = with_hand(heavy, 1000.0)
    films = [s.layer.wet_um for s in thick.steps if isinstance(s.layer, Coat)]
    assert films == [1000.0] * len(films)


def test_only_feathered_zones_have_a_transition() -> None:
    project = small_project()
    found = measures_of(project, project.schemes[0])
    assert found.zone("hide").transition is None
    turn = found.zone("cloak").transition
    assert turn is not None
    ends = outside_lab(
        zone_tile(project, project.schemes[0], "cloak", relief_count=161, along_count=2)[-1].xyz
    )
    root, tip = (np.asarray(np.trapezoid(ends[:, n], dx=1 / 160, axis=0)) for n in (0, 1))
    expected = outside_difference(tip, root)
    assert turn.delta_e == pytest.approx(expected, abs=0.25)
    assert turn.lightness == pytest.approx(tip[0] - root[0], abs=0.25)


def test_work_counts_paints_without_water_and_passes_as_often_as_laid() -> None:
    project = small_project()
    work = measures_of(project, project.schemes[0]).work
    assert work.paint_ids == (
        "black-primer",
        "off-white",
        "brown-wash",
        "clear-medium",
        "red-glaze",
    )
    assert (work.coats, work.passes) == (3, 4)


def test_areas_and_chroma_are_shared_out_whole() -> None:
    project = demo_project()
    for scheme in project.schemes:
        found = measures_of(project, scheme)
        ids = [zone.zone_id for zone in found.zones]
        assert sum(found.area_share(i) for i in ids) == pytest.approx(1.0)
        assert sum(found.chroma_share(i) for i in ids) == pytest.approx(1.0)
        shares = sum(f.share for f in found.families)
        assert shares + found.neutral_share == pytest.approx(1.0)


def test_a_model_without_chroma_shares_none_out() -> None:
    project = candidates()
    zone = replace(measures_of(project, project.schemes[0]).zones[0], chroma=0.0)
    found = replace(measures_of(project, project.schemes[0]), zones=(zone,))
    assert found.chroma_share(zone.zone_id) == 0.0


def test_measuring_tells_how_far_it_is_and_stops_when_told() -> None:
    project = small_project()
    told: list[float] = []
    assert measure(project, project.schemes[0], go_on=lambda s: not told.append(s)) is not None  # type: ignore[func-returns-value]
    assert told == sorted(told)
    assert told[-1] == pytest.approx(1.0)
    seen: list[float] = []

    def stop(share: float) -> bool:
        seen.append(share)
        return len(seen) < 3

    assert measure(project, project.schemes[0], go_on=stop) is None
    assert len(seen) == 3


def test_an_unknown_light_is_named() -> None:
    project = small_project()
    with pytest.raises(UnknownNameError, match="candle"):
        measure(project, project.schemes[0], Viewing(light="candle"))


def test_a_project_without_zones_measures_to_nothing() -> None:
    project = replace(
        small_project(), zones=(), schemes=(Scheme(id="none", name="none"),), chosen_scheme_id=""
    )
    found = measures_of(project, project.schemes[0])
    assert (found.zones, found.pairs, found.families) == ((), (), ())
    assert found.neutral_share == 0.0


@pytest.mark.parametrize(
    ("one", "two", "degrees"),
    [
        ((50.0, 20.0, 0.0), (70.0, 0.0, 30.0), 90.0),
        ((50.0, 20.0, -1.0), (50.0, 20.0, 1.0), 2 * np.degrees(np.arctan(1 / 20))),
        ((50.0, -20.0, 0.0), (50.0, 20.0, 0.0), 180.0),
        ((50.0, 3.0, 0.0), (50.0, 20.0, 0.0), None),
    ],
)
def test_hues_are_compared_the_short_way_round_and_greys_have_none(
    one: tuple[float, float, float], two: tuple[float, float, float], degrees: float | None
) -> None:
    assert hue_between(one, two, 10.0) == (None if degrees is None else pytest.approx(degrees))


def test_a_shift_is_signed_in_lightness_and_worst_where_it_is_greatest() -> None:
    before = np.tile([50.0, 0.0, 0.0], (2, 1, 1))
    after = before.copy()
    after[1, 0, 0] = 40.0
    found = shift(before, after)
    expected = float(outside_difference([50.0, 0.0, 0.0], [40.0, 0.0, 0.0]))
    assert found.worst == pytest.approx(expected)
    assert found.mean == pytest.approx(expected / 2)
    assert found.lightness == pytest.approx(-5.0)
