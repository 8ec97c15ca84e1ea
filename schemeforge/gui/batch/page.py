"""The Batch page: what to do now, the sittings, the clock, pots, and who is painted with what."""

from PySide6.QtCore import QRect, Qt, QTimer
from PySide6.QtWidgets import QApplication, QScrollArea, QStackedLayout, QVBoxLayout, QWidget

from schemeforge import plan
from schemeforge.desk import DeskState, Page
from schemeforge.gui.batch.clock_panel import ClockPanel
from schemeforge.gui.batch.clock_section import ClockSection
from schemeforge.gui.batch.cutting import CutSection
from schemeforge.gui.batch.groups import GroupsSection
from schemeforge.gui.batch.hours import HoursSection
from schemeforge.gui.batch.keeper import keeper_of
from schemeforge.gui.batch.lists import CautionsSection, StepsSection
from schemeforge.gui.batch.making import Made, Planner
from schemeforge.gui.batch.now import NowSection
from schemeforge.gui.batch.own_numbers import NumbersSection
from schemeforge.gui.batch.pots import PotsSection
from schemeforge.gui.batch.ranks import RanksSection
from schemeforge.gui.batch.records import RecordsSection
from schemeforge.gui.batch.section import FlatTable, Section
from schemeforge.gui.batch.shares import SharesSection
from schemeforge.gui.batch.time_line import TimeLineSection
from schemeforge.gui.batch.trying import TryingSection
from schemeforge.gui.batch.zones import ZonesSection
from schemeforge.gui.bridge import Bridge
from schemeforge.gui.page import PageView
from schemeforge.gui.theme import GAP_WIDE, theme_of
from schemeforge.plan.who import grid


