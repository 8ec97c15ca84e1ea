import json
from dataclasses import replace
from pathlib import Path
from typing import Any

import jsonschema
import pytest

from schemeforge import plan
from schemeforge.plan import Caution, LeverKind
from schemeforge.resources import asset
from schemeforge.scheme import Pin, PotUse, Project, Sitting, Timing, edits
from schemeforge.scheme.project_file import save
from tests.builders import small_project
from tests.cli.conftest import Command


@pytest.fixture
def dated(tmp_path: Path) -> Path:
    """The small project with five evenings, enough for it."""
    days = tuple(Sitting(id=f"s{n}", minutes=120.0, day=f"2031-04-{n}") for n in range(25, 30))
    return stored(tmp_path, replace(small_project(), sittings=days))


@pytest.fixture
def late(tmp_path: Path) -> Path:
    """The small project with half an hour, and more pinned to it than it holds."""
    sittings = (Sitting(id="short", minutes=30.0, day="2031-05-01"),)
    pins = tuple(Pin(scheme_id="first", step_id=s, sitting_id="short") for s in ("prime", "mud"))
    return stored(tmp_path, replace(small_project(), sittings=sittings, pins=pins))


def stored(folder: Path, project: Project) -> Path:
    path = folder / "plan.schemeforge"
    save(project, path)
    return path


def tree(command: Command, *words: object) -> dict[str, Any]:
    ran = command("plan", *words, "--json")
    assert ran.code == 0, ran.err
    loaded: dict[str, Any] = json.loads(ran.out)
    jsonschema.validate(loaded, json.loads(asset("plan.schema.json").read_text("utf-8")))
    return loaded


def test_the_plan_in_words(command: Command, dated: Path) -> None:
    ran = command("plan", dated)
    assert (ran.code, ran.err) == (0, "")
    lines = ran.out.splitlines()
    assert lines[0] == "PLAN small project, first scheme"
    assert lines[1].startswith("12 models: the last leaves the desk in sitting ")
    assert "The chance that all is in time is " in lines[2]
    assert any(line.startswith("Sitting 1 on 2031-04-25: 120 min, ") for line in lines)
    assert any("mix white pot" in line for line in lines)
    assert "GROUPS" in lines
    assert any("Captains: off the desk" in line and "Chance" in line for line in lines)
    assert "  Pot D, red pot: " in ran.out
    assert "WHAT TO CUT" not in ran.out
    assert "models at a time" in ran.out
    assert "Zones in this order lose least: " in ran.out
    assert "safety data sheet" in lines[-1]


def test_a_late_plan_tells_what_to_cut_and_fails_where_asked(command: Command, late: Path) -> None:
    ran = command("plan", late)
    assert ran.code == 0
    assert "WHAT TO CUT" in ran.out
    assert "is overfull" in ran.out
    failed = command("plan", late, "--fail-late")
    assert failed.code == 1
    first, second = failed.err.splitlines()
    assert "is overfull: what is pinned to it takes" in first
    assert second.startswith(f"schemeforge: {late}: 12 models: ")


def test_a_plan_in_time_does_not_fail(command: Command, dated: Path) -> None:
    assert command("plan", dated, "--fail-late").code == 0


def test_json_is_the_plan(command: Command, dated: Path) -> None:
    found = tree(command, dated)
    days = tuple(Sitting(id=f"s{n}", minutes=120.0, day=f"2031-04-{n}") for n in range(25, 30))
    project = replace(small_project(), sittings=days)
    made = plan.schedule(project, project.schemes[0])
    assert (found["format"], found["version"]) == ("schemeforge plan", 1)
    assert found["summary"] == made.sentence
    assert found["late"] is False
    assert found["minutes"]["worked"] == pytest.approx(made.worked, abs=1e-3)
    for sitting, told in zip(made.sittings, found["sittings"], strict=True):
        assert [s.step.id for s in sitting.stretches] == [s["step"] for s in told["stretches"]]
        assert told["spare"] == pytest.approx(sitting.spare, abs=1e-3)
    assert [group["id"] for group in found["groups"]] == ["rank", "captains"]
    assert all(0.0 <= group["chance"] <= 1.0 for group in found["groups"])
    assert found["levers"] == []
    assert {pot["letter"] for pot in found["pots"]} == set("ABCD")
    assert found["zone_order"]
    assert found["cautions"][0] == "spraying"


