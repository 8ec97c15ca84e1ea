"""Instruments' files of every kind, and their way onto the bands."""

import struct
from pathlib import Path

import numpy as np
import pytest
from numpy.typing import NDArray

from schemeforge import optics
from schemeforge.errors import DamagedFileError, InputError, MissingFileError, SchemeForgeError
from schemeforge.measurement import Geometry, Scale, Spectrum, on_bands, read_spectra
from schemeforge.optics import bands

Floats = NDArray[np.float64]
NM = np.arange(380, 731, 10)


def curve(nm: object) -> Floats:
    """A smooth reflectance of no paint."""
    return np.asarray(0.3 + 0.25 * np.tanh((np.asarray(nm, dtype=np.float64) - 560) / 60))


def spectrum(nm: object, values: object) -> Spectrum:
    return Spectrum(
        name="a",
        wavelengths_nm=tuple(np.asarray(nm, float)),
        values=tuple(np.asarray(values, float)),
    )


def test_bands_stay_as_they_are() -> None:
    read = on_bands(spectrum(NM, curve(NM)), Scale.FRACTION)
    assert np.allclose(read.values, curve(NM), atol=1e-12)
    assert read.unsure_nm == ()


@pytest.mark.parametrize(
    ("step", "off"), [(1.0, 1e-4), (2.5, 2e-4), (5.0, 1.5e-3), (15.0, 5e-4), (20.0, 2e-3)]
)
def test_other_steps_are_resampled(step: float, off: float) -> None:
    # The mean under a triangle of half width 10 bends a curve by 100/12 of its second derivative:
    # that of this one is at most 0.25 * 0.77 / 60^2, so at most 4.5e-4.
    nm = np.arange(360.0, 760.0, step)
    read = on_bands(spectrum(nm, 100 * curve(nm)), Scale.PER_CENT)
    assert np.abs(np.array(read.values) - curve(NM)).max() < off + (4.5e-4 if step < 7.5 else 0)


def test_a_straight_spectrum_stays_straight_at_any_step() -> None:
    for step in (1.0, 3.0, 7.0, 10.0, 20.0):
        nm = np.arange(340.0, 780.0, step)
        read = on_bands(spectrum(nm, nm / 1000), Scale.FRACTION)
        assert np.abs(np.array(read.values) - NM / 1000).max() < 1e-3


def test_ends_are_carried_on_and_marked() -> None:
    nm = np.arange(400, 701, 10)
    read = on_bands(spectrum(nm, curve(nm)), Scale.FRACTION)
    assert read.unsure_nm == (380, 390, 710, 720, 730)
    assert read.values[0] == read.values[1] == read.values[2] == pytest.approx(curve(400.0))
    assert read.values[-1] == pytest.approx(float(curve(700.0)))


@pytest.mark.parametrize(
    ("nm", "values", "sentence"),
    [
        (np.arange(420, 701, 10), None, "only reaches from 420 to 700 nm; read at least 400 to"),
        (np.delete(NM, [14, 15]), None, "Bands are missing between 510 and 540 nm; export every"),
        (NM, np.where(NM == 550, -0.03, 0.4), "The value at 550 nm, -0.03, is negative; calib"),
        (NM, np.where(NM == 550, 1.4, 0.4), "at 550 nm, 1.4, is more than a surface gives back"),
        (NM, np.where(NM == 550, np.nan, 0.4), "at 550 nm, nan, is no number"),
    ],
)
def test_bad_readings_are_told(nm: object, values: object, sentence: str) -> None:
    values = curve(np.asarray(nm, float)) if values is None else values
    with pytest.raises(SchemeForgeError) as told:
        on_bands(spectrum(nm, values), Scale.FRACTION)
    assert str(told.value).startswith('sample "a": ')
    assert sentence in str(told.value)


def test_dark_noise_below_zero_is_black() -> None:
    assert on_bands(spectrum(NM, np.full(36, -0.001)), Scale.FRACTION).values == (0.0,) * 36


def test_spectra_that_are_none() -> None:
    with pytest.raises(InputError, match="There are 2 values for 3 wavelengths"):
        spectrum([400, 410, 420], [0.1, 0.2])
    for nm in ([400, 400, 410], [400, 390, 410], [400]):
        with pytest.raises(InputError, match="do not rise, or one stands twice"):
            spectrum(nm, [0.1] * len(nm))


