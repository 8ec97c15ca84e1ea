"""Local models of how colour follows the amounts of paint, for thousands of sets at once.

The unknowns are logarithms of the deposits, in which colour runs straightest. From the best of a
few points of its lattice each set goes down to its own least difference by damped Gauss-Newton
steps; what is left is a quadratic form of CIEDE2000 squared around that place, which tells for
every point of the lattice about how far it is from the target at the cost of ten products.
"""

from typing import Any, NamedTuple

import numpy as np
from numpy.typing import NDArray

from schemeforge import colorimetry
from schemeforge.recipe.kernel import Kernel
from schemeforge.recipe.metric import Gap, ramp_difference
from schemeforge.recipe.space import Space

Floats = NDArray[Any]

# Forward differences over so much of a logarithm: the slope over the next tenth, as it is used.
_STEP = 0.1
# A step of Gauss-Newton at most, and how much it is damped, of the form's own diagonal.
_LONGEST = 1.0
_DAMPING = 0.02
_LEAST = 1e-3
# The farther off the colour, the less far from its place a model holds: a form that bends up by
# this share of its cost over one unit of a logarithm.
_DISTRUST = 0.1


class Model(NamedTuple):
    """Quadratic forms around the place of each set: ``cost + 2 slope d + d curvature d``.

    Args:
        at: Logarithms of the deposits, ``(slots, sets)``.
        cost: Mean over the tones of CIEDE2000 squared, about, ``(sets,)``.
        slope: ``(slots, sets)``.
        curvature: ``(slots, slots, sets)``.
    """

    at: Floats
    cost: Floats
    slope: Floats
    curvature: Floats

    def coefficients(self) -> Floats:
        """The forms as sums over `features`, ``(sets, features)``."""
        slots = len(self.at)
        bent = (self.curvature * self.at).sum(axis=1)
        constant = self.cost - 2 * (self.slope * self.at).sum(axis=0) + (bent * self.at).sum(axis=0)
        linear = [2 * (self.slope[i] - bent[i]) for i in range(slots)]
        square = [
            self.curvature[i, j] * (1 if i == j else 2)
            for i in range(slots)
            for j in range(i, slots)
        ]
        return np.stack([constant, *linear, *square], axis=1)


def features(logs: Floats) -> Floats:
    """1, x and x x of the points' logarithms ``(points, slots)``, ``(features, points)``."""
    x = logs.T
    slots = len(x)
    square = [x[i] * x[j] for i in range(slots) for j in range(i, slots)]
    return np.stack([np.ones_like(x[0]), *x, *square])


