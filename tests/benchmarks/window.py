"""Speed of the window, without a screen; run as a script: ``python -m tests.benchmarks.window``.

- start: whole process to the first painted window, disk cache warm, and what it imported;
- drag: from a mouse move that makes a coat heavier to the end of every repaint it caused, the
  whole Coats page, on the demo and on a project of 12 zones with 8 coats each;
- edits: 500 edits through session and window, then undone one by one, and the memory in use.

Every move and every edit is a new value, so that no cache answers for the coat that changes.
``--profile`` adds where the time of a drag goes.
"""

import argparse
import cProfile
import os
import pstats
import random
import statistics
import subprocess
import sys
import tempfile
import time
from collections.abc import Callable
from dataclasses import replace
from pathlib import Path
from typing import TYPE_CHECKING, Any

from tests.benchmarks import start_up

if TYPE_CHECKING:
    from schemeforge.gui.main_window import MainWindow
    from schemeforge.scheme import Project

MOVES = 240
EDITS = 500
TARGET_START_S = 1.0
TARGET_DEMO_MS, TARGET_LARGE_MS = 16.7, 33.0
TARGET_EDITS_S, TARGET_MEMORY_MB = 2.0, 200.0
STARTS = 7


def large_project() -> "Project":
    """Twelve zones, each with primer, spray and eight coats of its own, from the demo's paints."""
    from schemeforge.gui.files import demo_project
    from schemeforge.scheme import (
        AlongProfile,
        Coat,
        Placement,
        Primer,
        ReliefKind,
        ReliefProfile,
        Spray,
        Step,
        Technique,
        Zone,
    )

    demo = demo_project()
    scheme = demo.scheme(demo.chosen_scheme_id)
    names = tuple(f"zone-{n}" for n in range(1, 13))
    under = [s for s in scheme.steps if isinstance(s.layer, Primer | Spray)]
    pots = [s.layer.mix_id for s in scheme.steps if isinstance(s.layer, Coat)]
    places = (
        Placement(),
        Placement(relief=ReliefProfile(kind=ReliefKind.POOLS)),
        Placement(relief=ReliefProfile(kind=ReliefKind.CATCHES)),
        Placement(along=AlongProfile(start=0.3, feather_start=0.4)),
    )
    steps = [replace(step, zone_ids=names) for step in under]
    for zone in names:
        for n in range(8):
            coat = Coat(
                mix_id=pots[n % len(pots)],
                technique=Technique.GLAZE,
                wet_um=15.0 + n,
                placement=places[n % 4],
            )
            name = f"{zone} coat {n + 1}"
            steps.append(Step(id=f"{zone}-{n}", name=name, layer=coat, zone_ids=(zone,)))
    return replace(
        demo,
        groups=(),
        timings=(),
        sittings=(),
        zones=tuple(Zone(id=name, name=name, area_cm2=4.0) for name in names),
        schemes=(replace(scheme, steps=tuple(steps), shares=()),),
        yardstick_id="",
    )


def opened(home: Path) -> "MainWindow":
    """The window on the demo, 1440 by 900."""
    from schemeforge.desk import Places
    from schemeforge.gui.app import make_application, make_bridge
    from schemeforge.gui.main_window import MainWindow
    from schemeforge.gui.tidying import Tidying

    make_application()
    sys.setswitchinterval(0.0005)  # as the program does
    bridge, note = make_bridge(Places(data=home, settings=home), None)
    if note:
        raise SystemExit(note)
    window = MainWindow(bridge)
    window.resize(1440, 900)
    window.show()
    settle(window)
    Tidying(window).tidy()  # as the program does a little after its start
    return window


def settle(window: "MainWindow") -> None:
    """Until nothing has been worked out beside the window for a while."""
    from PySide6.QtWidgets import QApplication

    quiet = time.monotonic() + 0.5
    while time.monotonic() < quiet:
        QApplication.processEvents()
        if window.bridge.jobs.is_any_busy:
            quiet = time.monotonic() + 0.5
        time.sleep(0.002)


