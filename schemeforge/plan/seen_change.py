"""How much an edit changes to the eye: mean CIEDE2000 over the area whose coats it touches."""

from dataclasses import dataclass
from typing import Any

import numpy as np
from numpy.typing import NDArray

from schemeforge import colorimetry
from schemeforge.appearance import zone_tile
from schemeforge.appearance.stages import coat_films
from schemeforge.scheme import Coat, Project, Scheme, Step, Viewing, Zone, coloured_steps

_RELIEF, _ALONG = 9, 5
# A film thinner than this share of its thickest place is not what the eye sees there.
_COVERS = 0.05


@dataclass(frozen=True, slots=True, kw_only=True)
class SeenChange:
    """What changes to the eye.

    Args:
        delta_e: Mean CIEDE2000 between before and after, over the area.
        area_cm2: Area on all models of the batch on which some coat was changed or left out.
    """

    delta_e: float
    area_cm2: float


class Seen:
    """Compares edited projects with one project, whose colours are worked out once.

    Args:
        project: The document before.
        scheme_id: The scheme that is painted.
        viewing: How it is looked at; the project's own, dry, where None.
    """

    def __init__(self, project: Project, scheme_id: str, viewing: Viewing | None = None) -> None:
        self._project = project
        self._scheme = project.scheme(scheme_id)
        self._viewing = viewing
        self._known: dict[tuple[str, tuple[Step, ...]], NDArray[Any]] = {}

    def change(self, after: Project) -> SeenChange:
        """What the edit that led to ``after`` changes on the groups of the project."""
        scheme = after.scheme(self._scheme.id)
        weighed = area = 0.0
        for zone in self._project.zones:
            for group in self._project.groups:
                if not group.count:
                    continue
                old = coloured_steps(self._scheme, zone.id, group.id)
                new = coloured_steps(scheme, zone.id, group.id)
                if old == new:
                    continue
                covered = _covered(old, new)
                delta = colorimetry.ciede2000(
                    self._lab(self._project, self._scheme, zone, old, group.id),
                    self._lab(after, scheme, zone, new, group.id),
                )
                touched = float(covered.mean()) * zone.area_on(self._project.size) * group.count
                if touched:
                    weighed += touched * float(delta[covered].mean())
                    area += touched
        return SeenChange(delta_e=weighed / area if area else 0.0, area_cm2=area)

    def _lab(
        self,
        project: Project,
        scheme: Scheme,
        zone: Zone,
        steps: tuple[Step, ...],
        group_id: str,
    ) -> NDArray[Any]:
        key = (zone.id, steps)
        if key not in self._known:
            stages = zone_tile(
                project,
                scheme,
                zone.id,
                self._viewing,
                relief_count=_RELIEF,
                along_count=_ALONG,
                group_id=group_id,
            )
            self._known[key] = colorimetry.lab_from_xyz(stages[-1].xyz)
        return self._known[key]


def _covered(old: tuple[Step, ...], new: tuple[Step, ...]) -> NDArray[np.bool_]:
    """Where some coat lies that stands in one of the stacks only, ``(relief, along)``."""
    covered = np.zeros((_RELIEF, _ALONG), bool)
    relief = np.linspace(0.0, 1.0, _RELIEF)[:, np.newaxis]
    along = np.linspace(0.0, 1.0, _ALONG)[np.newaxis, :]
    for step in set(old) ^ set(new):
        if isinstance(step.layer, Coat):
            film = coat_films(step.layer, relief, along)
            covered |= np.broadcast_to(film > _COVERS * film.max(), covered.shape)
        else:
            covered[:] = True
    return covered
