"""How near a scheme comes to a target: each of its colours, and as a whole."""

from dataclasses import dataclass
from typing import Any

import numpy as np
from numpy.typing import NDArray

from schemeforge import colorimetry
from schemeforge.colorimetry import lch
from schemeforge.comparison.measures import SchemeMeasures
from schemeforge.comparison.target import TargetColour, TargetPalette
from schemeforge.comparison.tiles import along_weights

_PARTS = 3  # of a zone from recess to raised edge, for the comparison as a whole


@dataclass(frozen=True, slots=True, kw_only=True)
class Met:
    """One colour of the target, and where the scheme comes nearest to it.

    Args:
        colour: The colour.
        zone_id: The zone that holds the nearest colour.
        delta_e: CIEDE2000 between the two.
        lightness: L* of the scheme's over the target's.
        chroma: Chroma likewise.
        hue: Difference of hue as a distance in the chroma plane.
    """

    colour: TargetColour
    zone_id: str
    delta_e: float
    lightness: float
    chroma: float
    hue: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Agreement:
    """How near a scheme comes to a target.

    Args:
        target: The target.
        met: Its colours, in the target's order.
        mean: Mean CIEDE2000 of them, by their shares.
        moved: Mean CIEDE2000 by which the scheme's colours, each with its area, would have to
            move to become the target's with theirs; None where the target has no shares.
    """

    target: TargetPalette
    met: tuple[Met, ...]
    mean: float
    moved: float | None

    @property
    def furthest(self) -> Met:
        """The colour of the target that is met least."""
        return max(self.met, key=lambda met: met.delta_e)


def agreement(measures: SchemeMeasures, target: TargetPalette) -> Agreement | None:
    """The agreement of a scheme with a target; None for a scheme without zones."""
    if not measures.zones:
        return None
    tiles = {zone.zone_id: measures.tiles[zone.zone_id].reshape(-1, 3) for zone in measures.zones}
    whole = np.concatenate([*tiles.values()])
    owner = [zone_id for zone_id, tile in tiles.items() for _ in tile]
    met = tuple(_met(colour, whole, owner) for colour in target.colours)
    return Agreement(
        target=target,
        met=met,
        mean=sum(m.colour.share * m.delta_e for m in met),
        moved=_moved(measures, target) if target.has_shares else None,
    )


def _met(colour: TargetColour, whole: NDArray[Any], owner: list[str]) -> Met:
    wanted = np.array(colour.lab)
    apart = colorimetry.ciede2000(whole, wanted)
    at = int(np.argmin(apart))
    (L1, C1, h1), (L2, C2, h2) = lch([whole[at], wanted]).tolist()
    half = np.radians(h1 - h2) / 2.0
    return Met(
        colour=colour,
        zone_id=owner[at],
        delta_e=float(apart[at]),
        lightness=L1 - L2,
        chroma=C1 - C2,
        hue=float(2.0 * np.sqrt(C1 * C2) * abs(np.sin(half))),
    )


def _moved(measures: SchemeMeasures, target: TargetPalette) -> float:
    """The earth mover's distance [Rubner2000] in CIEDE2000, by linear programming."""
    from scipy.optimize import linprog

    labs, areas = _patches(measures)
    wanted = np.array([colour.lab for colour in target.colours])
    shares = np.array([colour.share for colour in target.colours])
    cost = colorimetry.ciede2000(labs[:, np.newaxis], wanted)
    n, m = cost.shape
    leaving = np.kron(np.eye(n), np.ones(m))
    arriving = np.kron(np.ones(n), np.eye(m))
    # The last row follows from the others, which all sum to 1.
    rows = np.concatenate([leaving, arriving[:-1]])
    sums = np.concatenate([areas, shares[:-1]])
    found = linprog(cost.reshape(-1), A_eq=rows, b_eq=sums, method="highs")
    return float(cost.reshape(-1) @ np.asarray(found.x))


def _patches(measures: SchemeMeasures) -> tuple[NDArray[np.float64], NDArray[np.float64]]:
    """Colours of each zone in three parts over relief at its places along, and their shares."""
    labs, areas = [], []
    for zone in measures.zones:
        tile = measures.tiles[zone.zone_id]
        parts = np.array_split(tile, _PARTS)
        weights = along_weights(tile) * measures.area_share(zone.zone_id)
        for part in parts:
            labs.append(part.mean(axis=0))
            areas.append(weights * (len(part) / len(tile)))
    shares = np.concatenate(areas)
    return np.concatenate(labs), shares / shares.sum()
