"""The colours of all cards, worked out in one go and kept for what did not change."""

from functools import lru_cache
from typing import Any, NamedTuple

import numpy as np
from numpy.typing import NDArray

from schemeforge import colorimetry, optics
from schemeforge.appearance.drawdown import drawdown_films, drawdown_tolerance, drawdowns
from schemeforge.appearance.look import Look, look_of
from schemeforge.colorimetry.words import colour_words
from schemeforge.gui.paints.shelf_order import Looks
from schemeforge.paint import Paint
from schemeforge.scheme import Project

FILMS_UM = drawdown_films(24)
ONE_COAT_UM = 30.0  # a thin brush coat (common practice, no source)
_OVER_OFF_WHITE = 2
_DRAWS = 48


class Swatch(NamedTuple):
    """A paint's card: XYZ ``(3 grounds, films, 3)`` and its look at full film over off-white."""

    xyz: NDArray[Any]
    looks: Looks


class SwatchBook:
    """Keeps a swatch for each paint under the light and finish of the project."""

    def __init__(self) -> None:
        self._viewing: tuple[object, ...] = ()
        self._kept: dict[int, tuple[Paint, Swatch]] = {}

    def swatches(self, project: Project, paints: tuple[Paint, ...]) -> dict[str, Swatch]:
        """The swatch of each paint by its id; those not known yet are worked out together."""
        viewing = (project.viewing, project.lights)
        if viewing != self._viewing:
            self._viewing, self._kept = viewing, {}
        new = tuple(paint for paint in paints if id(paint) not in self._kept)
        if new:
            xyz = drawdowns(new, FILMS_UM, look_of(project))
            lab = colorimetry.lab_from_xyz(xyz[:, _OVER_OFF_WHITE, -1])
            for paint, film, full in zip(new, xyz, lab, strict=True):
                looks = Looks(colour_words(full), (float(full[0]), float(full[1]), float(full[2])))
                self._kept[id(paint)] = (paint, Swatch(film, looks))
        kept = {id(paint): self._kept[id(paint)] for paint in paints}
        self._kept = kept
        return {paint.id: swatch for paint, swatch in kept.values()}


@lru_cache(maxsize=2048)
def coat_tolerance(paint: Paint) -> float:
    """CIEDE2000 that nine of ten possible paints keep to: one coat, mean over the three grounds."""
    look = Look(optics.MATT, "D65", 2, 0.0)
    found = drawdown_tolerance(paint, np.array([ONE_COAT_UM]), look, _DRAWS)
    return float(found.mean())
