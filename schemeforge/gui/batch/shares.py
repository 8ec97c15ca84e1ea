"""Who gets what: zones by groups, a word and a pattern in each cell, and the coats of one cell."""

from typing import Any

from PySide6.QtCore import (
    QAbstractTableModel,
    QModelIndex,
    QPersistentModelIndex,
    QPointF,
    QRectF,
    QSize,
    Qt,
    Signal,
)
from PySide6.QtGui import QColor, QFontMetrics, QKeyEvent, QPainter, QPen
from PySide6.QtWidgets import (
    QAbstractItemView,
    QHeaderView,
    QPushButton,
    QStyle,
    QStyledItemDelegate,
    QStyleOptionViewItem,
    QWidget,
)

from schemeforge.desk import DeskState
from schemeforge.gui.batch.section import FlatTable, Section
from schemeforge.gui.batch.words import share_words
from schemeforge.gui.bridge import Bridge
from schemeforge.gui.keys import tell_keys
from schemeforge.gui.theme import GAP
from schemeforge.gui.widgets.flow import Flow
from schemeforge.gui.widgets.labels import words
from schemeforge.gui.widgets.segments import Segments
from schemeforge.scheme import Project, Scheme, Share, ShareKind, Step, edits, zone_steps

AnyIndex = QModelIndex | QPersistentModelIndex
KEYS = {
    Qt.Key.Key_F: ShareKind.FULL,
    Qt.Key.Key_S: ShareKind.SHORT,
    Qt.Key.Key_O: ShareKind.OWN,
    Qt.Key.Key_N: ShareKind.NONE,
}


def new_share(scheme: Scheme, group_id: str, zone_id: str, kind: ShareKind) -> Share:
    """The cell as it is first set to a kind.

    Short begins without the zone's last coat, an own stack with what the group gets now.
    """
    old = scheme.share(group_id, zone_id)
    if old.kind is kind:
        return old
    steps: tuple[str, ...] = ()
    if kind is ShareKind.SHORT:
        coats = [step.id for step in zone_steps(scheme, zone_id) if step.coat is not None]
        steps = tuple(coats[-1:])
    elif kind is ShareKind.OWN:
        now = zone_steps(scheme, zone_id, group_id) or zone_steps(scheme, zone_id)
        steps = tuple(step.id for step in now)
    return Share(group_id=group_id, zone_id=zone_id, kind=kind, step_ids=steps)


class ShareModel(QAbstractTableModel):
    """Zones down, groups across."""

    def __init__(self) -> None:
        super().__init__()
        self.project: Project | None = None
        self.scheme: Scheme | None = None

    def show_project(self, project: Project, scheme: Scheme | None) -> bool:
        """Take another document; True where rows or columns changed."""
        shape = self._shape()
        old, self.project, self.scheme = self.project, project, scheme
        if old is None or shape != self._shape():
            self.beginResetModel()
            self.endResetModel()
            return True
        if self.rowCount() and self.columnCount():
            last = self.index(self.rowCount() - 1, self.columnCount() - 1)
            self.dataChanged.emit(self.index(0, 0), last)
        return False

    def _shape(self) -> tuple[object, ...]:
        if self.project is None or self.scheme is None:
            return ()
        zones, groups = self.project.zones, self.project.groups
        return (
            tuple((zone.id, zone.name) for zone in zones),
            tuple((group.id, group.name, group.count) for group in groups),
        )

    def rowCount(self, _parent: AnyIndex = QModelIndex()) -> int:  # noqa: B008 - Qt's own default
        """One row a zone."""
        return len(self.project.zones) if self.project and self.scheme else 0

    def columnCount(self, _parent: AnyIndex = QModelIndex()) -> int:  # noqa: B008 - likewise
        """One column a group."""
        return len(self.project.groups) if self.project and self.scheme else 0

    def ids(self, index: AnyIndex) -> tuple[str, str]:
        """Group and zone of a cell."""
        if self.project is None or not index.isValid():
            return "", ""
        return self.project.groups[index.column()].id, self.project.zones[index.row()].id

    def share(self, index: AnyIndex) -> Share | None:
        """The cell of the document."""
        return None if self.scheme is None else self.scheme.share(*self.ids(index))

    def text(self, index: AnyIndex) -> str:
        """What a cell says."""
        share = self.share(index)
        if share is None:
            return ""
        count = len(share.step_ids)
        if share.kind is ShareKind.SHORT:
            return self.tr("short, without {0}").format(count)
        if share.kind is ShareKind.OWN:
            return self.tr("own stack of {0}").format(count)
        return share_words(share.kind)

    def data(self, index: AnyIndex, role: int = Qt.ItemDataRole.DisplayRole) -> Any:
        """Words for the screen, for screen readers and for the tooltip."""
        share = self.share(index)
        if share is None or self.project is None or self.scheme is None:
            return None
        if role == Qt.ItemDataRole.DisplayRole:
            return self.text(index)
        if role in {Qt.ItemDataRole.AccessibleTextRole, Qt.ItemDataRole.ToolTipRole}:
            group = self.project.groups[index.column()]
            zone = self.project.zones[index.row()]
            named = ", ".join(self.scheme.step(step_id).name for step_id in share.step_ids)
            tail = f": {named}" if named else ""
            return f"{group.name}, {zone.name}: {self.text(index)}{tail}"
        return None

    def headerData(
        self, section: int, orientation: Qt.Orientation, role: int = Qt.ItemDataRole.DisplayRole
    ) -> Any:
        """Names of zones and groups."""
        if role != Qt.ItemDataRole.DisplayRole or self.project is None:
            return None
        if orientation is Qt.Orientation.Vertical:
            return self.project.zones[section].name
        group = self.project.groups[section]
        return f"{group.name} ({group.count})"


