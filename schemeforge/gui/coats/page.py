"""The Coats page."""

from typing import Any

import numpy as np
from numpy.typing import NDArray
from PySide6.QtCore import QPoint, QPointF, Qt, QTimer
from PySide6.QtGui import QKeySequence, QShortcut
from PySide6.QtWidgets import (
    QGridLayout,
    QHBoxLayout,
    QPushButton,
    QScrollArea,
    QSplitter,
    QVBoxLayout,
    QWidget,
)

from schemeforge.appearance import zone_tolerance
from schemeforge.desk import CancelToken, DeskState, Direction, Page, Surround
from schemeforge.desk.colours import cut_points
from schemeforge.gui.bridge import Bridge
from schemeforge.gui.coats.actions import StepActions
from schemeforge.gui.coats.after import AfterEachCoat
from schemeforge.gui.coats.coat_row import CoatRow
from schemeforge.gui.coats.cutaway import Cutaway
from schemeforge.gui.coats.knowing import WorthKnowing
from schemeforge.gui.coats.model_panel import ModelPanel
from schemeforge.gui.coats.zone_strip import ZoneStrip
from schemeforge.gui.icons import icon
from schemeforge.gui.page import PageView
from schemeforge.gui.reading import sure_words
from schemeforge.gui.recipes.choice import ZonePlace
from schemeforge.gui.recipes.offer import offer_zone, strip_at
from schemeforge.gui.theme import GAP, GAP_PAGE, theme_of
from schemeforge.gui.widgets.field import NumberBox
from schemeforge.gui.widgets.line import TextLine
from schemeforge.gui.widgets.strip import ColourStrip
from schemeforge.scheme import Finish, coloured_steps

_SETTLE_MS = 150
_TOLERANCE_POINTS = 7


