"""The figures that ``predict`` prints, as values."""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from schemeforge import colorimetry
from schemeforge.appearance import Points, ramp_tones, zone_stages, zone_tolerance
from schemeforge.paint import Basis
from schemeforge.scheme import Group, Project, Scheme, Step, Viewing, Work, Zone, zone_steps


@dataclass(frozen=True, slots=True, kw_only=True)
class Request:
    """What is to be predicted; ``group`` None for the full recipe."""

    schemes: tuple[Scheme, ...]
    zones: tuple[Zone, ...]
    group: Group | None
    viewing: Viewing
    points: int
    along: float


@dataclass(frozen=True, slots=True, kw_only=True)
class PointColour:
    """The colour at one place of a zone.

    Args:
        tone: Undercoat light, 0 to 1.
        relief: Recess 0 to raised edge 1.
        lab: CIELAB with the D65 white.
        srgb: ``#rrggbb``, chroma reduced where the screen cannot show the colour.
        in_gamut: False where it was reduced.
        tolerance: Half-width of the 90 % interval, CIEDE2000; None for bare plastic, whose
            colour is a rule of thumb.
    """

    tone: float
    relief: float
    lab: tuple[float, float, float]
    srgb: str
    in_gamut: bool
    tolerance: float | None


@dataclass(frozen=True, slots=True, kw_only=True)
class StageColours:
    """A zone after one step; step None for bare plastic, basis None where no paint is used."""

    step: Step | None
    basis: Basis | None
    points: tuple[PointColour, ...]

    @property
    def name(self) -> str:
        """What to call the stage."""
        return "bare plastic, not painted" if self.step is None else self.step.name


@dataclass(frozen=True, slots=True, kw_only=True)
class ZoneColours:
    """A zone's stages, and the steps on it without a predicted colour, both in painting order."""

    zone: Zone
    stages: tuple[StageColours, ...]
    unpredicted: tuple[Step, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class SchemeColours:
    """All zones asked for of one scheme."""

    scheme: Scheme
    zones: tuple[ZoneColours, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class LeastSure:
    """The largest tolerance of a prediction and where it is, in words."""

    tolerance: float
    where: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Prediction:
    """All that was asked for."""

    project: Project
    request: Request
    schemes: tuple[SchemeColours, ...]

    @property
    def bases(self) -> tuple[Basis, ...]:
        """What the paints are known from, best first, each once."""
        found = {s.basis for c in self.schemes for z in c.zones for s in z.stages}
        return tuple(basis for basis in Basis if basis in found)

    @property
    def least_sure(self) -> LeastSure | None:
        """Where the prediction is least sure, None where nothing is painted."""
        return max(
            (
                LeastSure(
                    tolerance=point.tolerance,
                    where=f'"{zone.zone.name}" after "{stage.name}" in "{colours.scheme.name}"',
                )
                for colours in self.schemes
                for zone in colours.zones
                for stage in zone.stages
                for point in stage.points
                if point.tolerance is not None
            ),
            key=lambda found: found.tolerance,
            default=None,
        )


def predict(project: Project, request: Request) -> Prediction:
    """The colours asked for.

    Raises:
        UnknownNameError: for a light that does not exist.
        PaintMissingError: for a paint that the project does not carry.
    """
    return Prediction(
        project=project,
        request=request,
        schemes=tuple(
            SchemeColours(
                scheme=scheme,
                zones=tuple(_zone(project, request, scheme, zone) for zone in request.zones),
            )
            for scheme in request.schemes
        ),
    )


def _zone(project: Project, request: Request, scheme: Scheme, zone: Zone) -> ZoneColours:
    group_id = None if request.group is None else request.group.id
    tones = ramp_tones(zone, request.points)
    points = Points(tones, np.linspace(0.0, 1.0, request.points), request.along)
    stages = zone_stages(project, scheme, zone.id, points, request.viewing, group_id)
    sure = zone_tolerance(project, scheme, zone.id, points, request.viewing, group_id=group_id)
    return ZoneColours(
        zone=zone,
        stages=tuple(
            StageColours(
                step=stage.step,
                basis=sure.weakest[n],
                points=_colours(points, stage.xyz, None if stage.step is None else sure.delta_e[n]),
            )
            for n, stage in enumerate(stages)
        ),
        unpredicted=tuple(
            step for step in zone_steps(scheme, zone.id, group_id) if isinstance(step.layer, Work)
        ),
    )


def _colours(
    points: Points, xyz: NDArray[np.float64], tolerance: NDArray[np.float64] | None
) -> tuple[PointColour, ...]:
    lab = colorimetry.lab_from_xyz(xyz).tolist()
    codes = colorimetry.hex_codes(xyz)
    shown = colorimetry.srgb(xyz).in_gamut.tolist()
    return tuple(
        PointColour(
            tone=tone,
            relief=relief,
            lab=(lab[n][0], lab[n][1], lab[n][2]),
            srgb=codes[n],
            in_gamut=shown[n],
            tolerance=None if tolerance is None else float(tolerance[n]),
        )
        for n, (tone, relief) in enumerate(
            zip(points.tone.tolist(), points.relief.tolist(), strict=True)
        )
    )
