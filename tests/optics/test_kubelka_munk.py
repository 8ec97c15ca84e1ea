"""One film over one ground, against the closed solution in many digits, and at its limits."""

import itertools
from typing import Any

import mpmath  # type: ignore[import-untyped]  # has no types of its own
import numpy as np
import pytest
from hypothesis import given

from schemeforge import optics
from schemeforge.errors import InputError
from tests.optics.tables import depths, grounds, rows, shares, spectra

# Double precision, a dozen operations: a rounding of the result and of each step.
ROUNDING = 16 * np.finfo(np.float64).eps
# The accuracy that the program promises for depths to 100.
PROMISED = 1e-12

DEPTHS = [0.0, 1e-300, 1e-18, 1e-12, 1e-8, 1e-4, 9.99e-4, 1.01e-3, 0.03, 0.5, 1.0, 7.0, 40.0, 100.0]
GROUNDS = [0.0, 1e-9, 0.04, 0.5, 0.95, 1.0]


def exact(Rg: float, KX: float, SX: float) -> mpmath.mpf:
    """The hyperbolic solution [Kubelka1948] in 50 digits, on exactly the numbers given."""
    with mpmath.workdps(50):
        K, S, R = mpmath.mpf(KX), mpmath.mpf(SX), mpmath.mpf(Rg)
        g = mpmath.sqrt(K * (K + 2 * S))
        if g == 0:
            # The limit: a film that only scatters.
            return (R + (1 - R) * S) / (1 + (1 - R) * S)
        a_sinh = (K + S) * mpmath.sinh(g) / g
        b_sinh = S * mpmath.sinh(g) / g
        cosh = mpmath.cosh(g)
        return (b_sinh + (cosh - a_sinh) * R) / (cosh + a_sinh - b_sinh * R)


@pytest.fixture(scope="module")
def grid() -> dict[str, Any]:
    points = list(itertools.product(GROUNDS, DEPTHS, DEPTHS))
    Rg, KX, SX = np.array(points).T
    return {"film": (Rg, KX, SX), "exact": [exact(*point) for point in points]}


def distances(grid: dict[str, Any], computed: np.ndarray[Any, Any]) -> np.ndarray[Any, Any]:
    """Absolute error of each value, worked out in 50 digits."""
    with mpmath.workdps(50):
        pairs = zip(computed, grid["exact"], strict=True)
        return np.array([float(abs(mpmath.mpf(float(value)) - true)) for value, true in pairs])


def test_the_error_stays_below_the_promise_against_50_digits(grid: dict[str, Any]) -> None:
    assert distances(grid, optics.reflectance_over(*grid["film"])).max() <= PROMISED


def test_even_the_relative_error_does(grid: dict[str, Any]) -> None:
    true = np.array([float(value) for value in grid["exact"]])
    off = distances(grid, optics.reflectance_over(*grid["film"]))
    shown = true > 1e-290  # below, the number format itself runs out of digits
    assert shown.sum() > 900
    assert (off[shown] / true[shown]).max() <= PROMISED


def test_the_unchecked_film_keeps_the_promise_too(grid: dict[str, Any]) -> None:
    assert distances(grid, optics.film_over(*grid["film"])).max() <= PROMISED


def test_the_map_of_a_film_keeps_the_promise_too(grid: dict[str, Any]) -> None:
    Rg, KX, SX = grid["film"]
    assert distances(grid, optics.apply(optics.film_map(KX, SX), Rg)).max() <= PROMISED


@pytest.mark.parametrize("row", rows("km_forward_checks.csv"), ids=lambda row: row["case"])
def test_published_formula_table(row: dict[str, str]) -> None:
    # km_forward_checks.csv: the solution of [Kubelka1948] in 40 digits.
    K, S, X, Rg = (float(row[name]) for name in ("K", "S", "X", "Rg"))
    R = optics.reflectance_over(Rg, K * X, S * X)
    R0, T = optics.r0_and_transmittance(K * X, S * X)
    assert float(R) == pytest.approx(float(row["R_over_Rg"]), rel=ROUNDING, abs=0)
    assert float(R0) == pytest.approx(float(row["R0_over_ideal_black"]), rel=ROUNDING, abs=0)
    # exp(-g) carries the rounding of g, up to g times: 173 in the table's deepest film shown.
    assert float(T) == pytest.approx(float(row["T"]), rel=200 * ROUNDING, abs=0)


