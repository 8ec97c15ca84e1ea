"""Tables of a scheme's colours, and reading them at the spots of a picture.

Nodes hold linear light bent as the eye bends it, so that straight lines between colours look
straight; they are read by tetrahedral interpolation, four nodes a spot instead of eight.
"""

from dataclasses import dataclass
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


@dataclass(frozen=True, slots=True, eq=False)
class ZoneTable:
    """Colours of one zone at its nodes.

    Args:
        axes: Where the nodes are.
        bent: Linear sRGB, bent, ``(3, nodes)``, float32.
        fits: True where the display can show all of them.
    """

    axes: Axes
    bent: Floats
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
    return ZoneTable(axes, bent(linear), fits)


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
    """Which nodes each spot of a zone lies between, and their weights.

    Args:
        nodes: Four rows of nodes, ``(4, n)``.
        weights: Their shares, summing to 1, ``(4, n)``, float32.
    """

    nodes: NDArray[np.intp]
    weights: Floats

    @property
    def nbytes(self) -> int:
        """Memory that it takes."""
        return self.nodes.nbytes + self.weights.nbytes

    def linear(self, table: ZoneTable, out: Floats) -> None:
        """Linear sRGB of the spots, written into ``out``, ``(3, n)``."""
        count = out.shape[1]
        term = np.empty(count, np.float32)
        for channel, nodes_bent in enumerate(table.bent):
            row = out[channel]
            np.take(nodes_bent, self.nodes[0], out=row, mode="clip")
            row *= self.weights[0]
            for nodes, weights in zip(self.nodes[1:], self.weights[1:], strict=True):
                np.take(nodes_bent, nodes, out=term, mode="clip")
                term *= weights
                row += term
            np.abs(row, out=term)  # straightens again: x = y (|y| + 2 foot)
            term += np.float32(2.0 * _FOOT)
            row *= term
        if not table.fits:
            soften(out)


def reading_of(axes: Axes, levels: NDArray[np.uint8]) -> Reading:
    """How spots whose tone, relief and along are those levels, ``(3, n)``, read such a table."""
    strides = (axes.shape[1] * axes.shape[2], axes.shape[2], 1)
    base = np.zeros(levels.shape[1], np.int32)
    shares, steps = [], []
    for axis, stride, row in zip(axes, strides, levels, strict=True):
        if len(axis) == 1:
            continue
        lower, share = _between(axis)
        base += (lower * stride).astype(np.int32).take(row)
        shares.append(share.take(row))
        steps.append(stride)
    return Reading(*_corners(base, shares, steps))


def _between(axis: tuple[int, ...]) -> tuple[NDArray[np.int32], Floats]:
    """For each level the node below it and the share of the way to the next one."""
    nodes = np.array(axis)
    level = np.arange(LEVELS)
    lower = np.clip(np.searchsorted(nodes, level, side="right") - 1, 0, len(nodes) - 2)
    share = (level - nodes[lower]) / (nodes[lower + 1] - nodes[lower])
    return lower.astype(np.int32), share.astype(np.float32)


def _corners(
    base: NDArray[np.int32], shares: list[Floats], steps: list[int]
) -> tuple[NDArray[np.intp], Floats]:
    """Nodes and weights of the simplex around each spot: steps in order of falling share."""
    count = len(base)
    nodes = np.empty((4, count), np.intp)
    weights = np.zeros((4, count), np.float32)
    order = [
        (share, np.full(count, step, np.int32)) for share, step in zip(shares, steps, strict=True)
    ]
    for last in range(len(order) - 1, 0, -1):  # sorts at most three
        for n in range(last):
            (a, s), (b, t) = order[n], order[n + 1]
            swap = b > a
            order[n] = (np.where(swap, b, a), np.where(swap, t, s))
            order[n + 1] = (np.where(swap, a, b), np.where(swap, s, t))
    nodes[0] = base
    above = np.ones(count, np.float32)
    for n, (share, step) in enumerate(order):
        weights[n] = above - share
        nodes[n + 1] = nodes[n] + step
        above = share
    weights[len(order)] = above
    nodes[len(order) + 1 :] = base
    return nodes, weights
