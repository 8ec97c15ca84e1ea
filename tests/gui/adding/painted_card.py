"""A photograph of a painted card, drawn from known paints: light that falls off, a tinted camera.

The card is white at the left and black at the right, and strips cross both. White, grey,
black, grey and white references lie along the lower edge.
"""

from pathlib import Path

import numpy as np
from PIL import Image

from schemeforge import colorimetry
from schemeforge.calibration import BLACK, GREY, WHITE, Area
from tests.calibration.swatches import FILM_UM, Floats, linear, reflectance

SIZE = (480, 320)
GAIN = np.array([1.04, 0.96, 1.04])  # 4 % per channel
FALL = 0.2
Spectra = tuple[Floats, Floats]


def box(left: float, top: float, right: float, bottom: float) -> Area:
    return Area(left=left, top=top, right=right, bottom=bottom)


REFERENCES = tuple(
    (ground, box(0.03 + 0.19 * n, 0.84, 0.19 + 0.19 * n, 0.97))
    for n, ground in enumerate((WHITE, GREY, BLACK, GREY, WHITE))
)
BARE_WHITE, BARE_BLACK = box(0.04, 0.1, 0.16, 0.78), box(0.84, 0.1, 0.96, 0.78)


def strip(place: int) -> tuple[Area, Area]:
    """Over white and over black."""
    top = 0.07 + 0.18 * place
    return box(0.22, top, 0.48, top + 0.13), box(0.52, top, 0.78, top + 0.13)


def inside(area: Area, share: float = 0.2) -> Area:
    """The middle of an area, as a painter marks it."""
    dx, dy = share * (area.right - area.left), share * (area.bottom - area.top)
    return box(area.left + dx, area.top + dy, area.right - dx, area.bottom - dy)


def picture(
    strips: list[tuple[Spectra, float]],
    *,
    gain: Floats = GAIN,
    fall: float = FALL,
    noise: float = 2 / 255,
    references: bool = True,
    exposure: float = 0.9,
    seed: int = 7,
) -> np.ndarray[tuple[int, ...], np.dtype[np.uint8]]:
    """8-bit sRGB of the card; strips are spectra and how many coats."""
    wide, high = SIZE
    canvas = np.empty((high, wide, 3))
    canvas[:] = linear(np.array(GREY)) if references else 0.3

    def fill(area: Area, values: tuple[float, float, float]) -> None:
        rows = slice(round(area.top * high), round(area.bottom * high))
        columns = slice(round(area.left * wide), round(area.right * wide))
        canvas[rows, columns] = values

    fill(box(0.02, 0.03, 0.5, 0.8), linear(np.array(WHITE)))
    fill(box(0.5, 0.03, 0.98, 0.8), linear(np.array(BLACK)))
    for place, (spectra, coats) in enumerate(strips):
        for area, ground in zip(strip(place), (WHITE, BLACK), strict=True):
            fill(area, linear(reflectance(spectra, FILM_UM * coats, ground)))
    if references:
        for ground, area in REFERENCES:
            fill(area, linear(np.array(ground)))
    x = (np.arange(wide) + 0.5) / wide
    light = exposure * np.exp(np.log(1 - fall) * x)[None, :, None]
    encoded = np.asarray(colorimetry.encode(np.clip(canvas * light * gain, 0.0, None)))
    encoded = encoded + noise * np.random.default_rng(seed).standard_normal(canvas.shape)
    return np.round(np.clip(encoded, 0, 1) * 255).astype(np.uint8)


def photograph(path: Path, strips: list[tuple[Spectra, float]], **how: object) -> Path:
    """The card as a PNG file."""
    Image.fromarray(picture(strips, **how)).save(path)  # type: ignore[arg-type]
    return path
