"""The sprayed undercoat: Poisson droplets, halftone rules and the smooth limit."""

from itertools import pairwise
from math import exp, factorial
from typing import Any

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.stats import poisson

from schemeforge import optics
from schemeforge.errors import InputError
from schemeforge.optics.droplets import NEGLECTED
from tests.optics.tables import half_digit, rows

BLACK = np.full(36, 0.04)
K, S = np.linspace(1e-4, 2e-3, 36), np.linspace(0.08, 0.12, 36)
HALFTONE = [row for row in rows("halftone_checks.csv") if row["R"]]
SPRAYS = [
    (peak, droplet)
    for peak in (optics.DUSTED, optics.NORMAL, optics.BRIGHT)
    for droplet in (optics.FINE_AIRBRUSH, optics.COARSE_CAN)
]


@pytest.mark.parametrize(
    "row",
    rows("sparse_droplet_checks.csv"),
    ids=lambda r: f"{r['case']} {r['mean_droplet_layers_m']}",
)
def test_published_droplet_table(row: dict[str, str]) -> None:
    # sparse_droplet_checks.csv: sums over the Poisson distribution, 12 decimals.
    film = {name: float(row[name]) for name in ("K", "S", "droplet_thickness", "Rg")}
    mean, droplet = float(row["mean_droplet_layers_m"]), film["droplet_thickness"]
    weights = optics.poisson_weights([1.0], mean * droplet, droplet)
    grounds = optics.droplet_grounds(
        [film["Rg"]], [film["K"]], [film["S"]], droplet, weights.shape[1]
    )
    smooth = optics.smooth_grounds([1.0], [film["Rg"]], [film["K"]], [film["S"]], mean * droplet)
    one = optics.murray_davies(grounds[0], grounds[1], float(row["covered_area_1-exp(-m)"]))
    for value, name, folded in (
        (optics.yule_nielsen_mean(grounds, weights)[0, 0], "R_poisson_stack", NEGLECTED),
        (smooth[0, 0], "R_uniform_film_same_mass", 0),
        (one[0], "R_murray_davies_one_layer", 1e-12),
    ):
        slack = half_digit(row[name]) + folded
        assert value == pytest.approx(float(row[name]), rel=0, abs=1.01 * slack)


@pytest.mark.parametrize("row", HALFTONE, ids=lambda r: f"{r['area']} {r['yule_nielsen_n']}")
def test_published_halftone_table(row: dict[str, str]) -> None:
    # halftone_checks.csv: [Murray1936] for n = 1 and [YuleNielsen1951], 12 decimals.
    if row["R_paper"] == "D_solid_minus_paper":
        pytest.skip("the heading of the second table")
    numbers = [row["R_paper"], row["R_solid"], row["area"], row["yule_nielsen_n"].split()[0]]
    paper, solid, area, n = map(float, numbers)
    spots, weights = np.array([[paper], [solid]]), np.array([1 - area, area])
    mean = optics.yule_nielsen_mean(spots, weights, n)
    assert mean[0] == pytest.approx(float(row["R"]), rel=0, abs=1.01 * half_digit(row["R"]))


def test_dot_areas_from_densities() -> None:
    # The second half of halftone_checks.csv: the area that gives a density, solved for.
    table = [r for r in rows("halftone_checks.csv") if not r["R"] and r["R_paper"][0].isdigit()]
    assert len(table) == 9
    for row in table:
        solid, tint, n, area = (float(row[name]) for name in list(row)[:4])
        spots = 10.0 ** -np.array([[0.0], [solid]])
        mean = optics.yule_nielsen_mean(spots, np.array([1 - area, area]), n)
        # Twelve decimals of area; the density moves at most by n/(0.1 ln 10) times that.
        assert -np.log10(mean[0]) == pytest.approx(tint, rel=0, abs=1e-10)


