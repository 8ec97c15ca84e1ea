"""The painter's own numbers: what pots, sittings and predictions reckon with."""

from dataclasses import replace
from typing import Any, NamedTuple

from PySide6.QtWidgets import QComboBox, QWidget

from schemeforge.desk import DeskState
from schemeforge.gui.batch.section import Section, choose
from schemeforge.gui.bridge import Bridge
from schemeforge.gui.widgets.field import Field, NumberBox
from schemeforge.gui.widgets.flow import Flow
from schemeforge.gui.widgets.segments import Segments
from schemeforge.scheme import Habits, Viewing, edits
from schemeforge.scheme.settings import Way


class Own(NamedTuple):
    """One number of the habits.

    Args:
        key: Its name in `Habits`.
        caption: Over its field.
        about: What it means, for the tooltip.
        unit: Shown behind it.
        low: The least.
        high: The most.
        step: Of the arrows.
        decimals: Places behind the point.
        factor: What it is multiplied with to be shown: 100 for a percentage.
    """

    key: str
    caption: str
    about: str
    unit: str
    low: float
    high: float
    step: float
    decimals: int
    factor: float = 1.0


class NumbersSection(Section):
    """Each number with its unit; all are common practice until the painter gives another."""

    def __init__(self, bridge: Bridge, parent: QWidget | None = None) -> None:
        super().__init__("", "", parent)
        self.bridge = bridge
        self.heading.setText(self.tr("Your own numbers"))
        self.setAccessibleName(self.tr("Your own numbers"))
        self.about.setText(
            self.tr(
                "What pots, sittings and tolerances reckon with. To begin with they are common "
                "practice, from no source: put your own in their place."
            )
        )
        self.boxes: dict[str, NumberBox] = {}
        flow = Flow()
        self._owns = {own.key: own for own in (*self._pots(), *self._time(), *self._breaks())}
        for own in self._owns.values():
            flow.add(Field(own.caption, self._box(own)))
        self.way = QComboBox()
        for way, words in self._ways():
            self.way.addItem(words, way.value)
        self.way.setToolTip(self.tr("How the models of the batch take turns"))
        self.way.activated.connect(lambda _row: self._on_way())
        flow.add(Field(self.tr("Order of the models"), self.way))
        self.body.addWidget(flow)
        self.body.addWidget(self._seen())
        self.usual = self.add_button(self.tr("Back to common practice"), self._on_usual)

    def show_state(self, new: DeskState) -> None:
        """Write the numbers."""
        habits, view = new.project.habits, new.project.viewing
        for key, own in self._owns.items():
            self.boxes[key].show_value(getattr(habits, key) * own.factor)
        choose(self.way, habits.way.value)
        self.usual.setEnabled(habits != Habits())
        self.exact.setVisible(new.preferences.numbers)
        self.observer.set_value(str(view.observer))
        self.milk.show_value(view.milk_per_um)

    def _pots(self) -> tuple[Own, ...]:
        ml = self.tr("ml")
        return (
            Own(
                "waste",
                self.tr("Waste factor"),
                self.tr(
                    "Times the computed volume: about 1.5 for a lidded pot, 2 for an open palette"
                ),
                "×",
                1.0,
                20.0,
                0.1,
                2,
            ),
            Own(
                "stays_in_pot_ml",
                self.tr("Stays in the pot"),
                self.tr("What cannot be got out of a pot"),
                ml,
                0.0,
                100.0,
                0.1,
                2,
            ),
            Own(
                "overspray",
                self.tr("Overspray"),
                self.tr("Share of sprayed paint that misses the model"),
                "%",
                0.0,
                95.0,
                5.0,
                1,
                100.0,
            ),
            Own(
                "drop_ml",
                self.tr("A drop"),
                self.tr("What one drop holds; it differs by bottle and liquid"),
                ml,
                0.005,
                1.0,
                0.005,
                3,
            ),
        )

    def _time(self) -> tuple[Own, ...]:
        minutes = self.tr("min")
        return (
            Own(
                "sub_batch",
                self.tr("Sub-batch"),
                self.tr("How many models are painted at a time"),
                self.tr("models"),
                1,
                1000,
                1,
                0,
            ),
            Own(
                "hands",
                self.tr("People painting"),
                self.tr("How many people paint"),
                "",
                1,
                20,
                1,
                0,
            ),
            Own(
                "hand_sigma",
                self.tr("Spread of the hand"),
                self.tr("How much a film varies from model to model: one standard deviation"),
                "%",
                0.0,
                100.0,
                1.0,
                1,
                100.0,
            ),
            Own(
                "mixing_minutes",
                self.tr("Mixing a pot"),
                self.tr("Minutes for one pot, once for the batch"),
                minutes,
                0,
                120,
                1,
                1,
            ),
            Own(
                "sitting_minutes",
                self.tr("Laying out and packing up"),
                self.tr("Minutes once a sitting"),
                minutes,
                0,
                240,
                1,
                1,
            ),
        )

    def _breaks(self) -> tuple[Own, ...]:
        minutes = self.tr("min")
        return (
            Own(
                "brush_change_minutes",
                self.tr("Change of brush"),
                self.tr("Minutes to turn to another pot that is open already"),
                minutes,
                0,
                60,
                0.5,
                1,
            ),
            Own(
                "spray_change_minutes",
                self.tr("Change of sprayed colour"),
                self.tr("Minutes to clean the airbrush for another colour"),
                minutes,
                0,
                120,
                1,
                1,
            ),
            Own(
                "break_every_minutes",
                self.tr("A break after"),
                self.tr("Minutes of work after which eyes and hands rest"),
                minutes,
                5,
                1440,
                5,
                1,
            ),
            Own(
                "break_minutes",
                self.tr("A break lasts"),
                self.tr("Minutes of rest; 0 for never"),
                minutes,
                0,
                120,
                1,
                1,
            ),
        )

    def _ways(self) -> tuple[tuple[Way, str], ...]:
        return (
            (Way.WHOLE_BATCH, self.tr("each step on all models")),
            (Way.SUB_BATCHES, self.tr("a sub-batch at a time")),
            (Way.BY_GROUP, self.tr("group by group")),
        )

    def _box(self, own: Own) -> NumberBox:
        box = NumberBox(
            own.caption,
            low=own.low,
            high=own.high,
            step=own.step,
            decimals=own.decimals,
            unit=own.unit,
        )
        box.setToolTip(self._tip(own.about, own.unit))
        box.valueChanged.connect(lambda value: self._on_number(own, value))
        self.boxes[own.key] = box
        return box

    def _tip(self, about: str, unit: str) -> str:
        told = f"{about} ({unit})" if unit else about
        return self.tr("{0}. Common practice, no source: put your own in its place.").format(told)

    def _seen(self) -> QWidget:
        """What only those who want numbers change: the observer, and how milky wet paint is."""
        self.exact = Flow()
        self.observer = Segments(
            self.tr("Observer"),
            [
                ("2", self.tr("2°"), self.tr("The CIE 1931 observer: small fields, the usual one")),
                ("10", self.tr("10°"), self.tr("The CIE 1964 observer: larger fields")),
            ],
        )
        self.observer.chosen.connect(lambda v: self._view(self.tr("observer"), "observer", int(v)))
        self.milk = NumberBox(
            self.tr("Milkiness when wet"),
            low=0.0,
            high=0.1,
            step=0.0005,
            decimals=4,
            unit=self.tr("per µm"),
        )
        self.milk.setToolTip(
            self._tip(
                self.tr(
                    "Flat scattering of the milky wet binder for each micrometre of wet paint and "
                    "medium"
                ),
                self.tr("per µm"),
            )
        )
        self.milk.valueChanged.connect(
            lambda v: self._view(self.tr("milkiness when wet"), "milk_per_um", v)
        )
        self.exact.add(Field(self.tr("Observer"), self.observer))
        self.exact.add(Field(self.tr("Milkiness when wet"), self.milk))
        return self.exact

    def _on_number(self, own: Own, value: float) -> None:
        now = getattr(self.bridge.state.project.habits, own.key)
        new = int(value) if isinstance(now, int) else round(value / own.factor, 6)
        self._edit(own.caption.lower(), **{own.key: new})

    def _on_way(self) -> None:
        self._edit(self.tr("order of the models"), way=Way(self.way.currentData()))

    def _on_usual(self) -> None:
        self.bridge.edit(self.tr("common practice again"), lambda p: edits.set_habits(p, Habits()))

    def _edit(self, label: str, **changes: Any) -> None:
        self.bridge.edit(label, lambda p: edits.set_habits(p, replace(p.habits, **changes)))

    def _view(self, label: str, key: str, value: float) -> None:
        def change(viewing: Viewing) -> Viewing:
            return replace(viewing, **{key: value})  # type: ignore[arg-type]

        self.bridge.edit(label, lambda p: edits.set_viewing(p, change(p.viewing)))
