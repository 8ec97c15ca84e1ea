"""Measures as columns of the table: for the whole model, or for one zone."""

from collections.abc import Callable, Sequence
from dataclasses import dataclass

from PySide6.QtCore import QCoreApplication

from schemeforge.comparison import Compared, Thresholds, ZoneMeasures


def _tr(text: str) -> str:
    return QCoreApplication.translate("SchemeTable", text)


@dataclass(frozen=True, slots=True)
class Measure:
    """One column.

    Args:
        title: Its heading.
        tip: What it is, with its unit.
        value: The number of a scheme; None where there is none.
        digits: Decimal places shown.
        best: 1 where more is better, -1 where less is, 0 where neither.
        source: Where the way of measuring comes from; "" for a plain difference or count.
    """

    title: str
    tip: str
    value: Callable[[Compared], float | None]
    digits: int = 0
    best: int = 0
    source: str = ""

    @property
    def whole_tip(self) -> str:
        """What it is, and where it comes from."""
        return f"{self.tip}. {self.source}".rstrip()

    def text(self, compared: Compared) -> str:
        """The number as shown, "–" where there is none."""
        value = self.value(compared)
        if value is None:
            return "–"
        text = f"{value:.{self.digits}f}"
        return text.removeprefix("-") if float(text) == 0.0 else text


def whole_measures(thresholds: Thresholds, rows: Sequence[Compared]) -> tuple[Measure, ...]:
    """Measures of the whole model that at least one of the schemes has."""
    every = (*_light_measures(), *_eye_measures(thresholds), *_work_measures(), *_far_measures())
    return tuple(m for m in every if not rows or any(m.value(row) is not None for row in rows))


def _light_measures() -> tuple[Measure, ...]:
    return (
        Measure(
            _tr("Closest zones"),
            _tr("Least lightness between touching zones, L*"),
            lambda c: min((p.lightness for p in c.measures.pairs), default=None),
            1,
            1,
            _tr("CIELAB."),
        ),
        Measure(
            _tr("Closest hues"),
            _tr("Least angle between the hues of touching zones that have one, degrees"),
            lambda c: min((p.hue for p in c.measures.pairs if p.hue is not None), default=None),
            0,
            1,
            _tr("CIELAB."),
        ),
        Measure(
            _tr("Median range"),
            _tr("Lightness from recess to raised edge, middle of all zones, L*"),
            _median_span,
            source=_tr("CIELAB."),
        ),
        Measure(
            _tr("At 1 m"),
            _tr("Least lightness left between touching zones of the stand-in at one metre, L*"),
            _read_far,
            1,
            1,
            _tr("The eye's blur: Zhang and Wandell 1996."),
        ),
    )


def _eye_measures(thresholds: Thresholds) -> tuple[Measure, ...]:
    return (
        Measure(
            _tr("Focal point"),
            _tr("Contrast of the small zone that stands out most, times the mean of all zones"),
            lambda c: _of_finding(c, "focus", "ratio"),
            2,
            1,
            _tr("Contrast of regions: Cheng and others 2015, with CIEDE2000."),
        ),
        Measure(
            _tr("Main hues"),
            _tr("Hues that take a fair share of the area"),
            lambda c: float(len(c.measures.main_families(thresholds.main_share))),
            source=_tr("Rule of thumb."),
        ),
        Measure(
            _tr("Other lights"),
            _tr("Shift of the worst zone from daylight to bulb, white LED or hall tubes, dE"),
            lambda c: max((z.worst_light[1].mean for z in c.measures.zones), default=None),
            1,
            -1,
            _tr("CAT16 and CIEDE2000."),
        ),
        Measure(
            _tr("Other hands"),
            _tr("Shift of the worst zone with a light or heavy hand, dE"),
            lambda c: max((z.worst_hand for z in c.measures.zones), default=None),
            1,
            -1,
            _tr("CIEDE2000; how light and heavy is a rule of thumb."),
        ),
        Measure(
            _tr("Other eyes"),
            _tr("Nearest touching zones to an eye with a colour-vision deficiency, dE"),
            lambda c: min((p.hardest.delta_e for p in c.measures.pairs), default=None),
            1,
            1,
            _tr("Machado, Oliveira and Fernandes 2009."),
        ),
    )


def _far_measures() -> tuple[Measure, ...]:
    return (
        Measure(
            _tr("From target"),
            _tr("How far its colours would have to move to be the target's, mean dE"),
            _from_target,
            1,
            -1,
            _tr("Earth mover's distance: Rubner, Tomasi and Guibas 2000, in CIEDE2000."),
        ),
        Measure(
            _tr("From yardstick"),
            _tr("Mean difference to the yardstick, zones weighted by area, dE"),
            lambda c: c.whole_difference,
            1,
            source=_tr("CIEDE2000."),
        ),
    )


