"""Coats folded over grounds, for whole arrays at once and without checks: the hot loop.

A stack over a ground Rg reflects over + through Rg/(1 - below Rg): ``over`` and ``below`` are its
reflectances over black from above and from below, ``through`` its transmittance down times that
up. Laying one more film is one line of [Kubelka1954], and the surface [Saunderson1942] is one
more such layer. Every term is positive, so nothing cancels and nothing overflows.

Arrays run fastest along their last axis, so that axis is kept long: all points with all bands of
each, ``(rows, points x 36)``, wherever shapes allow. Any other shapes that broadcast do as well.
"""

from collections.abc import Iterator
from contextlib import contextmanager
from typing import Any, NamedTuple

import numpy as np
from numpy.typing import NDArray

from schemeforge import optics
from schemeforge.appearance.look import Look
from schemeforge.appearance.undercoat import Grounds

Floats = NDArray[Any]

# The C library of Linux gives freed memory back to the system and asks for it again at every coat,
# until one large block was freed once; after that it keeps what it has. Costs no memory: the block
# is never touched. Measured: a third off a whole scheme.
np.empty(2_000_000)

# tanh(g)/g is 1 to the last digit for any g so small, and no float32 below overflows by it.
_LEAST_DECAY = 1e-18


class Strength(NamedTuple):
    """What a mix does per um of wet film, so that films of any thickness take one tanh.

    Args:
        decay: sqrt(K (K + 2 S)) per um.
        scattered: S over decay.
        total: K + S over decay.
    """

    decay: Floats
    scattered: Floats
    total: Floats

    def repeated(self, points: int) -> "Strength":
        """The same for so many points one after the other, ``(points x 36,)`` each."""
        wide = np.empty((3, points, len(self.decay)), self.decay.dtype)
        for row, array in zip(wide, self, strict=True):
            row[:] = array
        return Strength(*wide.reshape(3, -1))


class Film(NamedTuple):
    """A film alone, alike from both sides: reflectance over black, transmittance squared."""

    reflects: Floats
    through: Floats


class Fold(NamedTuple):
    """A stack; see the module's text."""

    over: Floats
    below: Floats
    through: Floats


class Room(NamedTuple):
    """Arrays to work in, so that the hot loop asks for no memory; new ones where None."""

    a: Floats | None = None
    b: Floats | None = None
    c: Floats | None = None
    d: Floats | None = None
    e: Floats | None = None

    def rows(self, count: int) -> "Room":
        """The first so many rows of each."""
        return Room(*(None if array is None else array[:count] for array in self))


ANEW = Room()


@contextmanager
def short_buffers() -> Iterator[None]:
    """Work in which numpy's iterators take short strides.

    Where rows are broadcast they go through a buffer whose default length costs half as much
    again; results are the same. The setting is this thread's own and is put back.
    """
    before = np.setbufsize(1024)
    try:
        yield
    finally:
        np.setbufsize(before)


def room_for(rows: int, width: int, dtype: Any) -> Room:
    """Room for arrays of ``(rows, width)``."""
    return Room(*np.empty((5, rows, width), dtype))


def strength_of(absorption: Floats, scattering: Floats, dtype: Any = np.float64) -> Strength:
    """Strength of a mix from K and S per um of its wet film, ``(..., 36)`` [Kubelka1948]."""
    decay = np.sqrt(absorption * (absorption + 2 * scattering))
    decay = np.maximum(decay, _LEAST_DECAY)
    terms = (decay, scattering / decay, (absorption + scattering) / decay)
    return Strength(*(term.astype(dtype, copy=False) for term in terms))


def film_of(depth: Floats, strength: Strength, into: tuple[Any, ...] = (None, None)) -> Film:
    """Films whose decay times thickness is ``depth`` [Kubelka1948].

    With t = tanh(depth) and D = 1 + (K + S) t/decay: R0 = S t/decay/D, T^2 = (1 - t^2)/D^2.
    ``into`` may name two arrays to hold the film; ``depth`` is overwritten.
    """
    t = np.tanh(depth, out=depth)
    D = np.multiply(strength.total, t, out=into[0])
    D += 1
    np.divide(1, D, out=D)
    through = np.multiply(t, t, out=into[1])
    np.subtract(1, through, out=through)
    through *= D
    through *= D
    t *= strength.scattered
    D *= t
    return Film(D, through)


