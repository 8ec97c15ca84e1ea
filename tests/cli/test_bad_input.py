"""Bad input gets one sentence, exit code 2, and leaves nothing behind."""

import json
import os
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

from schemeforge.cli.main import COMMANDS
from schemeforge.scheme.project_file import dumps
from tests.builders import small_project
from tests.cli.conftest import Command, Ran


def files(folder: Path) -> dict[str, bytes]:
    """All files below the folder with their bytes."""
    return {str(p): p.read_bytes() for p in sorted(folder.rglob("*")) if p.is_file()}


def refusal(ran: Ran) -> str:
    """The one line of a refusal, without the program's name."""
    assert ran.code == 2
    assert ran.out == ""
    assert ran.err.startswith("schemeforge: ")
    assert ran.err.endswith(".\n")
    assert ran.err.count("\n") == 1
    assert "Traceback" not in ran.err
    return ran.err.removeprefix("schemeforge: ").rstrip("\n")


def edited(change: Callable[[dict[str, Any]], object]) -> bytes:
    """The small project's file after a change of its tree."""
    tree = json.loads(dumps(small_project()))
    change(tree)
    return json.dumps(tree).encode()


def first_part(tree: dict[str, Any]) -> dict[str, Any]:
    """The first ingredient of the wash."""
    pots = tree["project"]["schemes"][0]["mixes"]
    found: dict[str, Any] = next(p for p in pots if p["id"] == "wash-pot")["ingredients"][0]
    return found


BAD_FILES = {
    "missing paint": (
        edited(lambda tree: tree["project"]["paints"].pop(2)),
        (
            'Scheme "first scheme": Mix "wash pot" needs the paint "brown-wash", which the project '
            "does not carry; add that paint or take it out of the mix."
        ),
    ),
    "zero parts": (edited(lambda tree: first_part(tree).update(parts=0)), "are zero; give more"),
    "negative parts": (edited(lambda tree: first_part(tree).update(parts=-3)), "is -3, outside 0"),
    "NaN": (edited(lambda tree: first_part(tree).update(parts=float("nan"))), "is not finite"),
    "unknown light": (
        edited(lambda tree: tree["project"].update(viewing={"light": "D56"})),
        'There is no light called "D56"; did you mean "D65"',
    ),
    "newer version": (edited(lambda tree: tree.update(version=999)), "update SchemeForge."),
    "truncated": (dumps(small_project()).encode()[:900], "cut short"),
    "not JSON": (b"primer, wash, glaze\n", "not"),
    "empty": (b"", "The file is empty"),
    "another JSON": (b'{"zones": []}', "This is not a SchemeForge project"),
    "binary noise": (bytes(range(256)) * 40, "not"),
}


