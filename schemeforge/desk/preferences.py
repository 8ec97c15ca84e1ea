"""Preferences and recent files on disk: a convenience that may be lost without harm."""

import json
from contextlib import suppress
from dataclasses import asdict
from pathlib import Path
from typing import Any

from schemeforge.comparison.thresholds import DEFAULTS, RULES, Thresholds
from schemeforge.desk.looking import looking_as_json, looking_from_json
from schemeforge.desk.state import Preferences, Surround
from schemeforge.desk.targets import targets_as_json, targets_from_json
from schemeforge.errors import FileError, SchemeForgeError
from schemeforge.whole_file import write_whole


def load_preferences(file: Path) -> tuple[Preferences, tuple[Path, ...]]:
    """Preferences and recent files; the defaults where the file is missing or damaged."""
    try:
        raw = json.loads(file.read_text(encoding="utf-8"))
        preferences = Preferences(
            surround=Surround(raw["surround"]),
            numbers=raw["numbers"] is True,
            pointer_dismissed=raw["pointer_dismissed"] is True,
            thresholds=_thresholds(raw.get("thresholds")),
            figure=str(raw.get("figure", Preferences().figure)),
            looking=looking_from_json(raw.get("looking")),
            unfolded=_names(raw.get("unfolded")),
            targets=targets_from_json(raw.get("targets")),
        )
        recent = tuple(Path(p) for p in raw["recent"] if isinstance(p, str))
    except (OSError, ValueError, KeyError, TypeError, RecursionError):
        return Preferences(), ()
    return preferences, recent[:10]


def save_preferences(file: Path, preferences: Preferences, recent: tuple[Path, ...]) -> None:
    """Write them, whole or not at all; a folder that cannot be written is passed over."""
    body = {
        "surround": preferences.surround.value,
        "numbers": preferences.numbers,
        "pointer_dismissed": preferences.pointer_dismissed,
        "figure": preferences.figure,
        "looking": looking_as_json(preferences.looking),
        "unfolded": list(preferences.unfolded),
        "targets": targets_as_json(preferences.targets),
        "thresholds": asdict(preferences.thresholds),
        "recent": [str(path) for path in recent],
    }
    with suppress(OSError, FileError):
        file.parent.mkdir(parents=True, exist_ok=True)
        write_whole(file, (json.dumps(body, indent=1) + "\n").encode(), keep_previous=False)


def _names(raw: Any) -> tuple[str, ...]:
    """Sections that are open; the usual ones where that makes no sense."""
    if not isinstance(raw, list):
        return Preferences().unfolded
    return tuple(name for name in raw[:100] if isinstance(name, str))


def _thresholds(raw: Any) -> Thresholds:
    """The painter's rules of thumb; the usual ones where they are missing or make no sense."""
    if not isinstance(raw, dict):
        return DEFAULTS
    known = {rule.field: rule for rule in RULES}
    try:
        values: dict[str, Any] = {
            field: int(value) if known[field].whole else float(value)
            for field, value in raw.items()
            if field in known
        }
        return Thresholds(**values)
    except (SchemeForgeError, TypeError, ValueError, OverflowError):
        return DEFAULTS
