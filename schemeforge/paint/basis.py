"""What kind of paint it is, and what its absorption and scattering were worked out from."""

from enum import StrEnum


class PaintKind(StrEnum):
    """How a painter would call it; sets default techniques and warnings, never the physics."""

    OPAQUE = "opaque"
    TRANSLUCENT = "translucent"
    WASH = "wash"
    INK = "ink"
    PRIMER = "primer"
    MEDIUM = "medium"
    WATER = "water"

    @property
    def is_clear(self) -> bool:
        """True for what carries no pigment: medium and water."""
        return self in {PaintKind.MEDIUM, PaintKind.WATER}


class Basis(StrEnum):
    """Where absorption and scattering come from, best first."""

    MEASURED = "measured"
    PHOTOGRAPHED = "photographed"
    TWO_COLOURS = "two-colours"
    ONE_COLOUR = "one-colour"
    TYPICAL = "typical"

    @property
    def words(self) -> str:
        """The phrase shown beside every paint and prediction of that basis."""
        return _WORDS[self]


_WORDS = {
    Basis.MEASURED: "measured over two grounds",
    Basis.PHOTOGRAPHED: "from a photographed swatch",
    Basis.TWO_COLOURS: "from its colour over black and over white",
    Basis.ONE_COLOUR: "from one colour and its kind",
    Basis.TYPICAL: "typical, not measured",
}
