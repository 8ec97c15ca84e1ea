"""The starter shelf: invented, typical paints, so that a first scheme can be tried at once."""

import json
from functools import lru_cache
from typing import Any

from schemeforge import resources
from schemeforge.errors import DamagedFileError
from schemeforge.paint import Basis, Paint, PaintKind, Stock, Uncertainty

FILE = "starter_shelf.json"


@lru_cache(maxsize=1)
def starter_paints() -> tuple[Paint, ...]:
    """The starter paints in shelf order, basis "typical, not measured"; read once.

    Raises:
        MissingFileError: Where the program's assets are not there.
        DamagedFileError: Where the file is not the one that came with the program.
    """
    path = resources.asset(FILE)
    try:
        entries = json.loads(path.read_text(encoding="utf-8"))["paints"]
        return tuple(_paint(entry) for entry in entries)
    except (ValueError, KeyError, TypeError):
        raise DamagedFileError(
            "The starter shelf that belongs to the program is damaged",
            where=str(path),
            remedy="install the program again",
        ) from None


def starter_paint(paint_id: str) -> Paint:
    """The starter paint of that id; raises KeyError where there is none."""
    return {paint.id: paint for paint in starter_paints()}[paint_id]


def _paint(entry: dict[str, Any]) -> Paint:
    return Paint(
        id=entry["id"],
        name=entry["name"],
        kind=PaintKind(entry["kind"]),
        absorption=tuple(entry["absorption"]),
        scattering=tuple(entry["scattering"]),
        volume_solids=entry["volume_solids"],
        density_g_per_ml=entry["density_g_per_ml"],
        basis=Basis.TYPICAL,
        uncertainty=Uncertainty(**entry["uncertainty"]),
        colour_index=entry["colour_index"],
        stock=Stock(bottle_ml=entry["bottle_ml"]),
        note=entry["note"],
    )
