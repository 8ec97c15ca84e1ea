"""Tables of a scheme's colours, and reading them at the spots of a picture.

Nodes hold linear light bent as the eye bends it, so that straight lines between colours look
straight; they are read by tetrahedral interpolation, at most four nodes a spot instead of eight.
The three channels of a node lie side by side in one whole number, 13 bits each with room above
for the sum of 256 shares, so that one fetch and one product serve all three.
"""

from dataclasses import dataclass
from functools import lru_cache
from typing import Any, Final

import numpy as np
from numpy.typing import NDArray

from schemeforge import colorimetry
from schemeforge.appearance import zone_lattice
from schemeforge.colorimetry.gamut import TOLERANCE, into_gamut
from schemeforge.scheme import Project, Scheme, Viewing
from schemeforge.stand_in.axes import LEVELS, Axes, axes_of

Floats = NDArray[Any]
_FOOT: Final = 0.1  # the root of linear light below which the bend is more straight than root
# Bent light that nodes can hold: linear light of -0.35 to 1.43, beyond all that paint reflects.
_LOW, _HIGH = -0.5, 1.1
_NODE_BITS, _SHARE_BITS, _FIELD = 13, 8, 21
_SHARES: Final = 2**_SHARE_BITS
_STEP: Final = (_HIGH - _LOW) / (2**_NODE_BITS - 1)
_LAST_BITS: Final = 15  # of a sum, that tell its light


@dataclass(frozen=True, slots=True, eq=False)
class ZoneTable:
    """Colours of one zone at its nodes.

    Args:
        axes: Where the nodes are.
        packed: Bent linear sRGB, the first channel in the lowest bits, ``(nodes,)``.
        fits: True where the display can show all of them.
    """

    axes: Axes
    packed: NDArray[np.int64]
    fits: bool


def zone_table(
    project: Project,
    scheme: Scheme,
    zone_id: str,
    viewing: Viewing | None,
    group_id: str | None,
    steps: int | None,
) -> ZoneTable:
    """The colours of a zone after so many of its coloured steps, all where None."""
    axes = axes_of(project, scheme, zone_id, group_id, steps)
    xyz = zone_lattice(
        project, scheme, zone_id, axes.places, viewing, group_id, steps=steps, dtype=np.float32
    )
    linear = np.ascontiguousarray(colorimetry.linear_rgb_from_xyz(xyz.reshape(-1, 3)).T)
    fits = bool(linear.min() >= -TOLERANCE and linear.max() <= 1 + TOLERANCE)
    return ZoneTable(axes, _packed(linear), fits)


def _packed(linear: Floats) -> NDArray[np.int64]:
    """Linear sRGB ``(3, nodes)`` as nodes hold it."""
    steps = bent(linear)
    steps *= 1.0 / _STEP
    steps += 0.5 - _LOW / _STEP
    np.maximum(steps, 0.0, out=steps)
    np.minimum(steps, 2.0**_NODE_BITS - 0.5, out=steps)
    red, green, blue = steps.astype(np.int64)
    return np.asarray(red | green << _FIELD | blue << 2 * _FIELD)


@lru_cache(maxsize=1)
def _light_of_sums() -> Floats:
    """Linear light by the highest bits of a field that sums 256 shares of nodes."""
    sums = (np.arange(2**_LAST_BITS) + 0.5) * 2.0 ** (_FIELD - _LAST_BITS)
    y = (sums - 0.5) / _SHARES * _STEP + _LOW
    return np.asarray(y * (np.abs(y) + 2.0 * _FOOT), dtype=np.float32)


def bent(linear: Floats) -> Floats:
    """Linear light on the scale of the nodes: near a square root, straight through zero.

    A square root alone is upright at zero, where a strong colour leaves the display's gamut, and
    a straight line between nodes on both sides of it would miss by much.
    """
    size = np.sqrt(np.abs(linear) + np.float32(_FOOT**2)) - np.float32(_FOOT)
    return np.asarray(np.copysign(size, linear))


