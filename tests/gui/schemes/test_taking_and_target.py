"""Which scheme to take, how schemes read from afar, and a target set through the dialog."""

from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest
from PIL import Image
from PySide6.QtCore import Qt
from pytestqt.qtbot import QtBot

from schemeforge.comparison import taking
from schemeforge.desk import Places, Surround
from schemeforge.desk.preferences import load_preferences
from schemeforge.desk.targets import target_of
from schemeforge.errors import InputError
from schemeforge.gui.bridge import Bridge
from schemeforge.gui.schemes.page import SchemesPage
from schemeforge.gui.schemes.target_dialog import TargetDialog, typed_palette
from schemeforge.gui.theme import theme_of
from tests.gui.schemes.waiting import measured

LEFT = Qt.MouseButton.LeftButton


@pytest.fixture
def dialog(qtbot: QtBot, page: SchemesPage) -> TargetDialog:
    made = TargetDialog(page.bridge, page)
    qtbot.addWidget(made)
    return made


def has_target(page: SchemesPage) -> bool:
    found = page.comparison
    return found is not None and all(entry.agreement is not None for entry in found.schemes)


def is_read(page: SchemesPage) -> bool:
    found = page.comparison
    return found is not None and all(e.handed.at_one_metre for e in found.schemes)


def test_what_to_take_is_not_said_before_all_is_known(qtbot: QtBot, page: SchemesPage) -> None:
    qtbot.mouseClick(page.bar.views.button("table"), LEFT)
    qtbot.waitUntil(lambda: is_read(page))
    assert page.comparison is not None
    unread = tuple(
        replace(entry, handed=replace(entry.handed, at_one_metre=None))
        for entry in page.comparison.schemes
    )
    line = page.table.taking
    line.show_comparison(replace(page.comparison, schemes=unread), theme_of(Surround.GREY))
    assert line.isVisibleTo(page)
    assert line.headline.isHidden()
    assert "once all are read" in line.accessibleDescription()


def test_the_scheme_to_take_is_said_over_the_table_and_marked(
    qtbot: QtBot, page: SchemesPage
) -> None:
    qtbot.mouseClick(page.bar.views.button("table"), LEFT)
    qtbot.waitUntil(lambda: is_read(page))
    assert page.comparison is not None
    take = taking(page.comparison)
    assert take is not None
    line = page.table.taking
    assert line.isVisibleTo(page)
    assert line.headline.text() == take.headline.sentence
    assert line.why.text() == take.why.sentence
    assert line.headline.text() in line.accessibleDescription()
    names = [str(page.table.model.index(row, 0).data()) for row in range(3)]
    marked = [scheme.id for scheme, name in zip(page.shown, names, strict=True) if "take" in name]
    assert marked == [take.scheme_id]
    qtbot.mouseClick(page.bar.views.button("side"), LEFT)
    shown = {key for key, column in page.board.columns.items() if not column.head.take.isHidden()}
    assert shown == {take.scheme_id}


def test_one_scheme_alone_is_no_choice(qtbot: QtBot, page: SchemesPage) -> None:
    qtbot.mouseClick(page.bar.views.button("table"), LEFT)
    for name in [scheme.name for scheme in page.shown[1:]]:
        next(action for action in page.bar.menu.actions() if action.text() == name).trigger()
    measured(qtbot, page)
    assert not page.table.taking.isVisibleTo(page)


def test_schemes_are_read_from_one_metre_once_the_stand_in_is_there(
    qtbot: QtBot, page: SchemesPage
) -> None:
    qtbot.waitUntil(lambda: is_read(page))
    assert page.comparison is not None
    for entry in page.comparison.schemes:
        assert [f for f in entry.findings if f.key == "legibility"]
        pairs = {p.zone_ids for p in entry.measures.pairs} | {
            p.zone_ids[::-1] for p in entry.measures.pairs
        }
        assert {p.zone_ids for p in entry.handed.at_one_metre or ()} <= pairs


