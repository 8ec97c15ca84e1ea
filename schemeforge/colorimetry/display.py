"""XYZ to what a screen shows: sRGB [IEC61966], with colours it cannot show marked and softened.

The matrix is made from the chromaticities of the primaries and from `D65_WHITE`, so that a
reflectance of 1 under the light's own white is exactly #ffffff. A colour outside the display
loses chroma in OKLCh at constant lightness and hue until it fits.
"""

from dataclasses import dataclass
from functools import lru_cache
from typing import Any, Final

import numpy as np
from numpy.typing import ArrayLike, NDArray

from schemeforge.colorimetry._arrays import FloatArray, finite, floats
from schemeforge.colorimetry.gamut import TOLERANCE, into_gamut
from schemeforge.colorimetry.primaries import rgb_matrices

# Entries of the table from linear light to 8-bit codes. Near black a code is 19.9 entries wide,
# so the nearest entry is at most 0.025 codes off and the rounded code at most 0.525 off.
_ENTRIES: Final = 65536


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Display:
    """Colours as the screen shows them.

    Attributes:
        rgb: Encoded sRGB, 0 to 1, shape ``(..., 3)``.
        codes: The same in 8 bits, uint8 of shape ``(..., 3)``.
        in_gamut: Whether the screen can show the colour itself, bool of shape ``(...)``.
    """

    rgb: FloatArray
    codes: NDArray[np.uint8]
    in_gamut: NDArray[np.bool_]


def linear_rgb_from_xyz(values: ArrayLike) -> FloatArray:
    """Linear sRGB of XYZ (D65, Y of the white 1), ``(..., 3)``, not clipped."""
    array = floats(values, 3, "XYZ")
    return array @ rgb_matrices(array.dtype.type)[0]


def xyz_from_linear_rgb(values: ArrayLike) -> FloatArray:
    """XYZ (D65, Y of the white 1) of linear sRGB, ``(..., 3)``."""
    array = floats(values, 3, "linear sRGB")
    return array @ rgb_matrices(array.dtype.type)[1]


def encode(linear: ArrayLike) -> FloatArray:
    """Encoded sRGB of linear sRGB, 0 to 1 [IEC61966]; negative numbers mirrored."""
    array = floats(linear, np.shape(linear)[-1] if np.ndim(linear) else 1, "linear sRGB")
    size = np.abs(array)
    low = size <= 0.0031308
    curved = 1.055 * np.where(low, 1, size) ** (1 / 2.4) - 0.055
    return np.copysign(np.where(low, 12.92 * size, curved), array).astype(array.dtype, copy=False)


def decode(encoded: ArrayLike) -> FloatArray:
    """Linear sRGB of encoded sRGB, 0 to 1 [IEC61966]; negative numbers mirrored."""
    array = floats(encoded, np.shape(encoded)[-1] if np.ndim(encoded) else 1, "sRGB")
    size = np.abs(array)
    linear = np.where(size <= 0.04045, size / 12.92, ((size + 0.055) / 1.055) ** 2.4)
    return np.copysign(linear, array).astype(array.dtype, copy=False)


def srgb(values: ArrayLike) -> Display:
    """Colours on the display of XYZ adapted to D65, ``(..., 3)``.

    Raises:
        InputError: where the last axis is not 3, or a number is not finite.
    """
    linear = linear_rgb_from_xyz(finite(values, 3, "XYZ"))
    outside = _outside(linear)
    if outside.any():
        linear[outside] = into_gamut(linear[outside])
    np.clip(linear, 0, 1, out=linear)
    rgb = encode(linear)
    codes = np.rint(rgb * 255).astype(np.uint8)
    return Display(rgb=rgb, codes=codes, in_gamut=np.asarray(~outside))


def hex_codes(values: ArrayLike) -> list[str]:
    """Codes such as ``#7f7f7f`` of XYZ adapted to D65, one for each colour, in flat order.

    Raises:
        InputError: as in `srgb`.
    """
    flat = srgb(values).codes.reshape(-1, 3)
    return [f"#{r:02x}{g:02x}{b:02x}" for r, g, b in flat.tolist()]


def to_srgb8_fast(values: FloatArray) -> NDArray[np.uint8]:
    """8-bit sRGB of XYZ adapted to D65, ``(..., 3)`` in float32 or float64, for every frame.

    As `srgb`, gamut included, but with the curve read from a table: at most 0.525 of a code off
    where exact rounding is at most 0.5 off. Numbers are taken to be finite.
    """
    linear = values @ rgb_matrices(values.dtype.type)[0]
    if linear.size and (linear.min() < -TOLERANCE or linear.max() > 1 + TOLERANCE):
        outside = _outside(linear)
        linear[outside] = into_gamut(linear[outside])
    linear *= _ENTRIES
    linear += 0.5
    np.clip(linear, 0, _ENTRIES, out=linear)
    return _curve().take(linear.astype(np.int32))


def srgb_icc_profile() -> bytes:
    """An ICC profile of sRGB to embed in pictures; the same bytes every time."""
    from PIL import ImageCms

    made = bytearray(ImageCms.ImageCmsProfile(ImageCms.createProfile("sRGB")).tobytes())
    # Bytes 24 to 35 of the header are the date of making: fixed, so that files can be compared.
    made[24:36] = bytes((7, 208, 0, 1, 0, 1, 0, 0, 0, 0, 0, 0))
    return bytes(made)


def _outside(linear: FloatArray) -> NDArray[np.bool_]:
    outside: NDArray[Any] = (linear < -TOLERANCE) | (linear > 1 + TOLERANCE)
    return np.asarray(outside.any(axis=-1))


@lru_cache(maxsize=1)
def _curve() -> NDArray[np.uint8]:
    steps = np.linspace(0.0, 1.0, _ENTRIES + 1)
    return np.rint(encode(steps) * 255).astype(np.uint8)