@pytest.mark.parametrize(("peak", "droplet"), SPRAYS)
def test_weights_are_the_poisson_distribution(peak: float, droplet: float) -> None:
    tones = np.array([0.0, 0.1, 0.5, 1.0])
    weights = optics.poisson_weights(tones, peak, droplet)
    count = optics.droplet_count(peak, droplet)
    assert weights.shape == (4, count)
    exact = np.asarray(poisson.pmf(np.arange(count), (tones * peak / droplet)[:, np.newaxis]))
    np.testing.assert_allclose(weights[:, :-1], exact[:, :-1], rtol=1e-11, atol=1e-15)
    np.testing.assert_allclose(weights.sum(axis=1), 1, rtol=1e-14)
    assert (
        poisson.sf(count - 1, peak / droplet) < NEGLECTED <= poisson.sf(count - 2, peak / droplet)
    )
    np.testing.assert_array_equal(weights[0], np.eye(count)[0])


def test_one_droplet_by_hand() -> None:
    weights = optics.poisson_weights([0.5], 4.0, 2.0)
    np.testing.assert_allclose(
        weights[0, :5], [exp(-1) / factorial(k) for k in range(5)], rtol=1e-14
    )


def test_no_spray_is_bare_primer() -> None:
    weights = optics.poisson_weights([0.0, 1.0], 0.0, 3.0)
    np.testing.assert_array_equal(weights, np.ones((2, 1)))


def test_grounds_climb_from_primer_in_equal_films() -> None:
    grounds = optics.droplet_grounds(BLACK, K, S, 3.0, 6)
    np.testing.assert_allclose(grounds[0], BLACK)
    for below, above in pairwise(grounds):
        np.testing.assert_allclose(above, optics.reflectance_over(below, 3 * K, 3 * S))
    assert np.all(np.diff(grounds, axis=0) > 0)


def test_finer_droplets_tend_to_the_smooth_film() -> None:
    tones = np.linspace(0, 1, 9)
    smooth = optics.smooth_grounds(tones, BLACK, K, S, optics.NORMAL)
    gaps = []
    for droplet in (3.0, 1.0, 0.3, optics.SMOOTH_BELOW_UM):
        weights = optics.poisson_weights(tones, optics.NORMAL, droplet)
        grounds = optics.droplet_grounds(BLACK, K, S, droplet, weights.shape[1])
        gaps.append(np.abs(optics.yule_nielsen_mean(grounds, weights) - smooth).max())
    assert gaps == sorted(gaps, reverse=True)
    # Second order of the mean over a Poisson film, variance X s, without absorption:
    # |R''| X s/2 = s u/(1 + u)^3 (1 - Rg)^2 at u = (1 - Rg) X, at most 4/27 s.
    assert gaps[-1] <= 4 / 27 * S.max() * optics.SMOOTH_BELOW_UM


def test_one_kind_of_spot_is_itself_whatever_the_spread() -> None:
    spot = np.linspace(0, 1, 5)[np.newaxis]
    for n in (1.0, 1.7, 2.0, np.inf):
        np.testing.assert_allclose(
            optics.yule_nielsen_mean(spot, [1.0], n), spot[0], rtol=1e-14, atol=1e-300
        )


def test_black_spots_under_full_spread() -> None:
    assert optics.yule_nielsen_mean([[0.0], [0.5]], [0.5, 0.5], np.inf)[0] < 1e-150


def test_weights_by_band_and_weights_for_all_bands_agree() -> None:
    weights = optics.poisson_weights([0.2, 0.9], 20.0, 5.0)
    grounds = optics.droplet_grounds(BLACK, K, S, 5.0, weights.shape[1])
    by_band = np.repeat(weights[:, :, np.newaxis], 36, axis=2)
    spots = np.broadcast_to(grounds, by_band.shape)
    for n in (1.0, 2.0):
        np.testing.assert_allclose(
            optics.reduced_mean(spots, by_band, n), optics.yule_nielsen_mean(grounds, weights, n)
        )


