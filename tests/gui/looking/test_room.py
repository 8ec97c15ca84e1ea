"""The window to look at models, its strip, its lamp and its sizes; and the ranks on Batch."""

import numpy as np
import pytest
from PySide6.QtCore import QPointF, Qt
from PySide6.QtWidgets import QAbstractButton, QComboBox, QLabel, QWidget
from pytestqt.qtbot import QtBot

from schemeforge.colorimetry import Distance, Eyes, Sight
from schemeforge.desk import Looking, Page
from schemeforge.desk.preferences import load_preferences
from schemeforge.gui.batch.page import BatchPage
from schemeforge.gui.bridge import Bridge
from schemeforge.gui.looking import words
from schemeforge.gui.looking.room import LookingRoom
from schemeforge.gui.looking.shot import Arrangement
from schemeforge.gui.looking.strip import LookStrip
from schemeforge.gui.looking.true_size import CARD_MM, TrueSize
from schemeforge.gui.main_window import MainWindow
from schemeforge.gui.schemes.page import SchemesPage
from tests.gui.every_widget import focusable, place_of, settle, spoken_name, turned_to
from tests.gui.long_words import Longer


def choose(box: QComboBox, value: str) -> None:
    """As a hand picks an entry."""
    row = box.findData(value)
    assert row >= 0
    box.setCurrentIndex(row)
    box.activated.emit(row)


def test_a_strip_sets_one_sight_for_the_whole_window(qtbot: QtBot, bridge: Bridge) -> None:
    one, other = LookStrip(bridge), LookStrip(bridge)
    qtbot.addWidget(one)
    qtbot.addWidget(other)
    document = bridge.state.document
    choose(one.distance, Distance.TABLE.value)
    choose(one.eyes, Eyes.PROTAN.value)
    one.severity.setValue(40)
    assert bridge.state.selection.sight == Sight(
        distance=Distance.TABLE, eyes=Eyes.PROTAN, severity=0.4
    )
    assert bridge.state.document is document
    assert other.eyes.currentData() == Eyes.PROTAN.value
    assert not other.severity.isHidden()
    assert other.weak.text() == "40 %"
    choose(other.eyes, words.CAMERA)
    sight = bridge.state.selection.sight
    assert (sight.balanced, sight.eyes) == (False, Eyes.ALL)
    assert one.eyes.currentData() == words.CAMERA
    assert words.sight_words(sight) == "a camera set to daylight · across the table"
    choose(one.eyes, Eyes.ALL.value)
    choose(one.distance, Distance.CLOSE.value)
    assert bridge.state.selection.sight.is_plain
    assert words.sight_words(bridge.state.selection.sight) == ""


def test_a_sight_leaves_every_number_alone(
    qtbot: QtBot, window: MainWindow, bridge: Bridge
) -> None:
    page = turned_to(qtbot, window, Page.COATS)
    before = page.seen.xyz.copy()  # type: ignore[attr-defined]
    said = page.seen_words.text()  # type: ignore[attr-defined]
    bridge.session.select(sight=Sight(distance=Distance.SQUINT, eyes=Eyes.TRITAN))
    settle(qtbot, bridge)
    assert np.array_equal(page.seen.xyz, before)  # type: ignore[attr-defined]
    assert page.seen_words.text() == said  # type: ignore[attr-defined]


def test_the_room_opens_by_a_key_once_and_closes_with_escape(
    qtbot: QtBot, window: MainWindow, bridge: Bridge
) -> None:
    turned_to(qtbot, window, Page.COATS)
    window.menus.look()
    window.menus.look()
    rooms = window.findChildren(LookingRoom)
    assert len(rooms) == 1
    room = rooms[0]
    qtbot.waitUntil(room.isVisible)
    assert room.view.focusPolicy() is Qt.FocusPolicy.StrongFocus
    qtbot.keyClick(room, Qt.Key.Key_Escape)
    assert not room.isVisible()
    settle(qtbot, bridge)


@pytest.mark.parametrize("how", Arrangement)
def test_everything_in_the_room_has_a_name(
    qtbot: QtBot, room: LookingRoom, bridge: Bridge, how: Arrangement
) -> None:
    room.arrange(how)
    assert room.view.arrangement is how
    settle(qtbot, bridge)
    nameless = [place_of(widget) for widget in focusable(room) if not spoken_name(widget).strip()]
    assert nameless == []
    assert room.other_field.isHidden() is (how is not Arrangement.SPLIT)
    assert room.count_field.isHidden() is (how is not Arrangement.GROUP)


