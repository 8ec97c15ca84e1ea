"""A recipe: what is mixed, how thin, how many coats."""

from dataclasses import dataclass

from schemeforge.paint import WATER_ID
from schemeforge.recipe.target import Lab
from schemeforge.scheme import Coat, Ingredient, Mix, Placement, Technique


@dataclass(frozen=True, slots=True, kw_only=True)
class Part:
    """Whole parts by volume of one paint; a part may be a drop where the amount is small."""

    paint_id: str
    parts: int


@dataclass(frozen=True, slots=True, kw_only=True)
class RecipeCoat:
    """One coat of a recipe.

    Args:
        paints: Its paints in parts, most first.
        thinner_id: Medium or water.
        thinner_parts: Parts of that, 0 for a neat mix.
        technique: How it is laid.
        wet_um: Wet film of one coat.
        coats: How many such coats.
    """

    paints: tuple[Part, ...]
    technique: Technique
    wet_um: float
    coats: int
    thinner_id: str = WATER_ID
    thinner_parts: int = 0

    @property
    def total_parts(self) -> int:
        """Parts of the whole mix, thinner included."""
        return self.thinner_parts + sum(part.parts for part in self.paints)

    @property
    def all_parts(self) -> tuple[Part, ...]:
        """Paints and thinner in parts."""
        if not self.thinner_parts:
            return self.paints
        return (*self.paints, Part(paint_id=self.thinner_id, parts=self.thinner_parts))

    def as_mix(self, mix_id: str, name: str) -> Mix:
        """The mix for a scheme."""
        return Mix(
            id=mix_id,
            name=name,
            ingredients=tuple(
                Ingredient(paint_id=part.paint_id, parts=float(part.parts))
                for part in self.all_parts
            ),
        )

    def as_coat(self, mix_id: str, placement: Placement | None = None) -> Coat:
        """The coat for a scheme's step, even where no placement is given."""
        return Coat(
            mix_id=mix_id,
            technique=self.technique,
            wet_um=self.wet_um,
            passes=self.coats,
            placement=Placement() if placement is None else placement,
        )


@dataclass(frozen=True, slots=True, kw_only=True)
class Recipe:
    """One way to the target.

    Args:
        coats: Lowest first: one mix, or a base coat and a glaze.
        lab: The colours that it gives, one for each tone, CIELAB adapted to D65.
        differences: CIEDE2000 to the target at each tone.
        delta_e: Root mean square of those; of one tone just CIEDE2000.
    """

    coats: tuple[RecipeCoat, ...]
    lab: tuple[Lab, ...]
    differences: tuple[float, ...]
    delta_e: float

    @property
    def paint_ids(self) -> frozenset[str]:
        """Ids of its paints, thinner left out."""
        return frozenset(part.paint_id for coat in self.coats for part in coat.paints)

    @property
    def coat_count(self) -> int:
        """How many coats are laid in all."""
        return sum(coat.coats for coat in self.coats)

    @property
    def largest(self) -> float:
        """The largest difference along the ramp."""
        return max(self.differences)
