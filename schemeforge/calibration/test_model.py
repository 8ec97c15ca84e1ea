"""How heavily a painter's coats really lie: a measured ramp against the predicted one.

A line on the photograph of a painted test model, from recess to raised edge, is sampled and laid
beside the ramp that the project predicts; then the strength of each coat is fitted: one factor
on its film, log-normal about 1. The result is evidence to keep (`evidence_of`); a document
changes only by ``edits.apply_evidence``.
"""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import Final

import numpy as np

from schemeforge import checks, colorimetry
from schemeforge.appearance import Points, ramp_tones, zone_stages
from schemeforge.calibration.areas import Picture
from schemeforge.calibration.camera import NO_CORRECTION, Correction
from schemeforge.calibration.prior import Floats
from schemeforge.errors import InputError
from schemeforge.scheme import (
    Coat,
    Primer,
    Project,
    Scheme,
    Spray,
    Step,
    Viewing,
    coloured_steps,
)
from schemeforge.scheme.steps import THICKEST_UM

SAMPLES: Final = 24
_SPREAD: Final = 0.4  # prior of the log of a strength: coats of another hand
_NOISE: Final = 1.5  # CIELAB units: what a photographed ramp of a small part is worth
_LIMIT: Final = 1.5  # of the log of a strength, either way
MOST_FACTOR: Final = float(np.exp(_LIMIT))  # no heavier coat is looked for, and none lighter by it
_ROUNDS: Final = 12
_STEP: Final = 0.02
_GOOD: Final = 4.0  # mean CIEDE2000 left above which the ramp and the scheme do not agree
_UNSETTLED: Final = 0.3


@dataclass(frozen=True, slots=True, kw_only=True)
class Line:
    """A line on a picture from recess to raised edge, in shares of width and height, 0 to 1.

    ``width`` is how broad a strip is averaged, as a share of the picture's smaller side.
    """

    recess: tuple[float, float]
    raised: tuple[float, float]
    width: float = 0.01

    def __post_init__(self) -> None:
        for value in (*self.recess, *self.raised):
            checks.number(value, "Line, end", low=0.0, high=1.0)
        checks.number(self.width, "Line, width", low=0.0, high=0.2)
        if self.recess == self.raised:
            raise InputError("The line has no length", remedy="draw it from recess to raised edge")


@dataclass(frozen=True, slots=True, kw_only=True)
class Strength:
    """What one coat's film was of what the scheme says.

    Args:
        step_id: The step.
        name: Its name.
        factor: 1 as planned, 2 twice as heavy.
        error: Standard error of the factor's natural log.
    """

    step_id: str
    name: str
    factor: float
    error: float


@dataclass(frozen=True, slots=True, eq=False, kw_only=True)
class Strengths:
    """A fit to one ramp: evidence, not yet a change.

    Args:
        zone_id: The zone.
        coats: One for each coat that was fitted, in order.
        relief: Where the ramp was compared, 0 recess to 1 raised, ``(points,)``.
        measured: CIELAB of the ramp as photographed, ``(points, 3)``.
        before: CIELAB as the scheme predicts it, likewise.
        after: CIELAB with the strengths, likewise.
        group_id: Whose share of the coats it got, "" for the full recipe.
        along: Where along the part the line lies.
        findings: Sentences for the painter.
    """

    zone_id: str
    coats: tuple[Strength, ...]
    relief: Floats
    measured: Floats
    before: Floats
    after: Floats
    group_id: str = ""
    along: float = 0.5
    findings: tuple[str, ...] = ()

    @property
    def difference_before(self) -> float:
        """Mean CIEDE2000 between ramp and prediction."""
        return float(colorimetry.ciede2000(self.before, self.measured).mean())

    @property
    def difference_after(self) -> float:
        """The same with the strengths."""
        return float(colorimetry.ciede2000(self.after, self.measured).mean())


def sample_line(
    linear: Picture, line: Line, correction: Correction = NO_CORRECTION, count: int = SAMPLES
) -> Floats:
    """Linear sRGB along the line, recess first, ``(count, 3)``.

    Each is the median across a strip, put right for light and camera at its own place.

    Raises:
        InputError: For fewer than two samples.
    """
    checks.whole(count, "Samples of a line", low=2, high=512)
    height, width = linear.shape[:2]
    ends = np.array([line.recess, line.raised])
    places = ends[0] + np.linspace(0.0, 1.0, count)[:, None] * (ends[1] - ends[0])
    pixels = places * [width - 1, height - 1]
    along = pixels[-1] - pixels[0]
    across = np.array([-along[1], along[0]]) / max(float(np.hypot(*along)), 1e-9)
    half = line.width * min(width, height) / 2
    steps = np.linspace(-half, half, max(int(2 * half) | 1, 1))
    spots = np.rint(pixels[:, None] + steps[:, None] * across).astype(int)
    spots = np.clip(spots, 0, [width - 1, height - 1])
    strip = np.median(np.asarray(linear[spots[..., 1], spots[..., 0]], dtype=np.float64), axis=1)
    return np.array(
        [
            correction.corrected(colour, (float(x), float(y)))
            for colour, (x, y) in zip(strip, places, strict=True)
        ]
    )


