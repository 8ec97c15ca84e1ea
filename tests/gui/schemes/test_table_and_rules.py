"""The table that sorts, the rules of thumb, long words, and what happens when measuring fails."""

import json

import pytest
from PySide6.QtCore import QPoint, Qt, QTranslator
from PySide6.QtWidgets import QAbstractButton, QApplication, QLabel
from pytestqt.qtbot import QtBot

from schemeforge.comparison import DEFAULTS, Thresholds
from schemeforge.desk import Page, Places, Session
from schemeforge.desk.preferences import load_preferences
from schemeforge.gui.bridge import Bridge
from schemeforge.gui.files import demo_project
from schemeforge.gui.main_window import MainWindow
from schemeforge.gui.schemes.page import SchemesPage
from schemeforge.gui.schemes.request import Request
from schemeforge.gui.schemes.rules_dialog import RulesDialog
from schemeforge.gui.schemes.table import ID_ROLE, SORT_ROLE
from schemeforge.scheme import edits
from tests.gui.schemes.waiting import measured

LEFT = Qt.MouseButton.LeftButton


def column_of(page: SchemesPage, title: str) -> int:
    titles = [
        page.table.sorted.headerData(n, Qt.Orientation.Horizontal)
        for n in range(page.table.sorted.columnCount())
    ]
    return titles.index(title)


def values(page: SchemesPage, column: int, role: int = SORT_ROLE) -> list[object]:
    table = page.table.sorted
    return [table.index(row, column).data(role) for row in range(table.rowCount())]


