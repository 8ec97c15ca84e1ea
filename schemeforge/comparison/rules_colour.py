"""Findings about hue and chroma: balance, transitions, other lights, other eyes."""

from collections.abc import Iterator

from schemeforge import colorimetry
from schemeforge.colorimetry.words import colour_words
from schemeforge.comparison.case import Case
from schemeforge.comparison.finding import Finding, Severity, figure
from schemeforge.comparison.measures import HueFamily


def hues(case: Case) -> Iterator[Finding]:
    """How many main hues, and which."""
    limits = case.thresholds
    main = case.measures.main_families(limits.main_share)
    words = tuple(colour_words(family.lab) for family in main)
    number = len(main)
    common = {"n": str(number), "neutral": figure(100.0 * case.measures.neutral_share)}
    numbers = {"hues": float(number), "neutral_share": case.measures.neutral_share}
    if not case.measures.zones:
        return
    if number == 0:
        yield case.find(
            "hues",
            Severity.GOOD if limits.hues_low == 0 else Severity.WATCH,
            "No main hue: all of it is neutral. One glaze of colour on a small zone would give "
            "the eye a place to rest.",
            numbers=numbers,
        )
    elif number < limits.hues_low:
        yield case.find(
            "hues",
            Severity.WATCH,
            "{n} main hue, {hues}, and {neutral} % neutral. Bring in a second hue on a small zone.",
            zone_ids=_zones(main),
            names=common,
            terms={"hues": words},
            numbers=numbers,
        )
    elif number > limits.hues_high:
        least = main[-1]
        yield case.find(
            "hues",
            Severity.WATCH,
            "{n} main hues: {hues}. More than {limit} fall apart at arm's length: bring {zones} "
            "nearer to one of the others.",
            zone_ids=least.zone_ids,
            names={
                **common,
                "limit": str(limits.hues_high),
                "zones": case.names(least.zone_ids),
            },
            terms={"hues": words},
            numbers=numbers,
            weight=20.0 + number,
        )
    else:
        yield case.find(
            "hues",
            Severity.GOOD,
            "{n} main hues, {hues}, with {neutral} % neutral to carry them: add no further hue.",
            zone_ids=_zones(main),
            names=common,
            terms={"hues": words},
            numbers=numbers,
            weight=60.0,
        )


def _zones(main: tuple[HueFamily, ...]) -> tuple[str, ...]:
    return tuple(dict.fromkeys(zone_id for family in main for zone_id in family.zone_ids))


def chroma(case: Case) -> Iterator[Finding]:
    """Whether one zone carries more chroma than its area alone would."""
    measures = case.measures
    vivid = [z for z in measures.zones if z.chroma >= case.thresholds.neutral_chroma]
    if len(measures.zones) < 2 or not vivid:
        return

    def ratio(zone_id: str) -> float:
        return measures.chroma_share(zone_id) / measures.area_share(zone_id)

    top = max(vivid, key=lambda zone: ratio(zone.zone_id))
    draws = ratio(top.zone_id) >= case.thresholds.eye_catching
    yield case.find(
        "chroma",
        Severity.GOOD if draws else Severity.WATCH,
        "{zone} is the accent: {chroma} % of the chroma on {area} % of the area. Keep the others "
        "quieter."
        if draws
        else "Chroma is spread evenly, without an accent; most is on {zone}, {chroma} % on "
        "{area} % of the area. Glaze one small zone stronger.",
        zone_ids=(top.zone_id,),
        names={
            "zone": case.name(top.zone_id),
            "chroma": figure(100.0 * measures.chroma_share(top.zone_id)),
            "area": figure(100.0 * measures.area_share(top.zone_id)),
        },
        numbers={"ratio": ratio(top.zone_id)},
        weight=50.0 if draws else 10.0,
    )


def transitions(case: Case) -> Iterator[Finding]:
    """Whether feathered coats show from root to tip."""
    for zone in case.measures.zones:
        turn = zone.transition
        if turn is None:
            continue
        shows = turn.delta_e >= case.thresholds.shows
        root, tip = case.project.zone(zone.zone_id).along_words
        if not shows:
            template = (
                "{zone}: the feathered coats hardly show between {root} and {tip} (dE {dE}). Lay "
                "one more pass, or leave the step out."
            )
        elif turn.hue is None:
            template = "{zone}: {L} L* from {root} to {tip} (dE {dE}). Keep the feather as it is."
        else:
            template = (
                "{zone}: {turn}° in hue from {root} to {tip} (dE {dE}). Keep the feather as it is."
            )
        yield case.find(
            "transition",
            Severity.GOOD if shows else Severity.WATCH,
            template,
            zone_ids=(zone.zone_id,),
            names={
                "zone": case.name(zone.zone_id),
                "root": root,
                "tip": tip,
                "dE": figure(turn.delta_e, case.thresholds.shows),
                "L": figure(abs(turn.lightness)),
                "turn": figure(turn.hue or 0.0),
            },
            numbers={"delta_e": turn.delta_e},
            weight=turn.delta_e / 2,
        )


