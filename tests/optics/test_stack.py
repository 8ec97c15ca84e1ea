"""A stack of varying films against films laid one by one."""

from typing import Any

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from numpy.typing import NDArray

from schemeforge import optics

Floats = NDArray[np.float64]
DEPTHS = st.one_of(st.just(0.0), st.floats(1e-12, 1e6))


def one_by_one(ground: Floats, thickness: Floats, K: Floats, S: Floats) -> Floats:
    """The checked single film [Kubelka1948], laid again and again."""
    R: Floats = ground
    for film, absorption, scattering in zip(thickness, K, S, strict=True):
        R = optics.reflectance_over(R, film[:, None] * absorption, film[:, None] * scattering)
    return R


def stack(seed: int, films: int, points: int, bands: int = 36) -> tuple[Floats, ...]:
    rng = np.random.default_rng(seed)
    return (
        rng.uniform(0, 1, (points, bands)),
        rng.uniform(0, 3, (films, points)),
        rng.uniform(0, 2, (films, bands)),
        rng.uniform(0, 2, (films, bands)),
    )


@pytest.mark.parametrize("points", [1, 255, 256, 257, 700])
def test_it_equals_films_laid_one_by_one(points: int) -> None:
    parts = stack(points, 6, points)
    got = optics.stack_over(*parts)
    assert got.shape == (points, 36)
    # Each film adds a few roundings of numbers up to 1, and damps those of the films below.
    assert got == pytest.approx(one_by_one(*parts), abs=1e-14)


@given(st.lists(st.tuples(DEPTHS, DEPTHS), min_size=1, max_size=4), st.floats(0, 1))
@settings(max_examples=200)
def test_depths_from_nothing_to_a_million(depths: list[tuple[float, float]], Rg: float) -> None:
    K, S = np.array(depths).T[..., None]
    thickness = np.ones((len(depths), 1))
    ground = np.full((1, 1), Rg)
    got = optics.stack_over(ground, thickness, K, S)
    assert np.isfinite(got).all()
    # 1 + A th - SX th R stays above 1 (R is at most 1), but may be the difference of numbers as
    # large as the depths: some roundings of those, twice for numerator and denominator.
    tolerance = 8 * np.finfo(np.float64).eps * (1 + K.sum() + S.sum())
    assert got == pytest.approx(one_by_one(ground, thickness, K, S), abs=float(tolerance))


def test_no_film_leaves_the_ground() -> None:
    ground, thickness, K, S = stack(1, 3, 10)
    assert np.array_equal(optics.stack_over(ground, 0 * thickness, K, S), ground)
    assert np.array_equal(optics.stack_over(ground, thickness, 0 * K, 0 * S), ground)
    assert np.array_equal(optics.stack_over(ground, thickness[:0], K[:0], S[:0]), ground)


def test_two_half_films_are_one() -> None:
    ground, thickness, K, S = stack(2, 1, 20)
    halves = optics.stack_over(
        ground, np.repeat(thickness / 2, 2, 0), K.repeat(2, 0), S.repeat(2, 0)
    )
    assert halves == pytest.approx(optics.stack_over(ground, thickness, K, S), abs=1e-14)


def test_one_ground_for_all_points_and_inputs_left_alone() -> None:
    ground, thickness, K, S = stack(3, 2, 300)
    flat = ground[0].copy()
    got = optics.stack_over(flat, thickness, K, S)
    assert np.array_equal(got, optics.stack_over(np.tile(flat, (300, 1)), thickness, K, S))
    assert np.array_equal(flat, ground[0])


def test_float32_stays_float32() -> None:
    parts = stack(4, 6, 50)
    single: NDArray[Any] = optics.stack_over(*(part.astype(np.float32) for part in parts))
    assert single.dtype == np.float32
    # Six films, some five roundings of 6e-8 each.
    assert single == pytest.approx(optics.stack_over(*parts), abs=2e-6)
