"""Paints from instruments' files, through the window."""

from collections.abc import Callable
from pathlib import Path

import numpy as np
import pytest
from PySide6.QtCore import QPoint, QRect, Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QWidget
from pytestqt.qtbot import QtBot

from schemeforge.calibration import BLACK, WHITE
from schemeforge.errors import InputError
from schemeforge.gui.adding import samples
from schemeforge.gui.adding.readings_view import ReadingsView
from schemeforge.gui.adding.view import AddingView
from schemeforge.gui.adding.ways import Way
from schemeforge.gui.bridge import Bridge
from schemeforge.measurement import Geometry, Scale
from schemeforge.paint import Basis
from tests.builders import small_paints
from tests.calibration.swatches import FILM_UM, errors, red, reflectance
from tests.gui.adding.driving import fitted, gone, hinted, shelf

LEFT = Qt.MouseButton.LeftButton
NM = np.arange(380, 731, 10)
COLUMNS = {
    "Reed red over black": reflectance(red(), FILM_UM, BLACK),
    "Reed red over white": reflectance(red(), FILM_UM, WHITE),
    "bare black card": np.array(BLACK),
    "bare white card": np.array(WHITE),
}


def table(
    path: Path,
    *,
    times: float = 100.0,
    first: int = 380,
    last: int = 730,
    names: tuple[str, ...] = tuple(COLUMNS),
    change: Callable[[list[str]], list[str]] = lambda lines: lines,
) -> Path:
    """A table as an instrument of the continent writes it: semicolons, decimal commas."""
    lines = [";".join(["nm", *names])]
    for place, nm in enumerate(NM):
        if first <= nm <= last:
            cells = [f"{times * values[place]:.5f}" for values in COLUMNS.values()]
            lines.append(";".join([str(nm), *cells]).replace(".", ","))
    path.write_text("\n".join(change(lines)), encoding="utf-8")
    return path


@pytest.fixture
def way(view: AddingView) -> ReadingsView:
    return gone(view, Way.READINGS, ReadingsView)


def read(qtbot: QtBot, way: ReadingsView, *paths: Path) -> None:
    way.read(paths)
    qtbot.waitUntil(way.waiting.isHidden, timeout=20_000)


def confirm(way: ReadingsView, scale: Scale, geometry: Geometry) -> None:
    for row in way.scales:
        QTest.mouseClick(row.button(scale.name), LEFT)
    QTest.mouseClick(way.surface_of.button(geometry.name), LEFT)


def test_a_file_becomes_a_paint_once_its_questions_are_answered(
    qtbot: QtBot, way: ReadingsView, bridge: Bridge, tmp_path: Path
) -> None:
    read(qtbot, way, table(tmp_path / "card.csv"))
    model = way.table.samples
    assert (model.rowCount(), model.columnCount()) == (4, 36)
    assert model.headerData(0, Qt.Orientation.Vertical) == "Reed red over black"
    assert model.headerData(0, Qt.Orientation.Horizontal) == "380 nm"
    assert model.data(model.index(2, 0)) == "5.5"
    assert {role: choice.value for role, choice in way.roles.items()} == {
        "over dark": "Reed red over black",
        "over light": "Reed red over white",
        "dark": "bare black card",
        "light": "bare white card",
    }
    hinted(qtbot, way.review, "Confirm above what the numbers of the file count")
    assert way.scales[0].value == ""
    QTest.mouseClick(way.scales[0].button("PER_CENT"), LEFT)
    hinted(qtbot, way.review, "how the instrument took the surface's own gloss")
    QTest.mouseClick(way.surface_of.button("INCLUDED"), LEFT)
    fitted(qtbot, way.review)
    (result,) = way.review.results
    assert np.median(errors(result.outcome, red())) < 0.5
    assert way.reach.text() == "Every band was read."
    assert way.review.fit_plot.isVisible()
    assert "missed by" in way.review.fit_plot.accessibleDescription()
    QTest.mouseClick(way.review.put, LEFT)
    added = shelf(bridge)[-1]
    assert (added.name, added.basis) == ("Reed red", Basis.MEASURED)
    bridge.session.undo()
    assert shelf(bridge) == small_paints()


