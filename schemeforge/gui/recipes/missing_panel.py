"""The left of the bench for what is not there: which paint, or how much of each is left."""

from dataclasses import replace

from PySide6.QtCore import QSignalBlocker, Signal
from PySide6.QtWidgets import QComboBox, QFrame, QVBoxLayout, QWidget

from schemeforge.gui.recipes.asked import Asked, MixAgain, ReplacePaint
from schemeforge.gui.theme import GAP
from schemeforge.gui.widgets.field import Field, NumberBox, WideField
from schemeforge.gui.widgets.flow import Flow
from schemeforge.gui.widgets.labels import words
from schemeforge.paint import WATER_ID, Paint
from schemeforge.scheme import Mix, Project, Step

_ENOUGH = -1.0


class MissingPanel(QFrame):
    """Which paint of the mix is out, and on which zone that is judged; what is left of a pot's.

    Signals:
        asked: The question, changed.
        left: ``(paint id, ml)``; None for enough of it.
    """

    asked = Signal(object)
    left = Signal(str, object)

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setProperty("role", "panel")
        self._asked: Asked | None = None
        self.told = words("")
        self.paint = QComboBox()
        self.zone = QComboBox()
        for combo in (self.paint, self.zone):
            combo.setSizeAdjustPolicy(
                QComboBox.SizeAdjustPolicy.AdjustToMinimumContentsLengthWithIcon
            )
            combo.setMinimumContentsLength(14)
        self.zone.setToolTip(self.tr("The zone on which the difference is judged"))
        self.needed = NumberBox(
            self.tr("mix still needed"), low=0.1, high=10000.0, step=0.5, decimals=1, unit="ml"
        )
        self.amounts = Flow()
        self.boxes: dict[str, NumberBox] = {}
        self._fields = {
            "paint": WideField(self.tr("the paint that is out"), self.paint),
            "zone": WideField(self.tr("judged on"), self.zone),
            "needed": Field(self.tr("mix still needed"), self.needed),
        }
        column = QVBoxLayout(self)
        column.setContentsMargins(GAP, GAP, GAP, GAP)
        column.setSpacing(GAP)
        column.addWidget(self.told)
        for field in self._fields.values():
            column.addWidget(field)
        column.addWidget(self.amounts)
        self.paint.activated.connect(self._on_paint)
        self.zone.activated.connect(self._on_zone)
        self.needed.valueChanged.connect(self._on_needed)

    def show_asked(
        self,
        asked: Asked,
        project: Project,
        step: Step,
        mix: Mix,
        paints: tuple[Paint, ...],
        needed_ml: float,
    ) -> None:
        """Write what is asked.

        Args:
            asked: The question.
            project: The document that it is asked of.
            step: The step.
            mix: Its pot.
            paints: With what is left of each.
            needed_ml: What the rest of the batch takes.
        """
        self._asked = asked
        self._fields["paint"].setVisible(isinstance(asked, ReplacePaint))
        self._fields["needed"].setVisible(isinstance(asked, MixAgain))
        self.amounts.setVisible(isinstance(asked, MixAgain))
        with QSignalBlocker(self.zone):
            self.zone.clear()
            for zone_id in step.zone_ids:
                self.zone.addItem(project.zone(zone_id).name, zone_id)
            self.zone.setCurrentIndex(self.zone.findData(getattr(asked, "zone_id", "")))
        held = [one.paint_id for one in mix.ingredients if one.paint_id != WATER_ID]
        if isinstance(asked, ReplacePaint):
            self.told.setText(
                self.tr("“{0}”: what takes the place of a paint in its mix").format(step.name)
            )
            with QSignalBlocker(self.paint):
                self.paint.clear()
                for paint_id in held:
                    self.paint.addItem(project.paint(paint_id).name, paint_id)
                self.paint.setCurrentIndex(self.paint.findData(asked.paint_id))
        elif isinstance(asked, MixAgain):
            self.told.setText(
                self.tr("“{0}”: the pot ran dry; how much is left of each paint?").format(step.name)
            )
            self.needed.show_value(needed_ml)
            self._show_amounts(held, project, paints)
        else:
            self.told.setText(
                self.tr("“{0}” without an airbrush: which brush comes nearest").format(step.name)
            )

    def _show_amounts(self, held: list[str], project: Project, paints: tuple[Paint, ...]) -> None:
        if list(self.boxes) != held:
            self.amounts.clear()
            self.boxes = {paint_id: self._box(paint_id) for paint_id in held}
            for paint_id, box in self.boxes.items():
                name = project.paint(paint_id).name
                box.setAccessibleName(self.tr("left of {0}").format(name))
                box.setToolTip(self.tr("What is left; the lowest value stands for enough"))
                self.amounts.add(Field(name, box))
        left = {paint.id: paint.stock.left_ml for paint in paints}
        for paint_id, box in self.boxes.items():
            known = left.get(paint_id)
            box.show_value(_ENOUGH if known is None else known)

    def _box(self, paint_id: str) -> NumberBox:
        box = NumberBox("", low=_ENOUGH, high=10000.0, step=0.5, decimals=1, unit="ml")
        box.setSpecialValueText(self.tr("enough"))
        box.valueChanged.connect(
            lambda value: self.left.emit(paint_id, None if value < 0.0 else value)
        )
        return box

    def _on_paint(self, row: int) -> None:
        if isinstance(self._asked, ReplacePaint):
            self.asked.emit(replace(self._asked, paint_id=self.paint.itemData(row)))

    def _on_zone(self, row: int) -> None:
        if self._asked is not None and hasattr(self._asked, "zone_id"):
            self.asked.emit(replace(self._asked, zone_id=self.zone.itemData(row)))

    def _on_needed(self, value: float) -> None:
        if isinstance(self._asked, MixAgain):
            self.asked.emit(replace(self._asked, needed_ml=value))
