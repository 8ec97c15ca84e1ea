"""Handles: each moved by hand comes to lie under the hand, and can be moved back."""

from dataclasses import replace

import numpy as np
import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from schemeforge.desk import Direction
from schemeforge.desk.cutaway import Band, CutScale, band_edges, cut_bands, fitting_scale
from schemeforge.desk.handles import (
    Handle,
    HandleKind,
    as_curve,
    handles_of,
    moved,
    moved_along,
    moved_relief,
    place_index,
)
from schemeforge.scheme import (
    AlongProfile,
    Coat,
    Placement,
    Project,
    ReliefKind,
    ReliefProfile,
    edits,
)
from tests.builders import small_project
from tests.scheme.strategies import alongs, reliefs

RELIEF = Direction.RELIEF
ALONG_KINDS = (
    HandleKind.START,
    HandleKind.FEATHER_START,
    HandleKind.FEATHER_END,
    HandleKind.END,
)
CURVE = ReliefProfile(kind=ReliefKind.CURVE, points=((0.0, 2.0), (0.4, 0.5), (1.0, 1.0)))
KINDS = {
    ReliefKind.EVEN: ReliefProfile(kind=ReliefKind.EVEN),
    ReliefKind.POOLS: ReliefProfile(kind=ReliefKind.POOLS, depth=0.5, reach=0.4),
    ReliefKind.CATCHES: ReliefProfile(kind=ReliefKind.CATCHES, depth=0.5, reach=0.4),
    ReliefKind.CURVE: CURVE,
}


def with_placement(placement: Placement) -> Project:
    return edits.set_coat(small_project(), "first", "red", placement=placement)


def red_band(project: Project, direction: Direction, across: float = 0.8) -> Band:
    zone, scheme = project.zone("cloak"), project.schemes[0]
    return cut_bands(project, scheme, zone, project.viewing, direction, across)[-1]


def coat_of(band: Band) -> Coat:
    assert isinstance(band.step.layer, Coat)
    return band.step.layer


def scale_of(band: Band) -> CutScale:
    return fitting_scale((band,), 200.0, is_true=False)


def test_a_primer_has_none_and_a_spray_its_weight() -> None:
    project = small_project()
    for direction in Direction:
        prime, spray, *_ = cut_bands(
            project, project.schemes[0], project.zone("hide"), project.viewing, direction, 0.5
        )
        assert handles_of(prime, direction) == ()
        (weight,) = handles_of(spray, direction)
        assert weight.kind is HandleKind.WEIGHT
        assert not weight.is_level


@pytest.mark.parametrize("kind", ReliefKind)
def test_what_handles_a_coat_has_over_relief(kind: ReliefKind) -> None:
    band = red_band(with_placement(Placement(relief=KINDS[kind])), Direction.RELIEF)
    found = [handle.kind for handle in handles_of(band, Direction.RELIEF)]
    expected = {
        ReliefKind.EVEN: [HandleKind.POOL, HandleKind.WEIGHT, HandleKind.CATCH],
        ReliefKind.POOLS: [HandleKind.POOL, HandleKind.POOL_REACH, HandleKind.WEIGHT],
        ReliefKind.CATCHES: [HandleKind.WEIGHT, HandleKind.CATCH_REACH, HandleKind.CATCH],
        ReliefKind.CURVE: [HandleKind.CURVE_POINT] * 3,
    }
    assert found == expected[kind]


@given(reliefs(), alongs())
def test_handles_stand_within_the_cut(relief: ReliefProfile, along: AlongProfile) -> None:
    project = with_placement(Placement(relief=relief, along=along))
    for direction in Direction:
        handles = handles_of(red_band(project, direction), direction)
        assert handles
        assert all(-1e-9 <= handle.at <= 1.0 + 1e-9 for handle in handles)
        assert len({(handle.kind, handle.index) for handle in handles}) == len(handles)
        assert all(0 <= place_index(handle.at) < 64 for handle in handles)


@given(alongs(), st.sampled_from(ALONG_KINDS), st.floats(0.0, 1.0))
def test_an_end_goes_where_it_is_put_and_the_others_give_way(
    along: AlongProfile, kind: HandleKind, at: float
) -> None:
    new = moved_along(along, kind, at)  # a profile that makes no sense would be refused
    full, fade = new.start + new.feather_start, new.end - new.feather_end
    assert 0.0 <= new.start <= full + 1e-9 <= fade + 2e-9 <= new.end + 3e-9 <= 1.0 + 3e-9
    if kind is HandleKind.START and at <= along.end - 0.02:
        assert new.start == at
    elif kind is HandleKind.FEATHER_START and along.start <= at <= along.end:
        assert full == pytest.approx(at, abs=1e-9)
    elif kind is HandleKind.FEATHER_END and along.start <= at <= along.end:
        assert fade == pytest.approx(at, abs=1e-9)
    elif kind is HandleKind.END and at >= along.start + 0.02:
        assert new.end == at
    if kind is not HandleKind.START:
        assert new.start == along.start
    if kind is not HandleKind.END:
        assert new.end == along.end