def soften(linear: Floats) -> None:
    """Softens colours ``(3, n)`` outside the display, in place, until they fit."""
    outside = (linear.min(axis=0) < -TOLERANCE) | (linear.max(axis=0) > 1 + TOLERANCE)
    found = np.flatnonzero(outside)
    if len(found):
        linear[:, found] = into_gamut(np.ascontiguousarray(linear[:, found].T)).T


@dataclass(frozen=True, slots=True, eq=False)
class Reading:
    """Which nodes each spot of a zone lies between, and their shares.

    Args:
        nodes: Rows of nodes, one more than there are axes with several, ``(1 to 4, n)``.
        shares: Their shares in 256ths, summing to 256, of the same shape.
    """

    nodes: NDArray[np.intp]
    shares: NDArray[np.int64]

    @property
    def nbytes(self) -> int:
        """Memory that it takes."""
        return self.nodes.nbytes + self.shares.nbytes

    def linear(self, table: ZoneTable, out: Floats) -> None:
        """Linear sRGB of the spots, written into ``out``, ``(3, n)``."""
        total = table.packed.take(self.nodes[0], mode="clip")
        total *= self.shares[0]
        term = np.empty_like(total)
        for nodes, shares in zip(self.nodes[1:], self.shares[1:], strict=True):
            np.take(table.packed, nodes, out=term, mode="clip")
            term *= shares
            total += term
        light = _light_of_sums()
        for channel, row in enumerate(out):
            np.right_shift(total, channel * _FIELD + _FIELD - _LAST_BITS, out=term)
            term &= 2**_LAST_BITS - 1
            np.take(light, term, out=row, mode="clip")
        if not table.fits:
            soften(out)


def reading_of(axes: Axes, levels: NDArray[np.uint8]) -> Reading:
    """How spots whose tone, relief and along are those levels, ``(3, n)``, read such a table."""
    strides = (axes.shape[1] * axes.shape[2], axes.shape[2], 1)
    base = np.zeros(levels.shape[1], np.intp)
    keys, steps = [], [0, 0, 0]
    for number, (axis, stride, row) in enumerate(zip(axes, strides, levels, strict=True)):
        if len(axis) == 1:
            continue
        lower, share = _between(axis)
        base += (lower * stride).take(row)
        keys.append((share << 2 | number).take(row))
        steps[number] = stride
    return _corners(base, _falling(keys), np.array(steps, np.intp))


def _between(axis: tuple[int, ...]) -> tuple[NDArray[np.intp], NDArray[np.int16]]:
    """For each level the node below it and the share, in 256ths, of the way to the next one."""
    nodes = np.array(axis)
    level = np.arange(LEVELS)
    lower = np.clip(np.searchsorted(nodes, level, side="right") - 1, 0, len(nodes) - 2)
    share = (level - nodes[lower]) / (nodes[lower + 1] - nodes[lower])
    return lower, np.rint(_SHARES * share).astype(np.int16)


def _falling(keys: list[NDArray[np.int16]]) -> list[NDArray[np.int16]]:
    """Up to three rows with the greatest of each column first."""
    if len(keys) < 2:
        return keys
    one, two = keys[:2]
    most, least = np.maximum(one, two), np.minimum(one, two)
    if len(keys) == 2:
        return [most, least]
    three = keys[2]
    middle = np.maximum(least, np.minimum(most, three))
    return [np.maximum(most, three), middle, np.minimum(least, three)]


def _corners(
    base: NDArray[np.intp], keys: list[NDArray[np.int16]], steps: NDArray[np.intp]
) -> Reading:
    """Nodes and shares of the simplex around each spot: steps in order of falling share.

    A key is a share with the number of its axis in the two lowest bits.
    """
    count = len(base)
    nodes = np.empty((len(keys) + 1, count), np.intp)
    weights = np.empty((len(keys) + 1, count), np.int64)
    nodes[0] = base
    above: Any = _SHARES
    for n, key in enumerate(keys):
        share = key >> 2
        np.subtract(above, share, out=weights[n])
        np.add(nodes[n], steps.take(key & 3), out=nodes[n + 1])
        above = share
    weights[-1] = above
    return Reading(nodes, weights)
