"""Candidates side by side: heads and figures on top, zones in rows beneath, then findings."""

from dataclasses import dataclass
from functools import partial

from PySide6.QtCore import QEvent, QPoint, QSize, Qt, Signal
from PySide6.QtGui import QResizeEvent
from PySide6.QtWidgets import (
    QApplication,
    QGridLayout,
    QHBoxLayout,
    QLabel,
    QLayout,
    QScrollArea,
    QSizePolicy,
    QVBoxLayout,
    QWidget,
)

from schemeforge.comparison import Comparison
from schemeforge.desk import DeskState
from schemeforge.gui.bridge import Bridge
from schemeforge.gui.recipes.choice import ZonePlace
from schemeforge.gui.recipes.offer import offer_stand_in, offer_zone, strip_at
from schemeforge.gui.schemes.actions import SchemeActions
from schemeforge.gui.schemes.figure import Figure, Shown
from schemeforge.gui.schemes.head import Head, scheme_of
from schemeforge.gui.schemes.taking_line import told
from schemeforge.gui.schemes.tall import Tall
from schemeforge.gui.schemes.verdict import Tally, Verdict
from schemeforge.gui.schemes.zone_cell import ZoneCell
from schemeforge.gui.theme import GAP, GAP_TIGHT, GAP_WIDE, theme_of
from schemeforge.gui.widgets.stand_in import WHOLE, StandInView
from schemeforge.scheme import Scheme, Zone

_LABELS = 118
_LEAST, _MOST = 130, 330
# A column as wide as this shows the figure beside the stand-in model.
_BOTH = 250


@dataclass(frozen=True, slots=True)
class View:
    """What the board shows."""

    state: DeskState
    schemes: tuple[Scheme, ...]
    yardstick_id: str
    comparison: Comparison | None
    waiting: str
    only_differing: bool

    @property
    def zones(self) -> tuple[Zone, ...]:
        """The zones shown."""
        if not self.only_differing or self.comparison is None:
            return self.state.project.zones
        seen = self.comparison.differing_zones()
        return tuple(zone for zone in self.state.project.zones if zone.id in seen)


class _Pair(QWidget):
    """Stand-in model and figure beside each other, asking for no more width than any column.

    Columns of heads and of ramps are two grids: they only share the width alike where nothing
    in them asks for more.
    """

    def __init__(self) -> None:
        super().__init__()
        self.setSizePolicy(QSizePolicy.Policy.Ignored, QSizePolicy.Policy.Preferred)

    def sizeHint(self) -> QSize:
        """The width of one figure, and the height of what is in it."""
        layout = self.layout()
        return QSize(150, 190 if layout is None else layout.sizeHint().height())

    def minimumSizeHint(self) -> QSize:
        """No width."""
        return QSize(-1, self.sizeHint().height())


@dataclass(slots=True)
class Column:
    """The widgets of one scheme."""

    head: Head
    stand_in: StandInView
    figure: Figure
    pair: QWidget
    tally: Tally
    cells: dict[str, ZoneCell]
    verdict: Verdict


