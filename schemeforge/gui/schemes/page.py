"""The Schemes page: candidates side by side or as a table, one of them the yardstick."""

from collections.abc import Callable
from dataclasses import replace
from functools import partial

from PySide6.QtCore import QPoint, Qt
from PySide6.QtGui import QKeySequence, QShortcut
from PySide6.QtWidgets import (
    QApplication,
    QHBoxLayout,
    QMenu,
    QStackedWidget,
    QVBoxLayout,
    QWidget,
)

from schemeforge.comparison import Comparison, yardstick_of
from schemeforge.desk import DeskState, Direction, Page
from schemeforge.desk.targets import target_of
from schemeforge.gui.bridge import Bridge
from schemeforge.gui.icons import icon
from schemeforge.gui.keys import tell_keys
from schemeforge.gui.page import PageView
from schemeforge.gui.schemes.actions import SchemeActions
from schemeforge.gui.schemes.bar import Bar
from schemeforge.gui.schemes.board import Board, View
from schemeforge.gui.schemes.choice import Choice, shown_schemes
from schemeforge.gui.schemes.empty import Empty
from schemeforge.gui.schemes.head import scheme_of
from schemeforge.gui.schemes.measuring import Measuring
from schemeforge.gui.schemes.request import Request
from schemeforge.gui.schemes.rules_dialog import RulesDialog
from schemeforge.gui.schemes.table import SchemeTable, TableView
from schemeforge.gui.schemes.target_dialog import TargetDialog
from schemeforge.gui.theme import GAP, GAP_WIDE, theme_of
from schemeforge.scheme import Project, Scheme


