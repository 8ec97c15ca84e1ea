"""How to photograph a painted test model, in a few sentences (common practice)."""

from PySide6.QtWidgets import QVBoxLayout, QWidget

from schemeforge.gui.theme import GAP, GAP_WIDE
from schemeforge.gui.widgets.labels import words


class ModelGuide(QWidget):
    """What matters, in order."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        lines = (
            self.tr(
                "Paint one model, or a spare part with a recess, an edge and a panel, by the "
                "scheme just as it stands. Flat card will not do: washes do not pool there."
            ),
            self.tr("Let it dry; varnish it if the models will be varnished."),
            self.tr(
                "Two lamps of one kind from both sides, no glare on the part, the camera square to "
                "it. A white, a grey and a black area beside it tell what the light did."
            ),
            self.tr(
                "Then draw a line from the deepest recess to the raised edge of one zone. The "
                "measured ramp is laid beside the planned one, and you see how heavily your hand "
                "lays each coat."
            ),
        )
        column = QVBoxLayout(self)
        column.setContentsMargins(GAP_WIDE, GAP, GAP_WIDE, GAP_WIDE)
        column.setSpacing(GAP)
        column.addWidget(words(self.tr("How to judge a test model"), "title"))
        for number, line in enumerate(lines, 1):
            column.addWidget(words(f"{number}   {line}"))
        self.setMaximumWidth(900)
