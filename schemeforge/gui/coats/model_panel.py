"""The model beside the cutaway: a rendered stand-in, or the plain outline."""

from PySide6.QtCore import QSignalBlocker, QTimer
from PySide6.QtGui import QShowEvent
from PySide6.QtWidgets import (
    QComboBox,
    QHBoxLayout,
    QPushButton,
    QStackedWidget,
    QVBoxLayout,
    QWidget,
)

from schemeforge.desk import DeskState, Surround
from schemeforge.gui.bridge import Bridge
from schemeforge.gui.coats.figure import ZoneFigure
from schemeforge.gui.icons import icon
from schemeforge.gui.looking.steps import StepStrip
from schemeforge.gui.looking.strip import LookStrip
from schemeforge.gui.reading import tr
from schemeforge.gui.recipes.offer import offer_stand_in
from schemeforge.gui.theme import GAP, GAP_TIGHT, theme_of
from schemeforge.gui.widgets.stand_in import StandInView

_OUTLINE = ""
# The window is painted first; only then is the tracer loaded.
_AFTER_MS = 60


class ModelPanel(QWidget):
    """A stand-in model once it can be shown, the outline until then or by choice."""

    def __init__(self, bridge: Bridge, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.bridge = bridge
        self.figure = ZoneFigure(bridge)
        self.stand_in: StandInView | None = None
        self.steps = StepStrip()
        self.strip = LookStrip(bridge)
        self.choice = QComboBox()
        self.choice.setAccessibleName(self.tr("Model"))
        self.choice.setToolTip(
            self.tr("What the colours are shown on; drag the model or use its arrow keys to turn")
        )
        # Its longest entry must not cost the cutaway width.
        self.choice.setSizeAdjustPolicy(
            QComboBox.SizeAdjustPolicy.AdjustToMinimumContentsLengthWithIcon
        )
        self.choice.setMinimumContentsLength(8)
        self.choice.activated.connect(self._on_choice)
        self._dressed: Surround | None = None
        self.larger = QPushButton()
        self.larger.setAccessibleName(self.tr("Look at it large"))
        self.larger.setToolTip(
            self.tr("Large, two schemes on one model, three lights, a group (Ctrl+L)")
        )
        self.larger.clicked.connect(self.look)
        self._stack = QStackedWidget()
        self._stack.addWidget(self.figure)
        row = QHBoxLayout()
        row.setSpacing(GAP_TIGHT)
        row.addWidget(self.choice, 1)
        row.addWidget(self.larger)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(GAP)
        column.addWidget(self._stack, 1)
        column.addWidget(self.steps)
        column.addWidget(self.strip)
        column.addLayout(row)

    def show_state(self, new: DeskState) -> None:
        """Hand the state to what is shown."""
        name = new.preferences.figure
        stands = self.stand_in is not None and name != _OUTLINE
        self.steps.setVisible(stands)
        self.strip.setVisible(stands)
        if new.preferences.surround is not self._dressed:  # a new icon lays the page out again
            self._dressed = new.preferences.surround
            self.larger.setIcon(icon("larger", theme_of(self._dressed).text))
        if self.stand_in is None or not stands:
            self._stack.setCurrentWidget(self.figure)
            self.figure.show_state(new)
        else:
            self._stack.setCurrentWidget(self.stand_in)
            self.steps.show_state(new)
            self.stand_in.show_model(name)
            self.stand_in.show_state(new)
        with QSignalBlocker(self.choice):
            self.choice.setCurrentIndex(self.choice.findData(name))

    def look(self) -> None:
        """At it large, in a window of its own."""
        from schemeforge.gui.looking.room import look

        look(self.bridge, self)

    def showEvent(self, event: QShowEvent) -> None:
        """Load the stand-ins once the window stands."""
        super().showEvent(event)
        if self.stand_in is None:
            QTimer.singleShot(_AFTER_MS, self, self._begin)

    def _begin(self) -> None:
        if self.stand_in is not None:
            return
        from schemeforge import stand_in

        names = stand_in.model_names()
        with QSignalBlocker(self.choice):
            self.choice.addItem(self.tr("plain outline"), _OUTLINE)
            for name in names:
                self.choice.addItem(tr(name), name)
        figure = self.bridge.state.preferences.figure
        first = figure if figure in names else names[0]
        view = self.stand_in = StandInView(self.bridge, first)
        offer_stand_in(view, self.bridge)
        view.staged.connect(self.steps.show_step)
        view.held.connect(self.steps.show_held)
        view.leave_stage_to(self.steps)
        self.steps.staged.connect(view.show_stage)
        self.steps.held.connect(view.hold_before)
        self._stack.addWidget(view)
        self.show_state(self.bridge.state)

    def _on_choice(self, row: int) -> None:
        self.bridge.session.prefer(figure=self.choice.itemData(row))
