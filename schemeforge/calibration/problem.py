"""The equations of a fit: what the patches should look like, and how that depends on the paint.

With logs = mean + z L (see `prior`) and films f exp(hand d) the unknowns z and d have unit normal
priors. Several Gaussians of the prior are worked on at once: ``of`` tells which of them each row of
unknowns belongs to. Colours are compared in encoded sRGB, where the noise of a camera and of 8-bit
codes is about even; spectra as they are.
"""

from collections.abc import Sequence
from typing import Final

import numpy as np
from numpy.typing import NDArray

from schemeforge import colorimetry, optics
from schemeforge.calibration.patches import Hiding, Patch, stroke_of
from schemeforge.calibration.prior import Floats, Mixture
from schemeforge.optics import bands

Which = NDArray[np.intp]

_STEP: Final = 1e-5
STRONGEST_LOG: Final = 9.0  # a paint's K and S stay below 1e4
WEAKEST_LOG: Final = -25.0
# A pattern no longer shows at a contrast ratio of 0.98 (common practice in paint testing).
_HIDDEN: Final = 0.98
_SOFT: Final = 4 / 255
_CARRIED_ON: Final = 0.05  # standard error of a reflectance that was not read
_PATTERN: Final = (0.02, 0.80)  # internal reflectance of the pattern's black and white
_LEAST_CONTRAST: Final = 1e-280


class Problem:
    """The patches as arrays, with all that stays the same from round to round."""

    def __init__(
        self,
        patches: Sequence[Patch],
        surface: optics.Surface,
        mixture: Mixture,
        hiding: Hiding | None = None,
    ) -> None:
        self._surface = surface
        self._mean, self._factor = mixture.mean, mixture.factor
        self.is_spectral = not patches[0].colour
        ground = optics.internal(np.array([p.ground for p in patches]), surface)
        self._ground = ground
        self._film = np.array([p.film_um for p in patches])[:, None]
        self._hiding = hiding
        strokes = list(dict.fromkeys(stroke_of(n, p) for n, p in enumerate(patches) if p.hand))
        self._of_stroke = np.zeros((len(patches), len(strokes)))
        for n, patch in enumerate(patches):
            if patch.hand:
                self._of_stroke[n, strokes.index(stroke_of(n, patch))] = patch.hand
        self.rank = self._factor.shape[1]
        self.size = self.rank + len(strokes)
        self._read(patches)

    def _read(self, patches: Sequence[Patch]) -> None:
        self._clipped = np.array([p.clipped for p in patches])
        noise = np.array([p.noise for p in patches])[:, None]
        if self.is_spectral:
            self._seen = np.array([p.reflectance for p in patches])
            ratio = np.array([p.noise_ratio for p in patches])[:, None]
            self._noise = np.hypot(noise, ratio * self._seen)
            nm = bands.wavelengths_nm()
            unsure = np.array([np.isin(nm, patch.unsure_nm) for patch in patches])
            self._noise = np.where(unsure, np.maximum(self._noise, _CARRIED_ON), self._noise)
            self._observer = np.eye(bands.COUNT)
        else:
            self._seen = colorimetry.encode(np.array([p.colour for p in patches]))
            # What lies beyond a clipped channel is not known: its edge is a soft one.
            self._noise = np.where(self._clipped == 0, noise, np.maximum(noise, _SOFT))
            # From reflectance to linear sRGB in one product.
            weights = colorimetry.adapted_matrix()
            self._observer = np.asarray(colorimetry.linear_rgb_from_xyz(weights))

    def logs(self, z: Floats, of: Which) -> Floats:
        """Log K before log S, ``(rows, 72)``."""
        moved = np.matmul(z[:, None, : self.rank], self._factor[of])[:, 0]
        return np.asarray(np.clip(self._mean[of] + moved, WEAKEST_LOG, STRONGEST_LOG))

    def factor_of(self, factor: Floats, which: int) -> Floats:
        """A factor of the covariance of z as one of the covariance of the logs, ``(rank, 72)``."""
        return np.asarray(factor[:, : self.rank] @ self._factor[which])

    def film_factors(self, z: Floats) -> Floats:
        """What each patch's film is of its nominal, ``(rows, patches)``."""
        return np.asarray(np.exp(z[:, self.rank :] @ self._of_stroke.T))

    def predicted(self, z: Floats, of: Which) -> Floats:
        """Linear sRGB or reflectance of the patches, ``(rows, patches, channels)``."""
        films = optics.film_over(self._ground, *self._depths(z, self.logs(z, of)))
        return np.asarray(self._outside(films) @ self._observer)

    def cost(self, z: Floats, of: Which) -> Floats:
        """Squares of weighted residuals and of unknowns, which a fit makes small, ``(rows,)``."""
        total = (self._residual(self.predicted(z, of)) ** 2).sum(axis=(1, 2)) + (z**2).sum(axis=1)
        if self._hiding is not None:
            total += _hidden(self._hiding, self._surface, self.logs(z, of)) ** 2
        return np.asarray(total)

    def slopes(self, z: Floats, of: Which) -> tuple[Floats, Floats]:
        """Weighted residuals ``(rows, equations)`` and slopes ``(rows, equations, size)``.

        Equations are the channels of the patches and, behind them, that of hiding.
        """
        logs = self.logs(z, of)
        KX, SX = self._depths(z, logs)
        ahead = 1 + _STEP
        three = optics.film_over(
            self._ground, np.stack([KX, KX * ahead, KX]), np.stack([SX, SX, SX * ahead])
        )
        surface = self._surface
        bend = _body(surface) / (1 - surface.k2 * three[0]) ** 2
        by_K, by_S = (bend * (three[i] - three[0]) / _STEP for i in (1, 2))
        linear = self._outside(three[0]) @ self._observer
        residual = self._residual(linear)
        weight = np.where(residual == 0.0, 0.0, self._curve_slope(linear)) / self._noise
        J = self._chained(weight[..., None] * self._observer.T, by_K, by_S, self._factor[of])
        residual = residual.reshape(len(z), -1)
        if self._hiding is None:
            return residual, J
        nudged = logs[:, None] + _STEP * np.eye(logs.shape[1])
        values = _hidden(
            self._hiding, self._surface, np.concatenate([logs[:, None], nudged], axis=1)
        )
        row = np.zeros((len(z), 1, self.size))
        by_log = (values[:, 1:] - values[:, :1]) / _STEP
        row[:, 0, : self.rank] = np.matmul(self._factor[of], by_log[..., None])[..., 0]
        return np.hstack([residual, values[:, :1]]), np.concatenate([J, row], axis=1)

    def _chained(self, heard: Floats, by_K: Floats, by_S: Floats, factor: Floats) -> Floats:
        """Slopes by the unknowns from those by reflectance ``(rows, patches, channels, bands)``."""
        rows, patches, channels = heard.shape[:3]
        K, S = heard * by_K[:, :, None], heard * by_S[:, :, None]
        by_logs = np.concatenate([K, S], axis=-1)
        J = np.empty((rows, patches, channels, self.size))
        flat = by_logs.reshape(rows, patches * channels, 2 * bands.COUNT)
        by_z = np.matmul(flat, factor.transpose(0, 2, 1))
        J[..., : self.rank] = by_z.reshape(rows, patches, channels, self.rank)
        J[..., self.rank :] = by_logs.sum(axis=-1)[..., None] * self._of_stroke[:, None, :]
        return J.reshape(rows, patches * channels, self.size)

    def _depths(self, z: Floats, logs: Floats) -> tuple[Floats, Floats]:
        film = self._film * self.film_factors(z)[:, :, None]
        K, S = np.exp(logs[:, None, : bands.COUNT]), np.exp(logs[:, None, bands.COUNT :])
        return film * K, film * S

    def _outside(self, R: Floats) -> Floats:
        surface = self._surface
        return np.asarray(surface.w * surface.k1 + _body(surface) * R / (1 - surface.k2 * R))

    def _residual(self, linear: Floats) -> Floats:
        """Fitted minus measured in standard errors; 0 where a clipped channel is passed."""
        if self.is_spectral:
            return np.asarray((linear - self._seen) / self._noise)
        residual = np.asarray((colorimetry.encode(linear) - self._seen) / self._noise)
        return np.where(residual * self._clipped > 0.0, 0.0, residual)

    def _curve_slope(self, linear: Floats) -> Floats:
        """Slope of what is compared by the linear value; that of sRGB is [IEC61966]."""
        if self.is_spectral:
            return np.ones_like(linear)
        size = np.abs(linear)
        low = size <= 0.0031308
        return np.where(low, 12.92, 1.055 / 2.4 * np.where(low, 1.0, size) ** (1 / 2.4 - 1))


