"""From millions of recipes to the best few: a rough sieve, finer ones, and the exact end.

Every set of paints is modelled roughly with a few bands; the sets that look best are looked at
with all bands where their model says that their best recipes are; the best of those in full; and
the best of those once more in float64 with exact CIEDE2000. Nothing depends on chance or on which
thread comes first: the same request gives the same recipes.
"""

from collections.abc import Callable, Iterator, Sequence
from concurrent.futures import ThreadPoolExecutor
from dataclasses import dataclass, replace
from typing import Any, TypeVar

import numpy as np
from numpy.typing import NDArray

from schemeforge import colorimetry, optics
from schemeforge.recipe.kernel import Kernel
from schemeforge.recipe.metric import ramp_difference
from schemeforge.recipe.sieve import Model, Sieve
from schemeforge.recipe.space import Space

Floats = NDArray[Any]
GoOn = Callable[[float], bool]
MakeKernel = Callable[..., Kernel]
T = TypeVar("T")

# numpy lets go of the interpreter, so that a second thread takes a second core.
THREADS = 2
# Elements of an array in the inner loops: more leave the caches, fewer pay for the calls and for
# handing the interpreter to and fro (measured: a fifth less time than at a fifth of it).
_AT_ONCE = 200_000
# Elements of a product of matrices: larger ones the linear algebra library may split among
# threads of its own, which would fight ours.
_PRODUCT = 200_000
_SIEVE_BANDS = 13
_TRAINED_ON = 320
# An effort is meant for so many sets of paints; more widen it up to so many times.
_SETS_OF_EFFORT = 60_000
_MOST_TIMES = 6
_SEED = 20250
# Recipes of a set that float32 may take for equal.
_TIES = 3


@dataclass(frozen=True, slots=True, kw_only=True)
class Effort:
    """How many sets and recipes each stage looks at.

    Args:
        settled: Models that are settled, best starts first; a set may have two.
        rounds: Steps that settling takes.
        guessed: Sets of which a few recipes each are looked at.
        guesses: How many recipes of each.
        refined: Sets that are modelled anew at the best of those.
        refinements: How many recipes of each are looked at then.
        whole: Sets of which every recipe is looked at.
        exact: Sets that are looked at in float64.
        looked: Sets of which every recipe is looked at roughly, where models do not serve; 0 for
            no such second look.
    """

    settled: int = 40_000
    rounds: int = 4
    guessed: int = 3000
    guesses: int = 16
    refined: int = 800
    refinements: int = 32
    whole: int = 120
    exact: int = 60
    looked: int = 2000

    @property
    def for_many_alike(self) -> "Effort":
        """One that looks at far more sets, which all come about as near."""
        return replace(self, guessed=4 * self.guessed, guesses=2 * self.guesses)

    def times(self, factor: int) -> "Effort":
        """An effort so many times as wide."""
        return Effort(
            settled=factor * self.settled,
            rounds=self.rounds,
            guessed=factor * self.guessed,
            guesses=self.guesses,
            refined=factor * self.refined,
            refinements=self.refinements,
            whole=factor * self.whole,
            exact=self.exact,
            looked=factor * self.looked,
        )


NORMAL = Effort()


@dataclass(frozen=True, slots=True, eq=False)
class Shortlist:
    """The best sets of a space with their best recipe each, best first.

    Args:
        space: The space.
        sets: Which of its sets, ``(found,)``.
        points: Which of its points, ``(found,)``.
        difference: CIEDE2000 to the target, root mean square over the tones, ``(found,)``.
    """

    space: Space
    sets: NDArray[np.intp]
    points: NDArray[np.intp]
    difference: NDArray[np.float64]


class Stopped(Exception):  # noqa: N818 - no error: whoever asked does not want it any more
    """The search was told to stop."""


