"""Light on a stand-in: how bright the light makes each spot, and the gleam of its finish.

The light is the one that colours are seen under, adapted to, so it is white: it scales linear
colour by the same factor in all channels. The scale is such that a spot in full light shows the
colour that the program gives everywhere else.
"""

import math
from dataclasses import dataclass
from typing import Any, Final

import numpy as np
from numpy.typing import NDArray

from schemeforge import checks
from schemeforge.scheme import Finish

Floats = NDArray[Any]
# Shares of light (rules of thumb, by eye): from the lamp, from the room above, from all around.
_LAMP: Final = 0.72
_SKY: Final = 0.3
_AROUND: Final = 0.14
_WRAP: Final = 0.22  # how far round the edge of its shadow a lamp of some size still reaches
# Gleam: exponent of the lobe (Blinn's half-way vector) and its strength at the brightest.
_GLEAM: Final = {
    Finish.MATT: (1.0, 0.0),
    Finish.UNVARNISHED: (7.0, 0.012),
    Finish.SATIN: (22.0, 0.1),
    Finish.GLOSS: (110.0, 0.75),
}
_GRAZING: Final = 0.35  # how much of the room a gloss shows at its edges


@dataclass(frozen=True, slots=True, kw_only=True)
class LightDirection:
    """Where the lamp stands, as the viewer sees it: it stays there while the model turns.

    Args:
        azimuth: Degrees to the right of the viewer, -180 to 180.
        elevation: Degrees above the table, -10 to 90.
    """

    azimuth: float = -38.0
    elevation: float = 48.0

    def __post_init__(self) -> None:
        checks.number(self.azimuth, "Direction of the light", low=-180.0, high=180.0)
        checks.number(self.elevation, "Height of the light", low=-10.0, high=90.0)

    def vector(self, eye_elevation: float) -> Floats:
        """Towards the lamp in right, up and towards the eye, ``(3,)``."""
        a, e = math.radians(self.azimuth), math.radians(self.elevation)
        world = (math.sin(a) * math.cos(e), math.sin(e), math.cos(a) * math.cos(e))
        return to_eye(np.array(world), eye_elevation)


def to_eye(world: Floats, eye_elevation: float) -> Floats:
    """Right, up and towards the eye of a direction given in right, upright and forward."""
    e = math.radians(eye_elevation)
    x, y, z = world
    up = y * math.cos(e) - z * math.sin(e)
    return np.array([x, up, y * math.sin(e) + z * math.cos(e)], np.float32)


def diffuse(
    normal: Floats, openness: Floats, open_to: Floats, light: Floats, upright: Floats
) -> Floats:
    """Factor on linear colour at each spot, ``(n,)``, about 1 in full light.

    Args:
        normal: Unit vectors, ``(3, n)``.
        openness: Mean share of all directions that are open, 0 to 1, ``(n,)``.
        open_to: Its vector: direction d is open by ``openness + open_to . d``, ``(3, n)``.
        light: Towards the lamp, ``(3,)``.
        upright: Straight up, ``(3,)``.
    """
    facing = light @ normal
    wrapped = np.clip((facing + _WRAP) / (1.0 + _WRAP), 0.0, 1.0)
    lamp = wrapped * wrapped * (3.0 - 2.0 * wrapped) * 0.35 + wrapped * 0.65
    lamp *= lit(facing, openness, open_to, light)
    # Half of all directions are open to a free surface, with a vector of 3/4 along its normal.
    around = np.clip((openness + (2 / 3) * np.einsum("in,in->n", open_to, normal)), 0.0, 1.0)
    above = np.clip(openness + 0.75 * (upright @ open_to), 0.0, 1.2)
    sky = (0.5 + 0.5 * (upright @ normal)) * above
    total: Floats = _LAMP * lamp + _SKY * sky + _AROUND * around
    return total.astype(np.float32)


def lit(facing: Floats, openness: Floats, open_to: Floats, light: Floats) -> Floats:
    """Share of the lamp that other parts let through, 0 to 1, soft-edged, ``(n,)``."""
    free = 0.5 + 0.75 * np.maximum(facing, 0.0)
    share = (openness + light @ open_to) / free
    share = np.clip((share - 0.2) / 0.75, 0.0, 1.0)
    return np.asarray(share * share * (3.0 - 2.0 * share))


def gleam(normal: Floats, shadow: Floats, light: Floats, finish: Finish) -> Floats | None:
    """Light added to all channels by the finish, ``(n,)``; None for a matt one."""
    exponent, strength = _GLEAM[finish]
    if strength == 0.0:
        return None
    half = light + np.array([0.0, 0.0, 1.0], np.float32)
    half /= np.linalg.norm(half)
    towards = np.clip(half @ normal, 0.0, 1.0)
    lobe = strength * np.power(towards, np.float32(exponent)) * shadow
    if finish is Finish.GLOSS:
        edge = (1.0 - np.clip(normal[2], 0.0, 1.0)) ** 4
        lobe += 0.04 * _GRAZING * edge * (0.6 + 0.4 * normal[1]) * 4.0
    return np.asarray(np.maximum(lobe, 0.0), dtype=np.float32)