def test_typed_colours_become_the_target_and_are_kept(
    qtbot: QtBot, bridge: Bridge, page: SchemesPage, dialog: TargetDialog, places: Places
) -> None:
    dialog.typed.setText("#8a5a3c; 52, 12, -30")
    dialog.typed.setFocus()
    qtbot.keyClick(dialog.typed, Qt.Key.Key_Return)
    project_id = bridge.state.project.id
    target = target_of(bridge.state.preferences.targets, project_id)
    assert target is not None
    assert target.colours[1].lab == (52.0, 12.0, -30.0)
    assert [row.words.text() for row in dialog.rows] == ["brown", "violet"]
    qtbot.waitUntil(lambda: has_target(page))
    kept, _ = load_preferences(places.preferences_file)
    assert target_of(kept.targets, project_id) == target
    qtbot.mouseClick(dialog.rows[0].drop, LEFT)
    left = target_of(bridge.state.preferences.targets, project_id)
    assert left is not None
    assert [colour.lab for colour in left.colours] == [(52.0, 12.0, -30.0)]
    assert left.colours[0].share == 1.0
    qtbot.mouseClick(dialog.none, LEFT)
    assert target_of(bridge.state.preferences.targets, project_id) is None
    assert dialog.rows == []
    qtbot.waitUntil(lambda: page.comparison is not None and not has_target(page))


def test_a_picture_becomes_the_target_with_its_shares(
    qtbot: QtBot, bridge: Bridge, page: SchemesPage, dialog: TargetDialog, tmp_path: Path
) -> None:
    codes = np.zeros((60, 90, 3), np.uint8)
    codes[:, :60], codes[:, 60:] = (138, 90, 60), (32, 128, 138)
    file = tmp_path / "banner.png"
    Image.fromarray(codes).save(file)
    dialog.backdrop.setChecked(False)
    dialog.load(file)
    qtbot.waitUntil(lambda: has_target(page))
    target = target_of(bridge.state.preferences.targets, bridge.state.project.id)
    assert target is not None
    assert target.name == "banner.png"
    assert [round(colour.share, 2) for colour in target.colours] == [0.67, 0.33]
    assert dialog.rows[0].words.text() == "brown, 67 %"
    qtbot.mouseClick(page.bar.views.button("table"), LEFT)
    titles = [
        str(page.table.model.headerData(n, Qt.Orientation.Horizontal))
        for n in range(page.table.model.columnCount())
    ]
    assert "From target" in titles


def test_what_is_no_picture_or_no_colour_is_said_in_a_sentence(
    qtbot: QtBot, bridge: Bridge, dialog: TargetDialog, tmp_path: Path
) -> None:
    file = tmp_path / "words.png"
    file.write_bytes(b"no picture at all")
    dialog.load(file)
    qtbot.waitUntil(lambda: "not a JPEG, PNG or TIFF" in dialog.problem.text())
    dialog.typed.setText("rust")
    qtbot.mouseClick(dialog.use, LEFT)
    assert '"rust" is not a colour' in dialog.problem.text()
    assert bridge.state.preferences.targets == ()


@pytest.mark.parametrize(
    ("text", "number"),
    [
        ("#8a5a3c", 1),
        ("#8a5a3c #102030", 2),
        ("#8a5a3c, #102030; #ffffff", 3),
        ("52 12 -30", 1),
        ("52, 12, -30; 60, 0, 0;", 2),
        ("#8a5a3c\n52, 12, -30", 2),
    ],
)
def test_typed_colours_are_told_apart(text: str, number: int) -> None:
    assert len(typed_palette(text, "mine").colours) == number


@pytest.mark.parametrize("text", ["", ";;", "rust", "#12345", "1, 2"])
def test_what_is_no_colour_is_refused(text: str) -> None:
    with pytest.raises(InputError):
        typed_palette(text, "mine")


def test_the_button_opens_the_dialog(qtbot: QtBot, page: SchemesPage) -> None:
    qtbot.mouseClick(page.bar.target, LEFT)
    assert page.target is not None
    assert page.target.isVisible()
    page.target.reject()
