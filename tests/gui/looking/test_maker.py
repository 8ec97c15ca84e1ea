"""When a picture is made anew: edits in a row are shown now and then, the last of them always."""

import pytest
from pytestqt.qtbot import QtBot

from schemeforge.gui.bridge import Bridge
from schemeforge.gui.looking import maker
from schemeforge.gui.widgets.stand_in import StandInView
from schemeforge.scheme import edits
from tests.gui.every_widget import settle


def drag_on(qtbot: QtBot, view: StandInView, bridge: Bridge, name: str) -> None:
    """One of the edits that a dragging hand makes, and more time than a picture waits else."""
    bridge.edit("name", lambda project: edits.rename_project(project, name), merge="drag")
    view.show_state(bridge.state)
    qtbot.wait(5 * maker._AFTER_MS)
    settle(qtbot, bridge)


def rests(view: StandInView) -> bool:
    """Whether no view is being traced and no picture made or about to be."""
    maker_ = view.maker
    is_busy = view.bridge.tracer.is_busy or maker_._is_drawing or maker_._timer.isActive()
    return not is_busy


def test_edits_in_a_row_wait_for_each_other_and_the_wait_does_not_begin_anew(
    qtbot: QtBot, view: StandInView, bridge: Bridge, monkeypatch: pytest.MonkeyPatch
) -> None:
    # What is traced is shown when it arrives: edits begin once all of it is there, the model made
    # ready to be turned as well, which a pointer near it asks for.
    view.maker.get_ready_to_turn()
    qtbot.waitUntil(lambda: view.maker.is_ready_to_turn, timeout=60_000)
    qtbot.waitUntil(lambda: rests(view), timeout=60_000)
    before = view.drawn
    monkeypatch.setattr(maker, "_BETWEEN_EDITS_MS", 600_000)
    drag_on(qtbot, view, bridge, "one")
    drag_on(qtbot, view, bridge, "two")
    assert view.drawn is before
    left = view.maker._timer.remainingTime()
    drag_on(qtbot, view, bridge, "three")
    assert view.maker._timer.remainingTime() < left
    assert view.drawn is before
    monkeypatch.setattr(maker, "_BETWEEN_EDITS_MS", 0)
    drag_on(qtbot, view, bridge, "four")
    qtbot.waitUntil(lambda: view.drawn is not before, timeout=60_000)
    settle(qtbot, bridge)
    assert view.maker._last is not None
    assert view.maker._last.project.name == "four"
