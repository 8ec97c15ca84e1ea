"""XYZ, CIELAB and OKLab against colour-science, coloraide and published spectra."""

import numpy as np
import pytest
from coloraide import Color
from hypothesis import given
from hypothesis import strategies as st

from schemeforge import colorimetry
from schemeforge.errors import InputError, UnknownNameError
from tests.colorimetry.oracles import (
    BAND_PLACES,
    NM,
    Floats,
    check_rows,
    colour_science,
    integrate,
    random_lab,
    smooth_spectra,
)

EVERY = colorimetry.light_names()


@pytest.mark.parametrize("observer", [2, 10])
@pytest.mark.parametrize("light", EVERY)
@pytest.mark.parametrize("dtype", [np.float64, np.float32])
def test_reflectance_1_is_the_one_white(
    light: str, observer: int, dtype: type[np.floating]
) -> None:
    xyz = colorimetry.xyz(np.ones((2, 36), dtype=dtype), light, observer)
    assert xyz.dtype == dtype
    # 36 terms of at most 0.2: rounding stays within a few units in the last place of 1.
    tolerance = 8 * float(np.finfo(dtype).eps)
    assert np.abs(xyz - colorimetry.D65_WHITE).max() <= tolerance


@pytest.mark.parametrize("observer", [2, 10])
def test_greys_stay_grey_under_every_light(observer: int) -> None:
    for light in EVERY:
        lab = colorimetry.lab(np.full(36, 0.18), light, observer)
        assert lab[1:] == pytest.approx([0, 0], abs=1e-12)
        assert lab[0] == pytest.approx(116 * 0.18 ** (1 / 3) - 16, abs=1e-12)


def test_ten_degrees_under_d65_is_plain_cielab_10() -> None:
    reflectance = smooth_spectra(21, 100)
    white = integrate(np.ones(NM.size), "D65", 10)
    theirs = colour_science().XYZ_to_Lab(
        integrate(reflectance, "D65", 10), colour_science().XYZ_to_xy(white)
    )
    ours = colorimetry.lab(reflectance[:, BAND_PLACES], "D65", 10)
    # The bound set for 10 nm weights under daylight.
    assert colorimetry.ciede2000(ours, theirs).max() <= 0.02


@pytest.mark.parametrize(("light", "x", "y"), [("D65", 0.3127, 0.3290), ("D50", 0.3457, 0.3585)])
def test_the_24_patches_of_the_colour_checker(light: str, x: float, y: float) -> None:
    # [Ohta1997]: spectra at 5 nm; the Lab of the file come from sums at 1 nm and from whites
    # rounded to four digits of chromaticity, and are not adapted.
    colour = colour_science()
    patches = colour.SDS_COLOURCHECKERS["ColorChecker N Ohta"]
    rows = check_rows("colorchecker_ohta_lab.csv")
    published = np.array([[float(row[f"{c}_{light}"]) for c in ("L", "a", "b")] for row in rows])
    shape = colour.SpectralShape(360, 830, 1)
    spectra = np.stack([patches[row["patch"]].copy().align(shape).values for row in rows])
    white = np.array([x / y, 1, (1 - x - y) / y])

    def lab(xyz: Floats) -> Floats:
        return np.asarray(colorimetry.lab_from_xyz(xyz / white * colorimetry.D65_WHITE))

    # At every nm: half of the last digit printed.
    assert lab(integrate(spectra, light, 2)) == pytest.approx(published, abs=6e-5)
    # On the bands: the spectra are printed in thousandths, so they are not smooth, and what
    # that rounding does between the bands no 10 nm table can know.
    matrix = colorimetry.weights(light).matrix
    bands = spectra[:, BAND_PLACES]
    rng = np.random.default_rng(1)
    shaken = bands + rng.uniform(-0.0005, 0.0005, (200, *bands.shape))
    rounding = colorimetry.ciede2000(lab(shaken @ matrix), lab(bands @ matrix)).max(axis=0)
    gap = colorimetry.ciede2000(lab(bands @ matrix), published)
    assert (gap <= 0.02 + rounding).all()
    assert gap.max() < 0.1