def mouse(widget: Any, kind: Any, x: float, y: float) -> None:
    """A mouse event as the system would send it, the left button down."""
    from PySide6.QtCore import QPointF, Qt
    from PySide6.QtGui import QMouseEvent
    from PySide6.QtWidgets import QApplication

    at, left, none = QPointF(x, y), Qt.MouseButton.LeftButton, Qt.KeyboardModifier.NoModifier
    event = QMouseEvent(kind, at, QPointF(widget.mapToGlobal(at)), left, left, none)
    QApplication.sendEvent(widget, event)


def drag(window: "MainWindow", moves: int) -> list[tuple[float, float]]:
    """Milliseconds from each move of a handle to the end of all repaints.

    Wall time, and processor time of the window's own thread: on a busy machine the first tells
    of the others' work too.
    """
    from PySide6.QtCore import QEvent
    from PySide6.QtWidgets import QApplication

    from schemeforge.desk.handles import HandleKind
    from schemeforge.gui.coats.page import CoatsPage

    page = window.page(window.bridge.state.selection.page)
    assert isinstance(page, CoatsPage)
    cutaway = page.cutaway
    spot = next(at for h, at in cutaway.handle_spots() if h.kind is HandleKind.WEIGHT)
    kind = QEvent.Type
    mouse(cutaway, kind.MouseButtonPress, spot.x(), spot.y())
    chance, took = random.Random(2), []  # noqa: S311 - no secret
    for _ in range(moves):
        y = spot.y() + chance.uniform(-25.0, 12.0)
        before = window.bridge.state.document
        start, worked = time.perf_counter(), time.thread_time()
        mouse(cutaway, kind.MouseMove, spot.x(), y)
        QApplication.processEvents()
        wall, work = time.perf_counter() - start, time.thread_time() - worked
        took.append((wall * 1e3, work * 1e3))
        if window.bridge.state.document is before:
            took.pop()
    mouse(cutaway, kind.MouseButtonRelease, spot.x(), spot.y())
    return took


def p95(values: tuple[float, ...]) -> float:
    """95th percentile."""
    return statistics.quantiles(values, n=20)[-1]


def report_drags(*, profile: bool) -> None:
    """Both projects, the picked coat being the last of the first zone."""
    with tempfile.TemporaryDirectory() as home:
        window = opened(Path(home))
        print(f"{'drag a coat, ms':<21}{'median':>8}{'95 %':>8}{'worst':>8}   work: median, 95 %")
        cases: list[tuple[str, Callable[[], Any], float]] = [
            ("demo", lambda: None, TARGET_DEMO_MS),
            (
                "12 zones x 8 coats",
                lambda: window.bridge.session.begin(large_project()),
                TARGET_LARGE_MS,
            ),
        ]
        for name, begin, target in cases:
            begin()
            settle(window)
            drag(window, 10)
            profiler = cProfile.Profile()
            took = drag(window, MOVES)
            walls, works = zip(*took, strict=True)
            print(
                f"{name:<21}{statistics.median(walls):8.1f}{p95(walls):8.1f}{max(walls):8.1f}"
                f"   {statistics.median(works):8.1f}{p95(works):8.1f}   {len(took)} moves, "
                f"95 % at most {target} ms",
                flush=True,
            )
            if profile:
                profiler.runcall(drag, window, 60)
                pstats.Stats(profiler).sort_stats("tottime").print_stats(22)
                pstats.Stats(profiler).sort_stats("cumtime").print_stats(40)
        close(window)


def report_edits() -> None:
    """Edits and their undoing: the session alone, then with the window watching and painting."""
    from PySide6.QtWidgets import QApplication

    from schemeforge.desk import Places, Session
    from schemeforge.gui.files import demo_project

    print(f"\n{EDITS} edits, all undone{'':<9}{'edits':>9}{'undo':>9}{'in use':>10}")
    with tempfile.TemporaryDirectory() as home:
        session = Session(demo_project(), places=Places(data=Path(home), settings=Path(home)))
        print_edits("session alone", session, lambda: None)
        session.close()
    with tempfile.TemporaryDirectory() as home:
        window = opened(Path(home))
        print_edits("window, hidden changes", window.bridge.session, lambda: None)
        print_edits("window, painted each time", window.bridge.session, QApplication.processEvents)
        close(window)


