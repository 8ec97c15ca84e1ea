"""The paint value."""

import math
from dataclasses import dataclass, field

from schemeforge import checks
from schemeforge.errors import InputError
from schemeforge.optics import bands
from schemeforge.paint.basis import Basis, PaintKind
from schemeforge.paint.uncertainty import CERTAIN, Uncertainty

WATER_ID = "water"
_STRONGEST = 1e4


@dataclass(frozen=True, slots=True, kw_only=True)
class Stock:
    """What is on the shelf of a paint and what it cost.

    Args:
        bottle_ml: Content of a full bottle in ml, above 0.
        left_ml: What is left of it in ml over all bottles, 0 or more; None if not known.
        price: Price of a bottle in the painter's own currency, 0 or more; None if not known.
    """

    bottle_ml: float = 17.0
    left_ml: float | None = None
    price: float | None = None

    def __post_init__(self) -> None:
        checks.number(self.bottle_ml, "Bottle size", low=0.1, high=10000.0, unit="ml")
        if self.left_ml is not None:
            checks.number(self.left_ml, "Paint left", low=0.0, high=100000.0, unit="ml")
        if self.price is not None:
            checks.number(self.price, "Price", low=0.0, high=1e6)


@dataclass(frozen=True, slots=True, kw_only=True)
class Paint:
    """A paint, medium or water.

    Args:
        id: Stable id.
        name: As the painter calls it.
        kind: Opaque, translucent, wash, ink, primer, medium or water.
        absorption: K of each of the 36 bands, per micrometre of neat wet paint, 0 or more.
        scattering: S likewise.
        volume_solids: Share of the wet volume that stays when dry, 0 to 1.
        density_g_per_ml: Of the wet paint, for weighing.
        basis: Where K and S come from.
        uncertainty: Of log K and log S.
        colour_index: Colour Index generic name of the pigment it resembles, or "".
        stock: What is there and what it costs.
        note: The painter's own remark.
        flagged_bands_nm: Bands whose K or S the data did not settle.
    """

    id: str
    name: str
    kind: PaintKind
    absorption: tuple[float, ...]
    scattering: tuple[float, ...]
    volume_solids: float
    density_g_per_ml: float = 1.1
    basis: Basis = Basis.TYPICAL
    uncertainty: Uncertainty = CERTAIN
    colour_index: str = ""
    stock: Stock = field(default_factory=Stock)
    note: str = ""
    flagged_bands_nm: tuple[int, ...] = ()

    def __post_init__(self) -> None:
        checks.identifier(self.id, "Paint")
        checks.name(self.name, "Paint")
        label = f'Paint "{self.name}"'
        _spectrum(self.absorption, f"{label}: absorption")
        _spectrum(self.scattering, f"{label}: scattering")
        checks.number(self.volume_solids, f"{label}: volume solids", low=0.0, high=1.0)
        checks.number(self.density_g_per_ml, f"{label}: density", low=0.3, high=5.0, unit="g/ml")
        checks.note(self.colour_index, f"{label}: colour index")
        checks.note(self.note, f"{label}: note")
        for nm in self.flagged_bands_nm:
            checks.whole(nm, f"{label}: flagged band", low=bands.FIRST_NM, high=bands.LAST_NM)


def _spectrum(values: tuple[float, ...], what: str) -> None:
    if len(values) != bands.COUNT:
        raise InputError(
            f"{what} has {len(values)} values", remedy=f"give one for each of {bands.COUNT} bands"
        )
    for position, value in enumerate(values):
        if not (math.isfinite(value) and 0.0 <= value <= _STRONGEST):
            nm = bands.FIRST_NM + bands.STEP_NM * position
            raise InputError(
                f"{what} at {nm} nm is {value:g}", remedy=f"give 0 to {_STRONGEST:g} per micrometre"
            )


WATER = Paint(
    id=WATER_ID,
    name="water",
    kind=PaintKind.WATER,
    absorption=(0.0,) * bands.COUNT,
    scattering=(0.0,) * bands.COUNT,
    volume_solids=0.0,
    density_g_per_ml=1.0,
    basis=Basis.MEASURED,
)
