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


def test_full_searches_come_when_asked_only(owner: QObject) -> None:
    usual = gc.get_threshold()
    made = Tidying(owner)
    assert gc.get_threshold()[:2] == usual[:2]
    assert gc.get_threshold()[2] > 1000 * usual[2]
    dead = weakref.ref(Ring())
    assert made.tidy()
    assert dead() is None
    assert gc.get_freeze_count() > 0


def test_a_hand_at_work_is_not_interrupted(owner: QObject, monkeypatch: pytest.MonkeyPatch) -> None:
    held = Qt.MouseButton.LeftButton

    class Busy:
        @staticmethod
        def mouseButtons() -> Qt.MouseButton:
            return held

    made = Tidying(owner)
    monkeypatch.setattr(tidying, "QGuiApplication", Busy)
    gc.collect()
    dead = weakref.ref(Ring())
    assert not made.tidy()
    assert dead() is not None
    held = Qt.MouseButton.NoButton
    assert made.tidy()
    assert dead() is None


def test_the_usual_searches_come_back_with_the_end_of_the_window(qtbot: QtBot) -> None:
    del qtbot
    usual, parent = gc.get_threshold(), QObject()
    Tidying(parent)
    assert gc.get_threshold() != usual
    _end(parent)
    assert gc.get_threshold() == usual
