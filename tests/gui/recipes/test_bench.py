"""From a colour to a recipe in a coat, and back by undo."""

from dataclasses import replace

import numpy as np
import pytest
from PySide6.QtCore import Qt
from PySide6.QtGui import QGuiApplication
from PySide6.QtWidgets import QApplication
from pytestqt.qtbot import QtBot

from schemeforge import colorimetry
from schemeforge.desk import Page
from schemeforge.gui.bridge import Bridge
from schemeforge.gui.coats.page import CoatsPage
from schemeforge.gui.main_window import MainWindow
from schemeforge.gui.recipes.asked import ColourWanted, FindRecipe, ZoneWanted
from schemeforge.gui.recipes.bench import MixingBench
from schemeforge.gui.recipes.finding import Match
from schemeforge.gui.recipes.ground import Ground, GroundKind
from schemeforge.recipe import Recipe
from schemeforge.scheme import Coat, coloured_steps
from tests.gui.recipes.driving import FAR, NEAR, answered, asked, seen

LEFT = Qt.MouseButton.LeftButton


def stack(bridge: Bridge) -> list[str]:
    scheme = bridge.state.scheme
    assert scheme is not None
    return [step.id for step in coloured_steps(scheme, bridge.state.selection.zone_id)]


def test_by_keys_from_a_colour_to_a_coat_and_back(
    qtbot: QtBot, window: MainWindow, bridge: Bridge, bench: MixingBench
) -> None:
    page = window.page(Page.COATS)
    assert isinstance(page, CoatsPage)
    strip = page.seen
    strip.setFocus()
    qtbot.keyClick(strip, Qt.Key.Key_Home)
    qtbot.keyClick(strip, Qt.Key.Key_R, Qt.KeyboardModifier.ControlModifier)
    answered(qtbot, bench)
    assert bench.isVisible()
    assert isinstance(bench.asked, FindRecipe)
    assert bench.asked.wanted.places == (0.0,)
    cards = bench.results.grid.cards
    assert QApplication.focusWidget() is cards[0]
    qtbot.keyClick(cards[0], Qt.Key.Key_Right)
    card = QApplication.focusWidget()
    assert card is cards[1]
    answer = cards[1].answer
    assert answer is not None
    before = bridge.state.project
    qtbot.keyClick(cards[1], Qt.Key.Key_Return)
    put = bridge.state.project
    assert put != before
    np.testing.assert_allclose(seen(bridge, bench), answer.lab, atol=1e-6)
    assert cards[1].is_in
    bridge.session.undo()
    assert bridge.state.project is before
    assert not cards[1].is_in
    bridge.session.redo()
    assert bridge.state.project is put
    assert cards[1].is_in
    answered(qtbot, bench)
    assert bench.results.grid.cards[1].answer is answer  # nothing was asked anew
    qtbot.keyClick(cards[1], Qt.Key.Key_Escape)
    assert page.isVisible()
    assert QApplication.focusWidget() is strip


@pytest.mark.parametrize("kind", ["undercoat", "in place", "on top"])
def test_put_where_it_was_searched_it_looks_as_it_says(
    qtbot: QtBot, bridge: Bridge, bench: MixingBench, kind: str
) -> None:
    """One step of undo; another recipe then takes the place of the first."""
    ids = stack(bridge)
    ground = Ground(kind=GroundKind(kind), step_ids=(ids[-2],) if kind == "in place" else ())
    bench.how.ground_picked.emit(ground)
    asked(qtbot, bench)
    before = bridge.state.project
    for card in bench.results.grid.cards[:2]:
        qtbot.mouseClick(card.put_button, LEFT)
        answered(qtbot, bench)
        assert card.answer is not None
        np.testing.assert_allclose(seen(bridge, bench), card.answer.lab, atol=1e-6)
    count = {"undercoat": 3, "in place": len(ids), "on top": len(ids) + 1}[kind]
    assert len(stack(bridge)) == count
    bridge.session.undo()
    bridge.session.undo()
    assert bridge.state.project is before


def test_a_base_coat_and_a_glaze_are_two_coats_and_one_step_of_undo(
    qtbot: QtBot, bridge: Bridge, bench: MixingBench
) -> None:
    asked(qtbot, bench)
    qtbot.mouseClick(bench.how.layers.button("layered"), LEFT)
    qtbot.waitUntil(lambda: bench.is_looking)
    answered(qtbot, bench)
    card = bench.results.grid.cards[0]
    assert card.answer is not None
    assert isinstance(card.answer.what, Recipe)
    assert len(card.answer.what.coats) == 2
    before = bridge.state.project
    qtbot.mouseClick(card.put_button, LEFT)
    assert len(stack(bridge)) == 4
    np.testing.assert_allclose(seen(bridge, bench), card.answer.lab, atol=1e-6)
    bridge.session.undo()
    assert bridge.state.project is before


