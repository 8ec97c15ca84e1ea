"""Lights, observers, and the weights that turn 36 bands of reflectance into tristimulus values.

The 1 nm tables (360 to 830 nm) lie in ``assets/tables/colorimetry.npz``; a script in
``assets/scripts`` makes that file from the CIE data in colour-science, which is never imported on
the way to a window. Weights are made from the 1 nm tables in the manner of ASTM E308 [ASTME308]:
reflectance between two bands is interpolated, and outside 380 to 730 nm it is that of the end
band, whose weight therefore takes in the tails. Interpolation is by cubic spline, since the
Lagrange polynomials of [ASTME2022] err several times as much on the smooth spectra of paint; plain
sampling at 10 nm would err by several CIEDE2000 under hall tubes.
"""

import zlib
from dataclasses import dataclass
from functools import lru_cache
from typing import Literal, TypeAlias, cast
from zipfile import BadZipFile

import numpy as np
from numpy.typing import NDArray

from schemeforge.errors import DamagedFileError, InputError, UnknownNameError
from schemeforge.optics import bands
from schemeforge.resources import asset

Observer: TypeAlias = Literal[2, 10]

FIRST_NM = 360
LAST_NM = 830
TABLE_FILE = "colorimetry.npz"


@dataclass(frozen=True, slots=True, kw_only=True)
class Light:
    """A light of the tables: its CIE name, a label in plain words, and a note on what it is."""

    name: str
    label: str
    note: str


# Correlated colour temperatures in the notes are those of the CIE tables themselves.
LIGHTS = (
    Light(name="D65", label="daylight", note="average daylight, 6500 K; the light of reference"),
    Light(name="D50", label="daylight (warm)", note="daylight towards evening, 5000 K"),
    Light(name="A", label="light bulb", note="filament lamp, 2856 K"),
    Light(name="LED-B1", label="white LED (warm)", note="blue LED with phosphor, 2700 K"),
    Light(name="LED-B3", label="white LED", note="blue LED with phosphor, 4100 K"),
    Light(name="LED-B4", label="desk lamp", note="blue LED with phosphor, 5100 K"),
    Light(name="LED-B5", label="desk lamp (daylight)", note="blue LED with phosphor, 6600 K"),
    Light(name="LED-V1", label="desk lamp (warm)", note="violet LED with full phosphor, 2700 K"),
    Light(name="FL2", label="hall tubes", note="plain fluorescent tubes, 4200 K"),
    Light(name="FL7", label="daylight tubes", note="broad-band fluorescent tubes, 6500 K"),
    Light(name="FL11", label="shop tubes", note="three-band fluorescent tubes, 4000 K"),
    Light(name="FL12", label="shop tubes (warm)", note="three-band fluorescent tubes, 3000 K"),
)


@dataclass(frozen=True, slots=True, kw_only=True)
class SpectralLight:
    """A light given by its own spectrum: relative power at rising wavelengths in nm.

    The wavelengths reach from 400 nm or below to 700 nm or above in steps of at most 20 nm;
    between them the power runs straight, outside them it is that of the nearest one [CIE15].

    Raises:
        InputError: where the spectrum does not, or a power is negative, or none is above zero.
    """

    name: str
    wavelengths_nm: tuple[float, ...]
    power: tuple[float, ...]

    def __post_init__(self) -> None:
        where = f'light "{self.name}"'
        if len(self.wavelengths_nm) != len(self.power):
            raise InputError(
                f"There are {len(self.wavelengths_nm)} wavelengths but {len(self.power)} powers",
                where=where,
                remedy="give one power for each wavelength",
            )
        nm = np.asarray(self.wavelengths_nm, dtype=np.float64)
        power = np.asarray(self.power, dtype=np.float64)
        if not (np.isfinite(nm).all() and np.isfinite(power).all()):
            raise InputError(
                "The spectrum holds a number that is not finite",
                where=where,
                remedy="give finite wavelengths and powers",
            )
        steps = np.diff(nm)
        if nm.size < 2 or (steps <= 0).any() or (steps > 20).any():
            raise InputError(
                "The wavelengths do not rise in steps of at most 20 nm",
                where=where,
                remedy="sort them and leave no gap",
            )
        if nm[0] > 400 or nm[-1] < 700:
            raise InputError(
                f"The spectrum reaches only from {nm[0]:g} to {nm[-1]:g} nm",
                where=where,
                remedy="give at least 400 to 700 nm",
            )
        if (power < 0).any() or not (power > 0).any():
            raise InputError(
                "The power is negative somewhere, or zero everywhere",
                where=where,
                remedy="give powers of zero or more",
            )


LightLike: TypeAlias = str | SpectralLight


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Weights:
    """Weights of one light and observer: XYZ = reflectance @ matrix.

    Attributes:
        matrix: float64 of shape ``(36, 3)``, read-only; the Y column sums to 1.
        white: XYZ of the light itself, shape ``(3,)``, read-only, Y = 1: the sums of the columns,
            so that a reflectance of 1 gives exactly the white up to rounding.
    """

    matrix: NDArray[np.float64]
    white: NDArray[np.float64]


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Tables:
    """The 1 nm tables, 360 to 830 nm: observers ``(471, 3)`` by degree, powers ``(471,)`` by name.

    ``cvd`` is colour-vision deficiency: severity in 11 steps by kind, see `vision`.
    """

    observers: dict[int, NDArray[np.float64]]
    powers: dict[str, NDArray[np.float64]]
    cvd: NDArray[np.float64]


def lights() -> tuple[Light, ...]:
    """The lights of the tables, in the order to offer them."""
    return LIGHTS


