"""A fit of a test model's coats in the form in which a project keeps it."""

from typing import Final

import numpy as np

from schemeforge.calibration.prior import Floats
from schemeforge.calibration.test_model import Strengths
from schemeforge.errors import InputError
from schemeforge.scheme import Coat, CoatStrength, Evidence, Project, Spray, Step
from schemeforge.scheme.evidence import STRONGEST, WEAKEST, Ramp

_DECIMALS: Final = 2  # of CIELAB: far below what anybody sees


def evidence_of(
    project: Project,
    scheme_id: str,
    found: Strengths,
    *,
    id: str,  # noqa: A002 - the field's own name
    name: str,
    at: str = "",
    note: str = "",
) -> Evidence:
    """What the fit told, to be kept with the project that it was made on.

    Args:
        project: The document as it was when fitted.
        scheme_id: The scheme that the model was painted by.
        found: The fit.
        id: Of the evidence.
        name: As the painter calls it.
        at: When it was judged, ISO 8601.
        note: A remark.

    Raises:
        UnknownNameError: Where a step is not in the scheme.
    """
    scheme = project.scheme(scheme_id)
    return Evidence(
        id=id,
        name=name,
        scheme_id=scheme_id,
        zone_id=found.zone_id,
        group_id=found.group_id,
        at=at,
        along=found.along,
        measured=_ramp(found.measured),
        predicted=_ramp(found.before),
        followed=_ramp(found.after),
        strengths=tuple(
            CoatStrength(
                step_id=coat.step_id,
                name=coat.name,
                planned_um=film_of(scheme.step(coat.step_id)),
                factor=float(np.clip(round(coat.factor, 4), WEAKEST, STRONGEST)),
                error=round(coat.error, 4),
            )
            for coat in found.coats
        ),
        note=note,
    )


def film_of(step: Step) -> float:
    """The film that a strength multiplies: a coat's wet pass, a spray's peak deposit, in um."""
    layer = step.layer
    if isinstance(layer, Coat):
        return layer.wet_um
    if isinstance(layer, Spray):
        return layer.peak_um
    raise InputError(f'"{step.name}" lays no film whose strength could be told')


def _ramp(lab: Floats) -> Ramp:
    return tuple(
        (round(float(L), _DECIMALS), round(float(a), _DECIMALS), round(float(b), _DECIMALS))
        for L, a, b in lab
    )
