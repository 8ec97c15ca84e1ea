"""After each coat: the ramp at every stage, dry beside wet."""

from dataclasses import replace
from typing import Any

from numpy.typing import NDArray
from PySide6.QtCore import QPoint, Qt, QTimer
from PySide6.QtGui import QResizeEvent
from PySide6.QtWidgets import (
    QGridLayout,
    QLabel,
    QPushButton,
    QScrollArea,
    QVBoxLayout,
    QWidget,
)

from schemeforge.desk import DeskState
from schemeforge.gui.bridge import Bridge
from schemeforge.gui.recipes.choice import ZonePlace
from schemeforge.gui.recipes.offer import offer_reading, offer_zone, strip_at
from schemeforge.gui.theme import GAP, GAP_TIGHT
from schemeforge.gui.widgets.name_button import NameButton
from schemeforge.gui.widgets.strip import ColourStrip

_HEIGHT = 24


class _Row:
    """The widgets of one stage."""

    def __init__(self, owner: "AfterEachCoat", place: int) -> None:
        self.name = NameButton()
        self.dry = ColourStrip("", height=_HEIGHT)
        self.wet = ColourStrip("", height=_HEIGHT)
        self.name.clicked.connect(lambda: owner.pick(place))
        for strip in (self.dry, self.wet):
            strip.picked.connect(lambda _at: owner.pick(place))
        offer_zone(self.dry, owner.bridge, lambda at: owner.stage_place(place, at))
        offer_reading(self.wet, owner.bridge)

    def widgets(self) -> tuple[QWidget, QWidget, QWidget]:
        return self.name, self.dry, self.wet


class AfterEachCoat(QWidget):
    """A row a coat: its name, the ramp once dry, the ramp while it is wet."""

    def __init__(self, bridge: Bridge, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.bridge = bridge
        self._rows: list[_Row] = []
        self._steps: tuple[str, ...] = ()
        self._tolerance: NDArray[Any] | None = None
        self._picked = ""
        head = QGridLayout()
        head.setContentsMargins(0, 0, GAP_TIGHT, 0)
        inner = QWidget()
        self._grid = QGridLayout(inner)
        self._grid.setContentsMargins(0, 0, 0, 0)
        self._grid.setVerticalSpacing(GAP_TIGHT)
        for grid in (head, self._grid):
            grid.setHorizontalSpacing(GAP * 2)
            for column, stretch in enumerate((4, 6, 4)):
                grid.setColumnStretch(column, stretch)
        for column, (text, role) in enumerate(
            (
                (self.tr("After each coat"), "heading"),
                (self.tr("dry"), "muted"),
                (self.tr("wet, as on the desk"), "muted"),
            )
        ):
            label = QLabel(text)
            label.setProperty("role", role)
            head.addWidget(label, 0, column)
        self._scroll = scroll = QScrollArea()
        scroll.setWidgetResizable(True)
        scroll.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        holder = QWidget()
        column_box = QVBoxLayout(holder)
        column_box.setContentsMargins(0, 0, GAP_TIGHT, 0)
        column_box.addWidget(inner)
        column_box.addStretch(1)
        scroll.setWidget(holder)
        scroll.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        # One row, which is the picked coat's, where a small window leaves no more.
        scroll.setMinimumHeight(_HEIGHT + GAP)
        whole = QVBoxLayout(self)
        whole.setContentsMargins(0, 0, 0, 0)
        whole.setSpacing(GAP_TIGHT)
        whole.addLayout(head)
        whole.addWidget(scroll, 1)

    def strips(self, place: int) -> tuple[ColourStrip, ColourStrip]:
        """Dry and wet strip of a stage, from 0."""
        return self._rows[place].dry, self._rows[place].wet

    def stage_place(self, place: int, at: QPoint | None) -> ZonePlace | None:
        """Where a stage is read, None where it has gone."""
        if place >= len(self._steps):
            return None
        pick, read = self.bridge.state.selection, strip_at(self._rows[place].dry, at)
        step_id = self._steps[place]
        return ZonePlace(pick.scheme_id, pick.zone_id, step_id, read, pick.direction, pick.across)

    def show_state(self, new: DeskState) -> None:
        """Write every stage of the picked zone."""
        scheme, zone = new.scheme, new.zone
        if scheme is None or zone is None:
            self._resize(0)
            return
        view, pick = new.project.viewing, new.selection
        cut = {"direction": pick.direction, "across": pick.across}
        book = self.bridge.colours
        other = book.keep(("other view",), (view,), lambda: replace(view, wet=not view.wet))
        dry_view, wet_view = (other, view) if view.wet else (view, other)
        dry = book.zone(new.project, scheme, zone, dry_view, **cut)  # type: ignore[arg-type]
        wet = book.zone(new.project, scheme, zone, wet_view, **cut)  # type: ignore[arg-type]
        self._steps = tuple(step.id for step in dry.steps)
        self._resize(len(dry.steps))
        numbers = new.preferences.numbers
        for n, (row, step) in enumerate(zip(self._rows, dry.steps, strict=True)):
            text = f"{n + 1}   {step.name}".replace("&", "&&")
            if row.name.text() != text:
                row.name.setText(text)
                row.name.setToolTip(step.name)
                row.dry.setAccessibleName(self.tr("after {0}, dry").format(step.name))
                row.wet.setAccessibleName(self.tr("after {0}, wet").format(step.name))
            sure = None if self._tolerance is None else self._row_tolerance(n)
            row.dry.set_ramp(dry.xyz[n], tolerance=sure, numbers=numbers)
            row.wet.set_ramp(wet.xyz[n], numbers=numbers)
            picked = step.id == pick.step_id
            row.dry.set_chosen(picked)
            self._embolden(row.name, picked)
        if pick.step_id != self._picked:
            self._picked = pick.step_id
            QTimer.singleShot(0, self, self._bring_picked)  # rows may still have to be laid out

    def resizeEvent(self, event: QResizeEvent) -> None:
        """The picked coat's row stays in sight."""
        super().resizeEvent(event)
        QTimer.singleShot(0, self, self._bring_picked)

    def _bring_picked(self) -> None:
        if self._picked in self._steps:
            strip = self._rows[self._steps.index(self._picked)].dry
            self._scroll.ensureWidgetVisible(strip, 0, GAP_TIGHT)

    def set_tolerance(self, tolerance: NDArray[Any] | None) -> None:
        """CIEDE2000 of each stage along the ramp ``(stages, points)``, None while not known."""
        self._tolerance = tolerance
        for n, row in enumerate(self._rows):
            row.dry.set_ramp(row.dry.xyz, tolerance=self._row_tolerance(n))

    def pick(self, place: int) -> None:
        """Pick the coat of a stage."""
        if place < len(self._steps):
            self.bridge.session.select(step_id=self._steps[place])

    def _row_tolerance(self, place: int) -> NDArray[Any] | None:
        if self._tolerance is None or place >= len(self._tolerance):
            return None
        row: NDArray[Any] = self._tolerance[place]
        return row

    @staticmethod
    def _embolden(button: QPushButton, bold: bool) -> None:
        font = button.font()
        if font.bold() != bold:
            font.setBold(bold)
            button.setFont(font)

    def _resize(self, count: int) -> None:
        while len(self._rows) < count:
            row = _Row(self, len(self._rows))
            self._rows.append(row)
            for column, widget in enumerate(row.widgets()):
                self._grid.addWidget(widget, len(self._rows) - 1, column)
        while len(self._rows) > count:
            for widget in self._rows.pop().widgets():
                self._grid.removeWidget(widget)
                widget.hide()
                widget.deleteLater()
