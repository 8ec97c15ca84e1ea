"""The same measures as a table: schemes down, measures across, sorted by any of them."""

from dataclasses import dataclass
from typing import Any

from PySide6.QtCore import (
    QAbstractTableModel,
    QItemSelectionModel,
    QModelIndex,
    QPersistentModelIndex,
    QSignalBlocker,
    QSortFilterProxyModel,
    Qt,
    Signal,
)
from PySide6.QtGui import QFont, QFontMetrics, QKeyEvent, QResizeEvent
from PySide6.QtWidgets import (
    QAbstractItemView,
    QComboBox,
    QHBoxLayout,
    QLabel,
    QScrollArea,
    QTableView,
    QVBoxLayout,
    QWidget,
)

from schemeforge.comparison import Compared, Comparison, Thresholds
from schemeforge.gui.keys import tell_keys
from schemeforge.gui.schemes.columns import Measure, whole_measures, zone_measures
from schemeforge.gui.schemes.taking_line import TakingLine, told
from schemeforge.gui.schemes.tall import Tall
from schemeforge.gui.schemes.verdict import Verdict
from schemeforge.gui.theme import GAP, Theme
from schemeforge.scheme import Zone

Index = QModelIndex | QPersistentModelIndex
SORT_ROLE = Qt.ItemDataRole.UserRole
ID_ROLE = Qt.ItemDataRole.UserRole + 1
_NONE = QModelIndex()
_HEADING = Qt.AlignmentFlag(Qt.AlignmentFlag.AlignCenter | Qt.TextFlag.TextWordWrap)
# Room around the text of a heading and of a cell, pixels.
_PAD = 16
# Longer names of schemes wrap.
_WIDEST_NAME = 170


@dataclass(frozen=True, slots=True)
class TableView:
    """What the table shows.

    Args:
        comparison: None while it is worked out.
        zones: Zones to choose from.
        zone_id: The zone whose measures are shown, "" for the whole model.
        scheme_id: The scheme whose findings are spelt out.
        thresholds: Rules of thumb.
        theme: Colours of the surround.
        waiting: What to say while there is no comparison.
    """

    comparison: Comparison | None
    zones: tuple[Zone, ...]
    zone_id: str
    scheme_id: str
    thresholds: Thresholds
    theme: Theme
    waiting: str


class MeasuresModel(QAbstractTableModel):
    """Schemes down, measures across; the name comes first."""

    def __init__(self) -> None:
        super().__init__()
        self._rows: tuple[Compared, ...] = ()
        self._measures: tuple[Measure, ...] = ()
        self._yardstick_id = self._take_id = ""

    def show_rows(
        self,
        rows: tuple[Compared, ...],
        measures: tuple[Measure, ...],
        yardstick_id: str,
        take_id: str,
    ) -> None:
        """Replace all."""
        self.beginResetModel()
        self._rows, self._measures = rows, measures
        self._yardstick_id, self._take_id = yardstick_id, take_id
        self.endResetModel()

    def rowCount(self, parent: Index = _NONE) -> int:
        """One row a scheme."""
        return 0 if parent.isValid() else len(self._rows)

    def columnCount(self, parent: Index = _NONE) -> int:
        """The name and the measures."""
        return 0 if parent.isValid() else len(self._measures) + 1

    def headerData(
        self, section: int, orientation: Qt.Orientation, role: int = Qt.ItemDataRole.DisplayRole
    ) -> Any:
        """Titles, with what they are and their unit as tooltip."""
        if orientation is not Qt.Orientation.Horizontal:
            return None
        if section == 0:
            return self.tr("Scheme") if role == Qt.ItemDataRole.DisplayRole else None
        measure = self._measures[section - 1]
        if role == Qt.ItemDataRole.DisplayRole:
            return measure.title
        if role == Qt.ItemDataRole.ToolTipRole:
            return f"{measure.whole_tip} {self.tr('Click to sort.')}"
        return None

    def data(self, index: Index, role: int = Qt.ItemDataRole.DisplayRole) -> Any:
        """Numbers as text, to sort by, and read aloud; the best of a column is marked."""
        row = self._rows[index.row()]
        if role == ID_ROLE:
            return row.scheme.id
        if index.column() == 0:
            return self._name(row, role)
        measure = self._measures[index.column() - 1]
        value = measure.value(row)
        if role == SORT_ROLE:
            return float("-inf") if value is None else value
        if role == Qt.ItemDataRole.TextAlignmentRole:
            return Qt.AlignmentFlag.AlignRight | Qt.AlignmentFlag.AlignVCenter
        best = self._is_best(measure, value)
        if role == Qt.ItemDataRole.DisplayRole:
            text = measure.text(row)
            return f"★ {text}" if best else text
        if role == Qt.ItemDataRole.FontRole and best:
            font = QFont()
            font.setBold(True)
            return font
        if role in {Qt.ItemDataRole.AccessibleTextRole, Qt.ItemDataRole.ToolTipRole}:
            mark = self.tr(", the best of those shown") if best else ""
            said = f"{row.scheme.name}, {measure.title}: {measure.text(row)}{mark}."
            return f"{said} {measure.whole_tip}"
        return None

    def _name(self, row: Compared, role: int) -> Any:
        take = row.scheme.id == self._take_id
        if role in {Qt.ItemDataRole.DisplayRole, SORT_ROLE}:
            marks = [self.tr("yardstick")] if row.scheme.id == self._yardstick_id else []
            marks += [self.tr("take this one")] if take else []
            return f"{row.scheme.name} ({', '.join(marks)})" if marks else row.scheme.name
        if role == Qt.ItemDataRole.FontRole and take:
            font = QFont()
            font.setBold(True)
            return font
        return row.scheme.name if role == Qt.ItemDataRole.ToolTipRole else None

    def _is_best(self, measure: Measure, value: float | None) -> bool:
        values = [v for row in self._rows if (v := measure.value(row)) is not None]
        if not measure.best or value is None or len(values) < 2 or min(values) == max(values):
            return False
        return value == (max(values) if measure.best > 0 else min(values))