@given(alongs(), st.sampled_from(ALONG_KINDS), st.floats(-0.05, 0.05))
def test_a_small_move_of_an_end_and_back_changes_nothing(
    along: AlongProfile, kind: HandleKind, by: float
) -> None:
    stands = {
        HandleKind.START: along.start,
        HandleKind.FEATHER_START: along.start + along.feather_start,
        HandleKind.FEATHER_END: along.end - along.feather_end,
        HandleKind.END: along.end,
    }
    at, rest = stands[kind], [stands[other] for other in ALONG_KINDS if other is not kind]
    assume(0.0 <= at + by <= 1.0)
    assume(all(abs(at - other) > abs(by) + 0.03 for other in rest))
    back = moved_along(moved_along(along, kind, at + by), kind, at)
    for name in ("start", "end", "feather_start", "feather_end"):
        assert getattr(back, name) == pytest.approx(getattr(along, name), abs=1e-9)


@pytest.mark.parametrize("kind", ReliefKind)
@pytest.mark.parametrize("factor", [0.9, 1.15])
@pytest.mark.parametrize("across", [0.6, 0.9])
def test_a_handle_comes_to_lie_under_the_hand(
    kind: ReliefKind, factor: float, across: float
) -> None:
    """Also where the cut lies in the feather, where the coat is thinner than its weight."""
    along = AlongProfile(start=0.3, end=1.0, feather_start=0.5)
    project = with_placement(Placement(relief=KINDS[kind], along=along))
    band = red_band(project, Direction.RELIEF, across)
    scale = scale_of(band)
    for handle in handles_of(band, Direction.RELIEF):
        if handle.is_level or handle.kind is HandleKind.WEIGHT:
            continue
        wanted = float(scale.height(band.dry_um)[place_index(handle.at)]) * factor
        placement = moved(coat_of(band), band, handle, scale, handle.at, wanted)
        again = red_band(with_placement(placement), Direction.RELIEF, across)
        got = float(scale.height(again.dry_um)[place_index(handle.at)])
        if placement.relief.kind is ReliefKind.EVEN:
            assert factor < 1.0  # below the mean there is no pool, and no catch
            continue
        # A curve's points need not lie on one of the 64 places.
        assert got == pytest.approx(wanted, rel=0.02 if kind is ReliefKind.CURVE else 1e-6)
        # And moved back by hand.
        same = next(h for h in handles_of(again, Direction.RELIEF) if h.kind is handle.kind)
        if kind is ReliefKind.CURVE:
            same = handles_of(again, Direction.RELIEF)[handle.index]
        before = float(scale.height(band.dry_um)[place_index(handle.at)])
        back = moved(coat_of(again), again, same, scale, handle.at, before)
        film = back.relief.film(np.linspace(0.0, 1.0, 9))
        np.testing.assert_allclose(
            film,
            coat_of(band).placement.relief.film(np.linspace(0.0, 1.0, 9)),
            rtol=0.04 if kind is ReliefKind.CURVE else 1e-6,
        )


@pytest.mark.parametrize("kind", [HandleKind.POOL, HandleKind.CATCH])
def test_pulling_at_an_end_of_an_even_coat_makes_a_pool_or_a_catch(kind: HandleKind) -> None:
    pulled = moved_relief(KINDS[ReliefKind.EVEN], Handle(kind, 0.0), 0.0, 1.5)
    wanted = ReliefKind.POOLS if kind is HandleKind.POOL else ReliefKind.CATCHES
    assert pulled.kind is wanted
    end = 0.0 if kind is HandleKind.POOL else 1.0
    assert float(pulled.film(np.array(end))) == pytest.approx(1.5)
    assert moved_relief(pulled, Handle(kind, end), end, 0.7).kind is ReliefKind.EVEN
    assert moved_relief(pulled, Handle(kind, end), end, 1e9).depth == 1.0


@pytest.mark.parametrize(
    ("kind", "sign"), [(HandleKind.POOL_REACH, 1.0), (HandleKind.CATCH_REACH, -1.0)]
)
def test_reach_is_moved_sideways(kind: HandleKind, sign: float) -> None:
    relief = KINDS[ReliefKind.POOLS if sign > 0 else ReliefKind.CATCHES]
    for at in (0.0, 0.3, 0.7, 1.0):
        reach = moved_relief(relief, Handle(kind, at), at, 1.0).reach
        assert reach == pytest.approx(np.clip(at if sign > 0 else 1.0 - at, 0.05, 0.95))
        assert Handle(kind, at).is_level


