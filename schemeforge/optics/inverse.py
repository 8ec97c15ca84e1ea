"""A film's optical depths from its reflectance over two grounds, with their standard errors.

With P = A th and B = SX th each reading R over a ground Rg gives an equation that is linear in
both, P (R + Rg) - B (1 + R Rg) = Rg - R (the Moebius form of [Kubelka1954]). Two readings give P
and B in closed form; then tanh(g)^2 = (P - B)(P + B), KX = (P - B) g/tanh(g) and
SX = B g/tanh(g). Errors follow from the derivatives of the same equations.
"""

from dataclasses import dataclass
from typing import Final

import numpy as np
from numpy.typing import ArrayLike, NDArray

from schemeforge.errors import InputError
from schemeforge.optics.checks import Floats, floats, require, require_broadcast, require_reading

READING_NOISE: Final = 0.001
"""Standard error of a reflectance reading, a fraction; common for hand-held instruments."""
_TOLERATED: Final = 4.0  # standard errors by which a reading may miss what is possible
_RESOLVED: Final = 3.0  # standard errors from zero at which a value counts as resolved


@dataclass(frozen=True, slots=True, eq=False, kw_only=True)
class FilmReading:
    """Optical depths of a film per band, how sure they are, and where they are not resolved.

    All arrays are float64 and have the shape of the readings, ``(..., bands)``. An error is
    infinite where the film hides the ground so well that the reading only gives a least depth,
    which is then what the value holds. A value is resolved where it is three standard errors or
    more from zero.
    """

    absorption: Floats
    scattering: Floats
    absorption_error: Floats
    scattering_error: Floats

    @property
    def resolved_absorption(self) -> NDArray[np.bool_]:
        """Where KX is three standard errors or more from zero."""
        return _stands_out(self.absorption, self.absorption_error)

    @property
    def resolved_scattering(self) -> NDArray[np.bool_]:
        """Where SX is three standard errors or more from zero."""
        return _stands_out(self.scattering, self.scattering_error)

    @property
    def resolved(self) -> NDArray[np.bool_]:
        """Where both are resolved."""
        return self.resolved_absorption & self.resolved_scattering


def film_from_two_grounds(
    over_dark: ArrayLike,
    over_light: ArrayLike,
    dark: ArrayLike,
    light: ArrayLike,
    *,
    noise: float = READING_NOISE,
) -> FilmReading:
    """Optical depths KX and SX of one film read over a dark and over a light ground.

    Args:
        over_dark: Internal reflectance over the dark ground, 0 to 1, ``(..., bands)``.
        over_light: Internal reflectance over the light ground, likewise.
        dark: Internal reflectance of the bare dark ground, likewise.
        light: Internal reflectance of the bare light ground, above ``dark`` in every band.
        noise: Standard error of each of the two readings over the grounds, above 0.

    Readings that miss what a film can give by no more than four standard errors are taken as
    the nearest that it can: no absorption, no scattering, or full hiding.

    Raises:
        InputError: For grounds that do not differ, a noise that is not above 0, or shapes that
            do not fit.
        ReadingError: For readings that no film can give; names the band.
    """
    given = (over_dark, over_light, dark, light)
    # Always in double precision: the differences of readings leave few digits as it is.
    Rd, Rl, gd, gl = (value.astype(np.float64) for value in floats(*given))
    _check(Rd, Rl, gd, gl, noise)
    det = (Rl - Rd) * (1 - gl * gd) + (gl - gd) * (1 - Rl * Rd)
    require_reading(
        np.broadcast_to(det > 0, np.broadcast_shapes(*(v.shape for v in (Rd, Rl, gd, gl)))),
        "over_dark",
        "A film that reflects everything cannot be told from a mirror",
        "correct that reading",
    )
    with np.errstate(under="ignore"):
        return _solve(Rd, Rl, gd, gl, det, noise)