class Board(QWidget):
    """Columns of schemes that line up zone by zone.

    Signals:
        picked: Scheme id and zone id; the latter "" where only the scheme was picked.
    """

    picked = Signal(str, str)

    def __init__(
        self, bridge: Bridge, actions: SchemeActions, parent: QWidget | None = None
    ) -> None:
        super().__init__(parent)
        self.bridge = bridge
        self.actions_ = actions
        self.columns: dict[str, Column] = {}
        self.labels: dict[str, QLabel] = {}
        self._key: tuple[tuple[str, ...], tuple[str, ...]] = ((), ())
        self._heads = QWidget()
        self._body = QWidget()
        self.same = QLabel(
            self.tr("No zone differs from the yardstick by 1 dE or more: nothing to see here.")
        )
        self.area = QScrollArea()
        self.area.setWidgetResizable(True)
        self.area.setVerticalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOn)
        self.area.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.area.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        self._frame = QVBoxLayout(self)
        self._frame.setContentsMargins(0, 0, 0, 0)
        self._frame.setSpacing(GAP)
        self._frame.addWidget(self._heads)
        self._frame.addWidget(self.area, 1)

    def show_view(self, view: View) -> None:
        """Show the candidates, making new widgets only for new columns or rows."""
        project = view.state.project
        key = (tuple(s.id for s in view.schemes), tuple(z.id for z in project.zones))
        focus = None
        if key != self._key:
            focus = self._focus_place()
            self._build(view, key)
        shown = {zone.id for zone in view.zones}
        self.same.setVisible(not shown and bool(project.zones))
        for zone in project.zones:
            self.labels[zone.id].setText(zone.name)
            self.labels[zone.id].setVisible(zone.id in shown)
        for scheme in view.schemes:
            self._show_column(view, scheme, shown)
        if focus is not None:
            self._focus_again(*focus)

    def focus_column(self, scheme_id: str) -> None:
        """Put the focus on a scheme's figure, or on its stand-in model where that is all."""
        column = self.columns.get(scheme_id)
        if column is not None:
            (column.stand_in if column.figure.isHidden() else column.figure).setFocus()

    def _focus_place(self) -> tuple[int, str, str] | None:
        """Place and id of the column with the focus, and its button where it is on one."""
        focused = QApplication.focusWidget()
        here = scheme_of(focused)
        if focused is None or not self.isAncestorOf(focused) or here not in self.columns:
            return None
        buttons = self.columns[here].head.buttons.items()
        name = next((name for name, button in buttons if button is focused), "")
        return list(self.columns).index(here), here, name

    def _focus_again(self, place: int, scheme_id: str, button: str) -> None:
        """The focus where it was before the columns were made anew, or on the neighbour."""
        if not self.columns:
            return
        there = list(self.columns)[min(place, len(self.columns) - 1)]
        if scheme_id not in self.columns:
            self.focus_column(there)
            return
        again = self.columns[scheme_id].head.buttons.get(button)
        if again is not None and again.isEnabled():
            again.setFocus()
        else:
            self.focus_column(scheme_id)

    def rename(self, scheme_id: str) -> None:
        """Change the name of a scheme in place."""
        if scheme_id in self.columns:
            self.columns[scheme_id].head.name.begin()

    def note(self, scheme_id: str) -> None:
        """Change the note on a scheme in place."""
        if scheme_id in self.columns:
            self.columns[scheme_id].head.note.begin()

    def show_verdict(self, scheme_id: str) -> None:
        """Bring the findings of a scheme into view."""
        verdict = self.columns[scheme_id].verdict
        self.area.verticalScrollBar().setValue(verdict.y())
        if verdict.more.isVisible():
            verdict.more.setFocus()

    def step(self, by: int) -> None:
        """The focus to the same place of the neighbouring column."""
        ids = list(self.columns)
        focused = QApplication.focusWidget()
        here = scheme_of(focused) or self.bridge.state.selection.scheme_id
        if here not in ids:
            return
        there = ids[min(max(ids.index(here) + by, 0), len(ids) - 1)]
        row = focused.parentWidget() if focused is not None else None
        if isinstance(row, ZoneCell):
            self.picked.emit(there, row.zone_id)
            self._enter(there, row.zone_id)
        else:
            self.picked.emit(there, "")
            self.focus_column(there)

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Higher windows get larger figures."""
        super().resizeEvent(event)
        self._size_figures()

    def changeEvent(self, event: QEvent) -> None:
        """A style of its own width of scroll bar keeps the columns in line."""
        super().changeEvent(event)
        if event.type() == QEvent.Type.StyleChange:
            self._align()

    def _size_figures(self) -> None:
        tall = min(max(round(self.height() * 0.33), _LEAST), _MOST)
        for column in self.columns.values():
            column.figure.setFixedHeight(tall)
            column.stand_in.setFixedHeight(tall)
            wide = column.pair.width() >= _BOTH or column.stand_in.isHidden()
            column.figure.setVisible(wide)

    def _move(self, scheme_id: str, zone_id: str, by: int) -> None:
        """The focus to the next ramp shown, or from the first up to the figure."""
        ids = [known for known, label in self.labels.items() if not label.isHidden()]
        at = ids.index(zone_id) + by
        if at < 0:
            self.focus_column(scheme_id)
        elif at < len(ids):
            self._enter(scheme_id, ids[at])

    def _enter(self, scheme_id: str, zone_id: str) -> None:
        strip = self.columns[scheme_id].cells[zone_id].strip
        strip.setFocus()
        self.area.ensureWidgetVisible(self.columns[scheme_id].cells[zone_id])

    def _build(self, view: View, key: tuple[tuple[str, ...], tuple[str, ...]]) -> None:
        self._key = key
        heads, body = QWidget(), Tall()
        top, rows = QGridLayout(heads), QGridLayout(body)
        zones = view.state.project.zones
        self.columns, self.labels = {}, {}
        self._figure_hint = QLabel(self.tr("zones to scale,\nroot on top"))
        self._figure_hint.setProperty("role", "muted")
        self._figure_hint.setWordWrap(True)
        self._figure_hint.setSizePolicy(QSizePolicy.Policy.Ignored, QSizePolicy.Policy.Minimum)
        top.addWidget(self._figure_hint, 1, 0, Qt.AlignmentFlag.AlignBottom)
        for n, zone in enumerate(zones):
            label = QLabel()
            label.setTextFormat(Qt.TextFormat.PlainText)
            label.setWordWrap(True)
            label.setMinimumHeight(28)
            label.setSizePolicy(QSizePolicy.Policy.Ignored, QSizePolicy.Policy.Minimum)
            label.setAlignment(Qt.AlignmentFlag.AlignTop)
            label.setContentsMargins(0, GAP_TIGHT, GAP_TIGHT, 0)
            self.labels[zone.id] = label
            rows.addWidget(label, n, 0)
        # Heads and ramps come first in the order of Tab, then findings, column by column.
        for n, scheme in enumerate(view.schemes, 1):
            column = self._column(scheme, zones)
            self.columns[scheme.id] = column
            top.addWidget(column.head, 0, n)
            top.addWidget(column.pair, 1, n)
            top.addWidget(column.tally, 2, n)
            for row, cell in enumerate(column.cells.values()):
                rows.addWidget(cell, row, n)
            rows.addWidget(column.verdict, len(zones) + 1, n)
        self.same = QLabel(self.same.text())
        self.same.setWordWrap(True)
        rows.addWidget(self.same, len(zones), 0, 1, len(view.schemes) + 1)
        rows.setRowStretch(len(zones) + 2, 1)
        for grid in (top, rows):
            grid.setContentsMargins(0, 0, 0, 0)
            grid.setHorizontalSpacing(GAP_WIDE)
            grid.setVerticalSpacing(GAP)
            grid.setColumnMinimumWidth(0, _LABELS)
            for n in range(1, len(view.schemes) + 1):
                grid.setColumnStretch(n, 1)
        self._frame.replaceWidget(self._heads, heads)
        self._heads.hide()
        self._heads.deleteLater()
        self._heads, self._body = heads, body
        gone = self.area.takeWidget()
        self.area.setWidget(body)
        if gone is not None:  # later: an event may still be under way in it
            gone.deleteLater()
        self._align()
        self._size_figures()

    def _align(self) -> None:
        """Leave as much room beside the heads as the scroll bar takes beside the rows."""
        wide = self.area.verticalScrollBar().sizeHint().width()
        grid = self._heads.layout()
        if grid is not None:
            grid.setContentsMargins(0, 0, wide, 0)

    def _column(self, scheme: Scheme, zones: tuple[Zone, ...]) -> Column:
        head = Head(self.actions_, scheme.id)
        head.picked.connect(lambda: self.picked.emit(scheme.id, ""))
        figure = Figure(self.bridge)
        figure.setProperty("schemeId", scheme.id)
        figure.picked.connect(lambda zone_id: self._on_figure(scheme.id, zone_id))
        figure.stepped.connect(self.step)
        offer_zone(
            figure, self.bridge, lambda at: self._figure_place(figure, scheme.id, at), mark=False
        )
        cells = {}
        for zone in zones:
            cell = ZoneCell(scheme.id, zone.id)
            cell.strip.entered.connect(lambda z=zone.id: self.picked.emit(scheme.id, z))
            cell.moved.connect(lambda by, z=zone.id: self._move(scheme.id, z, by))
            offer_zone(cell.strip, self.bridge, partial(self._cell_place, cell))
            cells[zone.id] = cell
        tally, verdict = Tally(scheme.id), Verdict(scheme.id)
        tally.clicked.connect(lambda: self.show_verdict(scheme.id))
        stand_in = StandInView(self.bridge, WHOLE)
        stand_in.turned.connect(self._turn_all)
        offer_stand_in(stand_in, self.bridge, scheme.id)
        pair = _Pair()
        row = QHBoxLayout(pair)
        row.setContentsMargins(0, 0, 0, 0)
        row.setSpacing(GAP)
        row.setSizeConstraint(QLayout.SizeConstraint.SetNoConstraint)
        row.addWidget(stand_in, 5)
        row.addWidget(figure, 4)
        return Column(head, stand_in, figure, pair, tally, cells, verdict)

    def _cell_place(self, cell: ZoneCell, at: QPoint | None) -> ZonePlace:
        read = strip_at(cell.strip, at)
        direction = self.bridge.state.selection.direction
        return ZonePlace(cell.scheme_id, cell.zone_id, None, read, direction)

    def _figure_place(self, figure: Figure, scheme_id: str, at: QPoint | None) -> ZonePlace | None:
        zone_id = figure.zone_id if at is None else figure.zone_at(at.x(), at.y())
        return ZonePlace(scheme_id, zone_id) if zone_id else None

    def _turn_all(self, azimuth: float, moves: bool) -> None:
        """All candidates are seen from the same side."""
        for column in self.columns.values():
            if column.stand_in is not self.sender():
                column.stand_in.turn_to(azimuth, moves=moves)

    def _on_figure(self, scheme_id: str, zone_id: str) -> None:
        self.picked.emit(scheme_id, zone_id)
        if zone_id:
            self.area.ensureWidgetVisible(self.columns[scheme_id].cells[zone_id])

    def _show_column(self, view: View, scheme: Scheme, shown: set[str]) -> None:
        state, column = view.state, self.columns[scheme.id]
        project, numbers = state.project, state.preferences.numbers
        theme = theme_of(state.preferences.surround)
        ids = [s.id for s in project.schemes]
        is_yardstick = scheme.id == view.yardstick_id
        known = {} if view.comparison is None else {s.scheme.id: s for s in view.comparison.schemes}
        compared = known.get(scheme.id)
        column.head.show_scheme(
            scheme,
            place=(ids.index(scheme.id), len(ids)),
            yardstick=is_yardstick,
            chosen=scheme.id == project.chosen_scheme_id,
        )
        take = told(view.comparison)
        column.head.show_compared(compared, take=take is not None and take.scheme_id == scheme.id)
        column.head.dress(theme, picked=scheme.id == state.selection.scheme_id)
        column.stand_in.setVisible(bool(state.preferences.figure))
        column.stand_in.show_state(state, scheme.id)
        column.stand_in.setAccessibleName(self.tr("Stand-in model of {0}").format(scheme.name))
        column.figure.show_scheme(
            Shown(project, scheme, project.viewing), state.selection.zone_id, numbers=numbers
        )
        for zone in project.zones:
            cell = column.cells[zone.id]
            cell.setVisible(zone.id in shown)
            cell.set_names(scheme, zone)
            ramp = self.bridge.colours.zone(
                project,
                scheme,
                zone,
                project.viewing,
                direction=state.selection.direction,
                across=state.selection.across,
            )
            cell.strip.set_ramp(ramp.final, numbers=numbers)
            picked = state.selection.scheme_id == scheme.id
            cell.strip.set_chosen(picked and zone.id == state.selection.zone_id)
            cell.show_difference(compared, yardstick=is_yardstick, numbers=numbers)
        found = None if compared is None else compared.findings
        column.tally.show_counts(scheme.name, found, theme)
        if compared is None:
            column.verdict.wait(view.waiting)
        else:
            column.verdict.show_findings(scheme.name, compared.findings, theme)