class Sieve:
    """Models of the sets of one space.

    Args:
        kernel: Colours, of few bands and in float32 for speed.
        target: CIELAB, ``(tones, 3)``.
        space: The space.
        starts: How many places of thin and of thick films to start from, each; where 0 as many
            as it takes to surround the middle.
    """

    def __init__(self, kernel: Kernel, target: Floats, space: Space, starts: int = 0) -> None:
        self._kernel = kernel
        self._target = target.astype(kernel.dtype)
        logs = np.log(space.deposits).astype(kernel.dtype)
        self.features = features(logs)
        # The same colour may be had from a thin film and, mixed otherwise, from a thick one.
        film = space.deposits.sum(axis=1)
        order = np.argsort(film, kind="stable")
        middle = len(order) // 2
        count = starts or 2 + logs.shape[1]
        self.starts = np.stack(
            [
                np.resize(logs[half[spread_out(logs[half], count)]], (count, logs.shape[1]))
                for half in (order[: max(middle, 1)], order[middle:])
            ]
        )
        self._low = logs.min(axis=0)[:, np.newaxis]
        self._high = logs.max(axis=0)[:, np.newaxis]
        self._layers = [
            [n for n, layer in enumerate(space.slots) if layer == own]
            for own in range(len(space.counts))
        ]
        self._most = [
            float(np.log(space.deposits[:, slots].sum(axis=1).max())) for slots in self._layers
        ]

    def start(self, sets: NDArray[np.int16]) -> tuple[Floats, NDArray[np.uint8]]:
        """Least cost of each set over thin and over thick starts, and which of them has it.

        Both ``(2, sets)``; the starts are numbered through.
        """
        places = self.starts.reshape(-1, len(sets))
        lab = self._lab(sets, np.exp(places)[..., np.newaxis])
        cost = ramp_difference(lab, self._target).reshape(*self.starts.shape[:2], -1)
        best = cost.argmin(axis=1)
        least = np.take_along_axis(cost, best[:, np.newaxis], axis=1)[:, 0]
        best += np.array([[0], [self.starts.shape[1]]])
        return least, best.astype(np.uint8)

    def settle(self, sets: NDArray[np.int16], logs: Floats, rounds: int) -> Model:
        """The models of the sets at the best place that was found from ``logs``."""
        best = self.model(sets, logs)
        last = best
        for _ in range(rounds):
            last = self.model(sets, self._next(last))
            better = last.cost < best.cost
            best = Model(*(np.where(better, new, old) for new, old in zip(last, best, strict=True)))
        return best

    def model(self, sets: NDArray[np.int16], logs: Floats) -> Model:
        """The models of the sets at just these places, ``(slots, sets)``."""
        slots = len(logs)
        shift = np.concatenate((np.zeros((1, slots)), _STEP * np.eye(slots)))
        points = logs + shift.astype(logs.dtype)[..., np.newaxis]
        lab = self._lab(sets, np.exp(points))
        here = Gap(lab[0], self._target)
        gap = here.value
        slopes = here.change(lab[1:] - lab[:1])
        slopes /= _STEP
        tones = len(self._target)
        curvature = np.empty((slots, slots, logs.shape[1]), logs.dtype)
        for i in range(slots):
            for j in range(i, slots):
                curvature[i, j] = (slopes[i] * slopes[j]).sum(axis=(0, 1)) / tones
                curvature[j, i] = curvature[i, j]
        slope = (slopes * gap).sum(axis=(1, 2)) / tones
        cost = (gap * gap).sum(axis=(0, 1)) / tones
        for i in range(slots):
            curvature[i, i] += _DISTRUST * cost
        return Model(logs, cost, slope, curvature)

    def _next(self, model: Model) -> Floats:
        """Where a damped step within the bounds leads."""
        outward = ((model.at <= self._low) & (model.slope > 0)) | (
            (model.at >= self._high) & (model.slope < 0)
        )
        slope = np.where(outward, 0, model.slope)
        H = np.where(outward[:, np.newaxis] | outward[np.newaxis], 0, model.curvature)
        for i in range(len(H)):
            H[i, i] = np.where(outward[i], 1, H[i, i] * (1 + _DAMPING) + _LEAST)
        step = np.clip(solved(H, slope), -_LONGEST, _LONGEST)
        at = np.clip(model.at - step, self._low, self._high)
        for slots, most in zip(self._layers, self._most, strict=True):
            over = np.log(np.exp(at[slots]).sum(axis=0)) - most
            at[slots] -= np.maximum(over, 0)
        stepped: Floats = at
        return stepped

    def _lab(self, sets: NDArray[np.int16], deposits: Floats) -> Floats:
        lab: Floats = colorimetry.lab_from_xyz(self._kernel.xyz(sets, deposits))
        return lab


def solved(H: Floats, g: Floats) -> Floats:
    """The x that solves H x = g for symmetric positive ``(k, k, n)`` with k of 1 to 3, ``(k, n)``.

    By Cramer's rule: thousands of tiny systems, for which a library call each would cost more.
    """
    if len(H) == 1:
        quotient: Floats = g / H[0]
        return quotient
    if len(H) == 2:
        det = H[0, 0] * H[1, 1] - H[0, 1] * H[0, 1]
        pair = np.stack((H[1, 1] * g[0] - H[0, 1] * g[1], H[0, 0] * g[1] - H[0, 1] * g[0]))
        pair /= det
        return pair
    a, b, c, d, e, f = H[0, 0], H[0, 1], H[0, 2], H[1, 1], H[1, 2], H[2, 2]
    A, B, C = d * f - e * e, c * e - b * f, b * e - c * d
    D, E, F = a * f - c * c, b * c - a * e, a * d - b * b
    det = a * A + b * B + c * C
    three = np.stack(
        (
            A * g[0] + B * g[1] + C * g[2],
            B * g[0] + D * g[1] + E * g[2],
            C * g[0] + E * g[1] + F * g[2],
        )
    )
    three /= det
    return three


def spread_out(points: Floats, count: int) -> NDArray[np.intp]:
    """Indices of some points far from each other: the middle one, then ever the farthest."""
    middle = np.abs(points - points.mean(axis=0)).sum(axis=1).argmin()
    chosen = [int(middle)]
    far = np.full(len(points), np.inf)
    for _ in range(min(count, len(points)) - 1):
        gap = points - points[chosen[-1]]
        far = np.minimum(far, (gap * gap).sum(axis=1))
        chosen.append(int(far.argmax()))
    return np.array(chosen, dtype=np.intp)
