"""Makes ``assets/project.schema.json``, the published JSON Schema of project files.

Run ``python assets/scripts/make_schema.py``. Structure, names, defaults and descriptions come
from the document's own types; only the ranges of numbers stand here, and a test holds each of
them against what the types accept. Where the file changes because a default or a field did,
project files change meaning: raise the version and write a migration first.
"""

import dataclasses
import inspect
import json
import re
import typing
from enum import StrEnum
from pathlib import Path
from typing import Any

from schemeforge import checks, codec
from schemeforge.optics import bands
from schemeforge.scheme.migrations import VERSION
from schemeforge.scheme.project import Project
from schemeforge.scheme.project_file import FORMAT

FILE = Path(__file__).resolve().parent.parent / "project.schema.json"
ID_PATTERN = r"^[A-Za-z0-9][A-Za-z0-9_.-]*$"

# Lowest and highest number of each field, both allowed.
RANGES: dict[str, tuple[float, float]] = {
    "AlongProfile.end": (0, 1),
    "AlongProfile.feather_end": (0, 1),
    "AlongProfile.feather_start": (0, 1),
    "AlongProfile.start": (0, 1),
    "Coat.passes": (1, 12),
    "Coat.wet_um": (0, 1000),
    "CoatStrength.error": (0, 5),
    "CoatStrength.factor": (0.05, 20),
    "CoatStrength.planned_um": (0, 1000),
    "Evidence.along": (0, 1),
    "Group.count": (0, 10000),
    "Group.priority": (1, 99),
    "Habits.break_every_minutes": (5, 1440),
    "Habits.break_minutes": (0, 120),
    "Habits.brush_change_minutes": (0, 60),
    "Habits.drop_ml": (0.005, 1),
    "Habits.hand_sigma": (0, 1),
    "Habits.hands": (1, 20),
    "Habits.mixing_minutes": (0, 120),
    "Habits.overspray": (0, 0.95),
    "Habits.sitting_minutes": (0, 240),
    "Habits.spray_change_minutes": (0, 120),
    "Habits.stays_in_pot_ml": (0, 100),
    "Habits.sub_batch": (1, 1000),
    "Habits.waste": (1, 20),
    "Ingredient.parts": (0, 1000),
    "ModelSize.base_mm": (10, 300),
    "Paint.density_g_per_ml": (0.3, 5),
    "Paint.volume_solids": (0, 1),
    "PotUse.left_ml": (0, 100000),
    "PotUse.mixed_ml": (0, 100000),
    "PotUse.models": (1, 10000),
    "ReliefProfile.depth": (0, 1),
    "ReliefProfile.reach": (0.05, 1),
    "Sitting.minutes": (1, 1440),
    "Spray.droplet_um": (0.1, 200),
    "Spray.peak_um": (0, 1000),
    "Spray.spread_n": (1, 10),
    "Step.minutes_per_model": (0, 600),
    "Step.set_up_minutes": (0, 600),
    "Step.wait_minutes": (0, 20160),
    "Stock.bottle_ml": (0.1, 10000),
    "Stock.left_ml": (0, 100000),
    "Stock.price": (0, 1e6),
    "Timing.minutes": (0, 100000),
    "Timing.models": (1, 10000),
    "Timing.passes": (0, 12),
    "Uncertainty.length_nm": (5, 1000),
    "Uncertainty.level_k": (0, 5),
    "Uncertainty.level_s": (0, 5),
    "Uncertainty.shape_k": (0, 5),
    "Uncertainty.shape_s": (0, 5),
    "Viewing.milk_per_um": (0, 0.1),
    "Zone.area_cm2": (0.01, 100000),
    "Zone.body_share": (0, 1),
}
ABOVE_ZERO = frozenset({"Ingredient.parts"})
SPECTRA = frozenset({"Paint.absorption", "Paint.scattering"})
STRONGEST = 1e4


def schema() -> dict[str, Any]:
    """The schema as a plain value, freshly made from the types."""
    parts: dict[str, Any] = {}
    root = _ref(Project, parts)
    return {
        "$schema": "https://json-schema.org/draft/2020-12/schema",
        "title": "SchemeForge project file",
        "description": f"Version {VERSION}. Fields left out have their default.",
        "type": "object",
        "properties": {
            "format": {"const": FORMAT},
            "version": {"const": VERSION},
            "project": root,
        },
        "required": ["format", "version", "project"],
        "additionalProperties": False,
        "$defs": dict(sorted(parts.items())),
    }