def test_a_zone_made_to_look_like_one_of_another_scheme(
    qtbot: QtBot, bridge: Bridge, bench: MixingBench
) -> None:
    project = bridge.state.project
    other = project.schemes[1]
    wanted = ZoneWanted(project=project, scheme_id=other.id, zone_id="cloak", name="cloak there")
    asked(qtbot, bench, FindRecipe(wanted=wanted))
    findings = bench.findings
    assert findings is not None
    assert len(findings.slip.target) == 5
    for answer in findings.answers:
        each = colorimetry.ciede2000(np.array(answer.lab), np.array(findings.slip.target))
        np.testing.assert_allclose(answer.differences, each, atol=1e-9)
    qtbot.mouseClick(bench.results.grid.cards[0].put_button, LEFT)
    np.testing.assert_allclose(seen(bridge, bench), findings.answers[0].lab, atol=1e-6)


def test_the_same_question_gives_the_same_cards(qtbot: QtBot, bench: MixingBench) -> None:
    asked(qtbot, bench)
    first = [card.text for card in bench.results.grid.cards]
    assert len(first) > 3
    bench.closed.emit()
    assert bench.asked is None
    asked(qtbot, bench)
    assert [card.text for card in bench.results.grid.cards] == first


def test_out_of_reach_is_said_with_what_holds_it_back(qtbot: QtBot, bench: MixingBench) -> None:
    asked(qtbot, bench, FAR)
    assert bench.reach is not None
    assert not bench.reach.is_reached
    assert bench.results.limits.isVisible()
    assert "Out of reach" in bench.results.limits_head.text()
    assert bench.reach.causes[0].saying.key == "hue"
    assert "no paint here is of that hue" in bench.results.limits_text.text().lower()
    assert not any(sign.isdigit() for sign in bench.results.limits_text.text())
    bench.bridge.session.prefer(numbers=True)
    assert f"{bench.reach.delta_e:.1f}" in bench.results.limits_head.text()
    assert bench.findings is not None
    given = bench.findings.answers[0].lab
    asked(qtbot, bench, FindRecipe(wanted=ColourWanted(name="as a recipe gives", lab=given)))
    assert bench.findings.answers[0].delta_e < 0.01
    assert not bench.results.limits.isVisible()


def test_a_search_is_stopped_and_begun_again(qtbot: QtBot, bench: MixingBench) -> None:
    slow = replace(bench.wishes.options, most_paints=3, most_parts=10, most_coats=3)
    bench.how.changed.emit(slow)
    bench.bridge.asked.emit(NEAR)
    assert bench.is_looking
    assert QApplication.focusWidget() is bench.results.stop
    qtbot.waitUntil(lambda: bench.results.progress.value() > 0, timeout=20_000)
    qtbot.keyClick(bench.results.stop, Qt.Key.Key_Space)
    assert not bench.is_looking
    assert not bench.bridge.jobs.is_busy("recipe")
    assert "Stopped" in bench.results.status.text()
    qtbot.keyClick(bench.results.stop, Qt.Key.Key_Space)
    assert bench.is_looking
    answered(qtbot, bench)
    assert bench.results.grid.cards


def test_what_is_known_on_the_way_is_shown(qtbot: QtBot, bench: MixingBench) -> None:
    """Mixes of one paint stand there before those of more are found."""
    slow = replace(bench.wishes.options, most_paints=3, most_parts=10, most_coats=3)
    bench.how.changed.emit(slow)
    bench.bridge.asked.emit(NEAR)
    qtbot.waitUntil(lambda: bench.findings is not None, timeout=20_000)
    on_the_way = bench.findings
    assert on_the_way is not None
    assert not on_the_way.is_done
    assert len(bench.results.grid.cards) == len(on_the_way.answers) > 0
    assert "still looking" in bench.results.status.text()
    answered(qtbot, bench)
    assert bench.findings is not None
    assert bench.findings.is_done
    nearest = min(answer.delta_e for answer in bench.findings.answers)
    assert nearest <= on_the_way.answers[0].delta_e


def test_must_and_must_not_and_few_paints(qtbot: QtBot, bench: MixingBench) -> None:
    asked(qtbot, bench)
    limits, findings = bench.how.limits, bench.findings
    assert findings is not None
    used = next(iter(findings.answers[0].what.paint_ids))  # type: ignore[union-attr]
    limits.paint.setCurrentIndex(limits.paint.findData(used))
    qtbot.mouseClick(limits.leave, LEFT)
    answered(qtbot, bench)
    qtbot.waitUntil(lambda: bench.findings is not findings)
    ids = [a.what.paint_ids for a in bench.findings.answers]  # type: ignore[union-attr]
    assert all(used not in each for each in ids)
    qtbot.mouseClick(limits.use, LEFT)
    without = bench.findings
    qtbot.waitUntil(lambda: bench.findings is not without and not bench.is_looking)
    answered(qtbot, bench)
    ids = [a.what.paint_ids for a in bench.findings.answers]  # type: ignore[union-attr]
    assert ids
    assert all(used in each for each in ids)
    assert bench.wishes.options.must == (used,)


