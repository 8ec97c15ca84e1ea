"""The Coats page as a user works it."""

import numpy as np
import pytest
from PySide6.QtCore import QMimeData, QPointF, Qt
from PySide6.QtGui import QDropEvent
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication
from pytestqt.qtbot import QtBot

from schemeforge.appearance import Points, zone_stages
from schemeforge.desk import Direction, Page
from schemeforge.gui.bridge import Bridge
from schemeforge.gui.coats.page import CoatsPage
from schemeforge.gui.main_window import MainWindow
from schemeforge.scheme import Spray, Technique, coloured_steps

LEFT = Qt.MouseButton.LeftButton


@pytest.fixture
def page(window: MainWindow, bridge: Bridge) -> CoatsPage:
    bridge.session.select(page=Page.COATS, zone_id="lantern")
    made = window.page(Page.COATS)
    assert isinstance(made, CoatsPage)
    return made


def _names(bridge: Bridge) -> list[str]:
    scheme = bridge.state.scheme
    assert scheme is not None
    return [s.name for s in coloured_steps(scheme, bridge.state.selection.zone_id)]


def test_the_strip_shows_what_the_engine_predicts(page: CoatsPage, bridge: Bridge) -> None:
    state = bridge.state
    zone, scheme = state.zone, state.scheme
    assert zone is not None
    assert scheme is not None
    low, high = zone.tones
    points = Points(np.array([high]), np.array([1.0]), np.array([0.5]))
    expected = zone_stages(state.project, scheme, zone.id, points)[-1].xyz[0]
    np.testing.assert_allclose(page.seen.xyz[-1], expected, rtol=0, atol=1e-12)
    assert low < high


def test_a_zone_is_picked_on_the_strip_and_on_the_figure(
    qtbot: QtBot, page: CoatsPage, bridge: Bridge
) -> None:
    names = [zone.name for zone in bridge.state.project.zones]
    qtbot.mouseClick(page.zones.chips[names.index("reed cloak")], LEFT)
    assert bridge.state.selection.zone_id == "cloak"
    spot = page.model.figure.region_centre("plates").toPoint()
    qtbot.mouseClick(page.model.figure, LEFT, pos=spot)
    assert bridge.state.selection.zone_id == "plates"
    page.model.figure.setFocus()
    qtbot.keyClick(page.model.figure, Qt.Key.Key_Down)
    assert bridge.state.selection.zone_id == "cloak"


def test_a_glaze_is_added_on_top_and_undone(page: CoatsPage, bridge: Bridge) -> None:
    before, project = _names(bridge), bridge.state.project
    page.actions_row.new_coat(Technique.FEATHERED_GLAZE)
    after = _names(bridge)
    assert len(after) == len(before) + 1
    assert after[:-1] == before
    step = bridge.state.step
    assert step is not None
    assert step.name == after[-1]
    assert not step.coat.placement.along.is_even  # type: ignore[union-attr]
    assert bridge.state.selection.direction is Direction.ALONG
    bridge.session.undo()
    assert bridge.state.project == project


def test_steps_are_duplicated_moved_and_removed_by_keys(
    qtbot: QtBot, page: CoatsPage, bridge: Bridge
) -> None:
    page.cutaway.setFocus()
    before = _names(bridge)
    qtbot.keyClick(page.cutaway, Qt.Key.Key_D, Qt.KeyboardModifier.ControlModifier)
    assert len(_names(bridge)) == len(before) + 1
    added = bridge.state.selection.step_id
    qtbot.keyClick(page.cutaway, Qt.Key.Key_Down, Qt.KeyboardModifier.ControlModifier)
    scheme = bridge.state.scheme
    assert scheme is not None
    stack = [s.id for s in coloured_steps(scheme, "lantern")]
    assert stack[-2] == added
    qtbot.keyClick(page.cutaway, Qt.Key.Key_Delete, Qt.KeyboardModifier.ControlModifier)
    assert _names(bridge) == before


def test_the_picked_coat_is_changed_in_its_row(
    qtbot: QtBot, page: CoatsPage, bridge: Bridge
) -> None:
    page.actions_row.new_coat(Technique.GLAZE)
    row = page.coat
    qtbot.mouseClick(row.weight.button("heavy"), LEFT)
    step = bridge.state.step
    assert step is not None
    assert step.coat is not None
    assert step.coat.wet_um == 40.0
    row.name.setFocus()
    row.name.selectAll()
    qtbot.keyClicks(row.name, "ember breath")
    qtbot.keyClick(row.name, Qt.Key.Key_Return)
    step = bridge.state.step
    assert step is not None
    assert step.name == "ember breath"
    row.passes.setValue(3)
    step = bridge.state.step
    assert step is not None
    assert step.coat is not None
    assert step.coat.passes == 3
    row.technique.setCurrentIndex(row.technique.findData(Technique.WASH.value))
    row.technique.activated.emit(row.technique.currentIndex())
    step = bridge.state.step
    assert step is not None
    assert step.coat is not None
    assert step.coat.technique is Technique.WASH
    assert step.coat.wet_um == 200.0


