"""Areas of a photograph and their robust averages."""

from dataclasses import dataclass
from typing import Final

import numpy as np
from numpy.typing import NDArray

from schemeforge import checks, colorimetry
from schemeforge.errors import InputError

CLIPPED_SHARE: Final = 0.02  # of an area's pixels, from which it cannot be used
_LEAST_PIXELS: Final = 16
_TRIM: Final = 3.0  # robust standard deviations kept

Picture = NDArray[np.float32]


@dataclass(frozen=True, slots=True, kw_only=True)
class Area:
    """A rectangle of a picture, in shares of its width and height from the upper left, 0 to 1."""

    left: float
    top: float
    right: float
    bottom: float

    def __post_init__(self) -> None:
        for name in ("left", "top", "right", "bottom"):
            checks.number(getattr(self, name), f"Area, {name}", low=0.0, high=1.0)
        if self.left >= self.right or self.top >= self.bottom:
            raise InputError("An area has no width or no height", remedy="mark it anew")

    @property
    def centre(self) -> tuple[float, float]:
        """Its middle."""
        return (self.left + self.right) / 2, (self.top + self.bottom) / 2


@dataclass(frozen=True, slots=True, kw_only=True)
class Sample:
    """A robust average over an area.

    Args:
        linear: Linear sRGB as the camera gave it.
        spread: Robust standard deviation of the pixels, encoded sRGB, largest channel.
        clipped: Share of pixels with a channel at an end of its scale.
        pixels: How many there are.
    """

    linear: tuple[float, float, float]
    spread: float
    clipped: float
    pixels: int


def sample(linear: Picture, clipped: NDArray[np.bool_], area: Area, name: str) -> Sample:
    """The robust average of an area: a mean without what lies far from the median.

    Args:
        linear: Linear sRGB, ``(height, width, 3)``.
        clipped: Pixels at an end of the scale, ``(height, width)``.
        area: Where.
        name: For the sentence.

    Raises:
        InputError: For an area of hardly any pixels.
    """
    height, width = clipped.shape
    rows = slice(int(area.top * height), max(int(np.ceil(area.bottom * height)), 1))
    columns = slice(int(area.left * width), max(int(np.ceil(area.right * width)), 1))
    some = np.asarray(linear[rows, columns], dtype=np.float64).reshape(-1, 3)
    if len(some) < _LEAST_PIXELS:
        raise InputError(
            f'The area "{name}" has only {len(some)} pixels', remedy="mark a larger area"
        )
    encoded = np.asarray(colorimetry.encode(some), dtype=np.float64)
    middle = np.median(encoded, axis=0)
    spread = 1.4826 * np.median(np.abs(encoded - middle), axis=0)
    near = (np.abs(encoded - middle) <= _TRIM * np.maximum(spread, 0.5 / 255)).all(axis=1)
    red, green, blue = (float(v) for v in some[near].mean(axis=0))
    return Sample(
        linear=(red, green, blue),
        spread=float(spread.max()),
        clipped=float(clipped[rows, columns].mean()),
        pixels=len(some),
    )
