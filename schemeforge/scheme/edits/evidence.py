"""Edits of what test models told: kept, removed, and applied on request."""

from collections.abc import Collection
from dataclasses import replace

from schemeforge.errors import InputError
from schemeforge.scheme.candidate import Scheme
from schemeforge.scheme.edits._common import drop, insert, with_scheme
from schemeforge.scheme.evidence import CoatStrength, Evidence
from schemeforge.scheme.lookup import find
from schemeforge.scheme.project import Project
from schemeforge.scheme.steps import Coat, Spray, Step


def add_evidence(project: Project, evidence: Evidence) -> Project:
    """One more test model judged.

    Raises:
        UnknownNameError: For a scheme, zone or group that does not exist.
    """
    project.scheme(evidence.scheme_id)
    project.zone(evidence.zone_id)
    if evidence.group_id:
        project.group(evidence.group_id)
    return replace(project, evidence=insert(project.evidence, evidence, None))


def remove_evidence(project: Project, evidence_id: str) -> Project:
    """Without what one test model told; coats that it was applied to stay as they are."""
    return replace(project, evidence=drop(project.evidence, evidence_id, "evidence"))


def apply_evidence(
    project: Project, evidence_id: str, step_ids: Collection[str] | None = None
) -> Project:
    """The coats as heavy as the test model showed them; doing it twice changes nothing more.

    Args:
        project: The document.
        evidence_id: What to go by.
        step_ids: The steps to change; all that it tells of where None. Steps that have gone since
            are passed over.

    Raises:
        InputError: Where none of those steps is there any more.
    """
    evidence = find(project.evidence, evidence_id, "evidence")
    wanted = {
        coat.step_id: coat
        for coat in evidence.strengths
        if step_ids is None or coat.step_id in step_ids
    }

    def change(scheme: Scheme) -> Scheme:
        steps = tuple(_as_laid(step, wanted.get(step.id)) for step in scheme.steps)
        return replace(scheme, steps=steps)

    left = [s for s in project.scheme(evidence.scheme_id).steps if s.id in wanted]
    if not any(isinstance(step.layer, Coat | Spray) for step in left):
        raise InputError(
            f'None of the coats that "{evidence.name}" tells of is left in the scheme',
            remedy="paint and photograph another test model",
        )
    return with_scheme(project, evidence.scheme_id, change)


def _as_laid(step: Step, strength: CoatStrength | None) -> Step:
    layer = step.layer
    if strength is None:
        return step
    if isinstance(layer, Coat):
        return replace(step, layer=replace(layer, wet_um=strength.film_um))
    if isinstance(layer, Spray):
        return replace(step, layer=replace(layer, peak_um=strength.film_um))
    return step
