"""Where a coat goes: a profile over relief, scaled to mean 1, times a profile along the part."""

import itertools
from dataclasses import dataclass, field
from enum import StrEnum

import numpy as np
from numpy.typing import NDArray

from schemeforge import checks
from schemeforge.errors import InputError

_MOST_POINTS = 32


class ReliefKind(StrEnum):
    """The shape of a coat over relief, recess to raised edge."""

    EVEN = "even"
    POOLS = "pools in recesses"
    CATCHES = "catches raised edges"
    CURVE = "free curve"


@dataclass(frozen=True, slots=True, kw_only=True)
class ReliefProfile:
    """How the film varies from recess (0) to raised edge (1), with mean 1.

    A pool is ``1 - depth + depth n (1 - r)^(n - 1)`` with n = 1 / reach, whose mean over r is 1
    by construction; a catch is its mirror image. A free curve is piecewise linear through its
    points, held flat outside them and divided by its mean.

    Args:
        kind: Even, pools in recesses, catches raised edges, or a free curve.
        depth: Share of the film that pools or catches, 0 (even) to 1 (all of it).
        reach: How far the pool or catch spreads over relief, 0.05 (a line) to 1 (even).
        points: ``(relief, film)`` pairs of a free curve, relief rising, film 0 or more.
    """

    kind: ReliefKind = ReliefKind.EVEN
    depth: float = 0.6
    reach: float = 0.35
    points: tuple[tuple[float, float], ...] = ()

    def __post_init__(self) -> None:
        checks.number(self.depth, "Pool depth", low=0.0, high=1.0)
        checks.number(self.reach, "Pool reach", low=0.05, high=1.0)
        if self.kind is ReliefKind.CURVE:
            _check_curve(self.points)

    def film(self, relief: NDArray[np.float64]) -> NDArray[np.float64]:
        """Film relative to its mean at the given relief (0 to 1), same shape."""
        relief = np.asarray(relief, dtype=np.float64)
        if self.kind is ReliefKind.EVEN:
            return np.ones_like(relief)
        if self.kind is ReliefKind.CURVE:
            at = [point[0] for point in self.points]
            height = [point[1] for point in self.points]
            curve: NDArray[np.float64] = np.interp(relief, at, height) / curve_mean(self.points)
            return curve
        distance = 1.0 - relief if self.kind is ReliefKind.POOLS else relief
        n = 1.0 / self.reach
        return 1.0 - self.depth + self.depth * n * distance ** (n - 1.0)


def _check_curve(points: tuple[tuple[float, float], ...]) -> None:
    if not 2 <= len(points) <= _MOST_POINTS:
        raise InputError(
            f"The free curve has {len(points)} points", remedy=f"give 2 to {_MOST_POINTS}"
        )
    for relief, film in points:
        checks.number(relief, "Relief of a curve point", low=0.0, high=1.0)
        checks.number(film, "Film of a curve point", low=0.0, high=100.0)
    if any(b[0] <= a[0] for a, b in itertools.pairwise(points)):
        raise InputError("The free curve's points do not rise in relief", remedy="sort them")
    if curve_mean(points) <= 0.0:
        raise InputError("The free curve lays no film anywhere", remedy="raise one point")


def curve_mean(points: tuple[tuple[float, float], ...]) -> float:
    """Mean over relief 0 to 1 of the piecewise linear curve, flat outside its points."""
    padded = ((0.0, points[0][1]), *points, (1.0, points[-1][1]))
    return sum(0.5 * (b[1] + a[1]) * (b[0] - a[0]) for a, b in itertools.pairwise(padded))


@dataclass(frozen=True, slots=True, kw_only=True)
class AlongProfile:
    """Where along the part (root 0 to tip 1) a coat lies: from here to there, ends feathered.

    Args:
        start: Where the coat begins, 0 to 1.
        end: Where it ends, above start, at most 1.
        feather_start: Length over which it fades in after start, 0 for a hard edge.
        feather_end: Length over which it fades out before end. The two fit between the ends.
    """

    start: float = 0.0
    end: float = 1.0
    feather_start: float = 0.0
    feather_end: float = 0.0

    def __post_init__(self) -> None:
        checks.number(self.start, "Start along the part", low=0.0, high=1.0)
        checks.number(self.end, "End along the part", low=0.0, high=1.0)
        checks.number(self.feather_start, "Feather at the start", low=0.0, high=1.0)
        checks.number(self.feather_end, "Feather at the end", low=0.0, high=1.0)
        length = self.end - self.start
        if length <= 0.0:
            raise InputError("The coat ends before it starts along the part", remedy="swap them")
        if self.feather_start + self.feather_end > length + 1e-9:
            raise InputError(
                "The feathered ends are longer than the coat",
                remedy="shorten a feather or lengthen the coat",
            )

    @property
    def is_even(self) -> bool:
        """True where the coat covers the whole part without feathering."""
        return (self.start, self.end, self.feather_start, self.feather_end) == (0.0, 1.0, 0.0, 0.0)

    @property
    def mean(self) -> float:
        """Mean of the profile over the part, 0 to 1."""
        return self.end - self.start - 0.5 * (self.feather_start + self.feather_end)

    def share(self, along: NDArray[np.float64]) -> NDArray[np.float64]:
        """Share of the full film at the given places (0 to 1), same shape, 0 to 1."""
        along = np.asarray(along, dtype=np.float64)
        if self.is_even:
            return np.ones_like(along)
        rise = _ramp(along - self.start, self.feather_start)
        fall = _ramp(self.end - along, self.feather_end)
        return rise * fall


def _ramp(distance: NDArray[np.float64], feather: float) -> NDArray[np.float64]:
    """0 before the edge, 1 past the feather, a smooth step (mean one half) in between."""
    if feather == 0.0:
        return (distance >= 0.0).astype(np.float64)
    t = np.clip(distance, 0.0, feather) / feather  # clipped first: a tiny feather overflows
    smooth: NDArray[np.float64] = t * t * (3.0 - 2.0 * t)
    return smooth


@dataclass(frozen=True, slots=True, kw_only=True)
class Placement:
    """Where a coat goes: over relief and along the part."""

    relief: ReliefProfile = field(default_factory=ReliefProfile)
    along: AlongProfile = field(default_factory=AlongProfile)
