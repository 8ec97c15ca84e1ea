"""A candidate scheme: pots, steps in painting order, and who gets what."""

from collections.abc import Iterable
from dataclasses import dataclass
from enum import StrEnum

from schemeforge import checks
from schemeforge.errors import InputError, UnknownNameError
from schemeforge.scheme.lookup import find
from schemeforge.scheme.steps import Mix, Primer, Spray, Step, Work

MOST_STEPS = 200


class ShareKind(StrEnum):
    """What a group gets on a zone."""

    FULL = "full"
    SHORT = "short"
    OWN = "own stack"
    NONE = "none"


@dataclass(frozen=True, slots=True, kw_only=True)
class Share:
    """One cell of who gets what; a cell that is not listed is full.

    Args:
        group_id: The group.
        zone_id: The zone.
        kind: Full, short, its own stack, or none.
        step_ids: With short, the coats left out; with its own stack, the steps it gets.
    """

    group_id: str
    zone_id: str
    kind: ShareKind
    step_ids: tuple[str, ...] = ()

    def __post_init__(self) -> None:
        checks.unique(self.step_ids, "Step in who gets what")


@dataclass(frozen=True, slots=True, kw_only=True)
class Scheme:
    """A candidate: mixes, steps in painting order, and who gets what.

    Args:
        id: Stable id within the project.
        name: In words.
        mixes: Its pots.
        steps: In the order in which the batch is painted.
        shares: Cells of who gets what that are not full.
        note: What it is after.
    """

    id: str
    name: str
    mixes: tuple[Mix, ...] = ()
    steps: tuple[Step, ...] = ()
    shares: tuple[Share, ...] = ()
    note: str = ""

    def __post_init__(self) -> None:
        checks.identifier(self.id, "Scheme")
        checks.name(self.name, "Scheme")
        label = f'Scheme "{self.name}"'
        checks.note(self.note, f"{label}: note")
        if len(self.steps) > MOST_STEPS or len(self.mixes) > MOST_STEPS:
            raise InputError(f"{label} has more than {MOST_STEPS} steps or mixes")
        checks.unique((mix.id for mix in self.mixes), f"{label}: mix")
        checks.unique((step.id for step in self.steps), f"{label}: step")
        checks.unique((f"{s.group_id} {s.zone_id}" for s in self.shares), f"{label}: who gets what")
        known = [mix.id for mix in self.mixes]  # in order, so that a refusal reads alike each time
        for step in self.steps:
            if step.mix_id is not None and step.mix_id not in known:
                raise UnknownNameError("mix", step.mix_id, known, where=f'Step "{step.name}"')
        _check_undercoats(label, self.steps)

    def mix(self, mix_id: str) -> Mix:
        """The mix of that id; raises UnknownNameError."""
        return find(self.mixes, mix_id, "mix", f'Scheme "{self.name}"')

    def step(self, step_id: str) -> Step:
        """The step of that id; raises UnknownNameError."""
        return find(self.steps, step_id, "step", f'Scheme "{self.name}"')

    def share(self, group_id: str, zone_id: str) -> Share:
        """The cell for that group and zone; full where none is listed."""
        for share in self.shares:
            if (share.group_id, share.zone_id) == (group_id, zone_id):
                return share
        return Share(group_id=group_id, zone_id=zone_id, kind=ShareKind.FULL)


def _check_undercoats(label: str, steps: Iterable[Step]) -> None:
    """Raises where a zone is primed over a coat, or sprayed twice or over a coat."""
    reached: dict[str, int] = {}
    for step in steps:
        layer = step.layer
        if isinstance(layer, Work):
            continue
        level = 1 if isinstance(layer, Primer) else 2 if isinstance(layer, Spray) else 3
        for zone_id in step.zone_ids:
            below = reached.get(zone_id, 0)
            if level <= below and level < 3:
                what = "primed" if level == 1 else "sprayed from above"
                raise InputError(
                    f'{label}: zone "{zone_id}" is {what} over a later layer by "{step.name}"',
                    remedy="move that step before the coats, or use an airbrushed coat instead",
                )
            reached[zone_id] = max(below, level)
