"""The left of the bench, upper part: the target beside the ground, and other targets to choose."""

from PySide6.QtCore import QSignalBlocker, Signal
from PySide6.QtWidgets import QComboBox, QFrame, QLineEdit, QVBoxLayout, QWidget

from schemeforge.desk import DeskState
from schemeforge.errors import SchemeForgeError
from schemeforge.gui.reading import reading_of
from schemeforge.gui.recipes.answers import Slip
from schemeforge.gui.recipes.asked import (
    USUAL_PLACE,
    ColourWanted,
    FindRecipe,
    PaintWanted,
    Wanted,
    ZoneWanted,
    judged_model,
)
from schemeforge.gui.recipes.card import strip_xyz
from schemeforge.gui.recipes.sources import zone_name
from schemeforge.gui.theme import GAP, GAP_TIGHT
from schemeforge.gui.widgets.field import Field, NumberBox, WideField
from schemeforge.gui.widgets.flow import Flow
from schemeforge.gui.widgets.labels import words
from schemeforge.gui.widgets.segments import Segments
from schemeforge.gui.widgets.strip import ColourStrip
from schemeforge.recipe import screen_target, typed_target

_RAMP, _PLACE = "ramp", "place"


class TargetPanel(QFrame):
    """What is wanted, and what it is laid on.

    Signals:
        asked: Another target, as `FindRecipe`.
        refused: Why what was typed is no colour.
    """

    asked = Signal(object)
    refused = Signal(str)

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setProperty("role", "panel")
        self._wanted: Wanted | None = None
        self._others: list[Wanted] = []
        self.name = words("", "heading")
        self.target = ColourStrip(self.tr("target"), height=44)
        self.ground = ColourStrip(self.tr("ground"), height=28)
        self.read = words("", "muted")
        self.typed = QLineEdit()
        self.typed.setMaxLength(60)
        self.typed.setPlaceholderText(self.tr("#8a5a3c or 52, 12, -30"))
        self.typed.setToolTip(
            self.tr("A screen colour, or L*, a* and b* (D65); Enter looks for it")
        )
        self.others = QComboBox()
        self.others.setSizeAdjustPolicy(
            QComboBox.SizeAdjustPolicy.AdjustToMinimumContentsLengthWithIcon
        )
        self.others.setMinimumContentsLength(14)
        self.others.setToolTip(
            self.tr("A zone of this or another scheme, or a photographed test model")
        )
        self.tones = Segments(
            self.tr("Tones"),
            [
                (_RAMP, self.tr("All tones"), self.tr("The whole ramp, recess to raised edge")),
                (_PLACE, self.tr("One place"), self.tr("One place between recess and raised edge")),
            ],
        )
        self.place = NumberBox(
            self.tr("place"), low=0.0, high=100.0, step=5.0, decimals=0, unit="%"
        )
        self.place.setToolTip(self.tr("Where: 0 % in the recess, 100 % on the raised edge"))
        self._choice = QWidget()
        self._assemble()
        self.typed.returnPressed.connect(self._on_typed)
        self.others.activated.connect(self._on_other)
        self.tones.chosen.connect(self._on_tones)
        self.place.valueChanged.connect(self._on_place)

    def _assemble(self) -> None:
        strips = QVBoxLayout()
        strips.setSpacing(0)
        strips.addWidget(self.target)
        strips.addWidget(self.ground)
        self._tones_field = Field(self.tr("matched over"), self.tones)
        self._place_field = Field(self.tr("place"), self.place)
        where = Flow()
        where.add(self._tones_field)
        where.add(self._place_field)
        choice = QVBoxLayout(self._choice)
        choice.setContentsMargins(0, 0, 0, 0)
        choice.setSpacing(GAP)
        choice.addWidget(where)
        choice.addWidget(WideField(self.tr("another colour"), self.typed))
        choice.addWidget(WideField(self.tr("or to look like"), self.others))
        column = QVBoxLayout(self)
        column.setContentsMargins(GAP, GAP, GAP, GAP)
        column.setSpacing(GAP_TIGHT)
        column.addWidget(self.name)
        column.addLayout(strips)
        column.addWidget(self.read)
        column.addWidget(self._choice)

    def show_slip(self, slip: Slip, *, numbers: bool) -> None:
        """The colours, once they are worked out."""
        self.name.setText(slip.name)
        self.target.set_ramp(strip_xyz(slip.target), numbers=numbers)
        self.ground.set_ramp(strip_xyz(slip.ground), numbers=numbers)
        middle = self.target.xyz[len(self.target.xyz) // 2]
        read = reading_of(middle).text(numbers=numbers)
        self.read.setText(self.tr("{0}; below it the ground").format(read))

    def show_wanted(self, wanted: Wanted | None, state: DeskState) -> None:
        """What is wanted now, and what else could be; None where it is no target of one's own."""
        self._wanted = wanted
        self._choice.setVisible(wanted is not None)
        if wanted is None:
            return
        may_turn = isinstance(wanted, ZoneWanted | PaintWanted)
        self._tones_field.setVisible(may_turn)
        self.tones.set_value(_RAMP if wanted.is_ramp else _PLACE)
        self._place_field.setVisible(not wanted.is_ramp)
        if not wanted.is_ramp:
            self.place.show_value(100.0 * wanted.places[0])
        self._list_others(state)

    def _list_others(self, state: DeskState) -> None:
        others = [
            ZoneWanted(
                project=state.project,
                scheme_id=scheme.id,
                zone_id=zone.id,
                name=zone_name(state, scheme, zone.id, None),
            )
            for scheme in state.project.schemes
            for zone in state.project.zones
        ]
        models = [judged_model(evidence) for evidence in state.project.evidence]
        self._others = [*models, *others]
        names = [
            *(self.tr("test model: {0}").format(model.name) for model in models),
            *(other.name for other in others),
        ]
        if names == [self.others.itemText(n) for n in range(1, self.others.count())]:
            return
        with QSignalBlocker(self.others):
            self.others.clear()
            self.others.addItem(self.tr("choose a zone"))
            self.others.addItems(names)
            self.others.setCurrentIndex(0)

    def _on_typed(self) -> None:
        text = self.typed.text()
        try:
            target = typed_target(text) or screen_target(text)
        except SchemeForgeError as error:
            self.refused.emit(error.sentence)
            return
        wanted = ColourWanted(name=target.name, lab=target.lab)
        if self._wanted is not None and not self._wanted.is_ramp:
            wanted = wanted.placed(self._wanted.places[0])
        self.asked.emit(FindRecipe(wanted=wanted))

    def _on_other(self, row: int) -> None:
        if row > 0:
            self.asked.emit(FindRecipe(wanted=self._others[row - 1]))

    def _on_tones(self, value: str) -> None:
        self._turn(None if value == _RAMP else USUAL_PLACE)

    def _on_place(self, percent: float) -> None:
        self._turn(percent / 100.0)

    def _turn(self, at: float | None) -> None:
        """The same target at another place, or over the whole ramp."""
        wanted = self._wanted
        if wanted is None:
            return
        self.asked.emit(FindRecipe(wanted=wanted.placed(at)))
