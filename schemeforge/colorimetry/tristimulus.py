"""From reflectance to XYZ adapted to daylight, and on to CIELAB and OKLab.

There is one white in the program, `D65_WHITE`: the 2-degree white of D65, Y = 1. Under every
light XYZ are scaled to the light's own white and adapted to D65 with CAT16. For the 10-degree
observer adaptation goes to that observer's own D65 white, and the result is then scaled per
coordinate onto `D65_WHITE`. CIELAB only knows ratios to the white, so D65 and 10 degrees give
the CIELAB that an instrument set to "D65/10" gives, while everything further down (CIELAB, OKLab,
display) needs no word about the observer.
"""

from functools import lru_cache
from typing import Any, Final

import numpy as np
from numpy.typing import ArrayLike, NDArray

from schemeforge.colorimetry._arrays import FloatArray, finite, floats
from schemeforge.colorimetry.adaptation import adaptation
from schemeforge.colorimetry.tables import LightLike, Observer, checked_observer, weights
from schemeforge.optics import bands

# [CIE15]: integration of D65 and the 1931 observer at 1 nm; a test holds it to the tables.
D65_WHITE: Final = np.array([0.950470764945246, 1.0, 1.0888284224364926])
D65_WHITE.flags.writeable = False

# [CIE15] eq. 8.6: the cube root runs straight below (6/29)^3.
_EPSILON: Final = (6 / 29) ** 3
_SLOPE: Final = (29 / 6) ** 2 / 3
_OFFSET: Final = 4 / 29

# [Ottosson2020]: XYZ (D65) to cone responses, and their cube roots to OKLab.
_OK_CONES: Final = np.array(
    [
        [0.8189330101, 0.3618667424, -0.1288597137],
        [0.0329845436, 0.9293118715, 0.0361456387],
        [0.0482003018, 0.2643662691, 0.6338517070],
    ]
)
_OK_LAB: Final = np.array(
    [
        [0.2104542553, 0.7936177850, -0.0040720468],
        [1.9779984951, -2.4285922050, 0.4505937099],
        [0.0259040371, 0.7827717662, -0.8086757660],
    ]
)


def adapted_matrix(
    light: LightLike = "D65", observer: int = 2, dtype: type[np.floating[Any]] = np.float64
) -> FloatArray:
    """Matrix ``(36, 3)`` from reflectance to XYZ adapted to D65: ``xyz = reflectance @ matrix``.

    A reflectance of 1 gives `D65_WHITE` under every light and observer. The array is cached and
    read-only; ask for float32 where float32 reflectances are multiplied.

    Raises:
        UnknownNameError: for a light or an observer that does not exist.
    """
    both = _adapted(light, checked_observer(observer))
    return both[1] if dtype == np.float32 else both[0]


@lru_cache(maxsize=64)
def _adapted(
    light: LightLike, observer: Observer
) -> tuple[NDArray[np.float64], NDArray[np.float32]]:
    table = weights(light, observer)
    daylight = weights("D65", observer).white
    matrix = table.matrix
    if light != "D65":
        matrix = matrix @ adaptation(table.white, daylight).T
    # Takes the last rounding off, so that the white is D65_WHITE to the last digit or so; for
    # 10 degrees it is the step from that observer's white to the one white of the program.
    matrix = matrix * (D65_WHITE / matrix.sum(axis=0))
    single = matrix.astype(np.float32)
    matrix.flags.writeable = False
    single.flags.writeable = False
    return matrix, single


def xyz(reflectance: ArrayLike, light: LightLike = "D65", observer: int = 2) -> FloatArray:
    """XYZ adapted to D65 of reflectances, Y of the white 1; ``(..., 36)`` to ``(..., 3)``.

    float32 stays float32. Reflectances are 0 to 1; values outside are taken as they are.

    Raises:
        InputError: where the last axis is not 36 bands, or a number is not finite.
        UnknownNameError: for a light or an observer that does not exist.
    """
    array = finite(reflectance, bands.COUNT, "reflectance")
    matrix = adapted_matrix(light, observer, array.dtype.type)
    return np.asarray(array @ matrix)


def lab_from_xyz(values: ArrayLike) -> FloatArray:
    """CIELAB (L* 0 to 100, a*, b*) of XYZ adapted to D65, ``(..., 3)`` [CIE15] eq. 8.3-8.6."""
    array = finite(values, 3, "XYZ") / D65_WHITE.astype(_kind(values), copy=False)
    f = np.cbrt(array)
    low = array <= _EPSILON
    if low.any():
        f[low] = _SLOPE * array[low] + _OFFSET
    out = np.empty_like(f)
    out[..., 0] = 116 * f[..., 1] - 16
    out[..., 1] = 500 * (f[..., 0] - f[..., 1])
    out[..., 2] = 200 * (f[..., 1] - f[..., 2])
    return out


