"""How colours are looked at, the painter's own numbers, and what the batch has recorded."""

from dataclasses import dataclass
from enum import StrEnum

from schemeforge import checks
from schemeforge.errors import InputError
from schemeforge.scheme.model import iso_date


class Finish(StrEnum):
    """Sheen of the surface, from most to least stray reflection at the eye."""

    MATT = "matt"
    UNVARNISHED = "unvarnished"
    SATIN = "satin"
    GLOSS = "gloss"


@dataclass(frozen=True, slots=True, kw_only=True)
class UserLight:
    """A light of the painter's own, as a spectral power distribution.

    Args:
        name: In words, not the name of a built-in light.
        wavelengths_nm: Rising, 2 to 2000 of them.
        power: Relative power, 0 or more, not all zero.
    """

    name: str
    wavelengths_nm: tuple[float, ...]
    power: tuple[float, ...]

    def __post_init__(self) -> None:
        checks.name(self.name, "Light")
        label = f'Light "{self.name}"'
        if len(self.wavelengths_nm) != len(self.power) or not 2 <= len(self.power) <= 2000:
            raise InputError(f"{label} needs as many powers as wavelengths, 2 to 2000")
        for nm in self.wavelengths_nm:
            checks.number(nm, f"{label}: wavelength", low=200.0, high=2000.0, unit="nm")
        for power in self.power:
            checks.number(power, f"{label}: power", low=0.0, high=1e12)
        pairs = zip(self.wavelengths_nm, self.wavelengths_nm[1:], strict=False)
        if any(b <= a for a, b in pairs) or not any(self.power):
            raise InputError(f"{label}: wavelengths must rise and some power be above zero")


@dataclass(frozen=True, slots=True, kw_only=True)
class Viewing:
    """How colours are looked at.

    Args:
        light: Name of a built-in light or of one of the project's own.
        observer: 2 or 10 degrees.
        finish: Sheen when dry.
        wet: True to see every coat as it looks before it dries.
        milk_per_um: Flat scattering of the milky wet binder per micrometre of wet paint and
            medium (rule of thumb, no source).
    """

    light: str = "D65"
    observer: int = 2
    finish: Finish = Finish.MATT
    wet: bool = False
    milk_per_um: float = 0.001

    def __post_init__(self) -> None:
        checks.name(self.light, "Light")
        if self.observer not in {2, 10}:
            raise InputError(f"Observer is {self.observer} degrees", remedy="choose 2 or 10")
        checks.number(self.milk_per_um, "Milkiness when wet", low=0.0, high=0.1)


class Way(StrEnum):
    """How the models of a batch take turns."""

    WHOLE_BATCH = "whole batch"
    SUB_BATCHES = "sub-batches"
    BY_GROUP = "group by group"


@dataclass(frozen=True, slots=True, kw_only=True)
class Habits:
    """The painter's own numbers for pots and sittings (common practice, no source).

    Args:
        waste: Factor on the computed volume: about 1.5 for a lidded pot, 2 for an open palette.
        stays_in_pot_ml: What cannot be got out of the pot.
        overspray: Share of sprayed paint that misses the model, 0 to 0.95.
        drop_ml: Volume of one drop.
        sub_batch: How many models are painted at a time.
        hands: How many people paint.
        hand_sigma: Standard deviation of the log of a coat's film, hand to hand.
        way: Each step on all models, on a few at a time, or one group after the other.
        mixing_minutes: Mixing one pot, once for the batch: 3 to 10.
        sitting_minutes: Laying out and packing up, once a sitting: 5 to 15.
        brush_change_minutes: Turning to another pot that is open already: rinse and pick up.
        spray_change_minutes: Cleaning the airbrush for another colour: 5 to 10.
        break_every_minutes: Work after which eyes and hands rest: 20 to 30.
        break_minutes: How long they rest; 0 for never.
    """

    waste: float = 1.5
    stays_in_pot_ml: float = 0.5
    overspray: float = 0.5
    drop_ml: float = 0.05
    sub_batch: int = 6
    hands: int = 1
    hand_sigma: float = 0.15
    way: Way = Way.SUB_BATCHES
    mixing_minutes: float = 5.0
    sitting_minutes: float = 10.0
    brush_change_minutes: float = 1.0
    spray_change_minutes: float = 7.0
    break_every_minutes: float = 25.0
    break_minutes: float = 5.0

    def __post_init__(self) -> None:
        checks.number(self.waste, "Waste factor", low=1.0, high=20.0)
        checks.number(self.stays_in_pot_ml, "Mix that stays in the pot", low=0.0, high=100.0)
        checks.number(self.overspray, "Overspray", low=0.0, high=0.95)
        checks.number(self.drop_ml, "Drop", low=0.005, high=1.0, unit="ml")
        checks.whole(self.sub_batch, "Sub-batch", low=1, high=1000)
        checks.whole(self.hands, "Hands", low=1, high=20)
        checks.number(self.hand_sigma, "Spread of the hand", low=0.0, high=1.0)
        for value, what, low, high in (
            (self.mixing_minutes, "Mixing a pot", 0.0, 120.0),
            (self.sitting_minutes, "Laying out and packing up", 0.0, 240.0),
            (self.brush_change_minutes, "Change of brush", 0.0, 60.0),
            (self.spray_change_minutes, "Change of sprayed colour", 0.0, 120.0),
            (self.break_every_minutes, "Work between breaks", 5.0, 1440.0),
            (self.break_minutes, "Break", 0.0, 120.0),
        ):
            checks.number(value, what, low=low, high=high, unit="min")


