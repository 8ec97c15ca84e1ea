"""A recipe can be asked for wherever a colour is shown: by menu, key and mark."""

import numpy as np
from PySide6.QtCore import QEvent, QPoint, Qt
from PySide6.QtGui import QContextMenuEvent, QEnterEvent
from PySide6.QtWidgets import QApplication, QWidget
from pytestqt.qtbot import QtBot

from schemeforge import colorimetry
from schemeforge.desk import Page
from schemeforge.gui.bridge import Bridge
from schemeforge.gui.coats.page import CoatsPage
from schemeforge.gui.main_window import MainWindow
from schemeforge.gui.paints.page import PaintsPage
from schemeforge.gui.recipes.asked import (
    ColourWanted,
    FindRecipe,
    PaintWanted,
    ReplacePaint,
    ZoneWanted,
    judged_model,
)
from schemeforge.gui.recipes.bench import MixingBench
from schemeforge.gui.recipes.offer import RecipeOffer
from schemeforge.gui.schemes.page import SchemesPage
from schemeforge.recipe import look_for, plain_bed
from schemeforge.scheme import CoatStrength, Evidence
from schemeforge.shelf.starter import starter_paints
from tests.gui.recipes.driving import answered

LEFT = Qt.MouseButton.LeftButton


def offer_of(widget: QWidget) -> RecipeOffer:
    offer = widget.findChild(RecipeOffer, options=Qt.FindChildOption.FindDirectChildrenOnly)
    assert isinstance(offer, RecipeOffer)
    return offer


def wanted_of(asked: object) -> object:
    assert isinstance(asked, FindRecipe)
    return asked.wanted


def test_every_colour_on_coats_has_its_recipe(window: MainWindow, bridge: Bridge) -> None:
    page = window.page(Page.COATS)
    assert isinstance(page, CoatsPage)
    pick = bridge.state.selection
    ramp = offer_of(page.seen).choices()[0]
    wanted = wanted_of(ramp.asked)
    assert isinstance(wanted, ZoneWanted)
    assert (wanted.zone_id, wanted.at) == (pick.zone_id, None)
    spot = wanted_of(offer_of(page.seen).choices(QPoint(page.seen.width() - 1, 5))[0].asked)
    assert isinstance(spot, ZoneWanted)
    assert spot.at == 1.0
    chip = page.zones.chips[1]
    zone = wanted_of(offer_of(chip).choices()[0].asked)
    assert isinstance(zone, ZoneWanted)
    assert zone.zone_id == bridge.state.project.zones[1].id
    dry, wet = page.after.strips(2)
    stage = wanted_of(offer_of(dry).choices(QPoint(0, 2))[0].asked)
    assert isinstance(stage, ZoneWanted)
    assert stage.after is not None
    read = wanted_of(offer_of(wet).choices(QPoint(0, 2))[0].asked)
    assert isinstance(read, ColourWanted)
    np.testing.assert_allclose(read.lab[0], wet.reading(0.0).lab)
    band = wanted_of(offer_of(page.cutaway).choices()[0].asked)
    assert isinstance(band, ZoneWanted)
    assert band.after == pick.step_id
    assert offer_of(page.model.figure).choices()


def test_what_a_strip_shows_is_what_is_matched(window: MainWindow, bridge: Bridge) -> None:
    """The target of a place is the very colour read there."""
    page = window.page(Page.COATS)
    assert isinstance(page, CoatsPage)
    spot = wanted_of(offer_of(page.seen).choices(QPoint(page.seen.width() - 1, 5))[0].asked)
    assert isinstance(spot, ZoneWanted)
    project = bridge.state.project
    bed, look = plain_bed(0.5), look_for(project)
    target = spot.target(project, project.viewing, bed, look)
    np.testing.assert_allclose(target.lab[0], page.seen.reading(1.0).lab, atol=1e-9)


def test_the_menu_opens_and_asks(qtbot: QtBot, window: MainWindow, bench: MixingBench) -> None:
    page = window.page(Page.COATS)
    assert isinstance(page, CoatsPage)
    strip = page.seen
    at = QPoint(10, 5)
    event = QContextMenuEvent(QContextMenuEvent.Reason.Mouse, at, strip.mapToGlobal(at))
    QApplication.sendEvent(strip, event)
    menu = QApplication.activePopupWidget()
    assert menu is not None
    texts = [action.text() for action in menu.actions()]
    assert texts == [
        "Find a recipe for this colour",
        "Find a recipe for the whole ramp",
        "Copy what is read here",
    ]
    menu.actions()[1].trigger()
    menu.close()
    answered(qtbot, bench)
    assert isinstance(bench.asked, FindRecipe)
    assert bench.asked.wanted.is_ramp


