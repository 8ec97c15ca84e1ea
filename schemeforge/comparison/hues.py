"""Hues of a scheme, gathered into families round the hue circle."""

from collections.abc import Mapping, Sequence
from typing import NamedTuple

import numpy as np

from schemeforge.colorimetry import lch
from schemeforge.comparison.measures import HueFamily
from schemeforge.comparison.tiles import Array, along_means, along_weights


class Patch(NamedTuple):
    """One colour of a zone and the share of the model's area that it stands for."""

    zone_id: str
    lab: Array
    share: float


def families(
    tiles: Mapping[str, Array], areas: Mapping[str, float], neutral_chroma: float, gap: float
) -> tuple[tuple[HueFamily, ...], float]:
    """Families of hue, largest first, and the share of the area that is neutral.

    Patches are each zone's means over relief at its places along the part, so that a feathered
    zone may belong to two families. Sorted round the circle they are parted wherever two
    neighbours are more than ``gap`` degrees apart.

    Args:
        tiles: CIELAB by zone.
        areas: cm2 by zone.
        neutral_chroma: Chroma below which a patch has no hue.
        gap: Degrees.
    """
    total = sum(areas.values())
    patches = [
        Patch(zone_id, colour, areas[zone_id] / total * float(weight))
        for zone_id, tile in tiles.items()
        for colour, weight in zip(along_means(tile), along_weights(tile), strict=True)
    ]
    coloured = [p for p in patches if lch(p.lab)[1] >= neutral_chroma]
    found = [_family(group) for group in _parted(coloured, gap)]
    neutral = sum(p.share for p in patches) - sum(p.share for p in coloured)
    return tuple(sorted(found, key=lambda family: -family.share)), max(neutral, 0.0)


def _parted(patches: Sequence[Patch], gap: float) -> list[list[Patch]]:
    """Patches in groups round the circle."""
    if not patches:
        return []
    around = sorted(patches, key=_hue)
    hues = [_hue(patch) for patch in around]
    steps = [(b - a) % 360.0 for a, b in zip(hues, [*hues[1:], hues[0] + 360.0], strict=True)]
    # Starting behind the widest gap no group runs over the start.
    start = (int(np.argmax(steps)) + 1) % len(around)
    groups = [[around[start]]]
    for n in range(1, len(around)):
        place = (start + n) % len(around)
        if steps[place - 1] > gap:
            groups.append([])
        groups[-1].append(around[place])
    return groups


def _hue(patch: Patch) -> float:
    return float(lch(patch.lab)[2])


def _family(group: Sequence[Patch]) -> HueFamily:
    share = sum(patch.share for patch in group)
    L, a, b = np.average([p.lab for p in group], axis=0, weights=[p.share for p in group]).tolist()
    return HueFamily(
        lab=(L, a, b), share=share, zone_ids=tuple(dict.fromkeys(p.zone_id for p in group))
    )
