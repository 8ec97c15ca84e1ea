"""Pictures as they are looked at: against colour-science, closed forms and limits."""

from typing import Any

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from schemeforge import colorimetry
from schemeforge.colorimetry import Distance, Eyes, Sight
from schemeforge.colorimetry.display import decode, encode
from schemeforge.colorimetry.sight import further_off
from schemeforge.errors import InputError
from tests.colorimetry.oracles import (
    BAND_PLACES,
    Floats,
    colour_science,
    integrate,
    smooth_spectra,
)

PLAIN: Any = {"mm_per_pixel": 0.1, "surround": 0.3}
COLOURS = np.array([[200, 120, 100], [90, 130, 110], [128, 128, 128], [210, 200, 150]], np.uint8)


def picture(colours: np.ndarray = COLOURS, size: int = 32) -> np.ndarray:
    """Stripes of colours amid nothing."""
    rgba = np.zeros((size, size, 4), np.uint8)
    for n, code in enumerate(colours):
        rgba[8:24, 8 + 4 * n : 12 + 4 * n, :3] = code
        rgba[8:24, 8 + 4 * n : 12 + 4 * n, 3] = 255
    return rgba


def linear(codes: np.ndarray) -> Floats:
    return np.asarray(decode(codes / 255.0), np.float64)


def test_a_plain_sight_leaves_the_picture_alone() -> None:
    rgba = picture()
    assert colorimetry.looked_at(rgba, Sight(), **PLAIN) is rgba
    none = Sight(eyes=Eyes.DEUTAN, severity=0.0)
    assert none.is_plain
    assert colorimetry.looked_at(rgba, none, **PLAIN) is rgba


def test_greyscale_keeps_lightness_and_has_no_hue() -> None:
    seen = colorimetry.looked_at(picture(), Sight(eyes=Eyes.GREY), **PLAIN)
    row = seen[12, 8:24:4, :3]
    assert (row == row[:, :1]).all()
    # An 8-bit code is at most 0.6 L* wide at such greys (116/3 Y^(-2/3) dY/dcode).
    colour = colour_science()
    theirs = colour.XYZ_to_Lab(colour.sRGB_to_XYZ(COLOURS / 255.0))[:, 0]
    ours = colour.XYZ_to_Lab(colour.sRGB_to_XYZ(row / 255.0))[:, 0]
    assert ours == pytest.approx(theirs, abs=0.35)


@pytest.mark.parametrize("eyes", [Eyes.PROTAN, Eyes.DEUTAN, Eyes.TRITAN])
@pytest.mark.parametrize("severity", [0.3, 1.0])
def test_deficient_eyes_see_the_published_colours(eyes: Eyes, severity: float) -> None:
    """colour-science holds the tables of [Machado2009] too."""
    kind = {"protan": "Protanomaly", "deutan": "Deuteranomaly", "tritan": "Tritanomaly"}[eyes]
    matrix = colour_science().CVD_MATRICES_MACHADO2010[kind][severity]
    light = linear(COLOURS) @ np.asarray(matrix).T
    inside = ((light > 0.001) & (light < 0.999)).all(axis=1)  # others lose chroma to be shown
    expected = encode(light) * 255
    seen = colorimetry.looked_at(picture(), Sight(eyes=eyes, severity=severity), **PLAIN)
    row = seen[12, 8:24:4, :3].astype(float)
    assert inside.sum() >= 2
    assert row[inside] == pytest.approx(expected[inside], abs=1.0)


@pytest.mark.parametrize("light", ["A", "FL2", "LED-B4"])
def test_a_camera_set_to_daylight_keeps_the_cast(light: str) -> None:
    """Against sums at every nm, with no adaptation at all, on the sRGB of D65."""
    spectra = smooth_spectra(5, 6)
    adapted = colorimetry.xyz(spectra[:, BAND_PLACES], light)
    ours = colorimetry.linear_rgb_from_xyz(adapted) @ colorimetry.camera_matrix(light)
    every = colorimetry.linear_rgb_from_xyz(
        np.vstack([integrate(spectra, light, 2), integrate(np.ones(471), light, 2)])
    )
    theirs = every[:-1] / every[-1].max()
    # Weights of 10 nm are 0.2 CIEDE2000 off at most: some 2e-3 of the white.
    assert ours == pytest.approx(theirs, abs=2e-3)


