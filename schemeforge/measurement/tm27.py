"""A reading from IES TM-27 XML, read by colour-science [IESTM27]."""

import warnings
from pathlib import Path
from xml.etree import ElementTree as ET

from schemeforge.errors import DamagedFileError
from schemeforge.measurement.spectra import Geometry, Scale, Spectrum

_GEOMETRIES = {
    "di:8": Geometry.INCLUDED,
    "8:di": Geometry.INCLUDED,
    "de:8": Geometry.EXCLUDED,
    "8:de": Geometry.EXCLUDED,
    "45a:0": Geometry.FORTY_FIVE_ZERO,
    "45c:0": Geometry.FORTY_FIVE_ZERO,
    "45x:0": Geometry.FORTY_FIVE_ZERO,
    "0:45a": Geometry.FORTY_FIVE_ZERO,
    "0:45x": Geometry.FORTY_FIVE_ZERO,
}
_KINDS = frozenset({"reflectance", "R-Factor"})


def is_tm27(data: bytes) -> bool:
    """True for XML whose root looks like such a file."""
    return data.lstrip(b"\xef\xbb\xbf \t\r\n").startswith(b"<") and b"IESTM2714" in data[:4096]


def from_tm27(data: bytes, path: Path) -> tuple[list[Spectrum], Scale | None, Geometry | None]:
    """The spectrum, its scale where beyond doubt, and its geometry where told.

    Raises:
        DamagedFileError: For XML that is not well formed, declares entities, or is no reflectance.
    """
    if b"<!DOCTYPE" in data or b"<!ENTITY" in data:
        # Entities could unfold without end, or point at other files.
        raise DamagedFileError(
            "The file declares entities, which a reading has no use for",
            remedy="export it again without them",
        )
    with warnings.catch_warnings():
        warnings.simplefilter("ignore")  # of optional parts of the library that are not needed
        from colour import SpectralDistribution_IESTM2714

        try:
            read = SpectralDistribution_IESTM2714(str(path)).read()
            nm = [float(v) for v in read.wavelengths]
            values = [float(v) for v in read.values]
        except (ET.ParseError, ValueError, KeyError, TypeError, AttributeError):
            raise DamagedFileError(
                "This is no TM-27 file, or it is damaged", remedy="export it again"
            ) from None
    quantity = read.spectral_quantity
    if quantity is not None and quantity not in _KINDS:
        raise DamagedFileError(
            f"The file holds {quantity}, not reflectance", remedy="export reflectance"
        )
    title = str(read.header.description or read.header.catalog_number or "").strip() or path.stem
    spectrum = Spectrum(name=title, wavelengths_nm=tuple(nm), values=tuple(values))
    return [spectrum], None, _GEOMETRIES.get(str(read.reflection_geometry))