def lay(film: Film, lower: Fold | None, room: Room = ANEW, into: Fold | None = None) -> Fold:
    """A film laid on a stack, or alone; ``into`` may be the lower stack itself."""
    if lower is None:
        return _alone(film, into)
    over, below, through = (None, None, None) if into is None else into
    passed = np.multiply(film.reflects, lower.over, out=room.a)
    np.subtract(1, passed, out=passed)
    np.divide(1, passed, out=passed)
    down = np.multiply(film.through, passed, out=room.b)
    passed *= lower.through
    back = np.multiply(passed, film.reflects, out=room.c)
    new_below = np.add(lower.below, back, out=below)
    new_through = np.multiply(passed, down, out=through)
    down *= lower.over
    new_over = np.add(film.reflects, down, out=over)
    return Fold(new_over, new_below, new_through)


def laid_on(upper: Fold, lower: Fold) -> Fold:
    """A stack laid on another, of shapes that broadcast [Kubelka1954]."""
    passed = 1 / (1 - upper.below * lower.over)
    down = upper.through * passed
    passed *= lower.through
    over = down * lower.over
    over += upper.over
    below = passed * upper.below
    below += lower.below
    down *= passed
    return Fold(over, below, down)


def _alone(film: Film, into: Fold | None) -> Fold:
    alone = Fold(film.reflects, film.reflects, film.through)
    if into is None:
        return alone
    for held, value in zip(into, alone, strict=True):
        np.copyto(held, value)
    return into


def xyz_through(fold: Fold | None, grounds: Grounds, look: Look, room: Room = ANEW) -> Floats:
    """XYZ seen on top of stack and surface, mean over the grounds: one row a point, ``(n, 3)``."""
    surface, matrix = look.surface, look.matrix()
    first = surface.w * surface.k1
    body = surface.factor * (1 - surface.k1) * (1 - surface.k2)
    under = _under_surface(fold, surface.k2, grounds, room)
    if grounds.spread_n == 1.0:
        # What every point has in common is left to the matrix.
        within = _mean_within(under, grounds, room).reshape(-1, optics.bands.COUNT)
        xyz: Floats = within @ (body * matrix)
        xyz += first * matrix.sum(axis=0)
        return xyz
    spots = [_spot(under, R) for R in grounds.reflectance]
    seen = first + body * np.stack(spots, axis=-2)
    weights = np.broadcast_to(np.moveaxis(grounds.weights, 0, -2), seen.shape)
    mean = optics.reduced_mean(seen, weights, grounds.spread_n)
    spread: Floats = mean.reshape(-1, optics.bands.COUNT) @ matrix
    return spread


def _mean_within(under: Fold, grounds: Grounds, room: Room) -> Floats:
    """R/(1 - k2 R) of the stack, mean over the grounds, in room ``a``."""
    over, below, through = under
    total: Floats | None = None
    for ground, share in zip(grounds.reflectance, grounds.weighted, strict=True):
        part = np.multiply(below, ground, out=room.a if total is None else room.e)
        np.subtract(1, part, out=part)
        np.divide(share, part, out=part)
        total = part if total is None else np.add(total, part, out=total)
    assert total is not None  # noqa: S101 - there is always a ground
    total *= through
    total += over
    return total


def _spot(under: Fold, ground: Floats) -> Floats:
    """R/(1 - k2 R) of the stack over one ground."""
    value: Floats = under.over + under.through * ground / (1 - under.below * ground)
    return value


def _under_surface(fold: Fold | None, k2: float, grounds: Grounds, room: Room) -> Fold:
    """The stack as R/(1 - k2 R) sees it, in room ``d``, ``c`` and ``b``."""
    if fold is None:
        kind = grounds.reflectance.dtype
        return Fold(*(np.full(1, value, kind) for value in (0.0, k2, 1.0)))
    passed = np.multiply(fold.over, -k2, out=room.a)
    passed += 1
    np.divide(1, passed, out=passed)
    through = np.multiply(fold.through, passed, out=room.b)
    below = np.multiply(through, k2, out=room.c)
    below += fold.below
    through *= passed
    over = np.multiply(passed, fold.over, out=room.d)
    return Fold(over, below, through)
