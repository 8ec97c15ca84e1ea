"""``schemeforge calibrate PHOTO --model PROJECT``: how heavily a painted test model's coats lie."""

import argparse
import json
import math
from collections.abc import Sequence
from datetime import datetime
from pathlib import Path
from typing import TYPE_CHECKING, Any

from schemeforge import colorimetry
from schemeforge.calibration import (
    NO_CORRECTION,
    Line,
    Strengths,
    correction_of,
    evidence_of,
    fit_strengths,
    sample_line,
)
from schemeforge.cli.calibration_sources import marks_in
from schemeforge.cli.output import complain, say
from schemeforge.cli.parsing import pick
from schemeforge.cli.reading import project_in
from schemeforge.errors import InputError, SchemeForgeError
from schemeforge.measurement import read_photograph
from schemeforge.scheme import Evidence, Finish, Project, Scheme, Viewing, edits
from schemeforge.scheme.project_file import SUFFIX, save

if TYPE_CHECKING:
    from schemeforge.measurement import Photograph

FINDING = 1
# What a photograph put right by grey references shows: daylight, or as good as.
_LIGHT = "D65"
_NINETY = 1.645  # standard deviations within which nine of ten lie
_MIDDLE = 0.5  # of the part, along it
AS_TAKEN = "No white, grey or black area is marked, so the picture is taken as the camera gave it."


def judge(arguments: argparse.Namespace) -> int:
    """Judges, prints, writes the project with the evidence, and gives the exit code."""
    out = arguments.out
    if out and not out.endswith(SUFFIX):
        raise InputError(
            "A judged test model is kept in a project", where=out, remedy=f"end in {SUFFIX}"
        )
    project = project_in(arguments.model)
    photograph = read_photograph(Path(arguments.file))
    try:
        scheme, found = _judged(arguments, project, photograph)
        evidence = evidence_of(
            project,
            scheme.id,
            found,
            id=edits.fresh_id(arguments.name, (e.id for e in project.evidence)),
            name=arguments.name,
            at=datetime.now().astimezone().isoformat(timespec="minutes"),
        )
    except SchemeForgeError as error:
        raise error.at(arguments.file) from None
    if out:
        kept = edits.add_evidence(project, evidence)
        save(edits.apply_evidence(kept, evidence.id) if arguments.apply else kept, out)
    remarks = () if arguments.marks is not None else (AS_TAKEN,)
    if arguments.json:
        say(_as_json(evidence, found, remarks))
    else:
        say(_as_text(project, evidence, found, remarks))
    if out and not arguments.json:
        say(f"Wrote {out}" + (", coats taken over" if arguments.apply else ""))
    for finding in found.findings:
        complain(finding)
    return FINDING if arguments.strict and (remarks or found.findings) else 0


def _judged(
    arguments: argparse.Namespace, project: Project, photograph: "Photograph"
) -> tuple[Scheme, Strengths]:
    scheme = _scheme(project, arguments.scheme)
    if arguments.zone is None:
        raise InputError(
            "It is not told in which zone the line lies",
            where="--zone",
            remedy=f"give one of {', '.join(zone.name for zone in project.zones)}",
        )
    zone = pick(project.zones, arguments.zone, "zone", "--zone")
    group = arguments.group
    if group is not None:
        group = pick(project.groups, group, "group", "--group").id
    correction = NO_CORRECTION
    if arguments.marks is not None:
        references = marks_in(Path(arguments.marks))["references"]
        correction = correction_of(photograph.linear, photograph.clipped, references)
    finish = Finish(arguments.finish) if arguments.finish else project.viewing.finish
    found = fit_strengths(
        project,
        scheme.id,
        zone.id,
        sample_line(photograph.linear, _line(arguments.line), correction),
        viewing=Viewing(light=_LIGHT, observer=project.viewing.observer, finish=finish),
        group_id=group,
        along=_MIDDLE if arguments.along is None else arguments.along,
        undercoat=arguments.undercoat,
    )
    return scheme, found


def _scheme(project: Project, wanted: str | None) -> Scheme:
    if wanted is not None:
        return pick(project.schemes, wanted, "scheme", "--scheme")
    if not project.schemes:
        raise InputError("The project has no scheme", remedy="add one first")
    chosen = project.chosen_scheme_id or project.schemes[0].id
    return project.scheme(chosen)


def _line(text: str | None) -> Line:
    """The line of "x1,y1,x2,y2", shares of the picture from its upper left corner."""
    try:
        x1, y1, x2, y2 = (float(part) for part in (text or "").split(","))
    except ValueError:
        raise InputError(
            "It is not told where the line lies",
            where="--line",
            remedy="give x1,y1,x2,y2 from recess to raised edge, shares of width and height",
        ) from None
    try:
        return Line(recess=(x1, y1), raised=(x2, y2))
    except InputError as error:
        raise error.at("--line") from None


def _as_text(project: Project, evidence: Evidence, found: Strengths, remarks: Sequence[str]) -> str:
    zone, scheme = project.zone(evidence.zone_id), project.scheme(evidence.scheme_id)
    lines = [
        f"{evidence.name}: {zone.name} of {scheme.name}",
        "",
        "  coat                       as planned x   90 % between",
    ]
    for coat in evidence.strengths:
        low, high = (coat.factor * math.exp(sign * _NINETY * coat.error) for sign in (-1.0, 1.0))
        lines.append(f"  {coat.name[:26]:26} {coat.factor:12.2f}   {low:.2f} and {high:.2f}")
    lines += [
        "",
        f"  ramp to plan:          {found.difference_before:.1f} dE",
        f"  to plan in this hand:  {found.difference_after:.1f} dE",
    ]
    if remarks:
        lines += ["", *(f"  {remark}" for remark in remarks)]
    return "\n".join(lines)


def _as_json(evidence: Evidence, found: Strengths, remarks: Sequence[str]) -> str:
    tree: dict[str, Any] = {
        "name": evidence.name,
        "scheme": evidence.scheme_id,
        "zone": evidence.zone_id,
        "coats": [
            {"step": c.step_id, "name": c.name, "factor": c.factor, "log_error": c.error}
            for c in evidence.strengths
        ],
        "measured": list(colorimetry.hex_codes(colorimetry.xyz_from_lab(found.measured))),
        "planned": list(colorimetry.hex_codes(colorimetry.xyz_from_lab(found.before))),
        "difference_before": round(found.difference_before, 3),
        "difference_after": round(found.difference_after, 3),
        "findings": [*remarks, *found.findings],
    }
    return json.dumps(tree, indent=2)