def _solve(
    Rd: Floats, Rl: Floats, gd: Floats, gl: Floats, det: Floats, noise: float
) -> FilmReading:
    fall_d, fall_l = gd - Rd, gl - Rl
    # M = P - B = KX th and B = SX th, each from the readings without a difference of the two.
    M = (fall_l * (1 - Rd) * (1 - gd) - fall_d * (1 - Rl) * (1 - gl)) / det
    B = (fall_l * (Rd + gd) - fall_d * (Rl + gl)) / det
    e_d, e_l = 1 + M + B * (1 - gd), 1 + M + B * (1 - gl)
    dM = np.stack([e_d * (1 - Rl) * (1 - gl), -e_l * (1 - Rd) * (1 - gd)]) / det
    dB = np.stack([e_d * (Rl + gl), -e_l * (Rd + gd)]) / det
    _require_possible(M, dM, noise, "absorption", "the film lightens its grounds too much")
    _require_possible(B, dB, noise, "scattering", "the film darkens its grounds too much")
    M, B = np.maximum(M, 0), np.maximum(B, 0)
    N = M + 2 * B
    y = M * N
    # sech(g)^2 straight from the contrast left: 1 - y has no digits left in an opaque film.
    left = (Rl - Rd) * e_d * e_l / (gl - gd)
    least = noise * e_d * e_l / (gl - gd)
    hidden = left < least
    sech2 = np.where(hidden, least, left)
    h, slope = _stretch(y, np.minimum(sech2, 1))
    dy = N * dM + M * (dM + 2 * dB)
    unsure_K = noise * np.sqrt(((h * dM + M * slope * dy) ** 2).sum(axis=0))
    unsure_S = noise * np.sqrt(((h * dB + B * slope * dy) ** 2).sum(axis=0))
    return FilmReading(
        absorption=M * h,
        scattering=B * h,
        absorption_error=np.where(hidden, np.inf, unsure_K),
        scattering_error=np.where(hidden, np.inf, unsure_S),
    )


def _stretch(y: Floats, sech2: Floats) -> tuple[Floats, Floats]:
    """Give h = g/tanh(g) and dh/dy at y = tanh(g)^2, given sech(g)^2 as well."""
    t = np.sqrt(np.clip(y, 0, 1))
    near = y < 1e-2
    safe = np.where(near, 0.5, t)
    deep = np.where(t < 0.5, np.arctanh(np.minimum(safe, 0.5)), 0.0)
    deep = np.where(t < 0.5, deep, np.log((1 + safe) / np.sqrt(sech2)))
    # artanh(t)/t = 1 + y/3 + y^2/5 + ..., and its derivative
    series = sum(y**k / (2 * k + 1) for k in range(9))
    slopes = sum(k * y ** (k - 1) / (2 * k + 1) for k in range(1, 10))
    h = np.where(near, series, deep / safe)
    slope = np.where(near, slopes, (1 / sech2 - h) / (2 * np.where(near, 1, y)))
    return h, slope


def _check(Rd: Floats, Rl: Floats, gd: Floats, gl: Floats, noise: float) -> None:
    if not (np.isfinite(noise) and noise > 0):
        raise InputError(
            f"The noise of a reading is {noise:g}", where="noise", remedy="give more than 0"
        )
    named = {"over_dark": Rd, "over_light": Rl, "dark": gd, "light": gl}
    require_broadcast(named)
    for name, value in named.items():
        require_reading(
            (value >= 0) & (value <= 1),
            name,
            "The reading does not lie between 0 and 1",
            "correct that reading",
        )
    gd_all, gl_all = np.broadcast_arrays(gd, gl)
    require(
        gl_all > gd_all,
        "light",
        "The light ground is not lighter than the dark one",
        "read the film over two grounds that differ in every band",
    )
    Rd_all, Rl_all = np.broadcast_arrays(Rd, Rl)
    require_reading(
        Rl_all - Rd_all >= -_TOLERATED * np.sqrt(2) * noise,
        "over_light",
        "The film reads darker over the light ground than over the dark one",
        "check that the two readings are not exchanged",
    )


def _require_possible(value: Floats, slopes: Floats, noise: float, name: str, why: str) -> None:
    error = noise * np.sqrt((slopes**2).sum(axis=0))
    require_reading(
        value >= -_TOLERATED * error,
        "readings",
        f"No film gives this pair of readings, its {name} would be negative ({why})",
        "check both readings and the grounds, or state a larger noise",
    )


def _stands_out(value: Floats, error: Floats) -> NDArray[np.bool_]:
    told: NDArray[np.bool_] = (value > 0) & (error * _RESOLVED <= value)
    return told