@pytest.mark.parametrize("row", rows("km_r0_rinf_opacity_checks.csv"), ids=lambda r: r["R0"])
def test_hiding_table(row: dict[str, str]) -> None:
    # Contrast ratios over 0.89 and over an opaque pile of the same film [Kubelka1948].
    K, S = float(row["KX"]), float(row["SX"])
    R0, _ = optics.r0_and_transmittance(K, S)
    pile = optics.r_infinity(K, S)
    # The table's depths are rounded to double precision; K/S amplifies that by less than 100.
    assert float(R0) == pytest.approx(float(row["R0"]), rel=100 * ROUNDING)
    assert float(pile) == pytest.approx(float(row["R_infinity"]), rel=100 * ROUNDING)
    assert R0 / optics.reflectance_over(0.89, K, S) == pytest.approx(
        float(row["opacity_89pct_backing_R0_over_R0.89"]), rel=100 * ROUNDING
    )
    assert R0 / pile == pytest.approx(
        float(row["printing_opacity_R0_over_Rinf"]), rel=100 * ROUNDING
    )
    assert optics.k_over_s(pile) == pytest.approx(K / S, rel=1000 * ROUNDING)


def test_no_film_leaves_the_ground() -> None:
    ground = np.linspace(0, 1, 11)
    np.testing.assert_allclose(optics.reflectance_over(ground, 0, 0), ground, rtol=ROUNDING)


def test_scattering_alone_follows_its_closed_limit() -> None:
    SX, Rg = np.array([0.0, 1e-6, 1.0, 100.0, 1e6]), 0.3
    expected = (Rg + (1 - Rg) * SX) / (1 + (1 - Rg) * SX)
    np.testing.assert_allclose(optics.reflectance_over(Rg, 0, SX), expected, rtol=ROUNDING)


def test_absorption_alone_dims_the_ground_twice() -> None:
    KX = np.array([0.0, 1e-6, 1.0, 20.0])
    expected = 0.3 * np.exp(-2 * KX)
    np.testing.assert_allclose(optics.reflectance_over(0.3, KX, 0), expected, rtol=40 * ROUNDING)


def test_a_thick_film_reaches_the_opaque_limit_whatever_lies_beneath() -> None:
    K, S = np.array([0.01, 0.2, 1.0, 5.0]), np.array([1.0, 2.0, 1.0, 0.5])
    limit = 1 + K / S - np.sqrt((K / S) ** 2 + 2 * K / S)
    np.testing.assert_allclose(optics.r_infinity(K, S), limit, rtol=1e4 * ROUNDING)
    for ground in (0.0, 0.5, 1.0):
        deep = optics.reflectance_over(ground, 1e4 * K, 1e4 * S)
        np.testing.assert_allclose(deep, optics.r_infinity(K, S), rtol=ROUNDING)


def test_over_its_own_opaque_limit_a_film_changes_nothing() -> None:
    K, S = np.array([0.02, 0.3, 2.0]), np.array([1.0, 0.7, 0.4])
    ground = optics.r_infinity(K, S)
    for X in (0.0, 0.1, 1.0, 30.0):
        over = optics.reflectance_over(ground, K * X, S * X)
        np.testing.assert_allclose(over, ground, rtol=2 * ROUNDING)


def test_opaque_limit_at_the_zeros() -> None:
    limit = optics.r_infinity([0.0, 0.0, 3.0, 1e6], [0.0, 2.0, 0.0, 1e6])
    np.testing.assert_array_equal(limit[:3], [0.0, 1.0, 0.0])
    assert limit[3] == pytest.approx(2 - np.sqrt(3))


def test_ratio_of_an_opaque_film_undoes_the_limit() -> None:
    R = np.array([1e-6, 0.1, 0.5, 0.9, 1.0])
    np.testing.assert_allclose(optics.r_infinity(optics.k_over_s(R), 1.0), R, rtol=1e-9)


def test_float32_stays_and_stays_near() -> None:
    Rg = np.linspace(0, 1, 7, dtype=np.float32)[:, np.newaxis]
    KX = np.array([0, 1e-6, 0.01, 1, 50, 1e6], np.float32)
    SX = KX[::-1].copy()
    narrow = optics.reflectance_over(Rg, KX, SX)
    wide = optics.reflectance_over(*(value.astype(np.float64) for value in (Rg, KX, SX)))
    assert narrow.dtype == np.float32
    assert wide.dtype == np.float64
    # 16 roundings of float32; deep transmittance carries g times more but is then below 1e-20.
    np.testing.assert_allclose(narrow, wide, atol=16 * float(np.finfo(np.float32).eps))
    for unchecked in (optics.film_over(Rg, KX, SX), *optics.film_terms(KX, SX)):
        assert unchecked.dtype == np.float32


def test_nothing_is_raised_where_numpy_is_told_to_raise_on_everything() -> None:
    values = np.array([0.0, 1e-300, 1e-160, 1e-9, 1.0, 500.0, 1e6])
    KX, SX, Rg = (v[..., np.newaxis] for v in np.meshgrid(values, values, [0.0, 1e-200, 0.5, 1.0]))
    with np.errstate(all="raise"):
        R = optics.reflectance_over(Rg, KX, SX)
        R0, T = optics.r0_and_transmittance(KX, SX)
    for value in (R, R0, T):
        assert np.all((value >= 0) & (value <= 1))


