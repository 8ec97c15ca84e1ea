"""Depths from readings over two grounds, with the errors that the readings leave."""

from typing import Any

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from schemeforge import optics
from schemeforge.errors import InputError, ReadingError
from tests.optics.tables import column, rows

TABLE = rows("km_inverse_checks.csv")
GROUNDS = (0.04, 0.85)


def read(KX: Any, SX: Any, grounds: tuple[float, float] = GROUNDS) -> tuple[Any, Any]:
    """What an ideal instrument reads of a film over the dark and the light ground."""
    dark, light = grounds
    return optics.reflectance_over(dark, KX, SX), optics.reflectance_over(light, KX, SX)


def found(row: dict[str, str], shift_dark: float = 0, shift_light: float = 0) -> optics.FilmReading:
    return optics.film_from_two_grounds(
        float(row["R_over_black"]) + shift_dark,
        float(row["R_over_white"]) + shift_light,
        float(row["Rg_black"]),
        float(row["Rg_white"]),
        noise=0.003,
    )


@pytest.mark.parametrize("row", TABLE, ids=lambda row: f"{row['KX']} {row['SX']}")
def test_published_formula_table(row: dict[str, str]) -> None:
    # km_inverse_checks.csv: depths behind the readings, to 1e-9 relative in doubles.
    film = found(row)
    assert film.absorption == pytest.approx(float(row["KX"]), rel=1e-9)
    assert film.scattering == pytest.approx(float(row["SX"]), rel=1e-9)


@pytest.mark.parametrize("row", TABLE, ids=lambda row: f"{row['KX']} {row['SX']}")
def test_what_an_error_in_a_reading_does(row: dict[str, str]) -> None:
    # The same table: change in per cent for +0.001 in either reading, five digits printed.
    for shift, name in (((0.001, 0), "Rb"), ((0, 0.001), "Rw")):
        moved = found(row, *shift)
        for value, depth in ((moved.absorption, "KX"), (moved.scattering, "SX")):
            change = 100 * (value / float(row[depth]) - 1)
            expected = float(row[f"{depth}_pct_for_{name}+0.001"])
            assert change == pytest.approx(expected, rel=5e-5)


def test_standard_errors_follow_the_slopes() -> None:
    KX = np.array([0.1, 0.5, 0.05, 1.0, 0.02, 1.5, 0.0, 0.005])
    SX = np.array([1.0, 0.05, 0.02, 1.0, 3.0, 0.5, 0.0, 0.004])
    dark, light = read(KX, SX)
    noise, step = 0.002, 1e-6
    film = optics.film_from_two_grounds(dark, light, *GROUNDS, noise=noise)
    squares = np.zeros((2, len(KX)))
    for along in ((step, 0), (0, step)):
        ends = [
            optics.film_from_two_grounds(
                dark + s * along[0], light + s * along[1], *GROUNDS, noise=noise
            )
            for s in (1, -1)
        ]
        for i, name in enumerate(("absorption", "scattering")):
            difference = getattr(ends[0], name) - getattr(ends[1], name)
            squares[i] += (difference / (2 * step)) ** 2
    inside = (KX > 0) & (SX > 0)  # no central difference at the very edge of what can be
    # Central differences: third derivatives times 1e-12, and rounding 1e-16/1e-6.
    for value, square in zip((film.absorption_error, film.scattering_error), squares, strict=True):
        np.testing.assert_allclose(value[inside], noise * np.sqrt(square[inside]), rtol=1e-5)


def test_standard_errors_are_the_spread_of_repeated_readings() -> None:
    KX, SX, noise, repeats = 0.3, 0.6, 0.001, 4000
    dark, light = read(KX, SX)
    noises = np.random.default_rng(5).normal(0, noise, (2, repeats))
    film = optics.film_from_two_grounds(dark + noises[0], light + noises[1], *GROUNDS, noise=noise)
    told = optics.film_from_two_grounds(dark, light, *GROUNDS, noise=noise)
    # Four standard errors of a standard deviation from 4000 draws.
    slack = 4 / np.sqrt(2 * repeats)
    assert film.absorption.std() == pytest.approx(float(told.absorption_error), rel=slack)
    assert film.scattering.std() == pytest.approx(float(told.scattering_error), rel=slack)


def test_no_film_has_no_depth() -> None:
    film = optics.film_from_two_grounds(*GROUNDS, *GROUNDS)
    assert film.absorption == film.scattering == 0
    assert not film.resolved_absorption
    assert not film.resolved_scattering
    assert film.absorption_error < 0.02


def test_a_clear_glaze_hides_its_scattering_and_a_near_white_its_absorption() -> None:
    glaze = optics.film_from_two_grounds(*read(0.02, 0.001), *GROUNDS)
    assert glaze.resolved_absorption
    assert not glaze.resolved_scattering
    white = optics.film_from_two_grounds(*read(0.0005, 2.0), *GROUNDS)
    assert white.resolved_scattering
    assert not white.resolved_absorption
    plain = optics.film_from_two_grounds(*read(0.3, 0.6), *GROUNDS)
    assert plain.resolved


