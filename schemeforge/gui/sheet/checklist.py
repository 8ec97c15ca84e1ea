"""The checklist beside the paper: what stands on the sheet, for whom, on which paper."""

from datetime import UTC, datetime

from PySide6.QtCore import QSignalBlocker, Signal
from PySide6.QtWidgets import QComboBox, QHBoxLayout, QVBoxLayout, QWidget

from schemeforge.export.options import Section, SheetOptions
from schemeforge.gui.sheet.tick_line import TickLine
from schemeforge.gui.theme import GAP, GAP_TIGHT, Theme
from schemeforge.gui.widgets.flow import Flow
from schemeforge.gui.widgets.labels import words
from schemeforge.gui.widgets.segments import Segments
from schemeforge.scheme import Project


class Checklist(QWidget):
    """Ticks, group and paper; they are remembered here only, not in the document.

    Signals:
        changed: The user asked for another sheet.
    """

    changed = Signal()

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._wanted_group: str | None = None
        self.lines: dict[Section, TickLine] = {}
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(0)
        self.heading = words(self.tr("On the sheet"), "title")
        column.addWidget(self.heading)
        column.addSpacing(GAP_TIGHT)
        for section, text, tip in self._sections():
            line = TickLine(text, tip)
            line.set_ticked(True)
            line.ticked.connect(self._on_ticked)
            self.lines[section] = line
            column.addWidget(line)
        self.date = TickLine(self.tr("Today's date"), self.tr("In the upper right corner"))
        self.date.set_ticked(True)
        self.date.ticked.connect(self._on_ticked)
        column.addWidget(self.date)
        self.large = TickLine(self.tr("Large type"), self.tr("On as many sides as it takes"))
        self.large.ticked.connect(self._on_ticked)
        column.addWidget(self.large)
        column.addSpacing(GAP_TIGHT)
        column.addWidget(words(self.tr("Cautions and stop rules are always printed."), "muted"))
        column.addSpacing(GAP)
        column.addLayout(self._who())
        column.addSpacing(GAP)
        column.addWidget(self._paper())

    def _sections(self) -> tuple[tuple[Section, str, str], ...]:
        return (
            (
                Section.PICTURE,
                self.tr("Picture of the model"),
                self.tr("The stand-in as the scheme will stand, on the front and on the strip"),
            ),
            (
                Section.FINISHED,
                self.tr("Finished model, zones numbered"),
                self.tr("An outline with its zones, and how each ends"),
            ),
            (Section.STOCK, self.tr("Paints to fetch"), self.tr("With ml needed and ml left")),
            (
                Section.SITTINGS,
                self.tr("Sittings and hours"),
                self.tr("Which steps fall into which sitting"),
            ),
            (
                Section.WHO,
                self.tr("Who gets what"),
                self.tr("Groups by zones: full, short, own, none"),
            ),
            (
                Section.SWATCHES,
                self.tr("Each coat's colour, dry and wet"),
                self.tr("True to size, with room for the painted chip"),
            ),
            (
                Section.TOLERANCES,
                self.tr("How sure each colour is"),
                self.tr("Printed with the colours: 9 of 10 repeats land within it (CIEDE2000)"),
            ),
            (
                Section.MIXES,
                self.tr("Mixes and how to top up"),
                self.tr("In parts, drops, grams and ml for the whole batch"),
            ),
            (
                Section.ADVICE,
                self.tr("What to look for, and cures"),
                self.tr("What right and wrong look like at each step"),
            ),
            (
                Section.TIMES,
                self.tr("Minutes and waits"),
                self.tr("Minutes, with a space for your own timing"),
            ),
        )

    def _who(self) -> QHBoxLayout:
        self.group = QComboBox()
        self.group.setToolTip(self.tr("Print the recipe of the whole batch or of one group"))
        self.group.setSizeAdjustPolicy(
            QComboBox.SizeAdjustPolicy.AdjustToMinimumContentsLengthWithIcon
        )
        self.group.setMinimumContentsLength(14)
        self.group.activated.connect(self._on_group)
        self.group.setAccessibleName(self.tr("For"))
        label = words(self.tr("For"))
        label.setWordWrap(False)
        label.setBuddy(self.group)
        row = QHBoxLayout()
        row.setSpacing(GAP)
        row.addWidget(label)
        row.addWidget(self.group, 1)
        return row

    def _paper(self) -> Flow:
        self.paper = Segments(
            self.tr("Paper"),
            [
                ("A4", self.tr("A4"), self.tr("210 x 297 mm")),
                ("Letter", self.tr("Letter"), self.tr("216 x 279 mm, 8.5 x 11 inches")),
            ],
        )
        self.way = Segments(
            self.tr("Paper lies"),
            [
                ("upright", self.tr("Upright"), self.tr("The short edge on top")),
                ("across", self.tr("Across"), self.tr("The long edge on top")),
            ],
        )
        self.paper.set_value("A4")
        self.way.set_value("upright")
        for choice in (self.paper, self.way):
            choice.chosen.connect(lambda _value: self.changed.emit())
        flow = Flow(gap=GAP)
        flow.add(self.paper)
        flow.add(self.way)
        return flow

    def options(self) -> SheetOptions:
        """What is asked for now."""
        now = datetime.now(tz=UTC).astimezone().replace(tzinfo=None, microsecond=0)
        return SheetOptions(
            paper=self.paper.value,
            landscape=self.way.value == "across",
            include=frozenset(s for s, line in self.lines.items() if line.is_ticked),
            group_id=self._wanted_group,
            today=now.date() if self.date.is_ticked else None,
            now=now,
            roomy=self.large.is_ticked,
        )

    def show_project(self, project: Project) -> None:
        """Offer its groups; one that is gone or empty is no longer wanted."""
        groups = [(group.name, group.id) for group in project.groups if group.count]
        if self._wanted_group not in {group_id for _, group_id in groups}:
            self._wanted_group = None
        listed = [
            (self.group.itemText(n), self.group.itemData(n)) for n in range(self.group.count())
        ]
        wanted = [(self.tr("The whole batch"), None), *groups]
        with QSignalBlocker(self.group):
            if listed != wanted:
                self.group.clear()
                for name, group_id in wanted:
                    self.group.addItem(name, group_id)
            self.group.setCurrentIndex(max(self.group.findData(self._wanted_group), 0))
        self.group.setEnabled(len(groups) > 1)

    def dress(self, theme: Theme) -> None:
        """Take the colours of a surround."""
        for line in (*self.lines.values(), self.date, self.large):
            line.dress(theme)

    def _on_ticked(self, _on: bool) -> None:
        sure, colours = self.lines[Section.TOLERANCES], self.lines[Section.SWATCHES]
        sure.setEnabled(colours.is_ticked)
        self.changed.emit()

    def _on_group(self, row: int) -> None:
        self._wanted_group = self.group.itemData(row)
        self.changed.emit()
