import importlib.util
import json
from collections.abc import Callable
from dataclasses import fields
from pathlib import Path
from types import ModuleType
from typing import Any

import jsonschema
import pytest
from hypothesis import given, settings

from schemeforge import codec, paint, resources, scheme
from schemeforge.errors import InputError
from schemeforge.paint import Paint
from schemeforge.scheme.project import Project
from schemeforge.scheme.project_file import dumps
from tests.builders import judged_model, small_project
from tests.scheme.strategies import projects

SCRIPT = Path(__file__).resolve().parents[2] / "assets" / "scripts" / "make_schema.py"


def load_script() -> ModuleType:
    spec = importlib.util.spec_from_file_location("make_schema", SCRIPT)
    assert spec is not None
    assert spec.loader is not None
    module = importlib.util.module_from_spec(spec)
    spec.loader.exec_module(module)
    return module


MAKER = load_script()
STORED = json.loads(resources.asset("project.schema.json").read_text(encoding="utf-8"))
VALIDATOR = jsonschema.Draft202012Validator(STORED)


def test_the_stored_schema_is_the_one_that_the_types_make() -> None:
    stored = resources.asset("project.schema.json").read_text(encoding="utf-8")
    assert MAKER.text() == stored, (
        "the document changed: raise the version, write a migration if a default or a field "
        "changed, then run assets/scripts/make_schema.py"
    )


def test_the_schema_itself_is_valid() -> None:
    jsonschema.Draft202012Validator.check_schema(STORED)


@given(projects())
@settings(max_examples=25)
def test_saved_projects_follow_the_schema(project: Project) -> None:
    VALIDATOR.validate(json.loads(dumps(project)))


def test_every_object_and_most_fields_are_described() -> None:
    parts = STORED["$defs"]
    assert all(part["description"] for part in parts.values())
    assert parts["Coat"]["properties"]["wet_um"]["description"].startswith("Wet film of one pass")
    assert parts["Coat"]["properties"]["type"] == {"const": "coat"}
    assert parts["Coat"]["properties"]["wet_um"]["default"] == 25.0


def _layer(tree: dict[str, Any]) -> dict[str, Any]:
    layer: dict[str, Any] = tree["project"]["schemes"][0]["steps"][2]["layer"]
    return layer


@pytest.mark.parametrize(
    "damage",
    [
        lambda tree: tree.update(version=99),
        lambda tree: tree.update(format="other"),
        lambda tree: tree.update(more=1),
        lambda tree: tree["project"].pop("name"),
        lambda tree: tree["project"].update(id="no spaces here"),
        lambda tree: tree["project"]["groups"][0].update(count=-1),
        lambda tree: tree["project"]["paints"][0]["absorption"].pop(),
        lambda tree: tree["project"]["paints"][0]["absorption"].__setitem__(3, -0.1),
        lambda tree: _layer(tree).update(type="cote"),
        lambda tree: _layer(tree).update(wet_um="much"),
        lambda tree: _layer(tree).update(passes=0),
        lambda tree: _layer(tree).update(technique="glace"),
        lambda tree: tree["project"]["zones"][0].update(tone_range=[0.1, 0.2, 0.3]),
    ],
)
def test_broken_projects_do_not_follow_it(damage: Callable[[dict[str, Any]], object]) -> None:
    tree = json.loads(dumps(small_project()))
    VALIDATOR.validate(tree)
    damage(tree)
    assert not VALIDATOR.is_valid(tree)


def _examples() -> dict[str, Any]:
    """One value of every dataclass with a range, by name."""
    project = small_project()
    first = project.schemes[0]
    samples: list[Any] = [
        project.size, project.groups[0], project.zones[0], project.paints[0], project.habits,
        project.viewing, project.sittings[0], project.paints[0].stock,
        project.paints[0].uncertainty, first.steps[0], first.mixes[0].ingredients[0],
        first.steps[1].layer, first.steps[2].layer,
        scheme.ReliefProfile(kind=scheme.ReliefKind.POOLS), scheme.AlongProfile(),
        scheme.Timing(id="t", scheme_id="s", step_id="s", group_id="g", models=2, minutes=3.0),
        scheme.PotUse(
            id="u", scheme_id="s", mix_id="m", models=2, mixed_ml=100000.0, left_ml=0.0
        ),
        judged_model(), judged_model().strengths[0],
    ]  # fmt: skip
    return {type(sample).__name__: sample for sample in samples}


@pytest.mark.parametrize("name", sorted(MAKER.RANGES))
def test_ranges_are_those_that_the_types_accept(name: str) -> None:
    kind, field = name.split(".")
    sample = _examples()[kind]
    low, high = MAKER.RANGES[name]
    step = 1 if isinstance(getattr(sample, field), int) else 1e-6
    plain = codec.encode(sample)

    def accepts(value: float) -> bool:
        try:
            codec.decode(type(sample), plain | {field: value})
        except InputError as error:
            # one bound of the part depends on the other: see the test of AlongProfile
            return "before it starts" in error.what or "longer than the coat" in error.what
        return True

    assert accepts(low) is (name not in MAKER.ABOVE_ZERO)
    assert accepts(high)
    assert not accepts(low - step)
    assert not accepts(high + step)


def test_every_bounded_number_of_the_document_has_its_range() -> None:
    numbers = set()
    for module in (scheme, paint):
        for kind in (getattr(module, name) for name in module.__all__):
            if isinstance(kind, type) and hasattr(kind, "__dataclass_fields__"):
                known = codec.hints(kind)
                numbers |= {
                    f"{kind.__name__}.{f.name}"
                    for f in fields(kind)
                    if known[f.name] in {int, float, float | None}
                }
    assert numbers - set(MAKER.RANGES) == {"Viewing.observer"}  # 2 or 10, no range
    assert set(MAKER.RANGES) <= numbers
    assert Paint in (getattr(paint, name) for name in paint.__all__)