def test_json_of_a_late_plan(command: Command, late: Path) -> None:
    found = tree(command, late)
    assert found["late"] is True
    (overfull,) = found["overfull"]
    assert overfull["sitting"] == "short"
    assert overfull["spills"][0]["step"] == "mud"
    assert min(overfull["spills"][0]["sittings"]) > 1
    assert overfull["over_minutes"] > 0.0
    assert found["levers"]
    assert {"key", "kind", "title", "loses", "saved_minutes", "seen_delta_e"} <= set(
        found["levers"][0]
    )
    assert found["sittings"][-1]["id"] is None


def test_other_sittings_ways_and_days(command: Command, project_path: Path) -> None:
    found = tree(command, project_path, "--sittings", "2031-05-01:90, 240,2031-05-09:60")
    told = [(s["day"], s["minutes"]) for s in found["sittings"][:3]]
    assert told == [("2031-05-01", 90.0), ("2031-05-02", 240.0), ("2031-05-09", 60.0)]
    whole = tree(command, project_path, "--way", "Whole Batch")
    assert max(m["count"] for m in whole["sittings"][0]["stretches"][0]["models"]) == 10
    small = tree(command, project_path, "--sub-batch", "2")
    assert any(trial["models"] == 2 for trial in small["sub_batches"])
    later = tree(
        command, project_path, "--sittings", "2031-05-01:90,2031-05-09:60", "--today", "2031-05-02"
    )
    assert later["sittings"][0]["day"] == "2031-05-09"


def test_two_pairs_of_hands_are_told_apart(command: Command, tmp_path: Path) -> None:
    project = small_project()
    project = replace(project, habits=replace(project.habits, hands=2), sittings=())
    out = command("plan", stored(tmp_path, project)).out
    assert "hands 1" in out
    assert "hands 2" in out
    assert "Plan sittings, or give dates" in out or "Chance" in out


def test_a_calendar(command: Command, dated: Path, tmp_path: Path) -> None:
    out = tmp_path / "sittings.ics"
    ran = command("plan", dated, "--ics", out, "--begins", "19:30")
    assert ran.code == 0
    assert ran.err == f"schemeforge: Wrote {out}.\n"
    text = out.read_bytes().decode()
    assert text.startswith("BEGIN:VCALENDAR\r\n")
    assert text.count("BEGIN:VEVENT") == 5
    assert "DTSTART:20310425T193000\r\n" in text
    undated = command("plan", dated, "--ics", out, "--sittings", "60,2031-05-01:60")
    assert "1 sitting has no day and is not in the calendar." in undated.err
    several = command("plan", dated, "--ics", out, "--sittings", "60,60,60")
    assert "3 sittings have no day and are not in the calendar." in several.err
    assert out.read_bytes().count(b"BEGIN:VEVENT") == 0


def test_paint_that_is_short_is_to_be_bought(command: Command, tmp_path: Path) -> None:
    project = small_project()
    paints = tuple(replace(p, stock=replace(p.stock, left_ml=0.1)) for p in project.paints)
    out = command("plan", stored(tmp_path, replace(project, paints=paints))).out
    assert "TO BUY" in out
    assert "  black primer: " in out


def test_nothing_to_plan(command: Command, tmp_path: Path) -> None:
    bare = Project(id="p", name="p", schemes=(replace(small_project().schemes[0], shares=(),
                   steps=()),), paints=small_project().paints)  # fmt: skip
    ran = command("plan", stored(tmp_path, bare))
    assert ran.out.splitlines()[:2] == ["PLAN p, first scheme", "All models are done."]
    assert tree(command, stored(tmp_path, bare))["sittings"] == []


@pytest.mark.parametrize(
    ("words", "told"),
    [
        (["--sittings", "soon"], '--sittings: "soon" is no sitting; give minutes, or day:minutes'),
        (["--sittings", "5000"], "--sittings: Length of a sitting is 5000"),
        (["--sittings", "May:60"], '--sittings: Day of a sitting is "May"'),
        (["--today", "now"], '--today: The day is "now"; write the date as YYYY-MM-DD.'),
        (["--way", "quickly"], "There is no way called"),
        (["--sub-batch", "0"], "out of range"),
        (["--ics", "plan.txt"], "plan.txt: This kind of file cannot be written; end its name in"),
        (["--begins", "19:00"], "--begins: There is no calendar to put it in; give --ics OUT"),
        (["--ics", "x.ics", "--begins", "7pm"], '--begins: "7pm" is no time of day'),
        (["--scheme", "frist"], "--scheme: There is no scheme called"),
    ],
)
def test_bad_words_are_one_sentence(
    command: Command, project_path: Path, words: list[str], told: str,
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch,
) -> None:  # fmt: skip
    monkeypatch.chdir(tmp_path)
    ran = command("plan", project_path, *words)
    assert ran.code == 2
    assert told in ran.err
    assert ran.err.count("\n") == 1
    assert not (tmp_path / "x.ics").exists()


