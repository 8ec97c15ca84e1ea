"""Mixes: what is left of each ingredient, and the published opaque mixtures."""

from typing import Any

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from schemeforge import optics
from schemeforge.errors import InputError
from tests.optics.tables import rows

# The three invented pigments of km_opaque_mixture_checks_27.csv, see its notice.
K = np.array([[1, 0.5, 1, 0.5, 1], [1, 1, 0.25, 0.5, 0.5], [1, 1, 0.75, 0.25, 0.25]])
S = np.array([[0.2, 0.4, 0.6, 0.8, 1], [1, 0.8, 0.6, 0.4, 0.2], [0.2, 0.8, 0.2, 0.8, 0.2]])
amounts = st.lists(st.floats(0, 50), min_size=3, max_size=3)


@pytest.mark.parametrize(
    "row", rows("km_opaque_mixture_checks_27.csv"), ids=lambda r: f"{r['set']} {r['c1']} {r['c2']}"
)
def test_published_opaque_mixtures(row: dict[str, str]) -> None:
    # Expected values of another library's own tests (MIT), printed with 15 decimals.
    parts = [float(row[name]) for name in ("c1", "c2", "c3")]
    expected = [float(row[f"R{nm}"]) for nm in range(400, 450, 10)]
    if row["set"] == "SingleConstantData":
        # One constant: the K rows are reflectances, and only K/S is mixed.
        KX, SX = optics.mix(parts, 1.0, optics.k_over_s(K), np.ones_like(K))
    else:
        KX, SX = optics.mix(parts, 1.0, K, S)
    R = optics.r_infinity(KX, SX)
    if row["set"] == "TwoConstantCorrectedData":
        R = optics.seen(R, optics.Surface(0.0, 0.033, 0.66))
    # Half a digit of the table; the square root near K/S = 0 carries that of K/S.
    np.testing.assert_allclose(R, expected, rtol=0, atol=2e-15)
    # A film 1e5 deep is the same thing by the other road.
    deep = optics.reflectance_over(0.5, 1e5 * KX, 1e5 * SX)
    white = KX == 0
    np.testing.assert_allclose(deep[~white], optics.r_infinity(KX, SX)[~white], rtol=1e-14)


def test_the_general_wash_mix_leaves_paint_and_medium_only() -> None:
    # 30 wash : 30 medium : 40 water, 100 um wet (common practice, no source).
    left = optics.deposits([30, 30, 40], 100.0)
    np.testing.assert_allclose(left, [30, 30, 40])
    wash, medium, water = np.full(36, 0.02), np.full(36, 1e-4), np.zeros(36)
    KX, SX = optics.mix([30, 30, 40], 100.0, [wash, medium, water], [medium, medium, water])
    np.testing.assert_allclose(KX, 30 * 0.02 + 30 * 1e-4)
    np.testing.assert_allclose(SX, 60 * 1e-4)


def test_water_leaves_nothing_behind() -> None:
    dry = optics.mix([1, 0], 20.0, K[:2], S[:2])
    K_water = np.vstack([K[:1], np.zeros((1, 5))])
    S_water = np.vstack([S[:1], np.zeros((1, 5))])
    thinned = optics.mix([1, 3], 80.0, K_water, S_water)
    np.testing.assert_allclose(thinned, dry)


def test_many_mixes_and_films_at_once() -> None:
    parts = np.ones((4, 1, 3))
    film = np.linspace(0, 60, 7)
    KX, SX = optics.mix(parts, film, K, S)
    assert KX.shape == SX.shape == (4, 7, 5)
    np.testing.assert_allclose(KX[2, 3], 30 * K.mean(axis=0))
    assert optics.deposits(parts, film).shape == (4, 7, 3)


def test_float32_is_kept() -> None:
    narrow = [np.asarray(value, np.float32) for value in ([1, 2, 3], 10, K, S)]
    KX, SX = optics.mix(*narrow)
    assert KX.dtype == SX.dtype == np.float32
    assert optics.wet_scattering(narrow[0], 1, 1).dtype == np.float32


def test_a_wet_coat_is_milky_by_what_is_not_water() -> None:
    milk = optics.wet_scattering([0.0, 30.0, 30.0], [1.0, 1.0, 0.25])
    assert milk.shape == (3, 1)
    np.testing.assert_allclose(milk[:, 0], np.array([0, 30, 7.5]) * optics.MILK_PER_UM)


@pytest.mark.parametrize(
    ("parts", "film", "place"),
    [
        ([1.0, -1.0, 1.0], 10.0, "parts, ingredient 2 of 3"),
        ([1.0, 1.0, np.nan], 10.0, "parts, ingredient 3 of 3"),
        ([0.0, 0.0, 0.0], 10.0, "parts: .*sum to zero"),
        ([1.0, 1.0, 1.0], -1.0, "film_um"),
        ([1.0, 1.0, 1.0], np.inf, "film_um"),
        ([], 1.0, "parts: A mix needs"),
        (1.0, 1.0, "parts: A mix needs"),
        ([1.0, 1.0], 1.0, "2 ingredients"),
    ],
)
def test_a_mix_that_cannot_be_says_why(parts: Any, film: float, place: str) -> None:
    with pytest.raises(InputError, match=place):
        optics.mix(parts, film, K, S)


def test_coefficients_are_checked_by_band() -> None:
    for name in ("absorption", "scattering"):
        spoilt = {"absorption": np.ones((1, 36)), "scattering": np.ones((1, 36))}
        spoilt[name][0, 2] = -1
        with pytest.raises(InputError, match=f"{name}, the 400 nm band"):
            optics.mix([1.0], 10.0, **spoilt)


def test_a_wet_coat_out_of_range_says_why() -> None:
    for film, share, milk, name in (
        (-1, 0.5, 0, "film_um"),
        (1, 1.5, 0, "share"),
        (1, -0.5, 0, "share"),
        (1, 0.5, -1, "milk_per_um"),
    ):
        with pytest.raises(InputError, match=f"^{name}: "):
            optics.wet_scattering(film, share, milk)


@given(parts=amounts, film=st.floats(0, 500), factor=st.floats(1e-3, 1e3))
def test_only_the_ratio_of_parts_counts(parts: Any, film: float, factor: float) -> None:
    parts = [part + 1.0 for part in parts]
    first = optics.deposits(parts, film)
    second = optics.deposits([part * factor for part in parts], film)
    np.testing.assert_allclose(first, second, rtol=1e-12)
    assert first.sum() == pytest.approx(film)


@given(parts=amounts, film=st.floats(0, 500), ground=st.floats(0, 1))
def test_two_half_coats_are_one_whole(parts: Any, film: float, ground: float) -> None:
    parts = [part + 1.0 for part in parts]
    KX, SX = optics.mix(parts, film, K, S)
    half = optics.mix(parts, film / 2, K, S)
    R = optics.reflectance_over(optics.reflectance_over(ground, *half), *half)
    np.testing.assert_allclose(R, optics.reflectance_over(ground, KX, SX), rtol=0, atol=1e-12)
