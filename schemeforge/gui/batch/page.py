"""The Batch page, first form: who is painted, in what order, with how much mix and time."""

from PySide6.QtCore import QRect, Qt
from PySide6.QtWidgets import QApplication, QScrollArea, QVBoxLayout, QWidget

from schemeforge import plan
from schemeforge.desk import DeskState, Page
from schemeforge.gui.batch.groups import GroupsSection
from schemeforge.gui.batch.hours import HoursSection
from schemeforge.gui.batch.in_time import InTimeSection
from schemeforge.gui.batch.lists import CautionsSection, PotsSection, StepsSection
from schemeforge.gui.batch.own_numbers import NumbersSection
from schemeforge.gui.batch.section import FlatTable
from schemeforge.gui.batch.shares import SharesSection
from schemeforge.gui.batch.zones import ZonesSection
from schemeforge.gui.bridge import Bridge
from schemeforge.gui.page import PageView
from schemeforge.gui.theme import GAP_WIDE
from schemeforge.plan.who import grid


class BatchPage(PageView):
    """Sections in one column that scrolls. While another page is shown it only marks itself."""

    def __init__(self, bridge: Bridge, parent: QWidget | None = None) -> None:
        super().__init__(bridge, parent)
        self._stale = False
        self.groups = GroupsSection(bridge)
        self.zones = ZonesSection(bridge)
        self.shares = SharesSection(bridge)
        self.steps = StepsSection(bridge)
        self.pots = PotsSection(bridge)
        self.numbers = NumbersSection(bridge)
        self.in_time = InTimeSection(bridge)
        self.hours = HoursSection(bridge)
        self.cautions = CautionsSection()
        column = QWidget()
        inside = QVBoxLayout(column)
        inside.setContentsMargins(0, 0, GAP_WIDE, 0)
        inside.setSpacing(GAP_WIDE)
        for section in (
            self.in_time,
            self.hours,
            self.groups,
            self.zones,
            self.shares,
            self.steps,
            self.pots,
            self.numbers,
            self.cautions,
        ):
            inside.addWidget(section)
        inside.addStretch(1)
        self.area = QScrollArea()
        self.area.setWidgetResizable(True)
        self.area.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.area.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        self.area.setWidget(column)
        whole = QVBoxLayout(self)
        whole.setContentsMargins(0, 0, 0, 0)
        whole.addWidget(self.area)
        for table in self._tables():
            table.moved.connect(lambda rect, t=table: self._on_moved(t, rect))
        app = QApplication.instance()
        if isinstance(app, QApplication):
            app.focusChanged.connect(self._on_focus)
        self.watch()

    def show_state(self, old: DeskState | None, new: DeskState) -> None:
        """Show what changed, or remember it until the page is shown."""
        if new.selection.page is not Page.BATCH:
            self._stale = True
            return
        first = old is None or self._stale
        self._stale = False
        dressed = first or (old is not None and old.preferences != new.preferences)
        changed = dressed or (old is not None and old.project is not new.project)
        picked = old is not None and old.selection.scheme_id != new.selection.scheme_id
        if changed:
            self.groups.show_state(old, new)
            self.zones.show_state(old, new)
            self.numbers.show_state(new)
        if changed or picked:
            self.shares.show_state(old, new)
            self._show_plan(new)

    def _show_plan(self, state: DeskState) -> None:
        project, scheme = state.project, state.scheme
        self.in_time.show_plan(state)
        if scheme is None:
            self.steps.show_steps("", ())
            self.pots.show_pots("", ())
            self.cautions.show_steps(())
            self.hours.show_hours(None, state)
            return
        cells = grid(project, scheme)
        steps = plan.planned_steps(project, scheme, cells=cells)
        filled = plan.pots(project, scheme, cells=cells)
        self.steps.show_steps(scheme.id, steps)
        self.pots.show_pots(scheme.id, filled)
        self.cautions.show_steps(steps)
        hours = plan.hands_on(project, scheme, steps=steps, filled=filled)
        self.hours.show_hours(hours, state)

    def _tables(self) -> tuple[FlatTable, ...]:
        return self.shares.table, self.steps.table, self.pots.table

    def _on_focus(self, _old: QWidget | None, new: QWidget | None) -> None:
        """Scroll to what the keys went to."""
        if isinstance(new, FlatTable):
            self._on_moved(new, new.current_rect())
        elif new is not None and self.area.isAncestorOf(new):
            self.area.ensureWidgetVisible(new, 0, GAP_WIDE)

    def _on_moved(self, table: FlatTable, rect: QRect) -> None:
        """Scroll to the cell that the keys went to."""
        column = self.area.widget()
        if column is not None and column.isAncestorOf(table):
            at = table.mapTo(column, rect.center())
            self.area.ensureVisible(at.x(), at.y(), 0, rect.height() // 2 + GAP_WIDE)
