"""A window of its own to look at models: large, side by side, under other lights, as a group."""

from PySide6.QtCore import QSignalBlocker, QSize, Qt
from PySide6.QtGui import QCloseEvent
from PySide6.QtWidgets import (
    QComboBox,
    QDialog,
    QHBoxLayout,
    QLabel,
    QPushButton,
    QScrollArea,
    QVBoxLayout,
    QWidget,
)

from schemeforge.desk import DeskState
from schemeforge.gui.bridge import Bridge
from schemeforge.gui.looking import words
from schemeforge.gui.looking.lamp import LightAndSpray
from schemeforge.gui.looking.shot import Arrangement
from schemeforge.gui.looking.steps import StepStrip
from schemeforge.gui.looking.strip import LookStrip
from schemeforge.gui.looking.true_size import TrueSize
from schemeforge.gui.reading import tr
from schemeforge.gui.theme import GAP, GAP_PAGE, GAP_TIGHT, GAP_WIDE
from schemeforge.gui.widgets.field import Field, NumberBox
from schemeforge.gui.widgets.stand_in import WHOLE, StandInView

_SIDE = 276
_NAME = 16  # characters of a scheme's name that are always shown


class LookingRoom(QDialog):
    """Models on a table, with all that can be changed about how they are looked at."""

    def __init__(self, bridge: Bridge, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.bridge = bridge
        self.setWindowTitle(self.tr("Look at the models"))
        self.view = StandInView(bridge, bridge.state.preferences.figure or WHOLE)
        self.view.show_outlines(on=False)
        self.what = QComboBox()
        self.scheme = QComboBox()
        self.other = QComboBox()
        self.count = NumberBox(self.tr("models"), low=2, high=10, step=1, decimals=0)
        self.model = QComboBox()
        self.strip = LookStrip(bridge)
        self.steps = StepStrip()
        self.light = LightAndSpray(bridge)
        self.true_size = QPushButton(self.tr("True size"))
        self.fit = QPushButton(self.tr("Set true size…"))
        self.sizes: TrueSize | None = None
        self._listed: list[tuple[str, str]] = []
        self._fill()
        self._assemble()
        self._connect()
        bridge.changed.connect(self._on_changed)
        self._show(bridge.state)

    def sizeHint(self) -> QSize:
        """Large, but no larger than the screen has room for."""
        return QSize(1180, 760).boundedTo(self.screen().availableSize() * 0.92)

    def arrange(self, arrangement: Arrangement) -> None:
        """Put that on the table."""
        self.what.setCurrentIndex(self.what.findData(arrangement.value))
        self._on_arranged()

    def _fill(self) -> None:
        """What there is to choose from."""
        for value, label, tip in words.arrangements():
            self.what.addItem(label, value)
            self.what.setItemData(self.what.count() - 1, tip, Qt.ItemDataRole.ToolTipRole)
        self.what.setToolTip(self.tr("What stands on the table"))
        for box in (self.scheme, self.other):  # a name may be long
            box.setSizeAdjustPolicy(
                QComboBox.SizeAdjustPolicy.AdjustToMinimumContentsLengthWithIcon
            )
            box.setMinimumContentsLength(_NAME)
        self.scheme.setToolTip(self.tr("The scheme being worked on"))
        self.other.setToolTip(self.tr("The scheme right of the line"))
        self.count.setValue(10)
        self.count.setToolTip(self.tr("Models in the group, 2 to 10"))
        self.model.setToolTip(self.tr("What the colours are shown on"))
        for name in _models():
            self.model.addItem(tr(name), name)
        self.true_size.setCheckable(True)
        self.true_size.setToolTip(self.tr("As large as your model is, to be seen at arm's length"))

    def _assemble(self) -> None:
        self.other_field = Field(self.tr("right of the line"), self.other)
        self.count_field = Field(self.tr("models"), self.count)
        side = QVBoxLayout()
        side.setContentsMargins(0, 0, GAP, 0)
        side.setSpacing(GAP)
        for caption, box in (
            (self.tr("on the table"), self.what),
            (self.tr("scheme"), self.scheme),
        ):
            side.addWidget(Field(caption, box))
        side.addWidget(self.other_field)
        side.addWidget(self.count_field)
        side.addWidget(Field(self.tr("shown on"), self.model))
        side.addSpacing(GAP_WIDE)
        side.addWidget(_heading(self.tr("Seen")))
        side.addWidget(self.strip)
        side.addSpacing(GAP_WIDE)
        side.addWidget(_heading(self.tr("After each coat")))
        side.addWidget(self.steps)
        side.addSpacing(GAP_WIDE)
        side.addWidget(_heading(self.tr("Lamp and spray")))
        side.addWidget(self.light)
        side.addSpacing(GAP_WIDE)
        side.addWidget(_heading(self.tr("Size")))
        side.addWidget(self.true_size)
        side.addWidget(self.fit)
        side.addStretch(1)
        inner = QWidget()
        inner.setLayout(side)
        area = QScrollArea()
        area.setWidget(inner)
        area.setWidgetResizable(True)
        area.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        area.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        area.setMinimumWidth(_SIDE)
        area.setMaximumWidth(_SIDE + _SIDE // 3)
        whole = QHBoxLayout(self)
        whole.setContentsMargins(GAP_WIDE, GAP_WIDE, GAP_TIGHT, GAP_WIDE)
        whole.setSpacing(GAP_PAGE)
        whole.addWidget(self.view, 1)
        whole.addWidget(area)
        self.area = area

    def _connect(self) -> None:
        session = self.bridge.session
        self.what.activated.connect(lambda _row: self._on_arranged())
        self.scheme.activated.connect(
            lambda row: session.select(scheme_id=self.scheme.itemData(row))
        )
        self.other.activated.connect(lambda _row: self._on_arranged())
        self.count.valueChanged.connect(lambda _count: self._on_arranged())
        self.model.activated.connect(lambda row: session.prefer(figure=self.model.itemData(row)))
        self.view.leave_stage_to(self.steps)
        self.steps.staged.connect(self.view.show_stage)
        self.steps.held.connect(self.view.hold_before)
        self.view.staged.connect(self.steps.show_step)
        self.view.held.connect(self.steps.show_held)
        self.true_size.toggled.connect(lambda on: self.view.show_true_size(on=on))
        self.fit.clicked.connect(self._on_fit)
        for button in self.findChildren(QPushButton):
            button.setAutoDefault(False)  # Enter in a field is not a click on a button

    @property
    def arrangement(self) -> Arrangement:
        """What stands on the table."""
        return Arrangement(self.what.currentData())

    def _on_arranged(self) -> None:
        how = self.arrangement
        self.other_field.setVisible(how is Arrangement.SPLIT)
        self.count_field.setVisible(how is Arrangement.GROUP)
        other_id = str(self.other.currentData() or "")
        self.view.arrange(how, other_id=other_id, count=round(self.count.value()))

    def _on_fit(self) -> None:
        if self.sizes is None:
            self.sizes = TrueSize(self.bridge, self)
        self.true_size.setChecked(True)
        self.sizes.show()
        self.sizes.activateWindow()

    def _on_changed(self, old: DeskState, new: DeskState) -> None:
        same = old.document is new.document and old.selection == new.selection
        if self.isVisible() and not (same and old.preferences is new.preferences):
            self._show(new)

    def _show(self, state: DeskState) -> None:
        listed = [(scheme.name, scheme.id) for scheme in state.project.schemes]
        if listed != self._listed:
            self._list(listed)
        with QSignalBlocker(self.scheme):
            self.scheme.setCurrentIndex(self.scheme.findData(state.selection.scheme_id))
        figure = state.preferences.figure or WHOLE
        with QSignalBlocker(self.model):
            self.model.setCurrentIndex(self.model.findData(figure))
        self.view.show_model(figure)
        self.steps.show_state(state)
        self._on_arranged()
        self.view.show_state(state)

    def _list(self, listed: list[tuple[str, str]]) -> None:
        """Name the schemes; right of the line stands one that is not picked, if there is one."""
        here = str(self.other.currentData() or "")
        self._listed = listed
        picked = self.bridge.state.selection.scheme_id
        ids = [scheme_id for _, scheme_id in listed]
        others = [scheme_id for scheme_id in ids if scheme_id != picked]
        for box in (self.scheme, self.other):
            with QSignalBlocker(box):
                box.clear()
                for name, scheme_id in listed:
                    box.addItem(name, scheme_id)
        wanted = here if here in ids else (others or ids or [""])[0]
        with QSignalBlocker(self.other):
            self.other.setCurrentIndex(self.other.findData(wanted))

    def showEvent(self, event: object) -> None:
        """As things stand now."""
        super().showEvent(event)  # type: ignore[arg-type]
        self._show(self.bridge.state)
        self.view.setFocus()

    def closeEvent(self, event: QCloseEvent) -> None:
        """With the dialog that belongs to it."""
        if self.sizes is not None:
            self.sizes.close()
        super().closeEvent(event)


def _heading(text: str) -> QLabel:
    label = QLabel(text)
    label.setProperty("role", "heading")
    return label


def _models() -> tuple[str, ...]:
    from schemeforge.stand_in import model_names

    return model_names()


def look(bridge: Bridge, parent: QWidget, arrangement: Arrangement = Arrangement.ONE) -> None:
    """Open the one such window of a main window, or bring it to the front."""
    window = parent.window()
    room = next(iter(window.findChildren(LookingRoom)), None)
    if room is None:
        room = LookingRoom(bridge, window)
    room.show()
    room.arrange(arrangement)
    room.raise_()
    room.activateWindow()
