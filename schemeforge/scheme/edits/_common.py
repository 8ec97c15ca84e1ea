"""What the edits share: replacing one item of a tuple, moving it, and new ids."""

from collections.abc import Callable, Iterable
from dataclasses import replace
from typing import TypeVar

from schemeforge import checks
from schemeforge.errors import InputError
from schemeforge.scheme.candidate import Scheme
from schemeforge.scheme.lookup import HasId, find
from schemeforge.scheme.project import Project

T = TypeVar("T", bound=HasId)


def swap(items: tuple[T, ...], new: T, kind: str) -> tuple[T, ...]:
    """The items with the one of the same id replaced; raises UnknownNameError."""
    find(items, new.id, kind)
    return tuple(new if item.id == new.id else item for item in items)


def drop(items: tuple[T, ...], item_id: str, kind: str) -> tuple[T, ...]:
    """The items without the one of that id; raises UnknownNameError."""
    find(items, item_id, kind)
    return tuple(item for item in items if item.id != item_id)


def insert(items: tuple[T, ...], new: T, at: int | None) -> tuple[T, ...]:
    """The items with a new one at that place, clipped to the ends; None for last."""
    place = len(items) if at is None else max(0, min(at, len(items)))
    return (*items[:place], new, *items[place:])


def move(items: tuple[T, ...], item_id: str, to: int, kind: str) -> tuple[T, ...]:
    """The items with one of them moved so that it stands at index ``to``, clipped."""
    item = find(items, item_id, kind)
    rest = drop(items, item_id, kind)
    return insert(rest, item, to)


def fresh_id(wanted: str, taken: Iterable[str]) -> str:
    """An id made of the wanted words that is not taken: "reed wash" gives "reed-wash"."""
    words = "".join(c if c.isascii() and c.isalnum() else "-" for c in wanted.lower())
    stem = "-".join(w for w in words.split("-") if w)[:48] or "item"
    used = set(taken)
    candidate, n = stem, 1
    while candidate in used:
        n += 1
        candidate = f"{stem}-{n}"
    return candidate


def fresh_name(wanted: str, taken: Iterable[str]) -> str:
    """The wanted name, cut where too long, with a number put behind it where it is taken."""
    used = set(taken)
    candidate, n = wanted[: checks.LONGEST_NAME], 1
    while candidate in used:
        n += 1
        number = f" {n}"
        candidate = wanted[: checks.LONGEST_NAME - len(number)] + number
    return candidate


def without_loose_records(project: Project) -> Project:
    """The project without records of steps, schemes or groups that are gone."""
    groups = {group.id for group in project.groups}
    steps = {(scheme.id, step.id) for scheme in project.schemes for step in scheme.steps}
    timings = tuple(
        t for t in project.timings if t.group_id in groups and (t.scheme_id, t.step_id) in steps
    )
    uses = tuple(u for u in project.pot_uses if not u.group_id or u.group_id in groups)
    schemes = {scheme.id for scheme in project.schemes}
    zones = {zone.id for zone in project.zones}
    evidence = tuple(
        e
        for e in project.evidence
        if e.scheme_id in schemes and e.zone_id in zones and e.group_id in {"", *groups}
    )
    if (timings, uses, evidence) == (project.timings, project.pot_uses, project.evidence):
        return project
    return replace(project, timings=timings, pot_uses=uses, evidence=evidence)


def with_schemes(project: Project, schemes: tuple[Scheme, ...]) -> Project:
    """The project with other schemes, without pins of steps and uses of pots that are gone."""
    steps = {(scheme.id, step.id) for scheme in schemes for step in scheme.steps}
    pins = tuple(pin for pin in project.pins if (pin.scheme_id, pin.step_id) in steps)
    mixes = {(scheme.id, mix.id) for scheme in schemes for mix in scheme.mixes}
    uses = tuple(use for use in project.pot_uses if (use.scheme_id, use.mix_id) in mixes)
    return replace(project, schemes=schemes, pins=pins, pot_uses=uses)


def with_scheme(project: Project, scheme_id: str, change: Callable[[Scheme], Scheme]) -> Project:
    """The project with one scheme changed."""
    new = change(project.scheme(scheme_id))
    if new.id != scheme_id:
        raise InputError("A scheme's id cannot be changed")
    return with_schemes(project, swap(project.schemes, new, "scheme"))
