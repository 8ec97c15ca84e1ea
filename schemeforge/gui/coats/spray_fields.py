"""The picked undercoat spray by its droplets: their size in words, and by numbers too."""

from dataclasses import replace
from typing import Any

from PySide6.QtCore import QObject, QSignalBlocker
from PySide6.QtWidgets import QComboBox

from schemeforge.desk import DeskState
from schemeforge.gui.bridge import Bridge
from schemeforge.gui.reading import tr
from schemeforge.gui.widgets.field import Field, NumberBox
from schemeforge.scheme import Spray, Step, edits

_DROPLETS = (("fine airbrush", 3.0), ("airbrush", 8.0), ("coarse can", 20.0))


class SprayFields(QObject):
    """Droplets of a spray; with numbers their film and how light spreads between them."""

    def __init__(self, bridge: Bridge) -> None:
        super().__init__(bridge)
        self.bridge = bridge
        self.droplet = QComboBox()
        for words, um in _DROPLETS:
            self.droplet.addItem(tr(words), um)
        self.droplet_um = NumberBox(
            self.tr("droplet film"), low=0.1, high=200.0, step=1.0, decimals=1, unit="µm"
        )
        self.spread_n = NumberBox(
            self.tr("light spread n"), low=1.0, high=10.0, step=0.1, decimals=1, unit=""
        )
        self.spread_n.setToolTip(
            self.tr(
                "Yule-Nielsen n: 1 where light stays within a droplet or beside it, higher where "
                "it spreads from one to the other, which darkens half-covered places"
            )
        )
        self._words = Field(self.tr("droplets"), self.droplet)
        self._numbers = (
            Field(self.droplet_um.accessibleName(), self.droplet_um),
            Field(self.spread_n.accessibleName(), self.spread_n),
        )
        self.fields = (self._words, *self._numbers)
        self.droplet.activated.connect(lambda row: self._set(droplet_um=self.droplet.itemData(row)))
        self.droplet_um.valueChanged.connect(lambda v: self._set("film", droplet_um=v))
        self.spread_n.valueChanged.connect(lambda v: self._set("spread", spread_n=v))

    def show_state(self, new: DeskState) -> None:
        """Write the picked spray."""
        spray = _spray(new.step)
        self._words.setVisible(spray is not None)
        for field in self._numbers:
            field.setVisible(spray is not None and new.preferences.numbers)
        if spray is None:
            return
        nearest = min(range(len(_DROPLETS)), key=lambda n: abs(_DROPLETS[n][1] - spray.droplet_um))
        with QSignalBlocker(self.droplet):
            self.droplet.setCurrentIndex(nearest)
        self.droplet_um.show_value(spray.droplet_um)
        self.spread_n.show_value(spray.spread_n)

    def _set(self, typed: str = "", **change: Any) -> None:
        step = self.bridge.state.step
        spray = _spray(step)
        if step is None or spray is None:
            return
        changed = replace(spray, **change)
        scheme_id = self.bridge.state.selection.scheme_id
        self.bridge.edit(
            self.tr("droplets of {0}").format(step.name),
            lambda p: edits.set_layer(p, scheme_id, step.id, changed),
            merge=f"{typed} {step.id}" if typed else "",
        )


def _spray(step: Step | None) -> Spray | None:
    return step.layer if step is not None and isinstance(step.layer, Spray) else None
