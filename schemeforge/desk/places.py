"""Where the program keeps what is not in a project: journal, preferences, shelf, clocks."""

import hashlib
import os
import sys
from dataclasses import dataclass
from pathlib import Path


@dataclass(frozen=True, slots=True, kw_only=True)
class Places:
    """Folders of the user, created when first written to.

    Args:
        data: Shelf, autosave journals and step clocks.
        settings: Preferences and window geometry.
    """

    data: Path
    settings: Path

    @property
    def journals(self) -> Path:
        """Folder of the autosave journals."""
        return self.data / "journal"

    @property
    def shelf_file(self) -> Path:
        """The shelf's file."""
        return self.data / "shelf.sqlite3"

    def clock_file(self, project_id: str, path: Path | None) -> Path:
        """The step clock of the project in that file, or of one that has no file yet."""
        name = f"unsaved {project_id}" if path is None else str(path)
        digest = hashlib.sha256(name.encode("utf-8", "surrogatepass")).hexdigest()[:20]
        return self.data / "clocks" / f"{digest}.clock"

    @property
    def stand_ins(self) -> Path:
        """Folder of the views of stand-in models; SCHEMEFORGE_STAND_INS names another."""
        return Path(os.environ.get("SCHEMEFORGE_STAND_INS") or self.data / "stand-ins")

    @property
    def preferences_file(self) -> Path:
        """Preferences as JSON."""
        return self.settings / "preferences.json"


def default_places() -> Places:
    """The user's folders by the platform's custom; SCHEMEFORGE_HOME puts both in one place."""
    home = os.environ.get("SCHEMEFORGE_HOME")
    if home:
        return Places(data=Path(home), settings=Path(home))
    user = Path.home()
    if sys.platform == "win32":
        base = Path(os.environ.get("APPDATA", user / "AppData" / "Roaming"))
        return Places(data=base / "SchemeForge", settings=base / "SchemeForge")
    if sys.platform == "darwin":
        base = user / "Library" / "Application Support" / "SchemeForge"
        return Places(data=base, settings=base)
    data = Path(os.environ.get("XDG_DATA_HOME") or user / ".local" / "share")
    settings = Path(os.environ.get("XDG_CONFIG_HOME") or user / ".config")
    return Places(data=data / "schemeforge", settings=settings / "schemeforge")
