"""Taking the sheet along: files written and read back, printing, progress, stopping, refusals."""

import csv
import io
import os
from collections.abc import Callable
from pathlib import Path

import numpy as np
import pytest
from PIL import Image
from PySide6.QtCore import QMimeData, QPoint, QPointF, Qt, QUrl
from PySide6.QtGui import QDropEvent, QPageSize
from PySide6.QtPrintSupport import QPrintDialog, QPrinter
from PySide6.QtWidgets import QFileDialog, QMessageBox
from pytestqt.qtbot import QtBot

from schemeforge import colorimetry
from schemeforge.export.options import Section
from schemeforge.export.page import Picture
from schemeforge.export.png import image_of
from schemeforge.export.recipe_strip import read_strip
from schemeforge.gui.bridge import Bridge
from schemeforge.gui.file_names import plain_name
from schemeforge.gui.main_window import MainWindow
from schemeforge.gui.sheet.page import SheetPage
from schemeforge.scheme import edits
from tests.export.reading import metadata, sizes_mm, text_of
from tests.gui.sheet.desk_tools import PATIENCE_MS, anew, held_back, laid_out, tick

LEFT = Qt.MouseButton.LeftButton
Answer = Callable[[str], list[str]]


def told(page: SheetPage) -> str:
    window = page.window()
    assert isinstance(window, MainWindow)
    return window.notice.text


@pytest.fixture
def answer(monkeypatch: pytest.MonkeyPatch) -> Answer:
    """Makes the file dialog answer with a name; gives the names that it was offered."""

    def choose(name: str) -> list[str]:
        offered: list[str] = []

        def dialog(_parent: object, _title: str, start: str, _filter: str) -> tuple[str, str]:
            offered.append(start)
            return name, ""

        monkeypatch.setattr(QFileDialog, "getSaveFileName", dialog)
        return offered

    return choose


def done(qtbot: QtBot, page: SheetPage, button: object) -> None:
    """Click, and wait until it is told."""
    with qtbot.waitSignal(page.bridge.told, timeout=PATIENCE_MS):
        qtbot.mouseClick(button, LEFT)


def test_pdf_is_the_sheet_on_the_desk(
    qtbot: QtBot, page: SheetPage, answer: Answer, tmp_path: Path
) -> None:
    offered = answer(str(tmp_path / "mine"))
    done(qtbot, page, page.along.pdf)
    out = tmp_path / "mine.pdf"
    assert page.sheet is not None
    assert out.read_bytes() == page.sheet.pdf.data
    assert metadata(out.read_bytes())["Title"].startswith("The Saltmarsh Wardens")
    assert Path(offered[0]).name == (
        "The Saltmarsh Wardens, First Light on the Flats, desk sheet.pdf"
    )
    assert told(page) == f'Wrote "mine.pdf" in "{tmp_path}".'


def test_the_next_file_is_offered_in_the_same_folder(
    qtbot: QtBot, page: SheetPage, answer: Answer, tmp_path: Path
) -> None:
    answer(str(tmp_path / "mine.pdf"))
    done(qtbot, page, page.along.pdf)
    offered = answer("")
    qtbot.mouseClick(page.along.strip, LEFT)
    assert Path(offered[0]).parent == tmp_path
    assert not page.taking.is_busy


def test_pictures_carry_profile_and_resolution(
    qtbot: QtBot, page: SheetPage, answer: Answer, tmp_path: Path
) -> None:
    assert page.sheet is not None
    page.along.dpi.setCurrentIndex(page.along.dpi.findData(96))
    answer(str(tmp_path / "side.png"))
    done(qtbot, page, page.along.pictures)
    count = len(page.sheet.pages)
    names = ["side.png", *(f"side-{n}.png" for n in range(2, count + 1))]
    assert {path.name for path in tmp_path.glob("*.png")} == set(names)
    for number in (0, count - 1):
        with Image.open(tmp_path / names[number]) as image:
            assert image.info["icc_profile"] == colorimetry.srgb_icc_profile()
            assert image.info["dpi"] == pytest.approx((96.0, 96.0), abs=0.1)
            drawn = image_of(page.sheet.pdf.data, number, 96)
            assert np.array_equal(np.asarray(image), np.asarray(drawn))
    assert told(page) == (f'Wrote {count} files in "{tmp_path}", "side.png" to "side-{count}.png".')


