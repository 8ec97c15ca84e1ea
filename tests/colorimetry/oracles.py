"""What the tests of colorimetry compare with: two libraries, and an integration of our own."""

import csv
import warnings
from functools import lru_cache
from importlib import import_module
from typing import Any

import numpy as np
from numpy.typing import NDArray

from schemeforge.resources import shared

NM = np.arange(360.0, 831.0)
BAND_PLACES = slice(20, 371, 10)  # 380, 390, ... 730 nm among them

Floats = NDArray[np.float64]
AnyFloats = NDArray[np.floating[Any]]


@lru_cache(maxsize=1)
def colour_science() -> Any:
    """The library colour-science; only its import may warn, of optional libraries missing."""
    with warnings.catch_warnings():
        warnings.simplefilter("ignore")
        return import_module("colour")


@lru_cache(maxsize=4)
def observer_table(degrees: int) -> Floats:
    """CIE 1931 or 1964 colour-matching functions at every nm, straight from colour-science."""
    titles = {
        2: "CIE 1931 2 Degree Standard Observer",
        10: "CIE 1964 10 Degree Standard Observer",
    }
    colour = colour_science()
    table = colour.MSDS_CMFS[titles[degrees]].copy().align(colour.SpectralShape(360, 830, 1))
    return np.asarray(table.values, dtype=np.float64)


@lru_cache(maxsize=32)
def light_table(name: str) -> Floats:
    """CIE relative power at every nm, straight from colour-science."""
    spectrum = colour_science().SDS_ILLUMINANTS[name]
    return np.asarray(np.interp(NM, spectrum.wavelengths, spectrum.values))


def integrate(reflectance: Floats, light: str, degrees: int) -> Floats:
    """XYZ of ``(..., 471)`` by plain sums at every nm, Y of the white 1, not adapted."""
    seen = light_table(light)[:, None] * observer_table(degrees)
    return np.asarray(reflectance @ seen / seen[:, 1].sum())


def smooth_spectra(seed: int, count: int, *, narrowest_nm: float = 25.0) -> Floats:
    """Random smooth reflectances ``(count, 471)``: four Gaussian features through a sigmoid.

    The features have standard deviations of 25 to 100 nm, as broad as those of paints, or as
    narrow as asked for, and centres within the bands.
    """
    rng = np.random.default_rng(seed)
    level = rng.normal(0, 1.5, (count, 1))
    for _ in range(4):
        centre = rng.uniform(380, 730, (count, 1))
        width = rng.uniform(narrowest_nm, 100, (count, 1))
        level = level + rng.normal(0, 2, (count, 1)) * np.exp(-(((NM - centre) / width) ** 2) / 2)
    return np.asarray(1 / (1 + np.exp(-level)))


def random_lab(seed: int, count: int) -> Floats:
    """Random CIELAB colours ``(count, 3)`` around the colours of surfaces."""
    rng = np.random.default_rng(seed)
    return rng.uniform([1, -90, -90], [99, 90, 90], (count, 3))


def check_rows(name: str) -> list[dict[str, str]]:
    """Rows of a file of check values."""
    with shared("checks", name).open(encoding="utf-8", newline="") as stream:
        return list(csv.DictReader(stream))
