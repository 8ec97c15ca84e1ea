"""Pictures as they are looked at: from further off, by other eyes, or by a camera.

A sight changes pictures only, never a number: what the program tells about a colour stays what
it is. Whoever shows a picture so says which sight it is.
"""

import math
from dataclasses import dataclass
from enum import StrEnum
from functools import lru_cache
from typing import Any, Final

import numpy as np
from numpy.typing import NDArray

from schemeforge.colorimetry.adaptation import adaptation
from schemeforge.colorimetry.display import decode, to_srgb8_fast
from schemeforge.colorimetry.distance import blur_for_distance, degrees_per_pixel
from schemeforge.colorimetry.primaries import rgb_matrices
from schemeforge.colorimetry.tables import LightLike, weights
from schemeforge.colorimetry.tristimulus import D65_WHITE
from schemeforge.colorimetry.vision import DEFICIENCIES, deficiency_matrix
from schemeforge.errors import InputError

Floats = NDArray[Any]


class Distance(StrEnum):
    """From where a model is looked at."""

    CLOSE = "close up"
    ARM = "arm's length"
    TABLE = "across the table"
    SQUINT = "squinting"


class Eyes(StrEnum):
    """Whose eyes."""

    ALL = "all colours"
    GREY = "greyscale"
    PROTAN = "protan"
    DEUTAN = "deutan"
    TRITAN = "tritan"


# Metres from eye to model: rules of thumb. A squint is at arm's length.
METRES: Final = {Distance.ARM: 0.65, Distance.TABLE: 1.5, Distance.SQUINT: 0.65}
# Geometrical optics: out of focus a point is a disc as wide as the pupil times the defocus, here
# 3 mm times 1.5 dioptres (a rule of thumb) in radians; a Gaussian of the same variance has a
# quarter of its width for a standard deviation.
SQUINT_DEGREES: Final = float(np.degrees(0.003 * 1.5)) / 4.0
# Pixels finer than this share of the eye's finest spread are put together before the blur.
_FINEST_DEGREES: Final = 0.0283  # [Zhang1996], light-dark
_COARSE: Final = 0.4


@dataclass(frozen=True, slots=True, kw_only=True)
class Sight:
    """How a picture is looked at.

    Args:
        distance: From where.
        eyes: Whose eyes.
        severity: Of a colour-vision deficiency, 0 (none) to 1 (a kind of cone missing).
        balanced: False for a camera that is left set to daylight, which keeps the light's cast.
    """

    distance: Distance = Distance.CLOSE
    eyes: Eyes = Eyes.ALL
    severity: float = 1.0
    balanced: bool = True

    def __post_init__(self) -> None:
        if not 0 <= self.severity <= 1:
            raise InputError(f"The severity {self.severity} is out of range", remedy="give 0 to 1")

    @property
    def is_plain(self) -> bool:
        """True where a picture is shown as it is."""
        plain_eyes = self.eyes is Eyes.ALL or (self.is_deficient and self.severity == 0)
        return self.distance is Distance.CLOSE and plain_eyes and self.balanced

    @property
    def is_deficient(self) -> bool:
        """True for eyes with a colour-vision deficiency."""
        return self.eyes.value in DEFICIENCIES


def looked_at(
    rgba: NDArray[np.uint8],
    sight: Sight,
    *,
    mm_per_pixel: float,
    surround: float,
    light: LightLike = "D65",
    observer: int = 2,
) -> NDArray[np.uint8]:
    """The picture as it is looked at.

    Args:
        rgba: Encoded sRGB with alpha, not multiplied by it, ``(height, width, 4)``.
        sight: How.
        mm_per_pixel: Millimetres of the model that a pixel stands for.
        surround: Linear light of the grey around the picture, 0 to 1.
        light: The light that it was made under, for a camera.
        observer: 2 or 10 degrees.

    Returns:
        Encoded sRGB with alpha. From further off it is opaque, on the surround, and may have
        fewer pixels, where the eye tells no finer ones apart: of the same outline.
    """
    if sight.is_plain:
        return rgba
    linear = _decoded()[rgba[..., :3]]
    if not sight.balanced:
        linear = linear @ camera_matrix(light, observer).astype(np.float32)
    alpha = rgba[..., 3]
    if sight.distance is not Distance.CLOSE:
        cover = alpha[..., np.newaxis].astype(np.float32) / np.float32(255.0)
        linear = linear * cover + np.float32(surround) * (1 - cover)
        linear = further_off(linear, sight.distance, mm_per_pixel)
        alpha = np.full(linear.shape[:2], 255, np.uint8)
    xyz = linear @ (eyes_matrix(sight) @ rgb_matrices()[1]).astype(np.float32)
    seen = to_srgb8_fast(xyz)
    return np.concatenate([seen, alpha[..., np.newaxis]], axis=2)


def eyes_matrix(sight: Sight) -> NDArray[np.float64]:
    """Matrix ``(3, 3)`` on rows of linear sRGB for those eyes; greys stay as they are.

    Greyscale keeps luminance, and with it lightness. For deficiencies see `vision`.
    """
    if sight.eyes is Eyes.ALL:
        return np.eye(3)
    if sight.eyes is Eyes.GREY:
        luminance = rgb_matrices()[1][:, 1]
        return np.repeat(luminance[:, np.newaxis], 3, axis=1)
    return deficiency_matrix(sight.eyes.value, sight.severity).T


@lru_cache(maxsize=32)
def camera_matrix(light: LightLike, observer: int = 2) -> NDArray[np.float64]:
    """Matrix ``(3, 3)`` on rows of linear sRGB that leaves the light's own cast in.

    What the eye adapts to and a camera with its white balance off does not: the adaptation of
    CAT16 [Li2017] undone, exposed so that white is just not clipped.
    """
    own, daylight = weights(light, observer).white, weights("D65", observer).white
    there, back = rgb_matrices()
    adapted = back * (daylight / D65_WHITE)
    cast = adapted @ np.linalg.inv(adaptation(own, daylight)).T
    cast = (cast * (D65_WHITE / daylight)) @ there
    return np.asarray(cast / cast.sum(axis=0).max())


def further_off(linear: Floats, distance: Distance, mm_per_pixel: float) -> Floats:
    """Linear sRGB as it is seen from there, of fewer pixels where no more can be told apart."""
    metres = METRES[distance]
    angle = degrees_per_pixel(mm_per_pixel, metres)
    times = 2 ** max(0, math.floor(math.log2(_COARSE * _FINEST_DEGREES / angle)))
    there, back = rgb_matrices(np.float32)
    xyz = blur_for_distance(
        _put_together(linear, times) @ back,
        mm_per_pixel=mm_per_pixel * times,
        distance_m=metres,
        defocus_degrees=SQUINT_DEGREES if distance is Distance.SQUINT else 0.0,
        repeats=True,
    )
    return np.asarray(xyz @ there)


def _put_together(linear: Floats, times: int) -> Floats:
    """Means of squares of so many pixels a side; at the last edges pixels repeat."""
    if times == 1:
        return linear
    high, wide = linear.shape[:2]
    linear = np.pad(linear, ((0, -high % times), (0, -wide % times), (0, 0)), mode="edge")
    high, wide = linear.shape[:2]
    squares = linear.reshape(high // times, times, wide // times, times, 3)
    return np.asarray(squares.mean(axis=(1, 3), dtype=np.float32))


@lru_cache(maxsize=1)
def _decoded() -> Floats:
    return decode(np.arange(256) / 255.0).astype(np.float32)
