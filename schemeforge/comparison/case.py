"""What the findings of one scheme rest on."""

from collections.abc import Mapping
from dataclasses import dataclass

from schemeforge.comparison.agreement import Agreement
from schemeforge.comparison.finding import Finding, Severity
from schemeforge.comparison.measures import NOTHING_HANDED, Handed, SchemeMeasures
from schemeforge.comparison.thresholds import DEFAULTS, Thresholds
from schemeforge.comparison.versus import ZoneDifference
from schemeforge.scheme import Project, Scheme

Words = Mapping[str, str | tuple[str, ...]]


@dataclass(frozen=True, slots=True, kw_only=True)
class Yardstick:
    """The scheme that another is held against."""

    name: str
    measures: SchemeMeasures
    handed: Handed


@dataclass(frozen=True, slots=True, kw_only=True)
class Case:
    """One scheme, ready to be judged.

    Args:
        project: The document.
        scheme: The scheme.
        measures: Its measures.
        thresholds: What counts as enough.
        handed: What other parts worked out about it.
        yardstick: What it is held against; None for the yardstick itself.
        differences: To the yardstick, empty for the yardstick itself.
        agreement: With the target; None without one.
    """

    project: Project
    scheme: Scheme
    measures: SchemeMeasures
    thresholds: Thresholds = DEFAULTS
    handed: Handed = NOTHING_HANDED
    yardstick: Yardstick | None = None
    differences: tuple[ZoneDifference, ...] = ()
    agreement: Agreement | None = None

    def name(self, zone_id: str) -> str:
        """The name of a zone."""
        return self.project.zone(zone_id).name

    def names(self, zone_ids: tuple[str, ...]) -> tuple[str, ...]:
        """The names of zones."""
        return tuple(self.name(zone_id) for zone_id in zone_ids)

    def find(
        self,
        key: str,
        severity: Severity,
        template: str,
        *,
        zone_ids: tuple[str, ...] = (),
        weight: float = 0.0,
        names: Words | None = None,
        terms: Words | None = None,
        numbers: Mapping[str, float] | None = None,
    ) -> Finding:
        """A finding of this scheme."""
        return Finding(
            key=key,
            scheme_id=self.scheme.id,
            severity=severity,
            template=template,
            names=tuple((names or {}).items()),
            terms=tuple((terms or {}).items()),
            zone_ids=zone_ids,
            numbers=tuple((numbers or {}).items()),
            weight=weight,
        )
