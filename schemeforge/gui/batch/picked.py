"""The step picked on the time line: minutes, models, pot, cautions; to pin it or mark it done."""

import math
from datetime import datetime

from PySide6.QtCore import QSignalBlocker, Qt
from PySide6.QtWidgets import QComboBox, QPushButton, QVBoxLayout, QWidget

from schemeforge.gui.batch.evening_layout import Block
from schemeforge.gui.batch.making import Made
from schemeforge.gui.batch.words import care_words, minutes_words, models_in
from schemeforge.gui.bridge import Bridge
from schemeforge.gui.theme import GAP
from schemeforge.gui.widgets.field import Field
from schemeforge.gui.widgets.flow import Flow
from schemeforge.gui.widgets.labels import words
from schemeforge.plan import DEFER, pot_letters
from schemeforge.plan.timeline import day_words
from schemeforge.scheme import Timing, edits


class PickedStep(QWidget):
    """What is known of the picked step, and what can be done about it."""

    def __init__(self, bridge: Bridge, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.bridge = bridge
        self._made: Made | None = None
        self._block: Block | None = None
        self.heading = words("", "heading")
        self.facts = words("")
        self.care = words("", "caution")
        self.defer = words(DEFER, "muted")
        self.pin = QComboBox()
        self.pin.setSizeAdjustPolicy(QComboBox.SizeAdjustPolicy.AdjustToContents)
        self.pin.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.pin.setToolTip(self.tr("The sitting in which the whole step is to be done"))
        self.pin.activated.connect(self._on_pin)
        self.done = QPushButton(self.tr("Mark as done"))
        self.done.setToolTip(
            self.tr("These models have had the step, and nobody looked at the clock")
        )
        self.done.clicked.connect(self._on_done)
        row = Flow()
        row.add(Field(self.tr("Pinned to"), self.pin))
        row.add(self.done)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(GAP)
        for widget in (self.heading, self.facts, row, self.care, self.defer):
            column.addWidget(widget)

    def show_block(self, made: Made | None, block: Block | None) -> None:
        """Write what is known of the step."""
        self._made, self._block = made, block
        self.setVisible(made is not None and block is not None)
        if made is None or block is None:
            return
        stretch = block.stretch
        self.heading.setText(f"{stretch.number}  {stretch.name}")
        self.facts.setText(self._facts(made, block))
        self.care.setText(care_words(stretch.step))
        self._show_pins(made, block)
        last = stretch.layer_pass == stretch.passes
        self.done.setEnabled(last)
        self.done.setAccessibleDescription(f"{stretch.name}, {models_in(stretch)}")

    def _facts(self, made: Made, block: Block) -> str:
        stretch = block.stretch
        pace = made.paces[stretch.step.id]
        low, high = pace.range_90
        parts = [
            models_in(stretch),
            self.tr("{0} in all, {1} of it at the models").format(
                minutes_words(stretch.minutes), minutes_words(stretch.end - stretch.start)
            ),
            self.tr("{0} a model for the whole step ({1}; 9 in 10 between {2} and {3})").format(
                minutes_words(pace.minutes),
                {
                    "trade default": self.tr("trade default"),
                    "your figure": self.tr("your figure"),
                }.get(
                    pace.basis.value,
                    self.tr("your timings of {0} models").format(pace.models_timed),
                ),
                minutes_words(low),
                minutes_words(high),
            ),
        ]
        letter = pot_letters(made.scheme).get(stretch.step.mix_id or "", "")
        if stretch.mix_id:
            parts.append(self.tr("mix pot {0} first").format(letter))
        elif letter:
            parts.append(self.tr("pot {0}").format(letter))
        if stretch.wait_minutes >= 0.5:
            parts.append(
                self.tr("wait {0} for what lies below").format(minutes_words(stretch.wait_minutes))
            )
        if stretch.dry_after:
            parts.append(self.tr("then dries {0}").format(minutes_words(stretch.dry_after)))
        return "  ·  ".join(parts)

    def _show_pins(self, made: Made, block: Block) -> None:
        pinned = next(
            (
                pin.sitting_id
                for pin in made.project.pins
                if (pin.scheme_id, pin.step_id) == (made.scheme.id, block.stretch.step.id)
            ),
            "",
        )
        choices = [("", self.tr("no sitting: wherever it fits"))]
        choices += [
            (
                plan.sitting.id,
                self.tr("sitting {0}{1}").format(plan.number, day_words(plan.day, ", ")),
            )
            for plan in made.schedule.sittings
            if plan.sitting is not None
        ]
        if pinned and pinned not in dict(choices):
            choices.append((pinned, self.tr("a sitting that is over")))
        known = [(self.pin.itemData(n), self.pin.itemText(n)) for n in range(self.pin.count())]
        with QSignalBlocker(self.pin):
            if known != choices:
                self.pin.clear()
                for sitting_id, label in choices:
                    self.pin.addItem(label, sitting_id)
            self.pin.setCurrentIndex(self.pin.findData(pinned))
        self.pin.setAccessibleDescription(block.stretch.step.name)

    def _on_pin(self, row: int) -> None:
        if self._block is not None:
            self.pin_step(self._block.stretch.step.id, str(self.pin.itemData(row)))

    def pin_step(self, step_id: str, sitting_id: str) -> None:
        """Pin a step of the planned scheme to a sitting; "" lets it go."""
        made = self._made
        if made is None:
            return
        scheme_id = made.scheme.id
        label = self.tr("pin a step") if sitting_id else self.tr("unpin a step")
        self.bridge.edit(label, lambda p: edits.pin_step(p, scheme_id, step_id, sitting_id))

    def _on_done(self) -> None:
        made, block = self._made, self._block
        if made is None or block is None:
            return
        counts: dict[str, float] = {}
        for part in block.stretch.models:
            counts[part.group.id] = counts.get(part.group.id, 0.0) + part.models
        at = datetime.now().astimezone().isoformat(timespec="seconds")
        held = {timing.id for timing in made.project.timings}
        sitting = made.schedule.sittings[0].sitting
        records = []
        for group_id, models in counts.items():
            new_id = edits.fresh_id(f"done {block.stretch.step.id}", held)
            held.add(new_id)
            records.append(
                Timing(
                    id=new_id,
                    scheme_id=made.scheme.id,
                    step_id=block.stretch.step.id,
                    group_id=group_id,
                    models=max(1, math.ceil(models - 1e-6)),
                    minutes=0.0,
                    at=at,
                    sitting_id="" if sitting is None else sitting.id,
                )
            )
        self.bridge.edit(self.tr("mark as done"), lambda p: edits.put_timings(p, records))
