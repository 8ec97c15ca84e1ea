"""The notice line: one sentence at a time, nothing lost beneath it."""

from collections.abc import Iterator

import pytest
from PySide6.QtCore import Qt, QTimer
from PySide6.QtWidgets import QApplication, QLineEdit, QVBoxLayout, QWidget
from pytestqt.qtbot import QtBot

from schemeforge.gui.widgets.notice import NoticeLine, Offer


@pytest.fixture
def around(qtbot: QtBot) -> Iterator[QWidget]:
    """A window with a field below the line."""
    whole = QWidget()
    qtbot.addWidget(whole)
    column = QVBoxLayout(whole)
    column.addWidget(NoticeLine())
    column.addWidget(QLineEdit())
    whole.show()
    qtbot.waitExposed(whole)
    yield whole
    assert not [t for t in whole.findChildren(QTimer) if t.isActive() and t.interval() < 1000]


@pytest.fixture
def line(around: QWidget) -> NoticeLine:
    found = around.findChild(NoticeLine)
    assert found is not None
    return found


def test_hidden_until_there_is_something_to_say(line: NoticeLine) -> None:
    assert line.isHidden()
    assert line.text == ""
    line.dismiss()
    assert line.isHidden()


def test_a_problem_stays_until_dismissed_and_is_marked_by_word_and_colour(
    qtbot: QtBot, line: NoticeLine
) -> None:
    line.show_note("Saved.")
    line.show_problem("The <b>file</b> is read-only.")
    assert line.text == "Not done: The <b>file</b> is read-only."
    assert line.accessibleName() == line.text
    assert not line._fade.isActive()
    assert line._label.property("role") == "caution"
    assert line._label.textFormat() is Qt.TextFormat.PlainText
    qtbot.mouseClick(line.buttons[-1], Qt.MouseButton.LeftButton)
    assert line.isHidden()


def test_a_note_goes_by_itself(qtbot: QtBot, line: NoticeLine) -> None:
    line._fade.setInterval(1)
    line.show_note("Saved.")
    assert line.text == "Saved."
    assert line._label.property("role") == ""
    qtbot.waitUntil(line.isHidden)


def test_offers_stand_beneath_and_come_one_after_the_other(qtbot: QtBot, line: NoticeLine) -> None:
    done: list[str] = []
    first = Offer(
        sentence="First?",
        answers=(("Do it", lambda: done.append("do")), ("Drop it", lambda: done.append("drop"))),
    )
    second = Offer(sentence="Second?", dismissed=lambda: done.append("dismissed"))
    line.offer(first)
    line.offer(second)
    line.offer(first)
    assert line.text == "First?"
    assert [button.text() for button in line.buttons] == ["Do it", "Drop it", "Dismiss"]
    line.show_problem("No.")
    assert [button.text() for button in line.buttons] == ["Dismiss"]
    line.dismiss()
    assert line.text == "First?"
    qtbot.mouseClick(line.buttons[1], Qt.MouseButton.LeftButton)
    assert done == ["drop"]
    assert line.text == "Second?"
    line.dismiss()
    assert done == ["drop", "dismissed"]
    assert line.isHidden()


def test_an_answer_may_offer_again(qtbot: QtBot, line: NoticeLine) -> None:
    again = Offer(sentence="Again?")
    line.offer(Offer(sentence="Now?", answers=(("Later", lambda: line.offer(again)),)))
    qtbot.mouseClick(line.buttons[0], Qt.MouseButton.LeftButton)
    assert line.text == "Again?"


def test_the_focus_is_not_lost_with_the_line(
    qtbot: QtBot, line: NoticeLine, around: QWidget
) -> None:
    line.show_problem("No.")
    line.buttons[-1].setFocus()
    qtbot.keyClick(line.buttons[-1], Qt.Key.Key_A)  # any other key is nothing to it
    assert not line.isHidden()
    qtbot.keyClick(line.buttons[-1], Qt.Key.Key_Escape)
    assert line.isHidden()
    field = around.findChild(QLineEdit)
    assert field is not None
    assert field.hasFocus()


def test_where_nothing_else_takes_the_focus_it_just_goes(qtbot: QtBot) -> None:
    line = NoticeLine()
    qtbot.addWidget(line)
    line.show_problem("No.")
    qtbot.waitExposed(line)
    line.buttons[-1].setFocus()
    line.dismiss()
    assert line.isHidden()


def test_nothing_moves_while_a_button_is_held(
    qtbot: QtBot, line: NoticeLine, monkeypatch: pytest.MonkeyPatch
) -> None:
    held = Qt.MouseButton.LeftButton
    monkeypatch.setattr(QApplication, "mouseButtons", lambda: held)
    line.show_note("This pot is shared.")
    assert line.isHidden()
    monkeypatch.setattr(QApplication, "mouseButtons", lambda: Qt.MouseButton.NoButton)
    qtbot.waitUntil(lambda: line.text == "This pot is shared.")
    line.dismiss()
