"""What painted test models told: kept with the project, changing nothing until it is applied."""

from dataclasses import dataclass

from schemeforge import checks
from schemeforge.errors import InputError
from schemeforge.scheme.steps import THICKEST_UM

MOST_POINTS = 512
WEAKEST, STRONGEST = 0.05, 20.0
_WIDEST = 5.0
_FARTHEST = 1000.0  # of a CIELAB coordinate

Ramp = tuple[tuple[float, float, float], ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class CoatStrength:
    """What one coat's film was of what the scheme said when the test model was judged.

    Args:
        step_id: The step.
        name: Its name then.
        planned_um: Its film then: one wet pass of a coat, the peak deposit of a spray.
        factor: 1 as planned, 2 twice as heavy.
        error: Standard error of the factor's natural log.
    """

    step_id: str
    name: str
    planned_um: float
    factor: float
    error: float

    def __post_init__(self) -> None:
        checks.identifier(self.step_id, "Strength of a coat")
        checks.name(self.name, "Strength of a coat")
        where = f'Strength of "{self.name}"'
        checks.number(
            self.planned_um, f"{where}: film", low=0.0, high=THICKEST_UM, unit="micrometres"
        )
        checks.number(self.factor, f"{where}: factor", low=WEAKEST, high=STRONGEST)
        checks.number(self.error, f"{where}: error", low=0.0, high=_WIDEST)

    @property
    def film_um(self) -> float:
        """The film as it was really laid, within what a scheme allows."""
        return min(self.planned_um * self.factor, THICKEST_UM)


@dataclass(frozen=True, slots=True, kw_only=True)
class Evidence:
    """A line on a painted test model, recess to raised edge, beside what was predicted for it.

    Args:
        id: Stable id.
        name: As the painter calls it.
        scheme_id: The scheme that the model was painted by.
        zone_id: The zone that the line lies in.
        group_id: Whose share of the coats it got, "" for the full recipe.
        at: When it was judged, ISO 8601, or a remark.
        along: Where along the part the line lies, 0 to 1.
        measured: CIELAB of the photographed ramp, recess first.
        predicted: CIELAB as the scheme predicted it then, as many points.
        followed: CIELAB of the prediction with the strengths, as many points.
        strengths: One for each coat that was fitted, in order.
        note: The painter's own remark.
    """

    id: str
    name: str
    scheme_id: str
    zone_id: str
    group_id: str = ""
    at: str = ""
    along: float = 0.5
    measured: Ramp
    predicted: Ramp
    followed: Ramp
    strengths: tuple[CoatStrength, ...]
    note: str = ""

    def __post_init__(self) -> None:
        for value in (self.id, self.scheme_id, self.zone_id):
            checks.identifier(value, "Evidence")
        if self.group_id:
            checks.identifier(self.group_id, "Evidence")
        checks.name(self.name, "Evidence")
        where = f'Evidence "{self.name}"'
        checks.note(self.at, f"{where}: time")
        checks.note(self.note, f"{where}: note")
        checks.number(self.along, f"{where}: place along the part", low=0.0, high=1.0)
        points = {len(self.measured), len(self.predicted), len(self.followed)}
        if len(points) != 1 or not 2 <= len(self.measured) <= MOST_POINTS:
            raise InputError(
                f"{where} has ramps of {len(self.measured)}, {len(self.predicted)} and "
                f"{len(self.followed)} points",
                remedy=f"give all three as many, 2 to {MOST_POINTS}",
            )
        for ramp in (self.measured, self.predicted, self.followed):
            for colour in ramp:
                for coordinate in colour:
                    checks.number(coordinate, f"{where}: CIELAB", low=-_FARTHEST, high=_FARTHEST)
        if not self.strengths:
            raise InputError(f"{where} tells of no coat", remedy="fit at least one coat")
        checks.unique((coat.step_id for coat in self.strengths), f"{where}: step")
