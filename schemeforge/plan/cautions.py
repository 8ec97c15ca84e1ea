"""Cautions usual in the trade, and which steps need which.

Every sentence defers to the product's label and safety data sheet, to local rules and to licensed
practice: a program cannot know what is in the bottle (common practice, no source).
"""

from collections.abc import Iterable
from enum import StrEnum

from schemeforge.scheme import Step, Work, WorkKind
from schemeforge.scheme.techniques import is_sprayed

DEFER = (
    "What the product's label and safety data sheet, your local rules and licensed practice say "
    "comes before anything on this page."
)


class Caution(StrEnum):
    """What can hurt at a step; the value is its stable key."""

    SPRAYING = "spraying"
    SOLVENTS = "solvents"
    BLADES = "blades"
    DUST = "dust"
    GLUE = "glue"
    MAGNETS = "magnets"
    BRUSHES = "brushes"
    PRODUCT = "product"

    @property
    def advice(self) -> str:
        """What to take care of, in our own words, without the deferring sentence."""
        return _ADVICE[self]

    @property
    def sentence(self) -> str:
        """The advice followed by what it defers to."""
        return f"{self.advice} {DEFER}"


_ADVICE = {
    Caution.SPRAYING: (
        "Spraying: work outdoors or with extraction that leads out of the room, wear breathing "
        "protection made for the product, allow no flame or spark, and never warm a can."
    ),
    Caution.SOLVENTS: (
        "Varnish, thinner and decal fluids: air the room, keep them off skin and eyes and away "
        "from flames, and close the lid between uses."
    ),
    Caution.BLADES: (
        "Blades: cut away from yourself on a firm mat, change a blunt blade, and cap it when you "
        "put it down."
    ),
    Caution.DUST: (
        "Dust of resin, plastic and putty: sand wet, wear a mask made for dust, and wipe up "
        "rather than blow."
    ),
    Caution.GLUE: ("Glue: air the room and keep it off skin and eyes."),
    Caution.MAGNETS: (
        "Magnets: keep them from children and animals, who may swallow them, and away from "
        "pacemakers."
    ),
    Caution.BRUSHES: (
        "Brushes: shape the tip on a cloth, do not lick it; rest eyes and hands every 20 to 30 "
        "minutes."
    ),
    Caution.PRODUCT: ("Read what the product that you use here warns of before you open it."),
}

_WORK = {
    WorkKind.CLEANING: (Caution.BLADES, Caution.DUST),
    WorkKind.ASSEMBLY: (Caution.BLADES, Caution.GLUE, Caution.MAGNETS),
    WorkKind.TEXTURE: (Caution.GLUE, Caution.DUST),
    WorkKind.METALLIC: (Caution.BRUSHES,),
    WorkKind.DETAIL: (Caution.BRUSHES,),
    WorkKind.DECAL: (Caution.BLADES, Caution.SOLVENTS),
    WorkKind.VARNISH: (Caution.SOLVENTS,),
    WorkKind.OTHER: (Caution.PRODUCT,),
}


def cautions_for(step: Step) -> tuple[Caution, ...]:
    """What can hurt at that step, gravest first; never empty.

    A sprayed step warns of spraying and of solvents, which sprayed primers and varnishes often
    carry, on top of what its kind of work warns of; a brush is only licked where one is used.
    """
    own = _WORK[step.layer.kind] if isinstance(step.layer, Work) else (Caution.BRUSHES,)
    if not is_sprayed(step):
        return own
    sprayed = (Caution.SPRAYING, Caution.SOLVENTS)
    return sprayed + tuple(key for key in own if key not in {*sprayed, Caution.BRUSHES})


def safety_line(cautions: Iterable[Caution]) -> str:
    """One paragraph for a sheet: each advice once, in the order of the list, then the deferral.

    Without any caution it is the deferring sentence alone.
    """
    wanted = set(cautions)
    return " ".join([*(key.advice for key in Caution if key in wanted), DEFER])