def _hidden(hiding: Hiding, surface: optics.Surface, logs: Floats) -> Floats:
    """Weighted residual of hiding for logs ``(..., 72)``: 0 where the pattern just vanishes.

    What shows of it falls about exponentially with the film, so that the log of its log runs
    straight with the log of the film. The contrast is taken from the light that passes the film
    twice, since a difference of two reflectances has no digits left where a film hides.
    """
    KX, SX = (
        np.exp(np.clip(part, WEAKEST_LOG, STRONGEST_LOG)) * hiding.film_um
        for part in (logs[..., : bands.COUNT], logs[..., bands.COUNT :])
    )
    R0, T = optics.r0_and_transmittance(KX, SX)
    dark, light = (R0 + T**2 * R / (1 - R0 * R) for R in _PATTERN)
    apart = T**2 * (_PATTERN[1] - _PATTERN[0])
    apart = apart / ((1 - R0 * _PATTERN[0]) * (1 - R0 * _PATTERN[1]))
    body = _body(surface)
    weights = colorimetry.adapted_matrix()[:, 1]
    shows = (body * apart / ((1 - surface.k2 * dark) * (1 - surface.k2 * light))) @ weights
    whole = (surface.w * surface.k1 + body * light / (1 - surface.k2 * light)) @ weights
    left = np.clip(shows / whole, _LEAST_CONTRAST, 1 - 1e-9)
    return np.asarray((np.log(-np.log(left)) - np.log(-np.log(1 - _HIDDEN))) / hiding.spread)


def _body(surface: optics.Surface) -> float:
    return surface.factor * (1 - surface.k1) * (1 - surface.k2)