class ShareDelegate(QStyledItemDelegate):
    """Draws each cell's pattern before its word: filled, half, dotted or empty."""

    def paint(self, painter: QPainter, option: QStyleOptionViewItem, index: AnyIndex) -> None:
        """Pattern and word, in the colours of the cell's state."""
        model = index.model()
        share = model.share(index) if isinstance(model, ShareModel) else None
        if share is None:
            return
        state: QStyle.StateFlag = option.state
        rect = QRectF(option.rect)
        palette = option.palette
        picked = bool(state & QStyle.StateFlag.State_Selected)
        ground = palette.highlight().color() if picked else palette.base().color()
        ink = palette.highlightedText().color() if picked else palette.text().color()
        painter.save()
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        painter.fillRect(rect, ground)
        size = QFontMetrics(option.font).ascent()
        box = QRectF(rect.left() + GAP, rect.center().y() - size / 2, size, size)
        paint_pattern(painter, box, share.kind, ink)
        painter.setPen(ink)
        painter.setFont(option.font)
        room = rect.adjusted(size + 2 * GAP, 0, -GAP, 0)
        metrics = QFontMetrics(option.font)
        text = metrics.elidedText(
            str(index.data()), Qt.TextElideMode.ElideRight, round(room.width())
        )
        flags = Qt.AlignmentFlag.AlignVCenter | Qt.AlignmentFlag.AlignLeft
        painter.drawText(room, flags, text)
        if state & QStyle.StateFlag.State_HasFocus:
            painter.setBrush(Qt.BrushStyle.NoBrush)
            painter.setPen(QPen(ink, 2, Qt.PenStyle.DotLine))
            painter.drawRect(rect.adjusted(2, 2, -2, -2))
        painter.restore()

    def sizeHint(self, option: QStyleOptionViewItem, index: AnyIndex) -> QSize:
        """Room for the pattern and the word."""
        metrics = QFontMetrics(option.font)
        wide = metrics.horizontalAdvance(str(index.data())) + metrics.ascent() + 4 * GAP
        return QSize(wide, metrics.lineSpacing() + 2 * GAP)


def paint_pattern(painter: QPainter, box: QRectF, kind: ShareKind, ink: QColor) -> None:
    """The sign of a share: a filled square, one half filled, one with dots, or a bare stroke."""
    painter.setPen(QPen(ink, 1.5))
    painter.setBrush(Qt.BrushStyle.NoBrush)
    if kind is ShareKind.NONE:
        painter.drawLine(
            QPointF(box.left(), box.center().y()), QPointF(box.right(), box.center().y())
        )
        return
    painter.drawRect(box)
    if kind is ShareKind.FULL:
        painter.fillRect(box, ink)
    elif kind is ShareKind.SHORT:
        half = QRectF(box.left(), box.center().y(), box.width(), box.height() / 2)
        painter.fillRect(half, ink)
    else:
        painter.setBrush(ink)
        for x in (0.3, 0.7):
            for y in (0.3, 0.7):
                at = QPointF(box.left() + x * box.width(), box.top() + y * box.height())
                painter.drawEllipse(at, 1.2, 1.2)


