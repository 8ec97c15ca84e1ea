import json
import re
from dataclasses import replace
from pathlib import Path
from typing import Any

import jsonschema
import numpy as np
import pytest

from schemeforge import colorimetry
from schemeforge.appearance import Points, zone_stages, zone_tolerance
from schemeforge.cli.prediction_text import shows_colour
from schemeforge.paint import Basis, PaintKind, Uncertainty
from schemeforge.resources import asset
from schemeforge.scheme import Finish, Group, Project, Share, ShareKind, Viewing
from schemeforge.scheme.project_file import save
from tests.builders import bump, flat, mix, small_project, synthetic_paint
from tests.cli.conftest import Command

ROW = re.compile(
    r"^ {5}(\d\.\d\d) +(\d\.\d\d) +(-?\d+\.\d) +(-?\d+\.\d) +(-?\d+\.\d) +(#[0-9a-f]{6})([ !]) +"
    r"(\d+\.\d\d)$"
)


def predicted(command: Command, *words: object) -> dict[str, Any]:
    """The JSON that ``predict`` prints, held to its schema."""
    ran = command("predict", *words, "--json")
    assert (ran.code, ran.err) == (0, "")
    tree: dict[str, Any] = json.loads(ran.out)
    jsonschema.validate(tree, json.loads(asset("prediction.schema.json").read_text("utf-8")))
    return tree


def test_the_table_shows_what_the_engine_predicts(command: Command, project_path: Path) -> None:
    ran = command("predict", project_path, "--zone", "cloak", "--points", "3", "--along", "0.9")
    assert (ran.code, ran.err) == (0, "")
    rows = [match for line in ran.out.splitlines() if (match := ROW.match(line))]
    project = small_project()
    points = Points([0.0, 0.35, 0.7], [0.0, 0.5, 1.0], 0.9)
    stages = zone_stages(project, project.schemes[0], "cloak", points)
    sure = zone_tolerance(project, project.schemes[0], "cloak", points)
    assert len(rows) == 3 * len(stages) == 12
    for n, stage in enumerate(stages):
        for p in range(3):
            row = rows[3 * n + p]
            assert float(row[1]) == pytest.approx(0.35 * p)
            assert float(row[2]) == pytest.approx(0.5 * p)
            lab = colorimetry.lab_from_xyz(stage.xyz[p])
            assert [float(row[k]) for k in (3, 4, 5)] == pytest.approx(lab.tolist(), abs=0.051)
            assert row[6] == colorimetry.hex_codes(stage.xyz[p])[0]
            assert float(row[8]) == pytest.approx(sure.delta_e[n, p], abs=0.0051)


def test_the_table_tells_viewing_basis_and_steps(command: Command, project_path: Path) -> None:
    out = command("predict", project_path, "--light", "a", "--finish", "Gloss").out
    assert "Light A, light bulb, 2 degrees, dry, gloss; the full recipe; 0.5 along" in out
    assert "Paints: typical, not measured." in out
    assert "SCHEME first scheme (chosen)" in out
    for number, name in enumerate(("prime", "off-white from above", "wash", "red"), start=1):
        assert f"  {number}  {name} (typical, not measured)\n" in out
    assert "  -  mud on the base: no colour predicted, trust the chip" in out
    assert "warm" not in out  # only for captains
    assert "\x1b" not in out  # not a terminal


def test_json_carries_every_stage_of_every_zone(command: Command, project_path: Path) -> None:
    tree = predicted(command, project_path)
    zones = tree["schemes"][0]["zones"]
    assert [zone["id"] for zone in zones] == ["hide", "cloak", "base"]
    steps = [[stage["step"]["id"] for stage in zone["stages"]] for zone in zones]
    assert steps == [["prime", "spray", "wash"], ["prime", "spray", "wash", "red"], ["prime"]]
    assert [zone["unpredicted"] for zone in zones] == [
        [],
        [],
        [{"id": "mud", "name": "mud on the base"}],
    ]
    assert {len(stage["points"]) for zone in zones for stage in zone["stages"]} == {5}
    largest = max(
        point["tolerance"]
        for zone in zones
        for stage in zone["stages"]
        for point in stage["points"]
    )
    assert tree["least_sure"] == largest > 1.0


def test_json_agrees_with_the_engine_in_any_viewing(command: Command, project_path: Path) -> None:
    words = ("--light", "FL11", "--observer", "10", "--finish", "satin", "--wet", "--zone", "hide")
    tree = predicted(command, project_path, *words)
    assert tree["viewing"] == {"light": "FL11", "observer": 10, "finish": "satin", "wet": True}
    viewing = Viewing(light="FL11", observer=10, finish=Finish.SATIN, wet=True)
    project = small_project()
    ramp = np.linspace(0.0, 1.0, 5)
    stages = zone_stages(project, project.schemes[0], "hide", Points(ramp, ramp, 0.5), viewing)
    for stage, shown in zip(stages, tree["schemes"][0]["zones"][0]["stages"], strict=True):
        lab = [point["lab"] for point in shown["points"]]
        assert np.abs(lab - colorimetry.lab_from_xyz(stage.xyz)).max() <= 0.5e-4
        assert [point["srgb"] for point in shown["points"]] == colorimetry.hex_codes(stage.xyz)


