"""Takes the sheet along: PDF, pictures, tables, the recipe strip, print. Beside the window."""

from collections.abc import Callable
from dataclasses import replace
from pathlib import Path
from typing import TYPE_CHECKING

from PySide6.QtCore import QObject, Qt, QTimer, Signal
from PySide6.QtWidgets import QFileDialog, QMessageBox, QWidget

from schemeforge.desk import CancelToken
from schemeforge.errors import SchemeForgeError, shown
from schemeforge.gui.bridge import Bridge
from schemeforge.gui.file_names import plain_name
from schemeforge.gui.sheet.making import SLOW_MS, Request
from schemeforge.whole_file import write_whole

if TYPE_CHECKING:
    from schemeforge.export.sheet import Sheet

KEY = "take the sheet along"
Watch = Callable[[float], None]
# Numbered pictures that are looked for before the number of sides is known.
_MOST_SIDES = 200


class Stopped(Exception):  # noqa: N818 - a way out of the work, not an error
    """Raised inside the work once the user has given it up."""


class Taking(QObject):
    """One file or print at a time; asks where to, works beside the window, says what came of it.

    Signals:
        slow: It takes long enough to say so; carries what is being done.
        progress: 0 to 1.
        over: Nothing is being written any more.
    """

    slow = Signal(str)
    progress = Signal(float)
    over = Signal()

    def __init__(self, bridge: Bridge, window: QWidget) -> None:
        super().__init__(window)
        self.bridge = bridge
        self._window = window
        self._folder: Path | None = None
        self._doing = ""
        self._patience = QTimer(self)
        self._patience.setSingleShot(True)
        self._patience.setInterval(SLOW_MS)
        self._patience.timeout.connect(lambda: self.slow.emit(self._doing))

    @property
    def is_busy(self) -> bool:
        """True while something is being written."""
        return self.bridge.jobs.is_busy(KEY)

    def pdf(self, request: Request, sheet: "Sheet | None") -> None:
        """The whole sheet as one document."""
        out = self._ask(
            request, self.tr("Write the sheet as PDF"), self.tr("desk sheet"), ".pdf", sheet
        )
        if out is not None:
            self._write(request, sheet, out, self.tr("Writing the PDF…"))

    def pictures(self, request: Request, sheet: "Sheet | None", dpi: int) -> None:
        """Every side as a picture of its own."""
        out = self._ask(
            request, self.tr("Write the sides as pictures"), self.tr("desk sheet"), ".png", sheet
        )
        if out is not None:
            finer = replace(request, options=replace(request.options, dpi=dpi))
            self._write(finer, sheet, out, self.tr("Writing the pictures…"))

    def tables(self, request: Request) -> None:
        """Steps and pots for a spreadsheet."""
        out = self._ask(request, self.tr("Write steps and pots"), self.tr("steps"), ".csv", None)
        if out is not None:
            self._write(request, None, out, self.tr("Writing the tables…"))

    def strip(self, request: Request) -> None:
        """One picture that carries the project."""
        out = self._ask(
            request, self.tr("Write the recipe strip"), self.tr("recipe strip"), ".png", None
        )
        if out is None:
            return

        views = self.bridge.stand_ins if request.pictured else None

        def work(watch: Watch) -> tuple[str, ...]:
            from schemeforge.export.recipe_strip import strip_of

            strip = strip_of(request.project, request.scheme_id, request.options, views=views)
            watch(0.9)
            write_whole(out, strip.data, keep_previous=False)
            said = self.tr(
                "Wrote the recipe strip {0} in {1}. Dropped on the window it opens as this project."
            )
            return said.format(_name(out), _where(out)), *strip.findings

        self._run(self.tr("Writing the recipe strip…"), work)

    def print(self, request: Request, sheet: "Sheet | None", on_top: int) -> None:
        """The sheet on a printer, through the system's dialog."""
        from schemeforge.gui.sheet import printing

        if not self._free():
            return
        if sheet is None:
            self.bridge.problem.emit(
                self.tr("There is no sheet to print yet; print it once it lies on the desk.")
            )
            return
        printer = printing.printer_for(request.options, self._title(request))
        if not printing.ask_printer(self._window, printer, len(sheet.pages)):
            return
        if not self.bridge.attempt(lambda: printing.check_paper(printer, sheet, request.options)):
            return
        sides = printing.chosen_sides(printer, len(sheet.pages), on_top)

        def work(watch: Watch) -> tuple[str, ...]:
            printing.print_sides(printer, sheet, sides, watch)
            if len(sides) == 1:
                return (self.tr("Sent one side to the printer."),)
            return (self.tr("Sent {0} sides to the printer.").format(len(sides)),)

        self._run(self.tr("Printing…"), work)

    def stop(self) -> None:
        """Give up what is being written."""
        if self.is_busy:
            self.bridge.jobs.cancel(KEY)
            self._quiet()
            self.bridge.told.emit(self.tr("Stopped before it was finished."))

    def _write(self, request: Request, sheet: "Sheet | None", out: Path, doing: str) -> None:
        views = self.bridge.stand_ins if request.pictured else None

        def work(watch: Watch) -> tuple[str, ...]:
            from schemeforge.export.sheet import make_sheet, write_sheet

            asked = request.project, request.scheme_id
            made, begun = sheet, 0.0
            if made is None and out.suffix.lower() != ".csv":
                made = make_sheet(
                    *asked, request.options, views=views, progress=lambda s: watch(s / 2.0)
                )
                begun = 0.5

            def rest(share: float) -> None:
                watch(begun + share * (1.0 - begun))

            # What stood there the painter let go when asked for the name.
            result = write_sheet(
                *asked, out, request.options, sheet=made, watch=rest, replace_others=True
            )
            if len(result.files) == 1:
                said = self.tr("Wrote {0} in {1}.")
                return said.format(_name(out), _where(out)), *result.findings
            said = self.tr("Wrote {0} files in {3}, {1} to {2}.")
            return (
                said.format(len(result.files), _name(out), _name(result.files[-1]), _where(out)),
                *result.findings,
            )

        self._run(doing, work)

    def _run(self, doing: str, work: Callable[[Watch], tuple[str, ...]]) -> None:
        """Do it beside the window; it gives the sentences to tell."""

        def job(token: CancelToken) -> tuple[str, ...]:
            def watch(share: float) -> None:
                if token.is_cancelled:
                    raise Stopped
                token.progress(share)

            watch(0.0)
            return work(watch)

        self._doing = doing
        self._patience.start()
        self.bridge.jobs.submit(
            KEY, job, self._on_done, failed=self._on_failed, progress=self.progress.emit
        )

    def _on_done(self, sentences: tuple[str, ...]) -> None:
        self._quiet()
        self.bridge.told.emit(" ".join(sentences))

    def _on_failed(self, error: Exception) -> None:
        self._quiet()
        if not isinstance(error, SchemeForgeError):
            raise error
        self.bridge.problem.emit(error.sentence)

    def _quiet(self) -> None:
        self._patience.stop()
        self.over.emit()

    def _free(self) -> bool:
        if self.is_busy:
            self.bridge.problem.emit(
                self.tr("Something is still being written; wait for it or stop it first.")
            )
            return False
        return True

    def _ask(
        self, request: Request, title: str, kind: str, suffix: str, sheet: "Sheet | None"
    ) -> Path | None:
        """Where to write; None where the user thinks better of it."""
        from schemeforge.export.sheet import files_of

        if not self._free():
            return None
        stem = plain_name(f"{self._title(request)}, {kind}", "sheet")
        start = str(self._start_folder() / f"{stem}{suffix}")
        filters = {
            ".pdf": self.tr("Documents (*.pdf)"),
            ".png": self.tr("Pictures (*.png)"),
            ".csv": self.tr("Tables (*.csv)"),
        }
        name, _ = QFileDialog.getSaveFileName(self._window, title, start, filters[suffix])
        if not name:
            return None
        path = Path(name)
        if path.suffix.lower() != suffix:
            path = path.with_name(path.name + suffix)
        sides = len(sheet.pages) if sheet is not None else _MOST_SIDES
        many = kind != self.tr("recipe strip")
        files = files_of(path, sides if many else 1)
        unasked = [file for file in files if str(file) != name and file.exists()]
        if unasked and not self._may_replace(unasked):
            return None
        self._folder = path.parent
        return path

    def _may_replace(self, files: list[Path]) -> bool:
        """True where the user lets files go that the file dialog did not ask about."""
        names = ", ".join(shown(file.name) for file in files[:6])
        box = QMessageBox(self._window)
        box.setIcon(QMessageBox.Icon.Question)
        box.setTextFormat(Qt.TextFormat.PlainText)
        box.setText(self.tr("Replace files that are already there?"))
        box.setInformativeText(names + (", …" if len(files) > 6 else ""))
        button = QMessageBox.StandardButton
        box.setStandardButtons(button.Yes | button.Cancel)
        box.button(button.Yes).setText(self.tr("Replace"))
        box.setDefaultButton(button.Cancel)
        return bool(box.exec() == button.Yes)

    def _start_folder(self) -> Path:
        path = self.bridge.state.path
        return self._folder or (path.parent if path else Path.home())

    def _title(self, request: Request) -> str:
        return f"{request.project.name}, {request.project.scheme(request.scheme_id).name}"


def _name(path: Path) -> str:
    return f'"{shown(path.name)}"'


def _where(path: Path) -> str:
    folder = "".join(c if c.isprintable() else "�" for c in str(path.absolute().parent))
    return f'"{folder}"'
