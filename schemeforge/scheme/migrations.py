"""Older project files brought up to date, one small step per version.

Each step is a pure function from the plain ``"project"`` object of version n to that of n + 1.
It changes what it knows and leaves everything else, damaged parts too, for the reader to judge.
A change of a field's default value needs a step too: files leave defaults out.
"""

from collections.abc import Callable
from typing import Any

Plain = dict[str, Any]

_RELIEF_OF_WHERE = {
    "even": "even",
    "recess": "pools in recesses",
    "raised": "catches raised edges",
}


def from_1_to_2(project: Plain) -> Plain:
    """Version 2: a coat's place became relief times along, and two fields carry their units.

    Of a coat, ``where`` ("even", "recess", "raised") became ``placement.relief.kind`` and
    ``film_um`` became ``wet_um``; of a step, ``minutes`` became ``minutes_per_model``.
    """
    return _with(project, "schemes", lambda scheme: _with(scheme, "steps", _step_2))


def _step_2(step: Plain) -> Plain:
    step = _renamed(step, "minutes", "minutes_per_model")
    layer = step.get("layer")
    return step | {"layer": _coat_2(layer)} if isinstance(layer, dict) else step


def _coat_2(layer: Plain) -> Plain:
    if layer.get("type") != "coat":
        return layer
    coat = _renamed(layer, "film_um", "wet_um")
    if "where" not in coat or "placement" in coat:
        return coat
    where = coat["where"]
    kind = _RELIEF_OF_WHERE.get(where, where) if isinstance(where, str) else where
    rest = {name: item for name, item in coat.items() if name != "where"}
    return rest | {"placement": {"relief": {"kind": kind}}}


def from_2_to_3(project: Plain) -> Plain:
    """Version 3: pinned steps, uses of pots, and more habits came; what was there stays as it is.

    The number rose all the same, so that an older program says that the file is newer.
    """
    return project


def from_3_to_4(project: Plain) -> Plain:
    """Version 4: what painted test models told came; what was there stays as it is."""
    return project


MIGRATIONS: tuple[Callable[[Plain], Plain], ...] = (from_1_to_2, from_2_to_3, from_3_to_4)
VERSION = len(MIGRATIONS) + 1


def migrate(project: Plain, version: int) -> Plain:
    """The plain project of that version (1 to ``VERSION``) in the form of the newest."""
    for step in MIGRATIONS[version - 1 :]:
        project = step(project)
    return project


def _with(owner: Plain, field: str, change: Callable[[Plain], Plain]) -> Plain:
    """The object with each object in one of its lists changed; untouched without such a list."""
    items = owner.get(field)
    if not isinstance(items, list):
        return owner
    return owner | {field: [change(item) if isinstance(item, dict) else item for item in items]}


def _renamed(owner: Plain, old: str, new: str) -> Plain:
    """The object with one field renamed in place, unless the new name is taken."""
    if old not in owner or new in owner:
        return owner
    return {new if name == old else name: item for name, item in owner.items()}
