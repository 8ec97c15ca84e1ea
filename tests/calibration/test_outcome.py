"""How wide the stated interval is, beside what the fit itself is unsure of."""

from dataclasses import replace

import numpy as np
import pytest

from schemeforge import optics
from schemeforge.calibration import BLACK, WHITE, Outcome, fit_patches
from schemeforge.paint import Basis
from tests.calibration.swatches import patch, red


def width(outcome: Outcome) -> float:
    """Root of the summed variances that the paint would state."""
    return float(np.linalg.norm(outcome.uncertainty().factor()))


@pytest.fixture
def photographed() -> Outcome:
    """From one coat over black and one over white, films known exactly."""
    patches = tuple(replace(patch(red(), ground), hand=0.0) for ground in (BLACK, WHITE))
    fit = fit_patches(patches)
    return Outcome(fit=fit, patches=patches, surface=optics.MATT, basis=Basis.PHOTOGRAPHED)


@pytest.mark.parametrize(("hand", "widest"), [(0.0, 1.2), (0.15, 1.1)])
def test_many_patches_leave_what_the_prior_gets_wrong(
    photographed: Outcome, hand: float, widest: float
) -> None:
    pair = tuple(replace(one, hand=hand) for one in photographed.patches)
    two, three, four, six = (
        width(replace(photographed, patches=(*pair, *pair, *pair)[:count]))
        for count in (2, 3, 4, 6)
    )
    assert two == pytest.approx(width(photographed))
    assert three / two == pytest.approx((1 + widest) / 2, rel=1e-5)
    assert four / two == pytest.approx(widest, rel=1e-5)
    assert six == four


def test_spectra_over_one_ground_are_less_sure_than_over_two(photographed: Outcome) -> None:
    both = replace(photographed, basis=Basis.MEASURED)
    one = replace(both, patches=(both.patches[1], both.patches[1]))
    assert width(one) / width(both) == pytest.approx(1.2, rel=1e-5)
