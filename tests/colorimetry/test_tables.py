"""Lights, observers and weights, against colour-science and sums at every nm."""

import importlib.util
from pathlib import Path
from types import ModuleType

import numpy as np
import pytest
from scipy.interpolate import CubicSpline

from schemeforge import colorimetry
from schemeforge.colorimetry import tables
from schemeforge.colorimetry.adaptation import adaptation
from schemeforge.errors import DamagedFileError, InputError, UnknownNameError
from schemeforge.resources import asset
from tests.colorimetry.oracles import (
    BAND_PLACES,
    NM,
    Floats,
    colour_science,
    integrate,
    light_table,
    observer_table,
    smooth_spectra,
)

BROAD = ("D65", "D50")
EVERY = colorimetry.light_names()
OBSERVERS = (2, 10)

# XYZ of white by integration, Y = 100 [CIE15]: X and Z to four digits after the point.
WHITES = {
    ("D65", 2): (95.0471, 108.8828),
    ("D50", 2): (96.4241, 82.5128),
    ("A", 2): (109.8494, 35.5908),
    ("D65", 10): (94.8111, 107.3046),
}


def script() -> ModuleType:
    path = asset("scripts", "make_tables.py")
    spec = importlib.util.spec_from_file_location("make_tables", path)
    assert spec is not None
    assert spec.loader is not None
    module = importlib.util.module_from_spec(spec)
    spec.loader.exec_module(module)
    return module


def true_lab(reflectance: Floats, light: str, observer: int) -> Floats:
    """CIELAB at every nm, adapted as the program does it."""
    flat = np.ones(NM.size)
    white = integrate(flat, light, observer)
    daylight = integrate(flat, "D65", observer)
    adapted = integrate(reflectance, light, observer) @ adaptation(white, daylight).T
    return np.asarray(colorimetry.lab_from_xyz(adapted / daylight * colorimetry.D65_WHITE))


def worst(light: str, observer: int, reflectance: Floats) -> float:
    lab = colorimetry.lab(reflectance[:, BAND_PLACES], light, observer)
    return float(colorimetry.ciede2000(true_lab(reflectance, light, observer), lab).max())


@pytest.mark.parametrize(("light", "observer"), WHITES)
def test_whites_are_those_of_integration(light: str, observer: int) -> None:
    X, Z = WHITES[light, observer]
    white = 100 * colorimetry.weights(light, observer).white
    assert white == pytest.approx([X, 100, Z], abs=5e-5)  # half of the last digit given


def test_the_one_white_is_that_of_the_tables() -> None:
    assert colorimetry.weights("D65", 2).white == pytest.approx(colorimetry.D65_WHITE, abs=1e-14)


@pytest.mark.parametrize("observer", OBSERVERS)
@pytest.mark.parametrize("light", EVERY)
def test_weights_sum_to_the_white_of_the_1_nm_table(light: str, observer: int) -> None:
    table = colorimetry.weights(light, observer)
    assert table.matrix.shape == (36, 3)
    assert table.matrix.sum(axis=0) == pytest.approx(table.white, abs=0)
    assert table.white == pytest.approx(integrate(np.ones(NM.size), light, observer), abs=1e-13)


@pytest.mark.parametrize("observer", OBSERVERS)
@pytest.mark.parametrize("light", EVERY)
def test_ten_nm_are_as_good_as_one_nm_for_smooth_spectra(light: str, observer: int) -> None:
    # The bounds are the ones set for the program: 0.02 under daylight, 0.2 under narrow bands.
    bound = 0.02 if light in BROAD else 0.2
    assert worst(light, observer, smooth_spectra(11, 1500)) <= bound


@pytest.mark.parametrize("light", ["FL2", "FL11"])
def test_plain_sampling_would_not_do(light: str) -> None:
    # Shows that the bound above can fail: sampling light and observer at the bands alone.
    reflectance = smooth_spectra(12, 300)
    seen = (light_table(light)[:, None] * observer_table(2))[BAND_PLACES]
    plain = reflectance[:, BAND_PLACES] @ seen / seen[:, 1].sum()
    true = integrate(reflectance, light, 2)
    as_lab = [
        colorimetry.lab_from_xyz(xyz / integrate(np.ones(NM.size), light, 2) * (0.95047, 1, 1.0888))
        for xyz in (plain, true)
    ]
    assert colorimetry.ciede2000(*as_lab).max() > 2


@pytest.mark.parametrize("light", ["D65", "A", "FL2", "FL11", "LED-B4"])
def test_colour_science_integrates_to_the_same(light: str) -> None:
    colour = colour_science()
    reflectance = smooth_spectra(13, 40)
    shape = colour.SpectralShape(360, 830, 1)
    theirs = colour.colorimetry.msds_to_XYZ(
        reflectance,
        colour.MSDS_CMFS["CIE 1931 2 Degree Standard Observer"],
        colour.SDS_ILLUMINANTS[light].copy().align(shape),
        method="Integration",
        shape=shape,
    )
    ours = 100 * np.stack([integrate(row, light, 2) for row in reflectance])
    # They interpolate the illuminant as we do: only rounding is between the two.
    assert ours == pytest.approx(np.asarray(theirs), abs=1e-9)


def test_every_light_has_a_name_a_label_and_a_note_of_its_own() -> None:
    listed = colorimetry.lights()
    assert {"D65", "D50", "A", "FL2", "FL11"} <= {light.name for light in listed}
    assert any(light.name.startswith("LED") for light in listed)
    for attribute in ("name", "label", "note"):
        values = [getattr(light, attribute) for light in listed]
        assert all(values)
        assert len(set(values)) == len(values)


