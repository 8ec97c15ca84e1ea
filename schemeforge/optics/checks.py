"""Checks of what is handed in: the sentence names the argument and the band."""

from typing import Any

import numpy as np
from numpy.typing import ArrayLike, NDArray

from schemeforge.errors import InputError, ReadingError
from schemeforge.optics import bands

Floats = NDArray[Any]
"""An array of float64 or float32: functions keep the precision that they are given."""

_FLOAT32 = np.dtype(np.float32)


def floats(*values: ArrayLike) -> tuple[Floats, ...]:
    """The values as arrays of one float type: float32 if all are, float64 otherwise.

    A Python number takes no part in the choice, so that it never widens an array.

    Raises:
        InputError: Where a value is not a number or an array of numbers.
    """
    try:
        arrays = [np.asarray(value) for value in values]
    except ValueError as error:
        raise InputError(f"An array of numbers was expected ({error})") from None
    if any(array.dtype.kind not in "fiub" for array in arrays):
        raise InputError("Numbers were expected", remedy="hand over arrays of numbers")
    narrow = _FLOAT32 in [array.dtype for array in arrays] and all(
        array.dtype == _FLOAT32 or isinstance(value, int | float)
        for value, array in zip(values, arrays, strict=True)
    )
    return tuple(array.astype(np.float32 if narrow else np.float64, copy=False) for array in arrays)


def band_name(index: int, count: int) -> str:
    """How a band is named to the user: its wavelength on the standard set, else its number."""
    if count == bands.COUNT:
        return f"the {bands.FIRST_NM + index * bands.STEP_NM} nm band"
    return f"band {index + 1} of {count}"


def place(bad: NDArray[np.bool_], name: str) -> str:
    """Argument name and band of the first offender in ``bad``, shape ``(..., bands)``."""
    if bad.ndim == 0 or bad.shape[-1] == 1:
        return name
    first = np.unravel_index(int(np.argmax(bad)), bad.shape)
    return f"{name}, {band_name(int(first[-1]), bad.shape[-1])}"


def require(good: NDArray[np.bool_] | np.bool_, name: str, what: str, remedy: str) -> None:
    """Raises an InputError naming argument and band unless every element is good."""
    if not np.all(good):
        raise InputError(what, where=place(~np.asarray(good), name), remedy=remedy)


def require_reading(good: NDArray[np.bool_], name: str, what: str, remedy: str) -> None:
    """As `require`, for readings of an instrument: raises a ReadingError."""
    if not np.all(good):
        raise ReadingError(what, where=place(~good, name), remedy=remedy)


def require_amount(values: Floats, name: str) -> None:
    """Raises unless every value is finite and zero or more."""
    # min and max say at once whether all is well: NaN fails both comparisons.
    if values.size and not (values.min() >= 0 and values.max() < np.inf):
        good = np.isfinite(values) & (values >= 0)
        require(good, name, "The value must be a number of zero or more", "correct that value")


def require_share(values: Floats, name: str) -> None:
    """Raises unless every value lies between 0 and 1."""
    if values.size and not (values.min() >= 0 and values.max() <= 1):
        good = (values >= 0) & (values <= 1)
        require(good, name, "The value must lie between 0 and 1", "correct that value")


def require_broadcast(named: dict[str, Floats]) -> None:
    """Raises unless the shapes of the named arrays broadcast against one another."""
    try:
        np.broadcast_shapes(*(array.shape for array in named.values()))
    except ValueError:
        shapes = ", ".join(f"{name} {array.shape}" for name, array in named.items())
        raise InputError(
            f"The shapes do not fit one another: {shapes}",
            remedy="give them the same number of bands",
        ) from None
