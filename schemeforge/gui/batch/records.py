"""What was timed or marked as done so far, each record with a way out."""

from PySide6.QtWidgets import QWidget

from schemeforge.desk import DeskState
from schemeforge.gui.batch.record_row import RecordLine
from schemeforge.gui.batch.rows import Rows
from schemeforge.gui.batch.section import Section
from schemeforge.gui.batch.words import minutes_words
from schemeforge.gui.bridge import Bridge
from schemeforge.gui.counting import counted
from schemeforge.gui.theme import theme_of
from schemeforge.gui.widgets.labels import words
from schemeforge.plan.progress import when
from schemeforge.scheme import Project, Timing, edits

# More would make the page endless; older ones stay in the project.
_MOST = 40


class RecordRow(RecordLine):
    """One record."""

    def show_timing(self, project: Project, timing: Timing, colour: str) -> None:
        """Write it."""
        steps = {step.id: step.name for scheme in project.schemes for step in scheme.steps}
        groups = {group.id: group.name for group in project.groups}
        parts = [
            steps.get(timing.step_id, timing.step_id),
            f"{timing.models} {groups.get(timing.group_id, timing.group_id)}",
        ]
        if timing.is_test:
            parts.append(self.tr("test models"))
        if timing.minutes:
            parts.append(
                self.tr("{0}, {1} a model").format(
                    minutes_words(timing.minutes), minutes_words(timing.minutes / timing.models)
                )
            )
        else:
            parts.append(self.tr("done, not timed"))
        at = when(timing.at)
        if at is not None:
            parts.append(f"{at:%Y-%m-%d %H:%M}")
        self.say("  ·  ".join(parts), colour)

    def _remove(self) -> None:
        label = self.tr("remove record")
        if self.bridge.edit(label, lambda p: edits.remove_timing(p, self._id)):
            self.bridge.told.emit(self.tr("The record is gone; undo brings it back."))


class RecordsSection(Section):
    """The latest first."""

    def __init__(self, bridge: Bridge, parent: QWidget | None = None) -> None:
        super().__init__("", "", parent)
        self.bridge = bridge
        self.heading.setText(self.tr("Done so far"))
        self.setAccessibleName(self.tr("Done so far"))
        self.about.setText(
            self.tr("What the clock timed and what was marked as done. The plan follows from it.")
        )
        self.list: Rows[RecordRow] = Rows(lambda timing_id: RecordRow(bridge, timing_id))
        self.more = words("", "muted")
        self.body.addWidget(self.list)
        self.body.addWidget(self.more)

    def show_state(self, state: DeskState) -> None:
        """Follow the records of the picked scheme."""
        scheme = state.scheme
        own = [
            timing
            for timing in reversed(state.project.timings)
            if scheme is not None and timing.scheme_id == scheme.id
        ]
        shown = own[:_MOST]
        self.setVisible(bool(shown))
        self.list.follow([timing.id for timing in shown])
        colour = theme_of(state.preferences.surround).text
        for timing in shown:
            self.list.rows[timing.id].show_timing(state.project, timing, colour)
        older = len(own) - len(shown)
        self.more.setVisible(older > 0)
        self.more.setText(
            counted(older, self.tr("and {0} older record"), self.tr("and {0} older records"))
        )
