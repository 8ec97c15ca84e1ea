"""The readings as the files have them, to see whether they were understood."""

from typing import Any

from PySide6.QtCore import QAbstractTableModel, QModelIndex, QPersistentModelIndex, QSize, Qt
from PySide6.QtWidgets import QAbstractItemView, QSizePolicy, QTableView, QWidget

from schemeforge.gui.adding.samples import Loaded, Sample

_Index = QModelIndex | QPersistentModelIndex
_MOST_ROWS = 5
_NOWHERE = QModelIndex()


class SamplesModel(QAbstractTableModel):
    """A row a sample, a column a wavelength; empty where a sample was not read there."""

    def __init__(self) -> None:
        super().__init__()
        self._samples: tuple[Sample, ...] = ()
        self._nm: tuple[float, ...] = ()
        self._values: list[dict[float, float]] = []

    def show(self, found: Loaded) -> None:
        """Another set of samples."""
        self.beginResetModel()
        self._samples = found.samples
        each = [s.spectrum for s in found.samples]
        self._nm = tuple(sorted({nm for spectrum in each for nm in spectrum.wavelengths_nm}))
        self._values = [
            dict(zip(spectrum.wavelengths_nm, spectrum.values, strict=True)) for spectrum in each
        ]
        self.endResetModel()

    def rowCount(self, parent: _Index = _NOWHERE) -> int:
        """Samples."""
        return 0 if parent.isValid() else len(self._samples)

    def columnCount(self, parent: _Index = _NOWHERE) -> int:
        """Wavelengths."""
        return 0 if parent.isValid() else len(self._nm)

    def data(self, index: _Index, role: int = Qt.ItemDataRole.DisplayRole) -> Any:
        """The number as the file has it."""
        if role == Qt.ItemDataRole.TextAlignmentRole:
            return int(Qt.AlignmentFlag.AlignRight | Qt.AlignmentFlag.AlignVCenter)
        if role != Qt.ItemDataRole.DisplayRole:
            return None
        value = self._values[index.row()].get(self._nm[index.column()])
        return "" if value is None else f"{value:g}"

    def headerData(
        self, section: int, orientation: Qt.Orientation, role: int = Qt.ItemDataRole.DisplayRole
    ) -> Any:
        """Names of samples, wavelengths in nm."""
        if role != Qt.ItemDataRole.DisplayRole:
            return None
        if orientation is Qt.Orientation.Vertical:
            return self._samples[section].label
        return f"{self._nm[section]:g} nm"


class SamplesTable(QTableView):
    """A few rows of the readings; Tab leaves it, arrows walk in it."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.samples = SamplesModel()
        self.setModel(self.samples)
        self.setAccessibleName(self.tr("Readings as the file has them"))
        self.setTabKeyNavigation(False)
        self.setCornerButtonEnabled(False)
        self.setEditTriggers(QAbstractItemView.EditTrigger.NoEditTriggers)
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Fixed)
        for header in (self.horizontalHeader(), self.verticalHeader()):
            header.setStyleSheet("QHeaderView { border: none; }")  # the table has one
        self.setHorizontalScrollMode(QAbstractItemView.ScrollMode.ScrollPerPixel)

    def show_samples(self, found: Loaded) -> None:
        """Show what was read."""
        self.samples.show(found)
        self.resizeColumnsToContents()
        self.verticalHeader().setMaximumWidth(self.fontMetrics().averageCharWidth() * 30)
        self.updateGeometry()

    def sizeHint(self) -> QSize:
        """As high as its rows, a few at most."""
        rows = min(max(self.samples.rowCount(), 1), _MOST_ROWS)
        row = self.verticalHeader().defaultSectionSize()
        bar = self.horizontalScrollBar().sizeHint().height()
        frame = 2 * self.frameWidth()
        high = self.horizontalHeader().sizeHint().height() + rows * row + bar + frame
        return QSize(400, high)

    def minimumSizeHint(self) -> QSize:
        """As high as its rows, and narrow."""
        return QSize(200, self.sizeHint().height())
