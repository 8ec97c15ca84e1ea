"""What is painted: the model's size, its zones, and the groups of the batch."""

import math
from dataclasses import dataclass
from datetime import date
from enum import StrEnum

from schemeforge import checks
from schemeforge.errors import InputError, shown

RIM_HEIGHT_MM = 3.5


class Build(StrEnum):
    """How bulky a model of 28 to 32 mm is."""

    SLIM = "slim"
    MEDIUM = "medium"
    BULKY = "bulky"


# Painted surface of one model in cm2 without its base: middle of the ranges 12-25 (slim) and
# 20-35 (bulky), derived from model heights; medium lies between. Starting values.
_BODY_CM2 = {Build.SLIM: 18.0, Build.MEDIUM: 23.0, Build.BULKY: 28.0}


@dataclass(frozen=True, slots=True, kw_only=True)
class ModelSize:
    """Round base diameter in mm and build, from which areas are estimated."""

    base_mm: float = 32.0
    build: Build = Build.MEDIUM

    def __post_init__(self) -> None:
        checks.number(self.base_mm, "Base diameter", low=10.0, high=300.0, unit="mm")

    @property
    def body_cm2(self) -> float:
        """Painted surface of the model without base, cm2; grows with the base's area."""
        return _BODY_CM2[self.build] * (self.base_mm / 32.0) ** 2

    @property
    def base_top_cm2(self) -> float:
        """Top of the round base, cm2."""
        return math.pi * self.base_mm**2 / 400.0

    @property
    def rim_cm2(self) -> float:
        """Side of the round base, 3.5 mm high, cm2."""
        return math.pi * self.base_mm * RIM_HEIGHT_MM / 100.0


class AreaBasis(StrEnum):
    """Where a zone's area comes from."""

    BY_HAND = "by hand"
    BODY_SHARE = "share of the body"
    BASE_TOP = "base top"
    RIM = "rim"


class Surfacing(StrEnum):
    """What the zone's surface is like; flat panels show pools and tide marks."""

    FLAT = "flat panel"
    FOLDED = "folded"
    TEXTURED = "textured"


class Facing(StrEnum):
    """Where the zone mostly faces, which says how much of a spray from above it gets."""

    UP = "up"
    SIDE = "sideways"
    DOWN = "down"


# Tone at the zone's recesses and at its raised edges (rule of thumb, no source).
_TONE_RANGE = {Facing.UP: (0.0, 1.0), Facing.SIDE: (0.0, 0.7), Facing.DOWN: (0.0, 0.3)}


@dataclass(frozen=True, slots=True, kw_only=True)
class Zone:
    """A part of every model that is painted alike.

    Args:
        id: Stable id.
        name: In words.
        area_basis: Where the area comes from.
        area_cm2: Area by hand, cm2 on one model; used with ``AreaBasis.BY_HAND``.
        body_share: Share of the body's surface, 0 to 1; used with ``AreaBasis.BODY_SHARE``.
        surfacing: Flat panel, folded or textured.
        facing: Up, sideways or down.
        tone_range: Tone of its recesses and of its raised edges where the painter knows better
            than the default for the facing; None for the default.
        touches: Ids of the zones that it borders on.
        along_words: What root and tip mean here, for the sheet.
    """

    id: str
    name: str
    area_basis: AreaBasis = AreaBasis.BY_HAND
    area_cm2: float = 4.0
    body_share: float = 0.2
    surfacing: Surfacing = Surfacing.FOLDED
    facing: Facing = Facing.UP
    tone_range: tuple[float, float] | None = None
    touches: tuple[str, ...] = ()
    along_words: tuple[str, str] = ("root", "tip")

    def __post_init__(self) -> None:
        checks.identifier(self.id, "Zone")
        checks.name(self.name, "Zone")
        label = f'Zone "{self.name}"'
        checks.number(self.area_cm2, f"{label}: area", low=0.01, high=100000.0, unit="cm2")
        checks.number(self.body_share, f"{label}: share of the body", low=0.0, high=1.0)
        if self.tone_range is not None:
            for tone in self.tone_range:
                checks.number(tone, f"{label}: tone", low=0.0, high=1.0)
            if self.tone_range[0] > self.tone_range[1]:
                raise InputError(f"{label}: its recesses are lighter than its edges")
        checks.unique(self.touches, f"{label}: neighbour")
        if self.id in self.touches:
            raise InputError(f"{label} touches itself", remedy="remove it from its neighbours")
        for word in self.along_words:
            checks.name(word, f"{label}: end of the part")

    def area_on(self, size: ModelSize) -> float:
        """Area on one model of that size, cm2."""
        if self.area_basis is AreaBasis.BODY_SHARE:
            return self.body_share * size.body_cm2
        if self.area_basis is AreaBasis.BASE_TOP:
            return size.base_top_cm2
        if self.area_basis is AreaBasis.RIM:
            return size.rim_cm2
        return self.area_cm2

    @property
    def tones(self) -> tuple[float, float]:
        """Tone of the zone's recesses and of its raised edges, 0 to 1 each."""
        return self.tone_range if self.tone_range is not None else _TONE_RANGE[self.facing]


@dataclass(frozen=True, slots=True, kw_only=True)
class Group:
    """Models of the batch that are treated alike.

    Args:
        id: Stable id.
        name: In words.
        count: How many models, 0 to 10000.
        priority: 1 is finished first.
        needed_by: ISO 8601 date, or "" where there is none.
        note: Any remark.
    """

    id: str
    name: str
    count: int
    priority: int = 1
    needed_by: str = ""
    note: str = ""

    def __post_init__(self) -> None:
        checks.identifier(self.id, "Group")
        checks.name(self.name, "Group")
        label = f'Group "{self.name}"'
        checks.whole(self.count, f"{label}: number of models", low=0, high=10000)
        checks.whole(self.priority, f"{label}: priority", low=1, high=99)
        checks.note(self.note, f"{label}: note")
        if self.needed_by:
            iso_date(self.needed_by, f"{label}: needed by")


def iso_date(value: str, what: str) -> date:
    """The date written as YYYY-MM-DD; raises InputError otherwise."""
    try:
        day = date.fromisoformat(value)
    except (TypeError, ValueError):
        day = None
    if day is None or day.isoformat() != value:  # Python also reads week dates and the like
        raise InputError(f'{what} is "{shown(str(value))}"', remedy="write the date as YYYY-MM-DD")
    return day