def test_the_mark_comes_with_the_pointer_and_asks_by_a_click(
    qtbot: QtBot, window: MainWindow, bench: MixingBench
) -> None:
    page = window.page(Page.COATS)
    assert isinstance(page, CoatsPage)
    strip, offer = page.seen, offer_of(page.seen)
    assert offer.mark is None
    at = strip.rect().center()
    glob = strip.mapToGlobal(at)
    QApplication.sendEvent(strip, QEnterEvent(at.toPointF(), at.toPointF(), glob.toPointF()))
    mark = offer.mark
    assert mark is not None
    assert mark.isVisible()
    assert strip.rect().contains(mark.geometry())
    qtbot.mouseClick(mark, LEFT)
    answered(qtbot, bench)
    assert bench.isVisible()
    QApplication.sendEvent(strip, QEvent(QEvent.Type.Leave))
    assert not mark.isVisible()


def test_from_a_cell_of_another_scheme(
    qtbot: QtBot, window: MainWindow, bridge: Bridge, bench: MixingBench
) -> None:
    bridge.session.select(page=Page.SCHEMES)
    page = window.page(Page.SCHEMES)
    assert isinstance(page, SchemesPage)
    other = bridge.state.project.schemes[1]
    qtbot.waitUntil(lambda: other.id in page.board.columns)
    cell = page.board.columns[other.id].cells["cloak"]
    cell.strip.setFocus()
    qtbot.keyClick(cell.strip, Qt.Key.Key_R, Qt.KeyboardModifier.ControlModifier)
    answered(qtbot, bench)
    assert isinstance(bench.asked, FindRecipe)
    wanted = bench.asked.wanted
    assert isinstance(wanted, ZoneWanted)
    assert (wanted.scheme_id, wanted.zone_id) == (other.id, "cloak")
    assert bench.findings is not None


def test_from_a_paint_its_colour_and_its_stand_in(
    qtbot: QtBot, window: MainWindow, bridge: Bridge, bench: MixingBench
) -> None:
    bridge.session.edit_shelf("take", lambda _shelf: starter_paints()[:12])
    bridge.session.select(page=Page.PAINTS)
    page = window.page(Page.PAINTS)
    assert isinstance(page, PaintsPage)
    scheme = bridge.state.scheme
    assert scheme is not None
    card = next(
        c
        for c in page.grid.cards
        if c.info is not None and any(mix.parts_of(c.paint_id) for mix in scheme.mixes)
    )
    choices = offer_of(card).choices()
    assert isinstance(wanted_of(choices[0].asked), PaintWanted)
    stands_in = choices[1].asked
    assert isinstance(stands_in, ReplacePaint)
    assert stands_in.paint_id == card.paint_id
    step = scheme.step(stands_in.step_id)
    assert scheme.mix(step.mix_id or "").parts_of(card.paint_id) > 0
    page.grid.focus_card(card.paint_id)
    qtbot.keyClick(card, Qt.Key.Key_R, Qt.KeyboardModifier.ControlModifier)
    answered(qtbot, bench)
    assert bench.findings is not None
    best = min(bench.findings.answers, key=lambda a: a.delta_e)
    # The paint itself is on the shelf: some film of it comes near its own full film.
    assert best.delta_e < 5.0


def test_a_photographed_model_is_a_target(window: MainWindow, bridge: Bridge) -> None:
    del window
    ramp = tuple((20.0 + 5 * n, 3.0, -4.0) for n in range(9))
    evidence = Evidence(
        id="e",
        name="test model",
        scheme_id=bridge.state.selection.scheme_id,
        zone_id="hide",
        measured=ramp,
        predicted=ramp,
        followed=ramp,
        strengths=(CoatStrength(step_id="x", name="x", planned_um=20, factor=1, error=0.1),),
    )
    wanted = judged_model(evidence)
    assert wanted.is_ramp
    np.testing.assert_allclose([row[0] for row in wanted.lab], [20, 30, 40, 50, 60])
    xyz = colorimetry.xyz_from_lab(np.array(wanted.lab))
    assert xyz.shape == (5, 3)
