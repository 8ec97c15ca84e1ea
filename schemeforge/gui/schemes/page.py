"""The Schemes page: candidates side by side or as a table, one of them the yardstick."""

from dataclasses import dataclass

from PySide6.QtCore import QPoint, Qt
from PySide6.QtGui import QAction, QKeySequence, QShortcut
from PySide6.QtWidgets import (
    QApplication,
    QHBoxLayout,
    QLabel,
    QMenu,
    QProgressBar,
    QPushButton,
    QSizePolicy,
    QStackedWidget,
    QVBoxLayout,
    QWidget,
)

from schemeforge.comparison import Comparison, yardstick_of
from schemeforge.desk import DeskState, Direction, Page
from schemeforge.gui.bridge import Bridge
from schemeforge.gui.icons import icon
from schemeforge.gui.page import PageView
from schemeforge.gui.schemes.actions import SchemeActions
from schemeforge.gui.schemes.board import Board, View
from schemeforge.gui.schemes.head import scheme_of
from schemeforge.gui.schemes.measuring import Measuring, Request
from schemeforge.gui.schemes.rules_dialog import RulesDialog
from schemeforge.gui.schemes.table import SchemeTable, TableView
from schemeforge.gui.theme import GAP, GAP_WIDE, theme_of
from schemeforge.gui.widgets.flow import Flow
from schemeforge.gui.widgets.segments import Segments
from schemeforge.scheme import Scheme

MOST_SHOWN = 6


@dataclass(frozen=True, slots=True)
class Choice:
    """What the page itself remembers: which schemes are left out, and how they are shown."""

    left_out: frozenset[str] = frozenset()
    table: bool = False
    only_differing: bool = False
    whole: bool = True


def shown_schemes(
    schemes: tuple[Scheme, ...], left_out: frozenset[str], always: tuple[str, ...]
) -> tuple[Scheme, ...]:
    """At most six schemes in order: those in ``always`` first of all, then those not left out."""
    wanted = [s for s in schemes if s.id not in left_out or s.id in always]
    rest = [s for s in wanted if s.id not in always]
    room = MOST_SHOWN - (len(wanted) - len(rest))
    kept = {*always, *(s.id for s in rest[: max(room, 0)])}
    return tuple(s for s in wanted if s.id in kept)