def print_edits(name: str, session: Any, after_each: Callable[[], Any]) -> None:
    """One line of the table; checks that everything was undone."""
    from schemeforge.scheme import Coat, edits

    first = session.project
    scheme = first.scheme(first.chosen_scheme_id)
    coats = [step.id for step in scheme.steps if isinstance(step.layer, Coat)]
    chance = random.Random(3)  # noqa: S311 - no secret
    start = time.perf_counter()
    for number in range(EDITS):
        step_id, wet_um = coats[number % len(coats)], chance.uniform(5.0, 60.0)
        session.edit(
            "how heavy",
            lambda p, s=step_id, w=wet_um: edits.set_coat(p, scheme.id, s, wet_um=w),
        )
        after_each()
    middle = time.perf_counter()
    undone = 0
    while session.undo():
        undone += 1
        after_each()
    end = time.perf_counter()
    if undone != EDITS or session.project != first:
        raise SystemExit(f"{name}: {undone} of {EDITS} edits were undone")
    print(
        f"{name:<28}{middle - start:8.2f}s{end - middle:8.2f}s{resident_mb():7.0f} MB"
        f"   (both at most {TARGET_EDITS_S} s, {TARGET_MEMORY_MB:.0f} MB)",
        flush=True,
    )


def resident_mb() -> float:
    """Memory of this process in use now, as Linux tells it; not a number elsewhere."""
    try:
        pages = int(Path("/proc/self/statm").read_text(encoding="ascii").split()[1])
    except OSError:
        return float("nan")
    return pages * os.sysconf("SC_PAGE_SIZE") / 1e6


def report_start() -> None:
    """Whole processes, beside a bare interpreter of the same run."""
    with tempfile.TemporaryDirectory() as folder:
        found = [first_frame(folder) for _ in range(STARTS + 1)][1:]  # the first warms the cache
        bare = statistics.median(start_up.seconds("pass", folder)[0] for _ in range(STARTS))
    walls, works = [wall for wall, _, _ in found], [work for _, work, _ in found]
    print(
        f"first painted window  median {statistics.median(walls):.3f} s, worst {max(walls):.3f} s, "
        f"{statistics.median(walls) / bare:.0f} x bare, processor time "
        f"{statistics.median(works):.3f} s"
    )
    print(f"                      (at most {TARGET_START_S} s)  imported: {found[-1][2]}\n")


def first_frame(folder: str) -> tuple[float, float, str]:
    """Seconds to the first painted frame, processor time by then, and what was imported."""
    environment = {**os.environ, "QT_QPA_PLATFORM": "offscreen", "SCHEMEFORGE_HOME": folder}
    tell = (
        "import sys, time\n"
        f"heavy = [n for n in {start_up.HEAVY!r} if n in sys.modules]\n"
        "print(time.time(), time.process_time(), *heavy, len(sys.modules), flush=True)\n"
        "bridge.close()"
    )
    start = time.time()
    done = subprocess.run(  # noqa: S603 - our own interpreter and our own words
        [sys.executable, "-c", f"{start_up.WINDOW}\n{tell}"],
        stdout=subprocess.PIPE,
        encoding="utf-8",
        env=environment,
        cwd=folder,
        check=True,
    )
    painted, work, told = done.stdout.split(maxsplit=2)
    return float(painted) - start, float(work), told.strip()


def close(window: "MainWindow") -> None:
    """Without a question, and wholly gone before the next is measured."""
    from PySide6.QtCore import QCoreApplication, QEvent

    window.bridge.close()
    window.bridge.session.close()
    window.deleteLater()
    QCoreApplication.sendPostedEvents(None, QEvent.Type.DeferredDelete)


def main() -> None:
    """Prints the three tables."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--profile", action="store_true", help="where the time of a drag goes")
    parser.add_argument("--no-start", action="store_true", help="leave out the starts")
    asked = parser.parse_args()
    os.environ.setdefault("QT_QPA_PLATFORM", "offscreen")
    if not asked.no_start:
        report_start()
    report_edits()
    print()
    report_drags(profile=asked.profile)


if __name__ == "__main__":
    main()
