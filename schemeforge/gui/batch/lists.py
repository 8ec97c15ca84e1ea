"""Lists of the plan: steps in painting order with what is told of each, and cautions."""

from collections.abc import Callable, Sequence
from typing import Any

from PySide6.QtCore import (
    QAbstractTableModel,
    QModelIndex,
    QPersistentModelIndex,
    Qt,
)
from PySide6.QtWidgets import QAbstractItemView, QHeaderView, QLabel, QVBoxLayout, QWidget

from schemeforge.gui.batch.section import FlatTable, Section
from schemeforge.gui.batch.step_editor import StepEditor
from schemeforge.gui.batch.words import minutes_words
from schemeforge.gui.bridge import Bridge
from schemeforge.gui.theme import GAP
from schemeforge.gui.widgets.labels import words
from schemeforge.plan import PlannedStep
from schemeforge.plan.cautions import DEFER, Caution

AnyIndex = QModelIndex | QPersistentModelIndex
_RIGHT = int(Qt.AlignmentFlag.AlignRight | Qt.AlignmentFlag.AlignVCenter)
_LEFT = int(Qt.AlignmentFlag.AlignLeft | Qt.AlignmentFlag.AlignVCenter)


class TextTable(QAbstractTableModel):
    """Rows of text under headings.

    Args:
        heads: The headings.
        numeric: Columns of figures.
        renames: The column whose first line is a name that may be changed, -1 for none.
    """

    def __init__(self, heads: Sequence[str], numeric: Sequence[int], renames: int = -1) -> None:
        super().__init__()
        self._heads = tuple(heads)
        self._numeric = frozenset(numeric)
        self._renames = renames
        self.rename: Callable[[int, str], bool] = lambda _row, _name: False
        self.rows: tuple[tuple[str, ...], ...] = ()

    def set_rows(self, rows: Sequence[Sequence[str]]) -> None:
        """Show other rows; equal ones cost nothing."""
        new = tuple(tuple(row) for row in rows)
        if new == self.rows:
            return
        if len(new) == len(self.rows):  # the current row stays
            self.rows = new
            self.dataChanged.emit(self.index(0, 0), self.index(len(new) - 1, len(self._heads) - 1))
            return
        self.beginResetModel()
        self.rows = new
        self.endResetModel()

    def rowCount(self, _parent: AnyIndex = QModelIndex()) -> int:  # noqa: B008 - Qt's own default
        """How many rows."""
        return len(self.rows)

    def columnCount(self, _parent: AnyIndex = QModelIndex()) -> int:  # noqa: B008 - likewise
        """How many headings."""
        return len(self._heads)

    def data(self, index: AnyIndex, role: int = Qt.ItemDataRole.DisplayRole) -> Any:
        """Text, aligned right in columns of figures."""
        if role in {Qt.ItemDataRole.DisplayRole, Qt.ItemDataRole.ToolTipRole}:
            return self.rows[index.row()][index.column()]
        if role == Qt.ItemDataRole.EditRole and index.column() == self._renames:
            return self.rows[index.row()][index.column()].partition("\n")[0]
        if role == Qt.ItemDataRole.TextAlignmentRole:
            return _RIGHT if index.column() in self._numeric else _LEFT
        return None

    def flags(self, index: AnyIndex) -> Qt.ItemFlag:
        """Names may be changed."""
        known = super().flags(index)
        return known | Qt.ItemFlag.ItemIsEditable if index.column() == self._renames else known

    def setData(self, index: AnyIndex, value: Any, role: int = Qt.ItemDataRole.EditRole) -> bool:
        """Another name."""
        if role != Qt.ItemDataRole.EditRole or index.column() != self._renames:
            return False
        return self.rename(index.row(), str(value))

    def headerData(
        self, section: int, orientation: Qt.Orientation, role: int = Qt.ItemDataRole.DisplayRole
    ) -> Any:
        """Headings of columns, aligned as their cells."""
        if orientation is not Qt.Orientation.Horizontal:
            return None
        if role == Qt.ItemDataRole.DisplayRole:
            return self._heads[section]
        if role == Qt.ItemDataRole.TextAlignmentRole:
            return _RIGHT if section in self._numeric else _LEFT
        return None


def text_table(name: str, model: TextTable, *stretched: int) -> FlatTable:
    """A table of such rows, the columns told stretched and the others as wide as they need."""
    table = FlatTable(name)
    table.setModel(model)
    table.setSelectionBehavior(QAbstractItemView.SelectionBehavior.SelectRows)
    table.setSelectionMode(QAbstractItemView.SelectionMode.SingleSelection)
    table.verticalHeader().hide()
    head = table.horizontalHeader()
    head.setSectionResizeMode(QHeaderView.ResizeMode.ResizeToContents)
    for column in stretched:
        head.setSectionResizeMode(column, QHeaderView.ResizeMode.Stretch)
    head.setHighlightSections(False)
    return table