def constancy(case: Case) -> Iterator[Finding]:
    """The zone that shifts most under another light."""
    if not case.measures.zones:
        return
    worst = max(case.measures.zones, key=lambda zone: zone.worst_light[1].mean)
    name, moved = worst.worst_light
    label = {light.name: light.label for light in colorimetry.lights()}[name]
    severity = _grade(moved.mean, case.thresholds.steady, case.thresholds.shows)
    template = {
        Severity.GOOD: "Keeps its colours under other lights: the most is {zone}, dE {dE} under "
        "{light}. Judge it under any of them.",
        Severity.WATCH: "Under {light}, {zone}: a shift of dE {dE}, {words}. Judge the test model "
        "under that light too.",
        Severity.POOR: "Under {light}, {zone}: another colour (dE {dE}). Mix it from other paints, "
        "or choose it under the light of the table.",
    }[severity]
    yield case.find(
        "constancy",
        severity,
        template,
        zone_ids=(worst.zone_id,),
        names={"zone": case.name(worst.zone_id), "dE": _tenths(moved.mean)},
        terms={"light": label, "words": colorimetry.difference_words(moved.mean)},
        numbers={"delta_e": moved.mean},
        weight=20.0 + moved.mean,
    )


def other_eyes(case: Case) -> Iterator[Finding]:
    """Touching zones that run together with a colour-vision deficiency."""
    shows = case.thresholds.shows
    apart = [pair for pair in case.measures.pairs if pair.delta_e >= shows]
    lost = [pair for pair in apart if pair.hardest.delta_e < shows]
    for pair in lost:
        seen = pair.hardest
        yield case.find(
            "other eyes",
            Severity.POOR,
            "To an eye with {deficiency}, {a} and {b} look much alike (dE {dE}, {L} L* apart). "
            "Set them apart by lightness, not by hue.",
            zone_ids=pair.zone_ids,
            names={
                "a": case.name(pair.lighter_id),
                "b": case.name(pair.darker_id),
                "dE": _tenths(seen.delta_e),
                "L": figure(seen.lightness),
            },
            terms={"deficiency": colorimetry.DEFICIENCIES[seen.deficiency]},
            numbers={"delta_e": seen.delta_e, "lightness": seen.lightness},
            weight=55.0 + shows - seen.delta_e,
        )
    if apart and not lost:
        least = min(apart, key=lambda pair: pair.hardest.delta_e)
        yield case.find(
            "other eyes",
            Severity.GOOD,
            "Touching zones stay apart to eyes with a colour-vision deficiency; nearest are {a} "
            "and {b} (dE {dE}): let those two come no nearer.",
            zone_ids=least.zone_ids,
            names={
                "a": case.name(least.lighter_id),
                "b": case.name(least.darker_id),
                "dE": _tenths(least.hardest.delta_e),
            },
            numbers={"delta_e": least.hardest.delta_e},
            weight=30.0,
        )


def hands(case: Case) -> Iterator[Finding]:
    """The zone that a light or heavy hand changes most."""
    if not case.measures.zones:
        return
    worst = max(case.measures.zones, key=lambda zone: zone.worst_hand)
    heavy = worst.heavy_hand.mean >= worst.light_hand.mean
    limits = case.thresholds
    severity = _grade(worst.worst_hand, limits.steady, limits.shows)
    moved = worst.heavy_hand if heavy else worst.light_hand
    template = {
        Severity.GOOD: "Forgives a light or heavy hand: the most is {zone}, dE {dE}. Lay it "
        "without measuring.",
        Severity.WATCH: "With {hand}, {zone}: dE {dE} ({L} L*), {words}. Thin the strongest coat "
        "and lay it twice.",
        Severity.POOR: "With {hand}, {zone}: another colour (dE {dE}, {L} L*). Thin the strongest "
        "coat and lay it twice, from one pot for the batch.",
    }[severity]
    yield case.find(
        "hands",
        severity,
        template,
        zone_ids=(worst.zone_id,),
        names={
            "zone": case.name(worst.zone_id),
            "dE": _tenths(worst.worst_hand),
            "L": figure(abs(moved.lightness)),
        },
        terms={
            "hand": "a heavy hand" if heavy else "a light hand",
            "words": colorimetry.difference_words(worst.worst_hand),
        },
        numbers={"delta_e": worst.worst_hand, "lightness": moved.lightness},
        weight=30.0 + worst.worst_hand,
    )


def _grade(delta_e: float, steady: float, shows: float) -> Severity:
    if delta_e < steady:
        return Severity.GOOD
    return Severity.WATCH if delta_e < shows else Severity.POOR


def _tenths(value: float) -> str:
    return f"{value:.1f}"


RULES = (hues, chroma, transitions, constancy, other_eyes, hands)
