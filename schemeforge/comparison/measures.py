"""What is measured of a scheme: plain values, all colours as seen under the viewing asked for."""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from schemeforge.colorimetry import ciede2000, lch


class Shift(NamedTuple):
    """How far a zone moves when something changes.

    Args:
        mean: CIEDE2000, mean over the zone.
        worst: CIEDE2000 where it is greatest.
        lightness: Change of the zone's L*.
    """

    mean: float
    worst: float
    lightness: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Transition:
    """What a feathered zone does from root to tip.

    Args:
        hue: Turn of hue in degrees, 0 to 180; None where either end is neutral.
        delta_e: CIEDE2000 between the ends.
        lightness: L* of the tip over that of the root.
    """

    hue: float | None
    delta_e: float
    lightness: float


@dataclass(frozen=True, slots=True, kw_only=True)
class ZoneMeasures:
    """One zone of a scheme; means are over recess to raised edge and root to tip.

    Args:
        zone_id: The zone.
        area_cm2: On one model.
        lab: Mean CIELAB.
        chroma: Mean chroma.
        span: L* of the raised edge over that of the recess.
        lights: Shift from daylight to each other light, by the light's name.
        light_hand: Shift where all films are thinner.
        heavy_hand: Shift where all films are thicker.
        transition: From root to tip; None for a zone without a feathered coat.
    """

    zone_id: str
    area_cm2: float
    lab: tuple[float, float, float]
    chroma: float
    span: float
    lights: tuple[tuple[str, Shift], ...]
    light_hand: Shift
    heavy_hand: Shift
    transition: Transition | None

    @property
    def lightness(self) -> float:
        """L* of the zone."""
        return self.lab[0]

    @property
    def worst_light(self) -> tuple[str, Shift]:
        """The light that shifts the zone most, and by how much."""
        return max(self.lights, key=lambda entry: entry[1].mean)

    @property
    def worst_hand(self) -> float:
        """The greater mean shift of a light and a heavy hand, CIEDE2000."""
        return max(self.light_hand.mean, self.heavy_hand.mean)


@dataclass(frozen=True, slots=True, kw_only=True)
class SeenWith:
    """Two touching zones to an eye with a colour-vision deficiency [Machado2009]."""

    deficiency: str
    lightness: float
    delta_e: float


@dataclass(frozen=True, slots=True, kw_only=True)
class PairMeasures:
    """Two touching zones.

    Args:
        lighter_id: The lighter of the two.
        darker_id: The other.
        lightness: L* between them, 0 or more.
        hue: Degrees between their hues, 0 to 180; None where either is neutral.
        delta_e: CIEDE2000 between their mean colours.
        seen_with: The same to eyes with a deficiency.
    """

    lighter_id: str
    darker_id: str
    lightness: float
    hue: float | None
    delta_e: float
    seen_with: tuple[SeenWith, ...]

    @property
    def zone_ids(self) -> tuple[str, str]:
        """Both zones, the lighter first."""
        return self.lighter_id, self.darker_id

    @property
    def hardest(self) -> SeenWith:
        """The deficiency to which they look most alike."""
        return min(self.seen_with, key=lambda seen: seen.delta_e)


@dataclass(frozen=True, slots=True, kw_only=True)
class HueFamily:
    """Colours of neighbouring hue.

    Args:
        lab: Their mean CIELAB.
        share: Of the model's area, 0 to 1.
        zone_ids: Where they are.
    """

    lab: tuple[float, float, float]
    share: float
    zone_ids: tuple[str, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Work:
    """What a scheme asks of the painter.

    Args:
        paint_ids: Paints and mediums of its pots, by first use; water, which is free, left out.
        coats: Steps that lay a coat.
        passes: The same, each counted as often as it is laid.
    """

    paint_ids: tuple[str, ...]
    coats: int
    passes: int


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class SchemeMeasures:
    """Everything measured of one scheme.

    Args:
        scheme_id: The scheme.
        zones: In the project's order.
        pairs: Touching zones, each pair once.
        families: Hues, largest share of the area first.
        neutral_share: Share of the area that is neutral, 0 to 1.
        work: Paints, coats and passes.
        tiles: CIELAB of each zone over recess to raised edge by root to tip.
    """

    scheme_id: str
    zones: tuple[ZoneMeasures, ...]
    pairs: tuple[PairMeasures, ...]
    families: tuple[HueFamily, ...]
    neutral_share: float
    work: Work
    tiles: Mapping[str, NDArray[np.float64]]

    def zone(self, zone_id: str) -> ZoneMeasures:
        """The measures of one zone."""
        return next(zone for zone in self.zones if zone.zone_id == zone_id)

    def chroma_share(self, zone_id: str) -> float:
        """The zone's share of all chroma, weighted by area; 0 for a model without any."""
        total = sum(zone.chroma * zone.area_cm2 for zone in self.zones)
        zone = self.zone(zone_id)
        return zone.chroma * zone.area_cm2 / total if total else 0.0

    def area_share(self, zone_id: str) -> float:
        """The zone's share of the model's area."""
        return self.zone(zone_id).area_cm2 / sum(zone.area_cm2 for zone in self.zones)

    def contrast(self, zone_id: str) -> float:
        """CIEDE2000 of the zone to the rest of the model, its zones weighted by area; 0 alone.

        The region contrast of [Cheng2015], each other region by its size, with CIEDE2000 for
        the distance of colours.
        """
        here = self.zone(zone_id)
        rest = [zone for zone in self.zones if zone.zone_id != zone_id]
        if not rest:
            return 0.0
        apart = ciede2000(np.array([zone.lab for zone in rest]), np.array(here.lab))
        return float(np.average(apart, weights=[zone.area_cm2 for zone in rest]))

    def main_families(self, least_share: float) -> tuple[HueFamily, ...]:
        """Hues that take at least that share of the area."""
        return tuple(family for family in self.families if family.share >= least_share)


@dataclass(frozen=True, slots=True, kw_only=True)
class ReadPair:
    """Two touching zones on a stand-in model, close up and from a distance.

    Args:
        zone_ids: Both zones.
        close: Lightness between them close up, L*.
        far: What is left of it at one metre, L*.
    """

    zone_ids: tuple[str, str]
    close: float
    far: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Handed:
    """What other parts of the program worked out about a scheme; None where they did not.

    Args:
        minutes: Hands-on minutes of the batch.
        to_buy: Names of paints of which there is too little.
        cost: What those cost.
        unknown: Names of paints of which it is not known how much is left.
        at_one_metre: How touching zones read on a stand-in model; those that it shows.
    """

    minutes: float | None = None
    to_buy: tuple[str, ...] | None = None
    cost: float | None = None
    unknown: tuple[str, ...] = ()
    at_one_metre: tuple[ReadPair, ...] | None = None

    @property
    def hardest_to_read(self) -> ReadPair | None:
        """The touching zones that least can be told apart at one metre."""
        return min(self.at_one_metre or (), key=lambda pair: pair.far, default=None)


NOTHING_HANDED = Handed()


def hue_between(one: tuple[float, ...], two: tuple[float, ...], neutral: float) -> float | None:
    """Degrees between the hues of two CIELAB colours, 0 to 180; None where one is neutral."""
    (_, C1, h1), (_, C2, h2) = lch([one, two]).tolist()
    if min(C1, C2) < neutral:
        return None
    turn = abs(h1 - h2) % 360.0
    return float(min(turn, 360.0 - turn))
