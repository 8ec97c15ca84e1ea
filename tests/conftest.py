"""What all tests share: how hypothesis searches, and Qt without a screen where there is none."""

import gc
import itertools
import os
from collections.abc import Callable, Iterator
from typing import TYPE_CHECKING, Any

import pytest
from hypothesis import HealthCheck, settings

if TYPE_CHECKING:
    from PySide6.QtCore import QCoreApplication
    from pytestqt.qtbot import QtBot

# Tests run beside one another and beside other work; only what never comes is a failure.
PATIENCE_MS = 60_000
# A full search after so many tests with a window; the others search what is new.
FULL_EVERY = 10
_TESTS = itertools.count(1)

# Speed is judged in benchmarks; a busy machine must not fail a property.
settings.register_profile(
    "schemeforge",
    deadline=None,
    suppress_health_check=[HealthCheck.too_slow],
)
settings.load_profile("schemeforge")

if not any(os.environ.get(name) for name in ("DISPLAY", "WAYLAND_DISPLAY")):
    os.environ.setdefault("QT_QPA_PLATFORM", "offscreen")


@pytest.fixture
def qtbot(qapp: "QCoreApplication", request: pytest.FixtureRequest) -> "Iterator[QtBot]":
    """pytest-qt's own, but more patient where a test names no time of its own.

    As in the program, dead widgets are searched for between events and on this thread only.
    """
    from pytestqt.qtbot import QtBot

    del qapp  # has to be there

    class Patient(QtBot):
        def waitUntil(self, callback: Callable[[], Any], *, timeout: int = PATIENCE_MS) -> None:
            super().waitUntil(callback, timeout=timeout)

    gc.disable()
    yield Patient(request)
    gc.collect(2 if next(_TESTS) % FULL_EVERY == 0 else 1)
    gc.enable()
