"""The ``match`` command: targets, options, text, JSON and exit codes."""

import json
from dataclasses import replace
from pathlib import Path
from typing import Any

import jsonschema
import pytest

from schemeforge.paint import Stock
from schemeforge.resources import asset
from schemeforge.scheme.project_file import save
from schemeforge.shelf import export_paints, starter_paints
from tests.builders import small_project, synthetic_paint
from tests.cli.conftest import Command

FEW = ("--parts", "6", "--count", "3")


def matched(command: Command, *words: object) -> dict[str, Any]:
    """The JSON of a match, held against its schema."""
    ran = command("match", *words, "--json")
    assert (ran.code, ran.err) == (0, "")
    tree: dict[str, Any] = json.loads(ran.out)
    jsonschema.validate(tree, json.loads(asset("match.schema.json").read_text("utf-8")))
    return tree


def test_a_screen_colour_as_a_table(command: Command, project_path: Path) -> None:
    ran = command("match", project_path, "#8a5a3c", *FEW, "--at", "0.9")
    assert (ran.code, ran.err) == (0, "")
    lines = ran.out.splitlines()
    assert lines[0] == (
        "small project: recipes for hide, at 0.9 of the way from recess to raised edge"
    )
    assert lines[1] == "Target #8a5a3c: #8a5a3c"
    assert lines[2].startswith("Light D65, 2 degrees, matt; ")
    assert lines[2].endswith("recipes of 3 paints.")
    assert "      off   slip  light  recipe" in lines
    rows = [line for line in lines if line.startswith("  1 ")]
    assert len(rows) == 1
    assert "brown wash" in ran.out
    assert "\x1b" not in ran.out


def test_cielab_as_json(command: Command, project_path: Path) -> None:
    tree = matched(command, project_path, " 52.5, 12,-3e0".replace("e0", ""), "--on", "cloak", *FEW)
    assert tree["zone"] == {"id": "cloak", "name": "cloak"}
    assert tree["target"]["colours"][0]["lab"] == [52.5, 12.0, -3.0]
    assert tree["target"]["relief"] == [0.75]
    assert 1 <= len(tree["recipes"]) <= 3
    best = tree["recipes"][0]
    assert best["delta_e"] >= tree["nearest"]
    assert sum(part["parts"] for part in best["coats"][0]["parts"]) <= 6
    assert tree["recipes"][-1]["why"] is None


def test_a_zone_is_a_ramp_and_a_stage_of_it_too(command: Command, project_path: Path) -> None:
    tree = matched(command, project_path, "Cloak", "--stage", "wash", "--technique", "wash", *FEW)
    assert tree["zone"]["id"] == "cloak"
    assert tree["target"]["relief"] == [0.0, 0.25, 0.5, 0.75, 1.0]
    assert len(tree["recipes"][0]["differences"]) == 5
    assert tree["recipes"][0]["coats"][0]["technique"] == "wash"
    words = ("cloak", "--stage", "wash", "--technique", "wash", *FEW)
    text = command("match", project_path, *words).out
    assert text.startswith("small project: recipes for cloak, recess to raised edge\n")
    assert "root mean square along the ramp" in text
    one = matched(command, project_path, "cloak", "--at", "0.5", "--after", "wash", *FEW)
    assert one["target"]["relief"] == [0.5]


def test_a_zone_of_another_scheme(command: Command, tmp_path: Path) -> None:
    project = small_project()
    (scheme,) = project.schemes
    bare = replace(scheme, id="bare", name="bare", steps=scheme.steps[:2], shares=())
    path = tmp_path / "two.schemeforge"
    save(replace(project, schemes=(scheme, bare)), path)
    tree = matched(command, path, "hide", "--of", "bare", "--scheme", "first", *FEW)
    other = matched(command, path, "hide", "--of", "first", "--scheme", "bare", *FEW)
    assert tree["target"]["colours"] != other["target"]["colours"]


def test_which_paints_may_be_used(command: Command, project_path: Path, tmp_path: Path) -> None:
    def used(*words: object) -> set[str]:
        tree = matched(command, project_path, "#7a4a3c", *FEW, *words)
        return {
            part["paint"]
            for recipe in tree["recipes"]
            for coat in recipe["coats"]
            for part in coat["parts"]
        }

    assert "black-primer" not in used()
    assert "red-glaze" not in used("--without", "red glaze")
    assert "clear-medium" in used("--thinner", "Clear Medium", "--technique", "filter")
    starter = {paint.id for paint in starter_paints()} | {"water"}
    assert used("--paints", "starter", "--must", "amber") <= starter
    out = replace(synthetic_paint("used-up"), stock=Stock(left_ml=0.0))
    file = tmp_path / "few.json"
    export_paints((out, synthetic_paint("there")), file)
    assert used("--paints", file, "--in-stock") <= {"there", "water"}


def test_layers_and_coats(command: Command, project_path: Path) -> None:
    tree = matched(command, project_path, "#603020", "--layered", "--coats", "1", "--parts", "3")
    assert all(
        coat["coats"] == 1
        for recipe in tree["recipes"]
        for coat in recipe["coats"]
        if coat["technique"] == "glaze"
    )
    assert any(len(recipe["coats"]) == 2 for recipe in tree["recipes"])


