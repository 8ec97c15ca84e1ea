"""The stand-in models there are, by name."""

from dataclasses import dataclass
from functools import lru_cache
from hashlib import sha256
from pathlib import Path
from typing import Final

from schemeforge.errors import UnknownNameError
from schemeforge.stand_in import simple_shapes, warden_body, warden_gear, warden_plates
from schemeforge.stand_in.part import Part, Slot
from schemeforge.stand_in.solid import Solid
from schemeforge.stand_in.tracing import Frame
from schemeforge.stand_in.warden_plates import LAMP

# The files that say what a model looks like: what is kept on disk is kept for these very ones.
_FORM: Final = (
    "fields",
    "patterns",
    "part",
    "solid",
    "tracing",
    "surface",
    "exposure",
    "views",
    "cloud",
    "simple_shapes",
    "warden_body",
    "warden_gear",
    "warden_plates",
    "catalogue",
)


@dataclass(frozen=True, slots=True)
class Model:
    """A stand-in model.

    Args:
        name: In words, one of a kind.
        parts: What it is made of.
        frame: What its pictures take in.
    """

    name: str
    parts: tuple[Part, ...]
    frame: Frame

    def solid(self) -> Solid:
        """Its distances, made ready for tracing."""
        return Solid(self.parts, *self.frame.box)


WARDEN: Final = Model(
    "warden",
    (*warden_body.parts(), *warden_plates.parts(), *warden_gear.parts()),
    Frame(middle=23.5, span=56.0, reach=38.0, half=18.5, top=48.5),
)
_LANTERN_PARTS: Final = tuple(
    part.moved((-LAMP[0], 8.0 - LAMP[1], -LAMP[2]), Slot.LANTERN)
    for part in (*warden_plates.parts(), *warden_gear.parts())
    if part.name in {"lantern", "lantern frame"}
)
_MODELS: Final = (
    WARDEN,
    Model("limb", simple_shapes.LIMB, Frame(16.5, 50.0, 30.0, 12.0, 40.5)),
    Model("ribbed plate", simple_shapes.PLATE, Frame(16.0, 32.0, 26.0, 13.0, 31.0)),
    Model("flat shield", simple_shapes.SHIELD, Frame(15.0, 34.0, 26.0, 13.0, 31.0)),
    Model("cloak", simple_shapes.CLOAK, Frame(18.0, 37.0, 28.0, 14.5, 36.0)),
    Model("lantern", _LANTERN_PARTS, Frame(9.1, 11.5, 14.0, 4.5, 15.5)),
    Model("sphere", simple_shapes.SPHERE, Frame(16.0, 33.0, 20.0, 16.0, 32.0)),
    Model("round base", simple_shapes.BASE, Frame(1.8, 34.0, 20.0, 17.0, 6.0)),
)


def model_names() -> tuple[str, ...]:
    """Names of all models, the whole warden first."""
    return tuple(model.name for model in _MODELS)


def model(name: str) -> Model:
    """The model of that name; raises UnknownNameError."""
    for one in _MODELS:
        if one.name == name:
            return one
    raise UnknownNameError("stand-in model", name, model_names())


@lru_cache(maxsize=1)
def form_digest() -> str:
    """Twelve digits that change whenever the models' form may have changed."""
    text = sha256()
    for name in _FORM:
        text.update((Path(__file__).parent / f"{name}.py").read_bytes())
    return text.hexdigest()[:12]
