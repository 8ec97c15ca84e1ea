"""Runs every check, in order: ``python -m tests``; ``python -m tests --quick`` runs pytest only.

Stops at the end, not at the first failure, so that one run tells all that is wrong. Further
words go to pytest; without any, its tests are spread over the processors.
"""

import os
import subprocess
import sys
import time
from pathlib import Path

ROOT = Path(__file__).resolve().parents[1]
SCRIPTS = Path(sys.executable).parent
# Everything below desk and command line: what predicts, plans and stores.
ENGINE = (
    "optics",
    "colorimetry",
    "paint",
    "scheme",
    "appearance",
    "recipe",
    "plan",
    "measurement",
    "calibration",
)
WINDOW = ("gui", "acceptance")


def checks(words: list[str], *, quick: bool) -> list[list[str]]:
    """The commands to run, pytest last so that its closing line is the last."""
    python = sys.executable
    spread = [] if words else ["-n", str(min(os.cpu_count() or 1, 8)), "--dist", "worksteal"]
    tests = [python, "-m", "pytest", *spread, *words]
    if quick:
        return [tests]
    covered = [f"--cov=schemeforge.{part}" for part in ENGINE]
    report = ["--cov-branch", "--cov-report=term-missing:skip-covered"]
    # The engine is covered by its own tests; watching it under the window too costs minutes.
    engine = [f"--ignore=tests/{name}" for name in WINDOW]
    window = [f"tests/{name}" for name in WINDOW]
    runs = [[*covered, *report, *engine], window] if not words else [[*covered, *report]]
    return [
        [python, "-m", "ruff", "check", "."],
        [python, "-m", "ruff", "format", "--check", "."],
        [python, "-m", "mypy"],
        [str(SCRIPTS / "lint-imports")],
        *([*tests, *run] for run in runs),
    ]


def _name(command: list[str]) -> str:
    """What to call a command: the tool, and for ruff what it does."""
    tool = command[2:] if command[1:2] == ["-m"] else [Path(command[0]).name]
    return " ".join(tool[:2]) if tool[0] == "ruff" else tool[0]


def main(words: list[str]) -> int:
    """Runs the checks, prints which failed, and gives 0 only where none did."""
    quick = "--quick" in words
    failed, code = [], 0
    for command in checks([word for word in words if word != "--quick"], quick=quick):
        name = _name(command)
        print(f"\n=== {name}", flush=True)
        start = time.perf_counter()
        code = subprocess.run(command, cwd=ROOT, check=False).returncode
        if name != "pytest":
            verdict = "failed" if code else "ok"
            print(f"--- {name}: {verdict}, {time.perf_counter() - start:.1f} s", flush=True)
        if code:
            failed.append(name)
    if failed and not (failed == ["pytest"] and code):  # the last line would hide it
        print(f"\n=== failed: {', '.join(failed)}", flush=True)
    return 1 if failed else 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
