"""The search: a request in, the best different recipes out."""

from collections.abc import Callable, Iterator
from dataclasses import dataclass, replace
from typing import Any, Final

import numpy as np
from numpy.typing import NDArray

from schemeforge import colorimetry
from schemeforge.errors import InputError
from schemeforge.recipe.funnel import NORMAL, Effort, Funnel, GoOn, Shortlist, Stopped
from schemeforge.recipe.kernel import Kernel
from schemeforge.recipe.laying import Laying
from schemeforge.recipe.recipe import Part, Recipe, RecipeCoat
from schemeforge.recipe.request import Request, spectra
from schemeforge.recipe.space import Space, builds, space_of

Floats = NDArray[Any]

# Of layered recipes those with three paints are searched among the paints that are best in those
# with two: so many as base, so many as glaze, taken from so many recipes.
_BASES, _GLAZES, _WIDE = 24, 60, 600
SoFar = Callable[[tuple[Recipe, ...]], None]

# Where even the nearest is another colour, CIEDE2000 has valleys too narrow for slopes to lead
# into: among near greys of the opposite hue, for one, where its mean hue jumps. Such a target is
# looked at once more without them, so many colours in all if a set then has so many starts at
# least; and a third time with the best colour found so as what slopes lead to.
_FAR: Final = 5.0
_LOOKED_AT: Final = 1_300_000
_FEWEST_STARTS, _MOST_STARTS = 8, 40
# The progress shown when each look is over.
_LOOKS: Final = (0.6, 0.8, 1.0)

# How long spaces of one, two and three paints take, about, for the progress shown.
_EFFORTS = (1.0, 3.0, 12.0)


@dataclass(frozen=True, slots=True, kw_only=True)
class Found:
    """What a search found.

    Args:
        recipes: The best different sets of paints with their best recipe each, best first.
        pool: Those and more, of every number of paints and every kind of recipe, to rank by
            other things than the difference.
        searched: How many recipes there were to choose from.
    """

    recipes: tuple[Recipe, ...]
    pool: tuple[Recipe, ...]
    searched: int


def always(_share: float) -> bool:
    """Goes on to the end."""
    return True


def nothing(_recipes: tuple[Recipe, ...]) -> None:
    """What is found on the way interests nobody."""


def search(
    request: Request,
    *,
    go_on: GoOn = always,
    effort: Effort = NORMAL,
    so_far: SoFar = nothing,
) -> Found | None:
    """The best different recipes for the request; None where it was told to stop.

    Args:
        request: What is wanted of what.
        go_on: Told the share done, 0 to 1; returns False to stop.
        effort: How wide to search.
        so_far: Told the best recipes known, nearest first, each time that a number of paints is
            done.

    Recipes are sorted by CIEDE2000 alone; `schemeforge.recipe.ranking` sorts them for a painter.

    Raises:
        InputError: Where no paint is left to mix, or paints that must be used are not there.
    """
    try:
        return _Search(request, effort, go_on).run(so_far)
    except Stopped:
        return None


