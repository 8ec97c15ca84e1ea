"""Measures written down by hand, so that each rule can be tried on the numbers it is about."""

from dataclasses import replace

import numpy as np

from schemeforge.comparison import (
    DEFAULTS,
    Agreement,
    Case,
    Finding,
    Handed,
    HueFamily,
    PairMeasures,
    SchemeMeasures,
    SeenWith,
    Shift,
    Thresholds,
    Transition,
    Work,
    Yardstick,
    ZoneDifference,
    ZoneMeasures,
)
from schemeforge.comparison.metrics import LIGHTS
from schemeforge.scheme import Project, edits
from tests.builders import small_project, small_scheme

STILL = Shift(0.0, 0.0, 0.0)


def candidates() -> Project:
    """The small project with three schemes: as it is, warmer, and with a short list of steps."""
    project = small_project()
    warm = edits.duplicate_scheme(project, "first", "warm")
    warm = edits.update_mix(
        warm,
        "warm",
        replace(
            warm.scheme("warm").mix("wash-pot"),
            ingredients=warm.scheme("warm").mix("red-pot").ingredients,
        ),
    )
    bare = replace(small_scheme("bare"), steps=small_scheme().steps[:2], shares=())
    return edits.add_scheme(warm, bare)


def zone(
    zone_id: str,
    *,
    span: float = 35.0,
    chroma: float = 20.0,
    area: float = 5.0,
    light: Shift = STILL,
    light_hand: Shift = STILL,
    heavy_hand: Shift = STILL,
    transition: Transition | None = None,
    lightness: float = 50.0,
) -> ZoneMeasures:
    """A zone of the small project."""
    return ZoneMeasures(
        zone_id=zone_id,
        area_cm2=area,
        lab=(lightness, chroma, 0.0),
        chroma=chroma,
        span=span,
        lights=((LIGHTS[0], STILL), (LIGHTS[1], light), (LIGHTS[2], STILL)),
        light_hand=light_hand,
        heavy_hand=heavy_hand,
        transition=transition,
    )


def pair(
    lightness: float,
    *,
    hue: float | None = None,
    delta_e: float = 30.0,
    altered: float = 25.0,
    zone_ids: tuple[str, str] = ("hide", "cloak"),
) -> PairMeasures:
    """Two touching zones, and how far apart they are to the hardest of the other eyes."""
    kinds = (("protan", altered + 5.0), ("deutan", altered), ("tritan", altered + 9.0))
    return PairMeasures(
        lighter_id=zone_ids[0],
        darker_id=zone_ids[1],
        lightness=lightness,
        hue=hue,
        delta_e=delta_e,
        seen_with=tuple(
            SeenWith(deficiency=kind, lightness=lightness, delta_e=far) for kind, far in kinds
        ),
    )


def family(share: float, *zone_ids: str) -> HueFamily:
    """A red that takes that share of the area."""
    return HueFamily(lab=(50.0, 40.0, 20.0), share=share, zone_ids=zone_ids)


def measured(
    *zones: ZoneMeasures,
    pairs: tuple[PairMeasures, ...] = (),
    families: tuple[HueFamily, ...] = (),
    neutral: float = 0.2,
) -> SchemeMeasures:
    """Measures of the first scheme of the small project."""
    return SchemeMeasures(
        scheme_id="first",
        zones=zones,
        pairs=pairs,
        families=families,
        neutral_share=neutral,
        work=Work(paint_ids=("red-glaze", "off-white"), coats=3, passes=4),
        tiles={z.zone_id: np.full((2, 1, 3), 50.0) for z in zones},
    )


def case(
    measures: SchemeMeasures,
    *,
    thresholds: Thresholds = DEFAULTS,
    handed: Handed | None = None,
    yardstick: Handed | None = None,
    differences: tuple[ZoneDifference, ...] = (),
    agreement: Agreement | None = None,
) -> Case:
    """A case of the small project; ``yardstick`` is what was handed in about another scheme."""
    project = small_project()
    against = None
    if yardstick is not None:
        against = Yardstick(name="the other", measures=measures, handed=yardstick)
    return Case(
        project=project,
        scheme=project.schemes[0],
        measures=measures,
        thresholds=thresholds,
        handed=Handed() if handed is None else handed,
        yardstick=against,
        differences=differences,
        agreement=agreement,
    )


def only(found: list[Finding] | tuple[Finding, ...], key: str) -> Finding:
    """The one finding of that key."""
    matching = [finding for finding in found if finding.key == key]
    assert len(matching) == 1, [finding.sentence for finding in found]
    return matching[0]
