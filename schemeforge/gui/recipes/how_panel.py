"""The left of the bench, lower part: where the recipe is laid, how, and of which paints."""

from dataclasses import replace

from PySide6.QtCore import QSignalBlocker, Qt, Signal
from PySide6.QtWidgets import (
    QComboBox,
    QFrame,
    QPushButton,
    QSpinBox,
    QVBoxLayout,
    QWidget,
)

from schemeforge.gui.reading import tr
from schemeforge.gui.recipes.ground import Ground, GroundKind
from schemeforge.gui.recipes.options import Layers, Options
from schemeforge.gui.recipes.paint_limits import PaintLimits
from schemeforge.gui.theme import GAP, GAP_TIGHT
from schemeforge.gui.widgets.field import Field, WideField
from schemeforge.gui.widgets.flow import Flow
from schemeforge.gui.widgets.segments import Segments
from schemeforge.paint import WATER_ID, Paint, PaintKind
from schemeforge.scheme import Coat, Project, ReliefKind, Scheme, Technique, coloured_steps


class HowPanel(QFrame):
    """The painter's wishes; says what was changed by the user, never what was shown.

    Signals:
        zone_picked: Id of the zone to paint.
        ground_picked: The `Ground`.
        changed: The `Options` as they are now.
    """

    zone_picked = Signal(str)
    ground_picked = Signal(object)
    changed = Signal(object)

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setProperty("role", "panel")
        self._options = Options()
        self._grounds: list[Ground] = []
        self.zone = _combo(12)
        self.ground = _combo(16)
        self.technique = _combo(8)
        for technique in Technique:
            self.technique.addItem(tr(technique.value), technique.value)
        self.layers = Segments(self.tr("Kind of recipe"), self._layers())
        self.paints = Segments(
            self.tr("Paints in a mix, at most"),
            [(str(n), str(n), self.tr("Paints in a mix, thinner not counted")) for n in (1, 2, 3)],
        )
        self.coats = _spin(1, 6, self.tr("Coats of one mix, at most"))
        self.parts = _spin(2, 20, self.tr("Whole parts of a mix, thinner included, at most"))
        self.thinner = _combo(9)
        self.thinner.setToolTip(self.tr("What mixes are thinned with"))
        self.where = _combo(10)
        self.stock = QPushButton(self.tr("In stock only"))
        self.stock.setCheckable(True)
        self.stock.setToolTip(self.tr("Leave out paints of which nothing is left"))
        self.limits = PaintLimits()
        self._assemble()
        self._connect()

    def _layers(self) -> list[tuple[str, str, str]]:
        return [
            (Layers.SINGLE.value, self.tr("One mix"), self.tr("One mix, in one coat or more")),
            (
                Layers.LAYERED.value,
                self.tr("Base and glaze"),
                self.tr("A base coat of one mix, then a thin coat of another"),
            ),
            (Layers.EITHER.value, self.tr("Either"), self.tr("Whichever comes nearer")),
        ]

    def _assemble(self) -> None:
        self._wide = [
            WideField(self.tr("for"), self.zone),
            WideField(self.tr("laid on"), self.ground),
        ]
        line = Flow(gap=GAP + GAP_TIGHT)
        self._fields = {
            "layers": Field(self.tr("kind of recipe"), self.layers),
            "technique": Field(self.tr("technique"), self.technique),
            "where": Field(self.tr("where it goes"), self.where),
            "paints": Field(self.tr("paints, at most"), self.paints),
            "coats": Field(self.tr("coats, at most"), self.coats),
            "parts": Field(self.tr("parts, at most"), self.parts),
            "thinner": Field(self.tr("thinned with"), self.thinner),
            "stock": Field(self.tr("stock"), self.stock),
        }
        for field in self._fields.values():
            line.add(field)
        column = QVBoxLayout(self)
        column.setContentsMargins(GAP, GAP, GAP, GAP)
        column.setSpacing(GAP)
        for wide in self._wide:
            column.addWidget(wide)
        column.addWidget(line)
        column.addWidget(self.limits)

    def _connect(self) -> None:
        self.zone.activated.connect(lambda row: self.zone_picked.emit(self.zone.itemData(row)))
        self.ground.activated.connect(lambda row: self.ground_picked.emit(self._grounds[row]))
        self.technique.activated.connect(
            lambda row: self._set(technique=Technique(self.technique.itemData(row)))
        )
        self.layers.chosen.connect(lambda value: self._set(layers=Layers(value)))
        self.paints.chosen.connect(lambda value: self._set(most_paints=int(value)))
        self.coats.valueChanged.connect(lambda value: self._set(most_coats=value))
        self.parts.valueChanged.connect(lambda value: self._set(most_parts=value))
        self.thinner.activated.connect(lambda row: self._set(thinner_id=self.thinner.itemData(row)))
        self.where.activated.connect(lambda row: self._set(where=self.where.itemData(row)))
        self.stock.clicked.connect(lambda on: self._set(only_in_stock=on))
        self.limits.changed.connect(lambda must, without: self._set(must=must, without=without))

    def _set(self, **changes: object) -> None:
        options = replace(self._options, **changes)  # type: ignore[arg-type]
        if options != self._options:
            self._options = options
            self.changed.emit(options)

    def show_options(
        self,
        options: Options,
        ground: Ground,
        project: Project,
        scheme: Scheme,
        zone_id: str,
        paints: tuple[Paint, ...],
    ) -> None:
        """Write everything, telling nobody."""
        self._options = options
        _fill(self.zone, [(zone.name, zone.id) for zone in project.zones], zone_id)
        self._show_grounds(ground, scheme, zone_id)
        with QSignalBlocker(self.technique):
            self.technique.setCurrentIndex(self.technique.findData(options.technique.value))
        self._show_where(options, ground)
        self.layers.set_value(options.layers.value)
        self.paints.set_value(str(options.most_paints))
        for spin, value in ((self.coats, options.most_coats), (self.parts, options.most_parts)):
            with QSignalBlocker(spin):
                spin.setValue(value)
        media = [(p.name, p.id) for p in paints if p.kind is PaintKind.MEDIUM]
        _fill(self.thinner, [(tr("water"), WATER_ID), *media], options.thinner_id)
        with QSignalBlocker(self.stock):
            self.stock.setChecked(options.only_in_stock)
        self.limits.show_paints(paints, options.must, options.without)

    def show_only_stock(self, options: Options) -> None:
        """For what stands in: only the stock is a choice."""
        self._options = options
        with QSignalBlocker(self.stock):
            self.stock.setChecked(options.only_in_stock)

    def show_fields(self, *, whole: bool) -> None:
        """All of it, or the stock alone."""
        for key, field in self._fields.items():
            field.setVisible(whole or key == "stock")
        for widget in (*self._wide, self.limits):
            widget.setVisible(whole)

    def _show_where(self, options: Options, ground: Ground) -> None:
        """As the coat goes that it takes the place of, or as chosen."""
        kinds = [ReliefKind.POOLS, ReliefKind.CATCHES]
        usual = tr(ReliefKind.EVEN.value)
        if ground.kind is GroundKind.IN_PLACE:
            kinds.insert(0, ReliefKind.EVEN)
            usual = self.tr("as that coat goes")
        items = [(usual, ""), *((tr(kind.value), kind.value) for kind in kinds)]
        known = options.where in {value for _, value in items}
        _fill(self.where, items, options.where if known else "")

    def _show_grounds(self, ground: Ground, scheme: Scheme, zone_id: str) -> None:
        coats = [s for s in coloured_steps(scheme, zone_id) if isinstance(s.layer, Coat)]
        under = tr("the undercoat")
        if coats:
            under = tr("the undercoat, for all its coats")
        listed = [(under, Ground())]
        listed += [
            (
                tr("for “{0}”").format(step.name),
                Ground(kind=GroundKind.IN_PLACE, step_ids=(step.id,)),
            )
            for step in coats
        ]
        if ground.kind is GroundKind.IN_PLACE and len(ground.step_ids) > 1:
            names = ", ".join(f"“{scheme.step(i).name}”" for i in ground.step_ids)
            listed.append((tr("for {0}").format(names), ground))
        listed.append((tr("all that it has"), Ground(kind=GroundKind.ON_TOP)))
        listed += [
            (tr("plain black"), Ground(kind=GroundKind.BLACK)),
            (tr("plain grey"), Ground(kind=GroundKind.GREY)),
            (tr("plain off-white"), Ground(kind=GroundKind.WHITE)),
        ]
        self._grounds = [choice for _, choice in listed]
        here = self._grounds.index(ground) if ground in self._grounds else 0
        _fill(self.ground, [(name, str(n)) for n, (name, _) in enumerate(listed)], str(here))
        self.ground.setToolTip(
            self.tr(
                "What lies under the recipe, and which coats it takes the place of: {0}"
            ).format(self.ground.currentText())
        )


def _combo(letters: int) -> QComboBox:
    combo = QComboBox()
    combo.setSizeAdjustPolicy(QComboBox.SizeAdjustPolicy.AdjustToMinimumContentsLengthWithIcon)
    combo.setMinimumContentsLength(letters)
    return combo


def _spin(low: int, high: int, tip: str) -> QSpinBox:
    spin = QSpinBox()
    spin.setRange(low, high)
    spin.setToolTip(tip)
    spin.setKeyboardTracking(False)
    spin.setAlignment(Qt.AlignmentFlag.AlignRight)
    return spin


def _fill(combo: QComboBox, items: list[tuple[str, str]], chosen: str) -> None:
    """List the items anew where they changed, and show the chosen one."""
    with QSignalBlocker(combo):
        known = [(combo.itemText(n), combo.itemData(n)) for n in range(combo.count())]
        if known != items:
            combo.clear()
            for name, value in items:
                combo.addItem(name, value)
        combo.setCurrentIndex(combo.findData(chosen))
