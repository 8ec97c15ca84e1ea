"""Swatches of the sheet: the appearance engine's colours as pixels, dry and wet, with numbers."""

from dataclasses import dataclass, field

import numpy as np
from numpy.typing import NDArray

from schemeforge import appearance, colorimetry
from schemeforge.appearance import Points, Stage
from schemeforge.export.facts import Facts
from schemeforge.plan import PlannedStep
from schemeforge.scheme import Viewing, Zone

PIXELS_PER_MM = 6
RAMP_MM = 40.0
BAND_MM = 8.0
FEATHERED_MM = 16.0
# Heights on slim cards, and where several share a large one: dry, dry and feathered, wet.
SLIM_MM, SLIM_FEATHERED_MM, SLIM_WET_MM = 6.0, 9.5, 4.0
# Zones whose colours after a step nowhere differ by this much share a swatch: nobody sees it.
UNSEEN_DE = 1.0
# Rows computed along a part; each is repeated to fill the height.
_ALONG = 32


@dataclass(frozen=True, slots=True, kw_only=True)
class Shade:
    """One end of a swatch in numbers: lightness and the nearest screen colour."""

    lightness: float
    code: str

    @property
    def words(self) -> str:
        """Short enough to stand under the swatch."""
        return f"L*{self.lightness:.0f} {self.code}"


@dataclass(frozen=True, slots=True, kw_only=True)
class Ramp:
    """Pixels of a swatch: recess on the left, raised edge on the right, root on top, tip below.

    Args:
        pixels: 8-bit sRGB, row by row.
        columns: Pixels across.
        rows: Pixels down.
        root: Its two ends at the root, recess first.
        tip: Its two ends at the tip.
        outside: True where some colour lies beyond what a screen shows.
    """

    pixels: bytes
    columns: int
    rows: int
    root: tuple[Shade, Shade]
    tip: tuple[Shade, Shade]
    outside: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class Swatch:
    """A step's colour on the zones that look alike after it.

    Args:
        zones: The zone whose pixels these are, then those that look the same.
        dry: Dry, by the sheet's viewing.
        wet: The step's own coat still wet; None on the board of finished zones.
        feathered: True where the colour changes from root to tip.
        tolerance: Largest half-width of the 90 % interval over the swatch, CIEDE2000; None where
            it was not asked for, or for bare plastic.
        labs: CIELAB at a few places, ``(relief, along, 3)``.
        near: Zones without a swatch of their own that this one comes nearest to.
    """

    zones: tuple[Zone, ...]
    dry: Ramp
    wet: Ramp | None
    feathered: bool
    tolerance: float | None
    labs: NDArray[np.float64] = field(compare=False, repr=False)
    near: tuple[Zone, ...] = ()


class Swatches:
    """Makes the swatches of one sheet; every zone's stack is worked out once.

    Args:
        facts: What the sheet tells.
        tolerances: True to work out how sure each colour is.
    """

    def __init__(self, facts: Facts, *, tolerances: bool) -> None:
        self._facts = facts
        self._tolerances = tolerances
        self._stages: dict[tuple[str, str | None, bool], tuple[Stage, ...]] = {}
        self._spread: dict[tuple[str, str | None], NDArray[np.float64]] = {}

    def of_step(self, planned: PlannedStep) -> tuple[Swatch, ...]:
        """Swatches of a coloured step, the largest area first.

        Zones that nobody could tell apart after it stand together under the largest of them.
        """
        size = self._facts.project.size
        looks = [
            look
            for zone_id in planned.step.zone_ids
            if (look := self._look(planned, self._facts.project.zone(zone_id)))
        ]
        looks.sort(key=lambda look: look.zone.area_on(size), reverse=True)
        families: list[list[_Look]] = []
        for look in looks:
            family = next((f for f in families if f[0].is_like(look)), None)
            if family is None:
                families.append([look])
            else:
                family.append(look)
        families.sort(key=lambda f: sum(x.zone.area_on(size) for x in f), reverse=True)
        return tuple(self._swatch(family, alone=len(families) == 1) for family in families)

    def finished(self) -> tuple[Swatch, ...]:
        """Each zone as it ends, in the project's order, dry."""
        group_id = self._facts.options.group_id
        out = []
        for zone in self._facts.project.zones:
            stage = self._of(zone.id, group_id, wet=False)[-1]
            feathered = _varies_along(stage.xyz)
            out.append(
                Swatch(
                    zones=(zone,),
                    dry=_ramp(stage.xyz, SLIM_FEATHERED_MM if feathered else SLIM_MM),
                    wet=None,
                    feathered=feathered,
                    tolerance=self._tolerance(zone.id, group_id, -1),
                    labs=_labs(stage.xyz),
                )
            )
        return tuple(out)

    def _look(self, planned: PlannedStep, zone: Zone) -> "_Look | None":
        group_id = self._facts.recipe_group(planned, zone.id)
        dry, wet = (self._of(zone.id, group_id, wet=wet) for wet in (False, True))
        place = next((n for n, s in enumerate(dry) if s.step and s.step.id == planned.step.id), -1)
        if place < 0:
            return None
        spread = self._tolerance(zone.id, group_id, place)
        seen_dry, seen_wet = dry[place].xyz, wet[place].xyz
        labs = np.stack([_labs(seen_dry), _labs(seen_wet)])
        return _Look(zone, seen_dry, seen_wet, labs, spread)

    def _swatch(self, family: "list[_Look]", *, alone: bool) -> Swatch:
        first = family[0]
        feathered = _varies_along(first.dry)
        if alone and self._facts.options.roomy:
            dry_mm, wet_mm = FEATHERED_MM if feathered else BAND_MM, BAND_MM
        else:
            dry_mm, wet_mm = SLIM_FEATHERED_MM if feathered else SLIM_MM, SLIM_WET_MM
        spread = [look.tolerance for look in family if look.tolerance is not None]
        zones = self._facts.numbers
        rest = sorted((look.zone for look in family[1:]), key=lambda zone: zones[zone.id])
        return Swatch(
            zones=(first.zone, *rest),
            dry=_ramp(first.dry, dry_mm),
            wet=_ramp(first.wet, wet_mm),
            feathered=feathered,
            tolerance=max(spread, default=None),
            labs=_labs(first.dry),
        )

    def _of(self, zone_id: str, group_id: str | None, *, wet: bool) -> tuple[Stage, ...]:
        key = (zone_id, group_id, wet)
        if key not in self._stages:
            facts = self._facts
            zone = facts.project.zone(zone_id)
            count = round(RAMP_MM * PIXELS_PER_MM)
            relief = np.linspace(0.0, 1.0, count)[:, np.newaxis]
            along = np.linspace(0.0, 1.0, _ALONG)[np.newaxis, :]
            low, high = zone.tones
            self._stages[key] = appearance.zone_stages(
                facts.project,
                facts.scheme,
                zone_id,
                Points(low + (high - low) * relief, relief, along),
                seen(facts.viewing, wet=wet),
                group_id,
            )
        return self._stages[key]

    def _tolerance(self, zone_id: str, group_id: str | None, place: int) -> float | None:
        if not self._tolerances:
            return None
        if self._of(zone_id, group_id, wet=False)[place].step is None:
            return None  # bare plastic, whose colour is a rule of thumb
        key = (zone_id, group_id)
        if key not in self._spread:
            facts = self._facts
            low, high = facts.project.zone(zone_id).tones
            relief = np.tile([0.0, 0.5, 1.0], 2)
            points = Points(low + (high - low) * relief, relief, np.repeat([0.0, 1.0], 3))
            view = seen(facts.viewing, wet=False)
            self._spread[key] = appearance.zone_tolerance(
                facts.project, facts.scheme, zone_id, points, view, group_id=group_id
            ).delta_e
        return float(self._spread[key][place].max())


