"""The recipes that may be searched: sets of paints, and what can be mixed and laid of each."""

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import product

import numpy as np
from numpy.typing import NDArray

from schemeforge.errors import InputError
from schemeforge.recipe.laying import Lattice, Laying, lattice, possible

# The solver works in as many unknowns as a colour has numbers.
MOST_SLOTS = 3


@dataclass(frozen=True, slots=True, eq=False)
class Space:
    """All recipes of one build: so many paints in each layer.

    Args:
        counts: Paints in each layer, lowest first, for example (1, 2).
        lattices: Of each layer.
        sets: Paint in each slot, ``(slots, sets)``.
        rows: Row of each layer's lattice at each point, ``(layers, points)``.
        deposits: um of neat paint in each slot, ``(points, slots)``.
        carrier: um of thinner in each layer, ``(points, layers)``.
        shares: Share of each slot in its mix, ``(points, slots)``.
    """

    counts: tuple[int, ...]
    lattices: tuple[Lattice, ...]
    sets: NDArray[np.int16]
    rows: NDArray[np.intp]
    deposits: NDArray[np.float64]
    carrier: NDArray[np.float64]
    shares: NDArray[np.float64]

    @property
    def slots(self) -> tuple[int, ...]:
        """Layer of each slot."""
        return tuple(layer for layer, count in enumerate(self.counts) for _ in range(count))

    @property
    def size(self) -> int:
        """How many recipes."""
        return int(self.sets.shape[1]) * len(self.deposits)


def builds(layings: Sequence[Laying], must: int = 0) -> list[tuple[int, ...]]:
    """How many paints each layer may hold, three in all at the most: every possibility.

    Args:
        layings: Layers of the recipe, lowest first, one or two.
        must: How many paints every recipe uses.

    Raises:
        InputError: Where there is no layer, more than two, more paints that must be used than a
            recipe holds, or a layer of which nothing can be mixed.
    """
    if not 1 <= len(layings) <= 2:
        raise InputError("A recipe has one or two layers", remedy="give one or two")
    ranges = [possible(laying) for laying in layings]
    found = [counts for counts in product(*ranges) if sum(counts) <= MOST_SLOTS]
    most = max(sum(counts) for counts in found)
    if must > most:
        raise InputError(
            f"{must} paints must be used, and a recipe holds {most}",
            remedy="ask for fewer, or allow more paints in a mix",
        )
    return found


def space_of(
    counts: tuple[int, ...],
    layings: Sequence[Laying],
    usable: Sequence[NDArray[np.int16]],
    must: Sequence[int] = (),
    *,
    hazy: bool = False,
) -> Space:
    """All recipes with just so many paints in each layer.

    Args:
        counts: Paints in each layer, lowest first.
        layings: The layers.
        usable: Indices of the paints that each layer may use, rising.
        must: Indices of paints that every recipe uses.
        hazy: Whether the thinner has a film of its own.
    """
    lattices = tuple(
        lattice(laying, count, hazy=hazy) for laying, count in zip(layings, counts, strict=True)
    )
    rows = np.stack([axis.ravel() for axis in np.meshgrid(*map(_numbers, lattices), indexing="ij")])
    return Space(
        counts,
        lattices,
        _with(_sets(counts, usable), must),
        rows,
        np.hstack([lat.deposit[row] for lat, row in zip(lattices, rows, strict=True)]),
        np.stack([lat.carrier[row] for lat, row in zip(lattices, rows, strict=True)], axis=1),
        np.hstack([lat.share[row] for lat, row in zip(lattices, rows, strict=True)]),
    )


def _numbers(lat: Lattice) -> NDArray[np.intp]:
    return np.arange(len(lat), dtype=np.intp)


def combinations(paints: NDArray[np.int16], count: int) -> NDArray[np.int16]:
    """Every choice of 1 to 3 of the paints, rising, ``(count, choices)``."""
    n = len(paints)
    if count == 1:
        return paints[np.newaxis]
    first, second = np.triu_indices(n, 1)
    if count == 2:
        return paints[np.stack((first, second))]
    # Behind every pair come the paints that follow its second.
    behind = n - 1 - second
    pair = np.repeat(np.arange(len(first), dtype=np.int32), behind)
    before = (np.cumsum(behind) - behind - second - 1).astype(np.int32)
    third = np.arange(len(pair), dtype=np.int32)
    third -= before[pair]
    sets = np.empty((3, len(pair)), np.int16)
    sets[0], sets[1], sets[2] = paints[first][pair], paints[second][pair], paints[third]
    return sets


def _sets(counts: tuple[int, ...], usable: Sequence[NDArray[np.int16]]) -> NDArray[np.int16]:
    layers = [combinations(paints, count) for paints, count in zip(usable, counts, strict=True)]
    if len(layers) == 1:
        return layers[0]
    lower, upper = layers
    sets = np.concatenate(
        (np.repeat(lower, upper.shape[1], axis=1), np.tile(upper, lower.shape[1]))
    )
    if counts[0] != counts[1]:
        return sets
    # The same mix twice is one mix in more coats.
    half = counts[0]
    return sets[:, np.any(sets[:half] != sets[half:], axis=0)]


def _with(sets: NDArray[np.int16], must: Sequence[int]) -> NDArray[np.int16]:
    for paint in must:
        sets = sets[:, np.any(sets == paint, axis=0)]
    return sets
