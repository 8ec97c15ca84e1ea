"""What stands in for a paint, an airbrush or a pot that is not there, asked from a coat."""

import numpy as np
import pytest
from PySide6.QtCore import Qt
from pytestqt.qtbot import QtBot

from schemeforge import colorimetry
from schemeforge.desk import Page
from schemeforge.gui.bridge import Bridge
from schemeforge.gui.coats.page import CoatsPage
from schemeforge.gui.main_window import MainWindow
from schemeforge.gui.recipes.asked import MixAgain, ReplacePaint, WithoutAirbrush
from schemeforge.gui.recipes.bench import MixingBench
from schemeforge.paint import WATER_ID
from schemeforge.recipe import Brushed, Recipe, Swap, Use
from schemeforge.scheme import Coat, Spray, Step, Technique
from tests.gui.recipes.driving import answered, asked

LEFT = Qt.MouseButton.LeftButton


def own_coat(bridge: Bridge) -> Step:
    """A coat of the picked scheme with a mix of several ingredients."""
    scheme = bridge.state.scheme
    assert scheme is not None
    return next(
        step
        for step in scheme.steps
        if isinstance(step.layer, Coat) and len(scheme.mix(step.layer.mix_id).ingredients) > 2
    )


def ramp(bridge: Bridge, step: Step, zone_id: str) -> np.ndarray:
    """CIELAB of the zone as the document now has it."""
    scheme = bridge.state.scheme
    assert scheme is not None
    use = Use(project=bridge.state.project, scheme=scheme, zone_id=zone_id, step_id=step.id)
    return use.ramp()


def test_a_paint_that_is_out_from_the_menu_of_its_coat(
    qtbot: QtBot, window: MainWindow, bridge: Bridge, bench: MixingBench
) -> None:
    step = own_coat(bridge)
    bridge.session.select(zone_id=step.zone_ids[0], step_id=step.id)
    page = window.page(Page.COATS)
    assert isinstance(page, CoatsPage)
    scheme = bridge.state.scheme
    assert scheme is not None
    held = [i.paint_id for i in scheme.mix(step.mix_id or "").ingredients]
    first = next(i for i in held if i != WATER_ID)
    name = bridge.state.project.paint(first).name
    menu = page.coat.mix.find_mix.fill()
    action = next(a for a in menu.actions() if a.text() == f"{name} is out")
    action.trigger()
    answered(qtbot, bench)
    assert bench.asked == ReplacePaint(scheme.id, step.zone_ids[0], step.id, first)
    assert bench.findings is not None
    groups = dict(bench.findings.groups)
    assert groups["swaps"]
    assert all(isinstance(answer.what, Swap) for answer in groups["swaps"])
    for answer in groups["mixes"]:
        assert isinstance(answer.what, Recipe)
        assert first not in answer.what.paint_ids
    card = bench.results.grid.cards[0]
    before = bridge.state.project
    qtbot.mouseClick(card.put_button, LEFT)
    assert card.answer is not None
    put = bridge.state.project.scheme(scheme.id).mix(step.mix_id or "")
    assert put.parts_of(first) == 0.0
    np.testing.assert_allclose(ramp(bridge, step, step.zone_ids[0]), card.answer.lab, atol=1e-6)
    bridge.session.undo()
    assert bridge.state.project is before


def test_the_difference_along_the_ramp_is_told_with_numbers(
    qtbot: QtBot, bridge: Bridge, bench: MixingBench
) -> None:
    step = own_coat(bridge)
    scheme_id = bridge.state.selection.scheme_id
    bridge.session.prefer(numbers=True)
    asked(qtbot, bench, ReplacePaint(scheme_id, step.zone_ids[0], step.id))
    assert bench.findings is not None
    for answer, card in zip(bench.findings.answers, bench.results.grid.cards, strict=True):
        each = colorimetry.ciede2000(np.array(answer.lab), np.array(bench.findings.slip.target))
        np.testing.assert_allclose(answer.differences, each, atol=1e-6)
        assert " · ".join(f"{value:.1f}" for value in each) in card.near.text()


