"""A model in the window: turned, after each step, beside another scheme, as large as it is."""

from collections.abc import Callable
from dataclasses import replace
from typing import Any

import numpy as np
import pytest
from numpy.typing import NDArray
from PySide6.QtCore import QPoint, QPointF, Qt
from pytestqt.qtbot import QtBot

from schemeforge.colorimetry import Distance, Eyes, Sight
from schemeforge.gui.bridge import Bridge
from schemeforge.gui.looking.shot import BARE, LIGHTS, Arrangement, Drawn, painted_steps
from schemeforge.gui.looking.stages import before, stage_ids
from schemeforge.gui.widgets.stand_in import WHOLE, StandInView
from schemeforge.stand_in import (
    Model,
    SprayCone,
    Turn,
    View,
    model,
    picture_of,
    stages_after,
    worn,
)
from schemeforge.stand_in.pictures import SPRAY
from tests.gui.every_widget import settle

LEFT = Qt.MouseButton.LeftButton


def anew(
    qtbot: QtBot, view: StandInView, change: Callable[[], object], *, differs: bool = True
) -> Drawn:
    """The picture that follows a change."""
    old = view.drawn
    change()
    if differs:
        qtbot.waitUntil(lambda: view.drawn is not old, timeout=60_000)
    settle(qtbot, view.bridge)
    assert view.drawn is not None
    return view.drawn


def pixels(drawn: Drawn, *, right: bool = False) -> NDArray[np.uint8]:
    image = drawn.other if right else drawn.image
    assert image is not None
    data = np.frombuffer(bytes(image.constBits()), np.uint8)
    return data.reshape(image.height(), image.width(), 4)


def expected(bridge: Bridge, scheme_id: str, step_id: str) -> NDArray[np.uint8]:
    """The engine's own picture of the warden after a step, "" for finished."""
    project = bridge.state.project
    scheme = project.scheme(scheme_id)
    view = bridge.stand_ins.view(model(WHOLE), 384, Turn(20.0), SPRAY)
    stage = stages_after(project, scheme, step_id) if step_id else None
    return picture_of(project, scheme, view, worn(project, model(WHOLE)), stage=stage).rgba


def picked(bridge: Bridge) -> str:
    return bridge.state.selection.scheme_id


def test_it_is_shown_after_any_step_and_before_it(
    qtbot: QtBot, view: StandInView, bridge: Bridge
) -> None:
    scheme = bridge.state.scheme
    assert scheme is not None
    steps = [step.id for step in painted_steps(scheme)]
    assert stage_ids(bridge.state) == [*steps[:-1], ""]
    drawn = anew(qtbot, view, lambda: view.show_stage(steps[2]))
    assert np.array_equal(drawn.picture.rgba, expected(bridge, scheme.id, steps[2]))
    view.setFocus()
    drawn = anew(qtbot, view, lambda: qtbot.keyPress(view, Qt.Key.Key_B))
    assert np.array_equal(drawn.picture.rgba, expected(bridge, scheme.id, steps[1]))
    drawn = anew(qtbot, view, lambda: qtbot.keyRelease(view, Qt.Key.Key_B))
    assert np.array_equal(drawn.picture.rgba, expected(bridge, scheme.id, steps[2]))
    with qtbot.waitSignal(view.staged) as told:
        qtbot.keyClick(view, Qt.Key.Key_PageDown)
    assert told.args == [steps[3]]
    drawn = anew(qtbot, view, lambda: view.show_stage(""))
    assert np.array_equal(drawn.picture.rgba, expected(bridge, scheme.id, ""))


def test_before_the_first_step_is_bare_and_a_finished_model_loses_the_picked_coat(
    qtbot: QtBot, view: StandInView, bridge: Bridge
) -> None:
    ids = stage_ids(bridge.state)
    assert before(bridge.state, "", ids[0]) == BARE
    bridge.session.select(step_id=ids[3])
    assert before(bridge.state, "", "") == ids[2]
    drawn = anew(qtbot, view, lambda: view.show_stage(BARE))
    assert not np.array_equal(drawn.picture.rgba, expected(bridge, picked(bridge), ids[0]))