class SchemesPage(PageView):
    """Two to six candidates on the same figure, the same ramps, the same scale and light."""

    def __init__(self, bridge: Bridge, parent: QWidget | None = None) -> None:
        super().__init__(bridge, parent)
        self.actions_ = SchemeActions(bridge, self)
        self.measuring = Measuring(bridge, self)
        self.choice = Choice()
        self.comparison: Comparison | None = None
        self._stale = True
        self._waiting = ""
        self._rules: RulesDialog | None = None
        self.board = Board(bridge, self.actions_)
        self.table = SchemeTable()
        self._make_bar()
        self._make_empty()
        self._assemble()
        self._make_shortcuts()
        self.board.picked.connect(self._on_picked)
        self.table.picked.connect(lambda scheme_id: self._on_picked(scheme_id, ""))
        self.table.zone_picked.connect(self._on_scope)
        self.measuring.measured.connect(self._on_measured)
        self.measuring.slow.connect(self._busy.show)
        self.measuring.over.connect(self._busy.hide)
        self.measuring.progress.connect(lambda share: self.bar.setValue(round(100 * share)))
        self.measuring.stopped.connect(self._on_stopped)
        self.setContextMenuPolicy(Qt.ContextMenuPolicy.CustomContextMenu)
        self.customContextMenuRequested.connect(self._on_menu)
        self.watch()

    @property
    def shown(self) -> tuple[Scheme, ...]:
        """The schemes shown, in order."""
        project = self.bridge.state.project
        yardstick = yardstick_of(project)
        always = (yardstick.id,) if yardstick is not None else ()
        picked = self.bridge.state.selection.scheme_id
        if picked and picked not in self.choice.left_out:
            always = tuple(dict.fromkeys((*always, picked)))
        return shown_schemes(project.schemes, self.choice.left_out, always)

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
            self._refresh(new)

    def _refresh(self, state: DeskState) -> None:
        shown = self.shown
        yardstick = yardstick_of(state.project)
        self._ask(state, shown)
        view = View(
            state,
            shown,
            "" if yardstick is None else yardstick.id,
            self._fitting(state, shown),
            self._waiting,
            self.choice.only_differing,
        )
        self.board.show_view(view)
        self.table.show_view(
            TableView(
                view.comparison,
                state.project.zones,
                "" if self.choice.whole else state.selection.zone_id,
                state.selection.scheme_id,
                state.preferences.thresholds,
                theme_of(state.preferences.surround),
                self._waiting,
            )
        )
        self._views.setCurrentWidget(self.table if self.choice.table else self._side)
        self._show_bar(state, shown)
        few = len(state.project.schemes) < 2 or not state.project.zones
        self._empty.setVisible(few)
        self.board.setVisible(bool(state.project.schemes) and bool(state.project.zones))
        self._say_empty(state)

    def _ask(self, state: DeskState, shown: tuple[Scheme, ...]) -> None:
        if not shown or not state.project.zones:
            self.measuring.forget()
            self.comparison = None
            return
        ids = tuple(scheme.id for scheme in shown)
        request = Request(state.project, ids, state.preferences.thresholds)
        self._waiting = self.tr("Measuring…")
        self.measuring.ask(request)

    def _fitting(self, state: DeskState, shown: tuple[Scheme, ...]) -> Comparison | None:
        """The comparison at hand where it is about these very schemes and colours."""
        found = self.comparison
        if found is None:
            return None
        yardstick = yardstick_of(state.project)
        same = [entry.scheme for entry in found.schemes]
        fits = len(same) == len(shown) and all(a is b for a, b in zip(same, shown, strict=True))
        like = yardstick is not None and yardstick.id == found.yardstick_id
        return found if fits and like and not self.measuring.is_busy else None

    def _on_measured(self, comparison: Comparison) -> None:
        self.comparison = comparison
        if self.bridge.state.selection.page is Page.SCHEMES:
            self._refresh(self.bridge.state)
        else:
            self._stale = True

    def _on_stopped(self) -> None:
        self.comparison = None
        self._waiting = self.tr("Not measured.")
        self._again.show()
        view = View(self.bridge.state, self.shown, "", None, self._waiting, only_differing=False)
        self.board.show_view(view)

    def _on_again(self) -> None:
        self._again.hide()
        self._refresh(self.bridge.state)

    def _make_bar(self) -> None:
        self.how = Segments(
            self.tr("Show as"),
            [
                ("side", self.tr("Side by side"), self.tr("Figures, ramps and findings (T)")),
                ("table", self.tr("Table"), self.tr("Measures to sort (T)")),
            ],
        )
        self.how.chosen.connect(lambda value: self._choose(table=value == "table"))
        self.cut = Segments(
            self.tr("Ramps run from"),
            [
                (
                    Direction.RELIEF.value,
                    self.tr("Recess to raised"),
                    self.tr("Ramps from the recess, left, to the raised edge, right"),
                ),
                (
                    Direction.ALONG.value,
                    self.tr("Root to tip"),
                    self.tr("Ramps along the part, root at the left"),
                ),
            ],
        )
        self.cut.chosen.connect(lambda v: self.bridge.session.select(direction=Direction(v)))
        self.differing = QPushButton(self.tr("Only what differs"))
        self.differing.setCheckable(True)
        self.differing.setToolTip(
            self.tr("Hide zones that differ by less than 1 dE from the yardstick (O)")
        )
        self.differing.clicked.connect(lambda on: self._choose(only_differing=on))
        self.which = QPushButton()
        self.which.setToolTip(self.tr("Choose which schemes are shown, at most six"))
        self.which_menu = QMenu(self)
        self.which.setMenu(self.which_menu)
        self.add = QPushButton(self.tr("Add an empty scheme"))
        self.add.setToolTip(self.tr("One more candidate without any coat (Ctrl+Shift+D)"))
        self.add.clicked.connect(self.actions_.add)
        self.rules = QPushButton(self.tr("Rules of thumb…"))
        self.rules.setToolTip(self.tr("What counts as enough, to be changed to your eye"))
        self.rules.clicked.connect(self._on_rules)
        self.bar = QProgressBar()
        self.bar.setRange(0, 100)
        self.bar.setAccessibleName(self.tr("Measuring the schemes"))
        self.bar.setMaximumWidth(140)
        self.stop = QPushButton(self.tr("Stop"))
        self.stop.clicked.connect(self.measuring.stop)
        self._busy = QWidget()
        row = QHBoxLayout(self._busy)
        row.setContentsMargins(0, 0, 0, 0)
        row.addWidget(self.bar)
        row.addWidget(self.stop)
        self._again = QPushButton(self.tr("Measure again"))
        self._again.clicked.connect(self._on_again)

    def _make_empty(self) -> None:
        self._empty = QWidget()
        self.empty_words = QLabel()
        self.empty_words.setWordWrap(True)
        self.empty_words.setTextFormat(Qt.TextFormat.PlainText)
        self.empty_words.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Minimum)
        self.empty_do = QPushButton()
        self.empty_do.clicked.connect(self._on_empty)
        column = QVBoxLayout(self._empty)
        column.addStretch(1)
        column.addWidget(self.empty_words)
        column.addWidget(self.empty_do, 0, Qt.AlignmentFlag.AlignLeft)
        column.addStretch(2)

    def _assemble(self) -> None:
        bar = Flow(gap=GAP)
        for widget in (self.how, self.cut, self.differing, self.which, self.add, self.rules):
            bar.add(widget)
        bar.add(self._busy)
        bar.add(self._again)
        self._busy.hide()
        self._again.hide()
        self._side = QWidget()
        side = QHBoxLayout(self._side)
        side.setContentsMargins(0, 0, 0, 0)
        side.setSpacing(GAP_WIDE)
        side.addWidget(self.board, 3)
        side.addWidget(self._empty, 2)
        self._views = QStackedWidget()
        self._views.addWidget(self._side)
        self._views.addWidget(self.table)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(GAP)
        column.addWidget(bar)
        column.addWidget(self._views, 1)

    def _make_shortcuts(self) -> None:
        self.shortcuts: dict[str, QShortcut] = {}
        for key, _icon, _words, keys, action in self.actions_.all():
            self._shortcut(key, keys, lambda a=action: self._act(a))
        self._shortcut("rename", "F2", lambda: self._rename(self.current_id))
        self._shortcut("vary", "Ctrl+Return", lambda: self._act(self.actions_.vary))
        self._shortcut("add", "Ctrl+Shift+D", self.actions_.add)
        self._shortcut("previous", "Alt+Left", lambda: self.board.step(-1))
        self._shortcut("next", "Alt+Right", lambda: self.board.step(1))
        self._shortcut("table", "T", lambda: self._choose(table=not self.choice.table))
        self._shortcut(
            "differing",
            "O",
            lambda: self._choose(only_differing=not self.choice.only_differing),
        )

    def _shortcut(self, name: str, keys: str, do: object) -> None:
        shortcut = QShortcut(QKeySequence(keys), self)
        shortcut.setContext(Qt.ShortcutContext.WidgetWithChildrenShortcut)
        shortcut.activated.connect(do)
        self.shortcuts[name] = shortcut

    def _act(self, action: object) -> None:
        here = self.current_id
        if here and callable(action):
            action(here)
            if self.bridge.state.selection.page is Page.SCHEMES:
                self.board.focus_column(here)

    def _rename(self, scheme_id: str) -> None:
        if scheme_id:
            self._choose(table=False)
            self.board.rename(scheme_id)

    def _choose(self, **changes: bool) -> None:
        now = self.choice
        self.choice = Choice(
            left_out=now.left_out,
            table=changes.get("table", now.table),
            only_differing=changes.get("only_differing", now.only_differing),
            whole=changes.get("whole", now.whole),
        )
        self._refresh(self.bridge.state)

    def _leave_out(self, left_out: frozenset[str]) -> None:
        now = self.choice
        self.choice = Choice(left_out, now.table, now.only_differing, now.whole)
        self._refresh(self.bridge.state)

    def _on_picked(self, scheme_id: str, zone_id: str) -> None:
        zone = {"zone_id": zone_id} if zone_id else {}
        self.bridge.session.select(scheme_id=scheme_id, **zone)

    def _on_scope(self, zone_id: str) -> None:
        if zone_id:
            self.bridge.session.select(zone_id=zone_id)
        self._choose(whole=not zone_id)

    def _on_rules(self) -> None:
        if self._rules is None:
            self._rules = RulesDialog(self.bridge, self)
        self._rules.show()
        self._rules.raise_()

    def _on_empty(self) -> None:
        project = self.bridge.state.project
        if not project.zones:
            self.bridge.session.select(page=Page.BATCH)
        elif not project.schemes:
            self.actions_.add()
        else:
            self.actions_.duplicate(project.schemes[0].id)

    def _say_empty(self, state: DeskState) -> None:
        project = state.project
        if not project.zones:
            words = self.tr(
                "There is no zone to paint yet. Say on Batch what the model is made of."
            )
            button = self.tr("Go to Batch")
        elif not project.schemes:
            words = self.tr("There is no scheme yet. Add one, then lay its coats on Coats.")
            button = self.tr("Add an empty scheme")
        else:
            words = self.tr(
                "One scheme alone has nothing to be held against. Duplicate it and change a coat "
                "of the copy: both then stand here side by side, in the same light and at the "
                "same scale, with what tells them apart in words."
            )
            button = self.tr("Duplicate and vary (Ctrl+D)")
        self.empty_words.setText(words)
        self.empty_do.setText(button)

    def _show_bar(self, state: DeskState, shown: tuple[Scheme, ...]) -> None:
        self.how.set_value("table" if self.choice.table else "side")
        self.cut.set_value(state.selection.direction.value)
        self.cut.setEnabled(not self.choice.table)
        self.differing.setChecked(self.choice.only_differing)
        self.differing.setEnabled(not self.choice.table)
        theme = theme_of(state.preferences.surround)
        self.add.setIcon(icon("add", theme.text))
        total = len(state.project.schemes)
        self.which.setVisible(total > 2)
        self.which.setText(self.tr("Shown: {0} of {1}").format(len(shown), total))
        self._fill_which(state, shown)

    def _fill_which(self, state: DeskState, shown: tuple[Scheme, ...]) -> None:
        self.which_menu.clear()
        ids = {scheme.id for scheme in shown}
        yardstick = yardstick_of(state.project)
        for scheme in state.project.schemes:
            action = QAction(scheme.name.replace("&", "&&"), self.which_menu)
            action.setCheckable(True)
            action.setChecked(scheme.id in ids)
            is_yardstick = yardstick is not None and scheme.id == yardstick.id
            full = len(ids) >= MOST_SHOWN and scheme.id not in ids
            action.setEnabled(not is_yardstick and not full)
            action.triggered.connect(lambda on, i=scheme.id: self._on_which(i, on))
            self.which_menu.addAction(action)

    def _on_which(self, scheme_id: str, on: bool) -> None:
        shown = {scheme.id for scheme in self.shown}
        wanted = shown | {scheme_id} if on else shown - {scheme_id}
        every = {scheme.id for scheme in self.bridge.state.project.schemes}
        self._leave_out(frozenset(every - wanted))

    def _on_menu(self, at: QPoint) -> None:
        widget = self.childAt(at)
        here = scheme_of(widget) or self.current_id
        if here:
            self.menu_for(here).popup(self.mapToGlobal(at))

    def menu_for(self, scheme_id: str) -> QMenu:
        """Everything that can be done with a scheme, with its keys."""
        menu = QMenu(self)
        menu.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose)
        theme = theme_of(self.bridge.state.preferences.surround)
        entries = [
            ("rename", "rename", self.tr("Rename"), "F2", self._rename),
            ("vary", "page-coats", self.tr("Work on it on Coats"), "Ctrl+Return", None),
        ]
        for key, icon_name, words, keys, action in (*entries, *self.actions_.all()):
            do = self.actions_.vary if action is None else action
            entry = menu.addAction(icon(icon_name, theme.text), f"{words}\t{keys}")
            entry.setObjectName(key)
            entry.triggered.connect(lambda _on=False, d=do: d(scheme_id))
        return menu
