"""Targets of projects, kept with the preferences: what a painter compares with is not the recipe.

They stay on this computer; a project that is given away does not carry them.
"""

from typing import Any, Final

from schemeforge.comparison.target import MOST_COLOURS, TargetColour, TargetPalette
from schemeforge.errors import SchemeForgeError

MOST_KEPT: Final = 40
_LONGEST: Final = 200

Targets = tuple[tuple[str, TargetPalette], ...]
"""Targets by the project's id, the latest last."""


def target_of(targets: Targets, project_id: str) -> TargetPalette | None:
    """The target of a project; None where it has none."""
    return next((target for key, target in targets if key == project_id), None)


def with_target(targets: Targets, project_id: str, target: TargetPalette | None) -> Targets:
    """The same with another target of that project, or without where None."""
    others = tuple(entry for entry in targets if entry[0] != project_id)
    kept = others if target is None else (*others, (project_id, target))
    return kept[-MOST_KEPT:]


def targets_as_json(targets: Targets) -> list[dict[str, Any]]:
    """As plain values for the preferences' file."""
    return [
        {
            "project": project_id,
            "name": target.name,
            "has_shares": target.has_shares,
            "colours": [[*colour.lab, colour.share] for colour in target.colours],
        }
        for project_id, target in targets
    ]


def targets_from_json(raw: Any) -> Targets:
    """Back again; those that make no sense are left out."""
    if not isinstance(raw, list):
        return ()
    made = [_entry(entry) for entry in raw[-MOST_KEPT:]]
    return tuple(entry for entry in made if entry is not None)


def _entry(raw: Any) -> tuple[str, TargetPalette] | None:
    try:
        colours = tuple(
            TargetColour(lab=(float(L), float(a), float(b)), share=float(share))
            for L, a, b, share in raw["colours"][:MOST_COLOURS]
        )
        target = TargetPalette(
            name=str(raw["name"])[:_LONGEST], colours=colours, has_shares=raw["has_shares"] is True
        )
        return str(raw["project"])[:_LONGEST], target
    except (SchemeForgeError, KeyError, TypeError, ValueError, OverflowError):
        return None