def text() -> str:
    """The schema as it is stored."""
    return json.dumps(schema(), indent=2, ensure_ascii=False) + "\n"


def _ref(kind: Any, parts: dict[str, Any]) -> dict[str, Any]:
    if kind.__name__ not in parts:
        parts[kind.__name__] = {}  # holds the place while its fields are described
        enum = issubclass(kind, StrEnum)
        parts[kind.__name__] = _enum(kind) if enum else _object(kind, parts)
    return {"$ref": f"#/$defs/{kind.__name__}"}


def _enum(kind: type[StrEnum]) -> dict[str, Any]:
    return {"description": _summary(kind), "enum": [member.value for member in kind]}


def _object(kind: Any, parts: dict[str, Any]) -> dict[str, Any]:
    told = _described_fields(kind)
    known = codec.hints(kind)
    properties = {}
    needed = []
    for field in dataclasses.fields(kind):
        row = _field(f"{kind.__name__}.{field.name}", known[field.name], parts)
        if field.name in told:
            row["description"] = told[field.name]
        usual = codec.default(field)
        if usual is dataclasses.MISSING:
            needed.append(field.name)
        else:
            plain = codec.writer(known[field.name])(usual)
            if not isinstance(plain, dict):
                row["default"] = plain
        properties[field.name] = row
    return {
        "description": _summary(kind),
        "type": "object",
        "properties": properties,
        "required": needed,
        "additionalProperties": False,
    }


def _field(name: str, hint: Any, parts: dict[str, Any]) -> dict[str, Any]:
    row = _type(hint, parts)
    if name in SPECTRA:
        row |= {"minItems": bands.COUNT, "maxItems": bands.COUNT}
        row["items"] |= {"minimum": 0, "maximum": STRONGEST}
    if name in RANGES:
        low, high = RANGES[name]
        row |= {"exclusiveMinimum" if name in ABOVE_ZERO else "minimum": low, "maximum": high}
    if name.endswith(".id"):
        row |= {"pattern": ID_PATTERN, "maxLength": checks.LONGEST_ID}
    if name.endswith(".name"):
        row |= {"minLength": 1, "maxLength": checks.LONGEST_NAME}
    if name.endswith(".note"):
        row |= {"maxLength": checks.LONGEST_NOTE}
    return row


def _type(hint: Any, parts: dict[str, Any]) -> dict[str, Any]:
    simple = {float: "number", int: "integer", bool: "boolean", str: "string"}
    if hint in simple:
        return {"type": simple[hint]}
    if typing.get_origin(hint) is tuple:
        return _list(typing.get_args(hint), parts)
    members = codec.union_members(hint)
    if len(members) == 1:
        inner = _type(members[0], parts)
        return {**inner, "type": [inner["type"], "null"]}
    if members:
        return {"oneOf": [_tagged(member, parts) for member in members]}
    return _ref(hint, parts)


def _tagged(kind: Any, parts: dict[str, Any]) -> dict[str, Any]:
    _ref(kind, parts)
    part = parts[kind.__name__]
    part["properties"] = {codec.TAG: {"const": codec.tag(kind)}} | part["properties"]
    part["required"] = [codec.TAG, *(n for n in part["required"] if n != codec.TAG)]
    return {"$ref": f"#/$defs/{kind.__name__}"}


def _list(items: tuple[Any, ...], parts: dict[str, Any]) -> dict[str, Any]:
    if len(items) == 2 and items[1] is Ellipsis:
        return {"type": "array", "items": _type(items[0], parts), "maxItems": codec.MOST_ITEMS}
    return {
        "type": "array",
        "prefixItems": [_type(item, parts) for item in items],
        "items": False,
        "minItems": len(items),
    }


def _summary(kind: type) -> str:
    return " ".join((inspect.getdoc(kind) or "").split("\n\n")[0].split())


def _described_fields(kind: type) -> dict[str, str]:
    """What the docstring's ``Args`` say of each field."""
    _, _, listed = (inspect.getdoc(kind) or "").partition("\nArgs:\n")
    rows = re.split(r"\n?^    (?=\w+: )", listed, flags=re.MULTILINE)
    pairs = (row.split(": ", 1) for row in rows if ": " in row)
    return {name.strip(): " ".join(words.split()) for name, words in pairs}


if __name__ == "__main__":
    FILE.write_text(text(), encoding="utf-8")
    print(f"wrote {FILE.name}: {FILE.stat().st_size} bytes")
