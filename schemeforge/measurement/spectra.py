"""Spectra as a file gave them, and their way onto the program's bands."""

from collections.abc import Sequence
from dataclasses import dataclass
from enum import StrEnum
from typing import Final

import numpy as np
from numpy.typing import NDArray

from schemeforge import optics
from schemeforge.errors import InputError, ReadingError, shown
from schemeforge.optics import bands

Floats = NDArray[np.float64]

WIDEST_STEP_NM: Final = 20.0
FIRST_NEEDED_NM, LAST_NEEDED_NM = 400.0, 700.0
MOST_SPECTRA: Final = 10_000
_MOST: Final = 1.2  # reflectance beyond which the unit must be another, or the paint fluoresces
_NEGATIVE_NOISE: Final = 0.002  # below zero by so little is an instrument's dark noise
_PER_CENT_FROM: Final = 1.5
_DOUBTFUL: Final = (0.02, 1.02)  # largest value of a file outside which fractions are in doubt


class Scale(StrEnum):
    """What the numbers of a file count."""

    FRACTION = "fractions from 0 to 1"
    PER_CENT = "per cent"

    @property
    def divisor(self) -> float:
        """What turns a number into a fraction."""
        return 100.0 if self is Scale.PER_CENT else 1.0


class Geometry(StrEnum):
    """How the instrument treats the surface's own reflection."""

    INCLUDED = "specular included"
    EXCLUDED = "specular excluded"
    FORTY_FIVE_ZERO = "45/0"

    @property
    def surface(self) -> optics.Surface:
        """The surface under which such an instrument reads."""
        return _SURFACES[self]


_SURFACES: Final = {
    Geometry.INCLUDED: optics.SPECULAR_INCLUDED,
    Geometry.EXCLUDED: optics.SPECULAR_EXCLUDED,
    Geometry.FORTY_FIVE_ZERO: optics.FORTY_FIVE_ZERO,
}


@dataclass(frozen=True, slots=True, kw_only=True)
class Spectrum:
    """One reading as the file has it: rising wavelengths in nm, values in the file's own scale.

    Raises:
        InputError: For wavelengths that stand twice, or another number of values.
    """

    name: str
    wavelengths_nm: tuple[float, ...]
    values: tuple[float, ...]

    def __post_init__(self) -> None:
        if len(self.wavelengths_nm) != len(self.values):
            raise InputError(
                f"There are {len(self.values)} values for {len(self.wavelengths_nm)} wavelengths",
                where=self.where,
                remedy="complete the row",
            )
        nm = np.array(self.wavelengths_nm)
        if nm.size < 2 or not np.isfinite(nm).all() or not (np.diff(nm) > 0).all():
            raise InputError(
                "The wavelengths do not rise, or one stands twice",
                where=self.where,
                remedy="sort them and give each once",
            )

    @property
    def where(self) -> str:
        """How a sentence names it."""
        return f'sample "{shown(self.name)}"'


@dataclass(frozen=True, slots=True, kw_only=True)
class SpectraFile:
    """Everything that a file of readings holds.

    Args:
        spectra: In the order of the file, each under a name of its own.
        scale: What the numbers seem to count.
        is_scale_sure: False where the painter should be asked.
        geometry: As the file tells it; None where the painter must be asked.
    """

    spectra: tuple[Spectrum, ...]
    scale: Scale
    is_scale_sure: bool
    geometry: Geometry | None = None

    def names(self) -> tuple[str, ...]:
        """Names of the samples."""
        return tuple(spectrum.name for spectrum in self.spectra)


@dataclass(frozen=True, slots=True, kw_only=True)
class Reflectance:
    """A reading on the program's 36 bands.

    Args:
        name: The sample's.
        values: Reflectance as read, fractions.
        unsure_nm: Bands beyond what the instrument reads: the nearest reading carried on.
    """

    name: str
    values: tuple[float, ...]
    unsure_nm: tuple[int, ...] = ()


