"""A remark: one thing that the trade would warn of, as a value."""

from dataclasses import dataclass
from enum import StrEnum

from schemeforge.appearance.scene import Scene
from schemeforge.scheme import Step


class Severity(StrEnum):
    """How much it matters: told, advised, or likely to spoil the result."""

    NOTE = "note"
    ADVICE = "advice"
    WARNING = "warning"


@dataclass(frozen=True, slots=True, kw_only=True)
class Remark:
    """One thing that the trade would warn of.

    Args:
        key: Which rule spoke, stable.
        zone_id: The zone.
        step_id: The step, "" where it is about the whole zone.
        severity: How much it matters.
        sentence: What is the matter and what to do.
        numbers: Names and values of the numbers in it.
    """

    key: str
    zone_id: str
    step_id: str
    severity: Severity
    sentence: str
    numbers: tuple[tuple[str, float], ...]


def remark(
    key: str,
    scene: Scene,
    step: Step | None,
    severity: Severity,
    sentence: str,
    **numbers: float,
) -> Remark:
    """A remark on a step of a scene, or on its whole zone where None."""
    return Remark(
        key=key,
        zone_id=scene.zone.id,
        step_id="" if step is None else step.id,
        severity=severity,
        sentence=sentence,
        numbers=tuple(numbers.items()),
    )
