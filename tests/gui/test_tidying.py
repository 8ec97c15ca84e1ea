"""Dead objects are searched for while the hands rest."""

import gc
import weakref
from collections.abc import Iterator

import pytest
from PySide6.QtCore import QCoreApplication, QEvent, QObject, Qt
from pytestqt.qtbot import QtBot

from schemeforge.gui import tidying
from schemeforge.gui.tidying import Tidying


class Ring:
    """Holds itself, so that only a search finds it dead."""

    def __init__(self) -> None:
        self.own = self


def _end(owner: QObject) -> None:
    owner.deleteLater()
    QCoreApplication.sendPostedEvents(None, QEvent.Type.DeferredDelete)


@pytest.fixture
def owner(qtbot: QtBot) -> Iterator[QObject]:
    del qtbot
    made = QObject()
    yield made
    _end(made)
    gc.unfreeze()


def test_searches_come_when_asked_only(owner: QObject) -> None:
    made = Tidying(owner)
    assert not gc.isenabled()
    dead = weakref.ref(Ring())
    assert made.tidy()
    assert dead() is None
    assert gc.get_freeze_count() > 0


def test_quick_searches_come_by_themselves(owner: QObject, qtbot: QtBot) -> None:
    made = Tidying(owner)
    dead = weakref.ref(Ring())
    qtbot.waitUntil(lambda: dead() is None)
    assert made.parent() is owner


def test_a_hand_at_work_is_not_interrupted(owner: QObject, monkeypatch: pytest.MonkeyPatch) -> None:
    held = Qt.MouseButton.LeftButton

    class Busy:
        @staticmethod
        def mouseButtons() -> Qt.MouseButton:
            return held

    made = Tidying(owner)
    monkeypatch.setattr(tidying, "QGuiApplication", Busy)
    dead = weakref.ref(Ring())
    assert not made.tidy()
    assert dead() is not None
    held = Qt.MouseButton.NoButton
    assert made.tidy()
    assert dead() is None


def test_python_searches_by_itself_again_after_the_window(qtbot: QtBot) -> None:
    del qtbot
    parent = QObject()
    gc.enable()
    Tidying(parent)
    assert not gc.isenabled()
    _end(parent)
    assert gc.isenabled()