def scale_of(spectra: Sequence[Spectrum]) -> tuple[Scale, bool]:
    """What the numbers of a file count, and whether that is beyond doubt.

    Raises:
        InputError: For numbers that are neither fractions nor per cent.
    """
    largest = max(max(spectrum.values) for spectrum in spectra)
    if largest > 100 * _MOST:
        raise InputError(
            f"The largest value is {largest:g}, neither a fraction nor per cent",
            remedy="export reflectance from 0 to 1 or from 0 to 100",
        )
    if largest > _PER_CENT_FROM:
        return Scale.PER_CENT, True
    return Scale.FRACTION, _DOUBTFUL[0] <= largest <= _DOUBTFUL[1]


def on_bands(spectrum: Spectrum, scale: Scale) -> Reflectance:
    """The reading on the program's bands.

    Steps finer than 10 nm are averaged under a triangle of 10 nm half width, as a band of an
    instrument sees them; others are interpolated by a cubic spline [deBoor1978], which leaves a
    reading that stands on the bands as it is. Beyond its ends the nearest value is carried on.

    Raises:
        ReadingError: For a gap, a range short of 400 to 700 nm, or a value no surface has; names
            sample and wavelength.
    """
    nm = np.array(spectrum.wavelengths_nm)
    R = np.array(spectrum.values) / scale.divisor
    _check_range(spectrum, nm)
    _check_values(spectrum, nm, R)
    R = np.clip(R, 0.0, 1.0)
    wanted = bands.wavelengths_nm()
    within = np.clip(wanted, nm[0], nm[-1])
    fine = float(np.median(np.diff(nm))) < bands.STEP_NM * 0.75
    values = _averaged(nm, R, within) if fine else _splined(nm, R, within)
    unsure = (wanted < nm[0]) | (wanted > nm[-1])
    return Reflectance(
        name=spectrum.name,
        values=tuple(float(v) for v in np.clip(values, 0.0, 1.0)),
        unsure_nm=tuple(int(v) for v in wanted[unsure]),
    )


def _check_range(spectrum: Spectrum, nm: Floats) -> None:
    if nm[0] > FIRST_NEEDED_NM or nm[-1] < LAST_NEEDED_NM:
        raise ReadingError(
            f"The reading only reaches from {nm[0]:g} to {nm[-1]:g} nm",
            where=spectrum.where,
            remedy="read at least 400 to 700 nm",
        )
    steps = np.diff(nm)
    widest = int(np.argmax(steps))
    if steps[widest] > WIDEST_STEP_NM + 1e-6:
        raise ReadingError(
            f"Bands are missing between {nm[widest]:g} and {nm[widest + 1]:g} nm",
            where=spectrum.where,
            remedy="export every band, in steps of 20 nm or finer",
        )


def _check_values(spectrum: Spectrum, nm: Floats, R: Floats) -> None:
    for bad, what, remedy in (
        (~np.isfinite(R), "no number", "export it again"),
        (R < -_NEGATIVE_NOISE, "negative", "calibrate the instrument's black and read again"),
        (R > _MOST, "more than a surface gives back", "check the unit and the white calibration"),
    ):
        if bad.any():
            place = int(np.argmax(bad))
            raise ReadingError(
                f"The value at {nm[place]:g} nm, {spectrum.values[place]:g}, is {what}",
                where=spectrum.where,
                remedy=remedy,
            )


def _averaged(nm: Floats, R: Floats, wanted: Floats) -> Floats:
    """Means under a triangle about each wavelength, each reading weighted by its own width."""
    widths = np.gradient(nm)
    triangle = np.maximum(1 - np.abs(nm[None, :] - wanted[:, None]) / bands.STEP_NM, 0.0)
    weights = triangle * widths
    return np.asarray((weights @ R) / weights.sum(axis=1))


def _splined(nm: Floats, R: Floats, wanted: Floats) -> Floats:
    from scipy.interpolate import CubicSpline

    return np.asarray(CubicSpline(nm, R)(wanted), dtype=np.float64)
