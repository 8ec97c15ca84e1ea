"""Zones close up and from a distance, against the eye's transfer worked out by hand."""

import numpy as np
import pytest

from schemeforge import colorimetry
from schemeforge.colorimetry.distance import transfer
from schemeforge.scheme import Project
from schemeforge.stand_in import WARDEN, Picture, View, apart_at, picture_of, worn

SIZE = 256
# XYZ to light-dark, red-green and blue-yellow [Zhang1996], with the sign of the authors' code.
OPPONENT = np.array(
    [[0.2787, 0.7218, -0.1066], [-0.4488, 0.2898, 0.0772], [0.0860, -0.5900, 0.5011]]
)


def striped(codes: tuple[int, int], pixels: int) -> Picture:
    """Upright stripes of two greys, each a zone and so many pixels wide."""
    zone = (np.arange(SIZE) // pixels % 2).astype(np.int16)
    zone = np.broadcast_to(zone, (SIZE, SIZE))
    grey = np.array(codes, np.uint8)[zone]
    alpha = np.full_like(grey, 255)
    return Picture(np.stack([grey, grey, grey, alpha], axis=-1), zone)


def luminance(code: int) -> float:
    return float(colorimetry.decode(np.array([code / 255.0]))[0])


def luminance_left(cycles: float) -> float:
    """Share of a grey sine's luminance that is left: each channel's, by its part in Y."""
    white = np.array([0.95047, 1.0, 1.08883])
    parts = np.linalg.inv(OPPONENT)[1] * (OPPONENT @ white)
    return float(sum(part * float(transfer(n, cycles)) for n, part in enumerate(parts)))


def lightness_of(Y: np.ndarray) -> np.ndarray:
    """CIE 1976, above its toe."""
    return np.asarray(116.0 * np.cbrt(Y) - 16.0)


@pytest.mark.parametrize("pixels", [4, 16])
def test_stripes_fade_as_their_harmonics_do(pixels: int) -> None:
    """One row by hand: the sines of a square wave, each as much weaker as the eye makes it."""
    codes, mm = (90, 170), 0.22
    whole = striped(codes, pixels)
    inner = np.where(np.abs(np.arange(SIZE) - SIZE / 2 + 0.5) < 64, whole.zone_index, -1)
    picture = Picture(whole.rgba, inner.astype(np.int16))
    (found,) = apart_at(picture, [(0, 1)], mm_per_pixel=mm, metres=1.0)
    low, high = (luminance(code) for code in codes)
    x = (np.arange(2 * pixels) + 0.5) / pixels
    square = np.where(x < 1.0, -1.0, 1.0)
    cycles = np.radians(1.0) * 1000.0 / (2.0 * pixels * mm)
    wave = np.zeros_like(x)
    for n in range(1, pixels, 2):
        strength = (square * np.sin(np.pi * n * x)).sum() / pixels
        wave += strength * luminance_left(n * cycles) * np.sin(np.pi * n * x)
    L = lightness_of((low + high) / 2.0 + (high - low) / 2.0 * wave)
    assert found.far == pytest.approx(L[x > 1.0].mean() - L[x < 1.0].mean(), rel=1e-4)
    assert found.close == pytest.approx(np.diff(lightness_of(np.array([low, high])))[0], abs=1e-6)


def test_broad_zones_stay_apart_and_fine_ones_do_not() -> None:
    broad, fine = (
        apart_at(striped((60, 180), pixels), [(0, 1)], mm_per_pixel=0.2)[0] for pixels in (128, 2)
    )
    assert broad.far > 0.95 * broad.close
    assert fine.far < 0.4 * fine.close
    nearer = apart_at(striped((60, 180), 2), [(0, 1)], mm_per_pixel=0.2, metres=0.25)[0]
    assert nearer.far > 2.0 * fine.far


def test_zones_that_do_not_show_are_left_out() -> None:
    picture = striped((60, 180), 16)
    assert [a.zones for a in apart_at(picture, [(0, 5), (0, 1)], mm_per_pixel=0.2)] == [(0, 1)]
    assert apart_at(picture, [], mm_per_pixel=0.2) == ()


def test_a_model_reads_less_from_further_off(demo: Project, warden: View) -> None:
    picture = picture_of(demo, demo.schemes[0], warden, worn(demo, WARDEN))
    pairs = [(0, 1), (1, 2), (4, 5)]
    mm = WARDEN.frame.span / warden.size
    far = [apart_at(picture, pairs, mm_per_pixel=mm, metres=m) for m in (0.1, 1.0, 30.0)]
    assert [a.zones for a in far[0]] == pairs
    for near, middle, away in zip(*far, strict=True):
        assert near.close == middle.close == away.close
        assert near.far == pytest.approx(near.close, abs=1.0)
    assert sum(a.far for a in far[2]) < 0.5 * sum(a.close for a in far[2])
