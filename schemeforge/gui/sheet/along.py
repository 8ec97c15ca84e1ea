"""What to take along: print, PDF, pictures, tables, the recipe strip; progress and a stop."""

from PySide6.QtCore import QSignalBlocker, Qt, Signal
from PySide6.QtWidgets import (
    QComboBox,
    QGridLayout,
    QHBoxLayout,
    QProgressBar,
    QPushButton,
    QSizePolicy,
    QVBoxLayout,
    QWidget,
)

from schemeforge.gui.icons import icon
from schemeforge.gui.sheet.buttons import button
from schemeforge.gui.theme import GAP, GAP_TIGHT, Theme
from schemeforge.gui.widgets.labels import words

USUAL_DPI = 150


class Along(QWidget):
    """Buttons in the order of use.

    Signals:
        wanted: "print", "pdf", "pictures", "tables" or "strip".
        stopped: Give up what is being written.
    """

    wanted = Signal(str)
    stopped = Signal()

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.print = self._button(
            "print",
            self.tr("Print…"),
            self.tr("True to size, through the system's dialog (Ctrl+P)"),
        )
        self.pdf = self._button(
            "pdf", self.tr("PDF…"), self.tr("The whole sheet as one document (Ctrl+E)")
        )
        self.pictures = self._button(
            "pictures",
            self.tr("Pictures…"),
            self.tr("Each side as a PNG with its colour profile (sRGB) inside"),
        )
        self.tables = self._button(
            "tables", self.tr("Tables…"), self.tr("Steps and pots as CSV for a spreadsheet")
        )
        self.strip = self._button(
            "strip",
            self.tr("Recipe strip…"),
            self.tr("One PNG with every stage, mix and wait, which carries the project"),
        )
        self._make_dpi()
        self._make_busy()
        grid = QGridLayout()
        grid.setSpacing(GAP)
        grid.addWidget(self.print, 0, 0)
        grid.addWidget(self.pdf, 0, 1)
        grid.addWidget(self.pictures, 1, 0)
        grid.addWidget(self.dpi, 1, 1)
        grid.addWidget(self.tables, 2, 0)
        grid.addWidget(self.strip, 2, 1)
        grid.setColumnStretch(0, 1)
        grid.setColumnStretch(1, 1)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(GAP)
        column.addWidget(words(self.tr("Take it along"), "heading"))
        column.addLayout(grid)
        self.about = words(
            self.tr(
                "A recipe strip is one picture to share with the model. Dropped on this window "
                "it opens as the project."
            ),
            "muted",
        )
        column.addWidget(self.about)
        column.addWidget(self.busy)

    def _button(self, what: str, text: str, tip: str) -> QPushButton:
        return button(text, tip, lambda: self.wanted.emit(what))

    def _make_dpi(self) -> None:
        self.dpi = QComboBox()
        self.dpi.setAccessibleName(self.tr("How fine the pictures are, in dots per inch"))
        self.dpi.setToolTip(self.tr("How fine the pictures are, in dots per inch"))
        self.dpi.setSizeAdjustPolicy(
            QComboBox.SizeAdjustPolicy.AdjustToMinimumContentsLengthWithIcon
        )
        self.dpi.setMinimumContentsLength(8)
        for dots, use in (
            (96, self.tr("a small screen")),
            (USUAL_DPI, self.tr("a screen")),
            (300, self.tr("paper")),
            (600, self.tr("fine paper")),
        ):
            self.dpi.addItem(self.tr("{0} dpi").format(dots), dots)
            self.dpi.setItemData(
                self.dpi.count() - 1,
                self.tr("For {0}").format(use),
                Qt.ItemDataRole.ToolTipRole,
            )
        with QSignalBlocker(self.dpi):
            self.dpi.setCurrentIndex(self.dpi.findData(USUAL_DPI))

    def _make_busy(self) -> None:
        self.busy = QWidget()
        self.doing = words("", "muted")
        self.bar = QProgressBar()
        self.bar.setRange(0, 100)
        self.bar.setTextVisible(False)
        self.bar.setSizePolicy(QSizePolicy.Policy.Ignored, QSizePolicy.Policy.Fixed)
        self.stop = button(
            self.tr("Stop"), self.tr("Give it up; nothing is left half written"), self.stopped.emit
        )
        row = QHBoxLayout()
        row.setSpacing(GAP)
        row.addWidget(self.bar, 1)
        row.addWidget(self.stop)
        column = QVBoxLayout(self.busy)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(GAP_TIGHT)
        column.addWidget(self.doing)
        column.addLayout(row)
        self.busy.hide()

    def show_busy(self, doing: str) -> None:
        """Say what is being written."""
        self.doing.setText(doing)
        self.bar.setAccessibleName(doing)
        self.about.hide()  # progress stands where it stood, in view on low windows too
        self.busy.show()

    def show_progress(self, share: float) -> None:
        """How far it is, 0 to 1."""
        self.bar.setValue(round(100.0 * share))

    def show_quiet(self) -> None:
        """Nothing is being written."""
        self.busy.hide()
        self.about.show()
        self.bar.setValue(0)

    def dress(self, theme: Theme) -> None:
        """Icons in the text colour of the surround."""
        for made, name in (
            (self.print, "print"),
            (self.pdf, "export"),
            (self.pictures, "sheet-pictures"),
            (self.tables, "sheet-tables"),
            (self.strip, "share"),
        ):
            made.setIcon(icon(name, theme.text))
