"""Stand-in models: pictures of a scheme as it will stand on the table, made by our own code."""

from schemeforge.stand_in.catalogue import WARDEN, Model, model, model_names
from schemeforge.stand_in.exposure import SprayCone
from schemeforge.stand_in.legibility import Apart, apart_at
from schemeforge.stand_in.mapping import zones_worn
from schemeforge.stand_in.part import Part, Slot
from schemeforge.stand_in.pictures import Picture, picture_of, render, worn
from schemeforge.stand_in.ranks import by_another_hand, formation, members, row, split, stages_after
from schemeforge.stand_in.shading import LightDirection
from schemeforge.stand_in.store import AZIMUTHS, StandIns
from schemeforge.stand_in.turned import turned_picture
from schemeforge.stand_in.turning import Turntable
from schemeforge.stand_in.views import Turn, View

__all__ = [
    "AZIMUTHS",
    "WARDEN",
    "Apart",
    "LightDirection",
    "Model",
    "Part",
    "Picture",
    "Slot",
    "SprayCone",
    "StandIns",
    "Turn",
    "Turntable",
    "View",
    "apart_at",
    "by_another_hand",
    "formation",
    "members",
    "model",
    "model_names",
    "picture_of",
    "render",
    "row",
    "split",
    "stages_after",
    "turned_picture",
    "worn",
    "zones_worn",
]
