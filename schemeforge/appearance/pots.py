"""What a mix does to light, per micrometre of its wet film."""

from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from schemeforge import optics
from schemeforge.appearance.kept import Kept
from schemeforge.paint import Paint, PaintKind
from schemeforge.scheme import Mix, Project


class PotSpectra(NamedTuple):
    """K and S of a mix per um of wet film, ``(36,)`` each, read-only, and its share of binder.

    ``binder`` is the share of wet paint and medium in the mix, 0 for water alone to 1.
    """

    absorption: NDArray[np.float64]
    scattering: NDArray[np.float64]
    binder: float


_POTS: Kept[PotSpectra] = Kept(1024)
_AT_HAND: Kept[PotSpectra] = Kept(256)  # the same without looking the paints up


def pot_spectra(project: Project, mix: Mix) -> PotSpectra:
    """K and S per um of wet film of a mix; raises PaintMissingError.

    The same mix and paints give the very same object, which may serve as a key.
    """
    found = _AT_HAND.find((mix, project.paints), ())
    if found is None:
        paints = tuple(project.paint(i.paint_id) for i in mix.ingredients)
        found = _POTS.get((mix, *paints), (), lambda: _spectra(mix, paints))
        _AT_HAND.keep((mix, project.paints), (), found)
    return found


def _spectra(mix: Mix, paints: tuple[Paint, ...]) -> PotSpectra:
    parts = np.array([ingredient.parts for ingredient in mix.ingredients])
    K = np.array([paint.absorption for paint in paints])
    S = np.array([paint.scattering for paint in paints])
    absorption, scattering = optics.mix(parts, 1.0, K, S)
    water = np.array([paint.kind is PaintKind.WATER for paint in paints])
    binder = float(parts[~water].sum() / parts.sum())
    for array in (absorption, scattering):
        array.setflags(write=False)
    return PotSpectra(absorption, scattering, binder)
