"""What a paint's surface does to the light: from internal reflectance to what is seen.

Some light is turned back before it enters (k1), and of what comes back from within a share is
turned back into the paint again (k2) [Saunderson1942]:

    R_seen = w k1 + f (1 - k1)(1 - k2) R/(1 - k2 R)

w is the share of the first reflection that reaches the eye or the instrument, and f the factor
of the instrument's geometry. Finish and geometry are different things with one type.
"""

from dataclasses import dataclass
from math import isfinite, log, sqrt
from typing import NamedTuple

import numpy as np
from numpy.typing import ArrayLike

from schemeforge.errors import InputError
from schemeforge.optics.checks import Floats, floats, require_reading, require_share
from schemeforge.optics.mobius import MobiusMap


@dataclass(frozen=True, slots=True)
class Surface:
    """A finish, or an instrument's geometry.

    Args:
        w: Share of the first-surface reflection that is seen, 0 to 1.
        k1: First-surface reflectance, 0 to below 1; 0.04 is normal incidence at n = 1.5.
        k2: Internal reflectance of the surface for diffuse light, 0 to below 1.
        factor: Multiplies the light from within; 1 except for 45/0 instruments.

    Raises:
        InputError: For a value outside its range; names the field.
    """

    w: float
    k1: float = 0.04
    k2: float = 0.60
    factor: float = 1.0

    def __post_init__(self) -> None:
        for name in ("w", "k1", "k2", "factor"):
            value = getattr(self, name)
            top_allowed = name in {"w", "factor"}
            top = 2.0 if name == "factor" else 1.0
            if (
                not isfinite(value)
                or value < 0
                or value > top
                or (value == top and not top_allowed)
            ):
                below = "" if top_allowed else "below "
                raise InputError(
                    f"The value is {value:g}",
                    where=f"surface, {name}",
                    remedy=f"give a number from 0 to {below}{top:g}",
                )
        if self.factor == 0:
            raise InputError("The factor is 0", where="surface, factor", remedy="give 1")


class DiffuseConstants(NamedTuple):
    """Reflectances of a smooth surface of refractive index n, from Fresnel's equations."""

    k1_normal: float
    k1_diffuse: float
    k2: float


def diffuse_constants(index: float) -> DiffuseConstants:
    """First-surface (normal and diffuse) and internal diffuse reflectance at index n.

    Args:
        index: Refractive index of the binder, above 1 to 4.

    k1 diffuse in the closed form of [Walsh1926] as given by [Duntley1942];
    k2 = 1 - (1 - k1 diffuse)/n^2.

    Raises:
        InputError: For an index outside the range.
    """
    n = _checked_index(index)
    n2, n4 = n**2, n**4
    k1_diffuse = (
        0.5
        + (n - 1) * (3 * n + 1) / (6 * (n + 1) ** 2)
        + n2 * (n2 - 1) ** 2 / (n2 + 1) ** 3 * log((n - 1) / (n + 1))
        - 2 * n**3 * (n2 + 2 * n - 1) / ((n2 + 1) * (n4 - 1))
        + 8 * n4 * (n4 + 1) / ((n2 + 1) * (n4 - 1) ** 2) * log(n)
    )
    return DiffuseConstants(((n - 1) / (n + 1)) ** 2, k1_diffuse, 1 - (1 - k1_diffuse) / n2)


def forty_five_zero_factor(index: float = 1.5) -> float:
    """Reading of a 45/0 instrument over that of a specular-excluded sphere (0/d).

    Args:
        index: Refractive index of the binder, above 1 to 4.

    Light enters at 45 degrees instead of 0 and is caught in one direction instead of all:
    (1 - F(45))/(1 - k1 diffuse), with F from Fresnel's equations; the same for every film.

    Raises:
        InputError: For an index outside the range.
    """
    n = _checked_index(index)
    inside = sqrt(1 - 0.5 / n**2)
    across = ((sqrt(0.5) - n * inside) / (sqrt(0.5) + n * inside)) ** 2
    along = ((n * sqrt(0.5) - inside) / (n * sqrt(0.5) + inside)) ** 2
    return (1 - (across + along) / 2) / (1 - diffuse_constants(n).k1_diffuse)


def _checked_index(index: float) -> float:
    if not 1 < index <= 4:
        raise InputError(
            f"The refractive index is {index:g}", where="index", remedy="give above 1 and up to 4"
        )
    return float(index)


MATT = Surface(1.0)
UNVARNISHED = Surface(0.8)
SATIN = Surface(0.5)
GLOSS = Surface(0.0)
SPECULAR_INCLUDED = Surface(1.0)
SPECULAR_EXCLUDED = Surface(0.0)
FORTY_FIVE_ZERO = Surface(0.0, factor=forty_five_zero_factor())


def seen(internal: ArrayLike, surface: Surface) -> Floats:
    """Reflectance seen from outside, ``(..., bands)``.

    Args:
        internal: Internal reflectance, 0 to 1, ``(..., bands)``.
        surface: Finish or geometry.

    [Saunderson1942]; float32 is kept.

    Raises:
        InputError: For a value outside 0 to 1; names the band.
    """
    (R,) = floats(internal)
    require_share(R, "internal")
    body = surface.factor * (1 - surface.k1) * (1 - surface.k2)
    outside: Floats = surface.w * surface.k1 + body * R / (1 - surface.k2 * R)
    return outside


def internal(seen: ArrayLike, surface: Surface) -> Floats:
    """Internal reflectance of what reads as ``seen``, ``(..., bands)``; undoes `seen`.

    Args:
        seen: Reflectance read from outside, ``(..., bands)``.
        surface: Finish or geometry under which it was read.

    [Saunderson1942] solved for R; float32 is kept.

    Raises:
        ReadingError: Where a reading is below the surface's own reflection, or above what a
            perfect white would read; names the band.
    """
    (outside,) = floats(seen)
    body = surface.factor * (1 - surface.k1)
    low, high = surface.w * surface.k1, surface.w * surface.k1 + body
    # Values that `seen` itself gives may miss the ends by the rounding of a few operations.
    slack = 8 * float(np.finfo(outside.dtype).eps)
    require_reading(
        outside >= low - slack,
        "reading",
        f"The reading is below {low:.4g}, the least that this surface allows",
        "check the finish and whether the instrument includes the specular reflection",
    )
    require_reading(
        outside <= high + slack,
        "reading",
        f"The reading is above {high:.4g}, the most that this surface allows",
        "check the white calibration and the unit (fractions, not per cent)",
    )
    within = np.clip(outside - low, 0, body)
    R: Floats = within / (body * (1 - surface.k2) + surface.k2 * within)
    return np.minimum(R, 1)


def surface_map(surface: Surface) -> MobiusMap:
    """The surface as a map to fold on top of a stack; its entries are plain numbers."""
    body = surface.factor * (1 - surface.k1) * (1 - surface.k2)
    return MobiusMap(surface.w * surface.k1, surface.k2, body)
