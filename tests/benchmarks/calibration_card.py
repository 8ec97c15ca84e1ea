"""A photographed swatch card, drawn: grounds, references, swatches, light and camera."""

from collections.abc import Iterable

import numpy as np
from numpy.typing import NDArray

from schemeforge import colorimetry
from schemeforge.calibration import (
    BLACK,
    GREY,
    WHITE,
    Area,
    Ground,
    Reference,
    Swatch,
    fit_patches,
    from_photograph,
)
from schemeforge.calibration.patches import Patch
from tests.benchmarks.calibration_truths import (
    FILM_UM,
    SURFACE,
    Floats,
    Truth,
    colour,
    linear,
    predictions,
)

SIDE = 24
ACROSS, DOWN = 5, 3
GROUNDS = (("black", BLACK), ("grey", GREY), ("white", WHITE))
GAIN = np.array([1.04, 0.96, 1.04])
EVEN = np.ones(3)


def area(column: int, row: int) -> Area:
    """The middle of a field of the card."""
    return Area(
        left=(column + 0.15) / ACROSS,
        right=(column + 0.85) / ACROSS,
        top=(row + 0.15) / DOWN,
        bottom=(row + 0.85) / DOWN,
    )


REFERENCES = tuple(
    Reference(name=f"{name} {column}", area=area(column, row), reflectance=ground[0])
    for column in (0, 4)
    for row, (name, ground) in enumerate(GROUNDS)
)
BARE = tuple(Ground(name=name, area=area(0, row)) for row, (name, _) in enumerate(GROUNDS))
SWATCHES = tuple(
    Swatch(
        name=f"{name}, {coats} coats",
        area=area(column, row),
        ground=name,
        coats=coats,
        stroke=f"stroke {coats}",
    )
    for row, (name, _) in enumerate(GROUNDS)
    for column, coats in ((1, 1), (2, 2))
)


def card(
    truth: Truth,
    rng: np.random.Generator,
    *,
    gain: Floats = EVEN,
    fall: float = 0.2,
    noise: float = 4 / 255,
    gamma: float = 1.0,
) -> tuple[NDArray[np.float32], NDArray[np.bool_]]:
    """Linear picture and clipped pixels of a card: outer columns bare, two of swatches.

    Args:
        truth: The paint.
        rng: For the noise of the pixels.
        gain: Of the camera's channels.
        fall: How much darker the right edge is than the left.
        noise: Of a pixel in encoded sRGB.
        gamma: Of the camera's response.
    """
    fields = np.empty((DOWN, ACROSS, 3))
    for row, (_, ground) in enumerate(GROUNDS):
        for column in range(ACROSS):
            coats = {1: 1, 2: 2}.get(column, 0)
            fields[row, column] = (
                colour(truth, ground, FILM_UM * coats) if coats else linear(np.array(ground))
            )
    picture = np.kron(fields, np.ones((SIDE, SIDE, 1)))
    x = (np.arange(ACROSS * SIDE) + 0.5) / (ACROSS * SIDE)
    light = 0.95 * np.exp(np.log(1 - fall) * x)[None, :, None]
    picture = np.maximum(picture, 1e-5) ** gamma * light * gain
    encoded = colorimetry.encode(picture) + noise * rng.standard_normal(picture.shape)
    codes = np.round(np.clip(encoded, 0, 1) * 255)
    clipped = ((codes <= 2) | (codes >= 253)).any(axis=-1)
    return np.asarray(colorimetry.decode(codes / 255), dtype=np.float32), clipped


def gain_rows(some: Iterable[Truth], rng: np.random.Generator) -> list[tuple[str, list[Floats]]]:
    """Errors with the camera as it is, with its gain off, and with the references used."""
    before: list[Floats] = []
    after: list[Floats] = []
    even: list[Floats] = []
    for truth in some:
        want = predictions(truth.K, truth.S)
        picture, clipped = card(truth, rng, gain=GAIN)
        after.append(_error(picture, clipped, want))
        perfect, clear = card(truth, rng, fall=0.0)
        even.append(_error(perfect, clear, want))
        before.append(_raw_error(picture, want))
    return [
        ("references not used", before),
        ("white, grey and black references used", after),
        ("camera and light without fault, references used", even),
    ]


def _error(picture: NDArray[np.float32], clipped: NDArray[np.bool_], want: Floats) -> Floats:
    outcome = from_photograph(
        picture,
        clipped,
        references=REFERENCES,
        grounds=BARE,
        swatches=SWATCHES,
        film_um=FILM_UM,
        surface=SURFACE,
        hand=0.0,
    )
    ours = predictions(outcome.fit.absorption, outcome.fit.scattering)
    return np.asarray(colorimetry.ciede2000(ours, want), dtype=np.float64).ravel()


def _raw_error(picture: NDArray[np.float32], want: Floats) -> Floats:
    """The swatches as the camera gave them, over the grounds as they are known to be."""
    patches = []
    height, width = picture.shape[:2]
    for swatch in SWATCHES:
        field = swatch.area
        some = picture[
            int(field.top * height) : int(field.bottom * height),
            int(field.left * width) : int(field.right * width),
        ]
        red, green, blue = (float(v) for v in np.median(some, axis=(0, 1)))
        patches.append(
            Patch(
                name=swatch.name,
                ground=dict(GROUNDS)[swatch.ground],
                film_um=FILM_UM * swatch.coats,
                colour=(red, green, blue),
                hand=0.0,
            )
        )
    fit = fit_patches(patches, surface=SURFACE)
    ours = predictions(fit.absorption, fit.scattering)
    return np.asarray(colorimetry.ciede2000(ours, want), dtype=np.float64).ravel()
