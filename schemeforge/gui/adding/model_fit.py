"""A line on the photograph of a painted test model beside what the project predicts. No Qt."""

from dataclasses import dataclass, replace
from typing import Any

import numpy as np
from numpy.typing import NDArray

from schemeforge.calibration import (
    NO_CORRECTION,
    Line,
    Strengths,
    correction_of,
    film_of,
    fit_strengths,
    sample_line,
)
from schemeforge.gui.adding.card import Card, references_of
from schemeforge.measurement import Photograph
from schemeforge.scheme import CoatStrength, Evidence, Finish, Project, Scheme

# What a photograph put right by grey references shows: daylight, or as good as.
_LIGHT = "D65"
_SAME = 0.02  # share by which a film may be another and still count as the same


@dataclass(frozen=True, slots=True, kw_only=True)
class Judged:
    """What is to be judged.

    Args:
        photograph: Of the test model.
        card: References marked on it; none at all leaves the picture as it is.
        line: From recess to raised edge.
        project: The document.
        scheme_id: The scheme that the model was painted by.
        zone_id: The zone that the line lies in.
        group_id: Whose share of the coats it got, "" for the full recipe.
        along: Where along the part the line lies, 0 to 1.
        finish: Of the model when it was photographed.
        undercoat: True to judge the sprayed undercoat as well.
    """

    photograph: Photograph
    card: Card
    line: Line
    project: Project
    scheme_id: str
    zone_id: str
    group_id: str
    along: float
    finish: Finish
    undercoat: bool


def judged(request: Judged) -> Strengths:
    """How heavily each coat lies; errors as of the engine's ``fit_strengths``."""
    ramp = measured(request)
    viewing = replace(request.project.viewing, light=_LIGHT, wet=False, finish=request.finish)
    return fit_strengths(
        request.project,
        request.scheme_id,
        request.zone_id,
        ramp,
        viewing=viewing,
        group_id=request.group_id or None,
        along=request.along,
        undercoat=request.undercoat,
    )


def measured(request: Judged) -> NDArray[Any]:
    """Linear sRGB along the line, put right by the references where there are some."""
    photograph = request.photograph
    references = references_of(request.card)
    correction = NO_CORRECTION
    if references:
        correction = correction_of(photograph.linear, photograph.clipped, references)
    return np.asarray(sample_line(photograph.linear, request.line, correction))


def standing(scheme: Scheme | None, coat: CoatStrength) -> str:
    """How the scheme's coat stands to what was found: "planned", "laid", "other" or "gone"."""
    step = None
    if scheme is not None:
        step = next((step for step in scheme.steps if step.id == coat.step_id), None)
    if step is None:
        return "gone"
    film = film_of(step)
    if abs(film - coat.film_um) <= _SAME * coat.film_um:
        return "laid"
    return "planned" if abs(film - coat.planned_um) <= _SAME * coat.planned_um else "other"


def scheme_of(project: Project, evidence: Evidence) -> Scheme | None:
    """The scheme that evidence is about, None where it has gone."""
    return next((s for s in project.schemes if s.id == evidence.scheme_id), None)
