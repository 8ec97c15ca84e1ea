"""What the screen shows: sRGB, gamut, the quick path and the profile."""

import io

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from PIL import ImageCms

from schemeforge import colorimetry
from schemeforge.colorimetry.gamut import TOLERANCE, into_gamut
from schemeforge.errors import InputError
from tests.colorimetry.oracles import AnyFloats, colour_science, random_lab


def linear_of(xyz: AnyFloats) -> AnyFloats:
    return np.asarray(colorimetry.linear_rgb_from_xyz(xyz))


@pytest.mark.parametrize("observer", [2, 10])
@pytest.mark.parametrize("light", colorimetry.light_names())
@pytest.mark.parametrize("dtype", [np.float64, np.float32])
def test_reflectance_1_is_exactly_white(
    light: str, observer: int, dtype: type[np.floating]
) -> None:
    xyz = colorimetry.xyz(np.ones(36, dtype=dtype), light, observer)
    assert colorimetry.hex_codes(xyz) == ["#ffffff"]
    assert colorimetry.to_srgb8_fast(xyz).tolist() == [255, 255, 255]
    assert colorimetry.srgb(xyz).in_gamut


def test_a_user_light_has_its_white_too() -> None:
    own = colorimetry.SpectralLight(
        name="mine", wavelengths_nm=tuple(range(400, 701, 10)), power=tuple(range(1, 32))
    )
    assert colorimetry.hex_codes(colorimetry.xyz(np.ones(36), own)) == ["#ffffff"]


def test_black_and_greys() -> None:
    assert colorimetry.hex_codes([0.0, 0, 0]) == ["#000000"]
    # Half the light is code 188: 1.055 0.5^(1/2.4) - 0.055 = 0.7354.
    assert colorimetry.hex_codes(0.5 * colorimetry.D65_WHITE) == ["#bcbcbc"]


def test_colour_science_shows_the_same() -> None:
    # Their matrices differ from ours in digits; 2e-3 is the tolerance set for that.
    xyz = colorimetry.xyz_from_lab(random_lab(1, 500))
    inside = colorimetry.srgb(xyz).in_gamut
    assert 100 < inside.sum() < 450
    theirs = np.asarray(colour_science().XYZ_to_sRGB(xyz[inside]))
    assert colorimetry.srgb(xyz[inside]).rgb == pytest.approx(theirs, abs=2e-3)


def test_the_curve_is_that_of_the_standard() -> None:
    colour = colour_science()
    linear = np.linspace(-0.1, 1.1, 500)[:, None]
    theirs = np.asarray(colour.models.eotf_inverse_sRGB(linear[linear[:, 0] >= 0]))
    assert colorimetry.encode(linear)[linear[:, 0] >= 0] == pytest.approx(theirs, abs=1e-12)
    encoded = np.linspace(0, 1, 500)[:, None]
    assert colorimetry.decode(encoded) == pytest.approx(
        np.asarray(colour.models.eotf_sRGB(encoded)), abs=1e-12
    )


@given(st.floats(-0.5, 1.5))
def test_curve_round_trip(value: float) -> None:
    # Where the two pieces meet the standard's digits leave a step of 3e-8 in linear light.
    assert colorimetry.decode(colorimetry.encode([value])) == pytest.approx([value], abs=1e-7)


def test_scalars_are_encoded_too() -> None:
    with pytest.raises(InputError, match="linear sRGB"):
        colorimetry.encode("red")
    assert colorimetry.encode([1.0]).tolist() == pytest.approx([1.0])


@given(st.tuples(*[st.floats(0, 1)] * 3))
def test_linear_round_trip(rgb: tuple[float, float, float]) -> None:
    back = colorimetry.linear_rgb_from_xyz(colorimetry.xyz_from_linear_rgb(rgb))
    assert back == pytest.approx(rgb, abs=1e-14)


# CIELAB far beyond any surface; where even the lightness in OKLab leaves 0 to 1 there is no
# colour to keep, and the answer is white or black.
WIDE = st.tuples(st.floats(0, 100), st.floats(-128, 128), st.floats(-128, 128))


