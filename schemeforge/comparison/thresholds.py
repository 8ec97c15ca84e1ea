"""What counts as enough: rules of thumb that the painter can change.

Every number here is a rule of thumb. The value plan (touching zones 20 L* apart, a zone 30 to 40
L* from recess to crest, two or three main colours) and the bands of CIEDE2000 are common practice
without a source; what is left was set for this program and stands for no measurement.
"""

from dataclasses import dataclass

from schemeforge import checks
from schemeforge.errors import InputError


@dataclass(frozen=True, slots=True, kw_only=True)
class Thresholds:
    """The painter's own idea of enough.

    Args:
        apart: Lightness between touching zones, L*.
        span_low: Least lightness from recess to raised edge, L*.
        span_high: Most lightness from recess to raised edge, L*.
        hues_low: Fewest main hues.
        hues_high: Most main hues.
        main_share: Least share of the area that makes a hue a main one, 0 to 1.
        hue_gap: Hues further apart than this are two, degrees.
        neutral_chroma: Chroma below which a colour counts as neutral.
        steady: CIEDE2000 up to which a shift (another light, another hand) goes unnoticed.
        shows: CIEDE2000 from which two colours are plainly different.
        eye_catching: Share of chroma over share of area that makes a zone draw the eye.
        light_hand: Factor on all films of a light hand, 0.1 to 1.
        heavy_hand: Factor on all films of a heavy hand, 1 to 10.
        severity: Of the colour-vision deficiencies, 0 to 1.
        hours_over: Share by which a scheme may take longer than the yardstick.

    Raises:
        InputError: For numbers out of range, or ranges the wrong way round.
    """

    apart: float = 20.0
    span_low: float = 30.0
    span_high: float = 40.0
    hues_low: int = 2
    hues_high: int = 3
    main_share: float = 0.05
    hue_gap: float = 30.0
    neutral_chroma: float = 10.0
    steady: float = 2.0
    shows: float = 5.0
    eye_catching: float = 1.6
    light_hand: float = 0.8
    heavy_hand: float = 1.25
    severity: float = 1.0
    hours_over: float = 0.1

    def __post_init__(self) -> None:
        for rule in RULES:
            checks.number(getattr(self, rule.field), rule.words, low=rule.low, high=rule.high)
        for low, high, what in (
            (self.span_low, self.span_high, "Lightness from recess to raised edge"),
            (self.hues_low, self.hues_high, "Number of main hues"),
            (self.steady, self.shows, "Colour difference"),
        ):
            if low > high:
                raise InputError(
                    f"{what}: the least, {low:g}, is above the most, {high:g}",
                    remedy="swap the two or bring them together",
                )


@dataclass(frozen=True, slots=True, kw_only=True)
class Rule:
    """One threshold in words, with its unit and the range that it may take."""

    field: str
    words: str
    unit: str
    low: float
    high: float
    whole: bool = False


RULES = (
    Rule(field="apart", words="Touching zones apart", unit="L*", low=0.0, high=100.0),
    Rule(field="span_low", words="Recess to raised edge, least", unit="L*", low=0.0, high=100.0),
    Rule(field="span_high", words="Recess to raised edge, most", unit="L*", low=0.0, high=100.0),
    Rule(field="hues_low", words="Main hues, fewest", unit="", low=0, high=12, whole=True),
    Rule(field="hues_high", words="Main hues, most", unit="", low=0, high=12, whole=True),
    Rule(field="main_share", words="Area of a main hue, least", unit="share", low=0.0, high=1.0),
    Rule(field="hue_gap", words="Hues apart", unit="°", low=1.0, high=180.0),
    Rule(field="neutral_chroma", words="Chroma of a neutral, most", unit="C*", low=0.0, high=100.0),
    Rule(field="steady", words="Shift that goes unnoticed, most", unit="dE", low=0.0, high=100.0),
    Rule(field="shows", words="Plainly another colour, from", unit="dE", low=0.0, high=100.0),
    Rule(
        field="eye_catching",
        words="Chroma over area that draws the eye",
        unit="times",
        low=1.0,
        high=100.0,
    ),
    Rule(field="light_hand", words="Films of a light hand", unit="times", low=0.1, high=1.0),
    Rule(field="heavy_hand", words="Films of a heavy hand", unit="times", low=1.0, high=10.0),
    Rule(
        field="severity", words="Severity of colour-vision deficiency", unit="", low=0.0, high=1.0
    ),
    Rule(
        field="hours_over",
        words="Longer than the yardstick, at most",
        unit="share",
        low=0.0,
        high=10.0,
    ),
)

DEFAULTS = Thresholds()
