"""Measures a scheme: separation, range, balance, constancy, hands, colour vision, work."""

from collections.abc import Callable, Mapping
from dataclasses import replace

import numpy as np

from schemeforge import colorimetry
from schemeforge.comparison.hues import families
from schemeforge.comparison.measures import (
    PairMeasures,
    SchemeMeasures,
    SeenWith,
    Shift,
    Transition,
    Work,
    ZoneMeasures,
    hue_between,
)
from schemeforge.comparison.thresholds import DEFAULTS, Thresholds
from schemeforge.comparison.tiles import (
    Array,
    along_means,
    is_feathered,
    lab,
    mean,
    relief_means,
    with_hand,
    zone_xyz,
)
from schemeforge.paint import WATER_ID
from schemeforge.scheme import Coat, Project, Scheme, Viewing, Zone

DAYLIGHT = "D65"
# A filament lamp, a white LED, and the plain tubes of a hall.
LIGHTS = ("A", "LED-B3", "FL2")

GoOn = Callable[[float], bool]


def always(_share: float) -> bool:
    """Goes on to the end."""
    return True


def measure(
    project: Project,
    scheme: Scheme,
    viewing: Viewing | None = None,
    *,
    thresholds: Thresholds = DEFAULTS,
    go_on: GoOn = always,
) -> SchemeMeasures | None:
    """Everything measured of a scheme, full recipe; None where it was told to stop.

    Args:
        project: The document.
        scheme: One of its schemes.
        viewing: Light, observer, finish, wet or dry; the project's own where None. Constancy is
            always from daylight, with the same finish and observer.
        thresholds: What counts as neutral, and how heavy and light the hands are.
        go_on: Told the share done, 0 to 1, after every look at a zone; returns False to stop.

    Raises:
        UnknownNameError: For a light that does not exist.
        PaintMissingError: For a paint that the project does not carry.
    """
    view = project.viewing if viewing is None else viewing
    heavy = with_hand(scheme, thresholds.heavy_hand)
    light = with_hand(scheme, thresholds.light_hand)
    looks = {
        "now": (scheme, view),
        DAYLIGHT: (scheme, replace(view, light=DAYLIGHT)),
        **{name: (scheme, replace(view, light=name)) for name in LIGHTS},
        "heavy": (heavy, view),
        "light": (light, view),
    }
    zones: list[ZoneMeasures] = []
    seen: dict[str, Array] = {}
    for n, zone in enumerate(project.zones):
        tiles: dict[str, Array] = {}
        for m, (name, (variant, how)) in enumerate(looks.items()):
            if name == DAYLIGHT and how == view:
                tiles[name] = tiles["now"]
                continue
            tiles[name] = zone_xyz(project, variant, zone.id, how)
            if not go_on((n + (m + 1) / len(looks)) / len(project.zones)):
                return None
        seen[zone.id] = tiles["now"]
        zones.append(_zone(project, scheme, zone, tiles, thresholds))
    labs = {zone_id: lab(tile) for zone_id, tile in seen.items()}
    areas = {zone.zone_id: zone.area_cm2 for zone in zones}
    hues, neutral = families(labs, areas, thresholds.neutral_chroma, thresholds.hue_gap)
    return SchemeMeasures(
        scheme_id=scheme.id,
        zones=tuple(zones),
        pairs=_pairs(project, seen, thresholds),
        families=hues,
        neutral_share=neutral,
        work=_work(scheme),
        tiles=labs,
    )


def shift(before: Array, after: Array) -> Shift:
    """How far a tile of CIELAB moved."""
    delta_e = colorimetry.ciede2000(after, before)
    return Shift(
        float(mean(delta_e)), float(delta_e.max()), float(mean(after)[0] - mean(before)[0])
    )


def _zone(
    project: Project,
    scheme: Scheme,
    zone: Zone,
    xyz: Mapping[str, Array],
    thresholds: Thresholds,
) -> ZoneMeasures:
    tiles = {name: lab(tile) for name, tile in xyz.items()}
    now = tiles["now"]
    L, a, b = mean(now).tolist()
    by_relief = relief_means(now)[:, 0]
    return ZoneMeasures(
        zone_id=zone.id,
        area_cm2=zone.area_on(project.size),
        lab=(L, a, b),
        chroma=float(mean(np.hypot(now[..., 1], now[..., 2]))),
        span=float(by_relief[-1] - by_relief[0]),
        lights=tuple((name, shift(tiles[DAYLIGHT], tiles[name])) for name in LIGHTS),
        light_hand=shift(now, tiles["light"]),
        heavy_hand=shift(now, tiles["heavy"]),
        transition=_transition(now, thresholds) if is_feathered(scheme, zone.id) else None,
    )


def _transition(tile: Array, thresholds: Thresholds) -> Transition:
    ends = along_means(tile)[[0, -1]]
    root, tip = (tuple(end) for end in ends.tolist())
    return Transition(
        hue=hue_between(root, tip, thresholds.neutral_chroma),
        delta_e=float(colorimetry.ciede2000(ends[1], ends[0])),
        lightness=tip[0] - root[0],
    )


def _pairs(
    project: Project, seen: Mapping[str, Array], thresholds: Thresholds
) -> tuple[PairMeasures, ...]:
    means = {zone_id: mean(lab(tile)) for zone_id, tile in seen.items()}
    altered = {
        kind: {
            zone_id: mean(lab(colorimetry.as_seen_with(tile, kind, thresholds.severity)))
            for zone_id, tile in seen.items()
        }
        for kind in colorimetry.DEFICIENCIES
    }
    order = [zone.id for zone in project.zones]
    both = {
        tuple(sorted((zone.id, other), key=order.index))
        for zone in project.zones
        for other in zone.touches
    }
    found = []
    for one, two in sorted(both, key=lambda pair: [order.index(zone_id) for zone_id in pair]):
        lighter, darker = (one, two) if means[one][0] >= means[two][0] else (two, one)
        top, low = means[lighter], means[darker]
        found.append(
            PairMeasures(
                lighter_id=lighter,
                darker_id=darker,
                lightness=float(top[0] - low[0]),
                hue=hue_between(
                    tuple(top.tolist()), tuple(low.tolist()), thresholds.neutral_chroma
                ),
                delta_e=float(colorimetry.ciede2000(top, low)),
                seen_with=tuple(
                    SeenWith(
                        deficiency=kind,
                        lightness=abs(float(by_zone[lighter][0] - by_zone[darker][0])),
                        delta_e=float(colorimetry.ciede2000(by_zone[lighter], by_zone[darker])),
                    )
                    for kind, by_zone in altered.items()
                ),
            )
        )
    return tuple(found)


def _work(scheme: Scheme) -> Work:
    pots = dict.fromkeys(step.mix_id for step in scheme.steps if step.mix_id is not None)
    paints = dict.fromkeys(
        ingredient.paint_id
        for mix_id in pots
        for ingredient in scheme.mix(mix_id).ingredients
        if ingredient.paint_id != WATER_ID
    )
    coats = [step.layer for step in scheme.steps if isinstance(step.layer, Coat)]
    return Work(
        paint_ids=tuple(paints), coats=len(coats), passes=sum(coat.passes for coat in coats)
    )
