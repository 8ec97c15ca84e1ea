"""Where the picked coat goes, by numbers: pool or catch, and its ends along the part."""

from dataclasses import replace

from PySide6.QtCore import QObject

from schemeforge.desk import DeskState, Direction
from schemeforge.desk.handles import HandleKind, moved_along
from schemeforge.gui.bridge import Bridge
from schemeforge.gui.widgets.field import Field, NumberBox
from schemeforge.scheme import AlongProfile, Coat, Placement, ReliefKind, edits


class PlaceFields(QObject):
    """Per cent of pool or catch, its reach, and start, end and feathers along the part."""

    def __init__(self, bridge: Bridge) -> None:
        super().__init__(bridge)
        self.bridge = bridge
        self.pool_depth = self._box(self.tr("gathers there"))
        self.reach = self._box(self.tr("reaches"), low=5.0)
        self.start = self._box(self.tr("begins at"))
        self.feather_start = self._box(self.tr("fades in over"))
        self.feather_end = self._box(self.tr("fades out over"))
        self.end = self._box(self.tr("ends at"))
        self._relief = [Field(b.accessibleName(), b) for b in (self.pool_depth, self.reach)]
        ends = (self.start, self.feather_start, self.feather_end, self.end)
        self._along = [Field(b.accessibleName(), b) for b in ends]
        self.fields = (*self._relief, *self._along)
        for box in (self.pool_depth, self.reach):
            box.valueChanged.connect(self._on_relief)
        self.start.valueChanged.connect(lambda v: self._on_end(HandleKind.START, v / 100))
        self.end.valueChanged.connect(lambda v: self._on_end(HandleKind.END, v / 100))
        self.feather_start.valueChanged.connect(self._on_feather_start)
        self.feather_end.valueChanged.connect(self._on_feather_end)

    @staticmethod
    def _box(name: str, low: float = 0.0) -> NumberBox:
        box = NumberBox(name, low=low, high=100.0, step=5.0, decimals=0, unit="%")
        box.setMaximumWidth(84)
        return box

    def show_state(self, new: DeskState) -> None:
        """Write the picked coat's placement."""
        coat = None if new.step is None else new.step.coat
        if coat is None:
            for field in self.fields:
                field.hide()
            return
        relief, along = coat.placement.relief, coat.placement.along
        shaped = relief.kind in {ReliefKind.POOLS, ReliefKind.CATCHES}
        spanning = not along.is_even or new.selection.direction is Direction.ALONG
        for field in self._relief:
            field.setVisible(shaped)
        for field in self._along:
            field.setVisible(spanning)
        self.pool_depth.show_value(relief.depth * 100)
        self.reach.show_value(relief.reach * 100)
        self.start.show_value(along.start * 100)
        self.end.show_value(along.end * 100)
        self.feather_start.show_value(along.feather_start * 100)
        self.feather_end.show_value(along.feather_end * 100)

    def _coat(self) -> Coat | None:
        step = self.bridge.state.step
        return None if step is None else step.coat

    def _on_relief(self, _value: float) -> None:
        coat = self._coat()
        if coat is not None:
            relief = replace(
                coat.placement.relief,
                depth=self.pool_depth.value() / 100,
                reach=self.reach.value() / 100,
            )
            self._place(replace(coat.placement, relief=relief))

    def _on_end(self, kind: HandleKind, at: float) -> None:
        coat = self._coat()
        if coat is not None:
            along = moved_along(coat.placement.along, kind, at)
            self._place(replace(coat.placement, along=along))

    def _on_feather_start(self, value: float) -> None:
        coat = self._coat()
        if coat is not None:
            along = coat.placement.along
            self._set_along(moved_along(along, HandleKind.FEATHER_START, along.start + value / 100))

    def _on_feather_end(self, value: float) -> None:
        coat = self._coat()
        if coat is not None:
            along = coat.placement.along
            self._set_along(moved_along(along, HandleKind.FEATHER_END, along.end - value / 100))

    def _set_along(self, along: AlongProfile) -> None:
        coat = self._coat()
        if coat is not None:
            self._place(replace(coat.placement, along=along))

    def _place(self, placement: Placement) -> None:
        step = self.bridge.state.step
        if step is None:
            return
        scheme_id = self.bridge.state.selection.scheme_id
        self.bridge.edit(
            self.tr("where {0} goes").format(step.name),
            lambda p: edits.set_coat(p, scheme_id, step.id, placement=placement),
            merge=f"place {step.id}",
        )
