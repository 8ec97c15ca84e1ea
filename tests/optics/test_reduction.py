"""Four grounds that stand for all numbers of droplets, against the full sum."""

import itertools
from functools import partial
from typing import Any

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from schemeforge import optics
from schemeforge.errors import InputError

BANDS = 36
# From a clean off-white to a dull one, and from little to much hiding.
K, S = np.geomspace(1e-5, 0.01, BANDS), np.linspace(0.02, 0.25, BANDS)
TONES = np.linspace(0, 1, 33)
GLAZES = [
    (0, 0),
    (0.05, 0),
    (0.3, 0),
    (1, 0),
    (3, 0),
    (0.5, 0.05),
    (1, 0.1),
    (0.2, 1),
    (0, 0.3),
    (0, 2),
]
SURFACES = [optics.MATT, optics.GLOSS, optics.FORTY_FIVE_ZERO, optics.Surface(0, 0, 0)]
SPRAYS = list(itertools.product((optics.DUSTED, optics.NORMAL, optics.BRIGHT), (3.0, 10.0, 20.0)))

# Three nodes leave an error of the sixth derivative over 6! times the squared norm of a cubic;
# for R from 0.02 to 0.9 and a pole no nearer than 1/0.6 that is a few 1e-6 at worst.
REACHED = 3e-6


def stack(surface: optics.Surface, KX: float, SX: float) -> optics.MobiusMap:
    film = optics.film_map(np.full(BANDS, float(KX)), np.full(BANDS, float(SX)))
    return optics.compose(optics.surface_map(surface), film)


def both_means(primer: float, peak: float, droplet: float, layers: Any, n: float = 1.0) -> Any:
    """Mean over four grounds and over all, after the stack."""
    black = np.full(BANDS, primer)
    R, w = optics.reduced_grounds(TONES, black, K, S, peak, droplet)
    weights = optics.poisson_weights(TONES, peak, droplet)
    grounds = optics.droplet_grounds(black, K, S, droplet, weights.shape[1])
    return (
        optics.reduced_mean(optics.apply(layers, R), w, n),
        optics.yule_nielsen_mean(optics.apply(layers, grounds), weights, n),
    )


@pytest.mark.parametrize(("peak", "droplet"), SPRAYS)
def test_four_grounds_give_the_mean_of_all(peak: float, droplet: float) -> None:
    for primer, surface, glaze in itertools.product((0.02, 0.05), SURFACES, GLAZES):
        few, all_of_them = both_means(primer, peak, droplet, stack(surface, *glaze))
        assert np.abs(few - all_of_them).max() <= REACHED


def test_the_ground_itself_has_the_right_mean() -> None:
    for n in (1.0, 2.0):
        identity = stack(optics.Surface(0, 0, 0), 0, 0)
        few, all_of_them = both_means(0.04, 30.0, 10.0, identity, n)
        # With n = 2 the root is taken at the same nodes, and its branch point at R = 0 is near:
        # the sixth derivative is that much larger. A tenth of 8-bit rounding is enough there.
        assert np.abs(few - all_of_them).max() <= (REACHED if n == 1 else 2e-4)


def test_up_to_three_kinds_of_droplet_are_met_exactly() -> None:
    # A peak of so little that four droplets or more are below what is told apart.
    few, all_of_them = both_means(0.04, 0.02, 10.0, stack(optics.MATT, 0.5, 0.1))
    assert np.abs(few - all_of_them).max() <= 1e-11


def test_weights_are_shares_and_the_first_ground_is_bare_primer() -> None:
    for peak, droplet in SPRAYS:
        R, w = optics.reduced_grounds(TONES, np.full(BANDS, 0.04), K, S, peak, droplet)
        assert R.shape == w.shape == (len(TONES), 4, BANDS)
        np.testing.assert_allclose(R[:, 0], 0.04)
        np.testing.assert_allclose(w[:, 0], np.exp(-TONES * peak / droplet)[:, None] * np.ones(36))
        np.testing.assert_allclose(w.sum(axis=1), 1, rtol=1e-14)
        assert np.all(w >= 0)
        assert np.all((R >= 0) & (R <= 1))
        np.testing.assert_array_equal(w[0, 1:], 0)


def test_nothing_sprayed_is_bare_primer() -> None:
    _, w = optics.reduced_grounds([0.0, 1.0], np.full(BANDS, 0.04), K, S, 0.0, 3.0)
    np.testing.assert_array_equal(w[:, 0], 1)


def test_a_spray_of_the_primer_itself_changes_nothing() -> None:
    clear = np.zeros(BANDS)
    R, w = optics.reduced_grounds(TONES, np.full(BANDS, 0.3), clear, clear, 30.0, 3.0)
    np.testing.assert_allclose(R, 0.3, rtol=1e-9)
    np.testing.assert_allclose((R * w).sum(axis=1), 0.3, rtol=1e-12)


def test_very_fine_droplets_are_the_smooth_film() -> None:
    black = np.full(BANDS, 0.04)
    R, w = optics.reduced_grounds(TONES, black, K, S, 30.0, 0.05)
    smooth = optics.smooth_grounds(TONES, black, K, S, 30.0)
    np.testing.assert_allclose((R * w).sum(axis=1), smooth, rtol=1e-14)
    np.testing.assert_array_equal(w.sum(axis=1), 1)
    np.testing.assert_allclose(R[:, 0], 0.04)


def test_float32_is_kept_and_near() -> None:
    wide = [TONES, np.full(BANDS, 0.04), K, S]
    narrow = [value.astype(np.float32) for value in wide]
    for droplet in (10.0, 0.05):
        sprayed = partial(optics.reduced_grounds, peak_um=30.0, droplet_um=droplet)
        R32, w32 = sprayed(*narrow)
        R, w = sprayed(*wide)
        assert R32.dtype == w32.dtype == np.float32
        np.testing.assert_allclose((R32 * w32).sum(axis=1), (R * w).sum(axis=1), atol=2e-6)


def test_bad_input_is_named() -> None:
    black = np.full(BANDS, 0.04)
    with pytest.raises(InputError, match="tone"):
        optics.reduced_grounds([1.5], black, K, S, 30.0, 3.0)
    with pytest.raises(InputError, match="scattering, the 380 nm band"):
        optics.reduced_grounds([0.5], black, K, S - 1, 30.0, 3.0)
    for droplet in (0.0, -3.0):
        with pytest.raises(InputError, match="droplet_um"):
            optics.reduced_grounds([0.5], black, K, S, 30.0, droplet)


@settings(max_examples=50)
@given(
    tone=st.floats(0, 1),
    peak=st.floats(0, 80),
    droplet=st.floats(2, 30),
    primer=st.floats(0.0, 0.3),
    scattering=st.floats(0, 0.25),
    absorption=st.floats(0, 0.2),
)
def test_any_spray_keeps_weights_and_mean(
    tone: float, peak: float, droplet: float, primer: float, scattering: float, absorption: float
) -> None:
    R, w = optics.reduced_grounds([tone], [primer], [absorption], [scattering], peak, droplet)
    weights = optics.poisson_weights([tone], peak, droplet)
    grounds = optics.droplet_grounds(
        [primer], [absorption], [scattering], droplet, weights.shape[1]
    )
    assert np.all((w >= 0) & (R >= 0) & (R <= 1))
    mean = (R * w).sum(axis=1)
    assert np.abs(mean - weights @ grounds).max() <= 1e-5