def test_tables_hold_the_schemes_steps(
    qtbot: QtBot, bridge: Bridge, page: SheetPage, answer: Answer, tmp_path: Path
) -> None:
    answer(str(tmp_path / "steps.csv"))
    done(qtbot, page, page.along.tables)
    scheme = bridge.state.scheme
    assert scheme is not None
    text = (tmp_path / "steps.csv").read_bytes().decode("utf-8-sig")
    rows = list(csv.DictReader(io.StringIO(text, newline="")))
    assert [row["step"] for row in rows] == [step.name for step in scheme.steps]
    assert (tmp_path / "steps-pots.csv").exists()
    assert told(page) == (f'Wrote 2 files in "{tmp_path}", "steps.csv" to "steps-pots.csv".')


def test_a_recipe_strip_dropped_on_the_window_opens_as_the_project(
    qtbot: QtBot, bridge: Bridge, page: SheetPage, answer: Answer, tmp_path: Path
) -> None:
    assert "Dropped on this window it opens as the project" in page.along.about.text()
    project, out = bridge.state.project, tmp_path / "strip.png"
    answer(str(out))
    done(qtbot, page, page.along.strip)
    assert read_strip(out) == project
    assert "opens as this project" in told(page)
    bridge.edit("name", lambda p: edits.rename_project(p, "Another"))
    data = QMimeData()
    data.setUrls([QUrl.fromLocalFile(str(out))])
    drop = QDropEvent(
        QPointF(QPoint(300, 300)),
        Qt.DropAction.CopyAction,
        data,
        Qt.MouseButton.LeftButton,
        Qt.KeyboardModifier.NoModifier,
    )
    window = page.window()
    assert isinstance(window, MainWindow)
    window.dropEvent(drop)
    qtbot.waitUntil(lambda: bridge.state.project == project)
    laid_out(qtbot, page)


def test_a_sheet_that_is_not_laid_out_yet_is_written_as_asked_for(
    qtbot: QtBot, bridge: Bridge, page: SheetPage, answer: Answer, tmp_path: Path
) -> None:
    answer(str(tmp_path / "lean.pdf"))
    with held_back(bridge):
        tick(page, Section.MIXES)
        assert page.sheet is None
        qtbot.keyClick(page.desk.paper, Qt.Key.Key_E, Qt.KeyboardModifier.ControlModifier)
        assert page.taking.is_busy
    qtbot.waitUntil((tmp_path / "lean.pdf").exists, timeout=PATIENCE_MS)
    said = " ".join(text_of((tmp_path / "lean.pdf").read_bytes()))
    assert "Top up by" not in said
    assert "Look for" in said
    laid_out(qtbot, page)
    qtbot.waitUntil(lambda: not page.taking.is_busy)


def test_findings_are_told_with_the_file(
    qtbot: QtBot, bridge: Bridge, page: SheetPage, answer: Answer, tmp_path: Path
) -> None:
    name = "Reed \U0010fffd Folk"
    anew(qtbot, page, lambda: bridge.edit("name", lambda p: edits.rename_project(p, name)))
    answer(str(tmp_path / "mine.pdf"))
    done(qtbot, page, page.along.pdf)
    assert told(page).startswith(
        f'Wrote "mine.pdf" in "{tmp_path}". No font on this computer has the sign'
    )


def test_no_name_writes_nothing(
    qtbot: QtBot, page: SheetPage, answer: Answer, tmp_path: Path
) -> None:
    offered = answer("")
    for button in (page.along.pdf, page.along.pictures, page.along.tables, page.along.strip):
        qtbot.mouseClick(button, LEFT)
        assert not page.taking.is_busy
    assert len(offered) == 4
    assert not list(tmp_path.glob("*.p*"))


