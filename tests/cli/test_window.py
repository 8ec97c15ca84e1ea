"""The bare command where no window can open: a sentence, and the desk sheet instead."""

from pathlib import Path

import pytest

from schemeforge.cli.desktop import PLATFORM_VARIABLE, obstacle
from schemeforge.cli.window import free_name
from schemeforge.errors import MissingLibraryError
from tests.cli.conftest import Command
from tests.cli.test_desktop import DISPLAY_VARIABLES


@pytest.fixture(autouse=True)
def headless(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    """No display, and an empty folder to write in."""
    for name in DISPLAY_VARIABLES:
        monkeypatch.delenv(name, raising=False)
    monkeypatch.chdir(tmp_path)


def test_the_demo_sheet_is_written_instead(command: Command, tmp_path: Path) -> None:
    ran = command()
    assert ran.code == 0
    assert ran.err.startswith("schemeforge: There is no display to open the window on")
    assert ran.err.count("\n") == 1
    assert "demo project" in ran.out
    assert "Wrote schemeforge-demo-sheet.pdf" in ran.out
    first = (tmp_path / "schemeforge-demo-sheet.pdf").read_bytes()
    assert first.startswith(b"%PDF-")
    assert "Wrote schemeforge-demo-sheet-2.pdf" in command().out
    assert (tmp_path / "schemeforge-demo-sheet.pdf").read_bytes() == first
    assert len(list(tmp_path.iterdir())) == 2


def test_a_project_gets_its_own_sheet(command: Command, project_path: Path, tmp_path: Path) -> None:
    ran = command(project_path)
    assert ran.code == 0
    assert "the desk sheet of small project instead" in ran.out
    assert (tmp_path / "small-sheet.pdf").read_bytes().startswith(b"%PDF-")


def test_a_bad_project_is_refused(command: Command, tmp_path: Path) -> None:
    (tmp_path / "bad.schemeforge").write_bytes(b"noise")
    ran = command("bad.schemeforge")
    assert ran.code == 2
    assert "bad.schemeforge: " in ran.err.splitlines()[-1]
    assert [path.name for path in tmp_path.iterdir()] == ["bad.schemeforge"]


def test_names_that_are_taken_are_left_alone(tmp_path: Path) -> None:
    assert free_name("s", tmp_path) == tmp_path / "s.pdf"
    (tmp_path / "s.pdf").touch()
    (tmp_path / "s-2.pdf").mkdir()
    assert free_name("s", tmp_path) == tmp_path / "s-3.pdf"


@pytest.mark.parametrize("named", [True, False])
def test_where_a_window_can_open_it_gets_the_file(
    named: bool, command: Command, project_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv(PLATFORM_VARIABLE, "offscreen")
    if isinstance(obstacle(), MissingLibraryError):
        pytest.skip("this machine lacks Qt's libraries")
    opened: list[Path | None] = []

    def opens(path: Path | None) -> int:
        opened.append(path)
        return 0

    monkeypatch.setattr("schemeforge.gui.app.run_window", opens)
    ran = command(*([project_path] if named else []))
    assert ran == (0, "", "")
    assert opened == [project_path if named else None]
    assert list(Path().glob("*.pdf")) == []
