"""Findings about work: hours, paints, and whether the scheme differs at all."""

from collections.abc import Iterator

from schemeforge.comparison.case import Case
from schemeforge.comparison.finding import Finding, Severity, figure

# Zones in which a scheme differs, named one by one with how much.
_MOST_NAMED = 4


def hours(case: Case) -> Iterator[Finding]:
    """Hands-on hours, against the yardstick where there is one."""
    minutes = case.handed.minutes
    if minutes is None:
        return
    before = None if case.yardstick is None else case.yardstick.handed.minutes
    names = {
        "h": f"{minutes / 60.0:.1f}",
        "coats": str(case.measures.work.coats),
        "passes": str(case.measures.work.passes),
        "yardstick": "" if case.yardstick is None else case.yardstick.name,
    }
    numbers = {"minutes": minutes}
    if before is None:
        yield case.find(
            "hours",
            Severity.GOOD,
            "{h} h of work for the batch: {coats} coats in {passes} passes. Put that many aside.",
            names=names,
            numbers=numbers,
        )
        return
    more = minutes - before
    names["more"] = f"{abs(more) / 60.0:.1f}"
    numbers["more_minutes"] = more
    if abs(more) < 3.0:
        template = "{h} h of work for the batch, as long as {yardstick}: choose by looks."
    elif more < 0.0:
        template = (
            "{h} h of work for the batch, {more} h less than {yardstick}: spend them on the models "
            "in front."
        )
    else:
        template = "{h} h of work for the batch, {more} h more than {yardstick}."
    longer = more > case.thresholds.hours_over * before
    if longer:
        template += " Leave a second glaze off the rank and file first."
    elif more >= 3.0:
        template += " Take it where the looks are worth that."
    yield case.find(
        "hours",
        Severity.WATCH if longer else Severity.GOOD,
        template,
        names=names,
        numbers=numbers,
        weight=35.0 if more < 0.0 or longer else 5.0,
    )


def paints(case: Case) -> Iterator[Finding]:
    """Paints that run out, and those of which nobody said how much is left."""
    handed = case.handed
    if handed.to_buy is None:
        return
    number = len(case.measures.work.paint_ids)
    unknown = len(handed.unknown)
    names: dict[str, str | tuple[str, ...]] = {"n": str(number), "unknown": handed.unknown}
    numbers = {
        "paints": float(number),
        "to_buy": float(len(handed.to_buy)),
        "unknown": float(unknown),
    }
    if not handed.to_buy:
        if not unknown:
            template = "{n} paints and mediums, and enough of each on the shelf: nothing to buy."
        elif unknown >= number:
            template = (
                "{n} paints and mediums; how much is left of them is not known: look before you "
                "start."
            )
        else:
            template = (
                "{n} paints and mediums; how much is left of {unknown} is not known: look "
                "before you start."
            )
        yield case.find("paints", Severity.GOOD, template, names=names, numbers=numbers, weight=4.0)
        return
    names |= {
        "buy": handed.to_buy,
        "cost": "" if handed.cost is None else f"{handed.cost:.2f}",
    }
    template = (
        "Of {n} paints and mediums too little is left of {buy}: buy before you start."
        if handed.cost is None
        else "Of {n} paints and mediums too little is left of {buy}: buy for {cost} before you "
        "start."
    )
    if unknown:
        template += " How much is left of {unknown} is not known."
    yield case.find("paints", Severity.WATCH, template, names=names, numbers=numbers, weight=5.0)


def sameness(case: Case) -> Iterator[Finding]:
    """Whether it looks any different from the yardstick."""
    if case.yardstick is None or not case.differences:
        return
    seen = [zone for zone in case.differences if zone.is_seen]
    names: dict[str, str | tuple[str, ...]] = {"yardstick": case.yardstick.name}
    if not seen:
        yield case.find(
            "sameness",
            Severity.WATCH,
            "Looks just like {yardstick}: less than 1 dE everywhere. Vary a coat, or remove it.",
            names=names,
            weight=90.0,
        )
        return
    most = sorted(seen, key=lambda zone: -zone.mean)
    named = most[:_MOST_NAMED]
    template = (
        "Differs from {yardstick} on {n} of {all} zones, most on {zone} (dE {dE}: {words})"
        + (", then {others}" if len(named) > 1 else "")
        + ": look there first."
    )
    yield case.find(
        "sameness",
        Severity.GOOD,
        template,
        zone_ids=tuple(zone.zone_id for zone in most),
        names={
            **names,
            "zone": case.name(most[0].zone_id),
            "dE": _short(most[0].mean),
            "others": tuple(f"{case.name(z.zone_id)} ({_short(z.mean)})" for z in named[1:]),
            "n": str(len(seen)),
            "all": str(len(case.differences)),
        },
        terms={"words": most[0].words},
        numbers={"delta_e": most[0].mean},
        weight=3.0,
    )


def _short(delta_e: float) -> str:
    return figure(delta_e) if delta_e >= 10.0 else f"{delta_e:.1f}"


RULES = (hours, paints, sameness)
