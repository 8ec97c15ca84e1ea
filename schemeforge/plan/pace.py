"""Minutes a model for each step, and how sure they are: timed, the painter's own, or the trade's.

Spread is the standard deviation of the log of the minutes. Published ranges of minutes a model,
read as 90 % intervals of a log-normal, give ln(high / low) / 3.29: glazes 0.2 to 1 give 0.49,
details 2 to 6 give 0.33, whole models 10 to 35 give 0.38, washes 1 to 2 give 0.21 (derived). The
trade's figure is taken at the wide end, since painters guess their own times badly.
"""

import math
from collections.abc import Sequence
from dataclasses import dataclass
from enum import StrEnum

from schemeforge.scheme import Project, Scheme, Step, Technique, Timing, zone_steps
from schemeforge.scheme.techniques import defaults_for

# Techniques that go from zone to zone with a brush: their trade minutes are for one zone. A
# wash, a filter or a spray takes the whole model in one go (common practice, no source).
_ZONE_BY_ZONE = frozenset(
    {
        Technique.BASE_COAT,
        Technique.LAYER,
        Technique.GLAZE,
        Technique.FEATHERED_GLAZE,
        Technique.STAIN,
        Technique.DRY_BRUSH,
        Technique.EDGE_HIGHLIGHT,
    }
)
TRADE_SIGMA = 0.45
OWN_SIGMA = 0.30
# Timings of one step differ from stint to stint by about this much (rule of thumb, no source),
# until there are enough of them to tell.
STINT_SIGMA = 0.25
_ENOUGH = 3
_LEAST_SIGMA, _MOST_SIGMA = 0.05, 1.0


class PaceBasis(StrEnum):
    """Where minutes a model come from, least sure first."""

    TRADE = "trade default"
    OWN = "your figure"
    TIMED = "your timings"


@dataclass(frozen=True, slots=True, kw_only=True)
class Pace:
    """Minutes a model of one step.

    Args:
        step_id: The step.
        minutes: At one model that gets the whole step: all its zones and passes.
        sigma: Standard deviation of the log of these minutes: how far they may be off.
        stint_sigma: Standard deviation of the log from one sub-batch to the next.
        basis: Where they come from.
        models_timed: How many models the timings are of.
    """

    step_id: str
    minutes: float
    sigma: float
    stint_sigma: float
    basis: PaceBasis
    models_timed: int = 0

    @property
    def range_90(self) -> tuple[float, float]:
        """Minutes that the pace stays between nine times in ten."""
        factor = math.exp(1.645 * self.sigma)
        return self.minutes / factor, self.minutes * factor


def paces(project: Project, scheme: Scheme) -> dict[str, Pace]:
    """The pace of every step of the scheme by step id.

    With timings, minutes are all minutes timed over all models timed; test models count. A stint
    without minutes ("done, not timed") tells nothing, nor does one of another technique; one of
    more or fewer passes counts by the pass.
    """
    timed: dict[str, list[Timing]] = {}
    for timing in project.timings:
        if timing.scheme_id == scheme.id and timing.minutes:
            timed.setdefault(timing.step_id, []).append(timing)
    return {step.id: _pace(scheme, step, timed.get(step.id, ())) for step in scheme.steps}


def _pace(scheme: Scheme, step: Step, timed: Sequence[Timing]) -> Pace:
    usual = minutes_per_model(step)
    own = step.minutes_per_model is not None
    prior = OWN_SIGMA if own else TRADE_SIGMA
    timed = [t for t in timed if t.technique in {"", _technique(step)}]
    stints = [
        (
            t.minutes * passes_of(step) / (t.passes or passes_of(step)),
            t.models * _share_got(scheme, step, t.group_id),
        )
        for t in timed
    ]
    if not stints:
        return Pace(
            step_id=step.id,
            minutes=usual,
            sigma=prior,
            stint_sigma=STINT_SIGMA,
            basis=PaceBasis.OWN if own else PaceBasis.TRADE,
        )
    stint = _stint_sigma([math.log(minutes / models) for minutes, models in stints])
    return Pace(
        step_id=step.id,
        minutes=sum(minutes for minutes, _ in stints) / sum(models for _, models in stints),
        # What was known before weighs like the normal prior of a normal mean.
        sigma=1.0 / math.sqrt(1.0 / prior**2 + len(stints) / stint**2),
        stint_sigma=stint,
        basis=PaceBasis.TIMED,
        models_timed=sum(t.models for t in timed),
    )


def _stint_sigma(logs: list[float]) -> float:
    if len(logs) < _ENOUGH:
        return STINT_SIGMA
    mean = sum(logs) / len(logs)
    spread = math.sqrt(sum((value - mean) ** 2 for value in logs) / (len(logs) - 1))
    return min(max(spread, _LEAST_SIGMA), _MOST_SIGMA)


def minutes_per_model(step: Step) -> float:
    """Minutes at one model that gets the whole step, before anything was timed.

    Minutes that the painter gives are for one model, all zones and passes of that step. The
    trade's are for one pass, and for one zone where a brush goes zone by zone, and are
    multiplied up.
    """
    if step.minutes_per_model is not None:
        return step.minutes_per_model
    zones = len(step.zone_ids) if _is_zone_by_zone(step) else 1
    return defaults_for(step).minutes_per_model * zones * passes_of(step)


def set_up_minutes(step: Step) -> float:
    """Setting up for the step and cleaning after it, once a sitting."""
    usual = defaults_for(step).set_up_minutes
    return usual if step.set_up_minutes is None else step.set_up_minutes


def passes_of(step: Step) -> int:
    """How many times the step is laid; 1 for work."""
    return 1 if step.coat is None else step.coat.passes


def share_of(step: Step, zones: int) -> float:
    """Share of the step's time at a model that gets it on so many of its zones."""
    return zones / len(step.zone_ids) if _is_zone_by_zone(step) else 1.0


def zones_got(scheme: Scheme, step: Step, group_id: str) -> int:
    """On how many of its zones the group gets the step; 0 for work on the whole model."""
    return sum(step in zone_steps(scheme, zone_id, group_id) for zone_id in step.zone_ids)


def _share_got(scheme: Scheme, step: Step, group_id: str) -> float:
    """As ``share_of``; all of it for a group that no longer gets the step."""
    return share_of(step, zones_got(scheme, step, group_id) or len(step.zone_ids))


def _technique(step: Step) -> str:
    return "" if step.coat is None else step.coat.technique.value


def _is_zone_by_zone(step: Step) -> bool:
    return step.coat is not None and step.coat.technique in _ZONE_BY_ZONE
