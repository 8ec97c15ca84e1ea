"""What Kubelka-Munk itself is worth, against solvers of the full transfer of light.

The tables are by discrete ordinates (PythonicDISORT) and adding-doubling (iadpython); see
shared/checks/SOURCES.md. The differences are asserted as they are: no less is asked of the
physics, and it may not do worse.
"""

import numpy as np
import pytest
from numpy.typing import NDArray
from scipy.optimize import least_squares

from schemeforge import colorimetry, optics
from tests.optics.tables import column, half_digit, rows

LAYERS = rows("km_layers_mixtures_vs_disort.csv")


def neutral_difference(
    first: NDArray[np.float64], second: NDArray[np.float64]
) -> NDArray[np.float64]:
    """CIEDE2000 between two neutral reflectances."""
    spectra = [np.repeat(R[:, np.newaxis], optics.bands.COUNT, axis=1) for R in (first, second)]
    difference = colorimetry.ciede2000(*(colorimetry.lab(R) for R in spectra))
    return np.asarray(difference, np.float64)


def test_single_films_stay_within_the_stated_tolerance() -> None:
    # K = 2 mu_a, S = 0.75 mu_s fixed beforehand: 0.03 for albedo 0.5 and more, else 0.05.
    table = rows("disort_vs_km.csv")
    R = optics.reflectance_over(*(column(table, name) for name in ("Rg", "K", "S")))
    np.testing.assert_allclose(R, column(table, "R_KM_A"), rtol=0, atol=1e-10)
    gap = np.abs(R - column(table, "R_DISORT"))
    strong = column(table, "albedo") >= 0.5
    assert gap[strong].max() <= 0.03
    assert gap[~strong].max() <= 0.05


@pytest.mark.parametrize(
    ("mode", "mean", "high", "most"),
    [("matched", 0.37, 1.26, 3.03), ("fresnel", 0.47, 1.97, 2.95)],
)
def test_one_drawdown_carries_to_other_films(
    mode: str, mean: float, high: float, most: float
) -> None:
    # K and S from one drawdown, other thicknesses and grounds: differences in neutral
    # CIEDE2000, published with two decimals.
    table = [row for row in rows("km_transfer_vs_rte.csv") if row["mode"] == mode]
    X = column(table, "tau_ref") * column(table, "thickness_ratio")
    KX, SX = column(table, "K_eff_per_tau") * X, column(table, "S_eff_per_tau") * X
    R = optics.reflectance_over(column(table, "Rg"), KX, SX)
    if mode == "fresnel":
        R = optics.seen(R, optics.Surface(1.0, k2=optics.diffuse_constants(1.5).k2))
    # K and S are printed with 8 digits: 5e-9 relative each.
    np.testing.assert_allclose(R, column(table, "R_KM"), rtol=0, atol=2e-8)
    difference = neutral_difference(R, column(table, "R_RTE"))
    np.testing.assert_allclose(difference, column(table, "dE00_neutral"), rtol=1e-3, atol=1e-4)
    assert difference.mean() <= mean + 0.005
    assert np.percentile(difference, 95) <= high + 0.005
    assert difference.max() <= most + 0.005


def layered(coefficients: NDArray[np.float64]) -> NDArray[np.float64]:
    """Every row of the table from K (first four) and S (last four) of its materials A to D.

    In a layer row X of the first lies over 1 of the second; in a mixture row they are mixed
    X to 1 and laid as a film of 1.
    """
    K, S = coefficients[:4], coefficients[4:]
    values = []
    for row in LAYERS:
        first, second = ("ABCD".index(name) for name in (row["pair"][0], row["pair"][-1]))
        X, Rg = float(row["x"]), np.array(float(row["Rg"]))
        if row["kind"] == "layer":
            below = optics.film_over(Rg, K[second], S[second])
            values.append(optics.film_over(below, K[first] * X, S[first] * X))
        else:
            pair = [first, second]
            KX, SX = optics.mix([X, 1.0], 1.0, K[pair, np.newaxis], S[pair, np.newaxis])
            values.append(optics.film_over(Rg, KX[0], SX[0]))
    return np.array(values, np.float64)


def test_layers_and_mixtures_follow_from_four_materials() -> None:
    # The table gives no coefficients: eight numbers must explain its 96 Kubelka-Munk values to
    # their last digit, which only right layering and mixing can. Then the distance to the
    # full transfer of light is asserted.
    start = np.array([0.03, 1.1, 0.4, 2.4, 2.3, 0.2, 1.0, 1.0])
    table = column(LAYERS, "R_KM")

    def misses(coefficients: NDArray[np.float64]) -> NDArray[np.float64]:
        return layered(coefficients) - table

    fit = least_squares(misses, start, xtol=1e-15, ftol=1e-15, gtol=1e-15)
    slack = max(half_digit(row["R_KM"]) for row in LAYERS)
    assert np.abs(fit.fun).max() <= 1.1 * slack
    difference = neutral_difference(layered(fit.x), column(LAYERS, "R_DISORT"))
    stacked = np.array([row["kind"] == "layer" for row in LAYERS])
    assert stacked.sum() == (~stacked).sum() == 48
    for chosen, mean, most in ((stacked, 0.48, 1.9), (~stacked, 0.72, 1.64)):
        assert difference[chosen].mean() <= mean + 0.005
        assert difference[chosen].max() <= most + 0.05


def test_a_smooth_surface_over_a_film() -> None:
    # Adding-doubling with Fresnel surfaces at n = 1.5 against Saunderson's formula. Stated
    # beforehand by the table: up to 0.054 for light falling straight in, 0.039 for diffuse.
    table = rows("ad_fresnel_vs_km_saunderson.csv")
    R = optics.reflectance_over(*(column(table, name) for name in ("Rg", "K", "S")))
    constants = optics.diffuse_constants(1.5)
    for name, k1, most in (
        ("normal", constants.k1_normal, 0.054),
        ("diffuse", constants.k1_diffuse, 0.039),
    ):
        outside = optics.seen(R, optics.Surface(1.0, k1, constants.k2))
        np.testing.assert_allclose(outside, column(table, f"KM_Saunderson_{name}"), atol=1e-9)
        gap = np.abs(outside - column(table, f"AD_{name}_incidence"))
        assert gap.max() <= most
        # Thick near-white paint, the best case, is met to a hundredth.
        assert gap[column(table, "tau") == 20].max() <= 0.01
