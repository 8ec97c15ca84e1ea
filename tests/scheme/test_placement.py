"""Profiles against quadrature: scipy integrates what the closed forms promise."""

import itertools
from collections.abc import Callable

import numpy as np
import pytest
from hypothesis import assume, given
from hypothesis import strategies as st
from numpy.typing import NDArray
from scipy.integrate import fixed_quad, quad

from schemeforge.errors import InputError
from schemeforge.scheme.placement import AlongProfile, Placement, ReliefKind, ReliefProfile
from tests.scheme.strategies import UNIT, alongs, curves, reliefs

Profile = Callable[[NDArray[np.float64]], NDArray[np.float64]]


def mean_of(profile: Profile) -> float:
    """Mean over 0 to 1 of a smooth profile by adaptive quadrature."""
    return float(quad(lambda x: float(profile(np.array(x))), 0.0, 1.0, epsabs=1e-10)[0])


def mean_of_pieces(profile: Profile, *corners: float) -> float:
    """Mean over 0 to 1 of a profile of cubic pieces, by Gauss quadrature that is exact on each."""
    edges = sorted({0.0, 1.0, *corners})
    return float(sum(fixed_quad(profile, a, b, n=4)[0] for a, b in itertools.pairwise(edges)))


@given(
    st.sampled_from([ReliefKind.EVEN, ReliefKind.POOLS, ReliefKind.CATCHES]),
    UNIT,
    st.floats(0.05, 1.0),
)
def test_pools_and_catches_have_mean_one(kind: ReliefKind, depth: float, reach: float) -> None:
    profile = ReliefProfile(kind=kind, depth=depth, reach=reach)
    assert mean_of(profile.film) == pytest.approx(1.0, abs=1e-7)


@given(curves())
def test_free_curves_have_mean_one(points: tuple[tuple[float, float], ...]) -> None:
    profile = ReliefProfile(kind=ReliefKind.CURVE, points=points)
    assert mean_of_pieces(profile.film, *(p[0] for p in points)) == pytest.approx(1.0, abs=1e-12)


@given(reliefs(), st.lists(UNIT, min_size=1, max_size=5))
def test_a_film_is_never_negative_and_keeps_its_shape(
    profile: ReliefProfile, at: list[float]
) -> None:
    film = profile.film(np.array([at, at]))
    assert film.shape == (2, len(at))
    assert film.dtype == np.float64
    assert np.all(film >= 0.0)
    assert np.all(np.isfinite(film))


def test_a_pool_is_deepest_in_the_recess_and_a_catch_mirrors_it() -> None:
    relief = np.linspace(0.0, 1.0, 11)
    pool = ReliefProfile(kind=ReliefKind.POOLS, depth=0.6, reach=0.25).film(relief)
    catch = ReliefProfile(kind=ReliefKind.CATCHES, depth=0.6, reach=0.25).film(relief)
    # 1 - depth + depth n (1 - r)^(n - 1) with n = 4, by hand
    assert pool[0] == pytest.approx(0.4 + 0.6 * 4.0)
    assert pool[5] == pytest.approx(0.4 + 0.6 * 4.0 * 0.125)
    assert pool[-1] == pytest.approx(0.4)
    assert np.all(np.diff(pool) < 0.0)
    np.testing.assert_allclose(catch, pool[::-1], rtol=1e-14)


@pytest.mark.parametrize("kind", [ReliefKind.POOLS, ReliefKind.CATCHES])
def test_the_even_limits_of_a_pool(kind: ReliefKind) -> None:
    relief = np.linspace(0.0, 1.0, 5)
    for profile in (
        ReliefProfile(kind=kind, depth=0.0),
        ReliefProfile(kind=kind, reach=1.0),
        ReliefProfile(),
    ):
        np.testing.assert_allclose(profile.film(relief), 1.0, rtol=1e-15)


def test_a_free_curve_goes_through_its_points_and_is_flat_outside() -> None:
    profile = ReliefProfile(kind=ReliefKind.CURVE, points=((0.25, 1.0), (0.75, 3.0)))
    # mean by hand: 0.25 x 1 + 0.5 x 2 + 0.25 x 3 = 2
    np.testing.assert_allclose(
        profile.film(np.array([0.0, 0.25, 0.5, 0.75, 1.0])), [0.5, 0.5, 1.0, 1.5, 1.5]
    )


