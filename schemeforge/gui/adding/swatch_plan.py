"""Which swatches to paint: asked in two boxes, answered in a sentence."""

from PySide6.QtWidgets import QVBoxLayout, QWidget

from schemeforge.calibration import Suggested, suggested
from schemeforge.gui.adding.choices import Choice
from schemeforge.gui.theme import GAP_TIGHT
from schemeforge.gui.widgets.field import Field
from schemeforge.gui.widgets.flow import Flow
from schemeforge.gui.widgets.labels import words

_HALF = 0.5
# CIEDE2000 that stand for what a painter sees of the ground through one coat (rule of thumb).
_LITTLE, _SOME, _MUCH = 12.0, 37.0, 65.0


class SwatchPlan(QWidget):
    """How many swatches, and how well one coat covers; then what to paint."""

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
        self.answer = words("", "heading")
        row = Flow()
        row.add(Field(self.count.accessibleName(), self.count))
        row.add(Field(self.covers.accessibleName(), self.covers))
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(GAP_TIGHT)
        column.addWidget(row)
        column.addWidget(self.answer)
        self.count.activated.connect(self._show)
        self.covers.activated.connect(self._show)
        self._show()

    def _show(self) -> None:
        plan = suggested(self.count.value, self.covers.value)
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