@dataclass(frozen=True, slots=True)
class _Look:
    """A zone after one step: XYZ ``(relief, along, 3)`` dry and wet, some CIELAB of both."""

    zone: Zone
    dry: NDArray[np.float64]
    wet: NDArray[np.float64]
    labs: NDArray[np.float64]
    tolerance: float | None

    def is_like(self, other: "_Look") -> bool:
        """True where the other zone looks the same, dry and wet, at every place."""
        if _varies_along(self.dry) and self.zone.along_words != other.zone.along_words:
            return False
        return float(colorimetry.ciede2000(self.labs, other.labs).max()) < UNSEEN_DE


def seen(viewing: Viewing, *, wet: bool) -> Viewing:
    """The viewing, wet or dry."""
    return Viewing(
        light=viewing.light,
        observer=viewing.observer,
        finish=viewing.finish,
        wet=wet,
        milk_per_um=viewing.milk_per_um,
    )


def _labs(xyz: NDArray[np.float64]) -> NDArray[np.float64]:
    """CIELAB at a few places of a tile."""
    return np.asarray(colorimetry.lab_from_xyz(xyz[::8, ::4]), dtype=np.float64)


def _varies_along(xyz: NDArray[np.float64]) -> bool:
    return bool(np.ptp(xyz, axis=1).max() > 1e-9)


def tile_pixels(xyz: NDArray[np.float64], rows: int) -> bytes:
    """A tile ``(relief, along, 3)`` as 8-bit sRGB, root on top, in so many rows."""
    return _codes(xyz, rows).tobytes()


def _codes(xyz: NDArray[np.float64], wanted: int) -> NDArray[np.uint8]:
    rows = np.moveaxis(xyz, 1, 0)
    nearest = np.arange(wanted) * len(rows) // wanted
    return colorimetry.dither(colorimetry.srgb(rows).rgb[nearest])


def _ramp(xyz: NDArray[np.float64], height_mm: float) -> Ramp:
    """The tile ``(relief, along, 3)`` as pixels of that height."""
    rows = np.moveaxis(xyz, 1, 0)
    codes = _codes(xyz, round(height_mm * PIXELS_PER_MM))
    corners = rows[[0, 0, -1, -1], [0, -1, 0, -1]]
    shades = [
        Shade(lightness=float(lab[0]), code=code)
        for lab, code in zip(
            colorimetry.lab_from_xyz(corners), colorimetry.hex_codes(corners), strict=True
        )
    ]
    return Ramp(
        pixels=codes.tobytes(),
        columns=codes.shape[1],
        rows=codes.shape[0],
        root=(shades[0], shades[1]),
        tip=(shades[2], shades[3]),
        outside=not bool(colorimetry.srgb(rows).in_gamut.all()),
    )
