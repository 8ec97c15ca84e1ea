"""The fit of K, S and films to patches."""

from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from schemeforge import optics
from schemeforge.calibration import BLACK, GREY, WHITE, Hiding, Patch, fit_patches
from schemeforge.calibration.prior import ANY_KIND, OF_KIND, OF_SPECTRA, prior_of
from schemeforge.calibration.problem import Problem
from schemeforge.errors import InputError
from schemeforge.optics import bands
from schemeforge.paint import PaintKind
from tests.calibration.swatches import FILM_UM, errors, paint, patch, red, reflectance

CARD = (BLACK, GREY, WHITE)


def test_patches_without_noise_are_met_and_predict_other_films() -> None:
    patches = [patch(red(), ground, coats) for ground in CARD for coats in (1, 3)]
    fit = fit_patches(patches)
    assert fit.residual.max() < 0.2
    assert fit.misfit < 1.0
    off = errors((fit.absorption, fit.scattering), red())
    assert np.median(off) < 0.3
    assert off.max() < 2.0


def test_more_patches_leave_less_unsure() -> None:
    few = fit_patches([patch(red(), BLACK), patch(red(), WHITE)])
    many = fit_patches([patch(red(), g, n) for g in CARD for n in (0.5, 1, 2, 4)])
    assert many.errors.mean() < few.errors.mean()
    # Neither knows more than the liveliest prior left open beforehand.
    prior = np.sqrt((ANY_KIND.lively(1.7).factor() ** 2).sum(axis=0))
    assert (few.errors < 1.05 * prior).all()


@pytest.mark.parametrize("spectral", [False, True])
def test_slopes_are_those_of_the_cost(spectral: bool) -> None:
    # Independent of the analytic chain: central differences of the cost itself.
    patches = [patch(red(), ground, hand=0.2) for ground in CARD]
    if spectral:
        patches = [
            Patch(
                name="s",
                ground=ground,
                film_um=FILM_UM,
                reflectance=tuple(reflectance(red(), FILM_UM, ground).tolist()),
                noise=0.01,
                noise_ratio=0.02,
                unsure_nm=(380, 390),
                hand=0.2,
            )
            for ground in CARD
        ]
    problem = Problem(patches, optics.MATT, ANY_KIND, Hiding(film_um=100.0, spread=0.5))
    z = 0.3 * np.random.default_rng(2).standard_normal(problem.size)
    residual, J = problem.slopes(z)
    assert (residual**2).sum() + z @ z == pytest.approx(problem.cost(z))
    slope = 2 * (J.T @ residual + z)
    for i in range(problem.size):
        one = 1e-5 * np.eye(problem.size)[i]
        by_hand = (problem.cost(z + one) - problem.cost(z - one)) / 2e-5
        assert slope[i] == pytest.approx(by_hand, rel=2e-3, abs=2e-3 * np.abs(slope).max())


def test_a_stroke_has_one_film() -> None:
    heavy = {"factor": 1.4, "stroke": "heavy", "hand": 0.3}
    even = [patch(red(), g, n, stroke=f"{n}") for g in CARD for n in (0.5, 1, 2)]
    fit = fit_patches([*even, *(patch(red(), g, **heavy) for g in (BLACK, WHITE))])  # type: ignore[arg-type]
    assert fit.film_factors["heavy"] == pytest.approx(1.4, rel=0.03)
    assert fit.film_factors["1"] == 1.0


def test_a_clipped_channel_is_left_open_on_its_side() -> None:
    spectra = paint("deep-water-blue")
    patches = [patch(spectra, BLACK), patch(spectra, WHITE)]
    assert min(patches[1].colour) < 0.0  # beyond what a screen shows
    cut = [
        replace(
            one,
            colour=tuple(max(v, 0.0) for v in one.colour),
            clipped=(-1 if one.colour[0] < 0 else 0, 0, 0),
        )
        for one in patches
    ]
    open_ = fit_patches(cut)
    held = fit_patches([replace(one, clipped=(0, 0, 0)) for one in cut])
    assert open_.residual.max() < 0.2
    assert open_.errors.mean() > held.errors.mean()
    # A channel that is passed on its open side pulls no more.
    other = fit_patches([replace(one, clipped=tuple(-v for v in one.clipped)) for one in cut])  # type: ignore[arg-type]
    assert other.predicted[1].min() > -1e-3