def test_ends_that_were_not_read_are_carried_on_and_marked_less_sure(
    qtbot: QtBot, way: ReadingsView, bridge: Bridge, tmp_path: Path
) -> None:
    read(qtbot, way, table(tmp_path / "card.csv", first=400, last=700))
    assert "read from 400 to 700 nm" in way.told.text()
    confirm(way, Scale.PER_CENT, Geometry.INCLUDED)
    fitted(qtbot, way.review)
    assert "did not reach 380, 390, 710, 720, 730 nm" in way.reach.text()
    result = way.review.results[0]
    assert {380, 390, 710, 720, 730} <= set(result.outcome.flagged_nm)
    errors_of = result.outcome.fit.errors[:36]
    assert errors_of[0] > 1.5 * errors_of[5]
    way.review.fit_plot.setFocus()
    qtbot.keyClick(way.review.fit_plot, Qt.Key.Key_Home)
    assert "380 nm: over dark read" in way.review.fit_plot.accessibleDescription()
    assert "carried on from the last band read" in way.review.fit_plot.accessibleDescription()
    QTest.mouseClick(way.review.put, LEFT)
    assert {380, 730} <= set(shelf(bridge)[-1].flagged_bands_nm)


def test_the_gloss_of_the_instrument_makes_another_paint(
    qtbot: QtBot, way: ReadingsView, tmp_path: Path
) -> None:
    read(qtbot, way, table(tmp_path / "card.csv"))
    confirm(way, Scale.PER_CENT, Geometry.INCLUDED)
    fitted(qtbot, way.review)
    included = way.review.results[0]
    QTest.mouseClick(way.surface_of.button("EXCLUDED"), LEFT)
    qtbot.waitUntil(lambda: bool(way.review.results) and way.review.results[0] is not included)
    assert way.review.results[0].paint.scattering != included.paint.scattering


def test_what_the_file_says_of_gloss_is_told_and_still_asked(
    qtbot: QtBot, way: ReadingsView, tmp_path: Path
) -> None:
    path = table(tmp_path / "card.csv", change=lambda lines: ["Geometry: di:8", *lines])
    read(qtbot, way, path)
    assert way.geometry_told.text() == "The file says: specular included. Confirm, or correct it."
    assert way.surface_of.value == ""


def test_four_files_of_one_reading_each(qtbot: QtBot, way: ReadingsView, tmp_path: Path) -> None:
    paths = []
    for place, (name, values) in enumerate(COLUMNS.items()):
        path = tmp_path / f"{place}.csv"
        rows = [f"{nm},{v:.5f}" for nm, v in zip(NM, values, strict=True)]
        path.write_text("\n".join([f"nm,{name}", *rows]), encoding="utf-8")
        paths.append(path)
    read(qtbot, way, *paths)
    assert len(way.scales) == 4
    confirm(way, Scale.FRACTION, Geometry.INCLUDED)
    fitted(qtbot, way.review)
    assert np.median(errors(way.review.results[0].outcome, red())) < 0.5


def test_one_sample_for_two_things_is_refused(
    qtbot: QtBot, way: ReadingsView, tmp_path: Path
) -> None:
    read(qtbot, way, table(tmp_path / "card.csv"))
    confirm(way, Scale.PER_CENT, Geometry.INCLUDED)
    fitted(qtbot, way.review)
    choice = way.roles["dark"]
    choice.pick("bare white card")
    choice.activated.emit(choice.currentIndex())
    hinted(qtbot, way.review, "One sample is given for two things")


def without_nm(*gone: int) -> Callable[[list[str]], list[str]]:
    heads = tuple(str(nm) for nm in gone)
    return lambda lines: [line for line in lines if not line.startswith(heads)]


def negative(lines: list[str]) -> list[str]:
    return [line.replace(";", ";-", 1) if line.startswith("5") else line for line in lines]


@pytest.mark.parametrize(
    ("change", "times", "scale", "words"),
    [
        (without_nm(510, 520, 530), 100.0, Scale.PER_CENT, "Bands are missing between 500 and"),
        (negative, 100.0, Scale.PER_CENT, "is negative; calibrate the instrument's black"),
        (lambda lines: lines, 100.0, Scale.FRACTION, "is more than a surface gives back"),
    ],
    ids=["missing bands", "negative", "wrong unit chosen"],
)
def test_readings_that_cannot_be_are_refused_in_one_sentence(
    qtbot: QtBot,
    way: ReadingsView,
    bridge: Bridge,
    tmp_path: Path,
    change: Callable[[list[str]], list[str]],
    times: float,
    scale: Scale,
    words: str,
) -> None:
    read(qtbot, way, table(tmp_path / "card.csv", times=times, change=change))
    confirm(way, scale, Geometry.INCLUDED)
    hinted(qtbot, way.review, words)
    said = way.review.hint.text()
    assert said.startswith("card.csv: sample ")
    assert said.count("\n") == 0
    assert shelf(bridge) == small_paints()
    assert not way.review.put.isVisible()


