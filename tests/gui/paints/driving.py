"""What a test of the shelf's page does again and again."""

from PySide6.QtCore import Qt
from PySide6.QtTest import QTest

from schemeforge.gui.bridge import Bridge
from schemeforge.gui.paints.card import PaintCard
from schemeforge.gui.paints.page import PaintsPage
from schemeforge.paint import Paint


def ids(page: PaintsPage) -> list[str]:
    return [card.paint_id for card in page.grid.cards]


def card(page: PaintsPage, paint_id: str) -> PaintCard:
    found = page.grid.card(paint_id)
    assert found is not None
    return found


def open_paint(page: PaintsPage, paint_id: str) -> None:
    QTest.mouseClick(card(page, paint_id), Qt.MouseButton.LeftButton)
    assert page.bridge.state.selection.paint_id == paint_id


def shelf(bridge: Bridge) -> tuple[Paint, ...]:
    return bridge.state.document.shelf


def on_shelf(bridge: Bridge, paint_id: str) -> Paint:
    return next(paint for paint in shelf(bridge) if paint.id == paint_id)
