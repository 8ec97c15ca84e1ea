"""Stacks folded into one map, against stacks laid film by film and against tables."""

from functools import reduce
from typing import Any

import numpy as np
import pytest
from hypothesis import given

from schemeforge import optics
from tests.optics.tables import grounds, half_digit, rows, spectra

ROUNDING = 16 * np.finfo(np.float64).eps
FILMS = {"A": (0.5, 0.05), "B": (0.1, 1.0), "C": (0.008, 0.2)}
"""KX and SX of the films that km_layer_checks.csv names."""


def stack(names: str) -> optics.MobiusMap:
    """The map of films named from the top down."""
    maps = [optics.film_map(np.array([KX]), np.array([SX])) for KX, SX in (FILMS[n] for n in names)]
    return reduce(optics.compose, maps)


@pytest.mark.parametrize(
    "row", rows("km_layer_checks.csv"), ids=lambda row: next(iter(row.values()))
)
def test_published_stacks(row: dict[str, str]) -> None:
    # km_layer_checks.csv: layering after [Kubelka1954] in 40 digits.
    name, expected = next(iter(row.values())), float(row["R_or_T"])
    if name.startswith("T_"):
        R_A, T_A = optics.r0_and_transmittance(*FILMS["A"])
        R_B, T_B = optics.r0_and_transmittance(*FILMS["B"])
        together = float(T_A * T_B / (1 - R_A * R_B))
        assert together == pytest.approx(expected, rel=ROUNDING)
        return
    films = name[2:4] if name.startswith("R_") else name.split(" over 0")[0].replace(" over ", "")
    R = optics.apply(stack(films), np.array([float(row["Rg"])]))
    assert R[0] == pytest.approx(expected, rel=ROUNDING)


def test_a_film_cut_into_seven_is_the_film() -> None:
    KX, SX = np.array([0.0, 0.3, 2.0]), np.array([1.0, 0.7, 0.0])
    whole = optics.apply(optics.film_map(KX, SX), np.array(0.4))
    slices = reduce(optics.compose, [optics.film_map(KX / 7, SX / 7)] * 7)
    np.testing.assert_allclose(optics.apply(slices, np.array(0.4)), whole, rtol=7 * ROUNDING)


def test_a_hundred_films_of_depth_a_million_neither_overflow_nor_wander() -> None:
    KX, SX = np.array([0.0, 1e6, 1e6, 0.0, 1e-3]), np.array([1e6, 0.0, 1e6, 0.0, 1e6])
    deep = reduce(optics.compose, [optics.film_map(KX, SX)] * 100)
    for ground in (0.0, 0.5, 1.0):
        R = optics.apply(deep, np.array(ground))
        whole = optics.reflectance_over(ground, 100 * KX, 100 * SX)
        # A white ground under white of depth 1e6 leaves a difference of 1e-6 of two near 1.
        np.testing.assert_allclose(R, whole, rtol=0, atol=1e-9)
    assert all(np.all((entry >= 0) & (entry <= 1)) for entry in deep)


def test_a_map_equals_its_matrix() -> None:
    KX, SX = np.array([0.0, 0.3, 2.0]), np.array([1.0, 0.7, 0.0])
    A, scattered, th = optics.film_terms(KX, SX)
    a, b, c, d = optics.film_map(KX, SX).matrix
    D = 1 + A * th
    # [[1 - A th, SX th], [-SX th, 1 + A th]] of [Kubelka1954]
    np.testing.assert_allclose(
        [a * D, b * D, c * D], [1 - A * th, scattered, -scattered], atol=1e-15
    )
    assert d == 1


def test_maps_keep_the_float_type_and_broadcast() -> None:
    narrow = optics.film_map(np.ones(3, np.float32), np.ones(3, np.float32))
    both = optics.compose(narrow, narrow)
    assert all(entry.dtype == np.float32 for entry in both)
    assert optics.apply(both, np.zeros((5, 3), np.float32)).dtype == np.float32
    assert optics.apply(both, np.zeros((5, 3), np.float32)).shape == (5, 3)


def test_a_surface_folds_into_float32_without_widening_it() -> None:
    film = optics.film_map(np.ones(3, np.float32), np.ones(3, np.float32))
    with_surface = optics.compose(optics.surface_map(optics.MATT), film)
    assert all(entry.dtype == np.float32 for entry in with_surface)


@given(ground=grounds, upper=spectra, lower=spectra)
def test_composition_is_one_film_after_the_other(ground: Any, upper: Any, lower: Any) -> None:
    top, bottom = optics.film_map(upper, lower), optics.film_map(lower, upper[::-1])
    folded = optics.apply(optics.compose(top, bottom), ground)
    stepwise = optics.film_over(optics.film_over(ground, lower, upper[::-1]), upper, lower)
    # White on white of depth 1e6 leaves 1e-6 of a difference of two near 1: 1e-10 of rounding.
    np.testing.assert_allclose(folded, stepwise, rtol=0, atol=1e-9)


@given(ground=grounds, KX=spectra, SX=spectra)
def test_the_surface_map_is_what_is_seen(ground: Any, KX: Any, SX: Any) -> None:
    for surface in (optics.MATT, optics.GLOSS, optics.FORTY_FIVE_ZERO):
        folded = optics.compose(optics.surface_map(surface), optics.film_map(KX, SX))
        R = optics.reflectance_over(ground, KX, SX)
        expected = optics.seen(R, surface)
        np.testing.assert_allclose(optics.apply(folded, ground), expected, rtol=0, atol=1e-9)


def test_half_digit_is_the_rounding_of_a_table() -> None:
    assert half_digit("0.125") == 0.0005
    assert half_digit("1.5e-3") == pytest.approx(0.00005)
    assert half_digit("4") == 0.5