def test_a_pool_that_reached_everywhere_can_be_pulled_again() -> None:
    even = ReliefProfile(kind=ReliefKind.POOLS, depth=0.5, reach=1.0)
    pulled = moved_relief(even, Handle(HandleKind.POOL, 0.0), 0.0, 1.03)
    assert float(pulled.film(np.array(0.0))) == pytest.approx(1.03)


@given(reliefs().filter(lambda r: r.kind is not ReliefKind.CURVE))
def test_a_free_curve_begins_as_what_it_was_made_from(relief: ReliefProfile) -> None:
    curve = as_curve(relief)
    assert curve.kind is ReliefKind.CURVE
    assert as_curve(curve) is curve
    at = np.linspace(0.0, 1.0, 5)
    film = relief.film(at)
    heights = [point[1] for point in curve.points]
    np.testing.assert_allclose(heights, film, atol=1e-4)


@given(reliefs().filter(lambda r: r.kind is ReliefKind.CURVE), st.data())
def test_a_curve_point_goes_where_it_is_put_between_its_neighbours(
    relief: ReliefProfile, data: st.DataObject
) -> None:
    index = data.draw(st.integers(0, len(relief.points) - 1))
    at = data.draw(st.floats(0.0, 1.0))
    wanted = data.draw(st.floats(0.0, 8.0))
    new = moved_relief(relief, Handle(HandleKind.CURVE_POINT, at, index), at, wanted)
    assert len(new.points) == len(relief.points)
    for other in range(len(relief.points)):
        if other != index:
            assert new.points[other] == relief.points[other]
    x, y = new.points[index]
    low = relief.points[index - 1][0] if index else 0.0
    high = relief.points[index + 1][0] if index + 1 < len(relief.points) else 1.0
    assert low <= x <= high
    if 0.0 < y < 50.0:
        assert float(new.film(np.array(x))) == pytest.approx(wanted, rel=1e-6)


def test_the_only_point_with_film_keeps_it() -> None:
    lone = ReliefProfile(kind=ReliefKind.CURVE, points=((0.0, 0.0), (0.5, 3.0), (1.0, 0.0)))
    new = moved_relief(lone, Handle(HandleKind.CURVE_POINT, 0.5, 1), 0.4, 0.0)
    assert new.points == ((0.0, 0.0), (0.4, 1.0), (1.0, 0.0))
    emptied = moved_relief(CURVE, Handle(HandleKind.CURVE_POINT, 0.0, 0), 0.0, 0.0)
    assert emptied.points[0] == (0.0, 0.0)


def test_moves_beyond_the_cut_stop_at_its_edge() -> None:
    band = red_band(small_project(), Direction.ALONG)
    placement = moved(coat_of(band), band, Handle(HandleKind.END, 1.0), scale_of(band), 7.0, 10.0)
    assert placement == coat_of(band).placement
    far = moved(coat_of(band), band, Handle(HandleKind.START, 0.4), scale_of(band), -3.0, 10.0)
    assert far.along.start == 0.0
    assert far.relief is coat_of(band).placement.relief


def test_where_nothing_lies_at_the_cut_a_pull_is_as_strong_as_can_be() -> None:
    along = AlongProfile(start=0.5, end=1.0)
    relief = replace(KINDS[ReliefKind.POOLS])
    band = red_band(with_placement(Placement(relief=relief, along=along)), Direction.RELIEF, 0.1)
    assert np.all(band.dry_um == 0.0)
    scale = CutScale(10.0, 0.0, is_true=False)
    assert np.all(band_edges((band,), scale)[0][1] == 0.0)
    placement = moved(coat_of(band), band, Handle(HandleKind.POOL, 0.0), scale, 0.0, 20.0)
    assert placement.relief.depth == 1.0


@given(st.sampled_from([ReliefKind.POOLS, ReliefKind.CATCHES]), st.floats(0.05, 1.0))
def test_the_weight_is_held_where_there_is_film_and_no_other_handle(
    kind: ReliefKind, reach: float
) -> None:
    relief = ReliefProfile(kind=kind, depth=1.0, reach=reach)
    handles = handles_of(red_band(with_placement(Placement(relief=relief)), RELIEF), RELIEF)
    (weight,) = (handle for handle in handles if handle.kind is HandleKind.WEIGHT)
    assert 0.3 < float(relief.film(np.array(weight.at))) < 3.0
    assert all(abs(handle.at - weight.at) > 0.09 for handle in handles if handle is not weight)
