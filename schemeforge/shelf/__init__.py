"""The painter's paints: the shelf on disk, paints in and out of files, and the starter shelf."""

from schemeforge.shelf.exchange import (
    Clash,
    Joined,
    clashing,
    export_paints,
    import_paints,
    join,
)
from schemeforge.shelf.starter import starter_paint, starter_paints
from schemeforge.shelf.store import ShelfStore

__all__ = [
    "Clash",
    "Joined",
    "ShelfStore",
    "clashing",
    "export_paints",
    "import_paints",
    "join",
    "starter_paint",
    "starter_paints",
]