@pytest.mark.parametrize("film", [60.0, 300.0, 3000.0])
def test_hiding_is_met_where_nothing_else_speaks(film: float) -> None:
    one = patch(red(), WHITE)
    fit = fit_patches([one], hiding=Hiding(film_um=film, spread=0.05))
    over = optics.reflectance_over(
        np.array([[0.02], [0.80]]), film * fit.absorption[None], film * fit.scattering[None]
    )
    Y = optics.seen(over, optics.MATT) @ _lightness()
    # Contrast ratio 0.98 as complete hiding: common practice in paint testing.
    assert Y[0] / Y[1] == pytest.approx(0.98, abs=0.006)
    assert fit.residual[0] < 0.2


def _lightness() -> np.ndarray[tuple[int, ...], np.dtype[np.float64]]:
    from schemeforge.colorimetry import adapted_matrix

    return np.asarray(adapted_matrix()[:, 1])


@settings(max_examples=15, deadline=None)
@given(
    colours=st.lists(st.tuples(*[st.floats(0.0, 1.0)] * 3), min_size=1, max_size=4),
    film=st.floats(1.0, 500.0),
)
def test_any_colours_give_a_finite_paint(
    colours: list[tuple[float, float, float]], film: float
) -> None:
    patches = [
        Patch(name="p", ground=CARD[n % 3], film_um=film, colour=colour)
        for n, colour in enumerate(colours)
    ]
    fit = fit_patches(patches)
    for values in (fit.absorption, fit.scattering, fit.factor, fit.residual):
        assert np.isfinite(values).all()
    assert fit.absorption.min() > 0
    assert max(fit.absorption.max(), fit.scattering.max()) < 1e4


def test_the_same_patches_give_the_same_paint() -> None:
    patches = [patch(red(), BLACK), patch(red(), WHITE)]
    one, two = fit_patches(patches), fit_patches(patches)
    assert (one.logs == two.logs).all()
    assert (one.factor == two.factor).all()


def test_what_cannot_be_fitted_is_told() -> None:
    one = patch(red(), WHITE)
    with pytest.raises(InputError, match="There are 0 patches; mark 1 to 400"):
        fit_patches([])
    spectrum = replace(one, colour=(), reflectance=(0.5,) * bands.COUNT)
    with pytest.raises(InputError, match="some are spectra; fit them one after the other"):
        fit_patches([one, spectrum])
    with pytest.raises(InputError, match="3 channels and 36 bands"):
        replace(one, reflectance=(0.5,) * bands.COUNT)
    with pytest.raises(InputError, match="a ground of 3 bands"):
        replace(one, ground=(0.1,) * 3)
    with pytest.raises(InputError, match=r"film is 0, outside 0.01"):
        replace(one, film_um=0.0)
    with pytest.raises(InputError, match=r"reflectance is -0.4"):
        replace(spectrum, reflectance=(-0.4,) * bands.COUNT)
    with pytest.raises(InputError, match="The film that hides is 0"):
        Hiding(film_um=0.0, spread=0.5)


def test_priors_are_smooth_and_their_factor_is_their_covariance() -> None:
    for prior in (*OF_KIND.values(), OF_SPECTRA):
        factor = prior.factor()
        K = prior.absorption.covariance()
        assert np.abs((factor.T @ factor)[:36, :36] - K).max() < 1e-3 * K.max()
        logs = prior.mean() + np.linspace(-0.5, 0.5, len(factor)) @ factor
        assert np.allclose(prior.unknowns(logs), np.linspace(-0.5, 0.5, len(factor)))
    assert prior_of(None) is prior_of(PaintKind.MEDIUM) is ANY_KIND
    assert prior_of(PaintKind.INK).scattering.mean < prior_of(PaintKind.OPAQUE).scattering.mean
