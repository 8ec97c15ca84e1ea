"""Edits of the list of candidate schemes."""

from dataclasses import replace

from schemeforge.errors import InputError
from schemeforge.scheme.candidate import Scheme
from schemeforge.scheme.edits._common import (
    drop,
    fresh_id,
    fresh_name,
    insert,
    move,
    with_scheme,
    with_schemes,
    without_loose_records,
)
from schemeforge.scheme.project import Project


def add_scheme(project: Project, scheme: Scheme, at: int | None = None) -> Project:
    """One more candidate."""
    return replace(project, schemes=insert(project.schemes, scheme, at))


def duplicate_scheme(project: Project, scheme_id: str, name: str = "") -> Project:
    """A copy of a scheme right behind it, under a new id and name, to vary."""
    source = project.scheme(scheme_id)
    wanted = name or f"{source.name}, varied"
    twin = replace(
        source,
        id=fresh_id(wanted, (s.id for s in project.schemes)),
        name=fresh_name(wanted, (s.name for s in project.schemes)),
    )
    return add_scheme(project, twin, project.schemes.index(source) + 1)


def rename_scheme(project: Project, scheme_id: str, name: str) -> Project:
    """Another name for a scheme."""
    return with_scheme(project, scheme_id, lambda scheme: replace(scheme, name=name))


def set_scheme_note(project: Project, scheme_id: str, note: str) -> Project:
    """Another note on a scheme."""
    return with_scheme(project, scheme_id, lambda scheme: replace(scheme, note=note))


def move_scheme(project: Project, scheme_id: str, to: int) -> Project:
    """The scheme at another place in the list."""
    return replace(project, schemes=move(project.schemes, scheme_id, to, "scheme"))


def remove_scheme(project: Project, scheme_id: str) -> Project:
    """Without a scheme; raises InputError for the last one."""
    if len(project.schemes) == 1 and project.schemes[0].id == scheme_id:
        raise InputError("The last scheme cannot be removed", remedy="add another one first")
    schemes = drop(project.schemes, scheme_id, "scheme")
    chosen = "" if project.chosen_scheme_id == scheme_id else project.chosen_scheme_id
    yardstick = "" if project.yardstick_id == scheme_id else project.yardstick_id
    undecided = replace(project, chosen_scheme_id=chosen, yardstick_id=yardstick)
    return without_loose_records(with_schemes(undecided, schemes))


def choose_scheme(project: Project, scheme_id: str) -> Project:
    """The scheme that the batch is painted in; "" for undecided."""
    return replace(project, chosen_scheme_id=scheme_id)


def set_yardstick(project: Project, scheme_id: str) -> Project:
    """The scheme that others are compared with."""
    return replace(project, yardstick_id=scheme_id)
