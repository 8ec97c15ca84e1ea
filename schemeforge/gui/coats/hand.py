"""What a hand does in the cutaway, as edits: weigh, shape, feather, re-order."""

from dataclasses import replace

from PySide6.QtCore import QObject

from schemeforge.desk import Direction
from schemeforge.desk.cutaway import Band, CutScale, weight_for_height
from schemeforge.desk.handles import Handle, HandleKind, as_curve, moved, place_index
from schemeforge.gui.bridge import Bridge
from schemeforge.scheme import Coat, Placement, ReliefKind, Spray, Step, edits

_COARSE = 1.1
_FINE = 1.02


class Hand(QObject):
    """Turns gestures and keys on a band into edits of the document."""

    def __init__(self, bridge: Bridge) -> None:
        super().__init__(bridge)
        self.bridge = bridge

    def drag(self, band: Band, handle: Handle, scale: CutScale, at: float, height: float) -> None:
        """A handle was dragged to a place along the cut and a band height in pixels."""
        state = self.bridge.state
        if state.scheme is None:
            return
        if handle.kind is HandleKind.WEIGHT:
            wet_um = weight_for_height(
                state.project, state.scheme, band, scale, place_index(handle.at), height
            )
            if wet_um is not None:
                self.set_weight(band.step, wet_um, merge=f"drag {band.step.id}")
            return
        coat = self._coat(band.step)
        if coat is not None:
            placement = moved(coat, band, handle, scale, at, height)
            self.set_placement(band.step, placement, merge=f"drag {band.step.id}")

    def nudge(
        self,
        band: Band,
        handle: Handle,
        scale: CutScale,
        across: int,
        up: int,
        *,
        fine: bool,
    ) -> None:
        """A handle was moved by an arrow key."""
        step = 0.01 if fine else 0.05
        if handle.kind is HandleKind.WEIGHT:
            self.weigh(band.step, up or across, fine=fine)
            return
        index = place_index(handle.at)
        height = float(scale.height(band.dry_um)[index])
        pixels = (2.0 if fine else 8.0) * up
        coat = self._coat(band.step)
        if coat is None:
            return
        at = handle.at + step * (across or (up if handle.is_level else 0))
        placement = moved(coat, band, handle, scale, at, height + pixels)
        self.set_placement(band.step, placement, merge=f"keys {band.step.id} {handle.kind}")

    def weigh(self, step: Step, direction: int, *, fine: bool) -> None:
        """A coat made heavier (1) or lighter (-1) by a tenth, or a fiftieth."""
        layer = self._layer(step)
        now = layer.wet_um if isinstance(layer, Coat) else None
        if isinstance(layer, Spray):
            now = layer.peak_um
        if now is None:
            return
        factor = (_FINE if fine else _COARSE) ** direction
        self.set_weight(step, min(max(now * factor, 0.5), 1000.0), merge=f"weigh {step.id}")

    def set_weight(self, step: Step, wet_um: float, *, merge: str = "") -> None:
        """Another wet film for a coat, or peak for a spray."""
        scheme_id = self.bridge.state.selection.scheme_id
        layer = self._layer(step)
        label = self.tr("how heavy {0} is").format(step.name)
        value = round(wet_um, 1)
        if isinstance(layer, Spray):
            spray = replace(layer, peak_um=value)
            self.bridge.edit(
                label, lambda p: edits.set_layer(p, scheme_id, step.id, spray), merge=merge
            )
        elif isinstance(layer, Coat) and layer.wet_um != value:
            self.bridge.edit(
                label, lambda p: edits.set_coat(p, scheme_id, step.id, wet_um=value), merge=merge
            )

    def set_placement(self, step: Step, placement: Placement, *, merge: str = "") -> None:
        """Another place for a coat."""
        scheme_id = self.bridge.state.selection.scheme_id
        coat = self._coat(step)
        if coat is None or coat.placement == placement:
            return
        self.bridge.edit(
            self.tr("where {0} goes").format(step.name),
            lambda p: edits.set_coat(p, scheme_id, step.id, placement=placement),
            merge=merge,
        )

    def reorder(self, step: Step, by: int) -> None:
        """The coat moved up (+) or down (-) in the zone's stack."""
        pick = self.bridge.state.selection
        self.bridge.edit(
            self.tr("order of {0}").format(step.name),
            lambda p: edits.move_in_zone(p, pick.scheme_id, step.id, pick.zone_id, by),
        )

    def add_curve_point(self, band: Band, at: float) -> None:
        """One more point on a free curve, at the film that the curve has there."""
        coat = self._coat(band.step)
        if coat is None or self.bridge.state.selection.direction is Direction.ALONG:
            return
        relief = coat.placement.relief
        if relief.kind is not ReliefKind.CURVE:
            self.set_placement(band.step, replace(coat.placement, relief=as_curve(relief)))
            return
        before = [p for p in relief.points if p[0] < at]
        after = [p for p in relief.points if p[0] > at]
        if len(before) + len(after) != len(relief.points) or not before or not after:
            return
        (x0, y0), (x1, y1) = before[-1], after[0]
        point = (at, y0 + (y1 - y0) * (at - x0) / (x1 - x0))
        curve = replace(relief, points=(*before, point, *after))
        self.set_placement(band.step, replace(coat.placement, relief=curve))

    def _layer(self, step: Step) -> object:
        scheme = self.bridge.state.scheme
        known = None if scheme is None else next((s for s in scheme.steps if s.id == step.id), None)
        return None if known is None else known.layer

    def _coat(self, step: Step) -> Coat | None:
        layer = self._layer(step)
        return layer if isinstance(layer, Coat) else None