def test_lab_agrees_with_colour_science() -> None:
    colour = colour_science()
    xyz = colorimetry.xyz_from_lab(random_lab(1, 500))
    xyz[:20] *= 1e-3  # the straight part of the curve
    theirs = colour.XYZ_to_Lab(xyz, colour.XYZ_to_xy(colorimetry.D65_WHITE))
    assert colorimetry.lab_from_xyz(xyz) == pytest.approx(np.asarray(theirs), abs=1e-11)


def test_lab_agrees_with_coloraide() -> None:
    lab = random_lab(2, 200)
    # coloraide's D65 is rounded to four digits of chromaticity: compare as ratios to the white.
    white = np.array(Color("xyz-d65", [0, 0, 0]).convert("xyz-d65").white("xyz"))
    ratio = colorimetry.xyz_from_lab(lab) / colorimetry.D65_WHITE
    theirs = [Color("xyz-d65", (row * white).tolist()).convert("lab-d65")[:3] for row in ratio]
    assert lab == pytest.approx(np.array(theirs), abs=1e-11)


def test_oklab_agrees_with_coloraide_and_colour_science() -> None:
    xyz = colorimetry.xyz_from_lab(random_lab(3, 200))
    ours = colorimetry.oklab_from_xyz(xyz)
    theirs = np.array([Color("xyz-d65", row.tolist()).convert("oklab")[:3] for row in xyz])
    # Their white differs from ours by 2.3e-4 in Z: a third of that through a cube root, times
    # the largest entry of the matrix (0.81), and the published digits leave as much again.
    assert ours == pytest.approx(theirs, abs=2e-4)
    assert ours == pytest.approx(np.asarray(colour_science().XYZ_to_Oklab(xyz)), abs=2e-4)


def test_oklab_of_published_colours() -> None:
    # [Ottosson2020], the table of XYZ and OKLab pairs, three digits.
    xyz = np.array([[0.950, 1.0, 1.089], [1, 0, 0], [0, 1, 0], [0, 0, 1]])
    oklab = np.array(
        [[1, 0, 0], [0.450, 1.236, -0.019], [0.922, -0.671, 0.263], [0.153, -1.415, -0.449]]
    )
    assert colorimetry.oklab_from_xyz(xyz) == pytest.approx(oklab, abs=1e-3)


def test_oklch_and_lch_agree_with_coloraide() -> None:
    lab = random_lab(4, 100)
    theirs = np.array([Color("lab-d65", row.tolist()).convert("lch-d65")[:3] for row in lab])
    assert colorimetry.lch(lab) == pytest.approx(theirs, abs=1e-11)
    xyz = colorimetry.xyz_from_lab(lab)
    polar = colorimetry.oklch(xyz)
    assert colorimetry.lab_from_lch(polar) == pytest.approx(
        colorimetry.oklab_from_xyz(xyz), abs=1e-15
    )


@pytest.mark.parametrize(
    ("lab", "hue"), [((50, 10, -1e-30), 0), ((50, -1, 0), 180), ((50, 0, -1), 270), ((50, 0, 0), 0)]
)
def test_hue_is_from_0_to_below_360(lab: tuple[float, ...], hue: float) -> None:
    assert colorimetry.lch(lab)[2] == hue


LAB = st.tuples(st.floats(0, 100), st.floats(-120, 120), st.floats(-120, 120))


@given(LAB)
def test_lab_round_trip(lab: tuple[float, float, float]) -> None:
    back = colorimetry.lab_from_xyz(colorimetry.xyz_from_lab(lab))
    # a* and b* are 500 and 200 times differences of numbers up to 1.6, cubed and rooted.
    assert back == pytest.approx(lab, abs=1e-11)


