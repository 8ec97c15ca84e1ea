"""Findings of a scheme: what its measures mean for the painter, best and worst told apart."""

from collections.abc import Callable, Iterator

from schemeforge.comparison import rules_colour, rules_eye, rules_light, rules_target, rules_work
from schemeforge.comparison.case import Case
from schemeforge.comparison.finding import Finding, Severity

Rule = Callable[[Case], Iterator[Finding]]
RULES: tuple[Rule, ...] = (
    *rules_light.RULES,
    *rules_colour.RULES,
    *rules_eye.RULES,
    rules_target.agreement,
    *rules_work.RULES,
)
_ORDER = (Severity.GOOD, Severity.POOR, Severity.WATCH)


def findings(case: Case) -> tuple[Finding, ...]:
    """All findings of a scheme: good ones first, then poor ones, then those to watch.

    Within each the one that matters most comes first.
    """
    found = [finding for rule in RULES for finding in rule(case)]
    return tuple(sorted(found, key=lambda f: (_ORDER.index(f.severity), -f.weight)))
