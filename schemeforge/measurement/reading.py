"""Reads an instrument's file, whatever its kind."""

from pathlib import Path

from schemeforge.errors import InputError, SchemeForgeError, shown
from schemeforge.measurement.cgats import from_cgats, geometry_in, is_cgats
from schemeforge.measurement.plain_text import as_text, read_bytes
from schemeforge.measurement.spectra import (
    Geometry,
    Scale,
    SpectraFile,
    Spectrum,
    scale_of,
)
from schemeforge.measurement.table import from_table
from schemeforge.measurement.tm27 import from_tm27, is_tm27


def read_spectra(path: Path) -> SpectraFile:
    """The readings of a CGATS.17 / ISO 28178 text, an IES TM-27 XML or a CSV file.

    What the file is shows in its content, not in its name.

    Raises:
        SchemeForgeError: One sentence that names the file and the place in it.
    """
    try:
        return _read(read_bytes(path), path)
    except SchemeForgeError as error:
        raise error.at(str(path)) from None


def _read(data: bytes, path: Path) -> SpectraFile:
    spectra: list[Spectrum]
    told: Scale | None = None
    geometry: Geometry | None
    if is_tm27(data):
        spectra, told, geometry = from_tm27(data, path)
    else:
        text = as_text(data)
        if is_cgats(text):
            spectra, told, geometry = from_cgats(text)
        else:
            spectra, geometry = from_table(text), geometry_in(text)
    _refuse_twins(spectra)
    scale, sure = scale_of(spectra)
    if told is not None:
        scale, sure = told, True
    return SpectraFile(spectra=tuple(spectra), scale=scale, is_scale_sure=sure, geometry=geometry)


def _refuse_twins(spectra: list[Spectrum]) -> None:
    names: set[str] = set()
    for spectrum in spectra:
        if spectrum.name in names:
            raise InputError(
                f'Two samples have the name "{shown(spectrum.name)}"',
                remedy="give each a name of its own",
            )
        names.add(spectrum.name)
