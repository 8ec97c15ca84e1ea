"""What a paint may be before anything is seen of it: Gaussians over log K and log S.

Both are taken as smooth functions of wavelength: a common level, a tilt, a broad wave and a little
roughness, the last two squared-exponential processes. How lively a spectrum is (a grey is flat, a
red is not) is left open: a fit tries every one of `LIVELY` and keeps the one under which the
patches are most probable, so that its uncertainty is narrow for greys and wide for reds. Numbers
were chosen on the invented starter paints alone, so that measured tables can judge them.
"""

from dataclasses import dataclass, replace
from functools import lru_cache
from typing import Final

import numpy as np
from numpy.typing import NDArray

from schemeforge.optics import bands
from schemeforge.paint import PaintKind

Floats = NDArray[np.float64]

LIVELY: Final = (0.3, 0.6, 1.0, 1.7)
_KEPT: Final = 1e-5  # shares of the largest variance below this are left out of the factor
_KEPT_OF_SPECTRA: Final = 1e-8


@dataclass(frozen=True, slots=True, kw_only=True)
class Wave:
    """The prior of one spectrum of natural logs.

    Args:
        mean: Expected level of log K or log S per micrometre of neat wet paint.
        level: Standard deviation of the level.
        tilt: Of the slope, per half the spectrum (175 nm).
        wave: Of a broad wave over wavelength.
        wave_nm: Its correlation length.
        rough: Of the fine structure.
        rough_nm: Its correlation length.
    """

    mean: float
    level: float
    tilt: float
    wave: float
    wave_nm: float
    rough: float
    rough_nm: float

    def covariance(self) -> Floats:
        """Covariance over the bands, ``(36, 36)``."""
        nm = bands.wavelengths_nm()
        apart = nm[:, None] - nm[None, :]
        x = (nm - nm.mean()) / (nm[-1] - nm.mean())
        return np.asarray(
            self.level**2
            + self.tilt**2 * np.outer(x, x)
            + self.wave**2 * np.exp(-0.5 * (apart / self.wave_nm) ** 2)
            + self.rough**2 * np.exp(-0.5 * (apart / self.rough_nm) ** 2)
        )


@dataclass(frozen=True, slots=True, kw_only=True)
class Prior:
    """Gaussian prior of the 36 log K and the 36 log S of a paint, independent of one another.

    Args:
        absorption: Of log K.
        scattering: Of log S.
        kept: Shares of the largest variance below this are left out of the factor.
    """

    absorption: Wave
    scattering: Wave
    kept: float = _KEPT

    def mean(self) -> Floats:
        """Expected logs, log K before log S, ``(72,)``."""
        return np.repeat([self.absorption.mean, self.scattering.mean], bands.COUNT)

    def factor(self) -> Floats:
        """L of shape ``(rank, 72)``, read-only: covariance L^T L."""
        return _factors(self)[0]

    def unknowns(self, logs: Floats) -> Floats:
        """The z for which mean + z L comes nearest to the logs, ``(rank,)``."""
        return np.asarray((logs - self.mean()) @ _factors(self)[1])

    def lively(self, share: float) -> "Prior":
        """The same with tilt and wave times that share."""
        waves = (
            replace(one, tilt=one.tilt * share, wave=one.wave * share)
            for one in (self.absorption, self.scattering)
        )
        absorption, scattering = waves
        return replace(self, absorption=absorption, scattering=scattering)


@lru_cache(maxsize=64)
def _factors(prior: Prior) -> tuple[Floats, Floats]:
    K, S = (_rooted(w.covariance(), prior.kept) for w in (prior.absorption, prior.scattering))
    rows = np.zeros((len(K) + len(S), 2 * bands.COUNT))
    rows[: len(K), : bands.COUNT] = K
    rows[len(K) :, bands.COUNT :] = S
    # Rows are orthogonal, so that this is their pseudo-inverse.
    inverse = (rows / (rows**2).sum(axis=1, keepdims=True)).T
    rows.setflags(write=False)
    inverse.setflags(write=False)
    return rows, inverse


def _rooted(covariance: Floats, kept: float) -> Floats:
    """Rows whose squares sum to the covariance, the negligible ones left out."""
    values, vectors = np.linalg.eigh(covariance)
    keep = values > values[-1] * kept
    return np.asarray((vectors[:, keep] * np.sqrt(values[keep])).T)


def _of(K_mean: float, K_level: float, S_mean: float, S_level: float) -> Prior:
    return Prior(
        absorption=Wave(
            mean=K_mean, level=K_level, tilt=1.0, wave=2.3, wave_nm=70.0, rough=0.3, rough_nm=25.0
        ),
        scattering=Wave(
            mean=S_mean, level=S_level, tilt=0.8, wave=0.8, wave_nm=60.0, rough=0.05, rough_nm=20.0
        ),
    )


ANY_KIND: Final = _of(-4.3, 2.0, -4.6, 2.0)
# Levels by kind from the starter shelf, widened where the shelf has few of a kind.
OF_KIND: Final = {
    PaintKind.OPAQUE: _of(-4.1, 2.0, -3.3, 1.0),
    PaintKind.PRIMER: _of(-3.5, 2.0, -3.3, 1.0),
    PaintKind.TRANSLUCENT: _of(-4.4, 1.2, -4.7, 1.0),
    PaintKind.INK: _of(-4.0, 1.2, -6.2, 0.8),
    PaintKind.WASH: _of(-5.0, 1.0, -7.2, 0.8),
}
# Spectra tell their shape themselves: fine structure is left to them.
OF_SPECTRA: Final = Prior(
    absorption=replace(ANY_KIND.absorption, rough=0.4, rough_nm=12.0),
    scattering=replace(ANY_KIND.scattering, rough=0.2, rough_nm=15.0),
    kept=_KEPT_OF_SPECTRA,
)


def prior_of(kind: PaintKind | None) -> Prior:
    """The prior of a kind of paint; that of any paint for None and for what is clear."""
    return ANY_KIND if kind is None else OF_KIND.get(kind, ANY_KIND)
