"""Small widgets of our own: tab order, names that are cut in the drawing only."""

import pytest
from PySide6.QtCore import QSize, Qt
from PySide6.QtWidgets import QLineEdit, QPushButton, QSpinBox, QVBoxLayout, QWidget
from pytestqt.qtbot import QtBot

from schemeforge.gui.tab_order import next_in, reading_order
from schemeforge.gui.widgets.name_button import NameButton


def at(parent: QWidget, x: int, y: int, kind: type[QWidget] = QLineEdit) -> QWidget:
    """A child of fixed place."""
    child = kind(parent)
    child.setGeometry(x, y, 50, 20)
    return child


@pytest.fixture
def root(qtbot: QtBot) -> QWidget:
    made = QWidget()
    qtbot.addWidget(made)
    made.resize(400, 300)
    return made


def test_rows_from_the_top_each_from_the_left(root: QWidget) -> None:
    low = at(root, 0, 100)
    right = at(root, 200, 4)
    left = at(root, 0, 0)
    root.show()
    assert reading_order(root) == [left, right, low]
    assert next_in(reading_order(root), left, forward=True) is right
    assert next_in(reading_order(root), left, forward=False) is low
    assert next_in(reading_order(root), root, forward=True) is None
    assert next_in([], left, forward=True) is None


def test_a_container_is_walked_whole_before_what_stands_beside_it(root: QWidget) -> None:
    holder = QWidget(root)
    holder.setGeometry(0, 0, 100, 200)
    upper, lower = at(holder, 0, 0), at(holder, 0, 150)
    beside = at(root, 150, 90)
    root.show()
    assert reading_order(root) == [upper, lower, beside]


def test_what_takes_no_tab_is_left_out(root: QWidget) -> None:
    taken = at(root, 0, 0)
    at(root, 0, 30).setEnabled(False)
    at(root, 0, 60).hide()
    at(root, 0, 90).setFocusPolicy(Qt.FocusPolicy.ClickFocus)
    at(root, 0, 120).setFocusProxy(taken)
    spin = at(root, 0, 200, QSpinBox)
    root.show()
    assert reading_order(root) == [taken, spin]  # its inner line is the spin box's own


def test_a_long_name_takes_no_room_and_is_drawn_cut(qtbot: QtBot) -> None:
    holder = QWidget()
    qtbot.addWidget(holder)
    column = QVBoxLayout(holder)
    long, short = NameButton(), NameButton()
    long.setText("a name that goes on and on without an end in sight")
    short.setText("a name")
    column.addWidget(long)
    column.addWidget(short)
    holder.setFixedWidth(140)
    holder.show()
    qtbot.waitExposed(holder)
    assert long.width() == short.width() < 140
    plain = QPushButton(long.text())
    assert plain.sizeHint().width() > 140
    drawn = {button: button.grab().toImage() for button in (long, short)}
    assert drawn[long].size() == drawn[short].size() != QSize()
    assert drawn[long] != drawn[short]