def test_geometries_are_surfaces() -> None:
    assert Geometry.INCLUDED.surface is optics.SPECULAR_INCLUDED
    assert Geometry.EXCLUDED.surface is optics.SPECULAR_EXCLUDED
    assert Geometry.FORTY_FIVE_ZERO.surface is optics.FORTY_FIVE_ZERO


CGATS = """CGATS.17
ORIGINATOR	"nobody"
MEASUREMENT_GEOMETRY	"{geometry}"
NUMBER_OF_FIELDS	{fields}
BEGIN_DATA_FORMAT
SAMPLE_ID	SAMPLE_NAME	{heads}
END_DATA_FORMAT
NUMBER_OF_SETS	{sets}
BEGIN_DATA
{rows}
END_DATA
"""


def cgats(
    named: dict[str, Floats],
    *,
    head: str = "SPECTRAL_NM{nm}",
    geometry: str = "45/0",
    comma: bool = False,
) -> str:
    rows = []
    for number, (name, values) in enumerate(named.items(), start=1):
        cells = [f"{v:.6f}".replace(".", "," if comma else ".") for v in values]
        rows.append("\t".join([str(number), f'"{name}"', *cells]))
    return CGATS.format(
        geometry=geometry,
        fields=2 + len(NM),
        heads="\t".join(head.format(nm=nm) for nm in NM),
        sets=len(rows),
        rows="\n".join(rows),
    )


def written(tmp_path: Path, text: str | bytes, name: str = "readings.txt") -> Path:
    path = tmp_path / name
    path.write_bytes(text.encode() if isinstance(text, str) else text)
    return path


@pytest.mark.parametrize("head", ["SPECTRAL_NM{nm}", "SPECTRAL_{nm}", "NM_{nm}", "R_{nm}nm"])
@pytest.mark.parametrize("comma", [False, True])
def test_cgats(head: str, comma: bool, tmp_path: Path) -> None:
    text = cgats({"over black": curve(NM), "over white": curve(NM) + 0.1}, head=head, comma=comma)
    text = text.replace("END_DATA\n", "\nEND_DATA\n")  # blank lines mean nothing
    file = read_spectra(written(tmp_path, text))
    assert file.names() == ("over black", "over white")
    assert (file.scale, file.is_scale_sure) == (Scale.FRACTION, True)
    assert file.geometry is Geometry.FORTY_FIVE_ZERO
    assert np.allclose(on_bands(file.spectra[1], file.scale).values, curve(NM) + 0.1, atol=1e-6)


@pytest.mark.parametrize("line", ["", "NUMBER_OF_SETS", "NUMBER_OF_SETS many", "NUMBER_OF_SETS 1"])
def test_more_rows_than_told_are_all_taken(line: str, tmp_path: Path) -> None:
    text = cgats({"a": curve(NM), "b": curve(NM)}).replace("NUMBER_OF_SETS\t2", line)
    assert read_spectra(written(tmp_path, text)).names() == ("a", "b")


@pytest.mark.parametrize(
    ("words", "geometry"),
    [
        ("d/8 di:8", Geometry.INCLUDED),
        ("de:8", Geometry.EXCLUDED),
        ("sphere, specular included", Geometry.INCLUDED),
        ("Specular component excluded", Geometry.EXCLUDED),
        ("0/45a", Geometry.FORTY_FIVE_ZERO),
        ("sphere", None),
        ("SCI and SCE", None),
    ],
)
def test_geometry_is_told_or_asked(words: str, geometry: Geometry | None, tmp_path: Path) -> None:
    text = cgats({"a": curve(NM)}, geometry=words)
    assert read_spectra(written(tmp_path, text)).geometry is geometry


def test_cgats_with_pairs_of_fields(tmp_path: Path) -> None:
    heads = "\t".join(["SPECTRAL_NM\tSPECTRAL_PCT"] * len(NM))
    cells = "\t".join(f"{nm}\t{0.01 * v:.4f}" for nm, v in zip(NM, 100 * curve(NM), strict=True))
    text = CGATS.format(geometry="", fields=9, heads=heads, sets=1, rows=f"1\ta\t{cells}")
    file = read_spectra(written(tmp_path, text))
    # The field says per cent, whatever the numbers look like.
    assert (file.scale, file.is_scale_sure) == (Scale.PER_CENT, True)
    assert file.spectra[0].wavelengths_nm == tuple(NM)