def xyz_from_lab(lab: ArrayLike) -> FloatArray:
    """XYZ (D65, Y of the white 1) of CIELAB, ``(..., 3)``; the inverse of `lab_from_xyz`."""
    array = finite(lab, 3, "CIELAB")
    f = np.empty_like(array)
    f[..., 1] = (array[..., 0] + 16) / 116
    f[..., 0] = f[..., 1] + array[..., 1] / 500
    f[..., 2] = f[..., 1] - array[..., 2] / 200
    ratio = np.where(f > 6 / 29, f * f * f, (f - _OFFSET) / _SLOPE)
    return np.asarray(ratio * D65_WHITE, dtype=array.dtype)


def lch(lab: ArrayLike) -> FloatArray:
    """Lightness, chroma and hue in degrees (0 to 360) of CIELAB or OKLab, ``(..., 3)``."""
    array = floats(lab, 3, "Lab")
    out = np.empty_like(array)
    out[..., 0] = array[..., 0]
    out[..., 1] = np.hypot(array[..., 1], array[..., 2])
    hue = np.degrees(np.arctan2(array[..., 2], array[..., 1]))
    # A hue just below zero rounds up to 360 when 360 is added: that is hue 0.
    hue = np.where(hue < 0, hue + 360, hue)
    out[..., 2] = np.where(hue >= 360, 0, hue)
    return out


def lab_from_lch(values: ArrayLike) -> FloatArray:
    """CIELAB or OKLab of lightness, chroma and hue in degrees; the inverse of `lch`."""
    array = floats(values, 3, "LCh")
    out = np.empty_like(array)
    hue = np.radians(array[..., 2])
    out[..., 0] = array[..., 0]
    out[..., 1] = array[..., 1] * np.cos(hue)
    out[..., 2] = array[..., 1] * np.sin(hue)
    return out


@lru_cache(maxsize=1)
def oklab_matrices() -> tuple[NDArray[np.float64], NDArray[np.float64]]:
    """The matrices ``(3, 3)`` of OKLab: XYZ to cones, and cube roots of cones to OKLab.

    Scaled so that `D65_WHITE` is L = 1 and every grey has no chroma: the published digits leave
    4e-5 or so [Ottosson2020].
    """
    cones = _OK_CONES / (_OK_CONES @ D65_WHITE)[:, None]
    lab = _OK_LAB.copy()
    lab[0] /= lab[0].sum()
    lab[1:, 1] -= lab[1:].sum(axis=1)
    cones.flags.writeable = False
    lab.flags.writeable = False
    return cones, lab


def oklab_from_xyz(values: ArrayLike) -> FloatArray:
    """OKLab (L 0 to 1, a, b) of XYZ adapted to D65, ``(..., 3)`` [Ottosson2020]."""
    array = finite(values, 3, "XYZ")
    cones, lab = oklab_matrices()
    kind = array.dtype
    return np.cbrt(array @ cones.T.astype(kind)) @ lab.T.astype(kind)


def xyz_from_oklab(values: ArrayLike) -> FloatArray:
    """XYZ (D65, Y of the white 1) of OKLab, ``(..., 3)``; the inverse of `oklab_from_xyz`."""
    array = finite(values, 3, "OKLab")
    cones, lab = oklab_matrices()
    kind = array.dtype
    roots = array @ np.linalg.inv(lab).T.astype(kind)
    return (roots * roots * roots) @ np.linalg.inv(cones).T.astype(kind)


def oklch(values: ArrayLike) -> FloatArray:
    """OKLCh (L 0 to 1, chroma, hue in degrees) of XYZ adapted to D65, ``(..., 3)``."""
    return lch(oklab_from_xyz(values))


def lab(reflectance: ArrayLike, light: LightLike = "D65", observer: int = 2) -> FloatArray:
    """CIELAB of reflectances ``(..., 36)`` under a light, adapted to D65; errors as in `xyz`."""
    return lab_from_xyz(xyz(reflectance, light, observer))


def _kind(values: ArrayLike) -> type[np.floating[Any]]:
    single = isinstance(values, np.ndarray) and values.dtype == np.float32
    return np.float32 if single else np.float64
