"""Turns what a caller hands over into float arrays, or says what is wrong with it."""

import math
from typing import Any, TypeAlias

import numpy as np
from numpy.typing import ArrayLike, NDArray

from schemeforge.errors import InputError

FloatArray: TypeAlias = NDArray[np.floating[Any]]


def floats(values: ArrayLike, last: int, what: str) -> FloatArray:
    """The values as an array of shape ``(..., last)``: float32 stays float32, the rest float64.

    Raises:
        InputError: where the values are not real numbers, or the last axis has another length.
    """
    try:
        array = np.asarray(values)
        if array.dtype != np.float32:
            array = array.astype(np.float64, copy=False)
    except (TypeError, ValueError) as error:
        raise InputError(f"The {what} is not an array of numbers", remedy="give numbers") from error
    if array.ndim == 0 or array.shape[-1] != last:
        raise InputError(
            f"The {what} has the shape {array.shape}",
            remedy=f"give an array whose last axis holds {last} numbers",
        )
    return array


def finite(values: ArrayLike, last: int, what: str) -> FloatArray:
    """As `floats`, and every number is finite.

    Raises:
        InputError: as `floats`, and where a number is NaN or infinite.
    """
    array = floats(values, last, what)
    with np.errstate(invalid="ignore", over="ignore"):
        total = float(array.sum())
    # The sum is a quick sieve: only where it fails need every number be looked at.
    if not math.isfinite(total) and not np.isfinite(array).all():
        place = np.argwhere(~np.isfinite(array))[0]
        raise InputError(
            f"The {what} holds {array[tuple(place)]} at position {tuple(int(i) for i in place)}",
            remedy="give finite numbers",
        )
    return array