def test_schemes_and_models_are_chosen_in_the_room(
    qtbot: QtBot, room: LookingRoom, bridge: Bridge
) -> None:
    schemes = bridge.state.project.schemes
    choose(room.scheme, schemes[1].id)
    assert bridge.state.selection.scheme_id == schemes[1].id
    choose(room.model, "sphere")
    assert bridge.state.preferences.figure == "sphere"
    choose(room.what, Arrangement.SPLIT.value)
    choose(room.other, schemes[2].id)
    qtbot.waitUntil(lambda: _is_split(room), timeout=60_000)
    settle(qtbot, bridge)


def _is_split(room: LookingRoom) -> bool:
    return room.view.drawn is not None and room.view.drawn.other is not None


def test_steps_go_with_the_model_and_fall_back_to_finished(
    qtbot: QtBot, room: LookingRoom, bridge: Bridge
) -> None:
    assert room.steps.words.text() == "finished"
    room.steps.slider.setValue(2)
    assert room.view.step_id == room.steps.step_id != ""
    name = next(s.name for s in bridge.state.scheme.steps if s.id == room.view.step_id)  # type: ignore[union-attr]
    assert name in room.steps.words.text()
    room.view.setFocus()
    qtbot.keyClick(room.view, Qt.Key.Key_PageUp)
    assert room.steps.slider.value() == 1
    bridge.session.select(scheme_id=bridge.state.project.schemes[2].id)
    settle(qtbot, bridge)
    assert room.steps.step_id == room.view.step_id


def test_the_lamp_and_the_spray_change_pictures_and_are_kept(
    qtbot: QtBot, room: LookingRoom, bridge: Bridge
) -> None:
    project, before = bridge.state.project, room.view.drawn
    pad = room.light.pad
    pad.setFocus()
    for _ in range(6):
        qtbot.keyClick(pad, Qt.Key.Key_Right)
    looking = bridge.state.preferences.looking
    assert looking.lamp_side == Looking().lamp_side + 30
    qtbot.waitUntil(lambda: room.view.drawn is not before, timeout=60_000)
    at = pad.lamp_at()
    qtbot.mouseClick(pad, Qt.MouseButton.LeftButton, pos=pad.rect().center())
    assert bridge.state.preferences.looking.lamp_height >= 85
    assert pad.lamp_at() != at
    room.light.second.click()
    assert bridge.state.preferences.looking.low_pass == 0.0
    assert not room.light.share.isEnabled()
    settle(qtbot, bridge)
    assert bridge.state.project is project
    kept = load_preferences(bridge.session.places.settings / "preferences.json")[0]
    assert kept.looking == bridge.state.preferences.looking
    room.light.usual.click()
    assert bridge.state.preferences.looking == Looking()
    settle(qtbot, bridge)


def test_a_lamp_on_the_disc_is_put_where_it_is_drawn(room: LookingRoom, bridge: Bridge) -> None:
    pad = room.light.pad
    for side, height in ((0.0, 0.0), (90.0, 40.0), (-120.0, 10.0)):
        bridge.session.prefer(looking=Looking(lamp_side=side, lamp_height=height))
        at: QPointF = pad.lamp_at()
        bridge.session.prefer(looking=Looking())
        pad._put(at)
        looking = bridge.state.preferences.looking
        assert looking.lamp_side == pytest.approx(side, abs=1.0)
        assert looking.lamp_height == pytest.approx(height, abs=1.0)


def test_true_size_is_set_by_a_card_and_by_the_models_height(
    qtbot: QtBot, room: LookingRoom, bridge: Bridge
) -> None:
    sizes = TrueSize(bridge, room)
    qtbot.addWidget(sizes)
    dots = sizes.screen().physicalDotsPerInch()
    assert sizes.line.length() == pytest.approx(CARD_MM / 25.4 * dots)
    sizes.fit.setValue(500)
    fit = bridge.state.preferences.looking.screen_fit
    assert fit > 1.0
    assert sizes.line.length() == pytest.approx(CARD_MM / 25.4 * dots * fit)
    follows = sizes.height_mm.value()
    sizes.height_mm.setValue(60.0)
    assert bridge.state.preferences.looking.model_mm == 60.0
    sizes.usual.click()
    assert bridge.state.preferences.looking == Looking()
    assert sizes.height_mm.value() == follows
    settle(qtbot, bridge)


