"""Small widgets of our own: tab order, names that are cut in the drawing only."""

import pytest
from PySide6.QtCore import QSize, Qt
from PySide6.QtWidgets import (
    QApplication,
    QComboBox,
    QLineEdit,
    QPushButton,
    QSpinBox,
    QVBoxLayout,
    QWidget,
)
from pytestqt.qtbot import QtBot

from schemeforge.desk import Surround
from schemeforge.gui.bridge import Bridge
from schemeforge.gui.tab_order import next_in, reading_order
from schemeforge.gui.theme import apply_theme, theme_of
from schemeforge.gui.widgets.field import Field, NumberBox
from schemeforge.gui.widgets.flow import Flow
from schemeforge.gui.widgets.name_button import NameButton
from schemeforge.gui.widgets.note_box import OptionalNumber
from schemeforge.gui.widgets.segments import Segments


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


def test_captions_of_all_controls_stand_level(qtbot: QtBot, bridge: Bridge) -> None:
    app = QApplication.instance()
    assert isinstance(app, QApplication)
    apply_theme(app, bridge.state.preferences.surround)
    box = QComboBox()
    box.addItem("one")
    controls: tuple[QWidget, ...] = (
        QLineEdit(),
        box,
        QSpinBox(),
        NumberBox("n", low=0, high=1, step=1, decimals=0),
        OptionalNumber("o"),
        Segments("s", [("a", "A", "")]),
    )
    flow = Flow()
    qtbot.addWidget(flow)
    fields = [Field("caption", control) for control in controls]
    for field in fields:
        flow.add(field)
    flow.resize(1400, 80)
    flow.show()
    qtbot.waitExposed(flow)
    assert {field.y() + field.caption.y() for field in fields} == {fields[0].y()}
    line = controls[0]
    before = line.sizeHint()
    flow.activateWindow()
    line.setFocus()
    qtbot.waitUntil(line.hasFocus)
    assert line.sizeHint() == before


@pytest.mark.parametrize("surround", list(Surround))
def test_a_pressed_choice_shows_its_focus_and_can_be_read_while_disabled(
    qtbot: QtBot, bridge: Bridge, surround: Surround
) -> None:
    app = QApplication.instance()
    assert isinstance(app, QApplication)
    apply_theme(app, surround)
    theme = theme_of(surround)
    holder = QWidget()
    qtbot.addWidget(holder)
    row = QVBoxLayout(holder)
    segments = Segments("s", [("a", "AAAA", ""), ("b", "B", "")])
    row.addWidget(segments)
    row.addWidget(QLineEdit())
    segments.set_value("a")
    holder.show()
    qtbot.waitExposed(holder)
    pressed = segments.button("a")

    def colours() -> set[str]:
        image = pressed.grab().toImage()
        edge = [image.pixelColor(x, 1).name() for x in range(8, image.width() - 8)]
        return set(edge)

    pressed.clearFocus()
    assert colours() == {theme.accent}
    holder.activateWindow()
    pressed.setFocus()
    qtbot.waitUntil(pressed.hasFocus)
    assert colours() == {theme.on_accent}
    segments.setEnabled(False)
    image = pressed.grab().toImage()
    middle = image.height() // 2
    inks = {
        image.pixelColor(x, y).name()
        for x in range(4, image.width() - 4)
        for y in range(middle - 5, middle + 5)
    }
    assert theme.accent not in inks
    assert theme.well in inks
    apply_theme(app, bridge.state.preferences.surround)


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
