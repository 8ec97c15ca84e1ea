import json
from pathlib import Path
from typing import Any

import pytest

from schemeforge.errors import DamagedFileError
from schemeforge.scheme.migrations import (
    MIGRATIONS,
    VERSION,
    from_1_to_2,
    from_2_to_3,
    from_3_to_4,
    migrate,
)
from schemeforge.scheme.placement import ReliefKind
from schemeforge.scheme.project_file import dumps, load, loads
from schemeforge.scheme.steps import Coat
from tests.builders import small_project

SAMPLE = Path(__file__).parent / "data" / "version_1.schemeforge"


def test_the_newest_version_is_one_past_the_last_step() -> None:
    assert len(MIGRATIONS) + 1 == VERSION == 4


def test_a_stored_file_of_version_1_loads() -> None:
    scheme = load(SAMPLE).scheme("dusk")
    coats = [step.layer for step in scheme.steps if isinstance(step.layer, Coat)]
    assert [coat.placement.relief.kind for coat in coats] == [
        ReliefKind.EVEN,
        ReliefKind.POOLS,
        ReliefKind.CATCHES,
        ReliefKind.EVEN,
    ]
    assert [coat.wet_um for coat in coats] == [35.0, 140.5, 8.0, 25.0]
    assert [coat.passes for coat in coats] == [1, 1, 2, 1]
    minutes = [step.minutes_per_model for step in scheme.steps]
    assert minutes == [0.4, None, 1.5, None, None, 3.0]


def test_what_was_migrated_saves_as_the_newest_version() -> None:
    project = load(SAMPLE)
    text = dumps(project)
    assert json.loads(text)["version"] == VERSION
    assert loads(text) == project


def test_a_step_leaves_its_input_as_it_was() -> None:
    before = json.loads(SAMPLE.read_text(encoding="utf-8"))["project"]
    copy = json.loads(json.dumps(before))
    assert from_1_to_2(before) != before
    assert before == copy


def test_version_2_only_lacks_what_came_later() -> None:
    plain = {"sittings": [{"id": "evening", "minutes": 90.0}]}
    assert from_2_to_3(plain) is plain


def test_version_3_only_lacks_what_came_later() -> None:
    text = dumps(small_project())
    tree = json.loads(text)
    assert "evidence" not in tree["project"]
    assert from_3_to_4(tree["project"]) is tree["project"]
    assert loads(json.dumps(tree | {"version": 3})) == small_project()


def test_the_newest_version_is_left_alone() -> None:
    plain = {"schemes": [{"steps": [{"minutes": 3}]}]}
    assert migrate(plain, VERSION) is plain


@pytest.mark.parametrize(
    "plain",
    [
        {},
        {"schemes": 3},
        {"schemes": [3, {"steps": None}, {"steps": [None, {"layer": 3}, {}]}]},
        {"schemes": [{"steps": [{"layer": {"type": "work"}}]}]},
        {"schemes": [{"steps": [{"layer": {"type": "coat", "where": "even", "placement": {}}}]}]},
        {"schemes": [{"steps": [{"layer": {"type": "coat", "film_um": 1, "wet_um": 2}}]}]},
        {"schemes": [{"steps": [{"minutes": 1, "minutes_per_model": 2}]}]},
    ],
)
def test_what_a_step_does_not_understand_is_left_for_the_reader(plain: dict[str, Any]) -> None:
    assert from_1_to_2(plain) == plain


@pytest.mark.parametrize("where", ["recesses", 3, None, ["even"]])
def test_an_unknown_place_is_refused_in_a_sentence(where: object) -> None:
    tree = json.loads(SAMPLE.read_text(encoding="utf-8"))
    tree["project"]["schemes"][0]["steps"][1]["layer"]["where"] = where
    with pytest.raises(
        DamagedFileError, match=r"schemes\[0\]\.steps\[1\]\.layer\.placement\.relief\.kind: "
    ):
        loads(json.dumps(tree))
