"""A part of a stand-in model: a solid, what it is made of, and the places on it."""

from collections.abc import Callable
from dataclasses import dataclass, replace
from enum import StrEnum
from typing import Any

from numpy.typing import NDArray

from schemeforge.stand_in.fields import Spot, away
from schemeforge.stand_in.patterns import Detail

Floats = NDArray[Any]


class Slot(StrEnum):
    """What a part stands for; each has a zone of its own where the project has enough of them."""

    HIDE = "hide"
    PLATES = "plates"
    CLOAK = "cloak"
    LANTERN = "lantern"
    BASE = "base"
    RIM = "rim"


@dataclass(frozen=True, slots=True)
class Part:
    """A solid with places.

    Args:
        name: In words, one of a kind within a model.
        slot: What it stands for.
        centre: Middle of a ball that holds all of it, mm.
        reach: Radius of that ball.
        distance: Signed distance in mm at ``(3, n)``, detail included, negative inside.
        detail: Height of the detail and place from root to tip at ``(3, n)``, 0 to 1.
        carved: Share of relief that the detail says; the rest follows from the solid's own form.
    """

    name: str
    slot: Slot
    centre: Spot
    reach: float
    distance: Callable[[Floats], Floats]
    detail: Callable[[Floats], Detail]
    carved: float = 0.75

    def moved(self, by: Spot, slot: Slot) -> "Part":
        """The same part elsewhere, standing for something else."""
        distance, detail = self.distance, self.detail
        x, y, z = (c + d for c, d in zip(self.centre, by, strict=True))
        return replace(
            self,
            slot=slot,
            centre=(x, y, z),
            distance=lambda P: distance(away(P, by)),
            detail=lambda P: detail(away(P, by)),
        )
