"""Measures as columns of the table: for the whole model, or for one zone."""

from collections.abc import Callable
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
    """

    title: str
    tip: str
    value: Callable[[Compared], float | None]
    digits: int = 0
    best: int = 0

    def text(self, compared: Compared) -> str:
        """The number as shown, "–" where there is none."""
        value = self.value(compared)
        if value is None:
            return "–"
        text = f"{value:.{self.digits}f}"
        return text.removeprefix("-") if float(text) == 0.0 else text


def whole_measures(thresholds: Thresholds) -> tuple[Measure, ...]:
    """Measures of the whole model."""
    return (
        Measure(
            _tr("Closest zones"),
            _tr("Least lightness between touching zones, L*"),
            lambda c: min((p.lightness for p in c.measures.pairs), default=None),
            1,
            1,
        ),
        Measure(
            _tr("Median range"),
            _tr("Lightness from recess to raised edge, middle of all zones, L*"),
            _median_span,
        ),
        Measure(
            _tr("Main hues"),
            _tr("Hues that take a fair share of the area; rules of thumb say how much"),
            lambda c: float(len(c.measures.main_families(thresholds.main_share))),
        ),
        Measure(
            _tr("Neutral"),
            _tr("Share of the area without a hue, %"),
            lambda c: 100.0 * c.measures.neutral_share,
        ),
        Measure(
            _tr("Other lights"),
            _tr("Shift of the worst zone from daylight to bulb, white LED or hall tubes, dE"),
            lambda c: max((z.worst_light[1].mean for z in c.measures.zones), default=None),
            1,
            -1,
        ),
        Measure(
            _tr("Other hands"),
            _tr("Shift of the worst zone with a light or heavy hand, dE"),
            lambda c: max((z.worst_hand for z in c.measures.zones), default=None),
            1,
            -1,
        ),
        Measure(
            _tr("Other eyes"),
            _tr("Nearest touching zones to an eye with a colour-vision deficiency, dE"),
            lambda c: min((p.hardest.delta_e for p in c.measures.pairs), default=None),
            1,
            1,
        ),
        *_work_measures(),
        Measure(
            _tr("From yardstick"),
            _tr("Mean difference to the yardstick, zones weighted by area, dE"),
            lambda c: c.whole_difference,
            1,
        ),
    )


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
            _tr("Coats"), _tr("Coats in its list"), lambda c: float(c.measures.work.coats), best=-1
        ),
        Measure(
            _tr("Passes"),
            _tr("Coats, each counted as often as it is laid"),
            lambda c: float(c.measures.work.passes),
            best=-1,
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