def test_two_schemes_stand_on_one_model_left_and_right_of_a_line(
    qtbot: QtBot, view: StandInView, bridge: Bridge
) -> None:
    other = next(s.id for s in bridge.state.project.schemes if s.id != picked(bridge))
    drawn = anew(qtbot, view, lambda: view.arrange(Arrangement.SPLIT, other_id=other))
    assert drawn.other is not None
    assert np.array_equal(drawn.picture.rgba, expected(bridge, picked(bridge), ""))
    assert not np.array_equal(pixels(drawn), pixels(drawn, right=True))
    frame = view.frame()
    middle = QPointF(frame.center().x(), frame.center().y()).toPoint()
    to = middle + QPoint(round(0.2 * frame.width()), 0)
    qtbot.mousePress(view, LEFT, pos=middle)
    qtbot.mouseMove(view, to)
    qtbot.mouseRelease(view, LEFT, pos=to)
    assert view.split_at == pytest.approx(0.7, abs=0.02)
    assert view.azimuth == 20.0, "the line was moved, not the model"
    qtbot.keyClick(view, Qt.Key.Key_Left, Qt.KeyboardModifier.ControlModifier)
    assert view.split_at == pytest.approx(0.65, abs=0.02)
    shown = view.grab().toImage()
    y = round(frame.center().y())
    left, right = shown.pixel(round(frame.left() + 0.5 * frame.width()), y), None
    view._move_split(0.3)
    right = view.grab().toImage().pixel(round(frame.left() + 0.5 * frame.width()), y)
    assert left != right


def test_three_lights_stand_side_by_side(qtbot: QtBot, view: StandInView, bridge: Bridge) -> None:
    one = view.drawn
    assert one is not None
    three = anew(qtbot, view, lambda: view.arrange(Arrangement.LIGHTS))
    high, wide = three.zones.shape
    assert wide % len(LIGHTS) == 0
    thirds = np.split(pixels(three).astype(int), 3, axis=1)
    assert np.abs(thirds[0] - thirds[1]).max() > 8, "blue lacquer shifts under a lamp"
    camera = Sight(balanced=False)
    bridge.session.select(sight=camera)
    cast = anew(qtbot, view, lambda: view.show_state(bridge.state))
    after = np.split(pixels(cast).astype(int), 3, axis=1)
    assert np.abs(after[1] - thirds[1]).max() <= 1, "a camera in daylight keeps daylight"
    solid = after[2][..., 3] == 255
    # The tubes of a hall are yellower than daylight.
    assert (after[2] - thirds[2])[solid][:, 2].mean() < -5
    assert high > 100


def test_a_group_is_painted_by_a_hand_that_varies_the_same_way_every_time(
    qtbot: QtBot, view: StandInView, bridge: Bridge
) -> None:
    group = anew(qtbot, view, lambda: view.arrange(Arrangement.GROUP, count=5))
    assert group.zones.shape[1] > 2.5 * group.zones.shape[0]
    first = pixels(group).copy()
    anew(qtbot, view, lambda: view.arrange(Arrangement.ONE))
    again = anew(qtbot, view, lambda: view.arrange(Arrangement.GROUP, count=5))
    assert np.array_equal(first, pixels(again))
    steady = bridge.state.project.habits
    assert steady.hand_sigma > 0
    ten = anew(qtbot, view, lambda: view.arrange(Arrangement.GROUP, count=10))
    assert ten.zones.shape[0] > group.zones.shape[0], "two ranks"


@pytest.mark.parametrize(
    "sight", [Sight(eyes=Eyes.GREY), Sight(eyes=Eyes.DEUTAN), Sight(distance=Distance.TABLE)]
)
def test_a_sight_changes_the_picture_says_so_and_leaves_the_document_alone(
    qtbot: QtBot, view: StandInView, bridge: Bridge, sight: Sight
) -> None:
    project, plain = bridge.state.project, view.drawn
    assert plain is not None
    bridge.session.select(sight=sight)
    seen = anew(qtbot, view, lambda: view.show_state(bridge.state))
    assert bridge.state.project is project
    assert np.array_equal(seen.picture.rgba, plain.picture.rgba), "as painted, it is the same"
    data = pixels(seen)
    if sight.eyes is Eyes.GREY:
        assert (data[..., 0] == data[..., 1]).all()
        assert (data[..., 1] == data[..., 2]).all()
    else:
        assert data.shape != pixels(plain).shape or not np.array_equal(data, pixels(plain))
    assert view.accessibleDescription() != ""
    words = {"greyscale", "green-weak", "across the table"}
    assert any(word in view.accessibleDescription() for word in words)


def test_true_size_is_as_many_inches_as_the_model_has(
    qtbot: QtBot, view: StandInView, bridge: Bridge
) -> None:
    view.show_true_size(on=True)
    drawn = view.drawn
    assert drawn is not None
    inches = drawn.mm * bridge.state.project.size.base_mm / 32.0 / 25.4
    dots = view.screen().physicalDotsPerInch()
    assert view.frame().width() == pytest.approx(inches * dots)
    looking = bridge.state.preferences.looking
    twice = type(looking)(screen_fit=2.0)
    bridge.session.prefer(looking=twice)
    assert view.frame().width() == pytest.approx(2 * inches * dots)
    settle(qtbot, bridge)


