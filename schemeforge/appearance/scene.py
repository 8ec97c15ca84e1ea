"""A zone's stages in CIELAB, as they are and with something changed: what remarks reason on."""

from dataclasses import replace
from typing import Any

import numpy as np
from numpy.typing import NDArray

from schemeforge import colorimetry, optics
from schemeforge.appearance.look import look_of
from schemeforge.appearance.pots import pot_spectra
from schemeforge.appearance.stages import zone_tile
from schemeforge.scheme import Coat, Layer, Mix, Project, Scheme, Step, Viewing, coloured_steps

RELIEF_COUNT, ALONG_COUNT = 17, 9
CREST = -1


class Scene:
    """One zone of a scheme, dry.

    Attributes:
        steps: Its coloured steps.
        lab: CIELAB of every stage, ``(stages, relief, along, 3)``, recess and root first.
    """

    def __init__(self, project: Project, scheme: Scheme, zone_id: str, viewing: Viewing) -> None:
        self.project = project
        self.scheme = scheme
        self.zone = project.zone(zone_id)
        self.viewing = replace(viewing, wet=False)
        self.steps = coloured_steps(scheme, zone_id)
        self.lab = self._lab(scheme, zone_id)

    def place(self, coat: Coat) -> int:
        """Index along the part where the coat is laid most fully, the middle where even."""
        along = np.linspace(0.0, 1.0, ALONG_COUNT)
        if coat.placement.along.is_even:
            return ALONG_COUNT // 2
        return int(np.argmax(coat.placement.along.share(along)))

    def lightness(self, stage: int, relief: int, along: int) -> float:
        """L* of a stage at one place."""
        return float(self.lab[stage, relief, along, 0])

    def masstone(self, mix: Mix) -> float:
        """L* of the mix laid so thick that nothing below shows."""
        look = look_of(self.project, self.viewing)
        pot = pot_spectra(self.project, mix)
        seen = optics.seen(optics.r_infinity(pot.absorption, pot.scattering), look.surface)
        return float(colorimetry.lab(seen, look.light, look.observer)[0])

    def with_layer(self, step: Step, layer: Layer) -> NDArray[Any]:
        """CIELAB of every stage with another layer in one step."""
        steps = (replace(s, layer=layer) if s.id == step.id else s for s in self.scheme.steps)
        return self._lab(replace(self.scheme, steps=tuple(steps)), self.zone.id)

    def with_mix(self, mix: Mix) -> NDArray[Any]:
        """CIELAB of every stage with another mix in the pot of that id."""
        mixes = tuple(mix if m.id == mix.id else m for m in self.scheme.mixes)
        return self._lab(replace(self.scheme, mixes=mixes), self.zone.id)

    def neighbours(self) -> list[tuple[str, NDArray[Any]]]:
        """Names of the painted zones that it touches, and their finished colours."""
        found = []
        for zone in self.project.zones:
            touching = zone.id in self.zone.touches or self.zone.id in zone.touches
            if touching and coloured_steps(self.scheme, zone.id):
                found.append((zone.name, self._lab(self.scheme, zone.id)[-1]))
        return found

    def _lab(self, scheme: Scheme, zone_id: str) -> NDArray[Any]:
        tile = zone_tile(
            self.project,
            scheme,
            zone_id,
            self.viewing,
            relief_count=RELIEF_COUNT,
            along_count=ALONG_COUNT,
        )
        return colorimetry.lab_from_xyz(np.array([stage.xyz for stage in tile]))
