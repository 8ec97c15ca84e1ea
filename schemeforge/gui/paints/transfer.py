"""Paints in and out of files, with the questions that go with it."""

from pathlib import Path

from PySide6.QtCore import QObject
from PySide6.QtWidgets import QFileDialog, QWidget

from schemeforge.gui.bridge import Bridge
from schemeforge.gui.counting import counted
from schemeforge.gui.paints.decision import DecisionBar
from schemeforge.paint import Paint
from schemeforge.shelf import Clash, clashing, export_paints, import_paints, join


class Transfer(QObject):
    """Imports onto the shelf and exports from it.

    Args:
        bridge: The session joined to Qt.
        page: Over which the file dialogs open.
    """

    def __init__(self, bridge: Bridge, page: QWidget) -> None:
        super().__init__(page)
        self.bridge = bridge
        self._page = page
        self.clash = DecisionBar()

    def ask_import(self) -> None:
        """Choose a file and take its paints."""
        name, _ = QFileDialog.getOpenFileName(
            self._page, self.tr("Import paints"), "", self.tr("Paints (*.json *.csv)")
        )
        if name:
            self.import_from(Path(name))

    def import_from(self, path: Path) -> None:
        """Take the paints of a file onto the shelf, asking first where some differ."""
        found: list[tuple[Paint, ...]] = []
        if not self.bridge.attempt(lambda: found.append(import_paints(path))):
            return
        incoming = found[0]
        differing = clashing(self.bridge.state.document.shelf, incoming)
        if not differing:
            self.take(incoming, Clash.LEAVE)
            return
        names = "; ".join(paint.name for paint in differing)
        self.clash.withdraw()
        self.clash.ask(
            self.tr("The shelf has other versions of paints in that file: {0}.").format(names),
            [
                (self.tr("Replace mine"), lambda: self.take(incoming, Clash.REPLACE)),
                (self.tr("Keep both"), lambda: self.take(incoming, Clash.KEEP_BOTH)),
                (self.tr("Leave mine"), lambda: self.take(incoming, Clash.LEAVE)),
                (self.tr("Import nothing"), lambda: None),
            ],
        )

    def take(self, incoming: tuple[Paint, ...], clash: Clash) -> None:
        """Put paints on the shelf, undoable, and tell how many."""
        result = join(self.bridge.state.document.shelf, incoming, clash)
        done = self.bridge.attempt(
            lambda: self.bridge.session.edit_shelf(
                self.tr("import paints"), lambda _shelf: result.shelf
            )
        )
        if done:
            self.bridge.told.emit(
                self.tr("{0} added, {1} replaced, {2} there already.").format(
                    counted(len(result.added), self.tr("{0} paint"), self.tr("{0} paints")),
                    len(result.replaced),
                    result.same + len(result.left),
                )
            )

    def ask_export(self, paints: tuple[Paint, ...]) -> None:
        """Choose a file and write paints to it."""
        name, _ = QFileDialog.getSaveFileName(
            self._page,
            self.tr("Export the paints shown"),
            "paints.json",
            self.tr("JSON (*.json);;Table (*.csv)"),
        )
        if name:
            self.export_to(Path(name), paints)

    def export_to(self, path: Path, paints: tuple[Paint, ...]) -> None:
        """Write paints to a file."""
        if self.bridge.attempt(lambda: export_paints(paints, path)):
            self.bridge.told.emit(
                self.tr("{0} written to {1} in {2}.").format(
                    counted(len(paints), self.tr("{0} paint"), self.tr("{0} paints")),
                    path.name,
                    path.absolute().parent,
                )
            )
