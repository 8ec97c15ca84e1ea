"""What is left of a scheme at a distance: touching zones of a stand-in close up and blurred."""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final

import numpy as np

from schemeforge import colorimetry
from schemeforge.stand_in.pictures import Picture

METRES: Final = 1.0
# The eye looks at models before something neither dark nor light (rule of thumb): L* 50.
_SURROUND: Final = 0.184
_FEWEST_PIXELS: Final = 12


@dataclass(frozen=True, slots=True, kw_only=True)
class Apart:
    """Two zones of a picture.

    Args:
        zones: Their places in the project.
        close: Lightness between them, L*, close up.
        far: From the distance.
    """

    zones: tuple[int, int]
    close: float
    far: float


def apart_at(
    picture: Picture,
    pairs: Sequence[tuple[int, int]],
    *,
    mm_per_pixel: float,
    metres: float = METRES,
) -> tuple[Apart, ...]:
    """Lightness between zones close up and from a distance; pairs that do not show are left out.

    The whole picture is blurred in linear light as the eye blurs it [Zhang1996]; a zone's
    lightness is the mean over its pixels.

    Args:
        picture: Of the model, lit.
        pairs: Two places of zones each.
        mm_per_pixel: Millimetres of the model that a pixel stands for.
        metres: From the eye to the model.
    """
    rgba = picture.rgba.astype(np.float64) / 255.0
    cover = rgba[..., 3:]
    linear = colorimetry.decode(rgba[..., :3]) * cover + _SURROUND * (1.0 - cover)
    close = colorimetry.xyz_from_linear_rgb(linear)
    far = colorimetry.blur_for_distance(close, mm_per_pixel=mm_per_pixel, distance_m=metres)
    zone = picture.zone_index
    lightness = {
        index: [
            float(colorimetry.lab_from_xyz(np.maximum(xyz, 0.0)[zone == index])[:, 0].mean())
            for xyz in (close, far)
        ]
        for index in {index for pair in pairs for index in pair}
        if np.count_nonzero(zone == index) >= _FEWEST_PIXELS
    }
    return tuple(
        Apart(
            zones=(a, b),
            close=abs(lightness[a][0] - lightness[b][0]),
            far=abs(lightness[a][1] - lightness[b][1]),
        )
        for a, b in pairs
        if a in lightness and b in lightness
    )