class CoatsPage(PageView):
    """Zones, the colour as seen, the cutaway, the picked coat, and what stands after each coat."""

    def __init__(self, bridge: Bridge, parent: QWidget | None = None) -> None:
        super().__init__(bridge, parent)
        self.zones = ZoneStrip(bridge)
        self.seen = ColourStrip(self.tr("the colour as seen"), height=34)
        self.seen_words = TextLine(share=5)
        self.sure_words = TextLine(right=True, share=3)
        self.cutaway = Cutaway(bridge)
        self.turn = QPushButton()
        self.true_scale = QPushButton()
        self.judge = QPushButton(self.tr("Judge a test model"))
        self.across = NumberBox(
            self.tr("cut at"), low=0.0, high=100.0, step=5.0, decimals=0, unit="%"
        )
        self.actions_row = StepActions(bridge, self)
        self.coat = CoatRow(bridge)
        self.after = AfterEachCoat(bridge)
        self.model = ModelPanel(bridge)
        self.knowing = WorthKnowing(bridge)
        self._timer = QTimer(self)
        self._timer.setSingleShot(True)
        self._timer.setInterval(_SETTLE_MS)
        self._timer.timeout.connect(self._start_tolerance)
        self._stale = True
        self._dressed: tuple[Surround, bool] | None = None
        self._assemble()
        self._connect()
        self.watch()

    def _assemble(self) -> None:
        main = QVBoxLayout()
        main.setSpacing(GAP)
        main.addWidget(self.zones)
        main.addWidget(self.seen)
        caption = QHBoxLayout()
        caption.addWidget(self.seen_words)
        caption.addWidget(self.sure_words)
        self.judge.setProperty("role", "link")
        self.judge.setToolTip(
            self.tr("Lay the photograph of a painted test model beside what is planned here")
        )
        caption.addWidget(self.judge)
        main.addLayout(caption)
        main.addWidget(self.cutaway, 5)
        self._cut_controls()
        main.addWidget(self.actions_row)
        main.addWidget(self.coat)
        main.addWidget(self.after, 3)
        side = QVBoxLayout()
        side.addWidget(self.model, 5)
        side.addWidget(self.knowing, 4)
        left, right = _Column(), QWidget()
        main.setContentsMargins(0, GAP, 0, 0)
        side.setContentsMargins(GAP, GAP, 0, 0)
        left.setLayout(main)
        right.setLayout(side)
        split = QSplitter(Qt.Orientation.Horizontal)
        split.setChildrenCollapsible(False)
        split.setHandleWidth(GAP_PAGE // 2)
        split.addWidget(_scrolling(left))
        split.addWidget(right)
        split.setStretchFactor(0, 3)
        split.setStretchFactor(1, 1)
        split.setSizes([906, 276])
        whole = QGridLayout(self)
        whole.setContentsMargins(0, 0, 0, 0)
        whole.addWidget(split)

    def _cut_controls(self) -> None:
        self.across.setMaximumWidth(112)
        self.across.setPrefix(self.tr("at") + " ")
        self.true_scale.setCheckable(True)
        self.true_scale.setAccessibleName(self.tr("True scale"))
        self.true_scale.setToolTip(
            self.tr("Draw films to scale; a glaze dries to about a micrometre (T in the cutaway)")
        )
        for widget in (self.turn, self.true_scale, self.across):
            self.actions_row.add(widget)

    def _connect(self) -> None:
        rename = QShortcut(QKeySequence("F2"), self)
        rename.setWhatsThis(self.tr("Rename the picked step"))
        rename.setContext(Qt.ShortcutContext.WidgetWithChildrenShortcut)
        rename.activated.connect(self.coat.focus_name)
        select = self.bridge.session.select
        self.true_scale.clicked.connect(lambda on: select(true_scale=on))
        self.turn.clicked.connect(self._on_turn)
        self.judge.clicked.connect(self.bridge.judging)
        self.across.valueChanged.connect(lambda v: select(across=v / 100))
        self.cutaway.paint_dropped.connect(self._on_paint_dropped)
        self.coat.mix.changed_shared.connect(self.bridge.told)
        offer_zone(self.seen, self.bridge, self._seen_place)
        offer_zone(self.cutaway, self.bridge, self._band_place, mark=False)

    def _seen_place(self, at: QPoint | None) -> ZonePlace:
        pick = self.bridge.state.selection
        place = strip_at(self.seen, at)
        return ZonePlace(pick.scheme_id, pick.zone_id, None, place, pick.direction, pick.across)

    def _band_place(self, at: QPoint | None) -> ZonePlace:
        """The zone after the band under the pointer, or after the picked one."""
        state = self.bridge.state
        pick, after = state.selection, state.selection.step_id or None
        band = None if at is None else self.cutaway.band_at(QPointF(at))
        if band is not None and state.scheme is not None:
            after = coloured_steps(state.scheme, pick.zone_id)[band].id
        return ZonePlace(pick.scheme_id, pick.zone_id, after)

    def focus_first(self) -> QWidget:
        """The cutaway."""
        return self.cutaway

    def show_state(self, old: DeskState | None, new: DeskState) -> None:
        """Write everything; while another page is shown only note that it is stale."""
        if new.selection.page is not Page.COATS:
            self._stale = True
            return
        if self._stale:
            old = None
        self._stale = False
        seen_same = (
            old is not None
            and old.document is new.document
            and old.selection == new.selection
            and old.preferences == new.preferences
        )
        if seen_same:
            return
        self.zones.show_state(new)
        self._show_seen(new)
        self.cutaway.show_state(old, new)
        self._show_axis(new)
        self.actions_row.show_state(new)
        self.coat.show_state(new)
        self.after.show_state(new)
        self.model.show_state(new)
        self.knowing.show_state(new)

    def _show_seen(self, new: DeskState) -> None:
        scheme, zone, pick = new.scheme, new.zone, new.selection
        if scheme is None or zone is None:
            self.seen_words.setText(self.tr("No zone yet: add one on the Batch page."))
            return
        view = self.bridge.colours.zone(
            new.project,
            scheme,
            zone,
            new.project.viewing,
            direction=pick.direction,
            across=pick.across,
        )
        self.seen.set_ramp(view.final, numbers=new.preferences.numbers)
        self._timer.start()
        self.seen_words.setText(self._seen_words(new))

    def _seen_words(self, new: DeskState) -> str:
        viewing = new.project.viewing
        if viewing.wet:
            how = self.tr("While the last coat is wet")
        else:
            how = {
                Finish.MATT: self.tr("Dry under matt varnish"),
                Finish.UNVARNISHED: self.tr("Dry, unvarnished"),
                Finish.SATIN: self.tr("Dry under satin varnish"),
                Finish.GLOSS: self.tr("Dry under gloss varnish"),
            }[viewing.finish]
        middle = self.seen.reading(1.0 if new.selection.direction is Direction.RELIEF else 0.5)
        return f"{how}: {middle.text(numbers=new.preferences.numbers)}"

    def _show_axis(self, new: DeskState) -> None:
        pick, zone = new.selection, new.zone
        along = pick.direction is Direction.ALONG
        ends = zone.along_words if zone is not None else ("root", "tip")
        turned = (
            self.tr("Cut from recess to raised edge")
            if along
            else self.tr("Cut from {0} to {1}").format(*ends)
        )
        self.turn.setAccessibleName(turned)
        self.turn.setToolTip(self.tr("{0} (R in the cutaway)").format(turned))
        self.true_scale.setChecked(pick.true_scale)
        dressed = (new.preferences.surround, pick.true_scale)
        if dressed != self._dressed:
            self._dressed = dressed
            theme = theme_of(new.preferences.surround)
            self.turn.setIcon(icon("turn", theme.text))
            self.true_scale.setIcon(
                icon("true-scale", theme.on_accent if pick.true_scale else theme.text)
            )
        self.across.setToolTip(
            self.tr("Where between recess and raised edge the cut lies")
            if along
            else self.tr("Where between {0} and {1} the cut lies").format(*ends)
        )
        self.across.show_value(pick.across * 100)

    def _on_turn(self) -> None:
        along = self.bridge.state.selection.direction is Direction.ALONG
        self.bridge.session.select(direction=Direction.RELIEF if along else Direction.ALONG)

    def _on_paint_dropped(self, step_id: str, paint_id: str) -> None:
        self.bridge.session.select(step_id=step_id)
        self.coat.mix.put(paint_id)

    def _start_tolerance(self) -> None:
        state = self.bridge.state
        scheme, zone, pick = state.scheme, state.zone, state.selection
        if scheme is None or zone is None:
            return
        project = state.project
        if not coloured_steps(scheme, zone.id):
            self.sure_words.setText(self.tr("bare plastic: a rule of thumb"))
            return
        points = cut_points(zone, pick.direction, pick.across, _TOLERANCE_POINTS)

        def work(token: CancelToken) -> NDArray[Any]:
            found = zone_tolerance(
                project,
                scheme,
                zone.id,
                points,
                project.viewing,
                cancelled=lambda: token.is_cancelled,
            )
            return found.delta_e

        self.bridge.jobs.submit("tolerance", work, self._show_tolerance)

    def _show_tolerance(self, delta_e: NDArray[Any]) -> None:
        numbers = self.bridge.state.preferences.numbers
        self.seen.set_ramp(self.seen.xyz, tolerance=delta_e[-1])
        self.after.set_tolerance(delta_e)
        worst = float(np.max(delta_e[-1]))
        self.sure_words.setText(sure_words(worst, numbers=numbers))


class _Column(QWidget):
    """Asks a scroll area for no more height than it cannot do without."""

    def heightForWidth(self, width: int) -> int:
        """The least height at that width."""
        layout = self.layout()
        return -1 if layout is None else layout.minimumHeightForWidth(width)


def _scrolling(column: QWidget) -> QScrollArea:
    """The column, to be scrolled where a small window leaves less than it needs."""
    area = QScrollArea()
    area.setWidget(column)
    area.setWidgetResizable(True)
    area.setFocusPolicy(Qt.FocusPolicy.NoFocus)
    area.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
    area.setMinimumWidth(480)
    return area
