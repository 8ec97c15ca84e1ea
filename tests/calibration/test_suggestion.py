"""Which swatches are suggested."""

from itertools import product

import numpy as np
import pytest
from numpy.typing import NDArray

from schemeforge import colorimetry
from schemeforge.calibration import BLACK, WHITE, Patch, fit_patches, suggested
from schemeforge.errors import InputError
from tests.calibration.swatches import errors, paint, patch, red

Floats = NDArray[np.float64]
NOISE = 1.5 / 255
PLAIN = ((BLACK, 1.0), (WHITE, 1.0), (WHITE, 3.0))


def looks(spectra: tuple[Floats, Floats]) -> tuple[float, float]:
    """What shows of the ground through one coat, and its least channel over white."""
    dark, light = (
        colorimetry.lab_from_xyz(colorimetry.xyz_from_linear_rgb(np.array(one.colour)))
        for one in (patch(spectra, BLACK), patch(spectra, WHITE))
    )
    least = colorimetry.encode(np.array(patch(spectra, WHITE).colour)).min()
    return float(colorimetry.ciede2000(dark, light)), float(np.clip(least, 0, 1))


def off(
    spectra: tuple[Floats, Floats], plan: list[tuple[tuple[float, ...], float]], seed: int
) -> Floats:
    """Errors of a fit from patches with the noise of a photograph."""
    rng = np.random.default_rng(seed)
    noisy = []
    for ground, coats in plan:
        one = patch(spectra, ground, coats)
        encoded = colorimetry.encode(np.array(one.colour)) + NOISE * rng.standard_normal(3)
        red_, green, blue = (float(v) for v in colorimetry.decode(encoded))
        noisy.append(
            Patch(
                name=one.name,
                ground=ground,
                film_um=one.film_um,
                colour=(red_, green, blue),
                hand=0.0,
                noise=NOISE,
            )
        )
    fit = fit_patches(noisy)
    return errors((fit.absorption, fit.scattering), spectra)


@pytest.mark.parametrize("count", [2, 3])
def test_suggested_swatches_leave_fewer_large_errors_than_one_coat_over_each(count: int) -> None:
    plain, better = [], []
    names = ("night-blue", "rust-orange", "sedge-green", "mallow-rose")
    for spectra in (red(), *(paint(name) for name in names)):
        plan = suggested(count, *looks(spectra))
        swatches = [(WHITE if s.over_white else BLACK, s.coats) for s in plan]
        for seed in range(4):
            plain.append(off(spectra, list(PLAIN[:count]), seed))
            better.append(off(spectra, swatches, seed))
    assert np.percentile(better, 95) < np.percentile(plain, 95)


@pytest.mark.parametrize("count", [2, 3, 4, 5, 6])
def test_every_suggestion_has_both_grounds_and_as_many_swatches_as_asked(count: int) -> None:
    for look, least in product((None, 10.0, 40.0, 60.0), (None, 0.1, 0.5, 0.8)):
        plan = suggested(count, look, least)
        assert len(plan) == len(set(plan)) == count
        assert {s.over_white for s in plan} == {True, False}
        # No more coats than a painter lays in an evening.
        assert all(0.5 <= s.coats <= 4 for s in plan)
    assert suggested(count) == suggested(count, 40.0, 0.5)
    # The more of the ground shows, the more coats.
    total = [sum(s.coats for s in suggested(count, look)) for look in (10.0, 40.0, 60.0)]
    assert total[0] <= min(total[1:])


@pytest.mark.parametrize("count", [2, 3])
def test_the_stronger_a_paint_the_thinner_it_is_painted_over_white(count: int) -> None:
    for look in (10.0, 40.0):
        thinnest = [
            min(s.coats for s in suggested(count, look, least) if s.over_white)
            for least in (0.1, 0.5, 0.8)
        ]
        assert thinnest == sorted(thinnest)
        assert thinnest[0] < thinnest[-1]


def test_three_or_more_are_painted_in_an_order_to_which_others_can_be_added() -> None:
    for look, least in product((10.0, 40.0, 60.0), (0.1, 0.5, 0.8)):
        for count in (3, 4, 5):
            assert suggested(count + 1, look, least)[:count] == suggested(count, look, least)


def test_other_counts_are_refused() -> None:
    for count in (1, 7):
        with pytest.raises(InputError, match=f"no suggestion for {count} swatches; ask for 2 to 6"):
            suggested(count)
    with pytest.raises(InputError, match="What shows of the ground is -1"):
        suggested(2, -1.0)
    with pytest.raises(InputError, match="The least channel of one coat over white is 2"):
        suggested(2, 10.0, 2.0)
