"""Reading what instruments and cameras wrote: files in, reflectances and linear pictures out."""

from schemeforge.measurement.photograph import Photograph, read_photograph
from schemeforge.measurement.reading import read_spectra
from schemeforge.measurement.spectra import (
    Geometry,
    Reflectance,
    Scale,
    SpectraFile,
    Spectrum,
    on_bands,
)

__all__ = [
    "Geometry",
    "Photograph",
    "Reflectance",
    "Scale",
    "SpectraFile",
    "Spectrum",
    "on_bands",
    "read_photograph",
    "read_spectra",
]
