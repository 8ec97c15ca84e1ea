"""The cutaway by mouse and by keys: the document first, the widget second."""

import pytest
from PySide6.QtCore import QPoint, QPointF, Qt
from pytestqt.qtbot import QtBot

from schemeforge.desk import Direction
from schemeforge.desk.handles import HandleKind
from schemeforge.gui.bridge import Bridge
from schemeforge.gui.coats.cutaway import Cutaway
from schemeforge.scheme import Coat, ReliefKind, Spray, coloured_steps

LEFT = Qt.MouseButton.LeftButton


@pytest.fixture
def cutaway(qtbot: QtBot, bridge: Bridge) -> Cutaway:
    """The cutaway alone, following the bridge, on the lantern."""
    made = Cutaway(bridge)
    qtbot.addWidget(made)
    made.resize(800, 320)
    bridge.changed.connect(made.show_state)
    bridge.session.select(zone_id="lantern")
    made.show_state(None, bridge.state)
    made.show()
    qtbot.waitExposed(made)
    return made


def _coat(bridge: Bridge) -> Coat:
    step = bridge.state.step
    assert step is not None
    assert step.coat is not None
    return step.coat


def _spot(cutaway: Cutaway, kind: HandleKind) -> QPoint:
    return next(p for h, p in cutaway.handle_spots() if h.kind is kind).toPoint()


def _drag(qtbot: QtBot, cutaway: Cutaway, start: QPoint, end: QPoint) -> None:
    qtbot.mousePress(cutaway, LEFT, pos=start)
    halfway = (start + end) / 2
    qtbot.mouseMove(cutaway, halfway)
    qtbot.mouseMove(cutaway, end)
    qtbot.mouseRelease(cutaway, LEFT, pos=end)


def test_every_coloured_step_of_the_zone_is_a_band(cutaway: Cutaway, bridge: Bridge) -> None:
    scheme = bridge.state.scheme
    assert scheme is not None
    steps = coloured_steps(scheme, "lantern")
    assert [band.step for band in cutaway.bands] == list(steps)


def test_dragging_the_weight_up_makes_the_coat_heavier_and_is_one_step_of_undo(
    qtbot: QtBot, cutaway: Cutaway, bridge: Bridge
) -> None:
    before = _coat(bridge)
    start = _spot(cutaway, HandleKind.WEIGHT)
    _drag(qtbot, cutaway, start, start - QPoint(0, 20))
    after = _coat(bridge)
    assert after.wet_um > before.wet_um
    assert bridge.state.undo_label.startswith("how heavy")
    bridge.session.undo()
    assert _coat(bridge) == before
    assert bridge.state.undo_label == ""


def test_an_edge_follows_the_pointer(qtbot: QtBot, cutaway: Cutaway) -> None:
    start = _spot(cutaway, HandleKind.WEIGHT)
    qtbot.mousePress(cutaway, LEFT, pos=start)
    qtbot.mouseMove(cutaway, start - QPoint(0, 17))
    held = _spot(cutaway, HandleKind.WEIGHT)
    assert held.y() == pytest.approx(start.y() - 17, abs=1.5)
    qtbot.mouseRelease(cutaway, LEFT, pos=start - QPoint(0, 17))


def test_pulling_the_recess_end_up_makes_a_pool(
    qtbot: QtBot, cutaway: Cutaway, bridge: Bridge
) -> None:
    assert _coat(bridge).placement.relief.kind is ReliefKind.EVEN
    start = _spot(cutaway, HandleKind.POOL)
    _drag(qtbot, cutaway, start, start - QPoint(0, 25))
    relief = _coat(bridge).placement.relief
    assert relief.kind is ReliefKind.POOLS
    assert relief.depth > 0.0


def test_a_feather_end_is_dragged_sideways(qtbot: QtBot, cutaway: Cutaway, bridge: Bridge) -> None:
    bridge.session.select(direction=Direction.ALONG)
    start = _spot(cutaway, HandleKind.START)
    before = _coat(bridge).placement.along
    _drag(qtbot, cutaway, start, start + QPoint(80, 0))
    after = _coat(bridge).placement.along
    assert after.start == pytest.approx(before.start + 80 / cutaway.area.width(), abs=0.01)
    assert after.end == before.end


