"""Blur by viewing distance: against direct sums, closed forms and limits."""

import math

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from schemeforge import colorimetry
from schemeforge.colorimetry import distance
from schemeforge.errors import InputError
from tests.colorimetry.oracles import AnyFloats, Floats

# [Zhang1996], the table of filters: weight and spread in degrees, without the wide surround.
PUBLISHED = (
    ((0.921, 0.0283), (0.105, 0.133)),
    ((0.531, 0.0392), (0.330, 0.494)),
    ((0.488, 0.0536), (0.371, 0.386)),
)


def picture(height: int, width: int, seed: int = 1) -> Floats:
    return np.random.default_rng(seed).uniform(0, 1, (height, width, 3))


def opponent(image: AnyFloats) -> AnyFloats:
    return np.asarray(image @ distance._OPPONENT.T)


@given(
    st.integers(1, 9), st.integers(1, 9), st.floats(0.01, 5), st.floats(0.1, 20), st.integers(0, 99)
)
@settings(max_examples=50)
def test_the_mean_is_kept(h: int, w: int, mm: float, metres: float, seed: int) -> None:
    image = picture(h, w, seed)
    blurred = colorimetry.blur_for_distance(image, mm_per_pixel=mm, distance_m=metres)
    assert blurred.shape == image.shape
    assert blurred.mean(axis=(0, 1)) == pytest.approx(image.mean(axis=(0, 1)), abs=1e-13)


def test_a_flat_area_keeps_its_colour() -> None:
    flat = np.full((6, 10, 3), (0.3, 0.2, 0.1))
    blurred = colorimetry.blur_for_distance(flat, mm_per_pixel=0.1, distance_m=1)
    assert blurred == pytest.approx(flat, abs=1e-14)


def test_near_enough_nothing_is_lost_and_far_enough_all() -> None:
    image = picture(12, 12)
    # A pixel of 157 degrees: the widest spread, 0.494 degrees, leaves all but
    # (pi 0.494 / 157)^2 / 2 = 5e-5 of the finest pattern, and the matrices add up to 3 of that.
    near = colorimetry.blur_for_distance(image, mm_per_pixel=100, distance_m=0.01)
    assert near == pytest.approx(image, abs=1.5e-4)
    far = colorimetry.blur_for_distance(image, mm_per_pixel=0.1, distance_m=1000)
    assert far == pytest.approx(np.broadcast_to(image.mean(axis=(0, 1)), far.shape), abs=1e-6)


@pytest.mark.parametrize("channel", [0, 1, 2])
def test_a_point_spreads_as_the_published_gaussians(channel: int) -> None:
    # [Zhang1996]: w exp(-r^2 / s^2), each Gaussian of unit volume; summed directly in space.
    pixel = 0.008
    mm = 1.0
    metres = mm / (2000 * math.tan(math.radians(pixel) / 2))
    size = 801
    # Only the middle row of a picture that is the same down its columns: a line, whose spread
    # is the one-dimensional Gaussian.
    image = np.zeros((1, size, 3))
    unit = np.zeros(3)
    unit[channel] = 1
    image[0, size // 2] = np.linalg.inv(distance._OPPONENT) @ unit
    blurred = opponent(colorimetry.blur_for_distance(image, mm_per_pixel=mm, distance_m=metres))[0]
    x = (np.arange(size) - size // 2) * pixel
    terms = PUBLISHED[channel]
    total = sum(w for w, _ in terms)
    line = sum(
        w / total * pixel / (math.sqrt(math.pi) * s) * np.exp(-((x / s) ** 2)) for w, s in terms
    )
    # The narrowest spread is 3.5 pixels: its spectrum at the sampling limit is exp(-(pi 0.0283
    # 62.5)^2) = 4e-14, and the widest reaches the edge at exp(-(3.2 / 0.494)^2) = 6e-19.
    assert blurred[:, channel] == pytest.approx(np.asarray(line), abs=1e-12)
    others = [c for c in range(3) if c != channel]
    assert np.abs(blurred[:, others]).max() < 1e-12


def test_a_sine_loses_what_the_transfer_says() -> None:
    # 40 pixels hold half a mirrored wave of n half-cycles: a cosine about pixel centres.
    size, n = 40, 6
    wave = np.cos(math.pi * n * (np.arange(size) + 0.5) / size)
    grey = 0.5 * colorimetry.D65_WHITE
    image = (1 + 0.5 * wave)[:, None, None] * grey * np.ones((size, 3, 1))
    pixel = distance.degrees_per_pixel(0.2, 1.5)
    frequency = n / (2 * size * pixel)
    before, after = (
        opponent(i)
        for i in (image, colorimetry.blur_for_distance(image, mm_per_pixel=0.2, distance_m=1.5))
    )
    for channel in range(3):
        share = distance.transfer(channel, frequency)
        swing = before[..., channel] - before[..., channel].mean()
        expected = before[..., channel].mean() + share * swing
        assert after[..., channel] == pytest.approx(expected, abs=1e-13)


def test_visual_angle() -> None:
    # 1 mm at 1 m is 3.44 minutes of arc.
    assert 60 * distance.degrees_per_pixel(1, 1) == pytest.approx(3.4377, abs=1e-4)


def test_transfer_is_1_at_rest_and_falls() -> None:
    frequencies = np.linspace(0, 60, 200)
    for channel in range(3):
        share = distance.transfer(channel, frequencies)
        assert share[0] == 1
        assert (np.diff(share) <= 0).all()
    # Colour fades before lightness does: at 4 cycles per degree already.
    light, red_green, blue_yellow = (float(distance.transfer(c, 4)) for c in range(3))
    assert light > red_green
    assert light > blue_yellow


def test_farther_is_blurrier_and_turns_do_not_matter() -> None:
    image = picture(16, 20)
    contrast = [
        colorimetry.blur_for_distance(image, mm_per_pixel=0.3, distance_m=m)[..., 1].std()
        for m in (0.3, 1, 3, 10)
    ]
    assert (np.diff(contrast) < 0).all()
    turned = colorimetry.blur_for_distance(np.rot90(image), mm_per_pixel=0.3, distance_m=1)
    straight = colorimetry.blur_for_distance(image, mm_per_pixel=0.3, distance_m=1)
    assert turned == pytest.approx(np.rot90(straight), abs=1e-13)


def test_float32_stays_float32() -> None:
    image = picture(8, 8).astype(np.float32)
    blurred = colorimetry.blur_for_distance(image, mm_per_pixel=0.2, distance_m=1)
    assert blurred.dtype == np.float32
    double = colorimetry.blur_for_distance(image.astype(np.float64), mm_per_pixel=0.2, distance_m=1)
    # Transforms of 256 numbers up to 1 and a matrix with entries up to 4: some 1e-6.
    assert blurred == pytest.approx(double, abs=1e-5)


def test_bad_input_is_one_sentence() -> None:
    for shape in ((4, 3), (0, 4, 3), (2, 2, 2, 3)):
        with pytest.raises(InputError, match="give height, width and 3"):
            colorimetry.blur_for_distance(np.zeros(shape), mm_per_pixel=1, distance_m=1)
    image = picture(2, 2)
    for bad in (0.0, -1.0, math.nan, math.inf):
        with pytest.raises(InputError, match="mm_per_pixel: The length"):
            colorimetry.blur_for_distance(image, mm_per_pixel=bad, distance_m=1)
        with pytest.raises(InputError, match="distance_m: The length"):
            colorimetry.blur_for_distance(image, mm_per_pixel=1, distance_m=bad)
