"""Who may import whom: the package's import table as data, held against the source.

Every import counts: at the top of a module, inside a function, or for type checking only.
"""

import ast
from functools import cache
from graphlib import CycleError, TopologicalSorter
from pathlib import Path

import pytest

ROOT = Path(__file__).resolve().parents[1] / "schemeforge"
BOTTOM = {"errors", "checks", "resources", "codec", "json_text", "whole_file"}
SERVICES = {"measurement", "calibration", "recipe", "comparison", "plan", "stand_in"}
# What each part may import besides itself and the bottom.
BELOW_APPEARANCE = {"scheme", "colorimetry", "paint", "optics"}
BELOW_SERVICES = {"appearance"} | BELOW_APPEARANCE
BELOW_DESK = SERVICES | BELOW_SERVICES | {"shelf"}
MAY_IMPORT: dict[str, set[str]] = {
    "errors": set(),
    "checks": set(),
    "resources": set(),
    "codec": set(),
    "json_text": set(),
    "whole_file": set(),
    "optics": set(),
    "colorimetry": {"optics"},
    "paint": {"optics"},
    "shelf": {"paint", "optics"},
    "scheme": {"paint", "optics"},
    "appearance": BELOW_APPEARANCE,
    **dict.fromkeys(sorted(SERVICES), BELOW_SERVICES),
    "export": BELOW_DESK,
    "desk": BELOW_DESK,
    "gui": BELOW_DESK | {"desk", "export"},
    "cli": BELOW_DESK | {"desk", "export", "gui"},  # its bare command opens the window
    "__init__": set(),
    "__main__": {"cli"},
}
# Where heavy libraries may be imported; elsewhere they are forbidden.
ONLY_IN = {
    "PySide6": {"gui"},
    "shiboken6": {"gui"},
    "colour": {"colorimetry.tables", "measurement"},
    "reportlab": {"export"},
    "pypdfium2": {"export"},
}


@cache
def modules() -> dict[str, Path]:
    """Every module of the package by its dotted name without ``schemeforge.``."""
    found = {}
    for path in sorted(ROOT.rglob("*.py")):
        parts = path.relative_to(ROOT).with_suffix("").parts
        if parts[-1] == "__init__" and len(parts) > 1:
            parts = parts[:-1]
        found[".".join(parts)] = path
    return found


def imported(source: str, known: frozenset[str]) -> set[str]:
    """Full dotted names of the modules that the source imports.

    ``from schemeforge.a import b`` is ``schemeforge.a.b`` where that is a module of its own.
    """
    names = set()
    for node in ast.walk(ast.parse(source)):
        if isinstance(node, ast.Import):
            names |= {alias.name for alias in node.names}
        elif isinstance(node, ast.ImportFrom):
            assert node.level == 0, "imports are written out in full"
            module = node.module or ""
            for alias in node.names:
                inner = f"{module}.{alias.name}"
                names.add(inner if inner.removeprefix("schemeforge.") in known else module)
    return names


@cache
def graph() -> dict[str, set[str]]:
    """What each module imports, our own without ``schemeforge.``, others marked with a bar."""
    known = frozenset(modules())
    rows = {}
    for name, path in modules().items():
        row = set()
        for target in imported(path.read_text(encoding="utf-8"), known):
            ours = target == "schemeforge" or target.startswith("schemeforge.")
            row.add(target.removeprefix("schemeforge.") if ours else f"|{target}")
        rows[name] = row
    return rows


def part(module: str) -> str:
    """The part of the package that a module belongs to."""
    return module.split(".", maxsplit=1)[0]


def breaches(rows: dict[str, set[str]]) -> list[str]:
    """Imports between parts that the table does not allow."""
    return [
        f"{module} imports {target}"
        for module, targets in sorted(rows.items())
        for target in sorted(targets)
        if not target.startswith("|")
        and target != "schemeforge"
        and part(target) not in MAY_IMPORT[part(module)] | {part(module)} | BOTTOM
    ]


def strays(rows: dict[str, set[str]]) -> list[str]:
    """Imports of heavy libraries outside their place."""
    return [
        f"{module} imports {target[1:]}"
        for module, targets in sorted(rows.items())
        for target in sorted(targets)
        for library, places in ONLY_IN.items()
        if part(target) == f"|{library}"
        and not any(module == place or module.startswith(f"{place}.") for place in places)
    ]


def ring(rows: dict[str, set[str]]) -> list[str]:
    """Modules that import each other in a ring, the first again as the last; empty for none."""
    try:
        TopologicalSorter({node: targets & rows.keys() for node, targets in rows.items()}).prepare()
    except CycleError as error:
        found: list[str] = error.args[1]
        return found
    return []


def test_every_part_stands_in_the_table() -> None:
    assert {part(name) for name in modules()} <= set(MAY_IMPORT)


def test_the_table_has_no_ring_and_services_stand_apart() -> None:
    assert ring(MAY_IMPORT) == []
    for service in SERVICES:
        assert not MAY_IMPORT[service] & (SERVICES | {"desk", "export", "gui", "cli", "shelf"})
    assert "desk" not in MAY_IMPORT["export"]


def test_parts_import_only_what_the_table_allows() -> None:
    assert breaches(graph()) == []


def test_heavy_libraries_stay_in_their_place() -> None:
    assert strays(graph()) == []


def test_no_modules_import_each_other_in_a_ring() -> None:
    assert ring(graph()) == []


def test_the_bottom_imports_the_bottom_only() -> None:
    for name in BOTTOM:
        ours = {t for t in graph()[name] if not t.startswith("|")}
        assert ours <= BOTTOM


@pytest.mark.parametrize(
    ("source", "names"),
    [
        ("import PySide6.QtCore as q", {"PySide6.QtCore"}),
        ("def f():\n    from colour.models import Lab", {"colour.models"}),
        (
            "from schemeforge.scheme import Zone, edits",
            {"schemeforge.scheme", "schemeforge.scheme.edits"},
        ),
        ("if TYPE_CHECKING:\n    import schemeforge.desk", {"schemeforge.desk"}),
    ],
)
def test_all_ways_to_import_are_seen(source: str, names: set[str]) -> None:
    assert imported(source, frozenset({"scheme", "scheme.edits", "desk"})) == names


def test_breaches_strays_and_rings_are_seen() -> None:
    rows = {
        "plan.steps": {"recipe.solver", "appearance", "|numpy", "plan.volumes"},
        "plan.volumes": {"plan.clock"},
        "plan.clock": {"plan.steps", "|PySide6.QtCore", "errors"},
        "colorimetry.tables": {"|colour"},
        "colorimetry.tablesx": {"|colour.plotting"},
        "export.pdf": {"desk.state", "|reportlab.pdfgen"},
        "errors": {"|os"},
    }
    assert breaches(rows) == ["export.pdf imports desk.state", "plan.steps imports recipe.solver"]
    assert strays(rows) == [
        "colorimetry.tablesx imports colour.plotting",
        "plan.clock imports PySide6.QtCore",
    ]
    assert set(ring(rows)) == {"plan.clock", "plan.steps", "plan.volumes"}
    assert ring({"errors": {"errors"}}) == ["errors", "errors"]
    assert ring({"a": {"b", "c"}, "b": {"c"}, "c": set()}) == []
