"""The picked coat in one row: name, technique, how heavy, passes, where it goes, and its mix."""

from dataclasses import replace

from PySide6.QtCore import QSignalBlocker, Qt
from PySide6.QtWidgets import QComboBox, QFrame, QLabel, QLineEdit, QSpinBox, QVBoxLayout, QWidget

from schemeforge.desk import DeskState
from schemeforge.desk.handles import as_curve
from schemeforge.gui.bridge import Bridge
from schemeforge.gui.coats.mix_row import MixRow
from schemeforge.gui.coats.place_fields import PlaceFields
from schemeforge.gui.coats.spray_fields import SprayFields
from schemeforge.gui.reading import tr
from schemeforge.gui.theme import GAP, GAP_TIGHT
from schemeforge.gui.widgets.field import Field, NumberBox
from schemeforge.gui.widgets.flow import Flow
from schemeforge.gui.widgets.segments import Segments
from schemeforge.scheme import Coat, ReliefKind, Spray, Step, Technique, edits
from schemeforge.scheme.techniques import SPRAY, TECHNIQUES, TradeDefaults, heaviness_words


class CoatRow(QFrame):
    """Everything about the picked step that is not drawn in the cutaway, and by numbers too."""

    def __init__(self, bridge: Bridge, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.bridge = bridge
        self.setProperty("role", "panel")
        self.name = QLineEdit()
        self.name.setMaxLength(120)
        self.name.setMinimumWidth(168)
        self.technique = QComboBox()
        for technique in Technique:
            self.technique.addItem(tr(technique.value), technique.value)
        self.weight = Segments(self.tr("How heavy"), self._weights())
        self.wet_um = NumberBox(
            self.tr("wet film"), low=0.5, high=1000.0, step=1.0, decimals=1, unit="µm"
        )
        self.passes = QSpinBox()
        self.passes.setRange(1, 12)
        self.passes.setMaximumWidth(62)
        self.passes.setAlignment(Qt.AlignmentFlag.AlignRight)
        self.where = QComboBox()
        for kind in ReliefKind:
            self.where.addItem(tr(kind.value), kind.value)
        self.spray = SprayFields(bridge)
        self.place = PlaceFields(bridge)
        self.mix = MixRow(bridge)
        self.empty = QLabel(self.tr("Pick a coat in the cutaway, or add one."))
        self._fields = {
            "name": Field(self.tr("name"), self.name),
            "technique": Field(self.tr("technique"), self.technique),
            "weight": Field(self.tr("how heavy"), self.weight),
            "wet_um": Field(self.tr("wet film"), self.wet_um),
            "passes": Field(self.tr("passes"), self.passes),
            "where": Field(self.tr("where it goes"), self.where),
        }
        line = Flow(gap=GAP + GAP_TIGHT)
        for field in (*self._fields.values(), *self.spray.fields, *self.place.fields):
            line.add(field)
        column = QVBoxLayout(self)
        column.setContentsMargins(GAP * 2, GAP, GAP * 2, GAP)
        column.setSpacing(GAP_TIGHT)
        column.addWidget(self.empty)
        column.addWidget(line)
        column.addWidget(self.mix)
        self._connect()

    def _weights(self) -> list[tuple[str, str, str]]:
        return [
            ("light", self.tr("Light"), self.tr("A light film for this technique")),
            ("normal", self.tr("Normal"), self.tr("A normal film for this technique")),
            ("heavy", self.tr("Heavy"), self.tr("A heavy film for this technique")),
        ]

    def _connect(self) -> None:
        self.name.editingFinished.connect(self._on_name)
        self.technique.activated.connect(self._on_technique)
        self.weight.chosen.connect(self._on_weight)
        self.wet_um.valueChanged.connect(self._on_wet_um)
        self.passes.valueChanged.connect(self._on_passes)
        self.where.activated.connect(self._on_where)

    def show_state(self, new: DeskState) -> None:
        """Write the picked step."""
        step = new.step
        coat = None if step is None else step.coat
        spray = step.layer if step is not None and isinstance(step.layer, Spray) else None
        self.empty.setVisible(step is None)
        numbers = new.preferences.numbers
        shown = {
            "name": step is not None,
            "technique": coat is not None,
            "weight": coat is not None or spray is not None,
            "wet_um": (coat is not None or spray is not None) and numbers,
            "passes": coat is not None,
            "where": coat is not None,
        }
        for key, field in self._fields.items():
            field.setVisible(shown[key])
        self.spray.show_state(new)
        self.place.show_state(new)
        self.mix.show_state(new)
        if step is None:
            return
        typing = self.name.hasFocus() and self.name.isModified()
        if not typing and self.name.text() != step.name:
            with QSignalBlocker(self.name):
                self.name.setText(step.name)
                self.name.setCursorPosition(0)
                wide = self.name.fontMetrics().horizontalAdvance(step.name) + 24
                self.name.setMinimumWidth(min(max(wide, 168), 320))
                self.name.setToolTip(step.name)
        if coat is not None:
            self._show_coat(coat)
        if spray is not None:
            self._show_spray(spray)

    def _show_coat(self, coat: Coat) -> None:
        with QSignalBlocker(self.technique):
            self.technique.setCurrentIndex(self.technique.findData(coat.technique.value))
        if self.passes.value() != coat.passes:
            with QSignalBlocker(self.passes):
                self.passes.setValue(coat.passes)
        with QSignalBlocker(self.where):
            self.where.setCurrentIndex(self.where.findData(coat.placement.relief.kind.value))
        self.weight.set_value(heaviness_words(coat))
        self.wet_um.show_value(coat.wet_um)

    def _show_spray(self, spray: Spray) -> None:
        self.wet_um.show_value(spray.peak_um)
        d = SPRAY
        light = spray.peak_um <= (d.light_um * d.normal_um) ** 0.5
        heavy = spray.peak_um > (d.normal_um * d.heavy_um) ** 0.5
        self.weight.set_value("light" if light else "heavy" if heavy else "normal")

    def _on_name(self) -> None:
        step, text = self.bridge.state.step, self.name.text().strip()
        self.name.setModified(False)
        if step is None or text == step.name:
            return
        scheme_id = self.bridge.state.selection.scheme_id
        done = self.bridge.edit(
            self.tr("name of {0}").format(step.name),
            lambda p: edits.rename_step(p, scheme_id, step.id, text),
        )
        if not done:
            self.name.setText(step.name)

    def _on_technique(self, row: int) -> None:
        technique = Technique(self.technique.itemData(row))
        step = self.bridge.state.step
        if step is None or step.coat is None or step.coat.technique is technique:
            return
        # The film moves to the same grade of the new technique: a heavy glaze, a heavy wash.
        wet_um = _grade(TECHNIQUES[technique], heaviness_words(step.coat))
        scheme_id = self.bridge.state.selection.scheme_id
        self.bridge.edit(
            self.tr("technique of {0}").format(step.name),
            lambda p: edits.set_coat(p, scheme_id, step.id, technique=technique, wet_um=wet_um),
        )

    def _on_weight(self, grade: str) -> None:
        step = self.bridge.state.step
        if step is None:
            return
        if isinstance(step.layer, Spray):
            self._set_weight(step, _grade(SPRAY, grade))
        elif step.coat is not None:
            self._set_weight(step, _grade(TECHNIQUES[step.coat.technique], grade))

    def _on_wet_um(self, value: float) -> None:
        step = self.bridge.state.step
        if step is not None:
            self._set_weight(step, value, merge=f"number {step.id}")

    def _set_weight(self, step: Step, wet_um: float, merge: str = "") -> None:
        scheme_id = self.bridge.state.selection.scheme_id
        label = self.tr("how heavy {0} is").format(step.name)
        if isinstance(step.layer, Spray):
            spray = replace(step.layer, peak_um=wet_um)
            self.bridge.edit(
                label, lambda p: edits.set_layer(p, scheme_id, step.id, spray), merge=merge
            )
        else:
            self.bridge.edit(
                label, lambda p: edits.set_coat(p, scheme_id, step.id, wet_um=wet_um), merge=merge
            )

    def _on_passes(self, passes: int) -> None:
        step = self.bridge.state.step
        if step is None:
            return
        scheme_id = self.bridge.state.selection.scheme_id
        self.bridge.edit(
            self.tr("passes of {0}").format(step.name),
            lambda p: edits.set_coat(p, scheme_id, step.id, passes=passes),
            merge=f"passes {step.id}",
        )

    def _on_where(self, row: int) -> None:
        step = self.bridge.state.step
        if step is None or step.coat is None:
            return
        kind = ReliefKind(self.where.itemData(row))
        relief = step.coat.placement.relief
        new = as_curve(relief) if kind is ReliefKind.CURVE else replace(relief, kind=kind)
        if kind in {ReliefKind.POOLS, ReliefKind.CATCHES} and new.depth == 0.0:
            new = replace(new, depth=0.6)
        placement = replace(step.coat.placement, relief=new)
        scheme_id = self.bridge.state.selection.scheme_id
        self.bridge.edit(
            self.tr("where {0} goes").format(step.name),
            lambda p: edits.set_coat(p, scheme_id, step.id, placement=placement),
        )

    def focus_name(self) -> None:
        """Put the caret into the name, all of it selected."""
        self.name.setFocus(Qt.FocusReason.ShortcutFocusReason)
        self.name.selectAll()


def _grade(defaults: TradeDefaults, grade: str) -> float:
    films = {
        "light": defaults.light_um,
        "normal": defaults.normal_um,
        "heavy": defaults.heavy_um,
    }
    return films[grade]
