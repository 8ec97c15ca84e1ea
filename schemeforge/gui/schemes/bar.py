"""The row of choices over the candidates: how they are shown, and which."""

from collections.abc import Callable

from PySide6.QtCore import Signal
from PySide6.QtGui import QAction
from PySide6.QtWidgets import QHBoxLayout, QMenu, QProgressBar, QPushButton, QWidget

from schemeforge.comparison import yardstick_of
from schemeforge.desk import DeskState, Direction
from schemeforge.gui.bridge import Bridge
from schemeforge.gui.icons import icon
from schemeforge.gui.looking.strip import LookStrip
from schemeforge.gui.schemes.choice import MOST_SHOWN, Choice
from schemeforge.gui.theme import GAP, theme_of
from schemeforge.gui.widgets.flow import Flow
from schemeforge.gui.widgets.segments import Segments
from schemeforge.scheme import Scheme


class Bar(Flow):
    """Side by side or table, direction of the ramps, what is left out, progress.

    Signals:
        how: "side" or "table".
        cut: The direction of the ramps, a value of `Direction`.
        differing: True to show only what differs from the yardstick.
        which: A scheme's id, and True to show it.
    """

    how = Signal(str)
    cut = Signal(str)
    differing = Signal(bool)
    which = Signal(str, bool)

    def __init__(self, bridge: Bridge, parent: QWidget | None = None) -> None:
        super().__init__(parent, gap=GAP)
        self.views = Segments(
            self.tr("Show as"),
            [
                ("side", self.tr("Side by side"), self.tr("Figures, ramps and findings (T)")),
                ("table", self.tr("Table"), self.tr("Measures to sort (T)")),
            ],
        )
        self.views.chosen.connect(self.how)
        self.cuts = Segments(self.tr("Ramps run from"), self._cuts())
        self.cuts.chosen.connect(self.cut)
        self.only = QPushButton(self.tr("Only what differs"))
        self.only.setCheckable(True)
        self.only.setToolTip(
            self.tr("Hide zones that differ by less than 1 dE from the yardstick (O)")
        )
        self.only.clicked.connect(self.differing)
        self.shown = QPushButton()
        self.shown.setToolTip(self.tr("Choose which schemes are shown, at most six"))
        self.menu = QMenu(self)
        self.shown.setMenu(self.menu)
        self.add_scheme = QPushButton()
        self.add_scheme.setAccessibleName(self.tr("Add an empty scheme"))
        self.add_scheme.setToolTip(self.tr("One more candidate without any coat (Ctrl+Shift+D)"))
        self.rules = QPushButton(self.tr("Rules of thumb…"))
        self.rules.setToolTip(self.tr("What counts as enough, to be changed to your eye"))
        self.target = QPushButton(self.tr("Target…"))
        self.target.setToolTip(self.tr("Colours that the schemes are meant to come near"))
        self.strip = LookStrip(bridge)
        self.larger = QPushButton()
        self.larger.setAccessibleName(self.tr("Look at it large"))
        self.larger.setToolTip(
            self.tr("Large, two schemes on one model, three lights, a group (Ctrl+L)")
        )
        self.progress = QProgressBar()
        self.progress.setRange(0, 100)
        self.progress.setAccessibleName(self.tr("Measuring the schemes"))
        self.progress.setMaximumWidth(140)
        self.stop = QPushButton(self.tr("Stop"))
        self.busy = QWidget()
        row = QHBoxLayout(self.busy)
        row.setContentsMargins(0, 0, 0, 0)
        row.addWidget(self.progress)
        row.addWidget(self.stop)
        self.again = QPushButton(self.tr("Measure again"))
        for widget in (
            self.views,
            self.cuts,
            self.only,
            self.shown,
            self.add_scheme,
            self.rules,
            self.target,
            self.strip,
            self.larger,
            self.busy,
            self.again,
        ):
            self.add(widget)
        self.busy.hide()
        self.again.hide()

    def show_choice(self, state: DeskState, choice: Choice, shown: tuple[Scheme, ...]) -> None:
        """Show what is chosen."""
        self.views.set_value("table" if choice.table else "side")
        self.cuts.set_value(state.selection.direction.value)
        self.cuts.setEnabled(not choice.table)
        self.only.setChecked(choice.only_differing)
        self.only.setEnabled(not choice.table)
        self.strip.setEnabled(not choice.table)
        theme = theme_of(state.preferences.surround)
        self.add_scheme.setIcon(icon("add", theme.text))
        self.larger.setIcon(icon("larger", theme.text))
        total = len(state.project.schemes)
        self.shown.setVisible(total > 2)
        self.shown.setText(self.tr("Shown: {0} of {1}").format(len(shown), total))
        self._fill(state, {scheme.id for scheme in shown})

    def _cuts(self) -> list[tuple[str, str, str]]:
        return [
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
        ]

    def _fill(self, state: DeskState, ids: set[str]) -> None:
        self.menu.clear()
        yardstick = yardstick_of(state.project)
        for scheme in state.project.schemes:
            action = QAction(scheme.name.replace("&", "&&"), self.menu)
            action.setCheckable(True)
            action.setChecked(scheme.id in ids)
            full = len(ids) >= MOST_SHOWN and scheme.id not in ids
            action.setEnabled(scheme is not yardstick and not full)
            action.triggered.connect(self._teller(scheme.id))
            self.menu.addAction(action)

    def _teller(self, scheme_id: str) -> Callable[[bool], None]:
        return lambda on: self.which.emit(scheme_id, on)