def noise(path: Path) -> Path:
    path.write_bytes(np.random.default_rng(1).bytes(5000))
    return path


@pytest.mark.parametrize(
    ("make", "words"),
    [
        (lambda p: table(p, names=("a", "b", "b", "c")), 'Two samples have the name "b"'),
        (lambda p: table(p, times=9000.0), "neither a fraction nor per cent"),
        (noise, "This is not a text file of readings"),
        (lambda p: p, "The file cannot be opened"),
    ],
    ids=["twins", "wrong units", "binary noise", "no file"],
)
def test_files_that_cannot_be_read_leave_everything_as_it_was(
    qtbot: QtBot,
    way: ReadingsView,
    bridge: Bridge,
    tmp_path: Path,
    make: Callable[[Path], Path],
    words: str,
) -> None:
    read(qtbot, way, table(tmp_path / "good.csv"))
    before = way.found
    read(qtbot, way, make(tmp_path / "bad.csv"))
    assert way.refusal.isVisible()
    assert words in way.refusal.text()
    assert "bad.csv" in way.refusal.text()
    assert way.refusal.text().count("\n") == 0
    assert way.found is before
    assert shelf(bridge) == small_paints()
    read(qtbot, way, table(tmp_path / "good.csv"))
    assert not way.refusal.isVisible()


# Which is which, without a window


def test_roles_are_guessed_from_names_only_where_they_are_clear(tmp_path: Path) -> None:
    found = samples.loaded([table(tmp_path / "a.csv")])
    assert len(samples.likely_roles(found)) == 4
    vague = samples.loaded([table(tmp_path / "b.csv", names=("1", "2", "over white", "on white"))])
    assert samples.likely_roles(vague) == {}


def test_a_name_that_two_files_share_is_told_apart(tmp_path: Path) -> None:
    one, other = table(tmp_path / "a.csv"), table(tmp_path / "b.csv")
    found = samples.loaded([one, other])
    assert len({sample.label for sample in found.samples}) == 8
    assert found.sample("bare black card (b.csv)").file == 1
    with pytest.raises(InputError, match="choose each file once"):
        samples.loaded([one, one, one])


def test_a_geometry_counts_where_files_agree(tmp_path: Path) -> None:
    def told(name: str, words: str) -> Path:
        return table(tmp_path / name, change=lambda lines: [words, *lines])

    one, same, other = told("a", "SCI"), told("b", "SCI"), told("c", "45:0")
    assert samples.loaded([one, same]).geometry is Geometry.INCLUDED
    assert samples.loaded([one, other]).geometry is None


# Told at once, and where it is seen


def in_view(way: ReadingsView, widget: QWidget) -> bool:
    """Whether all of it lies in the part of the column that is seen."""
    view = way.area.viewport()
    box = QRect(widget.mapTo(view, QPoint(0, 0)), widget.size())
    return widget.isVisible() and view.rect().contains(box)


def test_the_way_begins_with_what_to_do(way: ReadingsView) -> None:
    assert way.review.hint.text() == "Choose the instrument's file, and the paint appears here."


@pytest.mark.parametrize(
    ("change", "fault"),
    [
        (
            without_nm(510, 520, 530),
            ", ".join(f'"{name}"' for name in COLUMNS)
            + ": Bands are missing between 500 and 540 nm; export every band",
        ),
        (negative, '"Reed red over black": The value at 500 nm, -'),
    ],
    ids=["missing bands", "negative"],
)
def test_readings_that_will_be_refused_are_told_beside_the_table(
    qtbot: QtBot,
    way: ReadingsView,
    tmp_path: Path,
    change: Callable[[list[str]], list[str]],
    fault: str,
) -> None:
    read(qtbot, way, table(tmp_path / "card.csv", change=change))
    assert way.told.text() == (
        "card.csv: 4 samples from 380 to 730 nm, of which not all can be used:"
    )
    assert way.faults.text().startswith(f"!  {fault}")
    assert way.faults.isVisible()
    read(qtbot, way, table(tmp_path / "good.csv"))
    assert way.told.text() == "good.csv: 4 samples, all read from 380 to 730 nm"
    assert not way.faults.isVisible()