def click_heading(qtbot: QtBot, page: SchemesPage, column: int) -> None:
    header = page.table.view.horizontalHeader()
    at = QPoint(header.sectionViewportPosition(column) + 10, header.height() // 2)
    qtbot.mouseClick(header.viewport(), LEFT, pos=at)


@pytest.fixture
def table(qtbot: QtBot, page: SchemesPage) -> SchemesPage:
    qtbot.mouseClick(page.bar.views.button("table"), LEFT)
    assert page.table.isVisibleTo(page)
    return page


def test_a_heading_sorts_by_number_and_again_the_other_way(
    qtbot: QtBot, table: SchemesPage
) -> None:
    hours = column_of(table, "Hours")
    assert table.comparison is not None
    known = [entry.handed.minutes for entry in table.comparison.schemes]
    expected = sorted(minutes / 60.0 for minutes in known if minutes is not None)
    assert len(expected) == 3
    table.table.view.scrollTo(table.table.sorted.index(0, hours))
    click_heading(qtbot, table, hours)
    assert values(table, hours) == expected
    click_heading(qtbot, table, hours)
    assert values(table, hours) == expected[::-1]


def test_keys_sort_and_pick(qtbot: QtBot, bridge: Bridge, table: SchemesPage) -> None:
    view = table.table.view
    coats = column_of(table, "Coats")
    view.setFocus()
    view.setCurrentIndex(table.table.sorted.index(0, coats))
    qtbot.keyClick(view, Qt.Key.Key_S)
    rising = values(table, coats)
    assert rising == sorted(rising, key=float)  # type: ignore[arg-type]
    qtbot.keyClick(view, Qt.Key.Key_S)
    assert values(table, coats) == sorted(rising, key=float, reverse=True)  # type: ignore[arg-type]
    last = str(table.table.sorted.index(2, 0).data(ID_ROLE))
    view.setCurrentIndex(table.table.sorted.index(2, coats))
    qtbot.keyClick(view, Qt.Key.Key_Return)
    assert bridge.state.selection.scheme_id == last
    assert table.table.title.text() == bridge.state.project.scheme(last).name
    assert view.currentIndex().row() == 2
    qtbot.keyClick(view, Qt.Key.Key_T)
    assert not table.table.isVisibleTo(table)


def test_a_row_picks_its_scheme_and_spells_its_findings_out(
    qtbot: QtBot, bridge: Bridge, table: SchemesPage
) -> None:
    view = table.table.view
    spot = view.visualRect(table.table.sorted.index(1, 0)).center()
    qtbot.mouseClick(view.viewport(), LEFT, pos=spot)
    picked = bridge.state.project.schemes[1]
    assert bridge.state.selection.scheme_id == picked.id
    assert table.comparison is not None
    found = table.comparison.scheme(picked.id).findings
    told = [sentence.label.text() for sentence in table.table.verdict.sentences]
    assert told == [finding.sentence for finding in found]


def test_a_zone_has_measures_of_its_own(qtbot: QtBot, bridge: Bridge, table: SchemesPage) -> None:
    scope = table.table.scope
    assert [scope.itemData(n) for n in range(scope.count())] == [
        "",
        *(zone.id for zone in bridge.state.project.zones),
    ]
    scope.setFocus()
    qtbot.keyClick(scope, Qt.Key.Key_End)
    assert bridge.state.selection.zone_id == "rim"
    assert not table.choice.whole
    assert table.comparison is not None
    measures = [entry.measures.zone("rim") for entry in table.comparison.schemes]
    assert values(table, column_of(table, "Lightness")) == [zone.lightness for zone in measures]
    assert values(table, column_of(table, "Root to tip"), Qt.ItemDataRole.DisplayRole) == ["–"] * 3
    distance = values(table, column_of(table, "From yardstick"), Qt.ItemDataRole.DisplayRole)
    assert distance[0] == "–"
    qtbot.keyClick(scope, Qt.Key.Key_Home)
    assert table.choice.whole


def test_the_best_of_a_column_is_marked_by_a_sign_and_in_words(table: SchemesPage) -> None:
    hours = column_of(table, "Hours")
    shown = [str(v) for v in values(table, hours, Qt.ItemDataRole.DisplayRole)]
    numbers = [float(str(v)) for v in values(table, hours)]
    best = numbers.index(min(numbers))
    assert [text.startswith("★") for text in shown] == [n == best for n in range(3)]
    spoken = str(table.table.sorted.index(best, hours).data(Qt.ItemDataRole.AccessibleTextRole))
    assert "the best of those shown" in spoken
    hues = column_of(table, "Main hues")
    assert not any("★" in str(v) for v in values(table, hours - 1 if hues == hours else hues, 0))


def test_headings_are_not_cut(table: SchemesPage) -> None:
    header = table.table.view.horizontalHeader()
    letters = header.fontMetrics()
    for n in range(header.count()):
        title = str(table.table.sorted.headerData(n, Qt.Orientation.Horizontal))
        widest = max(letters.horizontalAdvance(word) for word in title.split())
        assert header.sectionSize(n) >= widest
    assert table.table.view.rowHeight(0) > 0


@pytest.fixture
def rules(qtbot: QtBot, page: SchemesPage) -> RulesDialog:
    with qtbot.captureExceptions():
        dialog = RulesDialog(page.bridge, page)
    qtbot.addWidget(dialog)
    return dialog


def test_a_rule_of_thumb_counts_at_once_and_is_kept(
    qtbot: QtBot, bridge: Bridge, page: SchemesPage, rules: RulesDialog, places: Places
) -> None:
    first = bridge.state.project.schemes[0].id
    assert page.comparison is not None
    before = page.comparison.scheme(first).findings
    assert [f for f in before if f.key == "separation" and f.severity != "good"]
    rules.boxes["apart"].setValue(0.0)
    assert bridge.state.preferences.thresholds == Thresholds(apart=0.0)
    qtbot.waitUntil(lambda: page.comparison is not None and not page.measuring.is_busy)
    after = page.comparison.scheme(first).findings
    separations = [f.severity for f in after if f.key == "separation"]
    assert separations == ["good"]
    kept, _ = load_preferences(places.preferences_file)
    assert kept.thresholds == Thresholds(apart=0.0)
    rules.usual.click()
    assert bridge.state.preferences.thresholds == DEFAULTS
    assert rules.boxes["apart"].value() == 20.0
    measured(qtbot, page)


def test_a_rule_that_makes_no_sense_is_refused_in_a_sentence(
    bridge: Bridge, rules: RulesDialog
) -> None:
    rules.boxes["span_low"].setValue(70.0)
    assert bridge.state.preferences.thresholds == DEFAULTS
    assert "Lightness from recess to raised edge" in rules.problem.text()
    assert rules.boxes["span_low"].value() == 30.0
    rules.boxes["hues_high"].setValue(4)
    assert rules.problem.text() == ""
    assert bridge.state.preferences.thresholds == Thresholds(hues_high=4)


@pytest.mark.qt_log_ignore("This plugin does not support")
def test_the_button_opens_the_rules(qtbot: QtBot, page: SchemesPage) -> None:
    page.bar.rules.setFocus()
    qtbot.keyClick(page.bar.rules, Qt.Key.Key_Space)
    assert page.rules is not None
    assert page.rules.isVisible()
    page.rules.reject()


@pytest.mark.parametrize(
    "damage", [{"apart": -4}, {"apart": "far"}, {"hues_low": 1e999}, ["apart"], {"span_low": 99}]
)
def test_damaged_rules_on_disk_are_the_usual_ones(places: Places, damage: object) -> None:
    places.settings.mkdir(parents=True)
    body = {"surround": "dark", "numbers": True, "pointer_dismissed": True, "recent": []}
    places.preferences_file.write_text(json.dumps({**body, "thresholds": damage}))
    kept, _ = load_preferences(places.preferences_file)
    assert kept.numbers
    assert kept.thresholds == DEFAULTS


def test_unknown_rules_on_disk_are_passed_over(places: Places) -> None:
    places.settings.mkdir(parents=True)
    body = {"surround": "dark", "numbers": True, "pointer_dismissed": True, "recent": []}
    rules = {"apart": 12, "hues_low": 1.0, "of another version": 3}
    places.preferences_file.write_text(json.dumps({**body, "thresholds": rules}))
    kept, _ = load_preferences(places.preferences_file)
    assert kept.thresholds == Thresholds(apart=12.0, hues_low=1)


def test_a_comparison_that_cannot_be_made_is_said_in_a_sentence(
    qtbot: QtBot, bridge: Bridge, page: SchemesPage
) -> None:
    project = bridge.state.project
    wrong = Request(project, ("no such scheme",), DEFAULTS)
    with qtbot.waitSignal(bridge.problem) as said:
        page.measuring.ask(wrong)
    assert said.args is not None
    assert "no such scheme" in said.args[0]
    assert page.bar.again.isVisibleTo(page)
    qtbot.mouseClick(page.bar.again, LEFT)
    measured(qtbot, page)


class LongWords(QTranslator):
    """As long as German: a third more, with compounds."""

    def translate(
        self,
        context: bytes | bytearray | memoryview | str,
        text: bytes | bytearray | memoryview | str,
        disambiguation: object = None,
        n: int = -1,
    ) -> str:
        del context, disambiguation, n
        assert isinstance(text, str)
        return f"{text} {'verlängert'[: max(3, len(text) // 3)]}"


def test_words_as_long_as_german_are_not_cut(qtbot: QtBot, places: Places) -> None:
    app = QApplication.instance()
    assert app is not None
    words = LongWords()
    app.installTranslator(words)
    session = Session(demo_project(), places=places)
    bridge = Bridge(session)
    try:
        session.select(page=Page.SCHEMES)
        session.prefer(numbers=True)
        for _ in range(3):
            bridge.edit("copy", lambda p: edits.duplicate_scheme(p, p.schemes[0].id))
        window = MainWindow(bridge)
        window.files.may_leave = lambda: True  # type: ignore[method-assign]
        qtbot.addWidget(window)
        window.resize(1280, 720)
        window.show()
        page = window.page(Page.SCHEMES)
        assert isinstance(page, SchemesPage)
        measured(qtbot, page)
        qtbot.waitUntil(lambda: not cut(page))
        page.bar.views.button("table").click()
        qtbot.waitUntil(lambda: not cut(page))
    finally:
        app.removeTranslator(words)
        bridge.close()
        session.close()


def cut(page: SchemesPage) -> list[str]:
    """Texts of labels and buttons that do not fit in their place."""
    found = []
    for label in page.findChildren(QLabel):
        if label.isVisible() and label.text():
            letters = label.fontMetrics()
            widest = max(letters.horizontalAdvance(word) for word in label.text().split())
            tall = label.heightForWidth(label.width()) if label.wordWrap() else 0
            if label.width() < widest or label.height() < tall:
                found.append(label.text())
    found += [
        button.text()
        for button in page.findChildren(QAbstractButton)
        if button.isVisible() and button.text() and button.width() < button.sizeHint().width()
    ]
    return found