def test_a_dragged_model_turns_smoothly_and_comes_to_rest_on_a_traced_side(
    qtbot: QtBot, view: StandInView, bridge: Bridge
) -> None:
    view.show_model("sphere")
    settle(qtbot, bridge)
    view.maker.get_ready_to_turn()
    qtbot.waitUntil(lambda: view.maker.is_ready_to_turn, timeout=60_000)
    settle(qtbot, bridge)
    told: list[tuple[float, bool]] = []
    view.turned.connect(lambda azimuth, moves: told.append((azimuth, moves)))
    start = view.rect().center()
    qtbot.mousePress(view, LEFT, pos=start)
    for n in range(5, 35, 2):
        where = start + QPoint(n, 0)
        anew(qtbot, view, lambda where=where: qtbot.mouseMove(view, where))  # type: ignore[misc]
    assert all(moves for _, moves in told)
    assert any(azimuth % 5 for azimuth, _ in told), "between the traced sides"
    qtbot.mouseRelease(view, LEFT, pos=start + QPoint(33, 0))
    assert view.azimuth % 5 == 0
    assert told[-1] == (view.azimuth, False)
    rest = Turn(view.azimuth)
    ready = bridge.stand_ins.ready
    qtbot.waitUntil(lambda: ready(model("sphere"), 256, rest, SPRAY) is not None, timeout=60_000)
    settle(qtbot, bridge)


def test_keys_turn_it_and_a_click_does_not(qtbot: QtBot, view: StandInView, bridge: Bridge) -> None:
    view.show_model("sphere")
    settle(qtbot, bridge)
    qtbot.keyClick(view, Qt.Key.Key_Left)
    assert view.azimuth == 35.0
    qtbot.keyClick(view, Qt.Key.Key_Right, Qt.KeyboardModifier.ShiftModifier)
    qtbot.waitUntil(lambda: view.azimuth == 30.0)
    qtbot.mouseClick(view, LEFT, pos=QPoint(3, 3))
    assert view.azimuth == 30.0
    settle(qtbot, bridge)


def test_only_one_view_is_traced_at_a_time_and_the_last_asked_for_first(
    qtbot: QtBot, bridge: Bridge
) -> None:
    ball, tracer, true = model("sphere"), bridge.tracer, bridge.stand_ins.view
    order: list[float] = []

    def view(one: Model, size: int, turn: Turn, spray: SprayCone, **more: Any) -> View:
        order.append(turn.azimuth)
        return true(one, size, turn, spray, **more)

    tracer.views.view = view  # type: ignore[assignment,method-assign]
    shares: list[float] = []
    tracer.progress.connect(shares.append)
    for azimuth in (0.0, 90.0, 180.0):
        tracer.ask_view(ball, 32, Turn(azimuth), SPRAY)
    qtbot.waitUntil(lambda: len(order) == 3, timeout=30_000)
    assert order == [0.0, 180.0, 90.0]
    qtbot.waitUntil(lambda: len(shares) == 6)
    assert all(0.0 < share < 1.0 for share in shares)
    settle(qtbot, bridge)


def test_a_view_that_is_closed_while_its_picture_is_made_leaves_nothing_behind(
    qtbot: QtBot, bridge: Bridge
) -> None:
    view = StandInView(bridge, WHOLE)
    view.resize(280, 300)
    view.show_state(bridge.state)
    view.maker.get_ready_to_turn()
    view.deleteLater()
    settle(qtbot, bridge)
    assert not bridge.jobs.is_any_busy


def test_an_empty_project_says_what_to_do_next(
    qtbot: QtBot, view: StandInView, bridge: Bridge
) -> None:
    project = bridge.state.project
    bare = replace(project, schemes=(), chosen_scheme_id="", yardstick_id="")
    bridge.edit("bare", lambda _project: bare)
    view.show_state(bridge.state)
    qtbot.waitUntil(lambda: view.drawn is None)
    assert view.zone_index_at(QPointF(140, 150)) is None
    assert "Schemes page" in view._waiting_words()
    view.show_stage("gone")
    view.arrange(Arrangement.SPLIT, other_id="gone")
    qtbot.keyClick(view, Qt.Key.Key_PageUp)
    settle(qtbot, bridge)
    assert view.drawn is None
