"""What a schedule is made of: stretches of one step, sittings, and when groups are finished."""

from dataclasses import dataclass
from datetime import date

from schemeforge.scheme import Group, Sitting, Step


@dataclass(frozen=True, slots=True, kw_only=True)
class GroupModels:
    """Some models of a group, by their place in it from 0; a fraction where one is half done."""

    group: Group
    first: int
    models: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Stretch:
    """One step done in one go within a sitting.

    Args:
        step: The step.
        number: Its place in painting order, from 1.
        layer_pass: Which pass, from 1.
        passes: Of how many.
        hands: Whose hands, from 0.
        models: The models, in the order in which they are taken.
        begin: Minutes into the sitting when setting up begins.
        start: When work at the models begins; between lie set-up, rest and wait.
        end: When it ends, breaks included.
        set_up_minutes: Setting up, mixing, turning to it.
        wait_minutes: How long hands wait for paint before they start.
        breaks: Begin and end of each rest in it, minutes into the sitting.
        mix_id: The pot that has to be mixed for it now, "" for none.
        dry_after: Minutes that the last model dries.
    """

    step: Step
    number: int
    layer_pass: int
    passes: int
    hands: int
    models: tuple[GroupModels, ...]
    begin: float
    start: float
    end: float
    set_up_minutes: float
    wait_minutes: float
    breaks: tuple[tuple[float, float], ...]
    mix_id: str
    dry_after: float

    @property
    def count(self) -> float:
        """How many models."""
        return sum(part.models for part in self.models)

    @property
    def minutes(self) -> float:
        """From setting up to the end."""
        return self.end - self.begin

    @property
    def name(self) -> str:
        """The step's name, with the pass where there are several."""
        if self.passes == 1:
            return self.step.name
        return f"{self.step.name}, pass {self.layer_pass} of {self.passes}"


@dataclass(frozen=True, slots=True, kw_only=True)
class SittingPlan:
    """What is done in a sitting.

    Args:
        number: From 1, over all that are still to come.
        sitting: The document's sitting; None for one that is not planned.
        day: Its date, None where none is known.
        minutes: What is left of its length, laying out included; one pair of hands.
        laying_out: Minutes of it that go to laying out and packing up.
        begin: When hands can begin, in minutes on the axis.
        stretches: In the order of time.
        worked: Minutes that hands work or rest between work, setting up included.
        waited: Minutes that hands wait for paint to dry.
        spare: Minutes left at its end.
    """

    number: int
    sitting: Sitting | None
    day: date | None
    minutes: float
    laying_out: float
    begin: float
    stretches: tuple[Stretch, ...]
    worked: float
    waited: float
    spare: float

    @property
    def is_planned(self) -> bool:
        """False for a sitting that the painter has not got."""
        return self.sitting is not None

    @property
    def name(self) -> str:
        """Its number and date."""
        planned = "" if self.is_planned else ", not planned"
        return f"sitting {self.number}{day_words(self.day, ' on ')}{planned}"


@dataclass(frozen=True, slots=True, kw_only=True)
class GroupFinish:
    """When a group is finished.

    Args:
        group: The group.
        sitting: Number of the sitting in which its last model leaves the hands; 0 where nothing
            is left to do.
        end: Minute on the axis when it does.
        ready: Minute when it is dry, too.
        ready_day: That day, None where no date is known.
        late_days: Days after the date that it is needed by, 0 where in time, None without date.
        in_sittings: False where it needs sittings that are not planned.
    """

    group: Group
    sitting: int
    end: float
    ready: float
    ready_day: date | None
    late_days: int | None
    in_sittings: bool

    @property
    def is_late(self) -> bool:
        """True where it is ready after its date, or not within the sittings."""
        return bool(self.late_days) or not self.in_sittings

    @property
    def sentence(self) -> str:
        """When it is ready, and how that stands to its date."""
        name = sentence_case(self.group.name)
        if not self.sitting:
            return f"{name}: done."
        head = f"{name}: off the desk in sitting {self.sitting}"
        if self.ready_day is not None:
            head += f", dry{day_words(self.ready_day, ' on ')}"
        if not self.in_sittings:
            head += ", which is beyond the sittings planned"
        if self.late_days is None:
            return f"{head}."
        if self.late_days:
            return f"{head}: {count_words(self.late_days, 'day')} late."
        return f"{head}: in time."


@dataclass(frozen=True, slots=True, kw_only=True)
class Spill:
    """Models of a pinned step that do not get into its sitting."""

    step: Step
    models: float
    minutes: float
    sittings: tuple[int, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Overfull:
    """A finding: more is pinned to a sitting than it holds.

    Args:
        number: The sitting's number, 0 where it is over.
        sitting: The sitting.
        pinned_minutes: What is pinned to it takes so long, laying out, setting up, mixing and
            breaks included.
        over_minutes: By how much that is too long.
        spills: What runs into later sittings.
        end: When the batch ends, in words.
    """

    number: int
    sitting: Sitting
    pinned_minutes: float
    over_minutes: float
    spills: tuple[Spill, ...]
    end: str

    @property
    def sentence(self) -> str:
        """By how much it is overfull and what follows."""
        if not self.number:
            return (
                f"A sitting{_of_day(self.sitting)} is over, and "
                f"{hours(self.pinned_minutes)} of work are still pinned to it; unpin them or pin "
                "them to another."
            )
        name = f"Sitting {self.number}{_of_day(self.sitting)}"
        head = (
            f"{name} is overfull: what is pinned to it takes {hours(self.pinned_minutes)}, "
            f"it has {hours(self.pinned_minutes - self.over_minutes)}: "
            f"{hours(self.over_minutes)} too much."
        )
        runs = [
            f"{spill.step.name} of {models_words(spill.models)} into "
            f"{'sitting' if len(spill.sittings) == 1 else 'sittings'} "
            f"{' and '.join(map(str, spill.sittings))}"
            for spill in self.spills
        ]
        follows = f" Left as it is, {' and '.join(runs)} must go over;" if runs else ""
        return f"{head}{follows} {self.end}" if follows else head


def day_words(day: date | None, before: str = "") -> str:
    """The date as YYYY-MM-DD after the given words, "" for none."""
    return "" if day is None else f"{before}{day.isoformat()}"


def hours(minutes: float) -> str:
    """Minutes as a person says them: "45 min" under two hours, else "3.5 h"."""
    return f"{minutes:.0f} min" if minutes < 119.5 else f"{minutes / 60.0:.1f} h"


def models_words(models: float) -> str:
    """So many models, in words."""
    return count_words(models, "model")


def count_words(count: float, noun: str) -> str:
    """A number and its noun: "1 day", "2 days", "0.5 models"."""
    return f"{count:.3g} {noun}" if count == 1.0 else f"{count:.3g} {noun}s"


def sentence_case(text: str) -> str:
    """The text with a capital at its head."""
    return text[:1].upper() + text[1:]


def _of_day(sitting: Sitting) -> str:
    return f" on {sitting.day}" if sitting.day else ""
