"""Preferences and recent files on disk: a convenience that may be lost without harm."""

import json
from contextlib import suppress
from pathlib import Path

from schemeforge.desk.state import Preferences, Surround


def load_preferences(file: Path) -> tuple[Preferences, tuple[Path, ...]]:
    """Preferences and recent files; the defaults where the file is missing or damaged."""
    try:
        raw = json.loads(file.read_text(encoding="utf-8"))
        preferences = Preferences(
            surround=Surround(raw["surround"]),
            numbers=raw["numbers"] is True,
            pointer_dismissed=raw["pointer_dismissed"] is True,
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
        "recent": [str(path) for path in recent],
    }
    fresh = file.with_suffix(".new")
    with suppress(OSError):
        file.parent.mkdir(parents=True, exist_ok=True)
        fresh.write_text(json.dumps(body, indent=1) + "\n", encoding="utf-8")
        fresh.replace(file)
