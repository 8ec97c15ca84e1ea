"""The sittings drawn, the step picked among them, and the calendar file."""

from datetime import UTC, datetime, time
from pathlib import Path
from typing import Any

from numpy.typing import NDArray
from PySide6.QtCore import QTime
from PySide6.QtWidgets import QCheckBox, QFileDialog, QPushButton, QTimeEdit, QWidget

from schemeforge import plan
from schemeforge.desk import DeskState
from schemeforge.gui.batch.evening_layout import Block
from schemeforge.gui.batch.evenings import Evenings
from schemeforge.gui.batch.making import Made
from schemeforge.gui.batch.picked import PickedStep
from schemeforge.gui.batch.section import Section
from schemeforge.gui.bridge import Bridge
from schemeforge.gui.counting import counted
from schemeforge.gui.file_names import plain_name
from schemeforge.gui.theme import theme_of
from schemeforge.gui.widgets.field import Field
from schemeforge.gui.widgets.flow import Flow
from schemeforge.gui.widgets.labels import words
from schemeforge.plan.ical import undated
from schemeforge.whole_file import write_whole

_USUAL_BEGIN = QTime(19, 0)


class TimeLineSection(Section):
    """Sittings and steps; beneath them what is known of the picked one."""

    def __init__(self, bridge: Bridge, parent: QWidget | None = None) -> None:
        super().__init__("", "", parent)
        self.bridge = bridge
        self.heading.setText(self.tr("Sittings and steps"))
        self.setAccessibleName(self.tr("Sittings and steps"))
        self.about.setText(
            self.tr(
                "Each board is a sitting. A step stands on it as wide as its minutes and the "
                "higher the more models; what dries hangs below and thins out. Hatched: setting "
                "up. Notched: a break. Dotted: waiting for paint. A peg: pinned. Torn: no room "
                "where it was pinned. 18·2 is the second pass of step 18."
            )
        )
        self._made: Made | None = None
        self.findings = words("", "caution")
        self.picked = PickedStep(bridge)
        self.evenings = Evenings(self.picked)
        self.empty = words(
            self.tr("Nothing to plan yet: it takes a group with models and a scheme.")
        )
        self.done = words(self.tr("All models are done."))
        self.all_day = QCheckBox(self.tr("All day"))
        self.all_day.setChecked(True)
        self.all_day.setToolTip(self.tr("Sittings as entries for the whole day, at no hour"))
        self.begins = QTimeEdit(_USUAL_BEGIN)
        self.begins.setEnabled(False)
        self.begins.setToolTip(self.tr("Time of day at which sittings begin (hours and minutes)"))
        self.all_day.toggled.connect(lambda on: self.begins.setEnabled(not on))
        self.calendar = self._calendar_row()
        for widget in (
            self.empty,
            self.done,
            self.findings,
            self.evenings,
            self.calendar,
        ):
            self.body.addWidget(widget)
        self.evenings.picked.connect(self._on_picked)
        self.evenings.pin.connect(self.picked.pin_step)
        self.evenings.opened.connect(self._on_opened)

    def show_plan(self, made: Made | None, state: DeskState) -> None:
        """Draw the plan."""
        self._made = made
        self.evenings.show_plan(made, theme_of(state.preferences.surround), self._colours(made))
        left = made is not None and not made.schedule.is_done
        self.empty.setVisible(made is None)
        self.done.setVisible(made is not None and not left)
        self.evenings.setVisible(left)
        self.calendar.setVisible(made is not None and bool(made.project.sittings))
        found = () if made is None else made.schedule.overfull
        self.findings.setText("\n".join(overfull.sentence for overfull in found))
        self.findings.setVisible(bool(found))

    def write_calendar(self, path: Path) -> bool:
        """The sittings that have a day, as a calendar file."""
        made = self._made
        if made is None:
            return False
        begin = self.begins.time()
        at = None if self.all_day.isChecked() else time(begin.hour(), begin.minute())
        text = plan.calendar(made.project, made.schedule, datetime.now(UTC), begins=at)

        def write() -> None:
            write_whole(path, text.encode("utf-8"), keep_previous=False)

        if not self.bridge.attempt(write):
            return False
        told = self.tr("Wrote {0}.").format(path.name)
        missing = undated(made.schedule)
        if missing:
            left_out = counted(
                missing,
                self.tr("{0} sitting has no day and is not in it."),
                self.tr("{0} sittings have no day and are not in it."),
            )
            told = f"{told} {left_out}"
        self.bridge.told.emit(told)
        return True

    def _calendar_row(self) -> Flow:
        row = Flow()
        self.export = QPushButton(self.tr("Calendar file..."))
        self.export.setToolTip(self.tr("Write the sittings to a calendar file (.ics)"))
        self.export.clicked.connect(self._ask_calendar)
        row.add(self.export)
        row.add(Field(self.tr("Sittings begin at"), self.begins))
        row.add(self.all_day)
        return row

    def _ask_calendar(self) -> None:
        made = self._made
        if made is None:
            return
        folder = self.bridge.state.path.parent if self.bridge.state.path else Path.home()
        suggested = folder / f"{plain_name(made.project.name)}.ics"
        chosen, _ = QFileDialog.getSaveFileName(
            self, self.tr("Calendar file"), str(suggested), self.tr("Calendar (*.ics)")
        )
        if chosen:
            path = Path(chosen)
            self.write_calendar(path if path.suffix else path.with_suffix(".ics"))

    def _colours(self, made: Made | None) -> dict[str, NDArray[Any]]:
        """By step id the ramp of its first zone after it."""
        if made is None:
            return {}
        found: dict[str, NDArray[Any]] = {}
        for zone in made.project.zones:
            view = self.bridge.colours.zone(made.project, made.scheme, zone, made.project.viewing)
            for step, ramp in zip(view.steps, view.xyz, strict=False):
                if step.id not in found:
                    found[step.id] = ramp
        return found

    def _on_picked(self, block: Block | None) -> None:
        self.picked.show_block(self._made, block)

    def _on_opened(self, step_id: str) -> None:
        state = self.bridge.state
        step = None if state.scheme is None else state.scheme.step(step_id)
        if step is None:
            return
        zone = state.selection.zone_id
        if step.zone_ids and zone not in step.zone_ids:
            zone = step.zone_ids[0]
        self.bridge.session.select(step_id=step_id, zone_id=zone)
