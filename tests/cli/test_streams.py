"""The program as a process: pipes, full disks, interrupts, odd encodings, and what it imports."""

import contextlib
import os
import subprocess
import sys
from dataclasses import replace
from pathlib import Path

import pytest

from schemeforge.scheme.project_file import save
from tests.builders import small_project

HEAVY = ("colour", "scipy", "PySide6", "shiboken6", "PIL", "reportlab", "pypdfium2", "matplotlib")
PROGRAM = [sys.executable, "-W", "error", "-m", "schemeforge"]


def ran(*words: object, **variables: str) -> subprocess.CompletedProcess[str]:
    """The program run as a process of its own."""
    return subprocess.run(  # noqa: S603 - our own interpreter and our own words
        [*PROGRAM, *(str(word) for word in words)],
        capture_output=True,
        encoding="utf-8",
        env={**os.environ, **variables},
        check=False,
    )


@pytest.mark.parametrize("words", [["--help"], ["predict", "--help"], ["sheet", "--help"]])
def test_help_imports_no_numbers(words: list[str]) -> None:
    assert heavy_after(words, (*HEAVY, "numpy")) == []


@pytest.mark.parametrize("options", [[], ["--json", "--light", "FL11", "--wet"]])
def test_predict_imports_nothing_heavy(options: list[str], project_path: Path) -> None:
    assert heavy_after(["predict", str(project_path), *options], HEAVY) == []


def heavy_after(words: list[str], names: tuple[str, ...]) -> list[str]:
    """Which of the libraries the command has imported."""
    code = (
        "import sys; from schemeforge.cli.main import run; "
        f"assert run({words!r}) == 0; "
        f"print('HEAVY', *[name for name in {names!r} if name in sys.modules])"
    )
    done = subprocess.run(  # noqa: S603 - our own interpreter and our own words
        [sys.executable, "-W", "error", "-c", code],
        capture_output=True,
        encoding="utf-8",
        check=True,
    )
    assert done.stderr == ""
    last = done.stdout.splitlines()[-1].split()
    assert last[0] == "HEAVY"
    return last[1:]


def test_version_and_help_go_to_standard_output() -> None:
    assert ran("--version").stdout.startswith("SchemeForge ")
    shown = ran("--help")
    assert (shown.returncode, shown.stderr) == (0, "")
    assert "predict" in shown.stdout
    assert "sheet" in shown.stdout


def test_a_reader_that_goes_away_is_no_error(project_path: Path) -> None:
    ours, theirs = os.pipe()
    os.close(ours)
    with os.fdopen(theirs, "wb") as pipe:
        done = subprocess.run(  # noqa: S603 - our own interpreter and our own words
            [*PROGRAM, "predict", str(project_path)],
            stdout=pipe,
            stderr=subprocess.PIPE,
            check=False,
        )
    assert (done.returncode, done.stderr) == (0, b"")


@pytest.mark.skipif(not Path("/dev/full").exists(), reason="this system has no full device")
def test_a_full_disk_is_a_sentence(project_path: Path) -> None:
    with Path("/dev/full").open("wb") as full:
        done = subprocess.run(  # noqa: S603 - our own interpreter and our own words
            [*PROGRAM, "predict", str(project_path)],
            stdout=full,
            stderr=subprocess.PIPE,
            check=False,
        )
    assert done.returncode == 2
    assert done.stderr.decode() == (
        "schemeforge: standard output: The output cannot be written (no space left on device); "
        "make room or send it elsewhere.\n"
    )


@pytest.mark.skipif(sys.platform == "win32", reason="needs a POSIX shell")
def test_closed_streams_are_bearable(project_path: Path) -> None:
    for closing, code in ((">&-", 0), ("2>&- <&-", 0)):
        line = f'exec "$@" {closing}'
        done = subprocess.run(  # noqa: S603 - our own interpreter and our own words
            ["/bin/sh", "-c", line, "sh", *PROGRAM, "predict", str(project_path)],
            capture_output=True,
            check=False,
        )
        assert (done.returncode, done.stderr) == (code, b"")


@pytest.mark.skipif(sys.platform == "win32", reason="signals are another thing there")
def test_an_interrupt_ends_quietly() -> None:
    code = (
        "import signal, sys; from schemeforge.cli import predict; "
        "from schemeforge.cli.main import run\n"
        # What runs in the background is started deaf to interrupts.
        "signal.signal(signal.SIGINT, signal.default_int_handler)\n"
        "def slow(arguments): signal.raise_signal(signal.SIGINT)\n"
        "predict.run = slow; sys.exit(run(['predict', 'x']))"
    )
    done = subprocess.run(  # noqa: S603 - our own interpreter and our own words
        [sys.executable, "-c", code], capture_output=True, encoding="utf-8", check=False
    )
    assert (done.returncode, done.stdout) == (130, "")
    assert done.stderr == "schemeforge: Interrupted.\n"


def test_names_print_in_any_encoding(tmp_path: Path) -> None:
    save(replace(small_project(), name="Reiher 蒼鷺"), tmp_path / "p")
    done = ran("predict", tmp_path / "p", PYTHONIOENCODING="ascii", PYTHONUTF8="0")
    assert (done.returncode, done.stderr) == (0, "")
    assert done.stdout.startswith("Reiher \\u84bc\\u9dfa\n")


@pytest.mark.skipif(sys.platform != "linux", reason="file names are text elsewhere")
def test_a_file_name_that_is_no_text() -> None:
    done = subprocess.run(  # noqa: S603 - our own interpreter and our own words
        [*PROGRAM, "predict", b"/nowhere/\xff.schemeforge"], capture_output=True, check=False
    )
    assert done.returncode == 2
    assert done.stderr.startswith(b"schemeforge: /nowhere/\\udcff.schemeforge: There is no such")


@pytest.mark.skipif(sys.platform == "win32", reason="needs a POSIX terminal")
@pytest.mark.parametrize(
    ("variables", "blocks"), [({"NO_COLOR": ""}, True), ({"NO_COLOR": "1"}, False)]
)
def test_a_terminal_gets_blocks_of_colour(
    variables: dict[str, str], blocks: bool, project_path: Path
) -> None:
    ours, theirs = os.openpty()
    child = subprocess.Popen(  # noqa: S603 - our own interpreter and our own words
        [*PROGRAM, "predict", str(project_path), "--zone", "base", "--points", "2"],
        stdout=theirs,
        env={**os.environ, "COLORTERM": "truecolor", "TERM": "xterm", **variables},
    )
    os.close(theirs)
    shown = b""
    with contextlib.suppress(OSError):  # how Linux tells that the terminal was left
        while piece := os.read(ours, 4096):
            shown += piece
    os.close(ours)
    assert child.wait() == 0
    assert b"#3b3b3b" in shown
    assert (b"\x1b[48;2;59;59;59m      \x1b[0m" in shown) is blocks
    assert (b"\x1b" in shown) is blocks
