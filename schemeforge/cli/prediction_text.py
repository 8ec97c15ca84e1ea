"""A prediction for people: tables, with blocks of colour where the terminal can show them."""

import os
import sys
from collections.abc import Mapping

from schemeforge.cli.prediction import PointColour, Prediction, StageColours, ZoneColours
from schemeforge.scheme import Project

_BLOCK_WIDTH = 6
_HEAD = "     tone  relief      L*      a*      b*   sRGB      tolerance"
# Beside a colour that no sRGB screen shows; the code is then the nearest of less chroma.
_OUT_OF_GAMUT = "!"


def shows_colour(
    environment: Mapping[str, str] | None = None, *, is_terminal: bool = False
) -> bool:
    """True where 24-bit colour may be printed: a terminal that says so and a user who lets it.

    Args:
        environment: Variables; those of the process where None, and its standard output is asked.
        is_terminal: With an environment given, whether standard output is a terminal.
    """
    if environment is None:
        environment = os.environ
        is_terminal = sys.stdout is not None and sys.stdout.isatty()
    if environment.get("NO_COLOR") or environment.get("TERM") == "dumb":
        return False
    return is_terminal and environment.get("COLORTERM", "").lower() in {"truecolor", "24bit"}


def as_text(prediction: Prediction, *, colour: bool) -> str:
    """The prediction as lines of text."""
    lines = _heading(prediction)
    for colours in prediction.schemes:
        chosen = colours.scheme.id == prediction.project.chosen_scheme_id
        lines += ["", "", f"SCHEME {colours.scheme.name}" + (" (chosen)" if chosen else "")]
        for zone in colours.zones:
            lines += ["", *_zone(zone, colour=colour)]
    if not all(p.in_gamut for p in _points(prediction)):
        lines += ["", f"{_OUT_OF_GAMUT} more vivid than a screen can show; the code is duller."]
    return "\n".join(lines)


def _points(prediction: Prediction) -> list[PointColour]:
    return [
        point
        for colours in prediction.schemes
        for zone in colours.zones
        for stage in zone.stages
        for point in stage.points
    ]


def _heading(prediction: Prediction) -> list[str]:
    request, project = prediction.request, prediction.project
    viewing = request.viewing
    whose = "the full recipe" if request.group is None else f"what {request.group.name} get"
    state = "each coat still wet" if viewing.wet else f"dry, {viewing.finish.value}"
    bases = "; ".join(basis.words for basis in prediction.bases)
    return [
        project.name,
        (
            f"{_light_words(project, viewing.light)}, {viewing.observer} degrees, {state}; "
            f"{whose}; {request.along:g} along the part."
        ),
        (
            "Tolerance: nine of ten repeats lie within it (CIEDE2000). Below 1 unseen, "
            "to 2 seen side by side, to 5 shows in the ranks."
        ),
        f"Paints: {bases or 'none used'}.",
    ]


def _light_words(project: Project, light: str) -> str:
    from schemeforge.colorimetry import lights

    labels = {known.name: f"Light {known.name}, {known.label}" for known in lights()}
    labels |= {own.name: f"Light {own.name}, the project's own" for own in project.lights}
    return labels.get(light, f"Light {light}")


def _zone(zone: ZoneColours, *, colour: bool) -> list[str]:
    low, high = zone.zone.tones
    lines = [f"{zone.zone.name}: undercoat light {low:g} in recesses to {high:g} on raised edges"]
    for number, stage in enumerate(zone.stages, start=1):
        lines += _stage(stage, number, colour=colour)
    lines += [f"  -  {step.name}: no colour predicted, trust the chip" for step in zone.unpredicted]
    return lines


def _stage(stage: StageColours, number: int, *, colour: bool) -> list[str]:
    basis = "" if stage.basis is None else f" ({stage.basis.words})"
    if stage.step is None:
        basis = " (its colour is a rule of thumb)"
    return [f" {number:>2}  {stage.name}{basis}", _HEAD] + [
        _row(point, colour=colour) for point in stage.points
    ]


def _row(point: PointColour, *, colour: bool) -> str:
    L, a, b = (round(value, 1) + 0.0 for value in point.lab)
    mark = " " if point.in_gamut else _OUT_OF_GAMUT
    sure = "–" if point.tolerance is None else f"{point.tolerance:.2f}"
    row = (
        f"     {point.tone:.2f}    {point.relief:.2f}  {L:6.1f}  {a:6.1f}  {b:6.1f}"
        f"   {point.srgb}{mark}  {sure:>9}"
    )
    return f"{row}  {_block(point.srgb)}" if colour else row


def _block(code: str) -> str:
    r, g, b = bytes.fromhex(code[1:])
    return f"\x1b[48;2;{r};{g};{b}m{' ' * _BLOCK_WIDTH}\x1b[0m"
