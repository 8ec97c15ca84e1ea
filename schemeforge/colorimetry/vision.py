"""How a colour looks to an eye with a colour-vision deficiency [Machado2009]."""

from functools import lru_cache
from typing import Final

import numpy as np
from numpy.typing import ArrayLike, NDArray

from schemeforge.colorimetry._arrays import finite
from schemeforge.colorimetry.primaries import rgb_matrices
from schemeforge.colorimetry.tables import tables
from schemeforge.errors import InputError, UnknownNameError

# Kinds in the order of the table, with their plain words.
DEFICIENCIES: Final = {
    "protan": "weak or missing red cones",
    "deutan": "weak or missing green cones",
    "tritan": "weak or missing blue cones",
}


def as_seen_with(
    values: ArrayLike, deficiency: str, severity: float = 1.0
) -> NDArray[np.float64] | NDArray[np.float32]:
    """XYZ that look to everyone as the given XYZ look to an eye with the deficiency.

    The simulation is a matrix on linear sRGB, published in eleven steps of severity [Machado2009]
    and read along straight lines between them. Greys stay as they are.

    Args:
        values: XYZ adapted to D65, shape ``(..., 3)``.
        deficiency: "protan", "deutan" or "tritan".
        severity: 0 (normal vision) to 1 (a cone missing).

    Returns:
        XYZ of the same shape and dtype; saturated ones may lie outside the display's gamut.

    Raises:
        UnknownNameError: for another deficiency.
        InputError: for a severity outside 0 to 1, or XYZ that are not.
    """
    array = finite(values, 3, "XYZ")
    if deficiency not in DEFICIENCIES:
        raise UnknownNameError("colour-vision deficiency", deficiency, DEFICIENCIES)
    if not 0 <= severity <= 1:
        raise InputError(f"The severity {severity} is out of range", remedy="give 0 to 1")
    return np.asarray(array @ _matrix(deficiency, float(severity)).astype(array.dtype))


def deficiency_matrix(deficiency: str, severity: float) -> NDArray[np.float64]:
    """The matrix ``(3, 3)`` on linear sRGB columns at a severity of 0 to 1 [Machado2009]."""
    steps = tables().cvd[list(DEFICIENCIES).index(deficiency)]
    place = severity * (len(steps) - 1)
    below = min(int(place), len(steps) - 2)
    share = place - below
    matrix: NDArray[np.float64] = (1 - share) * steps[below] + share * steps[below + 1]
    # The published rows sum to 1 within their last digit; greys are to stay grey exactly.
    return np.asarray(matrix / matrix.sum(axis=1, keepdims=True))


@lru_cache(maxsize=64)
def _matrix(deficiency: str, severity: float) -> NDArray[np.float64]:
    """The same folded with the way to linear sRGB and back, for row vectors of XYZ."""
    there, back = rgb_matrices()
    return np.asarray(there @ deficiency_matrix(deficiency, severity).T @ back)
