"""How surely a paint's absorption and scattering are known.

The logarithms of K and S are taken as jointly normal. Their covariance is held either as four
plain numbers (a level and a wavy part for each of K and S), or, where a fit supplied one, as a
low-rank factor F with covariance F F^T over the 36 log K followed by the 36 log S.
"""

from dataclasses import dataclass
from functools import lru_cache

import numpy as np
from numpy.typing import NDArray

from schemeforge import checks
from schemeforge.errors import InputError
from schemeforge.optics import bands

_WIDEST = 5.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Uncertainty:
    """Standard deviations of log K and log S.

    Args:
        level_k: Of the overall strength of K (natural log), common to all bands, 0 to 5.
        level_s: The same for S.
        shape_k: Of a smooth wave over wavelength on top of the level, 0 to 5.
        shape_s: The same for S.
        length_nm: Correlation length of those waves (squared-exponential), 5 to 1000 nm.
        factors: Rows of 72 numbers from a fit; where given they replace the five above.
    """

    level_k: float = 0.0
    level_s: float = 0.0
    shape_k: float = 0.0
    shape_s: float = 0.0
    length_nm: float = 60.0
    factors: tuple[tuple[float, ...], ...] = ()

    def __post_init__(self) -> None:
        for label in ("level_k", "level_s", "shape_k", "shape_s"):
            checks.number(getattr(self, label), f"Uncertainty {label}", low=0.0, high=_WIDEST)
        checks.number(self.length_nm, "Uncertainty length_nm", low=5.0, high=1000.0, unit="nm")
        if len(self.factors) > 2 * bands.COUNT:
            raise InputError(f"Uncertainty has {len(self.factors)} factors, more than 72")
        for row in self.factors:
            if len(row) != 2 * bands.COUNT:
                raise InputError(f"Uncertainty factor has {len(row)} numbers, not 72")
            for value in row:
                checks.number(value, "Uncertainty factor", low=-50.0, high=50.0)

    def factor(self) -> NDArray[np.float64]:
        """F of shape ``(rank, 72)``, read-only: a draw of the logs is ``normal(rank) @ F``."""
        return _factor(self)


@lru_cache(maxsize=512)
def _factor(uncertainty: Uncertainty) -> NDArray[np.float64]:
    if uncertainty.factors:
        rows = np.array(uncertainty.factors, dtype=np.float64)
    else:
        wave = _wave_factor(uncertainty.length_nm)
        zero = np.zeros_like(wave)
        flat = np.ones((1, bands.COUNT))
        none = np.zeros((1, bands.COUNT))
        rows = np.vstack(
            [
                np.hstack([uncertainty.level_k * flat, none]),
                np.hstack([none, uncertainty.level_s * flat]),
                np.hstack([uncertainty.shape_k * wave, zero]),
                np.hstack([zero, uncertainty.shape_s * wave]),
            ]
        )
        rows = rows[np.any(rows != 0.0, axis=1)]
    rows.setflags(write=False)
    return rows


@lru_cache(maxsize=32)
def _wave_factor(length_nm: float) -> NDArray[np.float64]:
    """Factor of a squared-exponential covariance of unit variance over the bands, (rank, 36)."""
    nm = bands.wavelengths_nm()
    covariance = np.exp(-0.5 * ((nm[:, None] - nm[None, :]) / length_nm) ** 2)
    values, vectors = np.linalg.eigh(covariance)
    keep = values > values[-1] * 1e-6
    # The dropped tail carries under 36e-6 of the variance; signs are fixed so that a seed
    # gives the same draws with every linear-algebra library.
    kept = vectors[:, keep] * np.sqrt(values[keep])
    signs = np.sign(kept[np.argmax(np.abs(kept), axis=0), np.arange(kept.shape[1])])
    factor: NDArray[np.float64] = np.ascontiguousarray((kept * signs).T)
    return factor


CERTAIN = Uncertainty()
