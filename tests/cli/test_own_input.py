"""No command writes over what it reads, nor over what an earlier run did not write."""

import os
from pathlib import Path

import pytest
from PIL import Image

from schemeforge.export.recipe_strip import read_strip, write_strip
from tests.builders import small_project
from tests.cli.conftest import Command

TOLD = "This is the file to read and would be replaced; write under another name."


@pytest.fixture
def strip(tmp_path: Path) -> Path:
    path = tmp_path / "strip.png"
    write_strip(small_project(), "first", path)
    return path


def everything(folder: Path) -> dict[str, bytes]:
    return {path.name: path.read_bytes() for path in folder.iterdir()}


@pytest.mark.parametrize("name", ["sheet", "picture"])
def test_a_strip_is_not_written_over(
    name: str, command: Command, strip: Path, tmp_path: Path
) -> None:
    before = everything(tmp_path)
    ran = command(name, strip, "-o", strip)
    assert (ran.code, ran.out, ran.err) == (2, "", f"schemeforge: {strip}: {TOLD}\n")
    assert everything(tmp_path) == before
    assert read_strip(strip) == small_project()


@pytest.mark.parametrize("kind", ["a way round", "a link", "a second name"])
def test_nor_by_another_name_of_the_same_file(
    kind: str, command: Command, strip: Path, tmp_path: Path
) -> None:
    out = tmp_path / "other.png"
    if kind == "a link":
        out.symlink_to(strip)
    elif kind == "a second name":
        os.link(strip, out)
    else:
        (tmp_path / "folder").mkdir()
        out = tmp_path / "folder" / ".." / "strip.png"
    before = strip.read_bytes()
    ran = command("sheet", strip, "-o", out)
    assert (ran.code, ran.out, ran.err) == (2, "", f"schemeforge: {out}: {TOLD}\n")
    assert strip.read_bytes() == before


def test_a_project_that_is_called_like_a_sheet_is_kept(
    command: Command, project_path: Path, tmp_path: Path
) -> None:
    for name, words in {
        "project.pdf": ("sheet", "-o"),
        "project.csv": ("sheet", "-o"),
        "project.ics": ("plan", "--ics"),
    }.items():
        path = tmp_path / name
        path.write_bytes(project_path.read_bytes())
        ran = command(words[0], path, words[1], path)
        assert (ran.code, ran.out, ran.err) == (2, "", f"schemeforge: {path}: {TOLD}\n")
        assert path.read_bytes() == project_path.read_bytes()


@pytest.mark.parametrize("which", ["readings", "marks"])
def test_readings_and_marks_are_kept(which: str, command: Command, tmp_path: Path) -> None:
    readings, marks = tmp_path / "card.csv", tmp_path / "marks.json"
    readings.write_text("nm;film\n", encoding="utf-8")
    marks.write_text("{}", encoding="utf-8")
    before = everything(tmp_path)
    out = readings if which == "readings" else marks
    ran = command("calibrate", readings, "--marks", marks, "-o", out)
    assert (ran.code, ran.out, ran.err) == (2, "", f"schemeforge: {out}: {TOLD}\n")
    assert everything(tmp_path) == before


def test_a_strip_beside_a_sheet_of_its_own_is_fine(command: Command, strip: Path) -> None:
    ran = command("sheet", strip, "-o", strip.with_name("sheet.png"), "--dpi", "40")
    assert (ran.code, ran.err) == (0, "")
    assert read_strip(strip) == small_project()


def test_a_later_page_replaces_an_earlier_page_only(
    command: Command, project_path: Path, tmp_path: Path
) -> None:
    words = ("sheet", project_path, "-o", tmp_path / "out.png", "--no-date", "--dpi")
    assert command(*words, "40").code == 0
    second = tmp_path / "out-2.png"
    first_run = second.read_bytes()
    assert command(*words, "50").code == 0  # over its own pages
    assert second.read_bytes() != first_run

    Image.new("RGB", (4, 4), "red").save(second)
    before = everything(tmp_path)
    ran = command(*words, "40")
    assert (ran.code, ran.out) == (2, "")
    assert ran.err == (
        f"schemeforge: {second}: This file is not from an earlier sheet and would be "
        "replaced; move it away or write the sheet under another name.\n"
    )
    assert everything(tmp_path) == before


def test_a_strip_that_stands_where_the_second_page_would_is_kept(
    command: Command, strip: Path, tmp_path: Path
) -> None:
    second = strip.rename(tmp_path / "out-2.png")
    ran = command("sheet", second, "-o", tmp_path / "out.png", "--dpi", "40")
    assert ran.code == 2
    assert not (tmp_path / "out.png").exists()
    assert read_strip(second) == small_project()


def test_the_first_page_of_another_sheet_is_no_second_page(
    command: Command, project_path: Path, tmp_path: Path
) -> None:
    assert command("sheet", project_path, "-o", tmp_path / "out-2.png", "--dpi", "40").code == 0
    before = everything(tmp_path)
    assert command("sheet", project_path, "-o", tmp_path / "out.png", "--dpi", "40").code == 2
    assert everything(tmp_path) == before


def test_a_table_that_is_not_ours_is_kept(
    command: Command, project_path: Path, tmp_path: Path
) -> None:
    words = ("sheet", project_path, "-o", tmp_path / "out.csv")
    pots = tmp_path / "out-pots.csv"
    assert command(*words).code == 0
    assert command(*words).code == 0  # over its own tables
    pots.write_text("pot;size\n", encoding="utf-8")
    before = everything(tmp_path)
    ran = command(*words)
    assert (ran.code, ran.out) == (2, "")
    assert ran.err.startswith(f"schemeforge: {pots}: This file is not from an earlier sheet")
    assert everything(tmp_path) == before