def test_float32_is_kept() -> None:
    tones = np.linspace(0, 1, 3, dtype=np.float32)
    narrow = [value.astype(np.float32) for value in (BLACK, K, S)]
    weights = optics.poisson_weights(tones, 30.0, 10.0)
    grounds = optics.droplet_grounds(narrow[0], narrow[1], narrow[2], 10.0, weights.shape[1])
    smooth = optics.smooth_grounds(tones, narrow[0], narrow[1], narrow[2], 30.0)
    mean = optics.yule_nielsen_mean(grounds, weights, 2.0)
    assert {weights.dtype, grounds.dtype, smooth.dtype, mean.dtype} == {np.dtype(np.float32)}


@pytest.mark.parametrize(
    ("peak", "droplet", "place"),
    [
        (-1.0, 3.0, "peak_um"),
        (np.nan, 3.0, "peak_um"),
        (30.0, 0.0, "droplet_um"),
        (30.0, -3.0, "droplet_um"),
        (30.0, np.nan, "droplet_um"),
        (30.0, 1e-3, "at least 0.006 um"),
    ],
)
def test_a_spray_that_cannot_be_says_why(peak: float, droplet: float, place: str) -> None:
    with pytest.raises(InputError, match=place):
        optics.poisson_weights([0.5], peak, droplet)


@pytest.mark.parametrize(
    ("tone", "message"), [([0.1, 1.2], "number 2"), ([np.nan], "number 1"), (0.5, "one row")]
)
def test_a_tone_that_cannot_be_says_why(tone: Any, message: str) -> None:
    with pytest.raises(InputError, match=f"^tone: .*{message}"):
        optics.poisson_weights(tone, 30.0, 3.0)


def test_spots_that_cannot_be_say_why() -> None:
    spots, weights = [[0.5], [0.1]], [0.5, 0.5]
    with pytest.raises(InputError, match="reflectance"):
        optics.yule_nielsen_mean([[0.5], [-0.1]], weights)
    with pytest.raises(InputError, match="weights"):
        optics.yule_nielsen_mean(spots, [0.5, -0.5])
    for n in (0.5, np.nan):
        with pytest.raises(InputError, match=r"^n: "):
            optics.yule_nielsen_mean(spots, weights, n)
    with pytest.raises(InputError, match="weights"):
        optics.reduced_mean(spots, [[0.5], [np.nan]])
    with pytest.raises(InputError, match="area"):
        optics.murray_davies(0.5, 0.1, 1.5)
    with pytest.raises(InputError, match="count"):
        optics.droplet_grounds(BLACK, K, S, 3.0, 0)


@given(tone=st.floats(0, 1), peak=st.floats(0, 100), droplet=st.floats(0.5, 30))
def test_weights_are_shares_with_the_right_mean(tone: float, peak: float, droplet: float) -> None:
    weights = optics.poisson_weights([tone], peak, droplet)[0]
    assert np.all(weights >= 0)
    assert weights.sum() == pytest.approx(1)
    mean = weights @ np.arange(len(weights))
    # The folded tail shortens the mean by less than the tail's own mean.
    assert mean == pytest.approx(tone * peak / droplet, abs=1e-6)


@given(tone=st.floats(0, 1), n=st.floats(1, 50))
def test_spread_of_light_only_darkens(tone: float, n: float) -> None:
    weights = optics.poisson_weights([tone], 30.0, 10.0)
    grounds = optics.droplet_grounds(BLACK, K, S, 10.0, weights.shape[1])
    plain, spread = (optics.yule_nielsen_mean(grounds, weights, value) for value in (1.0, n))
    assert np.all(spread <= plain * (1 + 1e-12))


def test_bands_are_the_standard_set() -> None:
    nm = optics.bands.wavelengths_nm()
    assert (nm[0], nm[-1], len(nm)) == (380, 730, optics.bands.COUNT)
    np.testing.assert_array_equal(np.diff(nm), optics.bands.STEP_NM)
