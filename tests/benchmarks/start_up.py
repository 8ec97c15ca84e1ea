"""How long the program takes to start, and what it imports; run as a script.

``python -m tests.benchmarks.start_up`` prints the median wall time of whole processes beside
that of a bare interpreter in the same run, and which heavy libraries each has imported. The
window is timed to its first painted frame, without a screen.
"""

import os
import statistics
import subprocess
import sys
import tempfile
import time
from pathlib import Path

from schemeforge.resources import asset

REPETITIONS = 9
HEAVY = ("numpy", "scipy", "colour", "PySide6", "PIL", "reportlab", "pypdfium2")
DEMO = str(asset("demo", "saltmarsh_wardens.schemeforge"))
TELL = (
    "import sys; print('HEAVY', *[n for n in {heavy!r} if n in sys.modules], "
    "len(sys.modules), file=sys.stderr)"
)
COMMAND = "from schemeforge.cli.main import run; code = run({words!r})"
WINDOW = """
from PySide6.QtCore import QSettings
from schemeforge.gui.app import make_application, make_bridge
from schemeforge.gui.main_window import MainWindow
from schemeforge.desk import default_places
app = make_application()
bridge, note = make_bridge(default_places(), None)
window = MainWindow(bridge, QSettings("window.ini", QSettings.Format.IniFormat))
window.show()
app.processEvents()
window.grab()
"""
# Seconds set for the program, where there are any.
TARGETS = {"window, first frame": 1.0}


def cases(folder: str) -> dict[str, str]:
    """The code of each case by its name."""
    out = str(Path(folder, "sheet.pdf"))
    return {
        "bare interpreter": "pass",
        "--help": COMMAND.format(words=["--help"]),
        "predict --help": COMMAND.format(words=["predict", "--help"]),
        "predict, demo": COMMAND.format(words=["predict", DEMO]),
        "predict, one zone": COMMAND.format(words=["predict", DEMO, "--zone", "reed cloak"]),
        "sheet, demo, PDF": COMMAND.format(words=["sheet", DEMO, "-o", out]),
        "window, first frame": WINDOW,
    }


def seconds(code: str, folder: str) -> tuple[float, str]:
    """Wall time of a process that runs the code, and what it tells of its imports."""
    environment = {**os.environ, "QT_QPA_PLATFORM": "offscreen", "HOME": folder}
    environment |= dict.fromkeys(("XDG_CONFIG_HOME", "XDG_DATA_HOME", "XDG_STATE_HOME"), folder)
    start = time.perf_counter()
    done = subprocess.run(  # noqa: S603 - our own interpreter and our own words
        [sys.executable, "-c", f"{code}\n{TELL.format(heavy=HEAVY)}"],
        capture_output=True,
        encoding="utf-8",
        env=environment,
        cwd=folder,
        check=False,
    )
    wall = time.perf_counter() - start
    if "HEAVY" not in done.stderr:
        return wall, f"failed: {(done.stderr.splitlines() or ['no reason told'])[-1]}"
    return wall, done.stderr.split("HEAVY", 1)[1].strip()


def main() -> None:
    """Measures every case in turn, round after round, and prints the table."""
    with tempfile.TemporaryDirectory() as folder:
        walls: dict[str, list[float]] = {name: [] for name in cases(folder)}
        told = {}
        for _ in range(REPETITIONS + 1):  # the first round warms the disk cache
            for name, code in cases(folder).items():
                wall, told[name] = seconds(code, folder)
                walls[name].append(wall)
    bare = statistics.median(walls["bare interpreter"][1:])
    print(f"{'case':<22}{'median':>9}{'worst':>9}{'x bare':>8}  heavy imports, modules in all")
    for name, all_walls in walls.items():
        median, worst = statistics.median(all_walls[1:]), max(all_walls[1:])
        goal = f"  (at most {TARGETS[name]} s)" if name in TARGETS else ""
        print(f"{name:<22}{median:8.3f}s{worst:8.3f}s{median / bare:8.1f}  {told[name]}{goal}")


if __name__ == "__main__":
    main()