class StepsSection(Section):
    """What is done, in order: zones, who, minutes, waits, pots. Enter picks a step.

    Beneath the list stands what is told of the step in the current row.
    """

    def __init__(self, bridge: Bridge, parent: QWidget | None = None) -> None:
        super().__init__("", "", parent)
        self.bridge = bridge
        self.heading.setText(self.tr("Steps in painting order"))
        self.about.setText(
            self.tr(
                "Minutes are the trade's usual ones until you give your own. Waits are drying "
                "before the next coat on the same zone. What is told of the step in the current "
                "row is changed beneath the list; the sheet prints it."
            )
        )
        self.model = TextTable(
            [
                self.tr("No."),
                self.tr("Step"),
                self.tr("Who"),
                self.tr("A model"),
                self.tr("In all"),
                self.tr("Wait"),
                self.tr("Pot"),
            ],
            numeric=(0, 3, 4, 5),
        )
        self.table = text_table(self.tr("Steps in painting order"), self.model, 1, 2)
        self.table.activated.connect(self._on_activated)
        self.table.selectionModel().currentRowChanged.connect(self._on_row)
        self.empty = words(self.tr("This scheme has no steps yet; add coats on the Coats page."))
        self.editor = StepEditor(bridge)
        for widget in (self.empty, self.table, self.editor):
            self.body.addWidget(widget)
        self._steps: tuple[PlannedStep, ...] = ()
        self._scheme_id = ""
        self._picked = ""
        self._writing = False

    def show_steps(self, scheme_id: str, steps: Sequence[PlannedStep]) -> None:
        """List the steps; the current row stays with its step."""
        picked = self._picked
        self._scheme_id, self._steps = scheme_id, tuple(steps)
        ids = [planned.step.id for planned in steps]
        self._writing = True  # rows on their way must not pick another step
        self.model.set_rows([self._row(planned) for planned in steps])
        if picked not in ids:
            picked = self.bridge.state.selection.step_id
        row = ids.index(picked) if picked in ids else 0
        if ids and self.table.currentIndex().row() != row:
            self.table.setCurrentIndex(self.model.index(row, 0))
        self._writing = False
        self._show_editor()
        self.empty.setVisible(not steps)
        self.table.setVisible(bool(steps))
        self.table.fit()

    def _show_editor(self) -> None:
        row = self.table.currentIndex().row()
        planned = self._steps[row] if 0 <= row < len(self._steps) else None
        self._picked = "" if planned is None else planned.step.id
        if planned is None:
            self.editor.show_step(self._scheme_id, None)
        else:
            self.editor.show_step(self._scheme_id, planned.step, planned.number)

    def _on_row(self, _now: QModelIndex, _before: QModelIndex) -> None:
        if not self._writing:
            self._show_editor()

    def _row(self, planned: PlannedStep) -> tuple[str, ...]:
        where = ", ".join(planned.zones) or self.tr("whole model")
        return (
            str(planned.number),
            f"{planned.step.name}\n{planned.technique} · {where}",
            planned.who,
            minutes_words(planned.minutes_per_model),
            minutes_words(planned.total_minutes),
            minutes_words(planned.wait_minutes) if planned.wait_minutes else "–",
            planned.pot or "–",
        )

    def _on_activated(self, index: QModelIndex) -> None:
        if index.row() < len(self._steps):
            step = self._steps[index.row()].step
            zone = self.bridge.state.selection.zone_id
            if step.zone_ids and zone not in step.zone_ids:
                zone = step.zone_ids[0]
            self.bridge.session.select(step_id=step.id, zone_id=zone)


class CautionsSection(Section):
    """What can hurt, at which steps."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__("", "", parent)
        self.heading.setText(self.tr("Take care"))
        self.about.setText(DEFER)
        self._list = QWidget()
        self._column = QVBoxLayout(self._list)
        self._column.setContentsMargins(0, 0, 0, 0)
        self._column.setSpacing(GAP)
        self.labels: dict[Caution, QLabel] = {}
        for caution in Caution:
            label = words("")
            label.hide()
            self._column.addWidget(label)
            self.labels[caution] = label
        self.body.addWidget(self._list)

    def show_steps(self, steps: Sequence[PlannedStep]) -> None:
        """Each advice once, with the numbers of its steps."""
        for caution, label in self.labels.items():
            numbers = [s.number for s in steps if caution in s.cautions and s.models]
            label.setVisible(bool(numbers))
            if numbers:
                label.setText(
                    self.tr("{0} (steps: {1})").format(caution.advice, ", ".join(map(str, numbers)))
                )
        self.setVisible(any(not label.isHidden() for label in self.labels.values()))