def test_another_paint_of_the_mix_is_picked_on_the_bench(
    qtbot: QtBot, bridge: Bridge, bench: MixingBench
) -> None:
    step = own_coat(bridge)
    asked(qtbot, bench, ReplacePaint(bridge.state.selection.scheme_id, step.zone_ids[0], step.id))
    combo = bench.missing.paint
    assert combo.count() > 1
    row = (combo.currentIndex() + 1) % combo.count()
    combo.setCurrentIndex(row)
    combo.activated.emit(row)
    answered(qtbot, bench)
    assert isinstance(bench.asked, ReplacePaint)
    assert bench.asked.paint_id == combo.itemData(row)


def test_the_spray_without_an_airbrush(qtbot: QtBot, bridge: Bridge, bench: MixingBench) -> None:
    scheme = bridge.state.scheme
    assert scheme is not None
    spray = next(step for step in scheme.steps if isinstance(step.layer, Spray))
    asked(qtbot, bench, WithoutAirbrush(scheme.id, "hide", spray.id))
    assert bench.findings is not None
    assert {
        a.what.coat.technique for a in bench.findings.answers if isinstance(a.what, Brushed)
    } == {
        Technique.DRY_BRUSH,
        Technique.LAYER,
    }
    card = bench.results.grid.cards[0]
    qtbot.mouseClick(card.put_button, LEFT)
    assert card.answer is not None
    changed = bridge.state.project.scheme(scheme.id).step(spray.id)
    assert changed.coat is not None
    np.testing.assert_allclose(ramp(bridge, spray, "hide"), card.answer.lab, atol=1e-6)
    bridge.session.undo()
    assert isinstance(bridge.state.project.scheme(scheme.id).step(spray.id).layer, Spray)


def test_the_pot_that_ran_dry(qtbot: QtBot, bridge: Bridge, bench: MixingBench) -> None:
    """Enough: the same again. Too little of one paint: the nearest mix from what is left."""
    step = own_coat(bridge)
    asked(qtbot, bench, MixAgain(bridge.state.selection.scheme_id, step.zone_ids[0], step.id, 12.5))
    assert bench.missing.needed.value() == 12.5
    assert "enough to mix the same again" in bench.results.status.text()
    assert not bench.results.grid.cards
    paint_id, box = next(iter(bench.missing.boxes.items()))
    box.setFocus()
    box.setValue(0.5)
    qtbot.waitUntil(lambda: bool(bench.results.grid.cards), timeout=30_000)
    answered(qtbot, bench)
    assert "will not last" in bench.results.status.text()
    assert bench.findings is not None
    for answer in bench.findings.answers:
        assert isinstance(answer.what, Recipe)
        parts = {p.paint_id: p.parts for p in answer.what.coats[0].all_parts}
        total = answer.what.coats[0].total_parts
        assert 12.5 * parts.get(paint_id, 0) / total <= 0.5 + 1e-9
    card = bench.results.grid.cards[0]
    qtbot.mouseClick(card.put_button, LEFT)
    assert card.answer is not None
    np.testing.assert_allclose(ramp(bridge, step, step.zone_ids[0]), card.answer.lab, atol=1e-6)


def test_the_whole_pot_is_needed_unless_it_is_said(
    qtbot: QtBot, bridge: Bridge, bench: MixingBench
) -> None:
    from schemeforge.plan import pots

    step, scheme = own_coat(bridge), bridge.state.scheme
    assert scheme is not None
    asked(qtbot, bench, MixAgain(scheme.id, step.zone_ids[0], step.id))
    pot = next(p for p in pots(bridge.state.project, scheme) if p.mix.id == step.mix_id)
    assert bench.missing.needed.value() == pytest.approx(pot.ml, abs=0.06)