@given(st.tuples(st.floats(0.01, 1), st.floats(-0.3, 0.3), st.floats(-0.3, 0.3)))
def test_oklab_round_trip(lab: tuple[float, float, float]) -> None:
    back = colorimetry.oklab_from_xyz(colorimetry.xyz_from_oklab(lab))
    # A cube root near zero enlarges rounding: cones of 1e-16 are roots of 5e-6.
    assert back == pytest.approx(lab, abs=5e-5)
    if min(colorimetry.xyz_from_oklab(lab)) > 1e-3:
        assert back == pytest.approx(lab, abs=1e-11)


@given(st.lists(st.floats(0, 1), min_size=36, max_size=36), st.sampled_from(EVERY))
def test_float32_is_the_same_colour(reflectance: list[float], light: str) -> None:
    double = np.array(reflectance)
    single = colorimetry.xyz(double.astype(np.float32), light)
    # 36 products and sums of numbers up to 0.2 that add up to about 1.
    assert single == pytest.approx(colorimetry.xyz(double, light), abs=36 * 1.2e-7)


@given(st.lists(st.floats(0, 1), min_size=72, max_size=72), st.floats(0, 1))
def test_xyz_is_linear(values: list[float], share: float) -> None:
    one, two = np.array(values).reshape(2, 36)
    mixed = colorimetry.xyz(share * one + (1 - share) * two, "FL11")
    apart = share * colorimetry.xyz(one, "FL11") + (1 - share) * colorimetry.xyz(two, "FL11")
    assert mixed == pytest.approx(apart, abs=1e-14)


def test_shapes_pass_through() -> None:
    reflectance: Floats = np.linspace(0, 1, 2 * 3 * 36).reshape(2, 3, 36)
    xyz = colorimetry.xyz(reflectance, "A")
    assert xyz.shape == (2, 3, 3)
    assert colorimetry.xyz(reflectance[0, 1], "A") == pytest.approx(xyz[0, 1], abs=1e-15)
    assert colorimetry.xyz(np.empty((0, 36))).shape == (0, 3)
    for function in (
        colorimetry.lab_from_xyz,
        colorimetry.xyz_from_lab,
        colorimetry.oklab_from_xyz,
        colorimetry.xyz_from_oklab,
        colorimetry.lch,
        colorimetry.oklch,
    ):
        assert function(xyz).shape == (2, 3, 3)
        assert function(xyz.astype(np.float32)).dtype == np.float32
        assert function(xyz[0, 0]) == pytest.approx(function(xyz)[0, 0], abs=1e-13)


def test_inputs_are_left_alone() -> None:
    xyz = colorimetry.xyz_from_lab([50.0, 10, 10])
    before = xyz.copy()
    colorimetry.lab_from_xyz(xyz)
    colorimetry.srgb(xyz)
    colorimetry.to_srgb8_fast(xyz)
    assert np.array_equal(before, xyz)


def test_bad_input_is_one_sentence() -> None:
    with pytest.raises(InputError, match=r"reflectance has the shape \(35,\); give .* 36 numbers"):
        colorimetry.xyz(np.ones(35))
    values = np.ones((2, 36))
    values[1, 2] = np.nan
    with pytest.raises(InputError, match=r"holds nan at position \(1, 2\)"):
        colorimetry.xyz(values)
    with pytest.raises(InputError, match="XYZ is not an array of numbers"):
        colorimetry.lab_from_xyz([["a", "b", "c"]])
    with pytest.raises(InputError, match=r"shape \(\)"):
        colorimetry.lab_from_xyz(3.0)
    with pytest.raises(UnknownNameError, match="light"):
        colorimetry.xyz(np.ones(36), "moonlight")


def test_opposite_infinities_are_found() -> None:
    with pytest.raises(InputError, match="holds inf"):
        colorimetry.lab_from_xyz([np.inf, -np.inf, 0])
