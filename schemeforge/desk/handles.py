"""The handles of a coat in the cutaway: where they stand, and what moving one means."""

from dataclasses import dataclass, replace
from enum import StrEnum

import numpy as np

from schemeforge.desk.cutaway import CUT_POINTS, Band, CutScale
from schemeforge.desk.state import Direction
from schemeforge.scheme import (
    AlongProfile,
    Coat,
    Placement,
    ReliefKind,
    ReliefProfile,
    Spray,
)
from schemeforge.scheme.placement import curve_mean

_LEAST_SPAN = 0.02
_MOST_FILM = 50.0
_BESIDE = 0.1


class HandleKind(StrEnum):
    """What a handle changes."""

    WEIGHT = "how heavy"
    POOL = "how deep the pool"
    POOL_REACH = "how far the pool reaches"
    CATCH = "how much the edges catch"
    CATCH_REACH = "how far from the edge it catches"
    CURVE_POINT = "a point of the curve"
    START = "where it begins"
    FEATHER_START = "where it is full after the beginning"
    FEATHER_END = "where it starts to fade"
    END = "where it ends"


@dataclass(frozen=True, slots=True)
class Handle:
    """A handle of the picked coat.

    Args:
        kind: What it changes.
        at: Its place along the cut, 0 to 1.
        index: Which point of a free curve, else 0.
    """

    kind: HandleKind
    at: float
    index: int = 0

    @property
    def is_level(self) -> bool:
        """True where it moves sideways, False where it moves up and down."""
        return self.kind in _LEVEL


_LEVEL = {
    HandleKind.POOL_REACH,
    HandleKind.CATCH_REACH,
    HandleKind.START,
    HandleKind.FEATHER_START,
    HandleKind.FEATHER_END,
    HandleKind.END,
}


def handles_of(band: Band, direction: Direction) -> tuple[Handle, ...]:
    """The handles of a band in a cut; none for the primer."""
    layer = band.step.layer
    if isinstance(layer, Spray):
        at = 1.0 if direction is Direction.RELIEF else 0.5
        return (Handle(HandleKind.WEIGHT, at),)
    if not isinstance(layer, Coat):
        return ()
    if direction is Direction.ALONG:
        return _along_handles(layer.placement.along)
    return _relief_handles(layer.placement.relief)


def _along_handles(along: AlongProfile) -> tuple[Handle, ...]:
    middle = (along.start + along.feather_start + along.end - along.feather_end) / 2.0
    return (
        Handle(HandleKind.START, along.start),
        Handle(HandleKind.FEATHER_START, along.start + along.feather_start),
        Handle(HandleKind.WEIGHT, middle),
        Handle(HandleKind.FEATHER_END, along.end - along.feather_end),
        Handle(HandleKind.END, along.end),
    )


def _relief_handles(relief: ReliefProfile) -> tuple[Handle, ...]:
    if relief.kind is ReliefKind.CURVE:
        return tuple(
            Handle(HandleKind.CURVE_POINT, point[0], index)
            for index, point in enumerate(relief.points)
        )
    if relief.kind is ReliefKind.POOLS:
        return (
            Handle(HandleKind.POOL, 0.0),
            Handle(HandleKind.POOL_REACH, relief.reach),
            Handle(HandleKind.WEIGHT, 1.0 - _mean_distance(relief.reach)),
        )
    if relief.kind is ReliefKind.CATCHES:
        return (
            Handle(HandleKind.WEIGHT, _mean_distance(relief.reach)),
            Handle(HandleKind.CATCH_REACH, 1.0 - relief.reach),
            Handle(HandleKind.CATCH, 1.0),
        )
    return (
        Handle(HandleKind.POOL, 0.0),
        Handle(HandleKind.WEIGHT, 0.5),
        Handle(HandleKind.CATCH, 1.0),
    )


def _mean_distance(reach: float) -> float:
    """How far from a pool's far end the film is its mean, for any depth; clear of its reach.

    There the weight is held: elsewhere a deep pool may leave no film to take hold of.
    """
    n = 1.0 / min(reach, 0.99)
    distance = float(n ** (-1.0 / (n - 1.0)))
    beside = 1.0 - reach - distance
    return distance if abs(beside) > _BESIDE else 1.0 - reach - _BESIDE


def place_index(at: float) -> int:
    """The point of the cut nearest to a place, 0 to 1."""
    return min(max(round(at * (CUT_POINTS - 1)), 0), CUT_POINTS - 1)