def test_dragging_a_band_past_another_re_orders_them(
    qtbot: QtBot, cutaway: Cutaway, bridge: Bridge
) -> None:
    scheme = bridge.state.scheme
    assert scheme is not None
    names = [step.id for step in coloured_steps(scheme, "lantern")]
    middle = QPointF(cutaway.area.left() + 0.2 * cutaway.area.width(), 0.0)

    def inside(place: int) -> QPoint:
        low, high = cutaway._edges[place]
        at = round(0.2 * (len(low) - 1))
        y = cutaway.area.bottom() - float(low[at] + high[at]) / 2
        return QPointF(middle.x(), y).toPoint()

    _drag(qtbot, cutaway, inside(3), inside(2))
    scheme = bridge.state.scheme
    assert scheme is not None
    now = [step.id for step in coloured_steps(scheme, "lantern")]
    assert now == [names[0], names[1], names[3], names[2]]


def test_a_coat_cannot_go_below_the_undercoat_and_the_reason_is_told(
    qtbot: QtBot, cutaway: Cutaway, bridge: Bridge
) -> None:
    before = bridge.state.project
    with qtbot.waitSignal(bridge.problem) as told:
        cutaway.hand.reorder(cutaway.bands[2].step, -2)
    assert bridge.state.project is before
    assert "undercoat" in told.args[0] or "later layer" in told.args[0]


def test_keys_pick_weigh_and_turn(qtbot: QtBot, cutaway: Cutaway, bridge: Bridge) -> None:
    top = cutaway.bands[-1].step
    qtbot.keyClick(cutaway, Qt.Key.Key_Down)
    assert bridge.state.selection.step_id == cutaway.bands[-2].step.id
    qtbot.keyClick(cutaway, Qt.Key.Key_Up)
    assert bridge.state.selection.step_id == top.id
    before = _coat(bridge).wet_um
    qtbot.keyClick(cutaway, Qt.Key.Key_Plus)
    assert _coat(bridge).wet_um == pytest.approx(before * 1.1, abs=0.06)
    qtbot.keyClick(cutaway, Qt.Key.Key_Minus, Qt.KeyboardModifier.ShiftModifier)
    assert _coat(bridge).wet_um < before * 1.1
    qtbot.keyClick(cutaway, Qt.Key.Key_R)
    assert bridge.state.selection.direction is Direction.ALONG
    qtbot.keyClick(cutaway, Qt.Key.Key_T)
    assert bridge.state.selection.true_scale


def test_every_handle_can_be_taken_and_moved_by_keys(
    qtbot: QtBot, cutaway: Cutaway, bridge: Bridge
) -> None:
    bridge.session.select(direction=Direction.ALONG)
    for kind, key in (
        (HandleKind.START, Qt.Key.Key_Right),
        (HandleKind.FEATHER_START, Qt.Key.Key_Left),
        (HandleKind.WEIGHT, Qt.Key.Key_Right),
    ):
        qtbot.keyClick(cutaway, Qt.Key.Key_H)
        assert cutaway._handle is kind
        assert kind.value in cutaway.accessibleDescription()
        before = bridge.state.project
        qtbot.keyClick(cutaway, key)
        assert bridge.state.project is not before
    qtbot.keyClick(cutaway, Qt.Key.Key_Escape)
    assert cutaway._handle is None


def test_the_spray_is_weighed_like_a_coat(qtbot: QtBot, cutaway: Cutaway, bridge: Bridge) -> None:
    spray = next(b.step for b in cutaway.bands if isinstance(b.step.layer, Spray))
    bridge.session.select(step_id=spray.id)
    assert isinstance(spray.layer, Spray)
    before = spray.layer.peak_um
    qtbot.keyClick(cutaway, Qt.Key.Key_Plus)
    step = bridge.state.step
    assert step is not None
    assert isinstance(step.layer, Spray)
    assert step.layer.peak_um > before


def test_a_screen_reader_can_read_the_picked_coat(cutaway: Cutaway, bridge: Bridge) -> None:
    step = bridge.state.step
    assert step is not None
    text = cutaway.accessibleDescription()
    assert step.name in text
    assert "parts" not in text  # the mix is read as shares of named paints
    scheme = bridge.state.scheme
    assert scheme is not None
    assert step.mix_id is not None
    first = scheme.mix(step.mix_id).ingredients[0]
    assert bridge.state.project.paint(first.paint_id).name in text
    bridge.session.prefer(numbers=True)
    assert "µm" in cutaway.accessibleDescription()


def test_true_scale_draws_a_glaze_far_thinner_than_the_spray(
    cutaway: Cutaway, bridge: Bridge
) -> None:
    def share() -> float:
        (_, _), (spray_low, spray_high), *_, (low, high) = cutaway._edges
        return float((high - low).max() / (spray_high - spray_low).max())

    thick = share()
    bridge.session.select(true_scale=True)
    ratio = cutaway.bands[-1].dry_um.max() / cutaway.bands[1].dry_um.max()
    assert share() == pytest.approx(float(ratio), rel=1e-6)
    assert share() < thick