def test_parts_change_the_mix_and_zero_takes_a_paint_out(page: CoatsPage, bridge: Bridge) -> None:
    page.actions_row.new_coat(Technique.GLAZE)
    state = bridge.state
    assert state.scheme is not None
    assert state.step is not None
    assert state.step.mix_id is not None
    mix_id = state.step.mix_id
    page.coat.mix.ingredients[0].parts.setValue(3.0)
    scheme = bridge.state.scheme
    assert scheme is not None
    assert scheme.mix(mix_id).ingredients[0].parts == 3.0
    page.coat.mix.ingredients[1].parts.setValue(0.0)
    scheme = bridge.state.scheme
    assert scheme is not None
    assert len(scheme.mix(mix_id).ingredients) == 1
    page.coat.mix.add_ingredient()
    scheme = bridge.state.scheme
    assert scheme is not None
    assert len(scheme.mix(mix_id).ingredients) == 2
    assert len(page.coat.mix.ingredients) == 2


def test_an_edit_of_a_shared_pot_says_whom_it_touches(
    qtbot: QtBot, page: CoatsPage, bridge: Bridge
) -> None:
    scheme = bridge.state.scheme
    assert scheme is not None
    counts = {m.id: [s for s in scheme.steps if s.mix_id == m.id] for m in scheme.mixes}
    mix_id, sharing = next(
        (m, steps)
        for m, steps in counts.items()
        if len(steps) > 1 and all(s.coat is not None for s in steps)
    )
    bridge.session.select(zone_id=sharing[0].zone_ids[0])
    bridge.session.select(step_id=sharing[0].id)
    with qtbot.waitSignal(bridge.told) as told:
        page.coat.mix.set_parts(0, 4.5)
    for step in sharing:
        assert step.name in told.args[0]
    qtbot.mouseClick(page.coat.mix.own, LEFT)
    scheme = bridge.state.scheme
    assert scheme is not None
    assert scheme.step(sharing[0].id).mix_id != mix_id
    assert scheme.step(sharing[1].id).mix_id == mix_id


def test_a_paint_dropped_on_a_band_joins_its_mix(page: CoatsPage, bridge: Bridge) -> None:
    from schemeforge.gui.paints.drag import paint_mime

    scheme = bridge.state.scheme
    assert scheme is not None
    band = page.cutaway.bands[-1]
    used = {i.paint_id for i in scheme.mix(band.step.mix_id or "").ingredients}
    paint = next(p for p in bridge.state.document.shelf if p.id not in used)
    low, high = page.cutaway._edges[-1]
    y = page.cutaway.area.bottom() - float(low[60] + high[60]) / 2
    x = page.cutaway.area.left() + page.cutaway.area.width() * 60 / 63
    mime: QMimeData = paint_mime(paint)
    drop = QDropEvent(
        QPointF(x, y),
        Qt.DropAction.CopyAction,
        mime,
        LEFT,
        Qt.KeyboardModifier.NoModifier,
    )
    page.cutaway.dropEvent(drop)
    scheme = bridge.state.scheme
    assert scheme is not None
    assert scheme.mix(band.step.mix_id or "").parts_of(paint.id) == 1.0
    assert any(p.id == paint.id for p in bridge.state.project.paints)


def test_dry_stands_beside_wet_and_the_light_reaches_both(page: CoatsPage, bridge: Bridge) -> None:
    dry, wet = page.after.strips(len(page.cutaway.bands) - 1)
    assert not np.allclose(dry.xyz, wet.xyz)
    before = dry.xyz.copy()
    np.testing.assert_array_equal(dry.xyz, page.seen.xyz)
    from dataclasses import replace

    from schemeforge.scheme import edits

    bridge.edit("light", lambda p: edits.set_viewing(p, replace(p.viewing, light="A", wet=True)))
    assert not np.allclose(dry.xyz, before)
    np.testing.assert_array_equal(wet.xyz, page.seen.xyz)


def test_the_tolerance_arrives_beside_the_hand(
    qtbot: QtBot, page: CoatsPage, bridge: Bridge
) -> None:
    qtbot.waitUntil(lambda: "sure" in page.sure_words.text(), timeout=10000)
    assert "dE" not in page.sure_words.text()
    bridge.session.prefer(numbers=True)
    qtbot.waitUntil(lambda: "dE" in page.sure_words.text(), timeout=10000)


def test_what_the_trade_would_warn_of_is_said(qtbot: QtBot, page: CoatsPage) -> None:
    qtbot.waitUntil(lambda: bool(page.knowing.sentences), timeout=20000)
    assert all(s.endswith((".", "!")) for s in page.knowing.sentences)


