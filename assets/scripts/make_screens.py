"""Writes pictures of every page in every surround at 1x and 2x to a folder.

    python assets/scripts/make_screens.py FOLDER [--size 1280x720 ...] [--numbers]
    python assets/scripts/make_screens.py --readme

The second makes the README's pictures of the window, ``window.png`` and ``batch.png`` in
``assets/pictures``. Needs no screen.
"""

import argparse
import os
import subprocess
import sys
import tempfile
import time
from pathlib import Path
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from schemeforge.gui.main_window import MainWindow

ROOT = Path(__file__).resolve().parents[2]
README_PICTURE = ROOT / "assets" / "pictures" / "window.png"
BATCH_PICTURE = README_PICTURE.with_name("batch.png")
SIZES = ("1280x720", "1440x900")
SCALES = ("1", "2")
_QUIET_SECONDS = 0.4
_MOST_SECONDS = 30.0


def main() -> int:
    """Reads the command line; one process for each scale, as Qt fixes it at the start."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("folder", nargs="?", type=Path)
    parser.add_argument("--readme", action="store_true", help="make the README's pictures only")
    parser.add_argument("--numbers", action="store_true", help="with Numbers on")
    parser.add_argument("--size", action="append", help="width x height, again for more")
    parser.add_argument("--scale", help=argparse.SUPPRESS)
    asked = parser.parse_args()
    if asked.readme:
        README_PICTURE.parent.mkdir(exist_ok=True)
        return _shoot(["--readme", "--scale", "1"], "1") if asked.scale is None else _readme()
    if asked.folder is None:
        parser.error("name a folder, or --readme")
    if asked.scale is not None:
        _pages(asked.folder, asked.size or list(SIZES), f"{asked.scale}x", numbers=asked.numbers)
        return 0
    asked.folder.mkdir(parents=True, exist_ok=True)
    return max(_shoot([*sys.argv[1:], "--scale", scale], scale) for scale in SCALES)


def _shoot(words: list[str], scale: str) -> int:
    variables = {**os.environ, "QT_QPA_PLATFORM": "offscreen", "QT_SCALE_FACTOR": scale}
    command = [sys.executable, str(Path(__file__).resolve()), *words]
    return subprocess.run(command, env=variables, check=False).returncode  # noqa: S603 - itself


def _pages(folder: Path, sizes: list[str], scale: str, *, numbers: bool) -> None:
    from schemeforge.desk import Page, Surround

    with tempfile.TemporaryDirectory() as home:
        window = _window(Path(home))
        window.bridge.session.prefer(numbers=numbers)
        for size in sizes:
            width, height = map(int, size.split("x"))
            window.resize(width, height)
            for surround in Surround:
                window.bridge.session.prefer(surround=surround)
                for page in Page:
                    window.bridge.session.select(page=page)
                    name = f"{page}-{surround}-{size}-{scale}.png"
                    _settle(window)
                    window.grab().save(str(folder / name))
                    print(name, flush=True)
        _close(window)


def _readme() -> int:
    from schemeforge.desk import Page

    with tempfile.TemporaryDirectory() as home:
        window = _window(Path(home))
        window.resize(1440, 900)
        window.bridge.session.select(page=Page.COATS, zone_id="plates")
        _settle(window)
        window.grab().save(str(README_PICTURE))
        print(README_PICTURE.relative_to(ROOT))
        _batch(window)
        _close(window)
    return 0


def _batch(window: "MainWindow") -> None:
    """The sittings of the Batch page, and the step picked among them."""
    from schemeforge.desk import Page
    from schemeforge.gui.batch.page import BatchPage

    window.bridge.session.select(page=Page.BATCH)
    _settle(window)
    page = window.page(Page.BATCH)
    if isinstance(page, BatchPage):
        page.area.verticalScrollBar().setValue(page.time_line.y() - 8)
        page.time_line.evenings.pick(2)
    _settle(window)
    window.grab().save(str(BATCH_PICTURE))
    print(BATCH_PICTURE.relative_to(ROOT))


def _window(home: Path) -> "MainWindow":
    from schemeforge.desk import Places
    from schemeforge.gui.app import make_application, make_bridge
    from schemeforge.gui.main_window import MainWindow

    make_application()
    bridge, note = make_bridge(Places(data=home, settings=home), None)
    if note:
        raise SystemExit(note)
    window = MainWindow(bridge)
    window.show()
    return window


def _settle(window: "MainWindow") -> None:
    """Until no job beside the window has been wanted for a while."""
    from PySide6.QtWidgets import QApplication

    end = time.monotonic() + _MOST_SECONDS
    quiet = time.monotonic() + _QUIET_SECONDS
    while time.monotonic() < min(quiet, end):
        QApplication.processEvents()
        if window.bridge.jobs.is_any_busy:
            quiet = time.monotonic() + _QUIET_SECONDS
        time.sleep(0.005)


def _close(window: "MainWindow") -> None:
    window.bridge.close()
    window.bridge.session.close()


if __name__ == "__main__":
    sys.exit(main())
