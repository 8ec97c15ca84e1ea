"""What a recipe may be made of and how it may be laid, as the painter set it."""

from dataclasses import dataclass, replace
from enum import StrEnum

from schemeforge.paint import WATER_ID, Paint
from schemeforge.recipe import LAYERED, Laying
from schemeforge.scheme import Placement, Project, ReliefKind, ReliefProfile, Technique

# How a pool or a dry brush is spread unless a coat says otherwise.
_SPREADS = {
    ReliefKind.POOLS: ReliefProfile(kind=ReliefKind.POOLS, depth=0.6, reach=0.35),
    ReliefKind.CATCHES: ReliefProfile(kind=ReliefKind.CATCHES, depth=0.9, reach=0.3),
}


class Layers(StrEnum):
    """What kinds of recipe are looked for."""

    SINGLE = "single"
    LAYERED = "layered"
    EITHER = "either"


@dataclass(frozen=True, slots=True, kw_only=True)
class Options:
    """The painter's wishes.

    Args:
        technique: How a single mix, or the upper of two, is laid.
        layers: One mix, a base coat with a glaze over it, or whichever is better.
        most_paints: How many paints a mix may hold, 1 to 3.
        most_coats: How many coats of it at most.
        most_parts: Whole parts of a mix sum to at most this.
        thinner_id: Water, or a medium.
        where: Where the coats go; ``""`` as the coat goes that they take the place of.
        must: Ids of paints that every recipe uses.
        without: Ids of paints that none uses.
        only_in_stock: Leave out paints of which nothing is left.
    """

    technique: Technique = Technique.LAYER
    layers: Layers = Layers.SINGLE
    most_paints: int = 3
    most_coats: int = 3
    most_parts: int = 10
    thinner_id: str = WATER_ID
    where: str = ""
    must: tuple[str, ...] = ()
    without: tuple[str, ...] = ()
    only_in_stock: bool = False

    @property
    def builds(self) -> tuple[tuple[Laying, ...], ...]:
        """The layers of each kind of recipe."""
        coats = tuple(range(1, self.most_coats + 1))
        single = Laying(
            technique=self.technique,
            coats=coats,
            most_paints=self.most_paints,
            most_parts=self.most_parts,
        )
        base, _ = LAYERED
        most = min(self.most_paints, 2)
        upper = replace(single, technique=self._upper, most_paints=most)
        layered = (replace(base, most_paints=min(most, base.most_paints)), upper)
        return {
            Layers.SINGLE: ((single,),),
            Layers.LAYERED: (layered,),
            Layers.EITHER: ((single,), layered),
        }[self.layers]

    @property
    def _upper(self) -> Technique:
        """Over a base coat goes a glaze, unless the painter chose another thin coat."""
        opaque = {Technique.BASE_COAT, Technique.LAYER}
        return Technique.GLAZE if self.technique in opaque else self.technique

    def placement(self, usual: Placement | None) -> Placement:
        """Where the coats go; ``usual`` is that of the coat that they take the place of."""
        if not self.where:
            return Placement() if usual is None else usual
        kind = ReliefKind(self.where)
        return Placement(relief=_SPREADS.get(kind, ReliefProfile()))

    def held(self, paints: tuple[Paint, ...]) -> "Options":
        """The options without paints that are no longer there."""
        known = {paint.id for paint in paints} | {WATER_ID}
        return replace(
            self,
            thinner_id=self.thinner_id if self.thinner_id in known else WATER_ID,
            must=tuple(paint_id for paint_id in self.must if paint_id in known),
            without=tuple(paint_id for paint_id in self.without if paint_id in known),
        )


def all_paints(project: Project, shelf: tuple[Paint, ...]) -> tuple[Paint, ...]:
    """The project's paints with the shelf's stock, then those that only the shelf has."""
    stocks = {paint.id: paint.stock for paint in shelf}
    carried = tuple(
        replace(paint, stock=stocks.get(paint.id, paint.stock)) for paint in project.paints
    )
    known = {paint.id for paint in carried}
    return (*carried, *(paint for paint in shelf if paint.id not in known))
