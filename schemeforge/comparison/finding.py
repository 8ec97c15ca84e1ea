"""A finding: one plain sentence with its numbers, and what to do."""

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from enum import StrEnum


class Severity(StrEnum):
    """How a finding speaks for the scheme."""

    GOOD = "good"
    WATCH = "watch"
    POOR = "poor"


@dataclass(frozen=True, slots=True, kw_only=True)
class Finding:
    """One finding.

    Args:
        key: What it is about, for example "separation".
        scheme_id: The scheme.
        severity: Good, to watch, or poor.
        template: The sentence with named places, in English; a key for translation.
        names: What stands in those places as it is: names from the document, and figures.
        terms: What stands in those places and is itself translated.
        zone_ids: The zones that it is about; empty for the whole model.
        numbers: Its figures by name, unrounded.
        weight: How much it matters among findings of its severity, more first.
    """

    key: str
    scheme_id: str
    severity: Severity
    template: str
    names: tuple[tuple[str, str | tuple[str, ...]], ...] = ()
    terms: tuple[tuple[str, str | tuple[str, ...]], ...] = ()
    zone_ids: tuple[str, ...] = ()
    numbers: tuple[tuple[str, float], ...] = ()
    weight: float = 0.0

    @property
    def sentence(self) -> str:
        """The finding in plain English."""
        return self.said(str)

    def said(self, translate: Callable[[str], str]) -> str:
        """The sentence with its template, terms and joining words put through a translation."""
        places = {}
        for place, value in self.names:
            places[place] = value if isinstance(value, str) else listed(value, translate)
        for place, term in self.terms:
            known = (term,) if isinstance(term, str) else term
            places[place] = listed([translate(each) for each in known], translate)
        text = translate(self.template).format(**places)
        return text[:1].upper() + text[1:]


def figure(value: float, limit: float | None = None) -> str:
    """A number as read aloud, with as many digits as it takes to tell it from the limit."""
    text = f"{value:.0f}"
    for digits in (1, 2):
        if limit is None or value == limit or (float(text) < limit) == (value < limit):
            break
        text = f"{value:.{digits}f}"
    return text.removeprefix("-") if float(text) == 0.0 else text


def listed(names: Sequence[str], translate: Callable[[str], str] = str) -> str:
    """Names in a row: "hide, plates and cloak"."""
    if len(names) < 2:
        return "".join(names)
    return translate("{0} and {1}").format(", ".join(names[:-1]), names[-1])