@pytest.mark.parametrize("yes", [True, False])
def test_files_that_the_dialog_did_not_ask_about_are_asked_about(
    qtbot: QtBot,
    page: SheetPage,
    answer: Answer,
    tmp_path: Path,
    monkeypatch: pytest.MonkeyPatch,
    *,
    yes: bool,
) -> None:
    asked: list[str] = []

    def reply(box: QMessageBox) -> int:
        asked.append(box.informativeText())
        buttons = QMessageBox.StandardButton
        return (buttons.Yes if yes else buttons.Cancel).value

    monkeypatch.setattr(QMessageBox, "exec", reply)
    beside = tmp_path / "steps-pots.csv"
    beside.write_text("mine")
    answer(str(tmp_path / "steps.csv"))
    if yes:
        done(qtbot, page, page.along.tables)
        assert beside.read_bytes().startswith(b"\xef\xbb\xbfpot,")
    else:
        qtbot.mouseClick(page.along.tables, LEFT)
        assert not page.taking.is_busy
        assert beside.read_text() == "mine"
        assert not (tmp_path / "steps.csv").exists()
    assert asked == ["steps-pots.csv"]


def test_a_folder_that_is_gone_is_told_in_a_sentence(
    qtbot: QtBot, page: SheetPage, answer: Answer, tmp_path: Path
) -> None:
    answer(str(tmp_path / "gone" / "mine.pdf"))
    with qtbot.waitSignal(page.bridge.problem, timeout=PATIENCE_MS):
        qtbot.mouseClick(page.along.pdf, LEFT)
    assert told(page).startswith("Not done: ")
    assert "The folder is not there" in told(page)
    assert not page.along.busy.isVisible()


def test_pictures_are_stopped_before_any_is_written(
    qtbot: QtBot, page: SheetPage, answer: Answer, tmp_path: Path
) -> None:
    page.along.dpi.setCurrentIndex(page.along.dpi.findData(600))
    answer(str(tmp_path / "side.png"))
    with qtbot.waitSignal(page.taking.slow, timeout=PATIENCE_MS):
        qtbot.mouseClick(page.along.pictures, LEFT)
    qtbot.waitUntil(lambda: page.along.bar.value() > 0, timeout=PATIENCE_MS)
    assert page.along.busy.isVisible()
    assert page.along.doing.text() == "Writing the pictures…"
    qtbot.mouseClick(page.along.pdf, LEFT)
    assert "still being written" in told(page)
    qtbot.mouseClick(page.along.stop, LEFT)
    assert told(page) == "Stopped before it was finished."
    assert not page.along.busy.isVisible()
    page.bridge.jobs.close()  # waits for the threads
    assert not list(tmp_path.glob("*.png"))


def print_to(
    monkeypatch: pytest.MonkeyPatch, out: Path, set_up: Callable[[QPrinter], None]
) -> None:
    """Makes the system's dialog print to a file, set up otherwise."""

    def accept(dialog: QPrintDialog) -> int:
        printer = dialog.printer()
        printer.setOutputFormat(QPrinter.OutputFormat.PdfFormat)
        printer.setOutputFileName(str(out))
        set_up(printer)
        return QPrintDialog.DialogCode.Accepted.value

    monkeypatch.setattr(QPrintDialog, "exec", accept)


def first_two(printer: QPrinter) -> None:
    printer.setPrintRange(QPrinter.PrintRange.PageRange)
    printer.setFromTo(1, 2)