class Funnel:
    """One space searched for one target.

    Args:
        make: Makes a kernel: takes ``some``, ``matrix`` and ``dtype`` as `Kernel` does.
        target: CIELAB, ``(tones, 3)``.
        space: The space.
        caps: Most share of a mix that each paint may have, ``(paints,)``; None for no limits.
        effort: How wide.
        aim: Where models are led to instead of to the target, CIELAB ``(tones, 3)``; what they
            come to is still judged by the target.
        go_on: Told the share done; returns False to stop.
    """

    def __init__(
        self,
        make: MakeKernel,
        target: Floats,
        space: Space,
        *,
        caps: Floats | None = None,
        effort: Effort = NORMAL,
        aim: Floats | None = None,
        go_on: GoOn,
    ) -> None:
        self._target = target
        self._space = space
        self._caps = None if caps is None or np.all(caps >= 1.0) else caps
        # Of millions of sets more look alike from where they start.
        many = space.sets.shape[1] // _SETS_OF_EFFORT
        self._effort = effort.times(min(max(many, 1), _MOST_TIMES))
        self._go_on = go_on
        self._single = make(dtype=np.float32)
        self._double = make(dtype=np.float64)
        some, matrix = trained(self._double, space)
        self._rough = make(some=some, matrix=matrix, dtype=np.float32)
        self._sieve = Sieve(self._rough, target if aim is None else aim, space)
        self._tones = len(target)
        self._deposits = space.deposits.astype(np.float32)
        self._carrier = space.carrier.astype(np.float32)

    def search(self) -> Shortlist:
        """The shortlist.

        Raises:
            Stopped: Where ``go_on`` returned False.
        """
        with ThreadPoolExecutor(THREADS) as self._pool:
            chosen, starts = self._started()
            model, least = self._settled(chosen, starts)
            keep = lowest(least, self._effort.guessed)
            chosen, model = chosen[keep], Model(*(array[..., keep] for array in model))
            points, found = self._looked_at(chosen, model, self._effort.guesses)
            keep = lowest(found, self._effort.refined)
            chosen, points, found = chosen[keep], points[keep], found[keep]
            again, better = self._refined(chosen, points)
            points = np.where(better < found, again, points)
            order = lowest(np.minimum(better, found), len(found))
            _, first = np.unique(chosen[order], return_index=True)
            chosen = chosen[order[np.sort(first)[: self._effort.whole]]]
            return self._finished(chosen, 0.8)

    def search_by_looking(self, starts: int) -> Shortlist:
        """The shortlist without models: from many starts, then at every recipe of the best sets.

        For targets so far off that CIEDE2000 runs in narrow valleys, in which no slope leads.

        Args:
            starts: How many places of thin and of thick films each set is tried at, each.

        Raises:
            Stopped: Where ``go_on`` returned False.
        """
        sets = self._space.sets
        sieve = Sieve(self._rough, self._target, self._space, starts)
        at_once = max(1, _AT_ONCE // (2 * starts * _SIEVE_BANDS * self._width))
        pieces = list(_pieces(sets.shape[1], at_once))
        with ThreadPoolExecutor(THREADS) as self._pool:
            done = self._each(lambda some: sieve.start(sets[:, some])[0], pieces, 0.0, 0.4)
            chosen = lowest(np.concatenate(done, axis=1).min(axis=0), self._effort.looked)
            _, found = self._whole(chosen, self._rough, 0.4, 0.9)
            best = lowest(found.min(axis=0), self._effort.whole)
            return self._finished(chosen[best], 0.9)

    def _finished(self, chosen: NDArray[np.intp], begun: float) -> Shortlist:
        """The best recipes of these sets."""
        points, found = self._whole(chosen, self._single, begun, 0.95)
        self._tell(0.95)
        keep = lowest(found.min(axis=0), self._effort.exact)
        return self._exactly(chosen[keep], points[:, keep])

    def _tell(self, share: float) -> None:
        if not self._go_on(share):
            raise Stopped

    def _started(self) -> tuple[NDArray[np.intp], NDArray[np.uint8]]:
        """Sets with a start each that are worth settling; a set may come twice."""
        sets, sieve = self._space.sets, self._sieve
        many = sieve.starts.shape[0] * sieve.starts.shape[1] * _SIEVE_BANDS * self._width
        pieces = list(_pieces(sets.shape[1], max(1, _AT_ONCE // many)))
        done = self._each(lambda some: sieve.start(sets[:, some]), pieces, 0.0, 0.2)
        cost = np.concatenate([part[0] for part in done], axis=1).ravel()
        best = np.concatenate([part[1] for part in done], axis=1).ravel()
        chosen = np.sort(lowest(cost, self._effort.settled))
        return chosen % sets.shape[1], best[chosen]

    def _settled(self, chosen: NDArray[np.intp], starts: NDArray[np.uint8]) -> tuple[Model, Floats]:
        """Models of the sets, and the least that each says of any point of the lattice."""
        sieve, sets = self._sieve, self._space.sets
        places = sieve.starts.reshape(-1, len(sets))
        at_once = max(1, _AT_ONCE // (_SIEVE_BANDS * (1 + len(sets)) * self._width))

        def work(some: slice) -> tuple[Model, Floats]:
            logs = places[starts[some]].T
            model = sieve.settle(sets[:, chosen[some]], logs, self._effort.rounds)
            return model, self._least(model, sets[:, chosen[some]])

        done = self._each(work, list(_pieces(len(chosen), at_once)), 0.2, 0.7)
        model = Model(
            *(np.concatenate(parts, axis=-1) for parts in zip(*(d[0] for d in done), strict=True))
        )
        return model, np.concatenate([part[1] for part in done])

    @property
    def _width(self) -> int:
        """How many times the memory of a single tone over a single ground is at work."""
        return self._tones

    def _said(self, model: Model, sets: NDArray[np.int16]) -> Iterator[tuple[slice, Floats]]:
        """What the models say of every point, a few sets at a time, ``(sets, points)``."""
        rows = model.coefficients()
        table = self._sieve.features
        for some in _pieces(len(rows), _PRODUCT // table.size or 1):
            said = rows[some] @ table
            if self._caps is not None:
                said[self._forbidden(sets[:, some])] = np.inf
            yield some, said

    def _forbidden(self, sets: NDArray[np.int16]) -> NDArray[np.bool_]:
        """Where a mix would take more of a paint than there is, ``(sets, points)``."""
        assert self._caps is not None  # noqa: S101 - asked only where there are limits
        shares = self._space.shares
        over: NDArray[np.bool_] = (
            shares[np.newaxis, :, 0] > self._caps[sets[0]][:, np.newaxis] + 1e-9
        )
        for slot in range(1, len(sets)):
            over |= shares[np.newaxis, :, slot] > self._caps[sets[slot]][:, np.newaxis] + 1e-9
        return over

    def _least(self, model: Model, sets: NDArray[np.int16]) -> Floats:
        least = np.empty(sets.shape[1], np.float32)
        for some, said in self._said(model, sets):
            least[some] = said.min(axis=1)
        return least

    def _likely(self, model: Model, sets: NDArray[np.int16], count: int) -> NDArray[np.intp]:
        """The points of each set that its model likes best, ``(count, sets)``."""
        points = len(self._deposits)
        count = min(count, points)
        likely = np.empty((sets.shape[1], count), np.intp)
        for some, said in self._said(model, sets):
            if count < points:
                likely[some] = np.argpartition(said, count - 1, axis=1)[:, :count]
            else:
                likely[some] = np.arange(points)
        return likely.T

    def _looked_at(
        self, chosen: NDArray[np.intp], model: Model, count: int
    ) -> tuple[NDArray[np.intp], Floats]:
        """The best point of each set among those its model likes, and its difference."""
        sets = self._space.sets[:, chosen]
        at_once = max(1, _AT_ONCE // (optics.bands.COUNT * count * self._width))

        def work(some: slice) -> tuple[NDArray[np.intp], Floats]:
            part = Model(*(array[..., some] for array in model))
            likely = self._likely(part, sets[:, some], count)
            found = self._differences(self._single, sets[:, some], likely)
            best = found.argmin(axis=0)
            here = np.arange(len(best))
            return likely[best, here], found[best, here]

        done = self._each(work, list(_pieces(len(chosen), at_once)), 0.7, 0.8)
        return _joined(done)

    def _refined(
        self, chosen: NDArray[np.intp], points: NDArray[np.intp]
    ) -> tuple[NDArray[np.intp], Floats]:
        """As `_looked_at`, with models made anew at those points."""
        logs = np.log(self._deposits[points]).T
        model = self._sieve.model(self._space.sets[:, chosen], logs)
        return self._looked_at(chosen, model, self._effort.refinements)

    def _whole(
        self, chosen: NDArray[np.intp], kernel: Kernel, first: float, last: float
    ) -> tuple[NDArray[np.intp], Floats]:
        """The best few of all points of each set, and their differences, ``(few, sets)``.

        More than one, since what is as good as equal in float32 is told apart in float64 later.
        """
        sets = self._space.sets[:, chosen]
        count = len(self._deposits)
        at_once = max(2, _AT_ONCE // (optics.bands.COUNT * max(1, len(chosen)) * self._width))

        def work(some: slice) -> tuple[NDArray[np.intp], Floats]:
            points = np.arange(some.start, some.stop)[:, np.newaxis]
            found = self._differences(kernel, sets, points)
            best = _few_lowest(found, 2)
            return best + some.start, np.take_along_axis(found, best, axis=0)

        done = self._each(work, list(_pieces(count, at_once)), first, last)
        points, found = (np.concatenate(rows) for rows in zip(*done, strict=True))
        best = _few_lowest(found, _TIES)
        return np.take_along_axis(points, best, axis=0), np.take_along_axis(found, best, axis=0)

    def _exactly(self, chosen: NDArray[np.intp], points: NDArray[np.intp]) -> Shortlist:
        sets = self._space.sets[:, chosen]
        each = self._differences(self._double, sets, points)
        best, here = each.argmin(axis=0), np.arange(len(chosen))
        points, found = points[best, here], each[best, here]
        possible = np.flatnonzero(np.isfinite(found))
        # Equal ones in the order of the paints.
        order = possible[np.lexsort((chosen[possible], found[possible]))]
        return Shortlist(self._space, chosen[order], points[order], found[order])

    def _differences(
        self, kernel: Kernel, sets: NDArray[np.int16], points: NDArray[np.intp]
    ) -> Floats:
        """CIEDE2000 of recipes, ``(rows, sets)``, at points ``(rows, sets)`` or ``(rows, 1)``."""
        exact = kernel is self._double
        deposits = (self._space.deposits if exact else self._deposits)[points]
        carrier = (self._space.carrier if exact else self._carrier)[points]
        XYZ = kernel.xyz(sets, np.moveaxis(deposits, -1, 1), np.moveaxis(carrier, -1, 1))
        found = ramp_difference(colorimetry.lab_from_xyz(XYZ), self._target)
        if self._caps is not None:
            shares = self._space.shares[points]
            over = np.any(shares > self._caps[sets.T][np.newaxis] + 1e-9, axis=-1)
            found = np.where(over, np.inf, found)
        return found

    def _each(
        self, work: Callable[[slice], T], pieces: Sequence[slice], first: float, last: float
    ) -> list[T]:
        """The work on every piece, in their order, on two threads; progress from first to last."""
        done = []
        for n, result in enumerate(self._pool.map(self._unless_stopped(work), pieces)):
            done.append(result)
            if n % 8 == 7:
                try:
                    self._tell(first + (last - first) * (n + 1) / len(pieces))
                except Stopped:
                    self._halted = True
                    raise
        self._tell(last)
        return done

    _halted = False

    def _unless_stopped(self, work: Callable[[slice], T]) -> Callable[[slice], T]:
        def checked(some: slice) -> T:
            if self._halted:
                raise Stopped  # pragma: no cover - only where a thread is ahead of the news
            return work(some)

        return checked


def trained(kernel: Kernel, space: Space) -> tuple[NDArray[np.intp], Floats]:
    """A few bands, and weights for them that give the colours of this space's recipes.

    Fitted to recipes drawn with a fixed seed, by least squares of relative errors of XYZ: on the
    few kinds of spectrum that a shelf can give, thirteen bands do for a sieve.
    """
    some = np.round(np.linspace(2, optics.bands.COUNT - 4, _SIEVE_BANDS)).astype(np.intp)
    rng = np.random.default_rng(_SEED)
    sets = space.sets[:, rng.integers(space.sets.shape[1], size=_TRAINED_ON)]
    points = rng.integers(len(space.deposits), size=_TRAINED_ON)
    seen = kernel.seen(sets, space.deposits[points].T[np.newaxis], None)[0]
    rows = np.moveaxis(seen, 1, -1).reshape(-1, optics.bands.COUNT)
    matrix = kernel.matrix
    XYZ = rows @ matrix
    fitted = np.empty((_SIEVE_BANDS, 3))
    for n in range(3):
        weight = 1.0 / (XYZ[:, n] + 0.01)
        A = rows[:, some] * weight[:, np.newaxis]
        fitted[:, n] = np.linalg.lstsq(A, XYZ[:, n] * weight, rcond=1e-4)[0]
    return some, fitted


def lowest(values: Floats, count: int) -> NDArray[np.intp]:
    """Indices of the lowest values, lowest first, equal ones in their order."""
    if count >= len(values):
        return np.argsort(values, kind="stable")
    bar = np.partition(values, count - 1)[count - 1]
    within = np.flatnonzero(values <= bar)
    return within[np.argsort(values[within], kind="stable")][:count]


def _few_lowest(values: Floats, count: int) -> NDArray[np.intp]:
    """Rows of the lowest values of each column, in any order, ``(count or fewer, columns)``."""
    if len(values) <= count:
        rows = np.arange(len(values))[:, np.newaxis]
        return np.broadcast_to(rows, values.shape)
    return np.argpartition(values, count - 1, axis=0)[:count]


def _pieces(count: int, size: int) -> Iterator[slice]:
    for first in range(0, count, size):
        yield slice(first, min(first + size, count))


def _joined(
    done: Sequence[tuple[NDArray[np.intp], Floats]],
) -> tuple[NDArray[np.intp], Floats]:
    return np.concatenate([d[0] for d in done]), np.concatenate([d[1] for d in done])