def test_plain_numbers_do_not_widen_and_whole_numbers_become_float64() -> None:
    KX = np.ones(3, np.float32)
    assert optics.reflectance_over(0.5, KX, 2).dtype == np.float32
    assert optics.reflectance_over(np.array(0.5), KX, 2).dtype == np.float64
    assert optics.reflectance_over(1, [1, 2], [3, 4]).dtype == np.float64


def test_shapes_broadcast() -> None:
    R = optics.reflectance_over(np.zeros((5, 1, 36)), np.ones((2, 36)), np.ones(36))
    assert R.shape == (5, 2, 36)
    assert optics.reflectance_over(np.zeros((0, 36)), np.ones(36), np.ones(36)).shape == (0, 36)


@pytest.mark.parametrize(
    ("name", "index", "value", "place"),
    [
        ("absorption", 3, -0.1, "absorption, the 410 nm band"),
        ("scattering", 0, np.nan, "scattering, the 380 nm band"),
        ("scattering", 35, np.inf, "scattering, the 730 nm band"),
        ("ground", 17, 1.2, "ground, the 550 nm band"),
        ("ground", 17, -0.2, "ground, the 550 nm band"),
    ],
)
def test_a_bad_value_is_named_with_its_band(
    name: str, index: int, value: float, place: str
) -> None:
    film = {key: np.full(36, 0.5) for key in ("ground", "absorption", "scattering")}
    film[name][index] = value
    with pytest.raises(InputError, match=place):
        optics.reflectance_over(**film)


def test_bands_off_the_standard_set_are_counted() -> None:
    with pytest.raises(InputError, match="absorption, band 2 of 3"):
        optics.r0_and_transmittance([1.0, -1.0, 1.0], 0.0)


def test_single_numbers_are_named_without_a_band() -> None:
    with pytest.raises(InputError, match=r"^scattering: "):
        optics.r_infinity(1.0, -2.0)


@pytest.mark.parametrize("value", ["dark", None, [[1.0], [1.0, 2.0]], 1j])
def test_what_is_no_number_is_refused(value: Any) -> None:
    with pytest.raises(InputError, match=r"[Nn]umbers"):
        optics.reflectance_over(value, 0.1, 0.1)


def test_shapes_that_do_not_fit_are_named() -> None:
    with pytest.raises(InputError, match=r"absorption \(3,\)"):
        optics.reflectance_over(np.zeros(36), np.zeros(3), np.zeros(36))


@pytest.mark.parametrize("value", [0.0, -0.5, 1.5, np.nan])
def test_no_ratio_for_an_impossible_opaque_film(value: float) -> None:
    with pytest.raises(InputError, match="opaque_reflectance"):
        optics.k_over_s(value)


@given(ground=grounds, KX=spectra, SX=spectra)
def test_light_is_never_made(ground: Any, KX: Any, SX: Any) -> None:
    R = optics.reflectance_over(ground, KX, SX)
    R0, T = optics.r0_and_transmittance(KX, SX)
    assert np.all((R >= 0) & (R <= 1))
    assert np.all((R0 >= 0) & (T >= 0) & (R0 + T <= 1 + ROUNDING))
    assert np.all(R >= R0 * (1 - ROUNDING))


@given(ground=grounds, KX=spectra, SX=spectra, step=shares)
def test_a_lighter_ground_never_looks_darker(ground: Any, KX: Any, SX: Any, step: float) -> None:
    lighter = ground + (1 - ground) * step
    below = optics.reflectance_over(ground, KX, SX)
    assert np.all(optics.reflectance_over(lighter, KX, SX) >= below * (1 - ROUNDING))


@given(ground=grounds, KX=spectra, SX=spectra, more=depths)
def test_more_absorption_never_looks_lighter(ground: Any, KX: Any, SX: Any, more: float) -> None:
    before = optics.reflectance_over(ground, KX, SX)
    # exp(-g) carries the rounding of g: the slack scales with the depth told apart.
    slack = 2000 * ROUNDING
    assert np.all(optics.reflectance_over(ground, KX + more, SX) <= before * (1 + slack) + 1e-300)


@given(ground=grounds, KX=spectra, SX=spectra)
def test_a_film_over_itself_is_one_of_twice_the_depth(ground: Any, KX: Any, SX: Any) -> None:
    once = optics.reflectance_over(ground, KX, SX)
    twice = optics.reflectance_over(once, KX, SX)
    np.testing.assert_allclose(
        twice, optics.reflectance_over(ground, 2 * KX, 2 * SX), rtol=0, atol=PROMISED
    )
