"""Candidate schemes measured and told apart, in plain sentences with numbers."""

from schemeforge.comparison.case import Case, Yardstick
from schemeforge.comparison.compare import Compared, Comparison, compare, yardstick_of
from schemeforge.comparison.finding import Finding, Severity, figure, listed
from schemeforge.comparison.findings import findings
from schemeforge.comparison.measures import (
    Handed,
    HueFamily,
    PairMeasures,
    SchemeMeasures,
    SeenWith,
    Shift,
    Transition,
    Work,
    ZoneMeasures,
)
from schemeforge.comparison.metrics import LIGHTS, GoOn, measure
from schemeforge.comparison.thresholds import DEFAULTS, RULES, Rule, Thresholds
from schemeforge.comparison.versus import ZoneDifference, differences

__all__ = [
    "DEFAULTS",
    "LIGHTS",
    "RULES",
    "Case",
    "Compared",
    "Comparison",
    "Finding",
    "GoOn",
    "Handed",
    "HueFamily",
    "PairMeasures",
    "Rule",
    "SchemeMeasures",
    "SeenWith",
    "Severity",
    "Shift",
    "Thresholds",
    "Transition",
    "Work",
    "Yardstick",
    "ZoneDifference",
    "ZoneMeasures",
    "compare",
    "differences",
    "figure",
    "findings",
    "listed",
    "measure",
    "yardstick_of",
]
