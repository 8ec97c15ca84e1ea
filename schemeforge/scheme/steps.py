"""Steps of a scheme: a layer with a predicted colour, or work without one."""

from dataclasses import dataclass, field
from enum import StrEnum

from schemeforge import checks
from schemeforge.errors import InputError
from schemeforge.scheme.placement import Placement

MOST_INGREDIENTS = 8
THICKEST_UM = 1000.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Ingredient:
    """A share of a mix: parts by volume of one paint, medium or water."""

    paint_id: str
    parts: float

    def __post_init__(self) -> None:
        checks.identifier(self.paint_id, "Ingredient")
        checks.number(self.parts, f'Parts of "{self.paint_id}"', low=0.0, high=1000.0)
        if self.parts == 0.0:
            raise InputError(
                f'Parts of "{self.paint_id}" are zero', remedy="give more than zero or remove it"
            )


@dataclass(frozen=True, slots=True, kw_only=True)
class Mix:
    """A named mix, one pot of which may serve several steps.

    Args:
        id: Stable id within the scheme.
        name: As it is written on the pot.
        ingredients: Paints, medium and water in parts by volume, each at most once.
        note: The painter's own remark.
    """

    id: str
    name: str
    ingredients: tuple[Ingredient, ...]
    note: str = ""

    def __post_init__(self) -> None:
        checks.identifier(self.id, "Mix")
        checks.name(self.name, "Mix")
        checks.note(self.note, f'Mix "{self.name}": note')
        if not 1 <= len(self.ingredients) <= MOST_INGREDIENTS:
            raise InputError(
                f'Mix "{self.name}" has {len(self.ingredients)} ingredients',
                remedy=f"give 1 to {MOST_INGREDIENTS}",
            )
        checks.unique((i.paint_id for i in self.ingredients), f'Mix "{self.name}": ingredient')

    @property
    def total_parts(self) -> float:
        """Sum of all parts, water included."""
        return sum(i.parts for i in self.ingredients)

    def parts_of(self, paint_id: str) -> float:
        """Parts of one ingredient, 0 where the mix has none of it."""
        return next((i.parts for i in self.ingredients if i.paint_id == paint_id), 0.0)


class Technique(StrEnum):
    """How a coat is laid; each has its trade defaults in ``techniques``."""

    BASE_COAT = "base coat"
    LAYER = "layer"
    GLAZE = "glaze"
    FEATHERED_GLAZE = "feathered glaze"
    WASH = "wash"
    FILTER = "filter"
    STAIN = "stain"
    DRY_BRUSH = "dry brush"
    EDGE_HIGHLIGHT = "edge highlight"
    AIRBRUSH = "airbrush"


@dataclass(frozen=True, slots=True, kw_only=True)
class Primer:
    """The first layer, opaque: the ground of all that follows is its masstone."""

    mix_id: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Spray:
    """The off-white sprayed from above; tone is the share of its peak that a spot received.

    Args:
        mix_id: What is sprayed.
        peak_um: Wet film of the mix at tone 1, micrometres.
        droplet_um: Wet film that one droplet leaves where it lands, micrometres.
        spread_n: Yule-Nielsen n for light that spreads between droplets, 1 to 10.
    """

    mix_id: str
    peak_um: float = 40.0
    droplet_um: float = 8.0
    spread_n: float = 1.0

    def __post_init__(self) -> None:
        checks.number(self.peak_um, "Spray at its peak", low=0.0, high=THICKEST_UM, unit="um")
        checks.number(self.droplet_um, "Droplet film", low=0.1, high=200.0, unit="um")
        checks.number(self.spread_n, "Light spread n", low=1.0, high=10.0)


@dataclass(frozen=True, slots=True, kw_only=True)
class Coat:
    """A translucent or opaque coat.

    Args:
        mix_id: What is laid.
        technique: How it is laid.
        wet_um: Wet film of one pass where the coat is laid, micrometres.
        passes: How many passes, 1 to 12.
        placement: Where it goes.
    """

    mix_id: str
    technique: Technique = Technique.GLAZE
    wet_um: float = 25.0
    passes: int = 1
    placement: Placement = field(default_factory=Placement)

    def __post_init__(self) -> None:
        checks.number(self.wet_um, "Wet film", low=0.0, high=THICKEST_UM, unit="um")
        checks.whole(self.passes, "Passes", low=1, high=12)


class WorkKind(StrEnum):
    """Work without a predicted colour."""

    CLEANING = "cleaning and mounting"
    ASSEMBLY = "assembly"
    TEXTURE = "texture"
    METALLIC = "metallic"
    DETAIL = "small details"
    DECAL = "decal"
    VARNISH = "varnish"
    OTHER = "other work"


@dataclass(frozen=True, slots=True, kw_only=True)
class Work:
    """A step whose colour is not predicted ("trust the chip") but which takes time.

    Args:
        kind: What sort of work.
        sprayed: True where it comes out of a can or an airbrush, for the cautions.
    """

    kind: WorkKind = WorkKind.OTHER
    sprayed: bool = False


Layer = Primer | Spray | Coat | Work


@dataclass(frozen=True, slots=True, kw_only=True)
class Step:
    """One entry of a scheme's list, in the order in which a batch is painted.

    Args:
        id: Stable id within the scheme.
        name: What the painter calls it.
        layer: What is laid or done.
        zone_ids: Zones that it touches; empty only for work on the whole model.
        minutes_per_model: Time at one model; None for the trade's default.
        set_up_minutes: Time once a sitting for setting up; None for the trade's default.
        wait_minutes: Drying before the next coat on the same zone; None for the default.
        by_name_only: True where only groups whose own stack names it receive it.
        keep_out: What must not be touched, in words.
        look_for: What right looks like; with ``cure`` what wrong looks like and its cure.
        cure: See ``look_for``.
        note: Any other remark.
    """

    id: str
    name: str
    layer: Layer
    zone_ids: tuple[str, ...] = ()
    minutes_per_model: float | None = None
    set_up_minutes: float | None = None
    wait_minutes: float | None = None
    by_name_only: bool = False
    keep_out: str = ""
    look_for: str = ""
    cure: str = ""
    note: str = ""

    def __post_init__(self) -> None:
        checks.identifier(self.id, "Step")
        checks.name(self.name, "Step")
        label = f'Step "{self.name}"'
        checks.unique(self.zone_ids, f"{label}: zone")
        if not self.zone_ids and not isinstance(self.layer, Work):
            raise InputError(f"{label} touches no zone", remedy="name at least one zone")
        for value, what, high in (
            (self.minutes_per_model, "minutes a model", 600.0),
            (self.set_up_minutes, "minutes to set up", 600.0),
            (self.wait_minutes, "minutes to wait", 20160.0),
        ):
            if value is not None:
                checks.number(value, f"{label}: {what}", low=0.0, high=high)
        for text in (self.keep_out, self.look_for, self.cure, self.note):
            checks.note(text, f"{label}: text")

    @property
    def mix_id(self) -> str | None:
        """Id of the mix that it lays, None for work without a predicted colour."""
        return None if isinstance(self.layer, Work) else self.layer.mix_id

    @property
    def coat(self) -> Coat | None:
        """Its layer where that is a coat, else None."""
        return self.layer if isinstance(self.layer, Coat) else None
