"""Every page in words two fifths longer, as German or French would be: nothing is cut."""

from collections.abc import Iterator

import pytest
from PySide6.QtCore import QObject, QTranslator
from PySide6.QtWidgets import (
    QAbstractButton,
    QAbstractSpinBox,
    QApplication,
    QCheckBox,
    QComboBox,
    QLabel,
    QLineEdit,
    QPushButton,
    QScrollArea,
    QToolButton,
    QWidget,
)
from pytestqt.qtbot import QtBot

from schemeforge.desk import Page
from schemeforge.gui.bridge import Bridge
from schemeforge.gui.main_window import MainWindow
from schemeforge.gui.widgets.name_button import NameButton
from tests.gui.every_widget import place_of, turned_to

SIZE = (1280, 720)
_CONTROLS = (QLabel, QAbstractButton, QComboBox, QAbstractSpinBox, QLineEdit)


class Longer(QTranslator):
    """Gives every text back in brackets, two fifths longer, with umlauts."""

    def translate(
        self, _context: str, text: str, _disambiguation: str | None = None, _n: int = -1
    ) -> str:
        """The text itself stays readable, so that placeholders still find their place."""
        if not text.strip():
            return text
        more = "äöüßéÄÖÜ " * (len(text) // 8 + 1)
        return f"[{text}{more[: max(round(0.4 * len(text)) - 2, 0)].rstrip()}]"

    def isEmpty(self) -> bool:
        """It has a word for everything."""
        return False


@pytest.fixture
def longer(qtbot: QtBot) -> Iterator[Longer]:
    del qtbot
    translator = Longer()
    QApplication.installTranslator(translator)
    yield translator
    QApplication.removeTranslator(translator)


@pytest.fixture
def window(qtbot: QtBot, longer: QObject, bridge: Bridge) -> MainWindow:
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
    cut = [
        f"{place_of(widget)}: {_text(widget)!r} needs {need}, has {widget.width()}"
        for widget in window.findChildren(QWidget)
        if widget.isVisibleTo(window) and (need := needed_width(widget)) > widget.width()
    ]
    assert cut == []
    outside = [
        place_of(widget)
        for widget in window.page(page).findChildren(QWidget)
        if isinstance(widget, QLabel | QAbstractButton)
        and widget.isVisibleTo(window)
        and widget.mapTo(window, widget.rect().topRight()).x() > window.width()
    ]
    assert outside == []
    sideways = [
        place_of(area)
        for area in window.findChildren(QScrollArea)
        if area.isVisibleTo(window) and area.horizontalScrollBar().maximum() > 0
    ]
    assert sideways == []


def _text(widget: QWidget) -> str:
    return widget.text() if isinstance(widget, QLabel | QAbstractButton) else ""


def needed_width(widget: QWidget) -> int:
    """Width that a label or button needs for its words, 0 for anything else."""
    text = _text(widget)
    if not text or isinstance(widget, NameButton):  # a document's name may be of any length
        return 0
    if isinstance(widget, QPushButton | QToolButton | QCheckBox):
        return widget.sizeHint().width()
    metrics = widget.fontMetrics()
    lines = text.split() if isinstance(widget, QLabel) and widget.wordWrap() else text.splitlines()
    return max(metrics.horizontalAdvance(line) for line in lines)


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
    squeezed = [
        f"{place_of(label)}: {label.text()!r} needs {label.heightForWidth(label.width())}, "
        f"has {label.height()}"
        for label in window.findChildren(QLabel)
        if label.isVisibleTo(window)
        and label.wordWrap()
        and label.text()
        and label.heightForWidth(label.width()) > label.height()
    ]
    assert squeezed == []
