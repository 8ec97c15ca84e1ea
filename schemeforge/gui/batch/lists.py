"""Read-only lists of the plan: steps in painting order, pots, and cautions."""

from collections.abc import Sequence
from typing import Any

from PySide6.QtCore import QAbstractTableModel, QModelIndex, QPersistentModelIndex, Qt
from PySide6.QtWidgets import QAbstractItemView, QHeaderView, QLabel, QVBoxLayout, QWidget

from schemeforge.gui.batch.section import FlatTable, Section, words
from schemeforge.gui.batch.words import minutes_words
from schemeforge.gui.bridge import Bridge
from schemeforge.gui.theme import GAP
from schemeforge.plan import PlannedStep, Pot
from schemeforge.plan.cautions import DEFER, Caution

AnyIndex = QModelIndex | QPersistentModelIndex
_RIGHT = int(Qt.AlignmentFlag.AlignRight | Qt.AlignmentFlag.AlignVCenter)
_LEFT = int(Qt.AlignmentFlag.AlignLeft | Qt.AlignmentFlag.AlignVCenter)


class TextTable(QAbstractTableModel):
    """Rows of text under headings."""

    def __init__(self, heads: Sequence[str], numeric: Sequence[int]) -> None:
        super().__init__()
        self._heads = tuple(heads)
        self._numeric = frozenset(numeric)
        self.rows: tuple[tuple[str, ...], ...] = ()

    def set_rows(self, rows: Sequence[Sequence[str]]) -> None:
        """Show other rows; equal ones cost nothing."""
        new = tuple(tuple(row) for row in rows)
        if new != self.rows:
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
        if role == Qt.ItemDataRole.TextAlignmentRole:
            return _RIGHT if index.column() in self._numeric else _LEFT
        return None

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


def _table(name: str, model: TextTable, *stretched: int) -> FlatTable:
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
    """What is done, in order: zones, who, minutes, waits, pots. Enter picks a step."""

    def __init__(self, bridge: Bridge, parent: QWidget | None = None) -> None:
        super().__init__("", "", parent)
        self.bridge = bridge
        self.heading.setText(self.tr("Steps in painting order"))
        self.about.setText(
            self.tr(
                "Minutes are the trade's usual ones until you give your own. Waits are drying "
                "before the next coat on the same zone."
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
        self.table = _table(self.tr("Steps in painting order"), self.model, 1, 2)
        self.table.activated.connect(self._on_activated)
        self.empty = words(self.tr("This scheme has no steps yet; add coats on the Coats page."))
        self.body.addWidget(self.empty)
        self.body.addWidget(self.table)
        self._ids: tuple[str, ...] = ()

    def show_steps(self, steps: Sequence[PlannedStep]) -> None:
        """List the steps."""
        self._ids = tuple(planned.step.id for planned in steps)
        self.model.set_rows([self._row(planned) for planned in steps])
        self.empty.setVisible(not steps)
        self.table.setVisible(bool(steps))
        self.table.fit()

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
        if index.row() < len(self._ids):
            self.bridge.session.select(step_id=self._ids[index.row()])


class PotsSection(Section):
    """What to mix: millilitres, grams, drops."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__("", "", parent)
        self.heading.setText(self.tr("Pots to mix"))
        self.about.setText(
            self.tr(
                "For the whole batch, with waste and what stays in the pot. Drops differ by bottle "
                "and liquid: weigh or use a syringe where it matters."
            )
        )
        self.model = TextTable(
            [
                self.tr("Pot"),
                self.tr("What goes in, by parts"),
                self.tr("For steps"),
                self.tr("ml"),
                self.tr("Drops"),
                self.tr("Grams"),
            ],
            numeric=(3, 4, 5),
        )
        self.table = _table(self.tr("Pots to mix"), self.model, 1)
        self.warnings = words("", "caution")
        self.empty = words(self.tr("No step takes a mix yet."))
        for widget in (self.empty, self.table, self.warnings):
            self.body.addWidget(widget)

    def show_pots(self, filled: Sequence[Pot]) -> None:
        """List the pots and what is delicate about them."""
        self.model.set_rows([self._row(pot) for pot in filled])
        warned = [pot.warning.sentence for pot in filled if pot.warning is not None]
        self.warnings.setText("\n".join(warned))
        self.warnings.setVisible(bool(warned))
        self.empty.setVisible(not filled)
        self.table.setVisible(bool(filled))
        self.table.fit()

    def _row(self, pot: Pot) -> tuple[str, ...]:
        parts = [
            self.tr("{0} {1} ({2} drops, {3:.1f} ml)").format(
                amount.name, f"{amount.parts:g}", amount.whole_drops, amount.ml
            )
            for amount in pot.amounts
        ]
        inside = (
            self.tr("{0}, neat").format(pot.amounts[0].name) if pot.is_neat else ", ".join(parts)
        )
        return (
            f"{pot.letter}",
            f"{pot.mix.name}\n{inside}",
            ", ".join(str(number) for number in pot.step_numbers),
            f"{pot.ml:.1f}",
            f"{pot.drops:.0f}",
            f"{pot.grams:.1f}",
        )


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
