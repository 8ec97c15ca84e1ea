"""Every page by keyboard and by screen reader; colours that can be told apart and read."""

import itertools

import numpy as np
import pytest
from numpy.typing import NDArray
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QAbstractItemView, QApplication, QWidget
from pytestqt.qtbot import QtBot

from schemeforge import colorimetry
from schemeforge.desk import Page, Surround
from schemeforge.gui.main_window import MainWindow
from schemeforge.gui.theme import THEMES, Theme
from tests.gui.every_widget import focusable, place_of, spoken_name, turned_to


@pytest.mark.parametrize("page", Page)
def test_everything_that_takes_the_focus_has_a_name(
    qtbot: QtBot, window: MainWindow, page: Page
) -> None:
    turned_to(qtbot, window, page)
    nameless = [place_of(widget) for widget in focusable(window) if not spoken_name(widget).strip()]
    assert nameless == []


def walk(qtbot: QtBot, start: QWidget, key: Qt.Key = Qt.Key.Key_Tab) -> list[QWidget]:
    """By the real key from a widget until the focus is there again."""
    start.setFocus()
    order = [start]
    assert QApplication.focusWidget() is start
    while True:
        here = order[-1]
        qtbot.keyClick(here, key)
        there = QApplication.focusWidget()
        assert there is not None
        if there is start:
            return order
        assert not any(there is known for known in order), f"caught: {place_of(there)}"
        order.append(there)


@pytest.mark.parametrize("page", Page)
def test_tab_reaches_everything_and_comes_round(
    qtbot: QtBot, window: MainWindow, page: Page
) -> None:
    view = turned_to(qtbot, window, page)
    first = window.page(page).focus_first()
    order = walk(qtbot, first)
    assert walk(qtbot, first, Qt.Key.Key_Backtab) == [first, *reversed(order[1:])]
    missed = [
        f"{place_of(widget)} {spoken_name(widget)}"
        for widget in (*focusable(view), *focusable(window.view_bar), *focusable(window.rail))
        if widget.focusPolicy() & Qt.FocusPolicy.TabFocus
        and not any(widget is known for known in order)
        and not any(isinstance(at, QAbstractItemView) for at in parents(widget))
    ]
    assert missed == []


def parents(widget: QWidget) -> list[QWidget]:
    """From the widget's own parent up to the window."""
    at = widget.parentWidget()
    return [] if at is None else [at, *parents(at)]


@pytest.mark.parametrize("page", Page)
def test_tab_goes_as_one_reads(qtbot: QtBot, window: MainWindow, page: Page) -> None:
    """On to the right or further down; up again only into a container at the right."""
    view = turned_to(qtbot, window, page)
    whole = walk(qtbot, window.rail.buttons[page])
    order = [widget for widget in whole if view.isAncestorOf(widget)]
    assert len(order) > 5
    back = [
        f"{spoken_name(one)!r} -> {spoken_name(other)!r}"
        for one, other in itertools.pairwise(order)
        if goes_back(one, other)
    ]
    assert back == []


def goes_back(one: QWidget, other: QWidget) -> bool:
    """True where the second lies above and not right of the first, as parts of what holds both."""
    line, second = [one, *parents(one)], [other, *parents(other)]
    holder = next(w for w in line if w in second)
    if holder in {one, other}:
        return False
    left = line[line.index(holder) - 1].geometry()
    right = second[second.index(holder) - 1].geometry()
    return right.bottom() < left.top() or (
        right.center().y() < left.bottom() and right.right() < left.left()
    )


@pytest.mark.parametrize("page", Page)
def test_a_click_or_a_programme_may_put_the_focus_anywhere_and_tab_goes_on(
    qtbot: QtBot, window: MainWindow, page: Page
) -> None:
    """From what is not in the order the window's own order takes over."""
    turned_to(qtbot, window, page)
    window.setFocus()
    qtbot.keyClick(window, Qt.Key.Key_Tab)
    focus = QApplication.focusWidget()
    assert focus is not None
    assert focus is not window


# Colours of the window itself


def xyz_of(code: str) -> NDArray[np.float64]:
    """XYZ of ``#rrggbb``."""
    rgb = np.array([int(code[n : n + 2], 16) / 255.0 for n in (1, 3, 5)])
    return np.asarray(colorimetry.xyz_from_linear_rgb(colorimetry.decode(rgb)), dtype=np.float64)


def luminance(code: str) -> float:
    """Relative luminance of an sRGB colour: Y with white at 1."""
    return float(xyz_of(code)[1])


def contrast(one: str, other: str) -> float:
    """Contrast ratio (L1 + 0.05) / (L2 + 0.05) of WCAG 2.2."""
    light, dark = sorted((luminance(one), luminance(other)), reverse=True)
    return (light + 0.05) / (dark + 0.05)


@pytest.mark.parametrize("surround", Surround)
def test_text_and_lines_stand_out(surround: Surround) -> None:
    theme = THEMES[surround]
    for ground in (theme.window, theme.panel, theme.well):
        for text in (theme.text, theme.muted, theme.caution):
            assert contrast(text, ground) >= 4.5, (text, ground)
        for mark in (theme.line, theme.accent):
            assert contrast(mark, ground) >= 3.0, (mark, ground)
    assert contrast(theme.on_accent, theme.accent) >= 4.5


@pytest.mark.parametrize("surround", Surround)
def test_surrounds_are_neutral(surround: Surround) -> None:
    """Equal red, green and blue, so that nothing tints judgment."""
    theme = THEMES[surround]
    for code in (theme.window, theme.panel, theme.well, theme.line, theme.text, theme.muted):
        assert code[1:3] == code[3:5] == code[5:7]


@pytest.mark.parametrize("surround", Surround)
def test_accent_and_caution_can_be_told_apart_by_every_eye(surround: Surround) -> None:
    """And never by hue alone: cautions stand in words, what is picked is framed or filled."""
    theme: Theme = THEMES[surround]
    for deficiency in ("", *colorimetry.DEFICIENCIES):
        seen = [simulated(code, deficiency) for code in (theme.accent, theme.caution, theme.text)]
        for one, other in itertools.combinations(seen, 2):
            assert float(colorimetry.ciede2000(one, other)) > 10.0, (deficiency, surround)


def simulated(code: str, deficiency: str) -> NDArray[np.float64]:
    """CIELAB of a colour as that eye sees it; of normal vision for ""."""
    xyz = xyz_of(code)
    seen = colorimetry.as_seen_with(xyz, deficiency) if deficiency else xyz
    return np.asarray(colorimetry.lab_from_xyz(np.clip(seen, 0.0, None)))
