"""A light of the painter's own, read from a file of wavelengths and powers."""

from pathlib import Path

from schemeforge.colorimetry import light_names
from schemeforge.colorimetry.tables import SpectralLight
from schemeforge.errors import InputError, SchemeForgeError
from schemeforge.scheme import UserLight
from schemeforge.scheme.edits import fresh_name


def read_light(path: Path) -> UserLight:
    """The light whose spectrum a text file holds: wavelength in nm and power, a pair a line.

    It is named after the file. Comma, semicolon or tab stands between the two.

    Raises:
        SchemeForgeError: One sentence that names the file, what is wrong with it, and the remedy.
    """
    from schemeforge.measurement import read_spectra

    try:
        spectra = read_spectra(path).spectra
        if len(spectra) != 1:
            raise InputError(
                f"The file holds {len(spectra)} spectra",
                remedy="leave one column of wavelengths in nm and one of power",
            )
        (read,) = spectra
        name = fresh_name(" ".join(path.stem.split()) or "own light", light_names())
        # Held against what predictions need before it gets into the project.
        SpectralLight(name=name, wavelengths_nm=read.wavelengths_nm, power=read.values)
        return UserLight(name=name, wavelengths_nm=read.wavelengths_nm, power=read.values)
    except SchemeForgeError as error:
        raise error.at(str(path)) from None