class BatchPage(PageView):
    """Sections in one column that scrolls; the clock's large figures take its place.

    While another page is shown it only marks itself.
    """

    def __init__(self, bridge: Bridge, parent: QWidget | None = None) -> None:
        super().__init__(bridge, parent)
        self._stale = self._greeted = False
        self.keeper = keeper_of(bridge)
        self.planner = Planner(bridge, self.keeper, self)
        self.now = NowSection(bridge)
        self.time_line = TimeLineSection(bridge)
        self.clock = ClockSection(bridge, self.keeper)
        self.cut = CutSection(bridge)
        self.trying = TryingSection(bridge)
        self.pots = PotsSection(bridge)
        self.records = RecordsSection(bridge)
        self.hours = HoursSection(bridge)
        self.groups = GroupsSection(bridge)
        self.zones = ZonesSection(bridge)
        self.shares = SharesSection(bridge)
        self.ranks = RanksSection(bridge)
        self.steps = StepsSection(bridge)
        self.numbers = NumbersSection(bridge)
        self.cautions = CautionsSection()
        self.large: ClockPanel | None = None
        self._folds: dict[str, Section] = {
            "cut": self.cut,
            "trying": self.trying,
            "pots": self.pots,
            "records": self.records,
            "hours": self.hours,
            "groups": self.groups,
            "zones": self.zones,
            "shares": self.shares,
            "ranks": self.ranks,
            "steps": self.steps,
            "numbers": self.numbers,
            "cautions": self.cautions,
        }
        self._assemble()
        self._connect()
        self.watch()

    def show_state(self, old: DeskState | None, new: DeskState) -> None:
        """Show what changed, or remember it until the page is shown."""
        if new.selection.page is not Page.BATCH:
            self._stale = True
            self.planner.rest()
            return
        first = old is None or self._stale
        self._stale = False
        dressed = first or (old is not None and old.preferences != new.preferences)
        changed = dressed or (old is not None and old.project is not new.project)
        picked = old is not None and old.selection.scheme_id != new.selection.scheme_id
        if dressed:
            self._show_folds(new)
        if changed:
            self.groups.show_state(old, new)
            self.zones.show_state(old, new)
            self.numbers.show_state(new)
        if changed or picked:
            self.shares.show_state(old, new)
            self.records.show_state(new)
            self._show_lists(new)
        if dressed:
            self._show_plan(self.planner.latest)
        for section in self._folds.values():
            section.name_fold()
        if first or picked or (old is not None and old.project is not new.project):
            self.planner.want(new)

    def unfold(self, *names: str) -> None:
        """Open those sections, or all where none is named."""
        opened = self.bridge.state.preferences.unfolded
        wanted = names or tuple(self._folds)
        self.bridge.session.prefer(unfolded=tuple(dict.fromkeys((*opened, *wanted))))

    def show_large(self) -> None:
        """The clock's large figures in place of the page, or the page again."""
        if self.large is None:
            self.large = ClockPanel(self.bridge, self.keeper, large=True)
            self.large.resized.connect(self.show_large)
            self.large.show_plan(self.planner.latest, self.bridge.state)
            self._stack.addWidget(self.large)
        if self._stack.currentWidget() is self.large:
            self._stack.setCurrentWidget(self.area)
            self.clock.panel.setFocus()
        else:
            self._stack.setCurrentWidget(self.large)
            self.large.setFocus()

    def _assemble(self) -> None:
        column = QWidget()
        inside = QVBoxLayout(column)
        inside.setContentsMargins(0, 0, GAP_WIDE, 0)
        inside.setSpacing(GAP_WIDE)
        for section in (self.now, self.time_line, self.clock, *self._folds.values()):
            inside.addWidget(section)
        inside.addStretch(1)
        self.area = QScrollArea()
        self.area.setWidgetResizable(True)
        self.area.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.area.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        self.area.setWidget(column)
        self._stack = QStackedLayout(self)
        self._stack.setContentsMargins(0, 0, 0, 0)
        self._stack.addWidget(self.area)

    def _connect(self) -> None:
        for table in self._tables():
            table.moved.connect(lambda rect, t=table: self._on_moved(t, rect))
        evenings = self.time_line.evenings
        evenings.moved.connect(lambda rect: self._on_moved(evenings, rect))
        evenings.shifted.connect(self._on_shifted)
        self.planner.made.connect(self._show_plan)
        self.planner.slow.connect(self.now.show_slow)
        self.now.start.connect(self._on_start)
        self.now.cut.connect(self._on_cut)
        self.now.sittings.connect(self._on_sittings)
        self.clock.panel.resized.connect(self.show_large)
        for name, section in self._folds.items():
            section.folded.connect(lambda closed, n=name: self._on_fold(n, closed=closed))
        app = QApplication.instance()
        if isinstance(app, QApplication):
            app.focusChanged.connect(self._on_focus)

    def _on_shifted(self, by: int) -> None:
        """Keep under the pointer what was picked, though something above it came or went."""
        bar = self.area.verticalScrollBar()
        bar.setValue(bar.value() + by)

    def _show_lists(self, state: DeskState) -> None:
        """What can be told at once, without a plan."""
        project, scheme = state.project, state.scheme
        if scheme is None:
            self.steps.show_steps("", ())
            self.pots.show_pots(state, (), ())
            self.cautions.show_steps(())
            self.hours.show_hours(None, state)
            return
        cells = grid(project, scheme)
        steps = plan.planned_steps(project, scheme, cells=cells)
        filled = plan.pots(project, scheme, cells=cells)
        if self.steps.is_open:  # its long table costs time, and opening it comes here again
            self.steps.show_steps(scheme.id, steps)
        self.pots.show_pots(state, filled, plan.paint_needs(project, scheme, filled=filled))
        self.cautions.show_steps(steps)
        hours = plan.hands_on(project, scheme, steps=steps, filled=filled)
        self.hours.show_hours(hours, state)

    def _show_plan(self, made: Made | None) -> None:
        """Give the plan to everything that shows some of it."""
        state = self.bridge.state
        for section in (self.now, self.time_line, self.clock.panel, self.cut, self.trying):
            section.show_plan(made, state)
        self.pots.show_plan(made, state)
        if self.large is not None:
            self.large.show_plan(made, state)
        if made is not None and not self._greeted:
            self._greeted = True  # the answers took their place above what has the focus
            QTimer.singleShot(0, self, lambda: self.area.verticalScrollBar().setValue(0))

    def _show_folds(self, state: DeskState) -> None:
        """Open and close the sections; where nothing is planned yet, those that it takes."""
        colour = theme_of(state.preferences.surround).text
        opened = set(state.preferences.unfolded)
        if not any(group.count for group in state.project.groups):
            opened.add("groups")
        for name, section in self._folds.items():
            section.set_open(on=name in opened, colour=colour)

    def _on_fold(self, name: str, *, closed: bool) -> None:
        opened = self.bridge.state.preferences.unfolded
        if closed:
            self.bridge.session.prefer(unfolded=tuple(n for n in opened if n != name))
        else:
            self.unfold(name)

    def show_clock(self) -> None:
        """Scroll to the step clock and give it the keyboard."""
        self.clock.panel.setFocus()
        self.area.ensureWidgetVisible(self.clock.panel, 0, GAP_WIDE)

    def _on_start(self, step_id: str, group_id: str) -> None:
        self.clock.panel.begin(step_id, group_id)
        self.show_clock()

    def _on_sittings(self) -> None:
        self.unfold("hours")
        self.hours.add.setFocus()

    def _on_cut(self) -> None:
        self.unfold("cut")
        self.cut.open()
        self.area.ensureWidgetVisible(self.cut.heading, 0, 200)

    def _tables(self) -> tuple[FlatTable, ...]:
        return self.shares.table, self.steps.table, self.pots.table

    def _on_focus(self, _old: QWidget | None, new: QWidget | None) -> None:
        """Scroll to what the keys went to."""
        if isinstance(new, FlatTable):
            self._on_moved(new, new.current_rect())
        elif new is not None and self.area.isAncestorOf(new):
            self.area.ensureWidgetVisible(new, 0, GAP_WIDE)

    def _on_moved(self, within: QWidget, rect: QRect) -> None:
        """Scroll to the cell or the step that the keys went to."""
        column = self.area.widget()
        if column is not None and column.isAncestorOf(within):
            at = within.mapTo(column, rect.center())
            self.area.ensureVisible(at.x(), at.y(), 0, rect.height() // 2 + GAP_WIDE)
