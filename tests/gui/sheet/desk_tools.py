"""Waiting for the desk, holding work back, and reading what lies on it."""

import threading
from collections.abc import Callable, Iterator
from contextlib import contextmanager

import numpy as np
from numpy.typing import NDArray
from PySide6.QtGui import QImage
from pytestqt.qtbot import QtBot

from schemeforge.desk import CancelToken
from schemeforge.export.options import Section
from schemeforge.gui.bridge import Bridge
from schemeforge.gui.sheet import drawing, making
from schemeforge.gui.sheet.page import SheetPage

PATIENCE_MS = 20_000


def is_laid_out(page: SheetPage) -> bool:
    """True where the sheet asked for lies on the desk, drawn for the size it is shown at."""
    jobs, paper = page.bridge.jobs, page.desk.paper
    return (
        page.sheet is not None
        and not page.making.is_busy
        and not jobs.is_busy(drawing.KEY)
        and paper.image.width() == paper.pixels_across > 0
    )


def laid_out(qtbot: QtBot, page: SheetPage) -> None:
    """Wait until it is."""
    qtbot.waitUntil(lambda: is_laid_out(page), timeout=PATIENCE_MS)


def anew(qtbot: QtBot, page: SheetPage, change: Callable[[], object]) -> None:
    """Do something that wants another sheet, and wait for that one."""
    with qtbot.waitSignal(page.making.made, timeout=PATIENCE_MS):
        change()
    laid_out(qtbot, page)


@contextmanager
def held_back(bridge: Bridge) -> Iterator[None]:
    """No job gets a thread meanwhile, so that what is asked for stays under way."""
    gate = threading.Event()
    begun = threading.Semaphore(0)

    def wait(_token: CancelToken) -> None:
        begun.release()
        gate.wait()

    for name in ("first", "second"):
        bridge.jobs.submit(f"hold {name}", wait, lambda _nothing: None)
    for _ in range(2):
        assert begun.acquire(timeout=PATIENCE_MS / 1000)
    try:
        yield
    finally:
        gate.set()


def is_making(page: SheetPage) -> bool:
    """True once the work itself has been asked for."""
    return page.bridge.jobs.is_busy(making.KEY)


def pixels_of(image: QImage) -> NDArray[np.uint8]:
    """Red, green and blue of an image, ``(rows, columns, 3)``."""
    plain = image.convertToFormat(QImage.Format.Format_RGB888)
    flat = np.frombuffer(plain.constBits(), dtype=np.uint8)
    rows = flat.reshape(plain.height(), plain.bytesPerLine())[:, : 3 * plain.width()]
    return rows.reshape(plain.height(), plain.width(), 3).copy()


def words_on(page: SheetPage) -> str:
    """All text of the sheet on the desk."""
    assert page.sheet is not None
    return "\n".join(text.text for side in page.sheet.pages for text in side.texts)


def tick(page: SheetPage, section: Section) -> None:
    """Click a line of the checklist."""
    page.checklist.lines[section].box.click()