def test_a_camera_in_daylight_changes_nothing() -> None:
    assert colorimetry.camera_matrix("D65") == pytest.approx(np.eye(3), abs=1e-12)
    assert colorimetry.camera_matrix("D65", 10) == pytest.approx(np.eye(3), abs=1e-12)


def test_white_under_a_bulb_is_just_not_clipped() -> None:
    white = np.ones(3) @ colorimetry.camera_matrix("A")
    assert white.max() == pytest.approx(1.0)
    assert white[0] > white[1] > white[2]


@pytest.mark.parametrize("distance", [Distance.ARM, Distance.TABLE, Distance.SQUINT])
def test_from_further_off_the_picture_is_opaque_and_keeps_its_mean(distance: Distance) -> None:
    rgba = picture(size=64)
    seen = colorimetry.looked_at(rgba, Sight(distance=distance), **PLAIN)
    assert (seen[..., 3] == 255).all()
    cover = rgba[..., 3:] / 255.0
    before = linear(rgba[..., :3]) * cover + 0.3 * (1 - cover)
    # Rounding to 8 bits and softening of a few strong colours.
    assert linear(seen[..., :3]).mean(axis=(0, 1)) == pytest.approx(
        before.mean(axis=(0, 1)), abs=4e-3
    )


def test_further_off_less_is_left_and_a_squint_leaves_least_at_arms_length() -> None:
    stripes = picture(np.array([[250] * 3, [10] * 3] * 2, np.uint8), 64)

    def contrast(distance: Distance) -> float:
        seen = colorimetry.looked_at(
            stripes, Sight(distance=distance), mm_per_pixel=0.1, surround=0.2
        )
        across = seen[seen.shape[0] * 16 // 64, :, 0].astype(float)
        return float(np.abs(np.diff(across)).sum())

    close, arm = contrast(Distance.CLOSE), contrast(Distance.ARM)
    assert close > arm > contrast(Distance.TABLE)
    assert arm > contrast(Distance.SQUINT)


def test_putting_pixels_together_first_changes_little() -> None:
    """Squares of 0.4 of the finest spread s add (0.4 s)^2 / 12 to a variance of s^2 / 2: 3 %."""
    rng = np.random.default_rng(3)
    fine = np.full((128, 128, 3), 0.3, np.float32)
    fine[32:96, 32:96] = rng.uniform(0, 1, (64, 64, 3))
    coarse = further_off(fine, Distance.TABLE, 0.06)
    assert coarse.shape[0] < 128
    times = 128 // coarse.shape[0]
    back, there = colorimetry.linear_rgb_from_xyz, colorimetry.xyz_from_linear_rgb
    whole = back(
        colorimetry.blur_for_distance(
            there(fine.astype(np.float64)), mm_per_pixel=0.06, distance_m=1.5, repeats=True
        )
    )
    means = whole.reshape(128 // times, times, 128 // times, times, 3).mean(axis=(1, 3))
    assert coarse == pytest.approx(means, abs=0.02)


@given(st.sampled_from(list(Eyes)), st.floats(0, 1), st.integers(0, 255))
@settings(max_examples=40)
def test_greys_stay_grey_for_all_eyes(eyes: Eyes, severity: float, grey: int) -> None:
    rgba = picture(np.full((4, 3), grey, np.uint8))
    seen = colorimetry.looked_at(rgba, Sight(eyes=eyes, severity=severity), **PLAIN)
    assert np.abs(seen[12, 8:24, :3].astype(int) - grey).max() <= 1


def test_a_severity_out_of_range_is_refused() -> None:
    with pytest.raises(InputError, match="severity"):
        Sight(severity=1.2)