def test_what_holds_a_target_back_is_told(command: Command, project_path: Path) -> None:
    words = (project_path, "#20e040", *FEW)
    tree = matched(command, *words)
    assert not tree["reached"]
    assert tree["causes"]
    text = command("match", *words).out
    assert "Not reached: the nearest recipe differs from the target (" in text
    for cause in tree["causes"]:
        assert f"  - {cause['sentence']}." in text
    lost = command("match", project_path, "100,190,190", *FEW).out
    assert "Not reached: " in lost


def test_what_must_be_fetched_is_told(command: Command, tmp_path: Path) -> None:
    project = small_project()
    empty = tuple(replace(paint, stock=Stock(left_ml=0.0)) for paint in project.paints)
    path = tmp_path / "empty.schemeforge"
    save(replace(project, paints=empty), path)
    ran = command("match", path, "#8a5a3c", *FEW)
    assert "to fetch: " in ran.out
    assert matched(command, path, "#8a5a3c", *FEW)["recipes"][0]["to_fetch"]


def test_no_single_change_may_help(
    command: Command, project_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    from schemeforge.recipe import reach

    def bare(*words: Any) -> Any:
        found = reach(*words)
        return None if found is None else replace(found, causes=())

    monkeypatch.setattr("schemeforge.cli.matching.reach", bare)
    out = command("match", project_path, "#20e040", *FEW).out
    assert "No single change of undercoat, coats or paints would help much." in out


def test_failing_above_a_difference(command: Command, project_path: Path) -> None:
    words = ("match", project_path, "#20e040", *FEW, "--fail-above")
    assert command(*words, "99")[::2] == (0, "")
    ran = command(*words, "1")
    assert ran.code == 1
    assert ran.err.startswith(f"schemeforge: {project_path}: The nearest recipe is ")
    assert "above the 1 asked for" in ran.err
    assert "recipe" in ran.out


@pytest.mark.parametrize(
    ("words", "told"),
    [
        (["#12"], '"#12" is not a screen colour; write it like #8a5a3c.'),
        (["tail"], 'TARGET: There is no zone called "tail"'),
        (["50,0"], 'TARGET: There is no zone called "50,0"'),
        (["500,0,0"], "L* of the target"),
        (["#8a5a3c", "--on", "clok"], '--on: There is no zone called "clok"; did you mean "cloak"'),
        (["#8a5a3c", "--stage", "wash"], "--stage: The target is a colour; leave that option out."),
        (["#8a5a3c", "--of", "first"], "--of: The target is a colour"),
        (["cloak", "--stage", "wahs"], '--stage: There is no step called "wahs"; did you mean'),
        (["cloak", "--of", "frst"], '--of: There is no scheme called "frst"'),
        (["hide", "--stage", "red"], 'The step "red" does not touch "hide"'),
        (["#8a5a3c", "--after", "red"], 'The step "red" does not touch that zone'),
        (["#8a5a3c", "--must", "amber"], '--must: There is no paint called "amber"'),
        (["#8a5a3c", "--thinner", "red glaze"], '"red-glaze" is no medium of the shelf'),
        (["#8a5a3c", "--paints", "none.json"], "schemeforge: none.json: The file cannot be opened"),
        (["#8a5a3c", "--technique", "spray"], '--technique: There is no technique called "spray"'),
        (["#8a5a3c", "--at", "2"], '--at: "2" is out of range'),
        (["#8a5a3c", "--parts", "21"], '--parts: "21" is out of range'),
        (
            ["#8a5a3c", "--technique", "filter", "--parts", "1"],
            "Nothing can be mixed in 1 parts with 30 to 95 % of thinner; allow more",
        ),
    ],
)
def test_bad_words_are_one_sentence(
    words: list[str], told: str, command: Command, project_path: Path
) -> None:
    ran = command("match", project_path, *words)
    assert (ran.code, ran.out) == (2, "")
    assert told in ran.err
    assert ran.err.count("\n") == 1


def test_projects_without_what_it_takes(command: Command, tmp_path: Path) -> None:
    project = small_project()
    path = tmp_path / "p.schemeforge"
    save(replace(project, zones=(), schemes=(), chosen_scheme_id="", groups=()), path)
    assert "The project has no zone; add a zone to it." in command("match", path, "#111111").err
    only = project.paints[:1]
    bare = replace(project, schemes=(), chosen_scheme_id="", paints=only)
    save(bare, path)
    assert "The project has no scheme" in command("match", path, "#111111").err


def test_a_kind_of_recipe_that_does_not_exist(command: Command, project_path: Path) -> None:
    words = ("--must", "red glaze", "--must", "brown wash", "--must", "off-white", "--parts", "2")
    ran = command("match", project_path, "#8a5a3c", *words)
    assert ran.code == 2
    assert "3 paints must be used, and a recipe holds 2; ask for fewer" in ran.err