def fit_strengths(
    project: Project,
    scheme_id: str,
    zone_id: str,
    ramp: Floats,
    *,
    viewing: Viewing | None = None,
    group_id: str | None = None,
    along: float = 0.5,
    undercoat: bool = False,
) -> Strengths:
    """The strength of each coat with which the prediction follows the ramp.

    Args:
        project: The document.
        scheme_id: The scheme that the test model was painted by.
        zone_id: The zone.
        ramp: Linear sRGB from recess to raised edge, ``(points, 3)``, two points or more.
        viewing: How the model was photographed; the project's own where None.
        group_id: Whose share of the coats it got.
        along: Where along the part the line lies.
        undercoat: True to fit the sprayed undercoat as well.

    Raises:
        InputError: For a ramp of another shape, or a zone without coats to fit.
    """
    ramp = np.asarray(ramp, dtype=np.float64)
    if ramp.ndim != 2 or ramp.shape[1] != 3 or len(ramp) < 2 or not np.isfinite(ramp).all():
        raise InputError("The ramp is not a row of colours", remedy="sample a line on the model")
    scheme = project.scheme(scheme_id)
    fitted = _to_fit(coloured_steps(scheme, zone_id, group_id), undercoat=undercoat)
    relief = np.linspace(0.0, 1.0, len(ramp))
    points = Points(ramp_tones(project.zone(zone_id), len(ramp)), relief, along)
    measured = np.asarray(
        colorimetry.lab_from_xyz(colorimetry.xyz_from_linear_rgb(ramp)), dtype=np.float64
    )

    def predicted(logs: Floats) -> Floats:
        changed = _scaled(scheme, fitted, logs)
        stages = zone_stages(project, changed, zone_id, points, viewing, group_id)
        return np.asarray(colorimetry.lab_from_xyz(stages[-1].xyz))

    logs = np.zeros(len(fitted))
    before = here = predicted(logs)
    for _ in range(_ROUNDS):
        J = np.stack([(predicted(logs + one) - here).ravel() for one in _STEP * np.eye(len(logs))])
        J = J.T / (_STEP * _NOISE)
        H = J.T @ J + np.eye(len(logs)) / _SPREAD**2
        wanted = J.T @ ((measured - here).ravel() / _NOISE) - logs / _SPREAD**2
        step = np.clip(np.linalg.solve(H, wanted), -0.5, 0.5)
        logs = np.clip(logs + step, -_LIMIT, _LIMIT)
        here = predicted(logs)
        if float(np.abs(step).max()) < 1e-3:
            break
    # Neighbouring points share their faults: count them as a third as many.
    errors = np.sqrt(np.diag(np.linalg.inv((J.T @ J) / 3 + np.eye(len(logs)) / _SPREAD**2)))
    coats = tuple(
        Strength(step_id=s.id, name=s.name, factor=float(np.exp(v)), error=float(e))
        for s, v, e in zip(fitted, logs, errors, strict=True)
    )
    found = Strengths(
        zone_id=zone_id,
        coats=coats,
        relief=relief,
        measured=measured,
        before=before,
        after=here,
        group_id=group_id or "",
        along=along,
    )
    return replace(found, findings=_findings(found))


def _to_fit(steps: Sequence[Step], *, undercoat: bool) -> list[Step]:
    fitted = [s for s in steps if not isinstance(s.layer, Primer)]
    if not undercoat:
        fitted = [s for s in fitted if not isinstance(s.layer, Spray)]
    if not fitted:
        raise InputError(
            "The zone has no coat whose strength could be fitted", remedy="choose another zone"
        )
    return fitted


def _scaled(scheme: Scheme, steps: Sequence[Step], logs: Floats) -> Scheme:
    factors = {s.id: float(np.exp(v)) for s, v in zip(steps, logs, strict=True)}
    changed = tuple(_times(s, factors[s.id]) if s.id in factors else s for s in scheme.steps)
    return replace(scheme, steps=changed)


def _times(step: Step, factor: float) -> Step:
    layer = step.layer
    if isinstance(layer, Coat):
        return replace(step, layer=replace(layer, wet_um=min(layer.wet_um * factor, THICKEST_UM)))
    assert isinstance(layer, Spray)  # noqa: S101 - nothing else is fitted
    return replace(step, layer=replace(layer, peak_um=min(layer.peak_um * factor, THICKEST_UM)))


def _findings(found: Strengths) -> tuple[str, ...]:
    lines = [
        f'The ramp tells little of "{coat.name}": its strength is known to a factor of '
        f"{np.exp(coat.error):.1f} only."
        for coat in found.coats
        if coat.error > _UNSETTLED
    ]
    lines += [
        f'"{coat.name}" would have to be {coat.factor:.1f} times as heavy: check what was painted.'
        for coat in found.coats
        if abs(np.log(coat.factor)) > 0.9 * _LIMIT
    ]
    if found.difference_after > _GOOD:
        lines.append(
            f"The ramp still differs by {found.difference_after:.1f} CIEDE2000 on average: its "
            "coats, light or place may be others than the scheme says."
        )
    return tuple(lines)