@pytest.mark.parametrize(
    ("points", "words"),
    [
        ((), "has 0 points; give 2 to 32"),
        (tuple((i / 40, 1.0) for i in range(33)), "has 33 points"),
        (((0.0, 1.0), (1.5, 1.0)), "Relief of a curve point is 1.5"),
        (((0.0, 1.0), (1.0, -1.0)), "Film of a curve point is -1"),
        (((0.5, 1.0), (0.5, 2.0)), "do not rise"),
        (((0.0, 0.0), (1.0, 0.0)), "lays no film anywhere"),
    ],
)
def test_bad_curves_are_refused(points: tuple[tuple[float, float], ...], words: str) -> None:
    with pytest.raises(InputError) as caught:
        ReliefProfile(kind=ReliefKind.CURVE, points=points)
    assert words in str(caught.value)


@given(st.lists(st.tuples(UNIT, st.floats(0.0, 100.0)), min_size=2, max_size=5))
def test_any_curve_that_is_taken_gives_finite_films(points: list[tuple[float, float]]) -> None:
    try:
        profile = ReliefProfile(kind=ReliefKind.CURVE, points=tuple(sorted(points)))
    except InputError:
        assume(False)  # noqa: FBT003 -- hypothesis' own way to pass over an example
    at = np.concatenate([np.linspace(0.0, 1.0, 33), [p[0] for p in points]])
    assert np.all(np.isfinite(profile.film(at)))


@given(alongs())
def test_the_mean_along_the_part_is_the_integral(profile: AlongProfile) -> None:
    corners = (
        profile.start,
        profile.start + profile.feather_start,
        profile.end - profile.feather_end,
        profile.end,
    )
    assert mean_of_pieces(profile.share, *corners) == pytest.approx(profile.mean, abs=1e-12)


@given(alongs(), st.lists(UNIT, min_size=1))
def test_a_share_lies_between_none_and_all(profile: AlongProfile, at: list[float]) -> None:
    share = profile.share(np.array(at))
    assert share.shape == (len(at),)
    assert np.all((share >= 0.0) & (share <= 1.0))


def test_a_feathered_glaze_by_hand() -> None:
    profile = AlongProfile(start=0.2, end=1.0, feather_start=0.4)
    assert profile.mean == pytest.approx(0.6)
    # smooth step 3 t^2 - 2 t^3 at t = 0, 1/4, 1/2, 1
    np.testing.assert_allclose(
        profile.share(np.array([0.1, 0.2, 0.3, 0.4, 0.6, 1.0])),
        [0.0, 0.0, 0.15625, 0.5, 1.0, 1.0],
        atol=1e-12,
    )


def test_hard_edges_and_the_even_coat() -> None:
    at = np.array([0.0, 0.3, 0.5, 0.7, 1.0])
    np.testing.assert_array_equal(AlongProfile().share(at), 1.0)
    np.testing.assert_array_equal(AlongProfile(start=0.3, end=0.7).share(at), [0, 1, 1, 1, 0])
    assert AlongProfile().is_even
    assert AlongProfile().mean == 1.0
    assert not AlongProfile(feather_end=0.1).is_even


@pytest.mark.parametrize(
    ("values", "words"),
    [
        ({"start": 0.5, "end": 0.5}, "ends before it starts"),
        ({"start": 0.6, "end": 0.4}, "ends before it starts"),
        ({"feather_start": 0.6, "feather_end": 0.5}, "longer than the coat"),
        ({"start": -0.1}, "Start along the part is -0.1"),
        ({"end": float("nan")}, "End along the part is nan"),
    ],
)
def test_bad_profiles_along_the_part_are_refused(values: dict[str, float], words: str) -> None:
    with pytest.raises(InputError) as caught:
        AlongProfile(**values)
    assert words in str(caught.value)


def test_feathers_may_meet_in_the_middle() -> None:
    assert AlongProfile(feather_start=0.5, feather_end=0.5).mean == pytest.approx(0.5)


def test_a_placement_is_even_unless_told() -> None:
    assert Placement().relief.kind is ReliefKind.EVEN
    assert Placement().along.is_even