def test_schemes_share_the_sight_and_turn_together(
    qtbot: QtBot, window: MainWindow, bridge: Bridge
) -> None:
    page = turned_to(qtbot, window, Page.SCHEMES)
    assert isinstance(page, SchemesPage)
    views = [column.stand_in for column in page.board.columns.values()]
    choose(page.bar.strip.eyes, Eyes.GREY.value)
    settle(qtbot, bridge)
    for view in views:
        assert "greyscale" in view.accessibleDescription()
    qtbot.keyClick(views[0], Qt.Key.Key_Left, Qt.KeyboardModifier.ShiftModifier)
    assert {view.azimuth for view in views} == {25.0}
    settle(qtbot, bridge)


def test_the_ranks_stand_on_batch_and_rest_while_folded_away(
    qtbot: QtBot, window: MainWindow, bridge: Bridge
) -> None:
    bridge.session.select(page=Page.BATCH)
    page = window.page(Page.BATCH)
    assert isinstance(page, BatchPage)
    settle(qtbot, bridge)
    assert page.ranks.view.drawn is None, "folded away: nothing is made"
    page.unfold("ranks")
    qtbot.waitUntil(lambda: page.ranks.view.drawn is not None, timeout=60_000)
    assert page.ranks.view.arrangement is Arrangement.GROUP
    before = page.ranks.view.drawn
    bridge.session.select(scheme_id=bridge.state.project.schemes[1].id)
    qtbot.waitUntil(lambda: page.ranks.view.drawn is not before, timeout=60_000)
    page.ranks.larger.click()
    room = window.findChildren(LookingRoom)[0]
    assert room.arrangement is Arrangement.GROUP
    room.close()
    settle(qtbot, bridge)


def test_words_in_the_room_are_not_cut_however_long(
    qtbot: QtBot, longer: Longer, bridge: Bridge
) -> None:
    del longer
    room = LookingRoom(bridge)
    qtbot.addWidget(room)
    room.resize(900, 600)
    room.show()
    qtbot.waitExposed(room)
    for how in Arrangement:
        room.arrange(how)
        settle(qtbot, bridge)
        assert room.area.horizontalScrollBar().maximum() == 0
        cut = [
            f"{place_of(widget)} {spoken_name(widget)}"
            for widget in room.findChildren(QWidget)
            if isinstance(widget, QLabel | QAbstractButton | QComboBox)
            and widget.isVisibleTo(room)
            and not (isinstance(widget, QLabel) and widget.wordWrap())
            and widget.width() < widget.minimumSizeHint().width()
        ]
        assert cut == []
    sizes = TrueSize(bridge, room)
    qtbot.addWidget(sizes)
    sizes.show()
    qtbot.waitExposed(sizes)
    assert sizes.width() >= sizes.minimumSizeHint().width()


def test_enter_in_a_field_clicks_no_button(qtbot: QtBot, room: LookingRoom, bridge: Bridge) -> None:
    room.arrange(Arrangement.GROUP)
    bridge.session.prefer(looking=Looking(lamp_side=10.0))
    room.count.setFocus()
    qtbot.keyClick(room.count, Qt.Key.Key_Return)
    assert bridge.state.preferences.looking == Looking(lamp_side=10.0)
    assert not room.true_size.isChecked()
    settle(qtbot, bridge)


def test_the_look_before_is_held_by_the_button(
    qtbot: QtBot, room: LookingRoom, bridge: Bridge
) -> None:
    finished = room.view.drawn
    qtbot.mousePress(room.steps.before, Qt.MouseButton.LeftButton)
    qtbot.waitUntil(lambda: room.view.drawn is not finished, timeout=60_000)
    assert room.view.drawn is not None
    assert finished is not None
    assert not np.array_equal(room.view.drawn.picture.rgba, finished.picture.rgba)
    held = room.view.drawn
    qtbot.mouseRelease(room.steps.before, Qt.MouseButton.LeftButton)
    qtbot.waitUntil(lambda: room.view.drawn is not held, timeout=60_000)
    assert np.array_equal(room.view.drawn.picture.rgba, finished.picture.rgba)
    settle(qtbot, bridge)