def test_an_opaque_film_gives_its_ratio_and_a_least_depth() -> None:
    KX, SX = 12.0, 20.0
    dark, light = read(KX, SX)
    film = optics.film_from_two_grounds(dark, light, *GROUNDS)
    assert film.absorption_error == film.scattering_error == np.inf
    assert not film.resolved
    assert film.absorption / film.scattering == pytest.approx(KX / SX, rel=1e-3)
    assert 0 < film.absorption < KX
    # The least depth is the one at which the grounds would differ by the noise.
    over = read(film.absorption, film.scattering)
    assert over[1] - over[0] == pytest.approx(optics.READING_NOISE, rel=1e-2)


def test_readings_just_past_what_can_be_count_as_its_edge() -> None:
    dark, light = read(np.array([0.0, 0.2, 8.0]), np.array([1.0, 0.0, 8.0]))
    film = optics.film_from_two_grounds(
        dark + 0.001 * np.array([1, -1, 1]), light + 0.001 * np.array([1, -1, -1]), *GROUNDS
    )
    assert film.absorption[0] == 0
    assert film.scattering[1] == 0
    assert film.absorption_error[2] == np.inf
    assert np.all(np.isfinite(film.absorption) & np.isfinite(film.scattering))


@pytest.mark.parametrize(
    ("dark", "light", "message"),
    [
        (0.5, 0.3, "darker over the light ground"),
        (0.30, 0.95, "absorption would be negative"),
        (0.001, 0.60, "scattering would be negative"),
        (1.0, 1.0, "mirror"),
        (-0.1, 0.5, "over_dark, .*between 0 and 1"),
        (0.2, np.nan, "over_light, .*between 0 and 1"),
    ],
)
def test_readings_that_no_film_gives_name_the_band(dark: float, light: float, message: str) -> None:
    over_dark, over_light = read(np.full(36, 0.3), np.full(36, 0.6))
    over_dark[10], over_light[10] = dark, light
    with pytest.raises(ReadingError, match=f"the 480 nm band.*{message}|{message}") as caught:
        optics.film_from_two_grounds(over_dark, over_light, *GROUNDS)
    assert "480 nm" in caught.value.where


def test_grounds_that_do_not_differ_are_refused() -> None:
    light = np.full(36, 0.8)
    light[1] = 0.04
    with pytest.raises(InputError, match="light, the 390 nm band"):
        optics.film_from_two_grounds(np.full(36, 0.2), np.full(36, 0.4), 0.04, light)


@pytest.mark.parametrize("noise", [0.0, -1.0, float("nan"), float("inf")])
def test_a_noise_that_cannot_be_is_refused(noise: float) -> None:
    with pytest.raises(InputError, match="noise"):
        optics.film_from_two_grounds(0.1, 0.5, 0.04, 0.8, noise=noise)


def test_shapes_that_do_not_fit_are_refused() -> None:
    with pytest.raises(InputError, match="over_light"):
        optics.film_from_two_grounds(np.zeros(3), np.zeros(4), 0.0, 1.0)


def test_many_drawdowns_at_once() -> None:
    KX = np.geomspace(0.05, 1, 36) * np.array([[0.5], [1.0], [2.0]])
    dark, light = read(KX, 0.5 * KX)
    film = optics.film_from_two_grounds(dark, light, np.full(36, 0.04), np.full(36, 0.85))
    assert film.absorption.shape == film.resolved.shape == (3, 36)
    np.testing.assert_allclose(film.absorption, KX, rtol=1e-10)


def test_float32_readings_are_worked_out_in_double_precision() -> None:
    dark, light = (np.float32(value) for value in read(0.3, 0.6))
    film = optics.film_from_two_grounds(dark, light, np.float32(0.04), np.float32(0.85))
    assert film.absorption.dtype == np.float64


def test_the_table_is_all_there() -> None:
    assert len(column(TABLE, "KX")) == 8


@given(
    KX=st.floats(1e-3, 1.5),
    SX=st.floats(1e-3, 1.5),
    dark=st.floats(0, 0.2),
    gap=st.floats(0.3, 0.8),
)
def test_reading_a_film_gives_the_film_back(KX: float, SX: float, dark: float, gap: float) -> None:
    grounds = (dark, dark + gap)
    film = optics.film_from_two_grounds(*read(KX, SX, grounds), *grounds)
    # The errors told for a noise of 1e-3, scaled to a few roundings of the readings.
    slack = 32 * np.finfo(np.float64).eps / optics.READING_NOISE
    assert abs(film.absorption - KX) <= slack * max(float(film.absorption_error), 1e-3)
    assert abs(film.scattering - SX) <= slack * max(float(film.scattering_error), 1e-3)