@dataclass(frozen=True, slots=True, kw_only=True)
class Sitting:
    """A session at the desk: id, ISO date or "", and its length in minutes."""

    id: str
    minutes: float
    day: str = ""

    def __post_init__(self) -> None:
        checks.identifier(self.id, "Sitting")
        checks.number(self.minutes, "Length of a sitting", low=1.0, high=1440.0, unit="min")
        if self.day:
            iso_date(self.day, "Day of a sitting")


@dataclass(frozen=True, slots=True, kw_only=True)
class Timing:
    """What was timed at the desk: that many models of a group took that many minutes.

    Args:
        minutes: Time at those models; 0 where they were done and nobody looked at the clock.
        at: When it ended, ISO 8601, or a remark.
        sitting_id: The sitting that it was done in, "" where that is not known or gone.
        is_test: True for test models, which tell the pace and are not part of the batch.
        technique: How it was laid then, "" where that is not told or was no coat.
        passes: How many passes that were, 0 where that is not told.
    """

    id: str
    scheme_id: str
    step_id: str
    group_id: str
    models: int
    minutes: float
    at: str = ""
    sitting_id: str = ""
    is_test: bool = False
    technique: str = ""
    passes: int = 0

    def __post_init__(self) -> None:
        for value in (self.id, self.scheme_id, self.step_id, self.group_id):
            checks.identifier(value, "Timing")
        checks.whole(self.models, "Models timed", low=1, high=10000)
        checks.number(self.minutes, "Minutes timed", low=0.0, high=100000.0)
        checks.note(self.at, "Time of a timing")
        checks.note(self.technique, "Technique of a timing")
        checks.whole(self.passes, "Passes of a timing", low=0, high=12)
        if self.sitting_id:
            checks.identifier(self.sitting_id, "Sitting of a timing")


@dataclass(frozen=True, slots=True, kw_only=True)
class Pin:
    """The painter's wish that a step of a scheme be done in one sitting."""

    scheme_id: str
    step_id: str
    sitting_id: str

    def __post_init__(self) -> None:
        for value in (self.scheme_id, self.step_id, self.sitting_id):
            checks.identifier(value, "Pinned step")


@dataclass(frozen=True, slots=True, kw_only=True)
class PotUse:
    """What was used of a pot so far: that many models of a group took that much.

    Args:
        group_id: The group that they belong to; "" for models of all groups alike.
        models: Models that have had everything that the pot serves.
        mixed_ml: What was mixed until then.
        left_ml: What is left of it.
    """

    id: str
    scheme_id: str
    mix_id: str
    group_id: str = ""
    models: int
    mixed_ml: float
    left_ml: float

    def __post_init__(self) -> None:
        for value in (self.id, self.scheme_id, self.mix_id):
            checks.identifier(value, "Use of a pot")
        if self.group_id:
            checks.identifier(self.group_id, "Use of a pot")
        checks.whole(self.models, "Models done from a pot", low=1, high=10000)
        checks.number(self.mixed_ml, "Mixed in a pot", low=0.0, high=100000.0, unit="ml")
        checks.number(self.left_ml, "Left in a pot", low=0.0, high=100000.0, unit="ml")
        if self.left_ml > self.mixed_ml:
            raise InputError(
                f"A pot has {self.left_ml:g} ml left of {self.mixed_ml:g} ml mixed",
                remedy="give no more than was mixed",
            )