class MeasuresView(QTableView):
    """The table; S sorts by the column of the cursor, Enter picks the scheme.

    Signals:
        entered_row: The id of the scheme to pick.
        widened: The width has changed.
    """

    entered_row = Signal(str)
    widened = Signal()

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Tell that there is more or less room for columns."""
        super().resizeEvent(event)
        if event.size().width() != event.oldSize().width():
            self.widened.emit()

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """S sorts, Enter picks."""
        index = self.currentIndex()
        if event.key() == Qt.Key.Key_S and not event.modifiers() and index.isValid():
            header = self.horizontalHeader()
            turn = header.sortIndicatorSection() == index.column()
            rising = header.sortIndicatorOrder() is Qt.SortOrder.AscendingOrder
            order = Qt.SortOrder.DescendingOrder if turn and rising else Qt.SortOrder.AscendingOrder
            self.sortByColumn(index.column(), order)
        elif event.key() in {Qt.Key.Key_Return, Qt.Key.Key_Enter} and index.isValid():
            self.entered_row.emit(index.data(ID_ROLE))
        else:
            super().keyPressEvent(event)


class SchemeTable(QWidget):
    """Measures of the whole model or of one zone, sortable.

    Signals:
        picked: The id of the scheme picked.
        zone_picked: The id of the zone picked to be shown.
    """

    picked = Signal(str)
    zone_picked = Signal(str)

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.taking = TakingLine()
        self.scope = QComboBox()
        self.scope.setAccessibleName(self.tr("Measures of"))
        self.scope.setToolTip(self.tr("The whole model, or one zone"))
        self.scope.setSizeAdjustPolicy(QComboBox.SizeAdjustPolicy.AdjustToContents)
        self.hint = QLabel()
        self.hint.setProperty("role", "muted")
        self.hint.setWordWrap(True)
        self.model = MeasuresModel()
        self.sorted = QSortFilterProxyModel()
        self.sorted.setSourceModel(self.model)
        self.sorted.setSortRole(SORT_ROLE)
        self.view = self._made_view()
        self.scope.activated.connect(lambda n: self.zone_picked.emit(self.scope.itemData(n)))
        self.title = QLabel()
        self.title.setTextFormat(Qt.TextFormat.PlainText)
        self.title.setProperty("role", "title")
        self.verdict = Verdict(whole=True)
        area = QScrollArea()
        area.setWidgetResizable(True)
        area.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        body = Tall()
        inner = QVBoxLayout(body)
        inner.setContentsMargins(0, 0, 0, 0)
        inner.addWidget(self.verdict)
        inner.addStretch(1)
        area.setWidget(body)
        row = QHBoxLayout()
        row.addWidget(self.scope)
        row.addWidget(self.hint, 1)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(GAP)
        column.addWidget(self.taking)
        column.addLayout(row)
        column.addWidget(self.view)
        column.addWidget(self.title)
        column.addWidget(area, 1)

    def _made_view(self) -> MeasuresView:
        view = MeasuresView()
        view.setModel(self.sorted)
        view.setSortingEnabled(True)
        view.sortByColumn(-1, Qt.SortOrder.AscendingOrder)
        view.setAccessibleName(self.tr("Measures of the schemes"))
        tell_keys(
            view,
            (self.tr("S"), self.tr("sort the table by the column of the cursor")),
            (self.tr("Enter"), self.tr("pick the scheme of the row")),
        )
        view.setSelectionBehavior(QAbstractItemView.SelectionBehavior.SelectItems)
        view.setSelectionMode(QAbstractItemView.SelectionMode.SingleSelection)
        view.setTabKeyNavigation(False)
        view.setWordWrap(True)
        view.verticalHeader().hide()
        header = view.horizontalHeader()
        header.setDefaultAlignment(_HEADING)
        header.setMinimumSectionSize(40)
        header.setStretchLastSection(False)
        view.entered_row.connect(self.picked)
        view.widened.connect(self._size_columns, Qt.ConnectionType.QueuedConnection)
        view.clicked.connect(lambda index: self.picked.emit(index.data(ID_ROLE)))
        return view

    def show_view(self, view: TableView) -> None:
        """Show the measures, and the findings of the scheme picked."""
        known = {zone.id for zone in view.zones}
        wanted = view.zone_id if view.zone_id in known else ""
        with QSignalBlocker(self.scope):
            self.scope.clear()
            self.scope.addItem(self.tr("Whole model"), "")
            for zone in view.zones:
                self.scope.addItem(zone.name, zone.id)
            self.scope.setCurrentIndex(max(self.scope.findData(wanted), 0))
        at = self.view.currentIndex()
        row, column = at.row(), at.column()
        found = view.comparison
        rows = () if found is None else found.schemes
        measures = zone_measures(wanted) if wanted else whole_measures(view.thresholds, rows)
        take = told(found)
        self.taking.show_comparison(found, view.theme)
        self.model.show_rows(
            rows,
            measures,
            "" if found is None else found.yardstick_id,
            "" if take is None else take.scheme_id,
        )
        self.hint.setText(
            view.waiting
            if found is None
            else self.tr("★ marks the best. Click a heading, or press S, to sort; Enter picks.")
        )
        self._show_verdict(view)
        if rows and row >= 0:
            back = self.sorted.index(min(row, len(rows) - 1), min(column, len(measures)))
            self.view.selectionModel().setCurrentIndex(
                back, QItemSelectionModel.SelectionFlag.ClearAndSelect
            )
        self._size_columns()

    def _show_verdict(self, view: TableView) -> None:
        entries = () if view.comparison is None else view.comparison.schemes
        picked = next((entry for entry in entries if entry.scheme.id == view.scheme_id), None)
        self.title.setText("" if picked is None else picked.scheme.name)
        if picked is None:
            self.verdict.wait(view.waiting)
        else:
            self.verdict.show_findings(picked.scheme.name, picked.findings, view.theme)

    def _size_columns(self) -> None:
        """Headings wrap, never cut a word; what is left over is shared; no empty rows beneath."""
        count = self.sorted.columnCount()
        header = self.view.horizontalHeader()
        bold = QFont(header.font())
        bold.setBold(True)
        letters = QFontMetrics(bold)
        needs, lines = [], 1
        for n in range(count):
            title = str(self.model.headerData(n, Qt.Orientation.Horizontal))
            texts = [str(self.model.index(r, n).data()) for r in range(self.model.rowCount())]
            wide = max(letters.horizontalAdvance(t) for t in (*title.split(), *texts, "0")) + _PAD
            needs.append(min(wide, _WIDEST_NAME) if n == 0 else wide)
        spare = max(self.view.viewport().width() - sum(needs), 0) // max(count, 1)
        for n, wide in enumerate(needs):
            self.view.setColumnWidth(n, wide + spare)
            title = str(self.model.headerData(n, Qt.Orientation.Horizontal))
            lines = max(lines, _lines(title, wide + spare - _PAD, letters))
        header.setFixedHeight(lines * letters.lineSpacing() + 12)
        self.view.resizeRowsToContents()
        rows = sum(self.view.rowHeight(n) for n in range(self.sorted.rowCount()))
        bar = self.view.horizontalScrollBar().sizeHint().height()
        self.view.setFixedHeight(header.height() + max(rows, 30) + bar + 4)


def _lines(text: str, wide: int, letters: QFontMetrics) -> int:
    """How many lines the words of a heading take."""
    lines, line = 1, ""
    for word in text.split():
        longer = f"{line} {word}".strip()
        if letters.horizontalAdvance(longer) > wide and line:
            lines, line = lines + 1, word
        else:
            line = longer
    return lines