def light_names() -> tuple[str, ...]:
    """Names of the lights of the tables, in the order to offer them."""
    return tuple(light.name for light in LIGHTS)


@lru_cache(maxsize=1)
def tables() -> Tables:
    """The 1 nm tables; read once, a few milliseconds.

    Raises:
        DamagedFileError: where the file is not what the script made.
    """
    path = asset("tables", TABLE_FILE)
    try:
        # Opened here, since numpy leaves a damaged file open.
        with path.open("rb") as stream, np.load(stream, allow_pickle=False) as held:
            names = [str(name) for name in held["names"]]
            powers = _frozen(held["powers"])
            observers = {2: _frozen(held["observer_2"]), 10: _frozen(held["observer_10"])}
            cvd = _frozen(held["cvd"])
    except (OSError, ValueError, KeyError, TypeError, EOFError, BadZipFile, zlib.error) as error:
        raise DamagedFileError(
            "The colour tables cannot be read", where=str(path), remedy="install the program again"
        ) from error
    count = LAST_NM - FIRST_NM + 1
    if powers.shape != (len(names), count) or set(names) != set(light_names()):
        raise DamagedFileError(
            "The colour tables do not hold the lights of this version",
            where=str(path),
            remedy="install the program again",
        )
    return Tables(observers=observers, powers=dict(zip(names, powers, strict=True)), cvd=cvd)


def weights(light: LightLike = "D65", observer: int = 2) -> Weights:
    """Weights of a light and an observer for reflectance on the 36 bands, Y of the white 1.

    Args:
        light: A name of `lights`, or a spectrum of the user's own.
        observer: 2 (CIE 1931) or 10 (CIE 1964) degrees.

    Raises:
        UnknownNameError: for a light or an observer that does not exist.
    """
    return _weights(light, checked_observer(observer))


def checked_observer(observer: int) -> Observer:
    """The observer, 2 or 10; raises UnknownNameError for another."""
    if observer not in (2, 10):
        raise UnknownNameError("observer", str(observer), ("2", "10"))
    return cast("Observer", int(observer))


@lru_cache(maxsize=64)
def _weights(light: LightLike, observer: Observer) -> Weights:
    power = spectral_power(light)
    seen = power[:, None] * tables().observers[observer]
    matrix = interpolation().T @ seen
    matrix /= matrix[:, 1].sum()
    return Weights(matrix=_frozen(matrix), white=_frozen(matrix.sum(axis=0)))


def spectral_power(light: LightLike) -> NDArray[np.float64]:
    """Relative power at every nm from 360 to 830, shape ``(471,)``.

    Raises:
        UnknownNameError: for a name that is not among `lights`.
    """
    if isinstance(light, SpectralLight):
        return _at_every_nm(light)
    try:
        return tables().powers[light]
    except (KeyError, TypeError):
        raise UnknownNameError("light", str(light), light_names()) from None


def _at_every_nm(light: SpectralLight) -> NDArray[np.float64]:
    """A user's spectrum at every nm, shape ``(471,)``.

    The straight line between its points, or, where it is finer than 1 nm, the mean over each nm,
    lest a narrow line fall between two samples.
    """
    nm = np.asarray(light.wavelengths_nm, dtype=np.float64)
    power = np.asarray(light.power, dtype=np.float64)
    whole = np.arange(FIRST_NM, LAST_NM + 1, dtype=np.float64)
    if np.diff(nm).min() >= 1:
        return np.interp(whole, nm, power)
    edges = np.append(whole - 0.5, LAST_NM + 0.5)
    knots = np.union1d(edges, nm)
    height = np.interp(knots, nm, power)
    area = np.concatenate(([0.0], np.cumsum(np.diff(knots) * (height[1:] + height[:-1]) / 2)))
    return np.diff(area[np.searchsorted(knots, edges)])


@lru_cache(maxsize=1)
def interpolation() -> NDArray[np.float64]:
    """Matrix ``(471, 36)`` from reflectance on the bands to reflectance at every nm, 360 to 830.

    The cubic spline through the bands that is level at both ends [deBoor1978], and the end bands
    held outside them. Each row sums to 1.
    """
    # Slopes at the bands: m[i-1] + 4 m[i] + m[i+1] = 3 (R[i+1] - R[i-1]) / step, level at the ends.
    inner = np.eye(bands.COUNT)
    system = 4 * inner + np.eye(bands.COUNT, k=1) + np.eye(bands.COUNT, k=-1)
    rises = 3 * (np.eye(bands.COUNT, k=1) - np.eye(bands.COUNT, k=-1))
    for end in (0, -1):
        system[end] = inner[end]
        rises[end] = 0
    slopes = np.linalg.solve(system, rises)
    nm = np.clip(np.arange(FIRST_NM, LAST_NM + 1), bands.FIRST_NM, bands.LAST_NM)
    left = np.minimum((nm - bands.FIRST_NM) // bands.STEP_NM, bands.COUNT - 2)
    x = ((nm - bands.FIRST_NM) / bands.STEP_NM - left)[:, None]
    matrix = (
        (1 + 2 * x) * (1 - x) ** 2 * inner[left]
        + x**2 * (3 - 2 * x) * inner[left + 1]
        + x * (1 - x) ** 2 * slopes[left]
        - x**2 * (1 - x) * slopes[left + 1]
    )
    return _frozen(matrix)


def _frozen(array: NDArray[np.float64]) -> NDArray[np.float64]:
    held = np.ascontiguousarray(array, dtype=np.float64)
    held.flags.writeable = False
    return held
