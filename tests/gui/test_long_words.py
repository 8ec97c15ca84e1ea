"""Every page in words two fifths longer, as German or French would be: nothing is cut."""

import pytest
from PySide6.QtWidgets import (
    QAbstractButton,
    QAbstractSpinBox,
    QComboBox,
    QLabel,
    QLineEdit,
    QWidget,
)
from pytestqt.qtbot import QtBot

from schemeforge.desk import Page
from schemeforge.gui.bridge import Bridge
from schemeforge.gui.main_window import MainWindow
from tests.gui.every_widget import place_of, turned_to
from tests.gui.long_words import SIZE, Longer, cut_words, scrolls_sideways, squeezed_words

_CONTROLS = (QLabel, QAbstractButton, QComboBox, QAbstractSpinBox, QLineEdit)


@pytest.fixture
def window(qtbot: QtBot, longer: Longer, bridge: Bridge) -> MainWindow:
    """The window in long words at the smallest size that is promised."""
    del longer
    made = MainWindow(bridge)
    made.files.may_leave = lambda: True  # type: ignore[method-assign]
    qtbot.addWidget(made)
    made.resize(*SIZE)
    made.show()
    qtbot.waitExposed(made)
    return made


def test_the_words_are_longer(window: MainWindow) -> None:
    """Guards the tests below: without it they would pass on any layout."""
    texts = [button.text() for button in window.rail.buttons.values()]
    assert texts[0] == "[Paints]" or texts[0].startswith("[Paints")
    assert window.view_bar.finish.button("unvarnished").text() == "[Unvarnishedäö]"


@pytest.mark.parametrize("numbers", [False, True])
@pytest.mark.parametrize("page", Page)
def test_no_words_are_cut_and_no_page_scrolls_sideways(
    qtbot: QtBot, window: MainWindow, page: Page, *, numbers: bool
) -> None:
    window.bridge.session.prefer(numbers=numbers)
    turned_to(qtbot, window, page)
    assert (window.width(), window.height()) == SIZE
    assert cut_words(window) == []
    outside = [
        place_of(widget)
        for widget in window.page(page).findChildren(QWidget)
        if isinstance(widget, QLabel | QAbstractButton)
        and widget.isVisibleTo(window)
        and widget.mapTo(window, widget.rect().topRight()).x() > window.width()
    ]
    assert outside == []
    assert scrolls_sideways(window) == []


@pytest.mark.parametrize("page", Page)
def test_no_control_is_cut_by_what_holds_it(qtbot: QtBot, window: MainWindow, page: Page) -> None:
    """Also with the first pointer on the notice line, which takes room."""
    window.offers.point_to_first_thing()
    turned_to(qtbot, window, page)
    cut = [
        f"{place_of(widget)} {widget.geometry().getRect()} in {holder.size().toTuple()}"
        for widget in window.findChildren(QWidget)
        if isinstance(widget, _CONTROLS)
        and widget.isVisibleTo(window)
        and (holder := widget.parentWidget()) is not None
        and not holder.rect().contains(widget.geometry())
    ]
    assert cut == []


@pytest.mark.parametrize("page", Page)
def test_wrapped_words_have_their_height(qtbot: QtBot, window: MainWindow, page: Page) -> None:
    turned_to(qtbot, window, page)
    assert squeezed_words(qtbot, window) == []
