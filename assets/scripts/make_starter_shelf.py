"""Makes ``assets/starter_shelf.json``, the invented paints that the program starts with.

K and S come from a few absorption and scattering parameters each, in ``starter_shelf.toml``. Run
``python assets/scripts/make_starter_shelf.py``; the file that results is the same every time.
"""

import json
import math
import tomllib
from pathlib import Path
from typing import Any

from schemeforge.optics import bands
from schemeforge.paint import PaintKind

PARAMETERS = Path(__file__).resolve().parent / "starter_shelf.toml"
SHELF = Path(__file__).resolve().parent.parent / "starter_shelf.json"
FORMAT = "schemeforge starter shelf"
VERSION = 1
_DIGITS = 6
_SLOPE_AT_NM = 550.0

# Standard deviations of log K and log S, reasoned, not measured. Paints of one pigment by two
# makers differ in strength by a quarter to a third either way (load, grind, how much the maker
# thins it): level_k 0.25; what scatters depends on particle size too and is hardly ever
# published: level_s 0.35; bands of one pigment keep their place but not quite their shape:
# shape 0.1, of S 0.15. White and off-white scatter alike the world over (0.15) but their faint
# absorption is a matter of purity (0.5). Washes are thinned at each maker's whim (0.35). Nobody
# knows what a medium's faint haze is (0.5), nor does it show.
_ORGANIC = {"level_k": 0.25, "level_s": 0.35, "shape_k": 0.1, "shape_s": 0.15, "length_nm": 60.0}
_WHITE = _ORGANIC | {"level_k": 0.5, "level_s": 0.15, "shape_s": 0.05}
_WASH = _ORGANIC | {"level_k": 0.35, "level_s": 0.5}
_MEDIUM = _ORGANIC | {"level_k": 0.5, "level_s": 0.5}
_WHITES = frozenset({"PW6", "PW6:1"})

# g/ml of the wet paint, within the trade's 1.0 to 1.2 (from memory).
_DENSITY = {
    PaintKind.OPAQUE: 1.2,
    PaintKind.PRIMER: 1.2,
    PaintKind.TRANSLUCENT: 1.1,
    PaintKind.INK: 1.05,
    PaintKind.WASH: 1.03,
    PaintKind.MEDIUM: 1.05,
}


def coefficients(parameters: dict[str, Any], strength: float = 1.0) -> list[float]:
    """K or S of the 36 bands per micrometre of neat wet paint, to six significant digits."""
    return [
        float(f"{strength * _at(float(nm), parameters):.{_DIGITS}g}")
        for nm in range(bands.FIRST_NM, bands.LAST_NM + 1, bands.STEP_NM)
    ]


def blended(
    parts: dict[str, float], made: dict[str, dict[str, Any]], strength: float
) -> tuple[list[float], list[float]]:
    """K and S of parts of paints made before, mixed as one wet paint."""
    total = sum(parts.values())
    absorption, scattering = (
        [
            float(f"{strength * value:.{_DIGITS}g}")
            for value in (
                sum(share / total * made[name][what][band] for name, share in parts.items())
                for band in range(bands.COUNT)
            )
        ]
        for what in ("absorption", "scattering")
    )
    return absorption, scattering


def _at(nm: float, parameters: dict[str, Any]) -> float:
    """Floor (with its slope), Gaussian bands and sigmoid edges, summed."""
    total = parameters["floor"] * (_SLOPE_AT_NM / nm) ** parameters.get("slope", 0.0)
    for centre, width, height, *long_side in parameters.get("bands", ()):
        sigma = long_side[0] if long_side and nm > centre else width
        total += height * math.exp(-0.5 * ((nm - centre) / sigma) ** 2)
    for place, width, height in parameters.get("edges", ()):
        total += height * 0.5 * (1.0 + math.tanh(0.5 * (place - nm) / width))
    return float(total)


def uncertainty(kind: PaintKind, colour_index: str) -> dict[str, float]:
    """How surely such a paint's K and S are known; the reasons stand above."""
    if kind is PaintKind.WASH:
        return _WASH
    if kind is PaintKind.MEDIUM:
        return _MEDIUM
    return _WHITE if colour_index in _WHITES else _ORGANIC


def paints() -> list[dict[str, Any]]:
    """Plain fields of every starter paint, in the order of the parameters."""
    with PARAMETERS.open("rb") as file:
        entries = tomllib.load(file)["paint"]
    made: dict[str, dict[str, Any]] = {}
    for entry in entries:
        made[entry["id"]] = _paint(entry, made)
    return list(made.values())


def _paint(entry: dict[str, Any], made: dict[str, dict[str, Any]]) -> dict[str, Any]:
    kind = PaintKind(entry["kind"])
    index = entry.get("colour_index", "")
    strength = entry.get("strength", 1.0)
    if "blend" in entry:
        absorption, scattering = blended(entry["blend"], made, strength)
    else:
        absorption = coefficients(entry["absorption"], strength)
        scattering = coefficients(entry["scattering"], strength)
    return {
        "id": entry["id"],
        "name": entry["name"],
        "kind": kind.value,
        "colour_index": index,
        "volume_solids": entry["volume_solids"],
        "density_g_per_ml": _DENSITY[kind],
        "bottle_ml": float(entry.get("bottle_ml", 17)),
        "note": entry.get("note", ""),
        "uncertainty": uncertainty(kind, index),
        "absorption": absorption,
        "scattering": scattering,
    }


def text() -> str:
    """The whole file: one paint field a line."""
    shelf = {"format": FORMAT, "version": VERSION, "basis": "typical, not measured"}
    head = ",\n".join(f'  "{key}": {json.dumps(value)}' for key, value in shelf.items())
    rows = ",\n".join(_row(paint) for paint in paints())
    return f'{{\n{head},\n  "paints": [\n{rows}\n  ]\n}}\n'


def _row(paint: dict[str, Any]) -> str:
    fields = ",\n".join(f'      "{key}": {json.dumps(value)}' for key, value in paint.items())
    return f"    {{\n{fields}\n    }}"


if __name__ == "__main__":
    SHELF.write_text(text(), encoding="utf-8", newline="\n")
    print(f"{SHELF.name}: {len(paints())} paints, {SHELF.stat().st_size} bytes")
