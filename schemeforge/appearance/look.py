"""A viewing made ready for arrays: the surface, the light's weights, and the wet milkiness."""

from dataclasses import dataclass
from typing import Any

import numpy as np
from numpy.typing import NDArray

from schemeforge import colorimetry, optics
from schemeforge.colorimetry import SpectralLight
from schemeforge.errors import UnknownNameError
from schemeforge.scheme import Finish, Project, Viewing

SURFACES = {
    Finish.MATT: optics.MATT,
    Finish.UNVARNISHED: optics.UNVARNISHED,
    Finish.SATIN: optics.SATIN,
    Finish.GLOSS: optics.GLOSS,
}


@dataclass(frozen=True, slots=True)
class Look:
    """How a viewing turns internal reflectance into colour.

    Args:
        surface: The finish; gloss while wet.
        light: Name of a built-in light, or the painter's own spectrum.
        observer: 2 or 10 degrees.
        milk_per_um: Flat scattering of the coat still wet, per um of wet paint and medium; 0 dry.
        dtype: float64, or float32 where only pixels result.
    """

    surface: optics.Surface
    light: str | SpectralLight
    observer: int
    milk_per_um: float
    dtype: type[np.floating[Any]] = np.float64

    @property
    def is_wet(self) -> bool:
        """True where the last coat is still wet."""
        return self.milk_per_um > 0.0

    def matrix(self) -> NDArray[Any]:
        """Weights ``(36, 3)`` from seen reflectance to XYZ adapted to D65, white Y = 1."""
        return colorimetry.adapted_matrix(self.light, self.observer, self.dtype)


def look_of(
    project: Project,
    viewing: Viewing | None = None,
    dtype: type[np.floating[Any]] = np.float64,
) -> Look:
    """The look of a viewing, the project's own where none is given.

    Raises:
        UnknownNameError: Where neither the program nor the project has a light of that name.
    """
    view = project.viewing if viewing is None else viewing
    surface = optics.GLOSS if view.wet else SURFACES[view.finish]
    milk = view.milk_per_um if view.wet else 0.0
    return Look(surface, _light(project, view.light), view.observer, milk, dtype)


def _light(project: Project, name: str) -> str | SpectralLight:
    known = colorimetry.light_names()
    if name in known:
        return name
    for light in project.lights:
        if light.name == name:
            return SpectralLight(
                name=light.name, wavelengths_nm=light.wavelengths_nm, power=light.power
            )
    names = [*known, *(light.name for light in project.lights)]
    raise UnknownNameError("light", name, names, where="viewing")
