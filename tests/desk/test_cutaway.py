"""The cut as numbers: films and heights, and back from a height to a film."""

from dataclasses import replace
from itertools import pairwise
from typing import Any

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from schemeforge.desk import Direction
from schemeforge.desk.cutaway import (
    CUT_POINTS,
    LEAST_WET_UM,
    MOST_WET_UM,
    PRIMER_SHARE,
    Band,
    CutScale,
    band_edges,
    cut_bands,
    dry_share,
    fitting_scale,
    weight_for_height,
)
from schemeforge.scheme import Coat, Primer, Project, Spray, edits
from tests.builders import mix, small_project

PROJECT = small_project()
SCHEME = PROJECT.schemes[0]
HIGH = 300.0


def bands_of(
    project: Project = PROJECT,
    zone_id: str = "cloak",
    direction: Direction = Direction.RELIEF,
    across: float = 0.8,
) -> tuple[Band, ...]:
    scheme, zone = project.schemes[0], project.zone(zone_id)
    return cut_bands(project, scheme, zone, project.viewing, direction, across)


def scale_for(bands: tuple[Band, ...], *, is_true: bool = False) -> CutScale:
    return fitting_scale(bands, HIGH, is_true=is_true)


@pytest.mark.parametrize("direction", Direction)
def test_bands_are_the_stack_lowest_first(direction: Direction) -> None:
    bands = bands_of(direction=direction)
    assert [band.step.id for band in bands] == ["prime", "spray", "wash", "red"]
    assert [band.number for band in bands] == [1, 2, 3, 4]
    for band in bands:
        assert band.dry_um.shape == band.wet_um.shape == (CUT_POINTS,)
        assert band.xyz.shape == (CUT_POINTS, 3)
        assert np.all(band.dry_um >= 0.0)
        assert np.all(np.isfinite(band.xyz))


def test_films_are_those_of_the_document() -> None:
    """Film at a point = wet_um x passes x relief profile x profile along (the design)."""
    spray, wash, red = bands_of()[1:]
    zone, at = PROJECT.zone("cloak"), np.linspace(0.0, 1.0, CUT_POINTS)
    low, high = zone.tones
    assert isinstance(spray.step.layer, Spray)
    np.testing.assert_allclose(spray.wet_um, spray.step.layer.peak_um * (low + (high - low) * at))
    for band in (wash, red):
        coat: Any = band.step.layer
        film = coat.wet_um * coat.passes * coat.placement.relief.film(at)
        share = coat.placement.along.share(np.array([0.8]))
        np.testing.assert_allclose(band.wet_um, film * share)


def test_a_cut_along_the_part_follows_the_feather() -> None:
    red = bands_of(direction=Direction.ALONG, across=0.5)[-1]
    coat: Any = red.step.layer
    share = coat.placement.along.share(np.linspace(0.0, 1.0, CUT_POINTS))
    np.testing.assert_allclose(red.wet_um, coat.wet_um * coat.passes * share)
    assert red.wet_um[0] == 0.0


def test_what_dries_is_the_solids_of_the_mix() -> None:
    """By hand: 30 wash of 10 % solids, 30 medium of 30 %, 40 water: (3 + 9) / 100."""
    assert dry_share(PROJECT, SCHEME.mix("wash-pot")) == pytest.approx(0.12)
    assert dry_share(PROJECT, mix("w", water=1.0)) == 0.0
    wash = bands_of()[2]
    np.testing.assert_allclose(wash.dry_um, 0.12 * wash.wet_um)


def test_a_primer_shows_its_masstone_and_thin_films_show_the_card() -> None:
    prime, _, _, red = bands_of(direction=Direction.ALONG)
    assert np.ptp(prime.xyz, axis=0).max() == 0.0
    assert prime.xyz[0, 1] < 0.05
    # A film of nothing shows the white card of 0.9 itself: no surface is put on a band.
    np.testing.assert_allclose(red.xyz[0, 1], 0.9, rtol=1e-3)


@pytest.mark.parametrize("is_true", [False, True])
def test_the_cut_fills_most_of_the_height_and_never_more(*, is_true: bool) -> None:
    bands = bands_of()
    edges = band_edges(bands, scale_for(bands, is_true=is_true))
    top = float(np.max(edges[-1][1]))
    assert top <= HIGH
    assert top > 0.5 * HIGH
    for (_, upper), (lower, _) in pairwise(edges):
        np.testing.assert_array_equal(upper, lower)
    if not is_true:
        assert edges[0][1][0] == pytest.approx(PRIMER_SHARE * HIGH)


