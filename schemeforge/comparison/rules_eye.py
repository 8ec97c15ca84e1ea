"""Findings about what the eye does: where it goes first, and what it reads from further off."""

from collections.abc import Iterator

from schemeforge.comparison.case import Case
from schemeforge.comparison.finding import Finding, Severity, figure
from schemeforge.scheme import AreaBasis


def focus(case: Case) -> Iterator[Finding]:
    """Whether a small zone stands out from the rest of the model by its contrast."""
    measures, limits = case.measures, case.thresholds
    if len(measures.zones) < 2:
        return
    contrast = {z.zone_id: measures.contrast(z.zone_id) for z in measures.zones}
    mean = sum(measures.area_share(zone_id) * value for zone_id, value in contrast.items())
    rims = {z.id for z in case.project.zones if z.area_basis is AreaBasis.RIM}
    seen = [zone_id for zone_id in contrast if zone_id not in rims]
    if not seen or mean <= 0.0:
        return
    top = max(seen, key=contrast.__getitem__)
    small = [z for z in seen if measures.area_share(z) <= limits.focal_area]
    best = max(small, key=contrast.__getitem__, default=top)
    ratio = contrast[best] / mean
    stands_out = best in small and ratio >= limits.stands_out
    if stands_out:
        template = (
            "The eye goes to {zone}: dE {dE} from the rest of the model, {ratio} times the mean "
            "zone. Put the finest work there."
        )
    elif best != top:
        template = (
            "The eye goes to {top}, which takes {area} % of the area. For a focal point make a "
            "small zone stand out, {zone} first: lighten its raised edges or glaze it stronger."
        )
    else:
        template = (
            "Nothing stands out: {zone} has most contrast, {ratio} times the mean zone, less than "
            "{limit}. Lighten its raised edges or glaze it stronger."
        )
    yield case.find(
        "focus",
        Severity.GOOD if stands_out else Severity.WATCH,
        template,
        zone_ids=(best,),
        names={
            "zone": case.name(best),
            "top": case.name(top),
            "dE": figure(contrast[best]),
            "ratio": f"{ratio:.2f}",
            "limit": f"{limits.stands_out:.2f}",
            "area": figure(100.0 * measures.area_share(top)),
        },
        numbers={"contrast": contrast[best], "ratio": ratio},
        weight=52.0 if stands_out else 12.0,
    )


def legibility(case: Case) -> Iterator[Finding]:
    """Which touching zones run together at one metre, on the stand-in model."""
    pairs = case.handed.at_one_metre
    if not pairs:
        return
    limit = case.thresholds.reads
    lost = [pair for pair in pairs if pair.far < limit]
    for pair in lost:
        a, b = pair.zone_ids
        blurred = pair.close >= limit
        yield case.find(
            "legibility",
            Severity.WATCH if pair.far >= limit / 2 else Severity.POOR,
            "At one metre {a} and {b} run together: {L} L* of the {close} L* close up are left. "
            "Edge one of them with a lighter or darker line."
            if blurred
            else "At one metre {a} and {b} run together: {L} L* apart, less than {limit}. Make one "
            "of them lighter throughout; a finer edge will not carry that far.",
            zone_ids=pair.zone_ids,
            names={
                "a": case.name(a),
                "b": case.name(b),
                "L": figure(pair.far, limit),
                "close": figure(pair.close, limit),
                "limit": figure(limit),
            },
            numbers={"far": pair.far, "close": pair.close},
            weight=45.0 + limit - pair.far,
        )
    if not lost:
        least = min(pairs, key=lambda pair: pair.far)
        a, b = least.zone_ids
        yield case.find(
            "legibility",
            Severity.GOOD,
            "Reads at one metre: least apart are {a} and {b}, {L} L*. Small detail may wait.",
            zone_ids=least.zone_ids,
            names={"a": case.name(a), "b": case.name(b), "L": figure(least.far, limit)},
            numbers={"far": least.far, "close": least.close},
            weight=58.0,
        )


RULES = (focus, legibility)