class SchemesPage(PageView):
    """Two to six candidates on the same figure, the same ramps, the same scale and light."""

    def __init__(self, bridge: Bridge, parent: QWidget | None = None) -> None:
        super().__init__(bridge, parent)
        self.actions_ = SchemeActions(bridge, self)
        self.measuring = Measuring(bridge, self)
        self.choice = Choice()
        self.comparison: Comparison | None = None
        self._stale = True
        self._late = False
        self._halted: Project | None = None
        self._waiting = ""
        self.rules: RulesDialog | None = None
        self.target: TargetDialog | None = None
        self.bar = Bar(bridge)
        self.board = Board(bridge, self.actions_)
        self.table = SchemeTable()
        self.empty = Empty(bridge, self.actions_)
        self.shortcuts: dict[str, QShortcut] = {}
        self._assemble()
        self._connect()
        self._make_shortcuts()
        self.watch()

    @property
    def shown(self) -> tuple[Scheme, ...]:
        """The schemes shown, in order."""
        return shown_schemes(self.bridge.state, self.choice.left_out)

    @property
    def current_id(self) -> str:
        """The scheme that keys act on: that of the focused column, else the one picked."""
        focused = scheme_of(QApplication.focusWidget())
        ids = [scheme.id for scheme in self.bridge.state.project.schemes]
        return focused if focused in ids else self.bridge.state.selection.scheme_id

    def show_state(self, old: DeskState | None, new: DeskState) -> None:
        """Show the candidates, or note that there is something to show once this is the page."""
        changed = (
            old is None
            or old.project is not new.project
            or old.selection is not new.selection
            or old.preferences is not new.preferences
        )
        self._stale = self._stale or changed
        if new.selection.page is Page.SCHEMES and self._stale:
            self._stale = False
            self._refresh()

    def menu_for(self, scheme_id: str) -> QMenu:
        """Everything that can be done with a scheme, with its keys."""
        menu = QMenu(self)
        menu.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose)
        theme = theme_of(self.bridge.state.preferences.surround)
        first = (
            ("rename", "rename", self.tr("Rename"), "F2", self._rename),
            ("note", "rename", self.tr("Note"), "Ctrl+F2", self._note),
            ("vary", "page-coats", self.tr("Work on it on Coats"), "Ctrl+Return", self.vary),
        )
        for key, icon_name, words, keys, action in (*first, *self.actions_.all()):
            entry = menu.addAction(icon(icon_name, theme.text), f"{words}\t{keys}")
            entry.setObjectName(key)
            entry.triggered.connect(lambda _on=False, do=action: do(scheme_id))
        return menu

    def scheme_at(self, at: QPoint) -> str:
        """Id of the scheme in whose column a point lies, else of the one that keys act on."""
        return scheme_of(self.childAt(at)) or self.current_id

    def vary(self, scheme_id: str) -> None:
        """On to Coats with that scheme."""
        self.actions_.vary(scheme_id)

    def look(self) -> None:
        """At the picked scheme large, beside another."""
        from schemeforge.gui.looking.room import look
        from schemeforge.gui.looking.shot import Arrangement

        look(self.bridge, self, Arrangement.SPLIT)

    def _refresh(self) -> None:
        state, shown = self.bridge.state, self.shown
        project, yardstick = state.project, yardstick_of(state.project)
        self._ask(state, shown)
        found = self._fitting(state, shown)
        self.bar.show_choice(state, self.choice, shown)
        self.board.show_view(
            View(
                state,
                shown,
                "" if yardstick is None else yardstick.id,
                found,
                self._waiting,
                self.choice.only_differing,
            )
        )
        if self.choice.table:
            self._show_table(state, found)
        self._views.setCurrentWidget(self.table if self.choice.table else self._side)
        self.board.setVisible(bool(project.schemes) and bool(project.zones))
        self.empty.show_project(project)

    def _show_table(self, state: DeskState, found: Comparison | None) -> None:
        self.table.show_view(
            TableView(
                found,
                state.project.zones,
                "" if self.choice.whole else state.selection.zone_id,
                state.selection.scheme_id,
                state.preferences.thresholds,
                theme_of(state.preferences.surround),
                self._waiting,
            )
        )

    def _ask(self, state: DeskState, shown: tuple[Scheme, ...]) -> None:
        """Have them measured, unless the painter stopped just that."""
        if not shown or not state.project.zones:
            self.measuring.forget()
            self.comparison, self._late = None, False
            return
        if self._halted is state.project:
            return
        self._halted = None
        self.bar.again.hide()
        self._waiting = self.tr("Measuring…")
        ids = tuple(scheme.id for scheme in shown)
        target = target_of(state.preferences.targets, state.project.id)
        self.measuring.ask(Request(state.project, ids, state.preferences.thresholds, target))

    def _fitting(self, state: DeskState, shown: tuple[Scheme, ...]) -> Comparison | None:
        """The comparison at hand where it is about these schemes, zones and yardstick.

        While the next one is worked out the last one stays, so that nothing flickers; where that
        takes long it is taken away.
        """
        found = self.comparison
        if found is None or self._late:
            return None
        yardstick = yardstick_of(state.project)
        zones = [zone.id for zone in state.project.zones]
        fits = [entry.scheme.id for entry in found.schemes] == [scheme.id for scheme in shown]
        fits = fits and all(
            [zone.zone_id for zone in entry.measures.zones] == zones for entry in found.schemes
        )
        like = yardstick is not None and yardstick.id == found.yardstick_id
        return found if fits and like else None

    def _on_measured(self, comparison: Comparison) -> None:
        self.comparison, self._late = comparison, False
        self._show_again()

    def _on_slow(self) -> None:
        self._late = True
        self.bar.busy.show()
        self._show_again()

    def _on_stopped(self) -> None:
        self.comparison, self._late = None, False
        self._halted = self.bridge.state.project
        self._waiting = self.tr("Not measured.")
        self.bar.again.show()
        self._show_again()

    def _on_again(self) -> None:
        self._halted = None
        self._refresh()

    def _show_again(self) -> None:
        if self.bridge.state.selection.page is Page.SCHEMES:
            self._refresh()
        else:
            self._stale = True

    def _assemble(self) -> None:
        self._side = QWidget()
        side = QHBoxLayout(self._side)
        side.setContentsMargins(0, 0, 0, 0)
        side.setSpacing(GAP_WIDE)
        side.addWidget(self.board, 3)
        side.addWidget(self.empty, 2)
        self._views = QStackedWidget()
        self._views.addWidget(self._side)
        self._views.addWidget(self.table)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(GAP)
        column.addWidget(self.bar)
        column.addWidget(self._views, 1)

    def _connect(self) -> None:
        bar, measuring = self.bar, self.measuring
        bar.how.connect(lambda value: self._choose(replace(self.choice, table=value == "table")))
        bar.cut.connect(lambda v: self.bridge.session.select(direction=Direction(v)))
        bar.differing.connect(lambda on: self._choose(replace(self.choice, only_differing=on)))
        bar.which.connect(self._on_which)
        bar.add_scheme.clicked.connect(self.actions_.add)
        bar.rules.clicked.connect(self._on_rules)
        bar.target.clicked.connect(self._on_target)
        bar.larger.clicked.connect(self.look)
        bar.stop.clicked.connect(measuring.stop)
        bar.again.clicked.connect(self._on_again)
        self.board.picked.connect(self._on_picked)
        self.table.picked.connect(lambda scheme_id: self._on_picked(scheme_id, ""))
        self.table.zone_picked.connect(self._on_scope)
        measuring.measured.connect(self._on_measured)
        measuring.slow.connect(self._on_slow)
        measuring.over.connect(bar.busy.hide)
        measuring.progress.connect(lambda share: bar.progress.setValue(round(100 * share)))
        measuring.stopped.connect(self._on_stopped)
        self.setContextMenuPolicy(Qt.ContextMenuPolicy.CustomContextMenu)
        self.customContextMenuRequested.connect(self._on_menu)

    def _make_shortcuts(self) -> None:
        for key, _icon, words, keys, action in self.actions_.all():
            self._shortcut(key, keys, words, partial(self._act, action))
        self._shortcut("rename", "F2", self.tr("Rename"), lambda: self._rename(self.current_id))
        words = self.tr("Note on the scheme")
        self._shortcut("note", "Ctrl+F2", words, lambda: self._note(self.current_id))
        words = self.tr("Go to its coats")
        self._shortcut("vary", "Ctrl+Return", words, lambda: self._act(self.vary))
        self._shortcut("add", "Ctrl+Shift+D", self.tr("Add a scheme"), self.actions_.add)
        words = self.tr("The scheme before")
        self._shortcut("previous", "Alt+Left", words, lambda: self.board.step(-1))
        words = self.tr("The scheme after")
        self._shortcut("next", "Alt+Right", words, lambda: self.board.step(1))
        words = self.tr("Table, or side by side")
        self._shortcut("table", "T", words, self._turn_table)
        words = self.tr("Show only what differs, or all")
        self._shortcut("differing", "O", words, self._turn_differing)
        tell_keys(
            self.board,
            (self.tr("Up, Down"), self.tr("pick the zone before or after")),
            (self.tr("Left, Right"), self.tr("pick the scheme beside")),
        )

    def _shortcut(self, name: str, keys: str, words: str, do: Callable[[], object]) -> None:
        shortcut = QShortcut(QKeySequence(keys), self)
        shortcut.setWhatsThis(words)
        shortcut.setContext(Qt.ShortcutContext.WidgetWithChildrenShortcut)
        shortcut.activated.connect(do)
        self.shortcuts[name] = shortcut

    def _turn_table(self) -> None:
        self._choose(replace(self.choice, table=not self.choice.table))
        (self.table.view if self.choice.table else self.bar.views.button("side")).setFocus()

    def _turn_differing(self) -> None:
        self._choose(replace(self.choice, only_differing=not self.choice.only_differing))

    def _act(self, action: Callable[[str], None]) -> None:
        """Do something with the scheme at hand; the focus stays with its column."""
        here = self.current_id
        if not here:
            return
        action(here)
        if self.bridge.state.selection.page is Page.SCHEMES and not self.choice.table:
            there = {scheme.id for scheme in self.shown}
            picked = self.bridge.state.selection.scheme_id
            self.board.focus_column(here if here in there else picked)

    def _rename(self, scheme_id: str) -> None:
        if scheme_id:
            self._choose(replace(self.choice, table=False))
            self.board.rename(scheme_id)

    def _note(self, scheme_id: str) -> None:
        if scheme_id:
            self._choose(replace(self.choice, table=False))
            self.board.note(scheme_id)

    def _choose(self, choice: Choice) -> None:
        self.choice = choice
        self._refresh()

    def _on_which(self, scheme_id: str, on: bool) -> None:
        shown = {scheme.id for scheme in self.shown}
        wanted = shown | {scheme_id} if on else shown - {scheme_id}
        every = {scheme.id for scheme in self.bridge.state.project.schemes}
        self._choose(replace(self.choice, left_out=frozenset(every - wanted)))

    def _on_picked(self, scheme_id: str, zone_id: str) -> None:
        zone = {"zone_id": zone_id} if zone_id else {}
        self.bridge.session.select(scheme_id=scheme_id, **zone)

    def _on_scope(self, zone_id: str) -> None:
        if zone_id:
            self.bridge.session.select(zone_id=zone_id)
        self._choose(replace(self.choice, whole=not zone_id))

    def _on_rules(self) -> None:
        if self.rules is None:
            self.rules = RulesDialog(self.bridge, self)
        self.rules.show()
        self.rules.activateWindow()

    def _on_target(self) -> None:
        if self.target is None:
            self.target = TargetDialog(self.bridge, self)
        self.target.show()
        self.target.activateWindow()

    def _on_menu(self, at: QPoint) -> None:
        here = self.scheme_at(at)
        if here:
            self.menu_for(here).popup(self.mapToGlobal(at))