def moved(
    coat: Coat, band: Band, handle: Handle, scale: CutScale, at: float, height: float
) -> Placement:
    """The placement after a handle (other than weight) was moved.

    Args:
        coat: The coat.
        band: As it is drawn.
        handle: The handle held.
        scale: How it is drawn.
        at: Where it was moved to along the cut, 0 to 1, clipped.
        height: The band's wanted height there, pixels.
    """
    at = min(max(at, 0.0), 1.0)
    if handle.kind in {
        HandleKind.START,
        HandleKind.FEATHER_START,
        HandleKind.FEATHER_END,
        HandleKind.END,
    }:
        return replace(coat.placement, along=moved_along(coat.placement.along, handle.kind, at))
    ratio = _over_mean(coat, band, scale, height)
    relief = moved_relief(coat.placement.relief, handle, at, ratio)
    return replace(coat.placement, relief=relief)


def moved_along(along: AlongProfile, kind: HandleKind, at: float) -> AlongProfile:
    """The profile with one of its four ends at another place; the others give way."""
    start, end = along.start, along.end
    full, fade = start + along.feather_start, end - along.feather_end
    if kind is HandleKind.START:
        start = max(min(at, end - _LEAST_SPAN), 0.0)
        full, fade = max(full, start), max(fade, start)
    elif kind is HandleKind.FEATHER_START:
        full = min(max(at, start), end)
        fade = max(fade, full)
    elif kind is HandleKind.FEATHER_END:
        fade = min(max(at, start), end)
        full = min(full, fade)
    else:
        end = min(max(at, start + _LEAST_SPAN), 1.0)
        fade, full = min(fade, end), min(full, end)
    return AlongProfile(
        start=start, end=end, feather_start=max(full - start, 0.0), feather_end=max(end - fade, 0.0)
    )


def moved_relief(
    relief: ReliefProfile, handle: Handle, at: float, over_mean: float
) -> ReliefProfile:
    """The profile with a pool, a catch or a curve point moved.

    ``over_mean`` is the film wanted at the handle relative to the coat's mean.
    """
    kind = handle.kind
    if kind is HandleKind.CURVE_POINT:
        return _moved_point(relief, handle.index, at, over_mean)
    if kind is HandleKind.POOL_REACH:
        return replace(relief, reach=float(np.clip(at, 0.05, 0.95)))
    if kind is HandleKind.CATCH_REACH:
        return replace(relief, reach=float(np.clip(1.0 - at, 0.05, 0.95)))
    wanted = ReliefKind.POOLS if kind is HandleKind.POOL else ReliefKind.CATCHES
    reach = min(relief.reach, 0.95 if relief.kind is wanted else 0.6)
    n = 1.0 / reach
    depth = float(np.clip((over_mean - 1.0) / (n - 1.0), 0.0, 1.0))
    if depth == 0.0:
        return replace(relief, kind=ReliefKind.EVEN)
    return replace(relief, kind=wanted, depth=depth, reach=reach)


def as_curve(relief: ReliefProfile) -> ReliefProfile:
    """The same profile as a free curve of five points, to be shaped by hand."""
    if relief.kind is ReliefKind.CURVE:
        return relief
    at = np.linspace(0.0, 1.0, 5)
    film = relief.film(at)
    points = tuple((float(x), round(float(y), 4)) for x, y in zip(at, film, strict=True))
    return replace(relief, kind=ReliefKind.CURVE, points=points)


def _moved_point(relief: ReliefProfile, index: int, at: float, over_mean: float) -> ReliefProfile:
    points = list(relief.points)
    low = points[index - 1][0] + 0.01 if index > 0 else 0.0
    high = points[index + 1][0] - 0.01 if index + 1 < len(points) else 1.0
    x = points[index][0] if high < low else min(max(at, low), high)
    # The curve is divided by its mean when used, and that mean goes with the point's own film
    # y: mean = others + share * y. The film wanted is y / mean.
    points[index] = (x, 0.0)
    others = curve_mean(tuple(points))
    points[index] = (x, 1.0)
    share = curve_mean(tuple(points)) - others
    if others <= 0.0:  # the only point with film: any film of its own means the same
        return replace(relief, points=tuple(points))
    rest = 1.0 - over_mean * share
    film = over_mean * others / rest if rest > 0.0 else _MOST_FILM
    points[index] = (x, float(np.clip(film, 0.0, _MOST_FILM)))
    return replace(relief, points=tuple(points))


def _over_mean(coat: Coat, band: Band, scale: CutScale, height: float) -> float:
    """Film that the height stands for, relative to the mean over relief of the coat at this cut."""
    film = coat.placement.relief.film(np.linspace(0.0, 1.0, CUT_POINTS))
    thickest = int(np.argmax(film))
    mean_dry = float(band.dry_um[thickest] / film[thickest])
    return scale.dry_um(height) / max(mean_dry, 1e-9)