def test_only_what_is_certain_is_told_of_a_file_in_a_doubtful_scale(
    qtbot: QtBot, way: ReadingsView, tmp_path: Path
) -> None:
    read(qtbot, way, table(tmp_path / "card.csv", times=1.6))
    assert "all read from" in way.told.text()
    assert not way.faults.isVisible()


def test_the_first_result_and_a_refusal_come_into_view(
    qtbot: QtBot, way: ReadingsView, tmp_path: Path
) -> None:
    read(qtbot, way, table(tmp_path / "card.csv"))
    way.window().resize(1024, 640)
    bar = way.area.verticalScrollBar()
    assert bar.value() == 0
    confirm(way, Scale.PER_CENT, Geometry.INCLUDED)
    fitted(qtbot, way.review)
    qtbot.waitUntil(lambda: in_view(way, way.review.heading), timeout=5_000)
    qtbot.waitUntil(lambda: in_view(way, way.review.strips[0]), timeout=5_000)
    bar.setValue(0)
    QTest.mouseClick(way.scales[0].button("FRACTION"), LEFT)
    hinted(qtbot, way.review, "is more than a surface gives back")
    qtbot.waitUntil(lambda: in_view(way, way.review.hint), timeout=5_000)


def test_another_result_leaves_the_column_where_it_is(
    qtbot: QtBot, way: ReadingsView, tmp_path: Path
) -> None:
    read(qtbot, way, table(tmp_path / "card.csv"))
    confirm(way, Scale.PER_CENT, Geometry.INCLUDED)
    fitted(qtbot, way.review)
    qtbot.waitUntil(lambda: not way.revealer.isActive())
    way.area.verticalScrollBar().setValue(0)
    first = way.review.results
    QTest.mouseClick(way.surface_of.button("EXCLUDED"), LEFT)
    qtbot.waitUntil(lambda: bool(way.review.results) and way.review.results is not first)
    assert not way.revealer.isActive()
    assert way.area.verticalScrollBar().value() == 0


def test_a_field_that_is_typed_into_stays_in_view(
    qtbot: QtBot, way: ReadingsView, tmp_path: Path
) -> None:
    read(qtbot, way, table(tmp_path / "card.csv"))
    way.window().resize(1024, 640)
    way.film.setFocus()
    way.revealer.reveal(way.choose)
    qtbot.waitUntil(lambda: not way.revealer.isActive())
    assert in_view(way, way.film)


def test_refusals_name_the_file_and_its_folder_on_request(
    qtbot: QtBot, way: ReadingsView, tmp_path: Path
) -> None:
    read(qtbot, way, noise(tmp_path / "bad.csv"))
    assert way.refusal.text().startswith("bad.csv: ")
    assert way.refusal.toolTip() == str(tmp_path / "bad.csv")


# What the paint is called


@pytest.mark.parametrize(
    ("one", "other", "name"),
    [
        ("Reed red over black", "Reed red over white", "Reed red"),
        ("film black", "film white", "film"),
        ("Reed-1", "Reed-2", "Reed"),
        ("moss_K", "moss_W", "moss"),
        ("R1", "R2", ""),
        ("black", "blue", ""),
        ("1", "2", ""),
    ],
)
def test_two_readings_of_a_film_have_a_name_in_common_or_none(
    one: str, other: str, name: str
) -> None:
    assert samples.common_name(one, other) == name


@pytest.mark.parametrize(
    ("names", "called"),
    [
        (("film black", "film white", "bare black", "bare white"), "film"),
        (("A black", "B white", "bare black", "bare white"), "moss card"),
    ],
)
def test_a_paint_is_called_what_both_readings_are_else_what_the_file_is(
    qtbot: QtBot, way: ReadingsView, tmp_path: Path, names: tuple[str, ...], called: str
) -> None:
    read(qtbot, way, table(tmp_path / "moss card.csv", names=names))
    confirm(way, Scale.PER_CENT, Geometry.INCLUDED)
    fitted(qtbot, way.review)
    assert way.review.name.text() == called


def test_the_boxes_are_as_wide_as_the_names_of_the_samples(
    qtbot: QtBot, way: ReadingsView, tmp_path: Path
) -> None:
    read(qtbot, way, table(tmp_path / "a.csv", names=("a", "b", "c", "d")))
    narrow = way.roles["dark"].width()
    read(qtbot, way, table(tmp_path / "card.csv"))
    wide = way.fontMetrics().horizontalAdvance("Reed red over black")
    qtbot.waitUntil(lambda: way.roles["dark"].width() > max(narrow, wide))
