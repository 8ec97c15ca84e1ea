"""The project document: what is painted, the candidate schemes, and pure edits of them."""

from schemeforge.scheme.candidate import Scheme, Share, ShareKind
from schemeforge.scheme.evidence import CoatStrength, Evidence
from schemeforge.scheme.model import (
    AreaBasis,
    Build,
    Facing,
    Group,
    ModelSize,
    Surfacing,
    Zone,
)
from schemeforge.scheme.placement import AlongProfile, Placement, ReliefKind, ReliefProfile
from schemeforge.scheme.project import Project
from schemeforge.scheme.settings import (
    Finish,
    Habits,
    Pin,
    PotUse,
    Sitting,
    Timing,
    UserLight,
    Viewing,
    Way,
)
from schemeforge.scheme.stack import coloured_steps, groups_getting, models_getting, zone_steps
from schemeforge.scheme.steps import (
    Coat,
    Ingredient,
    Layer,
    Mix,
    Primer,
    Spray,
    Step,
    Technique,
    Work,
    WorkKind,
)

__all__ = [
    "AlongProfile",
    "AreaBasis",
    "Build",
    "Coat",
    "CoatStrength",
    "Evidence",
    "Facing",
    "Finish",
    "Group",
    "Habits",
    "Ingredient",
    "Layer",
    "Mix",
    "ModelSize",
    "Pin",
    "Placement",
    "PotUse",
    "Primer",
    "Project",
    "ReliefKind",
    "ReliefProfile",
    "Scheme",
    "Share",
    "ShareKind",
    "Sitting",
    "Spray",
    "Step",
    "Surfacing",
    "Technique",
    "Timing",
    "UserLight",
    "Viewing",
    "Way",
    "Work",
    "WorkKind",
    "Zone",
    "coloured_steps",
    "groups_getting",
    "models_getting",
    "zone_steps",
]
