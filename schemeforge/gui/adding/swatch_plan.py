"""Which swatches to paint: asked in three boxes, answered in a sentence."""

from PySide6.QtWidgets import QComboBox, QVBoxLayout, QWidget

from schemeforge.calibration import Suggested, suggested
from schemeforge.gui.adding.choices import Choice
from schemeforge.gui.theme import GAP_TIGHT
from schemeforge.gui.widgets.field import Field
from schemeforge.gui.widgets.flow import Flow
from schemeforge.gui.widgets.labels import words

_HALF = 0.5
# CIEDE2000 that stand for what a painter sees of the ground through one coat, and least channels
# that stand for how strong it is (rules of thumb).
_LITTLE, _SOME, _MUCH = 12.0, 37.0, 65.0
_STRONG, _MIDDLING, _PALE = 0.15, 0.45, 0.8


class SwatchPlan(QWidget):
    """How many swatches, how well one coat covers, how strong it is; then what to paint."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.count: Choice[int] = Choice(
            self.tr("Swatches you will paint"), [(str(count), count) for count in range(2, 7)]
        )
        self.covers: Choice[float | None] = Choice(
            self.tr("Through one coat"),
            [
                (self.tr("not tried yet"), None),
                (self.tr("black and white hardly show"), _LITTLE),
                (self.tr("black and white show"), _SOME),
                (self.tr("black and white show plainly"), _MUCH),
            ],
        )
        self.strength: Choice[float | None] = Choice(
            self.tr("One coat over white is"),
            [
                (self.tr("not tried yet"), None),
                (self.tr("dark, or a pure strong colour"), _STRONG),
                (self.tr("a middling colour"), _MIDDLING),
                (self.tr("pale"), _PALE),
            ],
        )
        self.answer = words("", "heading")
        row = Flow()
        asked: tuple[QComboBox, ...] = (self.count, self.covers, self.strength)
        for box in asked:
            row.add(Field(box.accessibleName(), box))
            box.activated.connect(self._show)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(GAP_TIGHT)
        column.addWidget(row)
        column.addWidget(self.answer)
        self._show()

    def _show(self) -> None:
        plan = suggested(self.count.value, self.covers.value, self.strength.value)
        listed = "; ".join(self._swatch_words(swatch) for swatch in plan)
        self.answer.setText(self.tr("Paint {0}.").format(listed))
        self.answer.setAccessibleName(self.answer.text())

    def _swatch_words(self, swatch: Suggested) -> str:
        ground = self.tr("white") if swatch.over_white else self.tr("black")
        if swatch.coats == _HALF:
            return self.tr("one coat thinned with as much water (half a coat) over {0}").format(
                ground
            )
        if swatch.coats == 1.0:
            return self.tr("one coat over {0}").format(ground)
        return self.tr("{0:g} coats over {1}").format(swatch.coats, ground)
