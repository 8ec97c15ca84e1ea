"""Candidates held against each other and against the yardstick."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from schemeforge.comparison.agreement import Agreement, agreement
from schemeforge.comparison.case import Case, Yardstick
from schemeforge.comparison.finding import Finding
from schemeforge.comparison.findings import findings
from schemeforge.comparison.measures import NOTHING_HANDED, Handed, SchemeMeasures
from schemeforge.comparison.metrics import GoOn, always, measure
from schemeforge.comparison.target import TargetPalette
from schemeforge.comparison.thresholds import DEFAULTS, Thresholds
from schemeforge.comparison.versus import ZoneDifference, differences
from schemeforge.scheme import Project, Scheme, Viewing


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Compared:
    """One candidate.

    Args:
        scheme: The scheme.
        measures: Its measures.
        handed: What other parts worked out about it.
        differences: To the yardstick by zone; empty for the yardstick itself.
        findings: Good ones first, then poor ones, then those to watch.
        agreement: With the target; None without one.
    """

    scheme: Scheme
    measures: SchemeMeasures
    handed: Handed
    differences: tuple[ZoneDifference, ...]
    findings: tuple[Finding, ...]
    agreement: Agreement | None = None

    def difference(self, zone_id: str) -> ZoneDifference | None:
        """The difference of one zone; None for the yardstick."""
        return next((d for d in self.differences if d.zone_id == zone_id), None)

    @property
    def whole_difference(self) -> float | None:
        """Mean CIEDE2000 to the yardstick, zones weighted by area; None for the yardstick."""
        if not self.differences:
            return None
        shares = (self.measures.area_share(d.zone_id) * d.mean for d in self.differences)
        return sum(shares)


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Comparison:
    """Candidates in the order asked for, and the id of the yardstick among them or beside them."""

    yardstick_id: str
    schemes: tuple[Compared, ...]

    def scheme(self, scheme_id: str) -> Compared:
        """One candidate."""
        return next(entry for entry in self.schemes if entry.scheme.id == scheme_id)

    def differing_zones(self) -> frozenset[str]:
        """Ids of the zones in which some candidate differs from the yardstick by 1 or more."""
        return frozenset(d.zone_id for s in self.schemes for d in s.differences if d.is_seen)


def yardstick_of(project: Project) -> Scheme | None:
    """The project's yardstick, else its first scheme; None where it has none."""
    if project.yardstick_id:
        return project.scheme(project.yardstick_id)
    return next(iter(project.schemes), None)


def compare(
    project: Project,
    scheme_ids: Sequence[str] | None = None,
    viewing: Viewing | None = None,
    *,
    handed: Mapping[str, Handed] | None = None,
    thresholds: Thresholds = DEFAULTS,
    known: Mapping[str, SchemeMeasures] | None = None,
    target: TargetPalette | None = None,
    go_on: GoOn = always,
) -> Comparison | None:
    """Candidates with measures, differences to the yardstick, and findings.

    Args:
        project: The document; its yardstick counts, or its first scheme where none is set.
        scheme_ids: The candidates; all where None.
        viewing: Light, observer, finish, wet or dry; the project's own where None.
        handed: Hours, paints to buy, cost and legibility by scheme id, where known.
        thresholds: What counts as enough.
        known: Measures by scheme id that were made with the very same document parts before.
        target: What the schemes are meant to come near.
        go_on: Told the share done, 0 to 1; returns False to stop.

    Returns:
        None where it was told to stop, or where there is no scheme.

    Raises:
        UnknownNameError: For a scheme or a light that does not exist.
        PaintMissingError: For a paint that the project does not carry.
    """
    yardstick = yardstick_of(project)
    if yardstick is None:
        return None
    ids = [s.id for s in project.schemes] if scheme_ids is None else list(scheme_ids)
    wanted = [project.scheme(scheme_id) for scheme_id in ids]
    all_of_them = {scheme.id: scheme for scheme in (yardstick, *wanted)}
    found = dict(known or {})
    missing = [scheme for scheme in all_of_them.values() if scheme.id not in found]
    for n, scheme in enumerate(missing):
        measures = measure(
            project,
            scheme,
            viewing,
            thresholds=thresholds,
            go_on=lambda share, n=n: go_on((n + share) / len(missing)),  # type: ignore[misc]
        )
        if measures is None:
            return None
        found[scheme.id] = measures
    values = handed or {}
    against = Yardstick(
        name=yardstick.name,
        measures=found[yardstick.id],
        handed=values.get(yardstick.id, NOTHING_HANDED),
    )
    return Comparison(
        yardstick_id=yardstick.id,
        schemes=tuple(
            _compared(
                project,
                scheme,
                found[scheme.id],
                values.get(scheme.id, NOTHING_HANDED),
                None if scheme.id == yardstick.id else against,
                thresholds,
                target,
            )
            for scheme in wanted
        ),
    )


def _compared(
    project: Project,
    scheme: Scheme,
    measures: SchemeMeasures,
    handed: Handed,
    against: Yardstick | None,
    thresholds: Thresholds,
    target: TargetPalette | None,
) -> Compared:
    apart = () if against is None else differences(measures, against.measures)
    near = None if target is None else agreement(measures, target)
    case = Case(
        project=project,
        scheme=scheme,
        measures=measures,
        thresholds=thresholds,
        handed=handed,
        yardstick=against,
        differences=apart,
        agreement=near,
    )
    return Compared(
        scheme=scheme,
        measures=measures,
        handed=handed,
        differences=apart,
        findings=findings(case),
        agreement=near,
    )
