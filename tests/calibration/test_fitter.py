"""The fit of K, S and films to patches."""

from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from schemeforge import optics
from schemeforge.calibration import BLACK, GREY, WHITE, Hiding, Patch, fit_patches, fitter
from schemeforge.calibration import shapes as shapes_module
from schemeforge.calibration.prior import ANY_KIND, LIVELY, OF_KIND, OF_SPECTRA, prior_of
from schemeforge.calibration.problem import Problem
from schemeforge.calibration.shapes import absorption_shapes
from schemeforge.errors import DamagedFileError, InputError
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
    # Neither is less sure than the widest Gaussian left it beforehand.
    widest = np.sqrt((ANY_KIND.mixture().factor ** 2).sum(axis=1)).max(axis=0)
    assert (few.errors < 1.05 * widest).all()


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
    mixture = ANY_KIND.mixture()
    problem = Problem(patches, optics.MATT, mixture, Hiding(film_um=100.0, spread=0.5))
    of = np.array([0, len(mixture.mean) - 1])
    z = 0.3 * np.random.default_rng(2).standard_normal((2, problem.size))
    residual, J = problem.slopes(z, of)
    assert (residual**2).sum(axis=1) + (z**2).sum(axis=1) == pytest.approx(problem.cost(z, of))
    slope = 2 * (np.matmul(J.transpose(0, 2, 1), residual[..., None])[..., 0] + z)
    for i in range(problem.size):
        one = 1e-5 * np.eye(problem.size)[i]
        by_hand = (problem.cost(z + one, of) - problem.cost(z - one, of)) / 2e-5
        for got, wanted, row in zip(slope[:, i], by_hand, slope, strict=True):
            assert got == pytest.approx(wanted, rel=2e-3, abs=2e-3 * np.abs(row).max())


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


@pytest.mark.parametrize("equations", [3, 12])
def test_a_step_is_the_same_in_few_equations_as_in_many(equations: int) -> None:
    rng = np.random.default_rng(equations)
    J = rng.standard_normal((2, equations, 7))
    added, slope = 1 + rng.random((2, 7)), rng.standard_normal((2, 7))
    found = fitter._solved(J, added, slope)
    for one, more, by, x in zip(J, added, slope, found, strict=True):
        assert np.allclose((one.T @ one + np.diag(more)) @ x, by, rtol=0, atol=1e-12)


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


def test_a_prior_is_its_smooth_processes_and_the_shapes_at_its_level() -> None:
    for prior in (*OF_KIND.values(), OF_SPECTRA):
        mixture = prior.mixture()
        assert np.exp(mixture.log_share).sum() == pytest.approx(1.0)
        covariance = np.matmul(mixture.factor.transpose(0, 2, 1), mixture.factor)
        for live, got in zip(LIVELY, covariance, strict=False):
            K = prior.absorption.lively(live).covariance()
            assert np.abs(got[:36, :36] - K).max() < 1e-3 * K.max()
            assert not got[:36, 36:].any()
        assert (mixture.mean[: len(LIVELY), :36] == prior.absorption.mean).all()
        shaped = len(mixture.mean) - len(LIVELY)
        assert shaped == (2 * len(absorption_shapes()) if prior.shaped else 0)
    ink, opaque = (prior_of(kind).mixture() for kind in (PaintKind.INK, PaintKind.OPAQUE))
    assert (ink.mean[:, 36:] < opaque.mean[:, 36:]).all()
    assert prior_of(None) is prior_of(PaintKind.MEDIUM) is ANY_KIND


def test_shapes_are_free_of_level_and_as_likely_as_they_say() -> None:
    shapes = absorption_shapes()
    assert sum(shape.share for shape in shapes) == pytest.approx(1.0, abs=1e-4)
    mean = sum(shape.share * shape.mean for shape in shapes)
    # Every spectrum that they were learned from was freed of its level.
    assert np.mean(mean) == pytest.approx(0.0, abs=1e-3)
    # Some are nearly flat, others fall by more than a hundredfold.
    ranges = [float(np.ptp(shape.mean)) for shape in shapes]
    assert min(ranges) < np.log(10)
    assert max(ranges) > np.log(100)


def test_a_damaged_file_of_shapes_is_told(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    bad = tmp_path / "shapes.json"
    bad.write_text('{"shapes": [{"share": 1, "mean": [0, 1], "rows": []}]}', encoding="utf-8")
    monkeypatch.setattr(shapes_module, "asset", lambda _: bad)
    absorption_shapes.cache_clear()
    try:
        with pytest.raises(DamagedFileError, match="install the program again"):
            absorption_shapes()
    finally:
        absorption_shapes.cache_clear()
