"""Edits of the project as a whole: its name, viewing, habits, paints, lights, records."""

from collections.abc import Iterable
from dataclasses import replace

from schemeforge.errors import InputError
from schemeforge.paint import Paint
from schemeforge.scheme.edits._common import drop, insert, swap
from schemeforge.scheme.project import Project
from schemeforge.scheme.settings import (
    Habits,
    Pin,
    PotUse,
    Sitting,
    Timing,
    UserLight,
    Viewing,
)


def rename_project(project: Project, name: str) -> Project:
    """Another name for the project."""
    return replace(project, name=name)


def set_project_note(project: Project, note: str) -> Project:
    """Another note on the project."""
    return replace(project, note=note)


def set_viewing(project: Project, viewing: Viewing) -> Project:
    """Another light, observer or finish, or wet instead of dry."""
    return replace(project, viewing=viewing)


def set_habits(project: Project, habits: Habits) -> Project:
    """Other numbers for pots and sittings."""
    return replace(project, habits=habits)


def add_light(project: Project, light: UserLight) -> Project:
    """A light of the painter's own, or another spectrum for the one of that name."""
    others = tuple(known for known in project.lights if known.name != light.name)
    return replace(project, lights=(*others, light))


def put_paint(project: Project, paint: Paint) -> Project:
    """The project carrying that paint: added, or in place of the one of the same id."""
    if any(known.id == paint.id for known in project.paints):
        return replace(project, paints=swap(project.paints, paint, "paint"))
    return replace(project, paints=insert(project.paints, paint, None))


def remove_paint(project: Project, paint_id: str) -> Project:
    """Without a paint that no mix uses; raises InputError where one does."""
    paint = project.paint(paint_id)
    if project.is_used(paint_id):
        raise InputError(
            f'"{paint.name}" is in a mix', remedy="take it out of every mix before removing it"
        )
    return replace(project, paints=drop(project.paints, paint_id, "paint"))


def add_sitting(project: Project, sitting: Sitting, at: int | None = None) -> Project:
    """One more session at the desk."""
    return replace(project, sittings=insert(project.sittings, sitting, at))


def update_sitting(project: Project, sitting: Sitting) -> Project:
    """Another day or length for a session."""
    return replace(project, sittings=swap(project.sittings, sitting, "sitting"))


def remove_sitting(project: Project, sitting_id: str) -> Project:
    """One session less; nothing is pinned to it any more, and its timings stay without it."""
    timings = tuple(
        replace(timing, sitting_id="") if timing.sitting_id == sitting_id else timing
        for timing in project.timings
    )
    return replace(
        project,
        sittings=drop(project.sittings, sitting_id, "sitting"),
        pins=tuple(pin for pin in project.pins if pin.sitting_id != sitting_id),
        timings=timings,
    )


def add_timing(project: Project, timing: Timing) -> Project:
    """One more record of minutes taken."""
    return replace(project, timings=insert(project.timings, timing, None))


def put_timings(project: Project, timings: Iterable[Timing]) -> Project:
    """Records of minutes taken, each added or put in place of the one of the same id."""
    new = {timing.id: timing for timing in timings}
    kept = tuple(new.pop(timing.id, timing) for timing in project.timings)
    return replace(project, timings=(*kept, *new.values()))


def remove_timing(project: Project, timing_id: str) -> Project:
    """Without one record of minutes taken."""
    return replace(project, timings=drop(project.timings, timing_id, "timing"))


def put_pot_use(project: Project, use: PotUse) -> Project:
    """What was used of a pot, added or put in place of the record of the same id.

    Raises:
        UnknownNameError: For a scheme, pot or group that does not exist.
    """
    project.scheme(use.scheme_id).mix(use.mix_id)
    if use.group_id:
        project.group(use.group_id)
    if any(known.id == use.id for known in project.pot_uses):
        return replace(project, pot_uses=swap(project.pot_uses, use, "pot use"))
    return replace(project, pot_uses=(*project.pot_uses, use))


def remove_pot_use(project: Project, use_id: str) -> Project:
    """Without one record of what was used of a pot."""
    return replace(project, pot_uses=drop(project.pot_uses, use_id, "pot use"))


def pin_step(project: Project, scheme_id: str, step_id: str, sitting_id: str) -> Project:
    """A step that is to be done in one sitting; "" for no wish."""
    pins = tuple(p for p in project.pins if (p.scheme_id, p.step_id) != (scheme_id, step_id))
    if sitting_id:
        pins = (*pins, Pin(scheme_id=scheme_id, step_id=step_id, sitting_id=sitting_id))
    return replace(project, pins=pins)
