"""Findings about a target picture or palette: which of its colours are met, and what is amiss."""

from collections.abc import Iterator

from schemeforge.colorimetry.words import colour_words
from schemeforge.comparison.agreement import Met
from schemeforge.comparison.case import Case
from schemeforge.comparison.finding import Finding, Severity, figure

# Colours of the target that are spelt out, the furthest first.
_MOST = 2


def agreement(case: Case) -> Iterator[Finding]:
    """The colours of the target that the scheme misses, or that it meets them all."""
    found, limit = case.agreement, case.thresholds.near_target
    if found is None:
        return
    missed = sorted((m for m in found.met if m.delta_e > limit), key=lambda m: -m.delta_e)
    for met in missed[:_MOST]:
        yield _missed(case, met, limit)
    if missed:
        return
    yield case.find(
        "target",
        Severity.GOOD,
        "Meets {target}: all its colours within dE {limit}, {dE} on average. Keep the mixes.",
        names={
            "target": found.target.name,
            "limit": figure(limit),
            "dE": f"{found.mean:.1f}",
        },
        numbers={"mean": found.mean},
        weight=70.0,
    )


def _missed(case: Case, met: Met, limit: float) -> Finding:
    assert case.agreement is not None  # noqa: S101 - asked for schemes with a target only
    return case.find(
        "target",
        Severity.POOR if met.delta_e > 2.0 * limit else Severity.WATCH,
        "The {colour} of {target} is missed by dE {dE}; {zone} comes nearest. " + _mend(met),
        zone_ids=(met.zone_id,),
        names={
            "target": case.agreement.target.name,
            "dE": figure(met.delta_e, limit),
            "zone": case.name(met.zone_id),
            "L": figure(abs(met.lightness)),
            "C": figure(abs(met.chroma)),
        },
        terms={"colour": colour_words(met.colour.lab)},
        numbers={"delta_e": met.delta_e, "lightness": met.lightness, "chroma": met.chroma},
        weight=48.0 + 20.0 * met.colour.share + met.delta_e / 10.0,
    )


def _mend(met: Met) -> str:
    """What to do about the largest of the three differences."""
    most = max(abs(met.lightness), abs(met.chroma), met.hue)
    if most == abs(met.lightness):
        if met.lightness < 0.0:
            return "It is {L} L* too dark: lighten its undercoat, or leave out a glaze."
        return "It is {L} L* too light: glaze it once more."
    if most == abs(met.chroma):
        if met.chroma < 0.0:
            return "It lacks {C} of chroma: glaze it stronger, or start it on a lighter undercoat."
        return "It has {C} of chroma too much: thin its glaze, or dull the mix."
    return "Its hue is off: turn its glaze towards {colour}."
