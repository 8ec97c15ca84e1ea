"""Where the spots of a picture lie on their parts: relief, along, and the surface's direction."""

from typing import Any, Final

import numpy as np
from numpy.typing import NDArray

from schemeforge.stand_in.fields import Floats
from schemeforge.stand_in.patterns import Detail
from schemeforge.stand_in.solid import Solid, by_part

# How far from the surface its form is felt for edges and recesses, mm: small ones and large.
_FINE_MM: Final = 0.22
_WIDE_MM: Final = 0.9


def detail_of(solid: Solid, part: NDArray[np.int8], P: Floats) -> tuple[Detail, Floats]:
    """Height and place of the parts' own detail, and how much of relief it says, ``(n,)`` each."""
    height, along, carved = (np.zeros(P.shape[1], np.float32) for _ in range(3))
    for n, some in enumerate(by_part(part, len(solid.parts))):
        if len(some):
            made = solid.parts[n].detail(P[:, some])
            height[some], along[some] = made.height, made.along
            carved[some] = solid.parts[n].carved
    return Detail(height, np.clip(along, 0.0, 1.0)), carved


def relief_of(solid: Solid, P: Floats, normal: Floats, height: Floats, carved: Floats) -> Floats:
    """Recess (0) to raised edge (1): the detail's height, raised on edges, sunk in recesses.

    The form is felt by how fast distances grow outside (slower in a recess) and shrink inside
    (slower under an edge).
    """
    edge, dent = np.zeros_like(height), np.zeros_like(height)
    for reach, share in ((_FINE_MM, 0.5), (_WIDE_MM, 0.5)):
        h = np.float32(reach)
        dent += share * np.clip(1.0 - solid.distance(P + h * normal) / h, 0.0, 1.0)
        edge += share * np.clip(1.0 + solid.distance(P - h * normal) / h, 0.0, 1.0)
    form = np.clip(0.5 + 0.9 * edge - 0.9 * dent, 0.0, 1.0)
    relief: Any = carved * height + (1.0 - carved) * form
    relief = relief * (1.0 - 0.85 * np.clip(1.4 * dent - 0.12, 0.0, 1.0))
    relief = 1.0 - (1.0 - relief) * (1.0 - 0.7 * np.clip(1.5 * edge - 0.15, 0.0, 1.0))
    return np.asarray(np.clip(relief, 0.0, 1.0), dtype=np.float32)
