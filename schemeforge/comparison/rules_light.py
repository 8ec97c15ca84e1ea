"""Findings about light and dark: between touching zones, and within each."""

from collections.abc import Iterator

from schemeforge.comparison.case import Case
from schemeforge.comparison.finding import Finding, Severity, figure
from schemeforge.comparison.measures import PairMeasures
from schemeforge.scheme import AreaBasis, Spray, coloured_steps

# A raised edge may be a little darker than its recess before it is worth a word, L*.
_LEVEL = 2.0


def separation(case: Case) -> Iterator[Finding]:
    """Lightness between touching zones; hue may make up for some of it."""
    limit = case.thresholds.apart
    pairs = case.measures.pairs
    close = [pair for pair in pairs if pair.lightness < limit]
    for pair in close:
        yield _too_close(case, pair)
    if pairs and not close:
        least = min(pairs, key=lambda pair: pair.lightness)
        yield case.find(
            "separation",
            Severity.GOOD,
            "All touching zones differ by {limit} L* or more; nearest are {a} and {b}, {L} L* "
            "apart: let those two come no nearer.",
            zone_ids=least.zone_ids,
            names={
                "limit": figure(limit),
                "L": figure(least.lightness, limit),
                "a": case.name(least.lighter_id),
                "b": case.name(least.darker_id),
            },
            numbers={"lightness": least.lightness},
            weight=100.0,
        )


def _too_close(case: Case, pair: PairMeasures) -> Finding:
    limit, shows = case.thresholds.apart, case.thresholds.shows
    told_by_hue = (
        pair.hue is not None and pair.hue >= case.thresholds.hue_gap and pair.delta_e >= 2 * shows
    )
    poor = pair.lightness < limit / 2 and not told_by_hue
    names = {
        "lighter": case.name(pair.lighter_id),
        "darker": case.name(pair.darker_id),
        "L": figure(pair.lightness, limit),
        "limit": figure(limit),
        "turn": figure(pair.hue or 0.0),
    }
    if told_by_hue:
        template = (
            "{lighter} and {darker} differ by {L} L* only; their hues, {turn}° apart, keep them "
            "apart. In grey light they run together: "
        )
    else:
        template = "{lighter} and {darker} differ by {L} L*, less than {limit}: "
    steps = coloured_steps(case.scheme, pair.lighter_id)
    if any(isinstance(step.layer, Spray) for step in steps):
        template += "lighten the undercoat on {lighter} or glaze {darker} once more."
    else:
        template += "start {lighter} on a lighter undercoat or glaze {darker} once more."
    return case.find(
        "separation",
        Severity.POOR if poor else Severity.WATCH,
        template,
        zone_ids=pair.zone_ids,
        names=names,
        numbers={"lightness": pair.lightness, "delta_e": pair.delta_e},
        weight=60.0 + limit - pair.lightness,
    )


def span(case: Case) -> Iterator[Finding]:
    """Lightness from recess to raised edge; the rim of a base is meant to be flat."""
    rims = {z.id for z in case.project.zones if z.area_basis is AreaBasis.RIM}
    by_zone = {z.zone_id: z.span for z in case.measures.zones if z.zone_id not in rims}
    low, high = case.thresholds.span_low, case.thresholds.span_high
    turned = {zone_id: L for zone_id, L in by_zone.items() if L < -_LEVEL}
    flat = {zone_id: L for zone_id, L in by_zone.items() if -_LEVEL <= L < low / 2}
    short = {zone_id: L for zone_id, L in by_zone.items() if low / 2 <= L < low}
    wide = {zone_id: L for zone_id, L in by_zone.items() if high < L}
    if turned:
        yield _spans(
            case,
            Severity.POOR,
            "{zones}: raised edges are {L} L* darker than the recesses. Keep the last coats off "
            "the edges, or dry brush them lighter.",
            {zone_id: -L for zone_id, L in turned.items()},
            limit=0.0,
        )
    if flat:
        yield _spans(
            case,
            Severity.POOR,
            "{zones}: only {L} L* from recess to raised edge, less than {limit}. Spray the "
            "undercoat lighter, or let a wash run into the recesses.",
            flat,
            limit=low,
        )
    if short:
        yield _spans(
            case,
            Severity.WATCH,
            "{zones}: {L} L* from recess to raised edge, less than {limit}. Deepen the recesses "
            "with a wash, or catch the edges with a dry brush.",
            short,
            limit=low,
        )
    if wide:
        yield _spans(
            case,
            Severity.WATCH,
            "{zones}: {L} L* from recess to raised edge, more than {limit}. A weak filter all "
            "over ties them together where that looks harsh.",
            wide,
            limit=high,
        )
    fits = {zone_id: L for zone_id, L in by_zone.items() if low <= L <= high}
    if fits:
        yield _spans(
            case,
            Severity.GOOD,
            "{zones}: {L} L* from recess to raised edge, enough to read: no more washes needed.",
            fits,
            limit=low,
        )


def _spans(
    case: Case, severity: Severity, template: str, spans: dict[str, float], limit: float
) -> Finding:
    least, most = min(spans.values()), max(spans.values())
    ends = dict.fromkeys([figure(least, limit), figure(most, limit)])
    zone_ids = tuple(spans)
    return case.find(
        "span",
        severity,
        template,
        zone_ids=zone_ids,
        names={
            "zones": case.names(zone_ids),
            "L": "–".join(ends),
            "limit": figure(limit),
        },
        numbers={"least": least, "most": most},
        weight=40.0 + len(zone_ids),
    )


RULES = (separation, span)