@pytest.mark.parametrize("light", EVERY)
def test_a_user_light_with_the_numbers_of_a_table_is_that_light(light: str) -> None:
    own = colorimetry.SpectralLight(
        name="mine", wavelengths_nm=tuple(NM), power=tuple(3 * light_table(light))
    )
    assert colorimetry.weights(own, 10).matrix == pytest.approx(
        colorimetry.weights(light, 10).matrix, abs=1e-14
    )


def test_a_user_light_at_5_nm_runs_straight_between() -> None:
    spectrum = colour_science().SDS_ILLUMINANTS["FL11"]
    own = colorimetry.SpectralLight(
        name="tubes",
        wavelengths_nm=tuple(float(nm) for nm in spectrum.wavelengths),
        power=tuple(float(p) for p in spectrum.values),
    )
    assert tables.spectral_power(own) == pytest.approx(light_table("FL11"), abs=1e-12)


def test_a_line_between_two_nm_is_not_lost() -> None:
    # A triangle of height 100 and 0.2 nm half width at 545.5 nm has the area 20.
    nm = np.sort(np.append(np.arange(400.0, 700.25, 0.25), [545.3, 545.7]))
    nm = nm[(nm <= 545.3) | (nm >= 545.7) | (nm == 545.5)]
    power = np.where(nm == 545.5, 100.0, 0.0)
    own = colorimetry.SpectralLight(name="line", wavelengths_nm=tuple(nm), power=tuple(power))
    got = tables.spectral_power(own)
    assert got.sum() == pytest.approx(20, abs=1e-9)
    assert got[[185, 186]] == pytest.approx([10, 10], abs=1e-9)


@pytest.mark.parametrize(
    ("nm", "power", "words"),
    [
        ((400, 420, 700), (1, 1, 1), "rise in steps"),
        ((400.0, *range(410, 700, 10), 690.0), (1.0,) * 31, "rise in steps"),
        ((400,), (1,), "rise in steps"),
        (tuple(range(420, 701, 10)), (1,) * 29, "only from 420"),
        (tuple(range(400, 691, 10)), (1,) * 30, "to 690 nm"),
        (tuple(range(400, 701, 10)), (1,) * 30, "31 wavelengths but 30 powers"),
        (tuple(range(400, 701, 10)), (0,) * 31, "zero everywhere"),
        (tuple(range(400, 701, 10)), (-1,) + (1,) * 30, "negative"),
        (tuple(range(400, 701, 10)), (float("nan"),) + (1,) * 30, "not finite"),
    ],
)
def test_a_bad_spectrum_is_refused_by_name(
    nm: tuple[float, ...], power: tuple[float, ...], words: str
) -> None:
    with pytest.raises(InputError, match=words) as caught:
        colorimetry.SpectralLight(name="lamp", wavelengths_nm=nm, power=power)
    assert 'light "lamp"' in caught.value.sentence


def test_unknown_names_suggest_the_nearest() -> None:
    with pytest.raises(UnknownNameError, match=r'"FL22".*FL2"'):
        colorimetry.weights("FL22")
    with pytest.raises(UnknownNameError, match='observer called "5"; choose one of 2, 10'):
        colorimetry.weights("D65", 5)


def test_tables_cannot_be_written_to() -> None:
    with pytest.raises(ValueError, match="read-only"):
        colorimetry.weights("A").matrix[0, 0] = 1


def test_interpolation_is_the_spline_that_is_level_at_its_ends() -> None:
    # [deBoor1978], as scipy has it.
    values = np.random.default_rng(3).uniform(0, 1, 36)
    bands = np.arange(380.0, 731, 10)
    spline = CubicSpline(bands, values, bc_type="clamped")
    inside = slice(20, 371)
    assert tables.interpolation()[inside] @ values == pytest.approx(spline(NM[inside]), abs=1e-13)


def test_interpolation_keeps_levels_and_passes_through_the_bands() -> None:
    matrix = tables.interpolation()
    assert matrix.sum(axis=1) == pytest.approx(np.ones(471), abs=1e-14)
    assert matrix[BAND_PLACES] == pytest.approx(np.eye(36), abs=1e-15)
    assert matrix[:20] == pytest.approx(np.eye(36)[[0] * 20], abs=1e-15)
    assert matrix[371:] == pytest.approx(np.eye(36)[[-1] * 100], abs=1e-15)


def test_the_file_is_what_the_script_makes_now(tmp_path: Path) -> None:
    maker = script()
    maker.write(tmp_path / "made.npz")
    with (
        np.load(tmp_path / "made.npz") as made,
        np.load(asset("tables", tables.TABLE_FILE)) as kept,
    ):
        assert set(made.files) == set(kept.files)
        for key in made.files:
            assert np.array_equal(made[key], kept[key]), key


@pytest.mark.parametrize("content", [b"", b"PK\x03\x04 not an archive", b"\x93NUMPY"])
def test_a_damaged_file_is_one_sentence(
    content: bytes, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    path = tmp_path / "colorimetry.npz"
    path.write_bytes(content)
    monkeypatch.setattr(tables, "asset", lambda *_: path)
    with pytest.raises(DamagedFileError, match="install the program again"):
        tables.tables.__wrapped__()


def test_a_file_with_other_lights_is_refused(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    path = tmp_path / "colorimetry.npz"
    arrays = dict(script().arrays())
    arrays["names"] = np.array(["X", *arrays["names"][1:]])
    np.savez(path, **arrays)
    monkeypatch.setattr(tables, "asset", lambda *_: path)
    with pytest.raises(DamagedFileError, match="lights of this version"):
        tables.tables.__wrapped__()
