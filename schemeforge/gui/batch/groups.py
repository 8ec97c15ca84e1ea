"""Groups of the batch: how many models, which first, needed by when."""

from collections.abc import Callable
from dataclasses import replace

from PySide6.QtWidgets import QHBoxLayout, QLineEdit, QVBoxLayout, QWidget

from schemeforge.desk import DeskState
from schemeforge.gui.batch.rows import Rows
from schemeforge.gui.batch.section import Section, dress, tool, write
from schemeforge.gui.bridge import Bridge
from schemeforge.gui.counting import counted
from schemeforge.gui.theme import GAP, theme_of
from schemeforge.gui.widgets.field import Field, NumberBox
from schemeforge.gui.widgets.flow import Flow
from schemeforge.gui.widgets.labels import words
from schemeforge.scheme import Group, edits


class GroupRow(QWidget):
    """One group: everything about it can be edited in its row."""

    def __init__(self, bridge: Bridge, group_id: str, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.bridge = bridge
        self._id = group_id
        wide = self.fontMetrics().averageCharWidth()
        self.name = QLineEdit()
        self.name.setMaxLength(120)
        self.name.setMinimumWidth(wide * 34)
        self.count = NumberBox(self.tr("Models"), low=0, high=10000, step=1, decimals=0)
        self.priority = NumberBox(self.tr("Priority"), low=1, high=99, step=1, decimals=0)
        self.priority.setToolTip(self.tr("1 is finished first"))
        self.needed_by = QLineEdit()
        self.needed_by.setPlaceholderText(self.tr("YYYY-MM-DD"))
        self.needed_by.setToolTip(self.tr("Year, month and day, or empty for no date"))
        self.tools = (
            tool("up", self.tr("Move the group up"), lambda: self._move(-1)),
            tool("down", self.tr("Move the group down"), lambda: self._move(1)),
            tool("remove", self.tr("Remove the group"), self._remove),
        )
        flow = Flow()
        for caption, control in (
            (self.tr("Group"), self.name),
            (self.tr("Models"), self.count),
            (self.tr("Priority"), self.priority),
            (self.tr("Needed by"), self.needed_by),
        ):
            flow.add(Field(caption, control))
        row = QHBoxLayout(self)
        row.setContentsMargins(0, 0, 0, 0)
        row.setSpacing(GAP)
        row.addWidget(flow, 1)
        buttons = QHBoxLayout()
        for button in self.tools:
            buttons.addWidget(button)
        side = QVBoxLayout()
        side.addStretch(1)
        side.addLayout(buttons)
        row.addLayout(side)
        self.name.editingFinished.connect(self._on_name)
        self.count.valueChanged.connect(
            lambda v: self._edit(self.tr("number of models"), lambda g: replace(g, count=int(v)))
        )
        self.priority.valueChanged.connect(
            lambda v: self._edit(self.tr("priority"), lambda g: replace(g, priority=int(v)))
        )
        self.needed_by.editingFinished.connect(self._on_date)

    @property
    def _group(self) -> Group:
        return self.bridge.state.project.group(self._id)

    def show_group(self, group: Group, colour: str) -> None:
        """Write the row."""
        write(self.name, group.name)
        write(self.needed_by, group.needed_by)
        self.count.show_value(group.count)
        self.priority.show_value(group.priority)
        for button in self.tools:
            dress(button, colour)
            button.setAccessibleDescription(group.name)

    def _edit(self, label: str, change: Callable[[Group], Group]) -> bool:
        return self.bridge.edit(label, lambda p: edits.update_group(p, change(p.group(self._id))))

    def _on_name(self) -> None:
        text = self.name.text()
        self.name.setModified(False)
        if text != self._group.name and not self._edit(
            self.tr("rename group"), lambda g: replace(g, name=text)
        ):
            write(self.name, self._group.name)

    def _on_date(self) -> None:
        text = self.needed_by.text().strip()
        self.needed_by.setModified(False)
        if text != self._group.needed_by and not self._edit(
            self.tr("date of a group"), lambda g: replace(g, needed_by=text)
        ):
            write(self.needed_by, self._group.needed_by)

    def _move(self, by: int) -> None:
        ids = [group.id for group in self.bridge.state.project.groups]
        to = ids.index(self._id) + by
        if 0 <= to < len(ids):
            self.bridge.edit(self.tr("move group"), lambda p: edits.move_group(p, self._id, to))

    def _remove(self) -> None:
        name = self._group.name
        if self.bridge.edit(self.tr("remove group"), lambda p: edits.remove_group(p, self._id)):
            self.bridge.told.emit(self.tr('"{0}" is gone; undo brings it back.').format(name))


class GroupsSection(Section):
    """All groups, and one more at the press of a button."""

    def __init__(self, bridge: Bridge, parent: QWidget | None = None) -> None:
        super().__init__("", "", parent)
        self.bridge = bridge
        self.about.setText(self.tr("Models that are treated alike. Priority 1 is finished first."))
        self.list: Rows[GroupRow] = Rows(lambda group_id: GroupRow(bridge, group_id))
        self.empty = words(self.tr("No models yet: add a group and say how many there are."))
        self.add = self.add_button(self.tr("Add a group"), self._add)
        self.body.addWidget(self.empty)
        self.body.addWidget(self.list)

    def show_state(self, _old: DeskState | None, new: DeskState) -> None:
        """Follow the groups."""
        groups = new.project.groups
        models = sum(group.count for group in groups)
        title = self.tr("Groups: {0} in {1}").format(
            counted(models, self.tr("{0} model"), self.tr("{0} models")),
            counted(len(groups), self.tr("{0} group"), self.tr("{0} groups")),
        )
        self.heading.setText(title)
        self.setAccessibleName(title)
        self.list.follow([group.id for group in groups])
        colour = theme_of(new.preferences.surround).text
        for group in groups:
            self.list.rows[group.id].show_group(group, colour)
        self.empty.setVisible(not groups)

    def _add(self) -> None:
        groups = self.bridge.state.project.groups
        name = edits.fresh_name(self.tr("New group"), (g.name for g in groups))
        new = Group(id=edits.fresh_id(name, (g.id for g in groups)), name=name, count=1)
        if self.bridge.edit(self.tr("add group"), lambda p: edits.add_group(p, new)):
            row = self.list.rows[new.id]
            row.name.setFocus()
            row.name.selectAll()
