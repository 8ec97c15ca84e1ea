"""Shapes that the absorption of paints takes over the bands, learned beforehand.

They are Gaussians fitted by expectation and maximisation [Dempster1977] to spectra that a script
invents from the physics of colourants, and to K/S of the real colour samples of [CIE224].
"""

import json
from dataclasses import dataclass
from functools import lru_cache
from typing import Final

import numpy as np
from numpy.typing import NDArray

from schemeforge.errors import DamagedFileError
from schemeforge.optics import bands
from schemeforge.resources import asset

Floats = NDArray[np.float64]

SHAPES_FILE: Final = "absorption_shapes.json"


@dataclass(frozen=True, slots=True, eq=False, kw_only=True)
class Shape:
    """A Gaussian over log K without its level.

    Args:
        share: How many of all paints it stands for, 0 to 1.
        mean: Expected log K of each band less its level, ``(36,)``.
        rows: Rows F of its covariance F^T F, ``(rank, 36)``.
    """

    share: float
    mean: Floats
    rows: Floats


@lru_cache(maxsize=1)
def absorption_shapes() -> tuple[Shape, ...]:
    """The shapes of ``assets/absorption_shapes.json``, which a script there makes.

    Raises:
        MissingFileError: Where the file is not there.
        DamagedFileError: Where it holds something else.
    """
    path = asset(SHAPES_FILE)
    try:
        entries = json.loads(path.read_text(encoding="utf-8"))["shapes"]
        found = tuple(
            Shape(
                share=float(entry["share"]),
                mean=np.array(entry["mean"], dtype=np.float64).reshape(bands.COUNT),
                rows=np.array(entry["rows"], dtype=np.float64).reshape(-1, bands.COUNT),
            )
            for entry in entries
        )
    except (ValueError, KeyError, TypeError) as error:
        raise DamagedFileError(
            "A file that belongs to the program is damaged",
            where=str(path),
            remedy="install the program again",
        ) from error
    for shape in found:
        shape.mean.setflags(write=False)
        shape.rows.setflags(write=False)
    return found
