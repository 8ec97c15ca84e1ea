"""Small widgets of our own: tab order, names that are cut in the drawing only."""

from collections.abc import Iterator

import numpy as np
import pytest
from PySide6.QtCore import QLocale, QSize, Qt
from PySide6.QtGui import QValidator
from PySide6.QtTest import QTest
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

from schemeforge import colorimetry
from schemeforge.desk import Surround
from schemeforge.gui.bridge import Bridge
from schemeforge.gui.reading import reading_of
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


@pytest.fixture(params=["C", "de_DE", "sv_SE"])
def a_locale(request: pytest.FixtureRequest) -> Iterator[str]:
    """Every new widget writes numbers as they are written there."""
    before = QLocale()
    QLocale.setDefault(QLocale(request.param))
    yield request.param
    QLocale.setDefault(before)


def number_box(qtbot: QtBot, **more: float) -> NumberBox:
    limits = {"low": 0.5, "high": 5000.0} | more
    box = NumberBox("film", **limits, step=1, decimals=1, unit="µm")
    qtbot.addWidget(box)
    box.show()
    box.setValue(42)
    return box


def typed(box: NumberBox, text: str) -> float:
    box.selectAll()
    QTest.keyClicks(box, text)
    QTest.keyClick(box, Qt.Key.Key_Return)
    return box.value()


@pytest.mark.usefixtures("a_locale")
@pytest.mark.parametrize(
    ("text", "value"),
    [
        ("12,5", 12.5),
        ("12.5", 12.5),
        (",5", 0.5),
        ("12,", 12.0),
        ("12,5 µm", 12.5),
        (" 7.5  ", 7.5),
        ("1.000", 1.0),
        ("1,26", 1.3),
    ],
)
def test_comma_and_point_are_the_decimal_sign_everywhere(
    qtbot: QtBot, text: str, value: float
) -> None:
    assert typed(number_box(qtbot), text) == value


@pytest.mark.usefixtures("a_locale")
@pytest.mark.parametrize("text", ["1.2.3", "1,000.5", "1.000,5", "1,2,3", ".", "0,1", ""])
def test_what_is_no_number_leaves_the_old_one(qtbot: QtBot, text: str) -> None:
    box = number_box(qtbot)
    assert typed(box, text) == 42
    assert box.text() == "42 µm"


@pytest.mark.usefixtures("a_locale")
@pytest.mark.parametrize("text", ["1 000", "1\u00a0000", "1'000", "1e3", "6000", "-1", "1 mm"])
def test_what_can_never_be_taken_is_not_to_be_typed(qtbot: QtBot, text: str) -> None:
    assert number_box(qtbot).validate(text, 0)[0] is QValidator.State.Invalid


@pytest.mark.usefixtures("a_locale")
def test_a_number_box_reads_what_it_writes(qtbot: QtBot) -> None:
    box = number_box(qtbot, low=-5000.0)
    for value in (1234.5, 1000.0, 0.5, -12.5, -3000.0):
        box.setValue(value)
        assert box.valueFromText(box.text()) == value
    box.setValue(1000)
    QTest.keyClick(box, Qt.Key.Key_Up)
    assert box.value() == 1001
    assert typed(box, "-2,5") == -2.5


def test_words_for_the_least_and_words_before_the_number(qtbot: QtBot) -> None:
    box = number_box(qtbot)
    box.setSpecialValueText("enough")
    box.setPrefix("at ")
    assert typed(box, "12,5") == 12.5
    assert box.text() == "at 12.5 µm"
    box.setValue(0.5)
    assert box.text() == "enough"
    QTest.keyClick(box, Qt.Key.Key_Return)
    assert box.value() == 0.5
    assert box.validate("enough", 0)[0] is QValidator.State.Acceptable
    assert box.valueFromText("enough") == 0.5


def test_a_share_of_a_whole_number_is_rounded_and_never_ten_times_it(qtbot: QtBot) -> None:
    box = NumberBox("models", low=0, high=10000, step=1, decimals=0)
    qtbot.addWidget(box)
    assert typed(box, "12,7") == 13
    assert typed(box, "12.2") == 12


@pytest.mark.usefixtures("a_locale")
@pytest.mark.parametrize(
    ("text", "value"), [("12,5", 12.5), ("12.5", 12.5), ("1.000", 1.0), ("1,000.5", None)]
)
def test_a_number_that_may_be_left_out_is_read_alike(
    qtbot: QtBot, text: str, value: float | None
) -> None:
    box = OptionalNumber("least")
    qtbot.addWidget(box)
    told: list[object] = []
    box.kept.connect(told.append)
    box.refused.connect(lambda refused: told.append(f"refused {refused}"))
    QTest.keyClicks(box, text)
    QTest.keyClick(box, Qt.Key.Key_Return)
    assert told == [f"refused {text}" if value is None else value]
    box.show_value(1234.5, 2000.0)
    assert box.text() in {"1234.5", "1234,5"}
    assert box.placeholderText() == "2000"


def test_numbers_have_no_minus_before_nought() -> None:
    grey = reading_of(colorimetry.xyz_from_lab(np.array([50.0, -0.01, 0.01])))
    assert "a* 0.0  b* 0.0" in grey.text(numbers=True)