def test_prints_true_to_size_and_colour(
    qtbot: QtBot, page: SheetPage, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    assert page.sheet is not None
    out = tmp_path / "printed.pdf"
    print_to(monkeypatch, out, first_two)
    done(qtbot, page, page.along.print)
    assert told(page) == "Sent 2 sides to the printer."
    sizes = sizes_mm(out.read_bytes())
    assert len(sizes) == 2
    # A point of rounding by the printer's page setup.
    assert sizes[0] == pytest.approx((210.0, 297.0), abs=0.4)
    printed = np.asarray(image_of(out.read_bytes(), 0, 127.0)).astype(int)
    ours = np.asarray(image_of(page.sheet.pdf.data, 0, 127.0)).astype(int)
    for swatch in page.sheet.pages[0].items:
        if isinstance(swatch, Picture) and swatch.role == "swatch dry":
            x = int((swatch.frame.x + swatch.frame.width / 2.0) * 5.0)
            y = int((swatch.frame.y + swatch.frame.height / 2.0) * 5.0)
            # A column of the ramp more or less, and a code of rounding: the steepest demo ramp
            # rises by less than 2 codes a column.
            near = ours[y - 2 : y + 3, x - 2 : x + 3].reshape(-1, 3)
            assert np.all(printed[y, x] >= near.min(axis=0) - 1)
            assert np.all(printed[y, x] <= near.max(axis=0) + 1)
    dark = ours.mean(axis=2) < 128
    there = printed[: dark.shape[0], : dark.shape[1]].mean(axis=2) < 160
    rows, columns = np.nonzero(dark)
    where, across = np.nonzero(there)
    # Ink begins and ends at the same places to within two pixels of 0.2 mm.
    assert abs(rows.min() - where.min()) <= 2
    assert abs(rows.max() - where.max()) <= 2
    assert abs(columns.min() - across.min()) <= 2
    assert abs(columns.max() - across.max()) <= 2


def test_prints_across_on_letter_the_side_on_top_alone(
    qtbot: QtBot, page: SheetPage, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    anew(qtbot, page, page.checklist.paper.button("Letter").click)
    anew(qtbot, page, page.checklist.way.button("across").click)
    page.desk.on.click()
    laid_out(qtbot, page)
    out = tmp_path / "printed.pdf"
    print_to(monkeypatch, out, lambda p: p.setPrintRange(QPrinter.PrintRange.CurrentPage))
    with qtbot.waitSignal(page.bridge.told, timeout=PATIENCE_MS):
        qtbot.keyClick(page.desk.paper, Qt.Key.Key_P, Qt.KeyboardModifier.ControlModifier)
    assert told(page) == "Sent one side to the printer."
    assert sizes_mm(out.read_bytes()) == [pytest.approx((279.4, 215.9), abs=0.4)]


def test_other_paper_in_the_printer_is_refused(
    qtbot: QtBot, page: SheetPage, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    out = tmp_path / "printed.pdf"

    def load_letter(printer: QPrinter) -> None:
        printer.setPageSize(QPageSize(QPageSize.PageSizeId.Letter))

    print_to(monkeypatch, out, load_letter)
    qtbot.mouseClick(page.along.print, LEFT)
    assert "paper of 216 x 279 mm" in told(page)
    assert "laid out for A4 upright" in told(page)
    assert not page.taking.is_busy
    assert not out.exists()


def test_printing_waits_for_the_sheet_on_the_desk(
    qtbot: QtBot, bridge: Bridge, page: SheetPage, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(QPrintDialog, "exec", lambda _dialog: pytest.fail("asked too early"))
    with held_back(bridge):
        tick(page, Section.MIXES)
        qtbot.mouseClick(page.along.print, LEFT)
        assert "once it lies on the desk" in told(page)
    laid_out(qtbot, page)


def test_a_print_thought_better_of_prints_nothing(
    qtbot: QtBot, page: SheetPage, monkeypatch: pytest.MonkeyPatch
) -> None:
    rejected = QPrintDialog.DialogCode.Rejected.value
    monkeypatch.setattr(QPrintDialog, "exec", lambda _dialog: rejected)
    qtbot.mouseClick(page.along.print, LEFT)
    assert not page.taking.is_busy


@pytest.mark.qt_log_ignore("QPainter::begin")
@pytest.mark.skipif(os.name == "nt", reason="no such paths there")
def test_a_printer_that_cannot_begin_is_told_in_a_sentence(
    qtbot: QtBot, page: SheetPage, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    print_to(monkeypatch, tmp_path / "gone" / "printed.pdf", first_two)
    with qtbot.waitSignal(page.bridge.problem, timeout=PATIENCE_MS):
        qtbot.mouseClick(page.along.print, LEFT)
    assert "The printer does not take the sheet" in told(page)


@pytest.mark.parametrize(
    ("text", "name"),
    [
        ("Wardens, First Light", "Wardens, First Light"),
        ('a/b\\c:d*e?f"g<h>i|j', "a-b-c-d-e-f-g-h-i-j"),
        ("../../etc/passwd", "etc-passwd"),
        ("bell\x07\nend", "bell-end"),
        ("   ", "sheet"),
        ("x" * 300, "x" * 100),
    ],
)
def test_names_of_files_are_plain(text: str, name: str) -> None:
    assert plain_name(text, "sheet") == name