def test_a_colour_is_read_and_copied(qtbot: QtBot, page: CoatsPage) -> None:
    page.seen.setFocus()
    qtbot.keyClick(page.seen, Qt.Key.Key_Home)
    qtbot.keyClick(page.seen, Qt.Key.Key_C, Qt.KeyboardModifier.ControlModifier)
    text = QApplication.clipboard().text()
    assert page.seen.reading(0.0).hex_code in text
    assert "L*" in text
    assert QTest is not None


def test_a_step_is_copied_to_a_zone_and_to_a_scheme(page: CoatsPage, bridge: Bridge) -> None:
    step = bridge.state.step
    assert step is not None
    page.actions_row._fill_copy_menu()
    texts = [a.text() for a in page.actions_row._copy_menu.actions()]
    assert "Zone reed cloak" in texts
    page.actions_row._copy_menu.actions()[texts.index("Zone reed cloak")].trigger()
    scheme = bridge.state.scheme
    assert scheme is not None
    last = scheme.steps[-1]
    assert last.zone_ids == ("cloak",)
    assert last.mix_id == step.mix_id
    other = next(s for s in bridge.state.project.schemes if s.id != scheme.id)
    page.actions_row._fill_copy_menu()
    texts = [a.text() for a in page.actions_row._copy_menu.actions()]
    page.actions_row._copy_menu.actions()[texts.index(f"Scheme {other.name}")].trigger()
    grown = bridge.state.project.scheme(other.id)
    assert len(grown.steps) == len(other.steps) + 1


def test_a_coat_over_the_whole_model_is_one_step(page: CoatsPage, bridge: Bridge) -> None:
    page.actions_row.new_coat(Technique.WASH)
    page.actions_row._fill_zones_menu()
    page.actions_row._zones_menu.actions()[0].trigger()
    step = bridge.state.step
    assert step is not None
    assert set(step.zone_ids) == {zone.id for zone in bridge.state.project.zones}


def test_the_frame_of_a_picked_strip_leaves_its_colours_to_be_seen(
    page: CoatsPage, bridge: Bridge
) -> None:
    bridge.session.select(zone_id="plates")
    assert page.seen._outside.any(), "the plates hold colours beyond the screen"
    plain = page.seen.grab().toImage()
    page.seen.set_chosen(True)
    framed = page.seen.grab().toImage()
    x, y = plain.width() // 3, plain.height() // 2
    assert framed.pixel(x, y) == plain.pixel(x, y)
    assert framed.pixel(x, 1) != plain.pixel(x, 1)


def test_the_stand_in_follows_the_scheme_and_picks_zones(
    qtbot: QtBot, page: CoatsPage, bridge: Bridge
) -> None:
    qtbot.waitUntil(lambda: page.model.stand_in is not None, timeout=10000)
    model = page.model.stand_in
    assert model is not None
    qtbot.waitUntil(lambda: model.drawn is not None, timeout=30000)
    assert model.drawn is not None
    before = model.drawn.picture.rgba
    zones = [zone.id for zone in bridge.state.project.zones]
    rows, columns = np.nonzero(model.drawn.zones == zones.index("cloak"))
    middle = len(rows) // 2
    frame, (high, wide) = model.frame(), model.drawn.zones.shape
    spot = QPointF(
        frame.left() + (columns[middle] + 0.5) / wide * frame.width(),
        frame.top() + (rows[middle] + 0.5) / high * frame.height(),
    )
    qtbot.mouseClick(model, LEFT, pos=spot.toPoint())
    assert bridge.state.selection.zone_id == "cloak"
    page.cutaway.hand.set_weight(page.cutaway.bands[-1].step, 90.0)
    qtbot.waitUntil(
        lambda: model.drawn is not None and not np.array_equal(model.drawn.picture.rgba, before),
        timeout=10000,
    )
    bridge.session.prefer(figure="")
    assert page.model.figure.isVisible()


def test_a_sprays_droplets_are_set_in_words_and_by_numbers(page: CoatsPage, bridge: Bridge) -> None:
    scheme = bridge.state.scheme
    assert scheme is not None
    sprayed = next(s for s in coloured_steps(scheme, "lantern") if isinstance(s.layer, Spray))
    bridge.session.select(step_id=sprayed.id)
    spray = page.coat.spray
    assert not spray.spread_n.isVisible()  # words only, until numbers are asked for
    bridge.session.prefer(numbers=True)
    before = page.seen.xyz
    spray.spread_n.setValue(4.0)
    changed = bridge.state.step
    assert changed is not None
    assert isinstance(changed.layer, Spray)
    assert changed.layer.spread_n == 4.0
    # Light that spreads below the droplets is lost in the black: half-covered places darken.
    assert np.all(page.seen.xyz[:32, 1] <= before[:32, 1] + 1e-12)
    assert page.seen.xyz[8, 1] < before[8, 1]
    bridge.session.undo()
    spray.droplet.setCurrentIndex(2)
    spray.droplet.activated.emit(2)
    changed = bridge.state.step
    assert changed is not None
    assert isinstance(changed.layer, Spray)
    assert changed.layer.droplet_um == spray.droplet_um.value() == 20.0