def test_cgats_decimal_field_and_tables_of_colours_only(tmp_path: Path) -> None:
    colours = "BEGIN_DATA_FORMAT\nSAMPLE_ID LAB_L\nEND_DATA_FORMAT\nBEGIN_DATA\n1 50\nEND_DATA\n"
    text = colours + cgats({"a": curve(NM)}, head="SPECTRAL_DEC_{nm}").replace(
        "SAMPLE_ID\tSAMPLE_NAME", "OTHER\tELSE"
    )
    file = read_spectra(written(tmp_path, text))
    assert file.names() == ("sample 1",)
    assert file.scale is Scale.FRACTION
    with pytest.raises(DamagedFileError, match="holds no spectra; export spectral"):
        read_spectra(written(tmp_path, colours))


@pytest.mark.parametrize("mark", [",", ";", "\t"])
@pytest.mark.parametrize("across", [True, False])
@pytest.mark.parametrize("comma", [False, True])
def test_tables(mark: str, across: bool, comma: bool, tmp_path: Path) -> None:
    if comma and mark == ",":
        return  # such a file parts numbers and cells alike
    named = {"over black": 100 * curve(NM), "over white": 100 * curve(NM) + 10}
    columns = [["nm", *named], *([nm, *(v[i] for v in named.values())] for i, nm in enumerate(NM))]
    table = list(zip(*columns, strict=True)) if across else columns

    def cell(value: object) -> str:
        text = f"{value:.4f}" if isinstance(value, float) else str(value)
        return text.replace(".", "," if comma else ".")

    lines = [mark.join(cell(v) for v in row) for row in table]
    text = "\n".join(["reading of a card", "", *lines, ""])
    file = read_spectra(written(tmp_path, text, "r.csv"))
    assert file.names() == ("over black", "over white")
    assert (file.scale, file.is_scale_sure) == (Scale.PER_CENT, True)
    assert file.geometry is None
    assert np.allclose(on_bands(file.spectra[0], file.scale).values, curve(NM), atol=1e-6)


def test_tables_without_names(tmp_path: Path) -> None:
    down = "\n".join(f"{nm};{v:.4f};" for nm, v in zip(NM, curve(NM), strict=True))
    assert read_spectra(written(tmp_path, down)).names() == ("sample 1",)
    across = ",".join(f"{nm} nm" for nm in NM) + "\n" + ",".join(f"{v:.4f}" for v in curve(NM))
    assert read_spectra(written(tmp_path, across)).names() == ("sample 1",)
    numbered = "," + ",".join(f"R{nm}" for nm in NM) + "\n7," + ",".join(["0.5"] * len(NM))
    assert read_spectra(written(tmp_path, numbered)).names() == ("7",)


def test_other_encodings(tmp_path: Path) -> None:
    text = cgats({"weiß": curve(NM)})
    for encoding in ("utf-8-sig", "utf-16", "cp1252"):
        file = read_spectra(written(tmp_path, text.encode(encoding)))
        assert file.names() == ("weiß",)


@pytest.mark.parametrize(
    ("largest", "scale", "sure"),
    [(0.9, Scale.FRACTION, True), (1.3, Scale.FRACTION, False), (0.015, Scale.FRACTION, False),
     (85.0, Scale.PER_CENT, True), (1.6, Scale.PER_CENT, True)],
)  # fmt: skip
def test_the_scale_is_told_or_asked(
    largest: float, scale: Scale, sure: bool, tmp_path: Path
) -> None:
    file = read_spectra(written(tmp_path, cgats({"a": largest * curve(NM) / curve(NM).max()})))
    assert (file.scale, file.is_scale_sure) == (scale, sure)


TM27 = """<?xml version="1.0" encoding="UTF-8"?>
<IESTM2714 xmlns="iestm2714" version="1.0">
  <Header><Description>over black</Description></Header>
  <SpectralDistribution>
    <SpectralQuantity>{quantity}</SpectralQuantity>
    <ReflectionGeometry>de:8</ReflectionGeometry>
{rows}
  </SpectralDistribution>
</IESTM2714>
"""


def tm27(quantity: str = "reflectance") -> str:
    rows = "\n".join(
        f'    <SpectralData wavelength="{nm}">{v:.6f}</SpectralData>'
        for nm, v in zip(NM, curve(NM), strict=True)
    )
    return TM27.format(quantity=quantity, rows=rows)


def test_tm27(tmp_path: Path) -> None:
    file = read_spectra(written(tmp_path, tm27(), "a.spdx"))
    assert file.names() == ("over black",)
    assert file.geometry is Geometry.EXCLUDED
    assert np.allclose(on_bands(file.spectra[0], file.scale).values, curve(NM), atol=1e-6)