@given(WIDE)
def test_out_of_gamut_keeps_lightness_and_hue(lab: tuple[float, float, float]) -> None:
    xyz = colorimetry.xyz_from_lab(lab)
    L, a, b = colorimetry.oklab_from_xyz(xyz)
    shown = colorimetry.srgb(xyz)
    assert ((shown.rgb >= 0) & (shown.rgb <= 1)).all()
    if shown.in_gamut:
        assert shown.rgb == pytest.approx(colorimetry.encode(linear_of(xyz)), abs=13 * TOLERANCE)
        return
    if not 0 < L < 1:
        assert shown.codes.tolist() == [255 if L >= 1 else 0] * 3
        return
    M, c, d = colorimetry.oklab_from_xyz(
        colorimetry.xyz_from_linear_rgb(into_gamut(linear_of(xyz)[None]))
    )[0]
    # The final clip moves linear light by up to 1e-13; a cube root of a cone near zero makes
    # 5e-5 of that, and OKLab's entries are up to 2.4.
    assert abs(M - L) <= 1.2e-4
    chroma = np.hypot(a, b)
    assert abs(a * d - b * c) / chroma <= 1.2e-4
    assert a * c + b * d >= -1e-4
    assert np.hypot(c, d) <= chroma + 1e-4


def test_no_more_chroma_is_lost_than_must_be() -> None:
    xyz = colorimetry.xyz_from_lab(random_lab(2, 3000))
    oklab = colorimetry.oklab_from_xyz(xyz)
    linear = linear_of(xyz)
    outside = ((linear < -TOLERANCE) | (linear > 1 + TOLERANCE)).any(axis=1)
    outside &= oklab[:, 0] < 0.999
    mapped = into_gamut(linear[outside])
    # A hair more chroma does not fit: each colour lies on the border of the display's gamut.
    polar = colorimetry.oklch(colorimetry.xyz_from_linear_rgb(mapped))
    polar[:, 1] += 1e-4
    further = linear_of(np.asarray(colorimetry.xyz_from_oklab(colorimetry.lab_from_lch(polar))))
    assert outside.sum() > 500
    assert (np.minimum(further, 1 - further).min(axis=1) < 0).all()


def test_gamut_mask_and_shapes() -> None:
    red_outside = colorimetry.xyz_from_linear_rgb([1.2, 0.1, 0.1])
    inside = colorimetry.xyz_from_linear_rgb([0.5, 0.1, 0.1])
    shown = colorimetry.srgb(np.stack([red_outside, inside])[None])
    assert shown.in_gamut.tolist() == [[False, True]]
    assert shown.codes.shape == shown.rgb.shape == (1, 2, 3)
    assert shown.codes.dtype == np.uint8
    assert colorimetry.srgb(np.empty((0, 3))).codes.shape == (0, 3)
    assert colorimetry.hex_codes(np.empty((0, 3))) == []


@pytest.mark.parametrize("dtype", [np.float64, np.float32])
def test_the_quick_path_shows_the_same(dtype: type[np.floating]) -> None:
    xyz = colorimetry.xyz_from_lab(random_lab(3, 20_000)).astype(dtype)
    shown = colorimetry.srgb(xyz.astype(np.float64))
    exact = shown.rgb * 255
    quick = colorimetry.to_srgb8_fast(xyz)
    assert quick.dtype == np.uint8
    # Half a code is rounding; the table adds 0.025 (see its comment), float32 less than 0.01.
    assert np.abs(quick - exact).max() <= (0.525 if dtype == np.float64 else 0.535)
    assert not shown.in_gamut.all()


def test_the_quick_path_takes_none_and_one() -> None:
    assert colorimetry.to_srgb8_fast(np.empty((0, 3))).shape == (0, 3)
    assert colorimetry.to_srgb8_fast(colorimetry.D65_WHITE).tolist() == [255, 255, 255]


def test_bad_input_is_one_sentence() -> None:
    with pytest.raises(InputError, match="XYZ has the shape"):
        colorimetry.srgb([1.0, 2.0])
    with pytest.raises(InputError, match="holds nan"):
        colorimetry.hex_codes([1.0, 2.0, np.nan])


def test_the_profile_is_srgb_and_the_same_every_time() -> None:
    made = colorimetry.srgb_icc_profile()
    assert made == colorimetry.srgb_icc_profile()
    profile = ImageCms.ImageCmsProfile(io.BytesIO(made))
    assert "sRGB" in ImageCms.getProfileDescription(profile)
    assert profile.profile.xcolor_space.strip() == "RGB"
    assert str(profile.profile.creation_date).startswith("2000-01-01")


def test_the_search_for_a_fitting_chroma_always_ends() -> None:
    # Not a number never comes to fit; the search gives up after its steps, beside a colour that
    # is found as if it were alone (to the step at which the search stops, 1e-9 of its chroma).
    odd = np.array([[np.nan, 0.5, 0.5], [1.3, 0.1, 0.1]])
    found = into_gamut(odd)
    assert np.isnan(found[0]).any()
    assert found[1:] == pytest.approx(into_gamut(odd[1:]), abs=1e-8)
