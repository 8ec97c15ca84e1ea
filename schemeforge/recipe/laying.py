"""How a coat of a recipe may be mixed and laid: whole parts, thinner, film and coats."""

from dataclasses import dataclass
from functools import lru_cache
from typing import Final

import numpy as np
from numpy.typing import NDArray

from schemeforge import checks
from schemeforge.errors import InputError
from schemeforge.scheme import Technique
from schemeforge.scheme.steps import THICKEST_UM
from schemeforge.scheme.techniques import TECHNIQUES

MOST_PARTS = 40
MOST_COATS = 12
MOST_PAINTS = 3

# Least and most thinner, as a share of the mix, that a technique bears: a base coat between neat
# and 1:1, a glaze from 1:1 to weaker than 1:9, a dry brush as it comes out of the pot (common
# practice, no source).
THINNED: Final = {
    Technique.BASE_COAT: (0.0, 0.5),
    Technique.LAYER: (0.0, 0.67),
    Technique.GLAZE: (0.0, 0.91),
    Technique.FEATHERED_GLAZE: (0.0, 0.91),
    Technique.WASH: (0.0, 0.91),
    Technique.FILTER: (0.3, 0.95),
    Technique.STAIN: (0.0, 0.8),
    Technique.DRY_BRUSH: (0.0, 0.0),
    Technique.EDGE_HIGHLIGHT: (0.0, 0.6),
    Technique.AIRBRUSH: (0.0, 0.8),
}


@dataclass(frozen=True, slots=True, kw_only=True)
class Laying:
    """One coat of a recipe before it is known what is in it.

    Args:
        technique: How it is laid.
        films_um: Wet films of one coat to choose from, within what the technique can lay, light
            to heavy; the normal one where empty.
        coats: How many coats to choose from.
        most_paints: How many paints its mix may hold, 1 to 3, thinner not counted.
        most_parts: Whole parts of the mix, thinner included, sum to at most this, 1 to 40.
        thinned: Least and most share of thinner; the technique's own where None.
        any_film: Take the films as they are, where a coat that exists is mixed anew.
    """

    technique: Technique = Technique.GLAZE
    films_um: tuple[float, ...] = ()
    coats: tuple[int, ...] = (1, 2, 3)
    most_paints: int = MOST_PAINTS
    most_parts: int = 10
    thinned: tuple[float, float] | None = None
    any_film: bool = False

    def __post_init__(self) -> None:
        trade = TECHNIQUES[self.technique]
        for film in self.films_um:
            if self.any_film:
                checks.number(film, "Wet film", low=0.1, high=THICKEST_UM, unit="um")
            elif not trade.light_um <= film <= trade.heavy_um:
                raise InputError(
                    f"A {self.technique.value} of {film:g} um wet cannot be laid in one coat",
                    remedy=f"give {trade.light_um:g} to {trade.heavy_um:g} um, or more coats",
                )
        if not self.coats:
            raise InputError("A recipe needs a number of coats", remedy="give 1 or more")
        for count in self.coats:
            checks.whole(count, "Number of coats", low=1, high=MOST_COATS)
        checks.whole(self.most_paints, "Paints in a mix", low=1, high=MOST_PAINTS)
        checks.whole(self.most_parts, "Parts of a mix", low=1, high=MOST_PARTS)
        low, high = self.thinner_shares
        checks.number(low, "Least share of thinner", low=0.0, high=1.0)
        checks.number(high, "Most share of thinner", low=low, high=1.0)

    @property
    def films(self) -> tuple[float, ...]:
        """Wet films of one coat to choose from, um."""
        return self.films_um or (TECHNIQUES[self.technique].normal_um,)

    @property
    def thinner_shares(self) -> tuple[float, float]:
        """Least and most share of thinner in the mix."""
        return THINNED[self.technique] if self.thinned is None else self.thinned


@dataclass(frozen=True, slots=True, eq=False)
class Lattice:
    """All that can be mixed and laid of so many paints in one coat; rows go together.

    Args:
        parts: Whole parts of each paint, ``(rows, paints)``.
        thinner: Whole parts of thinner, ``(rows,)``.
        film_um: Wet film of one coat, ``(rows,)``.
        coats: How many coats, ``(rows,)``.
        deposit: Micrometres of neat paint that all coats leave of each, ``(rows, paints)``.
        carrier: The same of the thinner, ``(rows,)``.
        share: Share of each paint in the mix, ``(rows, paints)``.
    """

    parts: NDArray[np.int64]
    thinner: NDArray[np.int64]
    film_um: NDArray[np.float64]
    coats: NDArray[np.int64]
    deposit: NDArray[np.float64]
    carrier: NDArray[np.float64]
    share: NDArray[np.float64]

    def __len__(self) -> int:
        return len(self.parts)


@lru_cache(maxsize=64)
def lattice(laying: Laying, paints: int, *, hazy: bool = False) -> Lattice:
    """The lattice of a laying for mixes of exactly that many paints, which must be `possible`.

    Of rows that leave the same film the one with fewest coats, then fewest parts, is kept. Where
    the thinner is ``hazy`` its own film counts as well.
    """
    parts = _parts(paints, laying)
    total = parts.sum(axis=1)
    normal = TECHNIQUES[laying.technique].normal_um
    rows = [
        (coats, film, np.full(len(parts), coats), np.full(len(parts), film))
        for coats in sorted(set(laying.coats))
        for film in sorted(set(laying.films), key=lambda um: abs(np.log(um / normal)))
    ]
    coats = np.concatenate([row[2] for row in rows])
    film = np.concatenate([row[3] for row in rows])
    parts, total = np.tile(parts, (len(rows), 1)), np.tile(total, len(rows))
    shares = parts / total[:, np.newaxis]
    left = shares * (coats * film)[:, np.newaxis]
    order = np.lexsort((total, coats))
    key = np.round(left[order] if hazy else left[order, :-1], 9)
    first = np.unique(key, axis=0, return_index=True)[1]
    keep = order[np.sort(first)]
    return Lattice(
        parts[keep, :-1],
        parts[keep, -1],
        film[keep],
        coats[keep],
        left[keep, :-1],
        left[keep, -1],
        shares[keep, :-1],
    )


def _parts(paints: int, laying: Laying) -> NDArray[np.int64]:
    """Whole parts of paints and thinner without a common divisor, ``(rows, paints + 1)``."""
    most = laying.most_parts
    axes = [np.arange(1, most + 1)] * paints + [np.arange(most + 1)]
    grid = np.stack(np.meshgrid(*axes, indexing="ij"), axis=-1).reshape(-1, paints + 1)
    total = grid.sum(axis=1)
    low, high = laying.thinner_shares
    share = grid[:, -1] / total
    divisor = np.gcd.reduce(grid, axis=1)
    slack = 1e-9
    good = (total <= most) & (divisor == 1) & (share >= low - slack) & (share <= high + slack)
    found: NDArray[np.int64] = grid[good]
    return found


def possible(laying: Laying) -> tuple[int, ...]:
    """How many paints a mix of the laying may hold: those of which whole parts can be mixed.

    Raises:
        InputError: Where not even one paint can be.
    """
    counts = tuple(n for n in range(1, laying.most_paints + 1) if len(_parts(n, laying)))
    if not counts:
        low, high = laying.thinner_shares
        raise InputError(
            f"Nothing can be mixed in {laying.most_parts} parts with "
            f"{100 * low:.0f} to {100 * high:.0f} % of thinner",
            remedy="allow more parts, or another share of thinner",
        )
    return counts