def _read_far(compared: Compared) -> float | None:
    hardest = compared.handed.hardest_to_read
    return None if hardest is None else hardest.far


def _of_finding(compared: Compared, key: str, number: str) -> float | None:
    found = next((f for f in compared.findings if f.key == key), None)
    return None if found is None else dict(found.numbers).get(number)


def _from_target(compared: Compared) -> float | None:
    near = compared.agreement
    if near is None:
        return None
    return near.mean if near.moved is None else near.moved


def _to_buy(compared: Compared) -> float | None:
    """How many are to buy; not known where none is for want of knowing what is left."""
    to_buy = compared.handed.to_buy
    if to_buy is None or (not to_buy and compared.handed.unknown):
        return None
    return float(len(to_buy))


def _work_measures() -> tuple[Measure, ...]:
    return (
        Measure(
            _tr("Paints"),
            _tr("Paints and mediums in its pots"),
            lambda c: float(len(c.measures.work.paint_ids)),
            best=-1,
        ),
        Measure(
            _tr("To buy"),
            _tr("Paints and mediums of which too little is left"),
            _to_buy,
            best=-1,
        ),
        Measure(
            _tr("Cost"),
            _tr("What the paints to buy cost"),
            lambda c: c.handed.cost,
            2,
            -1,
        ),
        Measure(
            _tr("Coats"), _tr("Coats in its list"), lambda c: float(c.measures.work.coats), best=-1
        ),
        Measure(
            _tr("Hours"),
            _tr("Hands-on hours for the batch, drying not counted, h"),
            lambda c: None if c.handed.minutes is None else c.handed.minutes / 60.0,
            1,
            -1,
        ),
    )


def zone_measures(zone_id: str) -> tuple[Measure, ...]:
    """Measures of one zone."""

    def of(value: Callable[[ZoneMeasures], float | None]) -> Callable[[Compared], float | None]:
        return lambda c: value(c.measures.zone(zone_id))

    def from_yardstick(compared: Compared) -> float | None:
        difference = compared.difference(zone_id)
        return None if difference is None else difference.mean

    def worst(compared: Compared) -> float | None:
        difference = compared.difference(zone_id)
        return None if difference is None else difference.worst

    return (
        Measure(_tr("Lightness"), _tr("Mean lightness of the zone, L*"), of(lambda z: z.lightness)),
        Measure(_tr("Range"), _tr("From recess to raised edge, L*"), of(lambda z: z.span)),
        Measure(_tr("Chroma"), _tr("Mean chroma, C*"), of(lambda z: z.chroma)),
        Measure(
            _tr("Contrast"),
            _tr("To the rest of the model, its zones weighted by area, dE"),
            lambda c: c.measures.contrast(zone_id),
            source=_tr("Contrast of regions: Cheng and others 2015, with CIEDE2000."),
        ),
        Measure(
            _tr("Share of chroma"),
            _tr("Of all chroma on the model, weighted by area, %"),
            lambda c: 100.0 * c.measures.chroma_share(zone_id),
        ),
        Measure(
            _tr("Other lights"),
            _tr("Largest mean shift from daylight to bulb, white LED or hall tubes, dE"),
            of(lambda z: z.worst_light[1].mean),
            1,
            -1,
        ),
        Measure(
            _tr("Light hand"),
            _tr("Mean shift with all films thinner, dE"),
            of(lambda z: z.light_hand.mean),
            1,
            -1,
        ),
        Measure(
            _tr("Heavy hand"),
            _tr("Mean shift with all films thicker, dE"),
            of(lambda z: z.heavy_hand.mean),
            1,
            -1,
        ),
        Measure(
            _tr("Root to tip"),
            _tr("Difference between root and tip where a coat is feathered, dE"),
            of(lambda z: None if z.transition is None else z.transition.delta_e),
            1,
        ),
        Measure(
            _tr("From yardstick"), _tr("Mean difference to the yardstick, dE"), from_yardstick, 1
        ),
        Measure(
            _tr("At most"), _tr("Greatest difference to the yardstick on the zone, dE"), worst, 1
        ),
    )


def _median_span(compared: Compared) -> float | None:
    spans = sorted(zone.span for zone in compared.measures.zones)
    if not spans:
        return None
    middle = len(spans) // 2
    return spans[middle] if len(spans) % 2 else (spans[middle - 1] + spans[middle]) / 2
