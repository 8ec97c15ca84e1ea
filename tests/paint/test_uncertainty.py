"""The factor F of the logs of K and S: F^T F is the covariance that the numbers describe."""

from typing import Any

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from numpy.typing import NDArray

from schemeforge.errors import InputError
from schemeforge.optics import bands
from schemeforge.paint import CERTAIN, Uncertainty

N = bands.COUNT
# Modes under 1e-6 of the greatest eigenvalue are dropped, and that is at most the trace, 36:
# what is missing is a positive semidefinite matrix of norm, and so of entries, under 36e-6.
DROPPED = 36e-6
SIGMAS = st.floats(0.0, 5.0)


def kernel(length_nm: float) -> NDArray[np.float64]:
    """The squared-exponential correlation of two bands, written out."""
    nm = 380.0 + 10.0 * np.arange(N)
    distance: NDArray[np.float64] = (nm[:, None] - nm[None, :]) / length_nm
    correlation: NDArray[np.float64] = np.exp(-(distance**2) / 2.0)
    return correlation


@given(SIGMAS, SIGMAS, SIGMAS, SIGMAS, st.floats(5.0, 1000.0))
@settings(max_examples=40)
def test_the_factor_gives_the_covariance(
    level_k: float, level_s: float, shape_k: float, shape_s: float, length_nm: float
) -> None:
    uncertainty = Uncertainty(
        level_k=level_k, level_s=level_s, shape_k=shape_k, shape_s=shape_s, length_nm=length_nm
    )
    factor = uncertainty.factor()
    covariance = factor.T @ factor
    assert factor.shape[1] == 2 * N
    for block, level, shape in (
        (covariance[:N, :N], level_k, shape_k),
        (covariance[N:, N:], level_s, shape_s),
    ):
        expected = level**2 + shape**2 * kernel(length_nm)
        np.testing.assert_allclose(block, expected, atol=DROPPED * shape**2 + 1e-12)
    np.testing.assert_allclose(covariance[:N, N:], 0.0, atol=1e-12)


def test_levels_alone_are_one_row_each() -> None:
    factor = Uncertainty(level_k=0.2, level_s=0.3).factor()
    np.testing.assert_array_equal(factor, [[0.2] * N + [0.0] * N, [0.0] * N + [0.3] * N])


def test_a_certain_paint_has_no_rows() -> None:
    assert CERTAIN.factor().shape == (0, 2 * N)


def test_factors_of_a_fit_replace_the_plain_numbers() -> None:
    rows = (tuple(float(i) / 10 for i in range(2 * N)), (0.5,) * (2 * N))
    factor = Uncertainty(level_k=1.0, factors=rows).factor()
    np.testing.assert_array_equal(factor, rows)


def test_long_waves_need_few_rows_and_short_ones_many() -> None:
    ranks = [Uncertainty(shape_k=1.0, length_nm=nm).factor().shape[0] for nm in (1000, 60, 5)]
    assert ranks == sorted(ranks)
    assert ranks[0] < 8
    assert ranks[2] == N


def test_the_sign_of_each_mode_is_fixed() -> None:
    factor = Uncertainty(shape_k=1.0).factor()[:, :N]
    largest = factor[np.arange(len(factor)), np.argmax(np.abs(factor), axis=1)]
    assert np.all(largest > 0.0)


def test_the_factor_is_shared_and_read_only() -> None:
    factor = Uncertainty(level_k=0.2).factor()
    assert Uncertainty(level_k=0.2).factor() is factor
    with pytest.raises(ValueError, match="read-only"):
        factor[0, 0] = 1.0


def test_draws_have_the_stated_spread() -> None:
    factor = Uncertainty(level_k=0.2, shape_k=0.1).factor()
    draws = np.random.default_rng(7).standard_normal((20000, len(factor))) @ factor
    sigma = np.std(draws[:, :N], axis=0)
    # sqrt(0.2^2 + 0.1^2) = 0.2236; the error of a standard deviation is sigma / sqrt(2 n)
    np.testing.assert_allclose(sigma, 0.05**0.5, atol=5.0 * 0.2236 / (2 * 20000) ** 0.5)


@pytest.mark.parametrize(
    ("values", "words"),
    [
        ({"level_k": -0.1}, "Uncertainty level_k is -0.1"),
        ({"shape_s": 5.1}, "Uncertainty shape_s is 5.1"),
        ({"length_nm": 1.0}, "Uncertainty length_nm is 1"),
        ({"factors": ((0.0,) * 71,)}, "has 71 numbers, not 72"),
        ({"factors": ((0.0,) * 72,) * 73}, "has 73 factors, more than 72"),
        ({"factors": ((float("nan"),) * 72,)}, "Uncertainty factor is nan"),
    ],
)
def test_bad_numbers_are_refused(values: dict[str, Any], words: str) -> None:
    with pytest.raises(InputError) as caught:
        Uncertainty(**values)
    assert words in str(caught.value)
