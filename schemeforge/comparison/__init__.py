"""Candidate schemes measured and told apart, in plain sentences with numbers."""

from schemeforge.comparison.agreement import Agreement, Met, agreement
from schemeforge.comparison.case import Case, Yardstick
from schemeforge.comparison.compare import Compared, Comparison, compare, yardstick_of
from schemeforge.comparison.finding import Finding, Severity, figure, listed
from schemeforge.comparison.findings import findings
from schemeforge.comparison.measures import (
    Handed,
    HueFamily,
    PairMeasures,
    ReadPair,
    SchemeMeasures,
    SeenWith,
    Shift,
    Transition,
    Work,
    ZoneMeasures,
)
from schemeforge.comparison.metrics import LIGHTS, GoOn, measure
from schemeforge.comparison.taking import Taking, count, taking
from schemeforge.comparison.target import (
    MOST_COLOURS,
    TargetColour,
    TargetPalette,
    palette_of,
    palette_of_picture,
)
from schemeforge.comparison.thresholds import DEFAULTS, RULES, Rule, Thresholds
from schemeforge.comparison.versus import ZoneDifference, differences

__all__ = [
    "DEFAULTS",
    "LIGHTS",
    "MOST_COLOURS",
    "RULES",
    "Agreement",
    "Case",
    "Compared",
    "Comparison",
    "Finding",
    "GoOn",
    "Handed",
    "HueFamily",
    "Met",
    "PairMeasures",
    "ReadPair",
    "Rule",
    "SchemeMeasures",
    "SeenWith",
    "Severity",
    "Shift",
    "Taking",
    "TargetColour",
    "TargetPalette",
    "Thresholds",
    "Transition",
    "Work",
    "Yardstick",
    "ZoneDifference",
    "ZoneMeasures",
    "agreement",
    "compare",
    "count",
    "differences",
    "figure",
    "findings",
    "listed",
    "measure",
    "palette_of",
    "palette_of_picture",
    "taking",
    "yardstick_of",
]
