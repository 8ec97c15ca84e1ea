"""Numbers and times as the sheet writes them."""

from collections.abc import Sequence
from datetime import date

from schemeforge.export.facts import Facts
from schemeforge.export.sittings import SheetSitting
from schemeforge.plan import DropWarning, PlannedStep, Pot, Receiver, topping_up
from schemeforge.scheme import ReliefKind

GUIDE = "Printed colours are a guide only: trust the painted chip."


def duration(minutes: float) -> str:
    """Minutes, or hours and minutes from an hour on; days from two days on."""
    whole = round(minutes)
    if whole == 0 and minutes > 0.0:
        return f"{minutes:.1f} min"
    if whole < 60:
        return f"{whole} min"
    if whole < 2880:
        return f"{whole // 60} h {whole % 60:02d}" if whole % 60 else f"{whole // 60} h"
    return f"{whole / 1440.0:.1f} days"


def amount(value: float) -> str:
    """A volume or mass: enough digits to measure by."""
    return f"{value:.2f}" if value < 1.0 else f"{value:.1f}" if value < 100.0 else f"{value:.0f}"


def ranges(numbers: Sequence[int]) -> str:
    """Rising numbers with runs drawn together, for example ``1, 4 to 7``."""
    runs: list[list[int]] = []
    for number in numbers:
        if runs and number == runs[-1][-1] + 1:
            runs[-1].append(number)
        else:
            runs.append([number])
    return ", ".join(
        f"{run[0]} to {run[-1]}" if len(run) > 2 else ", ".join(map(str, run)) for run in runs
    )


def parts(value: float) -> str:
    """Parts of a mix without needless zeros."""
    return f"{value:g}"


def day(value: date) -> str:
    """A date that is read alike everywhere."""
    return value.isoformat()


def ratio(pot: Pot) -> str:
    """The mix in parts, for example ``1 : 2 : 2``."""
    return " : ".join(parts(a.parts) for a in pot.amounts)


def top_up(pot: Pot) -> str:
    """How to make a little more of the same mix: a tenth of the pot, at least 1 ml."""
    more = max(1.0, round(pot.ml / 10.0))
    amounts = topping_up(pot, more)
    counts = " + ".join(f"{a.whole_drops}" for a in amounts)
    return f"Top up by {more:g} ml: {counts} drops in the order above."


def in_all(pot: Pot) -> str:
    """How much of a pot there is."""
    return f"{amount(pot.ml)} ml in all"


def top_up_short(pot: Pot) -> str:
    """As ``top_up``, in as few words as can be."""
    more = max(1.0, round(pot.ml / 10.0))
    counts = " + ".join(f"{a.whole_drops}" for a in topping_up(pot, more))
    return f"Top up by {more:g} ml: {counts} drops"


def within(tolerance: float) -> str:
    """How far a printed colour may be from the painted one, CIEDE2000."""
    return f"{tolerance:.1f} dE"


def weigh(warning: DropWarning) -> str:
    """That a drop more or less would be seen, in one line."""
    if warning.change >= 1.0:
        return f"Weigh {warning.ingredient}: it is less than 1 drop"
    return f"Weigh {warning.ingredient}: 1 drop is {warning.change:.0%}"


def careful(warning: DropWarning) -> str:
    """That a drop more or less would be seen, and what to do about it."""
    if warning.change >= 1.0:
        matters = f"it takes no more than one drop of {warning.ingredient}"
    else:
        matters = f"one drop of {warning.ingredient} is {warning.change:.0%} of its strength"
    return f"Careful: {matters}; mix more, use a syringe or weigh it."


def wait(minutes: float) -> str:
    """How long to let a coat dry."""
    return duration(minutes) if minutes else "no wait"


def who(facts: Facts, step: PlannedStep) -> str:
    """Who gets a step, with how many models, and on which zone numbers where not on all."""
    if not step.models:
        return "nobody gets this step"
    if step.who == "all":
        return f"all {step.models} models" if step.models > 1 else "the one model"
    return ", ".join(_receiver(facts, step, receiver) for receiver in step.receivers)


def _receiver(facts: Facts, step: PlannedStep, receiver: Receiver) -> str:
    said = f"{receiver.name} {receiver.models}"
    if receiver.everywhere:
        return said
    zones = {
        facts.project.zone(zone_id).name: facts.numbers[zone_id] for zone_id in step.step.zone_ids
    }
    got = [number for name, number in zones.items() if name in receiver.zones]
    missed = [number for name, number in zones.items() if name not in receiver.zones]
    word, numbers = ("not", missed) if len(missed) < len(got) else ("only", got)
    return f"{said} ({word} zone {', '.join(map(str, numbers))})"


def sitting_name(entry: SheetSitting, *, many: bool) -> str:
    """What a sitting is called on the sheet."""
    if entry.sitting is None:
        return "Not in a sitting yet" if many else "All steps"
    name = f"Sitting {entry.number}"
    return f"{name}, {entry.sitting.day}" if entry.sitting.day else name


def relief(step: PlannedStep) -> str:
    """Where on the relief a coat goes, "" where it is even or no coat."""
    if step.step.coat is None:
        return ""
    kind = step.step.coat.placement.relief.kind
    return "" if kind is ReliefKind.EVEN else kind.value


def is_feathered(step: PlannedStep) -> bool:
    """True where a coat fades out along the part."""
    if step.step.coat is None:
        return False
    along_profile = step.step.coat.placement.along
    return bool(along_profile.feather_start or along_profile.feather_end)


def along(step: PlannedStep, root: str, tip: str) -> str:
    """Where along the part a coat lies and which way its wet edge is pulled, "" where even."""
    if step.step.coat is None or step.step.coat.placement.along.is_even:
        return ""
    profile = step.step.coat.placement.along
    first = profile.start + profile.feather_start
    last = profile.end - profile.feather_end
    said = f"Full from {first:.0%} to {last:.0%} of the way from {root}"
    if first >= last:
        said = f"Fullest {first:.0%} of the way from {root}"
    if profile.feather_start:
        said += f"; pull out towards {root} to {profile.start:.0%}"
    if profile.feather_end:
        said += f"; pull out towards {tip} to {profile.end:.0%}"
    return said
