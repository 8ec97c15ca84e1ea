"""What a paint may be before anything is seen of it: a mixture of Gaussians over log K and log S.

Both are smooth functions of wavelength: a common level, a tilt, a broad wave and a little
roughness, the last two squared-exponential processes. How lively a spectrum is (a grey is flat, a
red is not) is left open, by one Gaussian for each of `LIVELY`. Beside these stand the `shapes`
that absorption takes in paints, each with a scattering that is even or lively. A fit tries them
all and keeps the one under which the patches are most probable, so that its uncertainty is narrow
for greys and wide for reds. Levels and waves were chosen on the invented starter paints and the
shapes learned from invented and opaque spectra, so that measured tables can judge them.
"""

from dataclasses import dataclass, replace
from functools import lru_cache
from typing import Final

import numpy as np
from numpy.typing import NDArray

from schemeforge.calibration.shapes import absorption_shapes
from schemeforge.optics import bands
from schemeforge.paint import PaintKind

Floats = NDArray[np.float64]

LIVELY: Final = (0.3, 0.6, 1.0, 1.7)
_LIVELY_SCATTERING: Final = (0.3, 1.0)  # beside each shape of absorption
_SMOOTH_SHARE: Final = 0.2  # of the smooth processes beside the shapes
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

    def lively(self, share: float) -> "Wave":
        """The same with tilt and wave times that share."""
        return replace(self, tilt=self.tilt * share, wave=self.wave * share)

    def rows(self, kept: float) -> Floats:
        """Rows whose squares sum to the covariance, the negligible ones left out."""
        return _rooted(self.covariance(), kept)


@dataclass(frozen=True, slots=True, kw_only=True)
class Prior:
    """What is known of the 36 log K and the 36 log S of a paint, independent of one another.

    Args:
        absorption: Of log K.
        scattering: Of log S.
        shaped: Whether absorption may take the learned shapes as well, at the same level.
        kept: Shares of the largest variance below this are left out.
    """

    absorption: Wave
    scattering: Wave
    shaped: bool = True
    kept: float = _KEPT

    def mixture(self) -> "Mixture":
        """The Gaussians to try, read-only."""
        return _mixture(self)


@dataclass(frozen=True, slots=True, eq=False, kw_only=True)
class Mixture:
    """Gaussians over the logs, log K before log S.

    Args:
        mean: Expected logs of each, ``(count, 72)``.
        factor: Rows L of each, its covariance L^T L, ``(count, rank, 72)``; rows of noughts fill
            up those of lower rank.
        log_share: Log of how likely each is beforehand, ``(count,)``.
    """

    mean: Floats
    factor: Floats
    log_share: Floats


@lru_cache(maxsize=16)
def _mixture(prior: Prior) -> Mixture:
    K, S = prior.absorption, prior.scattering
    pairs = [(K.lively(live), S.lively(live)) for live in LIVELY]
    parts = [(w.rows(prior.kept), v.rows(prior.kept)) for w, v in pairs]
    means = [np.zeros(bands.COUNT)] * len(LIVELY)
    shares = [1 / len(LIVELY)] * len(LIVELY)
    if prior.shaped:
        shares = [_SMOOTH_SHARE * share for share in shares]
        scattering = [S.lively(live).rows(prior.kept) for live in _LIVELY_SCATTERING]
        for shape in absorption_shapes():
            rows = _rooted(shape.rows.T @ shape.rows + K.level**2, prior.kept)
            for other in scattering:
                parts.append((rows, other))
                means.append(shape.mean)
                shares.append((1 - _SMOOTH_SHARE) * shape.share / len(scattering))
    return _packed(parts, np.array(means), np.array(shares), (K.mean, S.mean))


def _packed(
    parts: list[tuple[Floats, Floats]], shapes: Floats, shares: Floats, levels: tuple[float, float]
) -> Mixture:
    rank = max(len(K) + len(S) for K, S in parts)
    factor = np.zeros((len(parts), rank, 2 * bands.COUNT))
    for one, (K, S) in zip(factor, parts, strict=True):
        one[: len(K), : bands.COUNT] = K
        one[len(K) : len(K) + len(S), bands.COUNT :] = S
    mean = np.repeat(levels, bands.COUNT) + np.hstack([shapes, np.zeros_like(shapes)])
    log_share = np.log(shares / shares.sum())
    for values in (mean, factor, log_share):
        values.setflags(write=False)
    return Mixture(mean=mean, factor=factor, log_share=log_share)


def _rooted(covariance: Floats, kept: float) -> Floats:
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
    shaped=False,
    kept=_KEPT_OF_SPECTRA,
)


def prior_of(kind: PaintKind | None) -> Prior:
    """The prior of a kind of paint; that of any paint for None and for what is clear."""
    return ANY_KIND if kind is None else OF_KIND.get(kind, ANY_KIND)