def test_a_typed_colour_and_one_that_is_none(
    qtbot: QtBot, window: MainWindow, bench: MixingBench
) -> None:
    qtbot.keyClick(window, Qt.Key.Key_R, Qt.KeyboardModifier.ControlModifier)
    assert QApplication.focusWidget() is bench.target.typed
    bench.target.typed.setText("52, 12, -30")
    qtbot.keyClick(bench.target.typed, Qt.Key.Key_Return)
    answered(qtbot, bench)
    assert bench.findings is not None
    assert bench.findings.slip.target == ((52.0, 12.0, -30.0),)
    bench.target.typed.setText("nonsense")
    qtbot.keyClick(bench.target.typed, Qt.Key.Key_Return)
    assert "not a screen colour" in window.notice.text


def test_the_light_of_the_view_bar_is_the_light_of_the_match(
    qtbot: QtBot, window: MainWindow, bridge: Bridge, bench: MixingBench
) -> None:
    project = bridge.state.project
    wanted = ZoneWanted(
        project=project, scheme_id=project.schemes[1].id, zone_id="hide", name="there", at=0.5
    )
    asked(qtbot, bench, FindRecipe(wanted=wanted))
    first = bench.findings
    row = window.view_bar.light.findData("A")
    window.view_bar.light.setCurrentIndex(row)
    window.view_bar.light.activated.emit(row)
    qtbot.waitUntil(lambda: bench.findings is not first and not bench.is_looking, timeout=30_000)
    assert first is not None
    assert bench.findings is not None
    assert bench.findings.slip.target != first.slip.target
    assert isinstance(bench.question, Match)
    assert bench.question.viewing.light == "A"


def test_a_recipe_is_copied_as_text(qtbot: QtBot, window: MainWindow, bench: MixingBench) -> None:
    asked(qtbot, bench)
    card = bench.results.grid.cards[0]
    card.setFocus()
    qtbot.keyClick(card, Qt.Key.Key_C, Qt.KeyboardModifier.ControlModifier)
    text = QGuiApplication.clipboard().text()
    assert card.text is not None
    assert text == card.text.plain
    assert "Parts:" in text or "neat" in text
    assert "clipboard" in window.notice.text


def test_a_plain_ground_has_no_coat_to_put_it_into(qtbot: QtBot, bench: MixingBench) -> None:
    bench.how.ground_picked.emit(Ground(kind=GroundKind.BLACK))
    asked(qtbot, bench)
    card = bench.results.grid.cards[0]
    assert not card.put_button.isEnabled()
    assert "plain tone" in card.put_button.toolTip()
    assert bench.findings is not None
    assert bench.findings.slip.ground[0][0] < 30.0


def test_turning_to_another_page_puts_the_bench_away(
    window: MainWindow, bridge: Bridge, bench: MixingBench
) -> None:
    bridge.asked.emit(NEAR)
    bridge.session.select(page=Page.BATCH)
    assert bench.asked is None
    assert not bench.isVisible()
    assert window.page(Page.BATCH).isVisible()
    assert not bridge.jobs.is_busy("recipe")


def test_a_zone_that_goes_while_it_is_on_the_bench(
    qtbot: QtBot, bridge: Bridge, bench: MixingBench
) -> None:
    asked(qtbot, bench)
    empty = replace(
        bridge.state.project, zones=(), schemes=(), chosen_scheme_id="", yardstick_id=""
    )
    bridge.session.begin(empty)
    qtbot.waitUntil(lambda: "no zone" in bench.results.status.text(), timeout=5000)
    assert not bench.results.grid.cards


def test_cards_of_a_shared_step_leave_other_zones_alone(
    qtbot: QtBot, bridge: Bridge, bench: MixingBench
) -> None:
    scheme = bridge.state.scheme
    assert scheme is not None
    shared = next(s for s in scheme.steps if isinstance(s.layer, Coat) and len(s.zone_ids) > 2)
    zone = bridge.state.selection.zone_id
    assert zone in shared.zone_ids
    bench.how.ground_picked.emit(Ground(kind=GroundKind.IN_PLACE, step_ids=(shared.id,)))
    asked(qtbot, bench)
    qtbot.mouseClick(bench.results.grid.cards[0].put_button, LEFT)
    after = bridge.state.project.scheme(scheme.id)
    assert after.step(shared.id).layer == shared.layer
    assert after.step(shared.id).zone_ids == tuple(z for z in shared.zone_ids if z != zone)
