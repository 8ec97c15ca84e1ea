"""What a calibration hands back, and how it becomes a paint for the shelf."""

from dataclasses import dataclass
from typing import Final

import numpy as np
from numpy.typing import NDArray

from schemeforge import optics
from schemeforge.calibration.fitter import Fit
from schemeforge.calibration.patches import Hiding, Patch
from schemeforge.calibration.prior import Floats
from schemeforge.optics import bands
from schemeforge.paint import Basis, Paint, PaintKind, Stock, Uncertainty

# Laplace's approximation is too wide for some bases and too narrow for others; these factors on
# its standard deviations were chosen with tests/benchmarks/calibration.py, which prints what they
# then cover.
WIDTH: Final = {
    Basis.MEASURED: 1.0,
    Basis.PHOTOGRAPHED: 1.0,
    Basis.TWO_COLOURS: 0.82,
    Basis.ONE_COLOUR: 0.75,
}
# One colour alone leaves most to the prior, whose wings Laplace's approximation cuts short.
_WIDER_UNANSWERED: Final = 1.27
# Noise averages out over many photographed patches, what the prior gets wrong does not; beside
# films that are not known exactly it counts half.
_WIDER_PER_PATCH: Final = 0.1
_WIDER_PER_UNSURE_PATCH: Final = 0.05
_MOST_WIDENING: Final = 2  # patches beyond the second
# Spectra over one ground hardly tell scattering, and films make up for what the model gets wrong;
# real paint asks for this much.
_WIDER_ONE_GROUND: Final = 1.2
_ROWS: Final = 16  # of the factor that a paint carries
_WIDEST: Final = 45.0
_SOLIDS: Final = {PaintKind.WASH: 0.1, PaintKind.INK: 0.1, PaintKind.MEDIUM: 0.3}


@dataclass(frozen=True, slots=True, eq=False, kw_only=True)
class Outcome:
    """A calibrated paint that has no name yet.

    Args:
        fit: K, S and films, how sure they are, and the residual of each patch.
        patches: What was fitted.
        surface: Finish or geometry under which it was seen.
        basis: Where the paint comes from.
        hiding: What was said of its opacity, None where nothing was.
        flagged_nm: Bands whose K or S the data did not settle.
        findings: Sentences for the painter; none where all is well.
    """

    fit: Fit
    patches: tuple[Patch, ...]
    surface: optics.Surface
    basis: Basis
    hiding: Hiding | None = None
    flagged_nm: tuple[int, ...] = ()
    findings: tuple[str, ...] = ()

    def paint(
        self,
        *,
        id: str,  # noqa: A002 - the field's own name
        name: str,
        kind: PaintKind,
        volume_solids: float | None = None,
        density_g_per_ml: float = 1.1,
        colour_index: str = "",
        stock: Stock | None = None,
        note: str = "",
    ) -> Paint:
        """The paint under a name; what is not known is as usual for its kind.

        Raises:
            InputError: For a value outside its range; names it.
        """
        solids = _SOLIDS.get(kind, 0.33) if volume_solids is None else volume_solids
        return Paint(
            id=id,
            name=name,
            kind=kind,
            absorption=_plain(self.fit.absorption),
            scattering=_plain(self.fit.scattering),
            volume_solids=solids,
            density_g_per_ml=density_g_per_ml,
            basis=self.basis,
            uncertainty=self.uncertainty(),
            colour_index=colour_index,
            stock=Stock() if stock is None else stock,
            note=note,
            flagged_bands_nm=self.flagged_nm,
        )

    def uncertainty(self) -> Uncertainty:
        """The posterior covariance in its sixteen main directions, widened as the basis needs."""
        sizes, rows = np.linalg.svd(self.fit.factor, full_matrices=False)[1:]
        width = WIDTH[self.basis]
        if self.basis is Basis.PHOTOGRAPHED:
            exact = all(patch.hand == 0 for patch in self.patches)
            more = min(max(len(self.patches) - 2, 0), _MOST_WIDENING)
            width *= 1 + more * (_WIDER_PER_PATCH if exact else _WIDER_PER_UNSURE_PATCH)
        elif self.basis is Basis.MEASURED and len({p.ground for p in self.patches}) == 1:
            width *= _WIDER_ONE_GROUND
        elif self.basis is Basis.ONE_COLOUR and self.hiding is None:
            width *= _WIDER_UNANSWERED
        main = width * sizes[:_ROWS, None] * rows[:_ROWS]
        main = np.clip(main, -_WIDEST, _WIDEST)
        return Uncertainty(factors=tuple(_plain(row) for row in main))


def nm_where(flags: NDArray[np.bool_]) -> tuple[int, ...]:
    """Wavelengths of the bands for which the flag holds."""
    return tuple(int(nm) for nm, flag in zip(bands.wavelengths_nm(), flags, strict=True) if flag)


def _plain(values: Floats) -> tuple[float, ...]:
    return tuple(float(f"{value:.6g}") for value in values)
