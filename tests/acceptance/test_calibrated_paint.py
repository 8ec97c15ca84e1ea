"""Paints from a painter's own swatches predict colours that took no part in the fit.

Truths are published K and S of artist acrylics and synthetic spectra of another make than the
fitter's prior; the whole report, with more seeds and rows, is tests/benchmarks/calibration.py. A
target counts as met where draws of the truths with replacement reach it in at least one of forty:
the few truths of a test tell no more.
"""

from collections.abc import Callable
from functools import partial

import numpy as np
import pytest
from numpy.typing import NDArray

from tests.benchmarks import calibration
from tests.benchmarks.calibration_plans import as_suggested
from tests.benchmarks.calibration_truths import Truth, truths
from tests.reference_folder import reference_folder

SEEDS = (314159, 271828)

pytestmark = pytest.mark.reference


@pytest.fixture(scope="module")
def paints() -> list[Truth]:
    """Truths with both colours in gamut."""
    reference_folder("ks_tables")
    return [truth for seed in SEEDS for truth in truths(seed) if truth.in_gamut]


def at_best(figure: Callable[[NDArray[np.intp]], float], count: int) -> float:
    """The 2.5th percentile of a figure over draws of that many truths with replacement."""
    rng = np.random.default_rng(0)
    return float(np.percentile([figure(rng.integers(count, size=count)) for _ in range(200)], 2.5))


def check(errors: calibration.Errors, middle: float, high: float | None) -> None:
    """Median and 95th percentile (None: half of the plain fit's), share covered, width."""
    error, width = np.array(errors.fit), np.array(errors.width)
    plain = np.array(errors.rgb)

    def beyond(drawn: NDArray[np.intp]) -> float:
        limit = np.percentile(plain[drawn], 95) / 2 if high is None else high
        return float(np.percentile(error[drawn], 95) / limit)

    assert at_best(lambda drawn: float(np.median(error[drawn])), len(error)) <= middle
    assert at_best(beyond, len(error)) <= 1.0
    assert 0.85 <= (error <= width).mean() <= 0.95
    assert np.median(width) / np.median(error) <= 3.0


def test_two_colours_and_mixes_of_such_paints(paints: list[Truth]) -> None:
    rng = np.random.default_rng(1)
    errors, outcomes = calibration.two_colours(paints, rng)
    check(errors, 0.5, None)
    # Pairs share their paints, so that draws of pairs say nothing of how sure a median is.
    mixed = calibration.mixes(paints, outcomes, rng, 600)
    for share in (50, 95):
        plain = np.percentile(np.concatenate(mixed.rgb), share)
        assert np.percentile(np.concatenate(mixed.fit), share) <= plain / 2


@pytest.mark.parametrize(("count", "middle", "high"), [(2, 0.9, 2.6), (3, 0.6, 1.7)])
def test_photographed_patches_as_suggested(
    paints: list[Truth], count: int, middle: float, high: float
) -> None:
    rng = np.random.default_rng(count)
    plan = partial(as_suggested, count=count, rng=rng)
    check(calibration.photographed(paints, plan, rng, 0.0), middle, high)
