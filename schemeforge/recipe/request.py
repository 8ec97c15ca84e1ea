"""What the painter asks for: target, bed, shelf, and what may be used."""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from schemeforge import checks
from schemeforge.appearance import Look
from schemeforge.errors import InputError, UnknownNameError
from schemeforge.optics import bands
from schemeforge.paint import WATER, WATER_ID, Paint, PaintKind
from schemeforge.recipe.bed import Bed
from schemeforge.recipe.laying import Laying
from schemeforge.recipe.target import Target
from schemeforge.scheme import Technique

MOST_PAINTS = 400

SINGLE = (Laying(),)
LAYERED = (
    Laying(technique=Technique.BASE_COAT, coats=(1, 2), most_paints=2, most_parts=4),
    Laying(technique=Technique.GLAZE, most_paints=2),
)
"""A base coat of one or two paints, hardly thinned, then a glaze; three paints in all."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Request:
    """All that a search needs; nothing in it changes while it runs.

    Args:
        target: The colours wanted, as many tones as the bed has.
        bed: What the coats lie on, and what lies over them.
        look: Finish, light and observer of the match.
        paints: The shelf; primers, mediums and water are not mixed as paints.
        builds: Layers of a recipe, lowest first, for each kind of recipe that may be found.
        thinner_id: What mixes are thinned with: water, or a medium of the shelf.
        must: Ids of paints that every recipe uses: to use one up, or with one paint fixed.
        without: Ids of paints that no recipe uses.
        only_in_stock: Leave out paints of which nothing is left; what is not known counts as
            there.
        needed_ml: How much mix the job takes; a mix then holds no more of a paint than is left.
            None where that is not known.
        count: How many different recipes to give.
    """

    target: Target
    bed: Bed
    look: Look
    paints: tuple[Paint, ...]
    builds: tuple[tuple[Laying, ...], ...] = (SINGLE,)
    thinner_id: str = WATER_ID
    must: tuple[str, ...] = ()
    without: tuple[str, ...] = ()
    only_in_stock: bool = False
    needed_ml: float | None = None
    count: int = 10

    def __post_init__(self) -> None:
        if len(self.target.lab) != self.bed.tones:
            raise InputError(
                f"The target has {len(self.target.lab)} tones and the ground {self.bed.tones}",
                remedy="give as many of one as of the other",
            )
        if self.look.is_wet:
            raise InputError("Recipes are matched dry", remedy="look at the colours dry")
        if not self.builds:
            raise InputError("No kind of recipe is allowed", remedy="allow at least one")
        if len(self.paints) > MOST_PAINTS:
            raise InputError(
                f"The shelf has {len(self.paints)} paints, more than {MOST_PAINTS}",
                remedy="leave some out of the search",
            )
        checks.unique((paint.id for paint in self.paints), "Paint")
        checks.whole(self.count, "Number of recipes", low=1, high=100)
        if self.needed_ml is not None:
            checks.number(self.needed_ml, "Mix needed", low=0.0, high=1e6, unit="ml")
        known = [paint.id for paint in self.paints]
        for paint_id in (*self.must, *self.without):
            if paint_id not in known:
                raise UnknownNameError("paint", paint_id, known)
        both = set(self.must) & set(self.without)
        if both:
            name = self.paint(min(both)).name
            raise InputError(f'"{name}" must be used and must not', remedy="choose one")
        if self.thinner_id not in (*known, WATER_ID) or not self.thinner.kind.is_clear:
            raise InputError(
                f'"{self.thinner_id}" is no medium of the shelf', remedy="thin with water"
            )

    @property
    def thinner(self) -> Paint:
        """The medium or water."""
        return WATER if self.thinner_id == WATER_ID else self.paint(self.thinner_id)

    def paint(self, paint_id: str) -> Paint:
        """The paint of that id; raises UnknownNameError."""
        for paint in self.paints:
            if paint.id == paint_id:
                return paint
        raise UnknownNameError("paint", paint_id, [paint.id for paint in self.paints])

    @property
    def usable(self) -> tuple[Paint, ...]:
        """The paints that may be mixed, in shelf order; primers only where they must be used."""
        return tuple(
            paint
            for paint in self.paints
            if not paint.kind.is_clear
            and (paint.kind is not PaintKind.PRIMER or paint.id in self.must)
            and paint.id not in self.without
            and not (self.only_in_stock and is_empty(paint))
        )

    def caps(self, paints: tuple[Paint, ...]) -> NDArray[np.float64] | None:
        """Most share of a mix that each paint may have for what is left of it; None for any."""
        if self.needed_ml is None or self.needed_ml == 0.0:
            return None
        left = [np.inf if p.stock.left_ml is None else p.stock.left_ml for p in paints]
        return np.minimum(np.array(left) / self.needed_ml, 1.0)


def is_empty(paint: Paint) -> bool:
    """True where the shelf knows that nothing is left."""
    return paint.stock.left_ml is not None and paint.stock.left_ml <= 0.0


def spectra(paints: tuple[Paint, ...]) -> tuple[NDArray[np.float64], NDArray[np.float64]]:
    """K and S of the paints, each ``(paints, 36)``."""
    shape = (len(paints), bands.COUNT)
    K = np.array([paint.absorption for paint in paints]).reshape(shape)
    S = np.array([paint.scattering for paint in paints]).reshape(shape)
    return K, S
