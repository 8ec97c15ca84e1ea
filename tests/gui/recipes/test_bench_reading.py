"""The bench by keyboard, by screen reader and in long words."""

import pytest
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QApplication, QWidget
from pytestqt.qtbot import QtBot

from schemeforge.gui.bridge import Bridge
from schemeforge.gui.main_window import MainWindow
from schemeforge.gui.recipes.asked import Asked, MixAgain, ReplacePaint
from schemeforge.gui.recipes.bench import MixingBench
from schemeforge.gui.recipes.options import Options
from tests.gui.every_widget import focusable, place_of, settle, spoken_name
from tests.gui.long_words import SIZE, Longer, cut_words, scrolls_sideways, squeezed_words
from tests.gui.recipes.driving import FAR, NEAR, asked
from tests.gui.test_accessible import walk


def questions(bridge: Bridge) -> list[Asked]:
    scheme = bridge.state.scheme
    assert scheme is not None
    step = next(s for s in scheme.steps if s.coat is not None)
    where = scheme.id, step.zone_ids[0], step.id
    return [NEAR, FAR, ReplacePaint(*where), MixAgain(*where)]


def test_all_has_a_name_and_is_reached_by_tab(
    qtbot: QtBot, bridge: Bridge, bench: MixingBench
) -> None:
    for what in questions(bridge):
        asked(qtbot, bench, what)
        nameless = [place_of(w) for w in focusable(bench) if not spoken_name(w).strip()]
        assert nameless == []
        order = walk(qtbot, bench.close_button)
        missed = [
            place_of(w)
            for w in focusable(bench)
            if w.focusPolicy() & Qt.FocusPolicy.TabFocus == Qt.FocusPolicy.TabFocus
            and not any(w is known for known in order)
            and not any(w is inner for known in order for inner in known.findChildren(QWidget))
        ]
        assert missed == []


def test_a_card_reads_as_a_whole(qtbot: QtBot, bench: MixingBench) -> None:
    asked(qtbot, bench)
    card = bench.results.grid.cards[0]
    assert card.text is not None
    assert card.accessibleName().startswith("recipe 1: ")
    for mixed, laid in card.text.mixes:
        assert mixed in card.accessibleDescription()
        assert laid in card.accessibleDescription()
    assert card.put_button.accessibleName() == "Put into a coat, recipe 1"


def test_arrows_walk_and_only_one_card_takes_the_tab_key(qtbot: QtBot, bench: MixingBench) -> None:
    asked(qtbot, bench)
    grid = bench.results.grid
    grid.focus_first()
    qtbot.keyClick(grid.cards[0], Qt.Key.Key_End)
    assert QApplication.focusWidget() is grid.cards[-1]
    stops = [c for c in grid.cards if c.focusPolicy() == Qt.FocusPolicy.StrongFocus]
    assert stops == [grid.cards[-1]]
    qtbot.keyClick(grid.cards[-1], Qt.Key.Key_Home)
    qtbot.keyClick(grid.cards[0], Qt.Key.Key_Down)
    assert QApplication.focusWidget() is grid.cards[grid.columns]


@pytest.mark.parametrize("numbers", [False, True])
def test_no_words_are_cut(qtbot: QtBot, longer: Longer, bridge: Bridge, *, numbers: bool) -> None:
    del longer
    bridge.session.prefer(numbers=numbers)
    window = MainWindow(bridge)
    window.files.may_leave = lambda: True  # type: ignore[method-assign]
    qtbot.addWidget(window)
    window.resize(*SIZE)
    window.show()
    qtbot.waitExposed(window)
    bench = window.bench
    bench.how.changed.emit(Options(most_paints=2, most_coats=2, most_parts=6))
    for what in questions(bridge):
        asked(qtbot, bench, what)
        settle(qtbot, bridge)
        assert cut_words(bench) == []
        assert squeezed_words(qtbot, bench) == []
        assert scrolls_sideways(bench) == []
