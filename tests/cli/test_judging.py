"""``schemeforge calibrate --model``: painted test models judged without a window."""

import json
from dataclasses import replace
from pathlib import Path

import pytest

from schemeforge.cli.judging import AS_TAKEN
from schemeforge.scheme import Coat, edits
from schemeforge.scheme.project_file import load, save
from tests.builders import small_project
from tests.cli.conftest import Command
from tests.gui.adding import painted_model as drawn
from tests.gui.adding.painted_card import inside


@pytest.fixture
def picture(tmp_path: Path) -> Path:
    """The cloak, its wash half as heavy again and its red lighter."""
    hand = {"wash": 1.5, "red": 0.7}
    return drawn.photograph(tmp_path / "model.png", small_project(), "first", "cloak", hand)


@pytest.fixture
def marks(tmp_path: Path) -> Path:
    """Where the references lie."""
    path = tmp_path / "marks.json"
    listed = []
    for ground, area in drawn.REFERENCES:
        box = inside(area)
        listed.append(
            {
                "name": f"{ground[0]:g}",
                "area": [box.left, box.top, box.right, box.bottom],
                "reflectance": ground[0],
            }
        )
    path.write_text(json.dumps({"references": listed}), encoding="utf-8")
    return path


LINE = ",".join(f"{value:.5f}" for end in drawn.LINE for value in end)


def films(path: Path) -> dict[str, float]:
    steps = load(path).scheme("first").steps
    return {step.id: step.layer.wet_um for step in steps if isinstance(step.layer, Coat)}


def test_a_test_model_is_judged_and_kept_without_changing_a_coat(
    command: Command, picture: Path, marks: Path, project_path: Path, tmp_path: Path
) -> None:
    out = tmp_path / "judged.schemeforge"
    words = ("--model", project_path, "--zone", "cloak", "--line", LINE, "--marks", marks)
    ran = command("calibrate", picture, *words, "--name", "Sunday's cloak", "-o", out)
    assert (ran.code, ran.err) == (0, "")
    assert ran.out.startswith("Sunday's cloak: cloak of first scheme\n")
    assert AS_TAKEN not in ran.out
    (kept,) = load(out).evidence
    factors = {coat.step_id: coat.factor for coat in kept.strengths}
    assert factors["wash"] == pytest.approx(1.5, rel=0.15)
    assert factors["red"] == pytest.approx(0.7, rel=0.15)
    assert films(out) == films(project_path)


def test_applied_on_request_and_told_to_machines(
    command: Command, picture: Path, marks: Path, project_path: Path, tmp_path: Path
) -> None:
    out = tmp_path / "judged.schemeforge"
    words = ("--model", project_path, "--zone", "cloak", "--line", LINE, "--marks", marks)
    more = ("--scheme", "first scheme", "--group", "captains", "--undercoat", "--json", "--apply")
    ran = command("calibrate", picture, *words, *more, "-o", out)
    assert ran.code == 0
    tree = json.loads(ran.out)
    assert [coat["step"] for coat in tree["coats"]] == ["spray", "wash", "red"]
    assert tree["difference_after"] < tree["difference_before"]
    (kept,) = load(out).evidence
    assert kept.group_id == "captains"
    laid = {coat.step_id: coat.film_um for coat in kept.strengths}
    assert films(out)["wash"] == pytest.approx(laid["wash"])


def test_a_picture_without_references_is_told_of(
    command: Command, picture: Path, marks: Path, project_path: Path
) -> None:
    words = ("--model", project_path, "--zone", "cloak", "--line", LINE)
    ran = command("calibrate", picture, *words)
    assert ran.code == 0
    assert ran.out.endswith(f"\n\n  {AS_TAKEN}\n")
    assert command("calibrate", picture, *words, "--strict").code == 1
    bare = json.loads(command("calibrate", picture, *words, "--json").out)
    assert bare["findings"][0] == AS_TAKEN
    put_right = command("calibrate", picture, *words, "--marks", marks, "--json", "--strict")
    assert put_right.code == 0
    assert json.loads(put_right.out)["findings"] == []


def test_a_test_model_is_called_as_its_photograph(
    command: Command, picture: Path, project_path: Path, tmp_path: Path
) -> None:
    photo, out = picture.rename(tmp_path / "Old Warden.png"), tmp_path / "judged.schemeforge"
    words = ("--model", project_path, "--zone", "cloak", "--line", LINE, "-o", out)
    assert command("calibrate", photo, *words).out.startswith("Old Warden: cloak of")
    (kept,) = load(out).evidence
    assert (kept.id, kept.name) == ("old-warden", "Old Warden")


def test_zone_and_scheme_are_told_by_name(
    command: Command, picture: Path, marks: Path, project_path: Path
) -> None:
    project = load(project_path)
    zones = (replace(z, name="Long Cloak") if z.id == "cloak" else z for z in project.zones)
    project = replace(project, zones=tuple(zones))
    save(edits.rename_scheme(project, "first", "First Light"), project_path)
    words = ("--model", project_path, "--zone", "cloak", "--line", LINE, "--marks", marks)
    told = command("calibrate", picture, *words, "--name", "Sunday").out
    assert told.startswith("Sunday: Long Cloak of First Light\n")


@pytest.mark.parametrize(
    ("words", "sentence"),
    [
        (("--zone", "cloak"), "--line: It is not told where the line lies; give x1,y1,x2,y2"),
        (("--zone", "cloak", "--line", "0,0,1"), "--line: It is not told where the line lies"),
        (("--zone", "cloak", "--line", "0,0,0,0"), "--line: The line has no length"),
        (("--zone", "cloak", "--line", "0,0,2,0"), "--line: Line, end is 2, outside 0 to 1"),
        (("--line", LINE), "--zone: It is not told in which zone the line lies; give one of hide"),
        (("--zone", "cloke", "--line", LINE), 'did you mean "cloak"'),
        (("--zone", "base", "--line", LINE), "no coat whose strength could be fitted"),
        (("--zone", "cloak", "--line", LINE, "-o", "x.json"), "end in .schemeforge"),
        (("--zone", "cloak", "--line", LINE, "--apply"), "name that project with -o OUT."),
    ],
)
def test_what_is_missing_or_wrong_is_one_sentence(
    command: Command, picture: Path, project_path: Path, words: tuple[str, ...], sentence: str
) -> None:
    ran = command("calibrate", picture, "--model", project_path, *words)
    assert (ran.code, ran.out) == (2, "")
    assert ran.err.count("\n") == 1
    assert sentence in ran.err


def test_nothing_that_was_read_is_written_over(
    command: Command, picture: Path, project_path: Path
) -> None:
    words = ("--model", project_path, "--zone", "cloak", "--line", LINE)
    before = project_path.read_bytes()
    ran = command("calibrate", picture, *words, "-o", project_path)
    assert ran.code == 2
    assert "would be replaced" in ran.err
    assert project_path.read_bytes() == before
    ran = command("calibrate", "--one", "#7f4a21", "--kind", "ink", "--model", project_path)
    assert "--model: A test model is judged from its photograph; give it as FILE" in ran.err
