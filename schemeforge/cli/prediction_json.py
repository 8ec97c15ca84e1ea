"""A prediction for machines; ``assets/prediction.schema.json`` describes it.

The format's version rises when a field changes its meaning or goes away; new fields may come
without notice.
"""

import json
from typing import Any

from schemeforge.cli.prediction import PointColour, Prediction, StageColours, ZoneColours
from schemeforge.scheme import Step

FORMAT = "schemeforge prediction"
VERSION = 1
# Far below what any eye or instrument tells apart, and short enough to read.
_DIGITS = 4


def as_json(prediction: Prediction) -> str:
    """The prediction as JSON text."""
    return json.dumps(_tree(prediction), ensure_ascii=False, allow_nan=False, indent=1)


def _tree(prediction: Prediction) -> dict[str, Any]:
    project, request = prediction.project, prediction.request
    viewing, group = request.viewing, request.group
    least_sure = prediction.least_sure
    return {
        "format": FORMAT,
        "version": VERSION,
        "project": {"id": project.id, "name": project.name},
        "viewing": {
            "light": viewing.light,
            "observer": viewing.observer,
            "finish": viewing.finish.value,
            "wet": viewing.wet,
        },
        "group": None if group is None else {"id": group.id, "name": group.name},
        "along": request.along,
        "least_sure": None if least_sure is None else _rounded(least_sure.tolerance),
        "schemes": [
            {
                "id": colours.scheme.id,
                "name": colours.scheme.name,
                "chosen": colours.scheme.id == project.chosen_scheme_id,
                "zones": [_zone(zone) for zone in colours.zones],
            }
            for colours in prediction.schemes
        ],
    }


def _zone(zone: ZoneColours) -> dict[str, Any]:
    return {
        "id": zone.zone.id,
        "name": zone.zone.name,
        "stages": [_stage(stage) for stage in zone.stages],
        "unpredicted": [_step(step) for step in zone.unpredicted],
    }


def _stage(stage: StageColours) -> dict[str, Any]:
    basis = stage.basis
    return {
        "step": None if stage.step is None else _step(stage.step),
        "basis": None if basis is None else {"name": basis.value, "words": basis.words},
        "points": [_point(point) for point in stage.points],
    }


def _step(step: Step) -> dict[str, str]:
    return {"id": step.id, "name": step.name}


def _point(point: PointColour) -> dict[str, Any]:
    return {
        "tone": _rounded(point.tone),
        "relief": _rounded(point.relief),
        "lab": [_rounded(value) for value in point.lab],
        "srgb": point.srgb,
        "in_gamut": point.in_gamut,
        "tolerance": None if point.tolerance is None else _rounded(point.tolerance),
    }


def _rounded(value: float) -> float:
    return round(value, _DIGITS) + 0.0  # no negative zeros