def test_a_group_gets_its_own_share(command: Command, project_path: Path) -> None:
    def steps(*words: str) -> list[str]:
        tree = predicted(command, project_path, *words)
        return [stage["step"]["id"] for stage in tree["schemes"][0]["zones"][0]["stages"]]

    assert steps("--zone", "cloak", "--group", "Rank and File") == ["prime", "spray", "wash"]
    assert steps("--zone", "hide", "--group", "captains") == ["prime", "spray", "wash", "warm"]


def test_a_zone_that_nobody_paints_is_bare_plastic(command: Command, tmp_path: Path) -> None:
    project = small_project()
    none = Share(group_id="rank", zone_id="base", kind=ShareKind.NONE)
    scheme = replace(project.schemes[0], shares=(none,))
    save(replace(project, schemes=(scheme,)), tmp_path / "p")
    words = (tmp_path / "p", "--zone", "base", "--group", "rank")
    tree = predicted(command, *words)
    (stage,) = tree["schemes"][0]["zones"][0]["stages"]
    assert (stage["step"], stage["basis"]) == (None, None)
    assert {point["tolerance"] for point in stage["points"]} == {None}
    assert tree["least_sure"] is None
    ran = command("predict", *words, "--fail-above", "0.01")
    assert ran.code == 0  # nothing is claimed that could be missed
    out = ran.out
    assert " 1  bare plastic, not painted (its colour is a rule of thumb)\n" in out
    assert "0.00\n" not in out.split("tolerance\n", 1)[1]
    assert "Paints: none used." in out


def vivid_project() -> Project:
    """A clear, saturated cyan glaze over white, beyond sRGB."""
    project = small_project()
    cyan = synthetic_paint(
        "red-glaze",
        PaintKind.INK,
        absorption=bump(660.0, 45.0, 0.12),
        scattering=flat(0.0),
        uncertainty=Uncertainty(),
    )
    paints = tuple(cyan if paint.id == cyan.id else paint for paint in project.paints)
    scheme = project.schemes[0]
    pots = tuple(
        mix("red-pot", red_glaze=1.0) if pot.id == "red-pot" else pot for pot in scheme.mixes
    )
    measured = tuple(replace(paint, basis=Basis.MEASURED) for paint in paints)
    return replace(project, paints=measured, schemes=(replace(scheme, mixes=pots),))


def test_colours_beyond_the_screen_are_marked(command: Command, tmp_path: Path) -> None:
    save(vivid_project(), tmp_path / "p")
    words = (
        "predict",
        tmp_path / "p",
        "--zone",
        "hide",
        "--group",
        "captains",
        "--finish",
        "gloss",
    )
    out = command(*words).out
    marked = [
        match[6] for line in out.splitlines() if (match := ROW.match(line)) and match[7] == "!"
    ]
    assert marked
    assert out.endswith("! more vivid than a screen can show; the code is duller.\n")
    assert "Paints: measured over two grounds." in out
    points = json.loads(command(*words, "--json").out)["schemes"][0]["zones"][0]["stages"][-1]
    assert not all(point["in_gamut"] for point in points["points"])


def test_failing_above_a_tolerance(command: Command, project_path: Path) -> None:
    least = predicted(command, project_path)["least_sure"]
    assert command("predict", project_path, "--fail-above", least + 0.01)[::2] == (0, "")
    ran = command("predict", project_path, "--fail-above", least - 0.01)
    assert ran.code == 1
    assert ran.err.count("\n") == 1
    assert ran.err.startswith(
        f'schemeforge: {project_path}: The colour of "hide" after "wash" in "first scheme" is sure'
    )
    assert "off-white from above" in ran.out  # the table comes all the same


def test_names_or_ids_choose(command: Command, tmp_path: Path) -> None:
    project = small_project()
    twin = replace(project.groups[0], id="rank-2")
    save(replace(project, groups=(*project.groups, twin)), tmp_path / "p")
    assert command("predict", tmp_path / "p", "--group", "rank-2").code == 0
    ran = command("predict", tmp_path / "p", "--group", "rank and file")
    assert ran.code == 2
    assert '--group: Several have the name "rank and file"; give an id: rank, rank-2.' in ran.err


def test_any_name_prints_as_text(command: Command, tmp_path: Path) -> None:
    project = small_project()
    group = Group(id="g", name="[bold]§ 蒼鷺 %s {0}", count=1)
    save(
        replace(project, groups=(group,), schemes=(replace(project.schemes[0], shares=()),)),
        tmp_path / "p",
    )
    out = command("predict", tmp_path / "p", "--group", "g").out
    assert "what [bold]§ 蒼鷺 %s {0} get" in out


@pytest.mark.parametrize(
    ("variables", "is_terminal", "shown"),
    [
        ({"COLORTERM": "truecolor"}, True, True),
        ({"COLORTERM": "24bit", "NO_COLOR": ""}, True, True),
        ({"COLORTERM": "truecolor"}, False, False),
        ({"COLORTERM": "truecolor", "NO_COLOR": "1"}, True, False),
        ({"COLORTERM": "truecolor", "TERM": "dumb"}, True, False),
        ({"TERM": "xterm"}, True, False),
    ],
)
def test_colour_only_where_it_shows(
    variables: dict[str, str], is_terminal: bool, shown: bool
) -> None:
    assert shows_colour(variables, is_terminal=is_terminal) is shown
