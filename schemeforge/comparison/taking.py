"""Which scheme to take, and why: the one with least to mend, then to watch, then of least work.

A rule of thumb, as plain as it can be, so that the painter can follow it and decide otherwise.
"""

from dataclasses import dataclass
from typing import Final

from schemeforge.comparison.compare import Compared, Comparison
from schemeforge.comparison.finding import Finding, Severity

# What findings are about, in words.
TOPICS: Final = {
    "separation": "touching zones",
    "span": "range within zones",
    "hues": "number of hues",
    "chroma": "share of chroma",
    "focus": "focal point",
    "legibility": "reading at one metre",
    "transition": "feathered coats",
    "constancy": "other lights",
    "other eyes": "other eyes",
    "hands": "light and heavy hands",
    "hours": "hours",
    "paints": "paints to buy",
    "sameness": "difference from the yardstick",
    "target": "colours of the target",
}
_LEAST_MINUTES: Final = 3.0  # of difference that are told


@dataclass(frozen=True, slots=True, kw_only=True)
class Taking:
    """The scheme to take.

    Args:
        scheme_id: The scheme.
        headline: To take it, or to stay with it where it is the yardstick.
        why: What decides for it, against the yardstick where it is another.
        first: What to mend before the batch is started with it; None where there is nothing.
    """

    scheme_id: str
    headline: Finding
    why: Finding
    first: Finding | None


def taking(comparison: Comparison) -> Taking | None:
    """The scheme to take of those compared; None where there is only one.

    Fewest findings to mend decide, then fewest to watch, then fewest hours; where all that is
    equal the yardstick stays, then the first.
    """
    entries = comparison.schemes
    if len(entries) < 2:
        return None
    best = min(entries, key=lambda entry: _rank(entry, comparison.yardstick_id))
    before = next((e for e in entries if e.scheme.id == comparison.yardstick_id), None)
    against = before
    if before is None or before is best:
        others = [entry for entry in entries if entry is not best]
        against = min(others, key=lambda entry: _rank(entry, comparison.yardstick_id))
    assert against is not None  # noqa: S101 - there are two at least
    poor = (f for f in best.findings if f.severity is not Severity.GOOD)
    return Taking(
        scheme_id=best.scheme.id,
        headline=Finding(
            key="taking",
            scheme_id=best.scheme.id,
            severity=Severity.GOOD,
            template="Stay with {scheme}, the yardstick." if best is before else "Take {scheme}.",
            names=(("scheme", best.scheme.name),),
        ),
        why=_why(best, against),
        first=next(poor, None),
    )


def _rank(entry: Compared, yardstick_id: str) -> tuple[int, int, float, bool]:
    minutes = entry.handed.minutes
    return (
        count(entry, Severity.POOR),
        count(entry, Severity.WATCH),
        float("inf") if minutes is None else minutes,
        entry.scheme.id != yardstick_id,
    )


def count(entry: Compared, severity: Severity) -> int:
    """How many findings of a kind a scheme has; that it looks like another is none of its own."""
    return sum(f.severity is severity and f.key != "sameness" for f in entry.findings)


def _why(best: Compared, against: Compared) -> Finding:
    poor, poor_there = count(best, Severity.POOR), count(against, Severity.POOR)
    watch, watch_there = count(best, Severity.WATCH), count(against, Severity.WATCH)
    minutes, minutes_there = best.handed.minutes, against.handed.minutes
    more = 0.0 if minutes is None or minutes_there is None else minutes - minutes_there
    if poor < poor_there:
        template = "{poor} to mend against {poor_there} of {against}"
    elif watch < watch_there:
        template = "as much to mend as {against}, and {watch} to watch against {watch_there}"
    elif more <= -_LEAST_MINUTES:
        template = "as good as {against}"
    else:
        template = "nothing speaks more for {against}"
    if more <= -_LEAST_MINUTES:
        template += ", and {h} h less work"
    elif more >= _LEAST_MINUTES:
        template += ", for {h} h more work"
    topics = _better(best, against)
    template += ". It is better in {topics}." if topics else "."
    return Finding(
        key="taking",
        scheme_id=best.scheme.id,
        severity=Severity.GOOD,
        template=template,
        names=(
            ("against", against.scheme.name),
            ("poor", str(poor)),
            ("poor_there", str(poor_there)),
            ("watch", str(watch)),
            ("watch_there", str(watch_there)),
            ("h", f"{abs(more) / 60.0:.1f}"),
        ),
        terms=(("topics", topics),),
        numbers=(("more_minutes", more),),
    )


def _better(best: Compared, against: Compared) -> tuple[str, ...]:
    """What the one has fewer to mend in, or to watch, than the other."""
    weights = {Severity.POOR: 100, Severity.WATCH: 1, Severity.GOOD: 0}

    def burden(entry: Compared, key: str) -> int:
        return sum(weights[f.severity] for f in entry.findings if f.key == key)

    return tuple(words for key, words in TOPICS.items() if burden(best, key) < burden(against, key))
