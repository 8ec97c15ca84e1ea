"""What is left of a picture at a viewing distance: the eye's blur in linear light.

The point spreads are those of a spatial extension of CIELAB [Zhang1996]: in each of three
opponent channels a sum of Gaussians ``exp(-r^2 / s^2)``, s in degrees of visual angle. Of the
luminance channel the wide negative surround (4.3 degrees) is left out and the weights are scaled
to sum to 1: it describes how contrast is judged, not where light goes, and the picture will be
looked at with eyes that have a surround of their own. So a flat area keeps its colour, and the
mean of the picture is kept.
"""

import math
from functools import lru_cache
from typing import Final

import numpy as np
from numpy.typing import ArrayLike, NDArray

from schemeforge.colorimetry._arrays import FloatArray, finite
from schemeforge.errors import InputError

# [Zhang1996], the table of filters: (weight, spread in degrees) of
# light-dark, red-green and blue-yellow.
SPREADS: Final = (
    ((0.921, 0.0283), (0.105, 0.133)),
    ((0.531, 0.0392), (0.330, 0.494)),
    ((0.488, 0.0536), (0.371, 0.386)),
)

# XYZ to the three channels: the digits of the authors' later code, whose sign of 0.0772 makes
# a grey nearly neutral in red-green; the paper prints that sign reversed.
_OPPONENT: Final = np.array(
    [
        [0.2787, 0.7218, -0.1066],
        [-0.4488, 0.2898, 0.0772],
        [0.0860, -0.5900, 0.5011],
    ]
)


def blur_for_distance(
    image: ArrayLike,
    *,
    mm_per_pixel: float,
    distance_m: float,
    defocus_degrees: float = 0.0,
    repeats: bool = False,
) -> FloatArray:
    """The picture as far as the eye resolves it from a distance.

    Args:
        image: XYZ (linear light), shape ``(height, width, 3)``; float32 stays float32.
        mm_per_pixel: Millimetres of the painted model that a pixel stands for, above 0.
        distance_m: Distance from the eye to the model in metres, above 0.
        defocus_degrees: Standard deviation of a further blur of all light alike, of an eye that
            is out of focus, in degrees of visual angle, 0 or above.
        repeats: True where the picture is taken to go on from its other edge, which costs a
            quarter: for pictures with the same even surround at all edges.

    Returns:
        XYZ of the same shape. Unless it repeats, the picture is taken to go on mirrored beyond
        its edges; its mean is kept. Beside hard edges of saturated colour a value may leave the
        display's gamut, since the channels blur by different amounts.

    Raises:
        InputError: for another shape, a number that is not finite, or a length not above 0.
    """
    array = finite(image, 3, "picture")
    if array.ndim != 3 or 0 in array.shape:
        raise InputError(
            f"The picture has the shape {array.shape}", remedy="give height, width and 3 channels"
        )
    for name, value in (("mm_per_pixel", mm_per_pixel), ("distance_m", distance_m)):
        if not (math.isfinite(value) and value > 0):
            raise InputError(
                f"The length {value} is out of range", where=name, remedy="give more than 0"
            )
    if not (math.isfinite(defocus_degrees) and defocus_degrees >= 0):
        raise InputError(
            f"The defocus {defocus_degrees} is out of range", remedy="give 0 degrees or more"
        )
    pixel = degrees_per_pixel(mm_per_pixel, distance_m)
    height, width = array.shape[:2]
    times = 1 if repeats else 2
    channels = np.moveaxis(array @ _OPPONENT.T.astype(array.dtype), -1, 0)
    out = np.empty_like(channels)
    for index, channel in enumerate(channels):
        whole = channel if repeats else _mirrored(channel)
        spectrum = np.fft.rfft2(whole)
        kept = _transfer(index, times * height, times * width, pixel, defocus_degrees)
        spectrum *= kept.astype(array.dtype, copy=False)
        out[index] = np.fft.irfft2(spectrum, s=whole.shape)[:height, :width]
    back = np.linalg.inv(_OPPONENT).T.astype(array.dtype)
    return np.asarray(np.moveaxis(out, 0, -1) @ back)


def degrees_per_pixel(mm_per_pixel: float, distance_m: float) -> float:
    """Visual angle in degrees of a pixel that stands for so many mm at so many metres."""
    return 2 * math.degrees(math.atan(mm_per_pixel / (2000 * distance_m)))


def transfer(channel: int, cycles_per_degree: ArrayLike) -> NDArray[np.float64]:
    """Share of a sine's amplitude that is left, 0 to 1, by channel (0 to 2) and frequency."""
    frequency = np.asarray(cycles_per_degree, dtype=np.float64)
    terms = SPREADS[channel]
    # The Fourier transform of exp(-r^2 / s^2), scaled to 1 at zero, is exp(-(pi s f)^2).
    total = sum(weight * np.exp(-((math.pi * s * frequency) ** 2)) for weight, s in terms)
    return np.asarray(total / sum(weight for weight, _ in terms))


def _mirrored(channel: FloatArray) -> FloatArray:
    """Mirrored at its edges the picture is periodic, with twice the height and width."""
    rows = np.concatenate((channel, channel[::-1]))
    return np.concatenate((rows, rows[:, ::-1]), axis=1)


@lru_cache(maxsize=12)
def _transfer(
    channel: int, height: int, width: int, pixel: float, defocus: float
) -> NDArray[np.float64]:
    """The transfer on the grid of a periodic picture's half spectrum."""
    down = np.fft.fftfreq(height, d=pixel)
    across = np.fft.rfftfreq(width, d=pixel)
    frequency = np.hypot(down[:, None], across[None, :])
    # The Fourier transform of a Gaussian of unit volume and standard deviation s.
    return np.asarray(
        transfer(channel, frequency) * np.exp(-2.0 * (math.pi * defocus * frequency) ** 2)
    )