class ShareTable(FlatTable):
    """The grid; F, S, O and N set the picked cells.

    Signals:
        wanted: The kind whose key was pressed.
    """

    wanted = Signal(object)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Letters set cells, all else moves."""
        kind = KEYS.get(Qt.Key(event.key()))
        if kind is not None and not event.modifiers():
            self.wanted.emit(kind)
        else:
            super().keyPressEvent(event)


class SharesSection(Section):
    """The grid, and beneath it the picked cell: its kind and its coats."""

    def __init__(self, bridge: Bridge, parent: QWidget | None = None) -> None:
        super().__init__("", "", parent)
        self.bridge = bridge
        self.about.setText(
            self.tr(
                "Full: every coat. Short: named coats left out. Own stack: only the named steps. "
                "Keys F, S, O and N set the picked cells."
            )
        )
        self.model = ShareModel()
        self.table = ShareTable(self.tr("Who gets what"))
        self.table.setModel(self.model)
        tell_keys(
            self.table,
            ("F, S, O, N", self.tr("full, short, own stack or none for the picked cells")),
        )
        self.table.setItemDelegate(ShareDelegate(self.table))
        self.table.setSelectionMode(QAbstractItemView.SelectionMode.ExtendedSelection)
        head = self.table.horizontalHeader()
        head.setSectionResizeMode(QHeaderView.ResizeMode.Stretch)
        head.setHighlightSections(False)
        self.cell = words("", "heading")
        self.kind = Segments(
            self.tr("What this cell gets"),
            [
                (kind.value, share_words(kind), self.tr("Key {0}").format(letter))
                for kind, letter in zip(ShareKind, "FSON", strict=True)
            ],
        )
        self.which = words("", "muted")
        self.steps: dict[str, QPushButton] = {}
        self._flow = Flow()
        self._row = Flow()
        self._row.add(self.kind)
        self.empty = words(
            self.tr("There is nothing to share out yet: it takes a group, a zone and a scheme.")
        )
        for widget in (self.empty, self.table, self.cell, self._row, self.which, self._flow):
            self.body.addWidget(widget)
        self.table.wanted.connect(self._set_kind)
        self.kind.chosen.connect(lambda value: self._set_kind(ShareKind(value)))
        self.table.selectionModel().currentChanged.connect(lambda *_: self._show_cell())

    def show_state(self, _old: DeskState | None, new: DeskState) -> None:
        """Follow zones, groups and the picked scheme."""
        scheme = new.scheme
        name = scheme.name if scheme else ""
        title = self.tr('Who gets what in "{0}"').format(name) if name else self.tr("Who gets what")
        self.heading.setText(title)
        self.setAccessibleName(title)
        at = self.table.currentIndex()
        row, column = at.row(), at.column()
        if self.model.show_project(new.project, scheme):
            row, column = max(row, 0), max(column, 0)
            row = min(row, self.model.rowCount() - 1)
            column = min(column, self.model.columnCount() - 1)
            self.table.setCurrentIndex(self.model.index(row, column))
        filled = bool(self.model.rowCount() and self.model.columnCount())
        self.empty.setVisible(not filled)
        for widget in (self.table, self.cell, self._row):
            widget.setVisible(filled)
        columns = range(self.model.columnCount())
        head = self.table.horizontalHeader()
        # Columns share the width, but none gets too narrow for its words; then the table scrolls.
        wide = [max(self.table.sizeHintForColumn(c), head.sectionSizeHint(c)) for c in columns]
        head.setMinimumSectionSize(max(wide, default=40))
        self.table.fit()
        self._show_cell()

    def _show_cell(self) -> None:
        index = self.table.currentIndex()
        share = self.model.share(index) if index.isValid() else None
        shown = share is not None and share.kind in {ShareKind.SHORT, ShareKind.OWN}
        self.which.setVisible(shown)
        self._flow.setVisible(shown)
        project, scheme = self.model.project, self.model.scheme
        if share is None or project is None or scheme is None:
            return
        group, zone = project.group(share.group_id), project.zone(share.zone_id)
        self.cell.setText(self.tr("{0} on {1}").format(group.name, zone.name))
        self.kind.set_value(share.kind.value)
        if shown:
            short = share.kind is ShareKind.SHORT
            self.which.setText(self.tr("Left out:") if short else self.tr("Gets these steps:"))
            touching = [s for s in scheme.steps if zone.id in s.zone_ids]
            if short:
                touching = [s for s in touching if not s.by_name_only]
            self._show_steps(touching, share)

    def _show_steps(self, steps: list[Step], share: Share) -> None:
        if list(self.steps) != [step.id for step in steps]:
            self._flow.clear()
            self.steps = {}
            for step in steps:
                button = QPushButton()
                button.setCheckable(True)
                button.clicked.connect(lambda on, s=step.id: self._on_step(s, on=on))
                self._flow.add(button)
                self.steps[step.id] = button
        for step in steps:
            on = step.id in share.step_ids
            mark = ("✗ " if share.kind is ShareKind.SHORT else "✓ ") if on else ""
            button = self.steps[step.id]
            button.setChecked(on)
            button.setText(mark + step.name.replace("&", "&&"))
            button.setAccessibleName(f"{self.which.text()} {step.name}")

    def _on_step(self, step_id: str, *, on: bool) -> None:
        scheme, share = self.model.scheme, self.model.share(self.table.currentIndex())
        if scheme is None or share is None:
            return
        named = {*share.step_ids, step_id} if on else {*share.step_ids} - {step_id}
        ordered = tuple(step.id for step in scheme.steps if step.id in named)
        new = Share(
            group_id=share.group_id, zone_id=share.zone_id, kind=share.kind, step_ids=ordered
        )
        self.bridge.edit(self.tr("coats of a cell"), lambda p: edits.set_share(p, scheme.id, new))

    def _set_kind(self, kind: ShareKind) -> None:
        scheme = self.model.scheme
        cells = [self.model.ids(index) for index in self.table.selectedIndexes()]
        current = self.table.currentIndex()
        if not cells and current.isValid():
            cells = [self.model.ids(current)]
        if scheme is None or not cells:
            return

        def change(project: Project) -> Project:
            for group_id, zone_id in cells:
                new = new_share(project.scheme(scheme.id), group_id, zone_id, kind)
                if new != project.scheme(scheme.id).share(group_id, zone_id):
                    project = edits.set_share(project, scheme.id, new)
            return project

        self.bridge.edit(self.tr("who gets what"), change)