def test_true_scale_draws_thickness_itself() -> None:
    bands = bands_of()
    scale = scale_for(bands, is_true=True)
    for band, (low, high) in zip(bands, band_edges(bands, scale), strict=True):
        np.testing.assert_allclose(high - low, scale.pixels * band.dry_um, atol=1e-9)


@pytest.mark.parametrize("is_true", [False, True])
def test_without_paint_or_height_there_is_still_a_scale(*, is_true: bool) -> None:
    scale = fitting_scale((), HIGH, is_true=is_true)
    assert band_edges((), scale) == []
    assert 0.0 < scale.pixels < np.inf
    flat = fitting_scale(bands_of(), 0.0, is_true=is_true)
    assert flat.pixels > 0.0


def test_a_primer_alone_has_its_height() -> None:
    alone = bands_of(zone_id="base")
    assert [band.step.id for band in alone] == ["prime"]
    ((low, high),) = band_edges(alone, scale_for(alone))
    assert np.ptp(low) == np.ptp(high) == 0.0
    assert high[0] == pytest.approx(PRIMER_SHARE * HIGH)


@given(st.floats(0.0, 500.0), st.floats(0.01, 50.0), st.booleans())
def test_heights_and_thicknesses_are_inverse(dry_um: float, pixels: float, is_true: bool) -> None:
    scale = CutScale(pixels, 0.0, is_true)
    height = float(scale.height(np.array(dry_um)))
    assert scale.dry_um(height) == pytest.approx(dry_um, rel=1e-9, abs=1e-12)
    assert scale.dry_um(-height) == 0.0


@given(st.integers(0, CUT_POINTS - 1), st.floats(1.0, 200.0), st.sampled_from([1, 2, 3]))
def test_a_weight_gives_the_height_it_was_asked_for(place: int, height: float, which: int) -> None:
    bands = bands_of()
    band, scale = bands[which], scale_for(bands)
    wet_um = weight_for_height(PROJECT, SCHEME, band, scale, place, height)
    if band.dry_um[place] <= 0.0:
        assert wet_um is None
        return
    assert wet_um is not None
    assert LEAST_WET_UM <= wet_um <= MOST_WET_UM
    if wet_um in {LEAST_WET_UM, MOST_WET_UM}:
        return
    again = bands_of(weighed(PROJECT, band, wet_um))[which]
    assert float(scale.height(again.dry_um)[place]) == pytest.approx(height, rel=1e-9)


def weighed(project: Project, band: Band, wet_um: float) -> Project:
    layer = band.step.layer
    if isinstance(layer, Spray):
        new: Any = replace(layer, peak_um=wet_um)
        return edits.set_layer(project, "first", band.step.id, new)
    return edits.set_coat(project, "first", band.step.id, wet_um=wet_um)


@pytest.mark.parametrize("which", [1, 2, 3])
def test_a_coat_of_nothing_can_be_drawn_out_again(which: int) -> None:
    empty = weighed(PROJECT, bands_of()[which], 0.0)
    bands = bands_of(empty)
    assert np.all(bands[which].dry_um == 0.0)
    scale = scale_for(bands_of())
    wet_um = weight_for_height(empty, empty.schemes[0], bands[which], scale, 63, 30.0)
    assert wet_um is not None
    assert LEAST_WET_UM < wet_um <= MOST_WET_UM
    higher = weight_for_height(empty, empty.schemes[0], bands[which], scale, 63, 60.0)
    assert higher is not None
    assert higher > wet_um or higher == MOST_WET_UM


def test_a_primer_has_no_weight_and_nothing_can_be_weighed_where_nothing_lies() -> None:
    bands = bands_of(direction=Direction.ALONG)
    assert isinstance(bands[0].step.layer, Primer)
    assert isinstance(bands[3].step.layer, Coat)
    scale = scale_for(bands)
    assert weight_for_height(PROJECT, SCHEME, bands[0], scale, 10, 50.0) is None
    assert weight_for_height(PROJECT, SCHEME, bands[3], scale, 0, 50.0) is None