@pytest.mark.parametrize("name", ["predict", "sheet"])
@pytest.mark.parametrize("kind", BAD_FILES)
def test_a_bad_file_is_one_sentence(
    kind: str, name: str, command: Command, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    data, words = BAD_FILES[kind]
    path = tmp_path / "bad.schemeforge"
    path.write_bytes(data)
    monkeypatch.chdir(tmp_path)
    before = files(tmp_path)
    told = refusal(command(name, path, *(("-o", tmp_path / "out.pdf") if name == "sheet" else ())))
    assert told.startswith(f"{path}: ")
    assert words in told
    assert files(tmp_path) == before


def test_places_that_are_no_files(command: Command, tmp_path: Path) -> None:
    assert "There is no such file" in refusal(command("predict", tmp_path / "no.schemeforge"))
    assert "This is not a file" in refusal(command("predict", tmp_path))
    assert "cannot be opened" in refusal(command("predict", "null\0null"))
    assert "cannot be opened" in refusal(command("predict", "n" * 5000))


@pytest.mark.skipif(not hasattr(os, "geteuid") or os.geteuid() == 0, reason="root may read all")
def test_a_file_that_may_not_be_read(command: Command, project_path: Path) -> None:
    project_path.chmod(0)
    assert "permission denied" in refusal(command("predict", project_path))


def test_a_hostile_name_stays_on_one_line(command: Command, tmp_path: Path) -> None:
    told = refusal(command("predict", tmp_path / "a\nb\x1b[31m\u202ec"))
    assert "There is no such file" in told
    assert "\x1b" not in told
    assert "\u202e" not in told


@pytest.mark.parametrize(
    ("words", "told"),
    [
        (["predct", "x"], 'There is no command or file called "predct"; did you mean "predict".'),
        (["zzzz"], f"give a project file, or one of {', '.join(COMMANDS)}."),
        (["predict"], "The following arguments are required: FILE; see "),
        (["predict", "FILE", "--lihgt", "A"], 'no option "--lihgt"; did you mean "--light".'),
        (["predict", "FILE", "--lihgt=A"], 'no option "--lihgt"; did you mean "--light".'),
        (["predict", "FILE", "--xyzzy"], 'no option "--xyzzy"; see "schemeforge predict --help".'),
        (["predict", "FILE", "more"], '"more" is one word too many; put names with spaces in'),
        (["predict", "FILE", "--points"], "--points: Expected one argument; see "),
        (
            ["predict", "FILE", "--points", "1"],
            '--points: "1" is out of range; give a whole number',
        ),
        (
            ["predict", "FILE", "--points", "9" * 5000],
            "out of range; give a whole number from 2 to",
        ),
        (["predict", "FILE", "--points", "2.5"], '--points: "2.5" is out of range'),
        (["predict", "FILE", "--along", "nan"], '--along: "nan" is out of range; give a number'),
        (["predict", "FILE", "--along", "-0.1"], '--along: "-0.1" is out of range'),
        (["predict", "FILE", "--along", "tip"], '--along: "tip" is out of range'),
        (["predict", "FILE", "--fail-above", "-1"], '--fail-above: "-1" is out of range'),
        (["predict", "FILE", "--observer", "4"], '--observer: There is no observer called "4"'),
        (["predict", "FILE", "--finish", "mat"], '--finish: There is no finish called "mat"; did'),
        (["predict", "FILE", "--light", "D56"], '--light: There is no light called "D56"; did you'),
        (
            ["predict", "FILE", "--scheme", "frst"],
            '--scheme: There is no scheme called "frst"; did',
        ),
        (["predict", "FILE", "--zone", "cloack"], '--zone: There is no zone called "cloack"; did'),
        (["predict", "FILE", "--group", "qqq"], '--group: There is no group called "qqq"; choose'),
        (["sheet", "FILE"], "The following arguments are required: -o/--out; see "),
        (
            ["sheet", "FILE", "-o", "x.pdf", "--paper", "A3"],
            '--paper: There is no paper called "A3"',
        ),
        (["sheet", "FILE", "-o", "x.pdf", "--scheme", "qq"], "--scheme: There is no scheme called"),
        (["sheet", "FILE", "-o", "x.pdf", "--leave-out", "mixs"], 'did you mean "mixes".'),
        (["--verbos"], 'There is no option "--verbos"; did you mean "--version".'),
    ],
)
def test_bad_words_are_one_sentence(
    words: list[str],
    told: str,
    command: Command,
    project_path: Path,
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    monkeypatch.chdir(project_path.parent)
    before = files(project_path.parent)
    ran = command(*(project_path if word == "FILE" else word for word in words))
    assert told in refusal(ran)
    assert files(project_path.parent) == before


def test_a_project_with_nothing_to_predict(command: Command, tmp_path: Path) -> None:
    path = tmp_path / "p"
    empty = {"id": "p", "name": "p"}
    whole = {"format": "schemeforge project", "version": 2, "project": empty}
    path.write_text(json.dumps(whole), encoding="utf-8")
    told = refusal(command("predict", path))
    assert told == f"{path}: The project has no scheme; add a scheme to it."


def test_an_error_in_the_program_is_a_sentence_too(
    command: Command, project_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    def broken(*_: object) -> None:
        raise ZeroDivisionError("five by nought")

    monkeypatch.setattr("schemeforge.cli.prediction.predict", broken)
    told = refusal(command("predict", project_path))
    assert told.startswith("An error in the program itself (ZeroDivisionError: five by nought)")
    monkeypatch.setenv("SCHEMEFORGE_TRACE", "1")
    with pytest.raises(ZeroDivisionError):
        command("predict", project_path)
