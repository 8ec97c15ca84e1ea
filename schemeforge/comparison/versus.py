"""How far a scheme is from the yardstick, zone by zone."""

from dataclasses import dataclass

import numpy as np

from schemeforge import colorimetry
from schemeforge.comparison.measures import SchemeMeasures
from schemeforge.comparison.tiles import mean

UNSEEN = 1.0


@dataclass(frozen=True, slots=True, kw_only=True)
class ZoneDifference:
    """CIEDE2000 between two schemes over a zone, recess to raised edge by root to tip.

    Args:
        zone_id: The zone.
        mean: Over the zone.
        worst: Where it is greatest.
        lightness: L* of the zone over that of the yardstick's.
    """

    zone_id: str
    mean: float
    worst: float
    lightness: float

    @property
    def words(self) -> str:
        """The mean difference in plain words."""
        return colorimetry.difference_words(self.mean)

    @property
    def is_seen(self) -> bool:
        """True where some place of the zone differs by 1 or more."""
        return self.worst >= UNSEEN


def differences(scheme: SchemeMeasures, yardstick: SchemeMeasures) -> tuple[ZoneDifference, ...]:
    """Difference of every zone to the yardstick's, in the project's order."""
    found = []
    for zone in scheme.zones:
        one, two = np.broadcast_arrays(scheme.tiles[zone.zone_id], yardstick.tiles[zone.zone_id])
        delta_e = colorimetry.ciede2000(one, two)
        found.append(
            ZoneDifference(
                zone_id=zone.zone_id,
                mean=float(mean(delta_e)),
                worst=float(delta_e.max()),
                lightness=zone.lightness - yardstick.zone(zone.zone_id).lightness,
            )
        )
    return tuple(found)
