"""How a camera saw the light on a card, from areas of known reflectance, and its undoing.

The camera is taken to give, for a surface of reflectance rho at a place (x, y),

    m = gain L(x, y) rho^gamma + flare        per channel,

with L = exp(a x + b y + ...) the light across the card (a tilt, and a bend where references are
many). White, grey and black references of known reflectance settle these numbers by a fit with
mild priors: no flare, gamma 1, even light. What the sensor's filters mix between channels is not
corrected.
"""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import Final

import numpy as np
from numpy.typing import NDArray

from schemeforge import checks
from schemeforge.calibration.areas import CLIPPED_SHARE, Area, Picture, Sample, sample
from schemeforge.calibration.prior import Floats
from schemeforge.errors import InputError

# Reflectance as seen of the usual references (rule of thumb: white card, 18 % grey, matt black).
USUAL_REFERENCES: Final = {"white": 0.88, "grey": 0.18, "black": 0.04}
_BEND_FROM: Final = 6  # references, from which light may fall off in a curve
_ROUNDS: Final = 24
_FARTHEST: Final = 3.0  # of those standard deviations
# Prior standard deviations: log gamma, flare (linear), log light across the whole picture.
_GAMMA, _FLARE, _TILT, _BEND = 0.15, 0.01, 0.5, 0.3
_GAIN: Final = 3.0
_REFERENCE_NOISE: Final = 0.01  # of log linear light: the reference and its reading
_DOUBTED: Final = 4.0  # of such errors, from which a reference is doubted


@dataclass(frozen=True, slots=True, kw_only=True)
class Reference:
    """A neutral area of known reflectance as seen, 0.005 to 1."""

    name: str
    area: Area
    reflectance: float

    def __post_init__(self) -> None:
        checks.name(self.name, "Reference")
        checks.number(
            self.reflectance, f'Reference "{self.name}": reflectance', low=0.005, high=1.0
        )


@dataclass(frozen=True, slots=True, eq=False, kw_only=True)
class Correction:
    """How the camera saw the light; turns what it gave into linear sRGB of the surface.

    Args:
        log_gain: Of each channel, ``(3,)``.
        gamma: Exponent of the response.
        flare: Added light of each channel, ``(3,)``.
        tilt: Log light per picture width and height, ``(2,)``.
        bend: Second-order terms x^2, xy, y^2 about the centre, ``(3,)``; zeros where unknown.
        left: By reference, by how much log light it is missed after correction.
    """

    log_gain: Floats
    gamma: float
    flare: Floats
    tilt: Floats
    bend: Floats
    left: dict[str, float]

    def corrected(self, linear: Floats, place: tuple[float, float]) -> Floats:
        """Linear sRGB of the surface from the camera's at a place, ``(..., 3)``."""
        light = np.exp(self.log_gain + _light(place, self.tilt, self.bend))
        body = np.maximum(np.asarray(linear, dtype=np.float64) - self.flare, 1e-6) / light
        return np.asarray(body ** (1 / self.gamma))


NO_CORRECTION: Final = Correction(
    log_gain=np.zeros(3),
    gamma=1.0,
    flare=np.zeros(3),
    tilt=np.zeros(2),
    bend=np.zeros(3),
    left={},
)


def correction_of(
    linear: Picture, clipped: NDArray[np.bool_], references: Sequence[Reference]
) -> Correction:
    """The correction from references marked on the picture; errors as ``correction_from``."""
    return correction_from(
        [(ref, sample(linear, clipped, ref.area, ref.name)) for ref in references]
    )


def correction_from(samples: Sequence[tuple[Reference, Sample]]) -> Correction:
    """The light and the camera's response that make the references come out right.

    Args:
        samples: References with what the camera gave of them, at least one.

    Raises:
        InputError: For no reference, for one that is clipped, or for white no lighter than black.
    """
    if not samples:
        raise InputError(
            "No reference is marked", remedy="mark a white, grey or black area of known reflectance"
        )
    for reference, got in samples:
        _refuse_clipped(reference.name, got)
    _refuse_exchanged(samples)
    log_rho = np.log([reference.reflectance for reference, _ in samples])
    m = np.maximum([got.linear for _, got in samples], 1e-6)
    places = np.array([reference.area.centre for reference, _ in samples])
    bends = len(samples) >= _BEND_FROM
    scale = np.array([_GAIN] * 3 + [_GAMMA] + [_FLARE] * 3 + [_TILT] * 2 + [_BEND * bends] * 3)
    z = np.zeros(len(scale))
    for turn in range(_ROUNDS):
        off = _off(z, scale, m, log_rho, places)
        J = np.empty((off.size, z.size))
        for i, one in enumerate(np.eye(z.size)):
            J[:, i] = (_off(z + 1e-5 * one, scale, m, log_rho, places) - off) / 1e-5
        # A reference that contradicts the others loses its weight instead of bending them.
        # All are believed at first, else those nearest to the start would be believed alone.
        doubted = max(_DOUBTED, _DOUBTED * 60 * 0.6**turn)
        trust = 1 / (1 + (off / doubted) ** 2)
        weighted = J.T * trust
        step = np.linalg.solve(weighted @ J + np.eye(z.size), weighted @ off + z)
        z = np.clip(z - np.clip(step, -1.0, 1.0), -_FARTHEST, _FARTHEST)
    left = _off(z, scale, m, log_rho, places).reshape(-1, 3) * _REFERENCE_NOISE
    return replace(
        _correction(z * scale),
        left={
            reference.name: float(np.abs(row).max())
            for (reference, _), row in zip(samples, left, strict=True)
        },
    )


def _off(z: Floats, scale: Floats, m: Floats, log_rho: Floats, places: Floats) -> Floats:
    """Weighted residuals of the references, flat: log of fitted over measured."""
    c = _correction(z * scale)
    light = np.array([_light((x, y), c.tilt, c.bend) for x, y in places])
    fitted = np.exp(c.log_gain + (light + c.gamma * log_rho)[:, None]) + c.flare
    return np.asarray((np.log(np.maximum(fitted, 1e-6)) - np.log(m)) / _REFERENCE_NOISE).ravel()


def _correction(values: Floats) -> Correction:
    return Correction(
        log_gain=values[:3],
        gamma=float(np.exp(values[3])),
        flare=values[4:7],
        tilt=values[7:9],
        bend=values[9:12],
        left={},
    )


def _light(place: tuple[float, float], tilt: Floats, bend: Floats) -> float:
    """Log of the light at a place, 0 at the centre of the picture."""
    x, y = place[0] - 0.5, place[1] - 0.5
    return float(tilt @ [x, y] + bend @ [x * x, x * y, y * y])


def _refuse_clipped(name: str, got: Sample) -> None:
    if got.clipped > CLIPPED_SHARE:
        raise InputError(
            f'The reference "{name}" is clipped: {got.clipped:.0%} of it stands at an end of the '
            "scale",
            remedy="photograph it again a little darker, or mark an area without glare",
        )


def _refuse_exchanged(samples: Sequence[tuple[Reference, Sample]]) -> None:
    ordered = sorted(samples, key=lambda pair: pair[0].reflectance)
    (dark, low), (light, high) = ordered[0], ordered[-1]
    if light.reflectance > 1.5 * dark.reflectance and high.linear[1] <= low.linear[1]:
        raise InputError(
            f'The reference "{light.name}" is no lighter in the picture than "{dark.name}"',
            remedy="check what each of them marks",
        )