BAD: dict[str, tuple[str | bytes, str]] = {
    "empty": (b"  \n", "The file is empty"),
    "binary noise": (np.random.default_rng(1).bytes(4000), "not a text file of readings"),
    "odd bytes": (struct.pack("<100d", *range(100)), "not a text file of readings"),
    "words": ("primer, wash, glaze\n", "No table of spectra is found"),
    "cut short": (cgats({"a": curve(NM)})[:-12], "cut short: there is no END_DATA"),
    "rows missing": (
        cgats({"a": curve(NM), "b": curve(NM)}).replace("SETS\t2", "SETS\t9"),
        "cut short: NUMBER_OF_SETS promises 9 readings, but the table holds 2; export it again.",
    ),
    "rows missing from the second table": (
        cgats({"a": curve(NM)}) + cgats({"b": curve(NM)}).replace("SETS\t1", "SETS\t2"),
        "promises 2 readings, but the table holds 1",
    ),
    "twins": (
        cgats({"a": curve(NM), "b": curve(NM)}).replace('"b"', '"a"'),
        'Two samples have the name "a"; give each a name of its own',
    ),
    "no number": (
        cgats({"a": curve(NM)}).replace("0.05", "red", 1),
        "is no number",
    ),
    "a cell too few": (cgats({"a": curve(NM)}).replace("1\t", "", 1), "37 cells for 38 fields"),
    "wrong unit": (cgats({"a": 1e4 * curve(NM)}), "neither a fraction nor per cent"),
    "a hole in a table": (
        "nm;a\n" + "\n".join(f"{nm};{'' if nm == 550 else 0.5}" for nm in NM),
        "line 19, column 2: A value is missing; complete the row",
    ),
    "a word in a table": (
        "nm;a\n" + "\n".join(f"{nm};{'x' if nm == 550 else 0.5}" for nm in NM),
        '"x" is no number',
    ),
    "twice": (
        "nm;a\n" + "\n".join(f"{nm};0.5" for nm in [*NM, 550]),
        "do not rise, or one stands twice",
    ),
    "heading alone": (";".join(str(nm) for nm in NM), "The table holds no readings"),
    "entities": ("<!DOCTYPE IESTM2714>\n" + tm27().split("\n", 1)[1], "declares entities"),
    "a cell without end": ("nm;a\n" + 200_000 * "x" + ";1\n", "The table cannot be read"),
    "broken XML": (tm27()[:-30], "no TM-27 file, or it is damaged"),
    "a lamp": (tm27("radiance"), "holds radiance, not reflectance"),
}


@pytest.mark.parametrize("kind", BAD)
def test_bad_files_are_one_sentence(kind: str, tmp_path: Path) -> None:
    data, words = BAD[kind]
    path = written(tmp_path, data)
    with pytest.raises(SchemeForgeError) as told:
        read_spectra(path)
    assert str(told.value).startswith(f"{path}: ")
    assert words in str(told.value)
    assert "\n" not in str(told.value)


def test_places_that_are_no_files(tmp_path: Path) -> None:
    with pytest.raises(MissingFileError, match="cannot be opened"):
        read_spectra(tmp_path / "none.txt")
    with pytest.raises(MissingFileError, match="This is not a file"):
        read_spectra(tmp_path)


def test_large_files_are_refused(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    from schemeforge.measurement import cgats as format_
    from schemeforge.measurement import plain_text, table

    monkeypatch.setattr(plain_text, "MOST_BYTES", 1000)
    with pytest.raises(DamagedFileError, match="larger than 0 MB"):
        read_spectra(written(tmp_path, cgats({"a": curve(NM)})))
    monkeypatch.undo()
    monkeypatch.setattr(format_, "MOST_SPECTRA", 1)
    with pytest.raises(DamagedFileError, match="more than 1 readings"):
        read_spectra(written(tmp_path, cgats({"a": curve(NM), "b": curve(NM)})))
    monkeypatch.setattr(table, "_MOST_CELLS", 10)
    with pytest.raises(DamagedFileError, match="The table is too large"):
        read_spectra(written(tmp_path, "nm;a\n" + "\n".join(f"{nm};0.5" for nm in NM)))


def test_all_bands_are_those_of_the_engine() -> None:
    assert tuple(NM) == tuple(bands.wavelengths_nm())
