"""The README's first command on a fresh clone, and a wheel in an environment of its own.

Takes minutes and needs a package index, so on request only: ``pytest -m install``.
"""

import os
import re
import subprocess
import sys
from pathlib import Path

import pytest

ROOT = Path(__file__).resolve().parents[2]
DEMO_SHEET = "schemeforge-demo-sheet.pdf"

posix_only = pytest.mark.skipif(sys.platform == "win32", reason="for a POSIX shell")


def readme_commands() -> list[str]:
    """The commands of the README, one a line, indented."""
    text = (ROOT / "README.md").read_text(encoding="utf-8")
    return re.findall(r"^ {4}(python3 -m venv .*)$", text, re.MULTILINE)


def run(command: str, folder: Path) -> subprocess.CompletedProcess[str]:
    """A shell's command in that folder, on a machine without a screen."""
    screens = {"DISPLAY", "WAYLAND_DISPLAY", "QT_QPA_PLATFORM", "PYTHONPATH", "VIRTUAL_ENV"}
    done = subprocess.run(  # noqa: S602 - the README's own words
        command,
        shell=True,
        cwd=folder,
        env={name: value for name, value in os.environ.items() if name not in screens},
        stdin=subprocess.DEVNULL,
        capture_output=True,
        encoding="utf-8",
        check=False,
    )
    assert done.returncode == 0, done.stdout + done.stderr
    return done


def test_the_readme_has_both_commands() -> None:
    first, second = readme_commands()
    assert first.endswith("-m pip install . && .venv/bin/schemeforge")
    assert second.endswith("-m pip install -e '.[dev]' && .venv/bin/python -m tests")


def test_the_server_runs_the_readmes_checks() -> None:
    script = (ROOT / ".ci" / "run").read_text(encoding="utf-8")
    assert "-m pip install -q -e '.[dev]'" in script
    assert '"$python" -m tests' in script
    assert os.access(ROOT / ".ci" / "run", os.X_OK)


@pytest.fixture
def clone(tmp_path: Path) -> Path:
    """A fresh clone of the last commit."""
    run(f"git clone -q '{ROOT}' clone", tmp_path)
    return tmp_path / "clone"


@pytest.mark.install
@posix_only
def test_the_first_command_on_a_fresh_clone(clone: Path) -> None:
    done = run(readme_commands()[0].replace("python3", f"'{sys.executable}'", 1), clone)
    assert "schemeforge: There is no display to open the window on" in done.stderr
    assert f"Wrote {DEMO_SHEET}" in done.stdout
    assert (clone / DEMO_SHEET).read_bytes().startswith(b"%PDF-")


@pytest.mark.install
@posix_only
def test_a_wheel_has_all_it_needs(clone: Path, tmp_path: Path) -> None:
    run(f"'{sys.executable}' -m pip wheel -q --no-deps -w '{tmp_path}' .", clone)
    (wheel,) = tmp_path.glob("*.whl")
    away = tmp_path / "away"
    away.mkdir()
    run(f"'{sys.executable}' -m venv venv && venv/bin/python -m pip install -q '{wheel}'", away)
    run("venv/bin/schemeforge", away)
    assert (away / DEMO_SHEET).read_bytes().startswith(b"%PDF-")
    where = "import schemeforge.resources as r; print(r.asset('demo'), r.shared('checks'))"
    assets, shared = run(f'venv/bin/python -c "{where}"', away).stdout.split()
    for folder in (assets, shared):
        assert Path(folder).is_relative_to(away / "venv")
    demo = Path(assets, "saltmarsh_wardens.schemeforge")
    assert "SCHEME" in run(f"venv/bin/schemeforge predict '{demo}'", away).stdout