class _Search:
    def __init__(self, request: Request, effort: Effort, go_on: GoOn) -> None:
        self.request = request
        self.paints = request.usable
        if not self.paints:
            raise InputError(
                "No paint is left to mix", remedy="allow more paints, or look after the stock"
            )
        names = [paint.id for paint in self.paints]
        for paint_id in request.must:
            if paint_id not in names:
                raise InputError(
                    f'"{request.paint(paint_id).name}" must be used but is not to be had',
                    remedy="allow paints that are out of stock, or choose another",
                )
        self.must = [names.index(paint_id) for paint_id in request.must]
        self.K, self.S = spectra(self.paints)
        thinner = request.thinner
        self.thinner = np.array([thinner.absorption, thinner.scattering])
        self.caps = request.caps(self.paints)
        self.effort = effort
        self.go_on = go_on
        self.searched = 0

    def run(self, so_far: SoFar = nothing) -> Found:
        """Searches every build and joins what was found."""
        recipes: list[Recipe] = []
        kinds = self.request.builds
        for n, layings in enumerate(kinds):
            for shortlist in self._build(layings, n / len(kinds), (n + 1) / len(kinds)):
                recipes += self._recipes(shortlist, layings)
                recipes.sort(key=_order)
                so_far(tuple(recipes[: self.request.count]))
        return Found(
            recipes=tuple(recipes[: self.request.count]),
            pool=tuple(recipes),
            searched=self.searched,
        )

    def _build(self, layings: tuple[Laying, ...], first: float, last: float) -> Iterator[Shortlist]:
        everything = np.arange(len(self.paints), dtype=np.int16)
        usable = [everything] * len(layings)
        hazy = bool(self.thinner.any())
        todo = builds(layings, len(self.must))
        shares = np.cumsum([0.0, *(_EFFORTS[sum(counts) - 1] for counts in todo)])
        shares = first + (last - first) * shares / shares[-1]
        nearest: Shortlist | None = None
        for n, counts in enumerate(todo):
            effort = self.effort
            if len(layings) == 2:
                # Their lattices are large, and what they add to single mixes is little.
                effort = replace(
                    effort,
                    settled=effort.settled // 2,
                    rounds=2 * effort.rounds,
                    whole=effort.whole // 3,
                )
                if nearest is None:
                    effort = replace(effort, whole=_WIDE, exact=_WIDE)
                elif len(self.paints) > _BASES:
                    usable = _promising(nearest, everything)
            space = space_of(counts, layings, usable, self.must, hazy=hazy)
            found = self._funnel(space, effort, shares[n], shares[n + 1])
            nearest = found if nearest is None else nearest
            yield found

    def _funnel(self, space: Space, effort: Effort, first: float, last: float) -> Shortlist:
        request = self.request
        self.searched += space.size
        if space.sets.shape[1] == 0:
            nothing = np.zeros(0, np.intp)
            return Shortlist(space, nothing, nothing, np.zeros(0))

        shares = first + (last - first) * np.array([0.0, *_LOOKS])

        def funnel(look: int, effort: Effort, aim: Floats | None = None) -> Funnel:
            begun, ended = shares[look], shares[look + 1]
            return Funnel(
                self.kernels(space),
                request.target.array,
                space,
                caps=self.caps,
                effort=effort,
                aim=aim,
                go_on=lambda share: self.go_on(begun + (ended - begun) * share),
            )

        found = funnel(0, effort).search()
        starts = _LOOKED_AT // (2 * space.sets.shape[1] * request.bed.tones)
        is_far = len(found.difference) > 0 and found.difference[0] > _FAR
        if not is_far or starts < _FEWEST_STARTS or not effort.looked:
            if not self.go_on(last):
                raise Stopped
            return found
        starts = max(1, min(starts, _MOST_STARTS, len(space.deposits) // 2))
        found = nearer(found, funnel(1, effort).search_by_looking(starts))
        aim = self._lab(space, found.sets[:1], found.points[:1])[:, 0]
        return nearer(found, funnel(2, effort.for_many_alike, aim).search())

    def _lab(self, space: Space, sets: NDArray[np.intp], points: NDArray[np.intp]) -> Floats:
        """CIELAB of recipes of the space, ``(tones, recipes, 3)``."""
        XYZ = self.kernels(space)(dtype=np.float64).xyz(
            space.sets[:, sets],
            space.deposits[points].T[np.newaxis],
            space.carrier[points].T[np.newaxis],
        )
        lab: Floats = colorimetry.lab_from_xyz(XYZ)[0]
        return lab

    def kernels(self, space: Space) -> Callable[..., Kernel]:
        """Makes kernels for the space."""
        thinners = np.stack([self.thinner] * len(space.counts))

        def make(**words: Any) -> Kernel:
            return Kernel(
                self.K,
                self.S,
                thinners,
                self.request.bed,
                self.request.look,
                space.slots,
                **words,
            )

        return make

    def _recipes(self, found: Shortlist, layings: tuple[Laying, ...]) -> list[Recipe]:
        some = slice(0, max(self.request.count, self.effort.exact))
        space, points = found.space, found.points[some]
        if len(points) == 0:
            return []
        sets = space.sets[:, found.sets[some]]
        lab = self._lab(space, found.sets[some], points)
        each = colorimetry.ciede2000(lab, self.request.target.array[:, np.newaxis])
        return [
            Recipe(
                coats=self._coats(space, sets[:, n], int(points[n]), layings),
                lab=tuple((float(L), float(a), float(b)) for L, a, b in lab[:, n]),
                differences=tuple(float(value) for value in each[:, n]),
                delta_e=float(found.difference[some][n]),
            )
            for n in range(len(points))
        ]

    def _coats(
        self, space: Space, chosen: NDArray[np.int16], point: int, layings: tuple[Laying, ...]
    ) -> tuple[RecipeCoat, ...]:
        coats = []
        first = 0
        for layer, count in enumerate(space.counts):
            lat, row = space.lattices[layer], space.rows[layer, point]
            paints = [
                Part(paint_id=self.paints[chosen[first + n]].id, parts=int(lat.parts[row, n]))
                for n in range(count)
            ]
            coats.append(
                RecipeCoat(
                    paints=tuple(sorted(paints, key=lambda part: -part.parts)),
                    technique=layings[layer].technique,
                    wet_um=float(lat.film_um[row]),
                    coats=int(lat.coats[row]),
                    thinner_id=self.request.thinner_id,
                    thinner_parts=int(lat.thinner[row]),
                )
            )
            first += count
        return tuple(coats)


def nearer(one: Shortlist, other: Shortlist) -> Shortlist:
    """The nearest recipe of each set that either of two shortlists of one space has."""
    sets = np.concatenate((one.sets, other.sets))
    points = np.concatenate((one.points, other.points))
    difference = np.concatenate((one.difference, other.difference))
    order = np.lexsort((sets, difference))
    _, first = np.unique(sets[order], return_index=True)
    kept = order[np.sort(first)]
    return Shortlist(one.space, sets[kept], points[kept], difference[kept])


def _order(recipe: Recipe) -> tuple[Any, ...]:
    return (recipe.delta_e, recipe.coat_count, sorted(recipe.paint_ids))


def _promising(found: Shortlist, everything: NDArray[np.int16]) -> list[NDArray[np.int16]]:
    """Paints that served best as base and as glaze in recipes of one paint each."""
    base, glaze = found.space.sets[:, found.sets]
    chosen = []
    for best, most in ((base, _BASES), (glaze, _GLAZES)):
        _, first = np.unique(best, return_index=True)
        chosen.append(np.sort(best[np.sort(first)[:most]]))
    return chosen if all(len(c) for c in chosen) else [everything, everything]
