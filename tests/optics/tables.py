"""Reads the tables of check values and makes the strategies that several tests share."""

import csv

import numpy as np
from hypothesis import strategies as st
from hypothesis.extra import numpy as hnp
from numpy.typing import NDArray

from schemeforge.resources import shared

# From no film to depths that no paint has, the exact zeros and the far ends included.
depths = st.one_of(
    st.sampled_from([0.0, 1e-300, 1e-12, 1e-3, 1.0, 100.0, 1e6]),
    st.floats(0, 1e6),
    st.floats(0, 10),
)
shares = st.floats(0, 1)
spectra = hnp.arrays(np.float64, 4, elements=depths)
grounds = hnp.arrays(np.float64, 4, elements=shares)


def rows(name: str) -> list[dict[str, str]]:
    """The rows of a table, each a mapping of column to text."""
    with shared("checks", name).open(encoding="utf-8", newline="") as file:
        return [row for row in csv.DictReader(file) if any(row.values())]


def column(table: list[dict[str, str]], name: str) -> NDArray[np.float64]:
    """One column as numbers."""
    return np.array([float(row[name]) for row in table])


def half_digit(text: str) -> float:
    """Half a unit in the last digit that a table prints: what rounding may have moved it by."""
    mantissa, _, exponent = text.lower().partition("e")
    decimals = len(mantissa.partition(".")[2])
    return float(0.5 * 10.0 ** (-decimals + int(exponent or 0)))
