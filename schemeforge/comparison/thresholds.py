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
        stands_out: Contrast of a zone over the mean of all zones that makes it a focal point.
        focal_area: Share of the area beyond which a zone is too large for a focal point.
        reads: Lightness left between touching zones at one metre, L*.
        near_target: CIEDE2000 up to which a colour of the target counts as met.

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
    stands_out: float = 1.2
    focal_area: float = 0.3
    reads: float = 8.0
    near_target: float = 5.0

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


# Where a starting value comes from; a rule of thumb has no source.
PRACTICE = "rule of thumb, common practice"
OWN = "rule of thumb of this program"


@dataclass(frozen=True, slots=True, kw_only=True)
class Rule:
    """One threshold in words, with its unit, the range that it may take, and where it is from."""

    field: str
    words: str
    unit: str
    low: float
    high: float
    whole: bool = False
    origin: str = OWN


def _lightness(field: str, words: str, origin: str = PRACTICE) -> Rule:
    return Rule(field=field, words=words, unit="L*", low=0.0, high=100.0, origin=origin)


def _difference(field: str, words: str, origin: str = OWN) -> Rule:
    return Rule(field=field, words=words, unit="dE", low=0.0, high=100.0, origin=origin)


def _times(field: str, words: str, low: float, high: float) -> Rule:
    return Rule(field=field, words=words, unit="times", low=low, high=high)


def _share(field: str, words: str, high: float = 1.0) -> Rule:
    return Rule(field=field, words=words, unit="share", low=0.0, high=high)


def _hues(field: str, words: str) -> Rule:
    return Rule(field=field, words=words, unit="", low=0, high=12, whole=True, origin=PRACTICE)


RULES = (
    _lightness("apart", "Touching zones apart"),
    _lightness("span_low", "Recess to raised edge, least"),
    _lightness("span_high", "Recess to raised edge, most"),
    _hues("hues_low", "Main hues, fewest"),
    _hues("hues_high", "Main hues, most"),
    _share("main_share", "Area of a main hue, least"),
    Rule(field="hue_gap", words="Hues apart", unit="°", low=1.0, high=180.0),
    Rule(field="neutral_chroma", words="Chroma of a neutral, most", unit="C*", low=0.0, high=100.0),
    _difference("steady", "Shift that goes unnoticed, most", PRACTICE),
    _difference("shows", "Plainly another colour, from", PRACTICE),
    _times("eye_catching", "Chroma over area that draws the eye", 1.0, 100.0),
    _times("light_hand", "Films of a light hand", 0.1, 1.0),
    _times("heavy_hand", "Films of a heavy hand", 1.0, 10.0),
    Rule(
        field="severity",
        words="Severity of colour-vision deficiency",
        unit="",
        low=0.0,
        high=1.0,
        origin="Machado, Oliveira, Fernandes 2009",
    ),
    _share("hours_over", "Longer than the yardstick, at most", 10.0),
    _times("stands_out", "Contrast of a focal point over the mean", 1.0, 100.0),
    _share("focal_area", "Area of a focal point, most"),
    _lightness("reads", "Touching zones apart at one metre", OWN),
    _difference("near_target", "Colour of the target met, up to"),
)

DEFAULTS = Thresholds()
