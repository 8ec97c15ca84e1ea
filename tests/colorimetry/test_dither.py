"""Dithering keeps the mean and shows no bands."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from schemeforge import colorimetry
from schemeforge.colorimetry.dither import thresholds
from schemeforge.errors import InputError


@given(st.floats(0, 1), st.floats(0, 1), st.floats(0, 1))
def test_the_mean_of_a_flat_area_is_kept(r: float, g: float, b: float) -> None:
    flat = np.full((64, 64, 3), (r, g, b))
    mean = colorimetry.dither(flat).mean(axis=(0, 1))
    # The share of thresholds below a value differs from it by the discrepancy of the points:
    # of order (ln n) / n [Roberts2018], for 4096 points 0.002 of a code; ten times that at most.
    assert mean == pytest.approx(255 * np.array([r, g, b]), abs=0.02)


@pytest.mark.parametrize("dtype", [np.float64, np.float32])
def test_whole_codes_are_left_alone(dtype: type[np.floating]) -> None:
    codes = np.arange(256)
    picture = np.broadcast_to((codes / 255).astype(dtype)[None, :, None], (16, 256, 3))
    assert (colorimetry.dither(picture) == codes[None, :, None]).all()


def test_each_code_is_one_of_the_two_next_to_the_value() -> None:
    picture = np.random.default_rng(1).uniform(0, 1, (40, 50, 3))
    assert np.abs(colorimetry.dither(picture) - 255 * picture).max() < 1


def test_a_ramp_has_no_bands() -> None:
    # Two codes over 512 pixels: rounded it would be three flat bands. Means over blocks of
    # 16 x 16 pixels are to follow the ramp; rounding would leave them up to half a code off.
    ramp = np.linspace(100, 102, 512)[None, :, None] / 255
    picture = np.broadcast_to(ramp, (16, 512, 3))
    blocks = colorimetry.dither(picture).reshape(16, 32, 16, 3).mean(axis=(0, 2))
    exact = 255 * picture.reshape(16, 32, 16, 3).mean(axis=(0, 2))
    rounded = np.rint(255 * picture).reshape(16, 32, 16, 3).mean(axis=(0, 2))
    assert np.abs(rounded - exact).max() > 0.4
    assert np.abs(colorimetry.dither(picture).astype(float) - 255 * picture).max() < 1
    # (ln 256) / 256 = 0.02; some times that, and far below what an eye sees in a code.
    assert np.abs(blocks - exact).max() < 0.08


def test_it_is_the_same_every_time() -> None:
    picture = np.random.default_rng(2).uniform(0, 1, (9, 7, 3))
    assert np.array_equal(colorimetry.dither(picture), colorimetry.dither(picture.copy()))


def test_values_outside_are_clipped() -> None:
    picture = np.array([[[-0.5, 1.5, 1.0]]])
    assert colorimetry.dither(picture).tolist() == [[[0, 255, 255]]]


def test_thresholds_fill_the_interval_evenly() -> None:
    pattern = thresholds(32, 32)
    for channel in range(3):
        counts = np.histogram(pattern[..., channel], bins=16, range=(0, 1))[0]
        assert counts.sum() == 1024
        assert np.abs(counts - 64).max() <= 4
    assert not np.array_equal(pattern[..., 0], pattern[..., 1])


def test_bad_input_is_one_sentence() -> None:
    with pytest.raises(InputError, match=r"shape \(4, 3\); give height, width"):
        colorimetry.dither(np.zeros((4, 3)))
    with pytest.raises(InputError, match="holds nan"):
        colorimetry.dither(np.full((1, 1, 3), np.nan))