def test_errors_of_the_file_name_it(command: Command, tmp_path: Path) -> None:
    empty = stored(tmp_path, Project(id="p", name="p"))
    ran = command("plan", empty)
    assert ran.code == 2
    assert ran.err == f"schemeforge: {empty}: The project has no scheme; add a scheme to it.\n"
    where = tmp_path / "gone" / "x.ics"
    ran = command("plan", stored(tmp_path, small_project()), "--ics", where)
    assert "The folder is not there" in ran.err


def strict(schema: Any) -> Any:
    """The schema without room for fields that it does not name."""
    if isinstance(schema, list):
        return [strict(item) for item in schema]
    if not isinstance(schema, dict):
        return schema
    closed = {key: strict(value) for key, value in schema.items()}
    if closed.get("type") == "object" and "properties" in closed:
        closed["additionalProperties"] = False
        assert set(closed["required"]) <= set(closed["properties"])
    return closed


def worked(project: Project) -> Project:
    """Begun, with a pot on record and one group done."""
    timings = [
        Timing(
            id=f"t-{step.id}",
            scheme_id="first",
            step_id=step.id,
            group_id="captains",
            models=2,
            minutes=9.0,
            at="2031-04-24T20:00:00+00:00",
            technique="" if step.coat is None else step.coat.technique.value,
        )
        for step in project.schemes[0].steps
    ]
    use = PotUse(id="u", scheme_id="first", mix_id="wash-pot", models=6, mixed_ml=9.0, left_ml=0.4)
    return edits.put_pot_use(edits.put_timings(project, timings), use)


@pytest.mark.parametrize(
    "change",
    [
        lambda p: p,
        worked,
        lambda p: replace(p, sittings=(), pins=()),
        lambda p: edits.remove_group(edits.remove_group(p, "rank"), "captains"),
        lambda p: edits.set_habits(p, replace(p.habits, hands=2)),
    ],
)
def test_the_published_schema_names_all_that_is_printed(
    command: Command, late: Path, tmp_path: Path, change: Any
) -> None:
    schema = strict(json.loads(asset("plan.schema.json").read_text("utf-8")))
    jsonschema.Draft202012Validator.check_schema(schema)
    from schemeforge.scheme.project_file import load

    file = stored(tmp_path, change(load(late)))
    for words in ((file,), (file, "--today", "2031-04-25")):
        jsonschema.validate(tree(command, *words), schema)


def test_pots_and_paints_are_counted_out(command: Command, dated: Path) -> None:
    made = tree(command, dated)
    project = small_project()
    pots = plan.pots(project, project.schemes[0])
    for told, pot in zip(made["pots"], pots, strict=True):
        assert told["letter"] == pot.letter
        for field in ("ml", "grams", "drops", "brush_loads"):
            assert told[field] == pytest.approx(getattr(pot, field), abs=0.001)
        assert told["steps"] == list(pot.step_ids)
    needs = plan.paint_needs(project, project.schemes[0])
    assert [paint["id"] for paint in made["paints"]] == [need.paint_id for need in needs]
    assert all(paint["left_ml"] == 12.0 for paint in made["paints"])
    said = command("plan", dated).out
    assert f"To mix: {pots[2].grams:.1f} g, {pots[2].drops:.0f} drops." in said


def test_the_published_schema_knows_every_lever_and_caution() -> None:
    schema = json.loads(asset("plan.schema.json").read_text("utf-8"))
    assert schema["$defs"]["lever"]["properties"]["kind"]["enum"] == [k.value for k in LeverKind]
    listed = schema["properties"]["cautions"]["items"]["enum"]
    assert listed == [caution.value for caution in Caution]


def test_the_published_schema_refuses_what_is_no_plan(command: Command, late: Path) -> None:
    schema = json.loads(asset("plan.schema.json").read_text("utf-8"))
    for field, value in (("late", "yes"), ("version", 2), ("chance_all_in_time", 1.5)):
        with pytest.raises(jsonschema.ValidationError):
            jsonschema.validate(tree(command, late) | {field: value}, schema)
