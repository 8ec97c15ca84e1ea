"""The step picked in the list: its times, and the words that the sheet has for it."""

from dataclasses import replace
from typing import Any

from PySide6.QtCore import QSignalBlocker, Qt
from PySide6.QtWidgets import QApplication, QCheckBox, QGridLayout, QLabel, QVBoxLayout, QWidget

from schemeforge.gui.bridge import Bridge
from schemeforge.gui.theme import GAP, GAP_TIGHT
from schemeforge.gui.widgets.field import Field
from schemeforge.gui.widgets.flow import Flow
from schemeforge.gui.widgets.labels import words
from schemeforge.gui.widgets.note_box import NoteBox, OptionalNumber
from schemeforge.scheme import Step, edits
from schemeforge.scheme.techniques import defaults_for

_TEXTS = ("keep_out", "look_for", "cure", "note")


class StepEditor(QWidget):
    """Everything about a step that is neither its coat nor its zones."""

    def __init__(self, bridge: Bridge, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.bridge = bridge
        self._scheme_id = ""
        self._step: Step | None = None
        self.heading = words("")
        self.heading.setProperty("role", "heading")
        self.times = {
            "minutes_per_model": self._number(
                self.tr("A model"), self.tr("Minutes at one model, for this step")
            ),
            "set_up_minutes": self._number(
                self.tr("Setting up"), self.tr("Minutes for setting up, once a sitting")
            ),
            "wait_minutes": self._number(
                self.tr("Wait"), self.tr("Minutes to dry before the next coat on the same zone")
            ),
        }
        self.by_name = QCheckBox(self.tr("Only for groups whose own stack names it"))
        self.by_name.setToolTip(
            self.tr("Groups that get everything in full do without this step, such as an extra")
        )
        self.by_name.clicked.connect(
            lambda on: self._edit(self.tr("who gets a step"), by_name_only=on)
        )
        self.texts = {name: NoteBox(self._title(name)) for name in _TEXTS}
        for name, box in self.texts.items():
            box.setToolTip(self._about(name))
            box.kept.connect(lambda text, n=name: self._on_text(n, text))
        for name, number in self.times.items():
            number.kept.connect(lambda v, n=name: self._on_time(n, v))
            number.refused.connect(self._on_refused)
        self._assemble()

    def show_step(self, scheme_id: str, step: Step | None, number: int = 0) -> None:
        """Write the fields of another step, or of the same one as it is now."""
        other = step is None or self._step is None or step.id != self._step.id
        other = other or scheme_id != self._scheme_id
        focus = QApplication.focusWidget()
        if other and focus is not None and self.isAncestorOf(focus):
            focus.clearFocus()  # what was typed belongs to the step before
        self._scheme_id, self._step = scheme_id, step
        self.setVisible(step is not None)
        if step is None:
            return
        self.heading.setText(self.tr("Step {0}, {1}").format(number, step.name))
        for field in (*self.times.values(), *self.texts.values()):
            field.setAccessibleDescription(step.name)
        self._write(step)

    def _number(self, name: str, about: str) -> OptionalNumber:
        box = OptionalNumber(name)
        box.setToolTip(
            self.tr("{0}; empty for the usual ones, which are common practice").format(about)
        )
        return box

    def _title(self, name: str) -> str:
        return {
            "keep_out": self.tr("Keep off"),
            "look_for": self.tr("Look for"),
            "cure": self.tr("Cure"),
            "note": self.tr("Note"),
        }[name]

    def _about(self, name: str) -> str:
        return {
            "keep_out": self.tr("What must not be touched; on the sheet"),
            "look_for": self.tr("What right looks like; on the sheet"),
            "cure": self.tr("What wrong looks like and what then helps; on the sheet"),
            "note": self.tr("Anything else; on the sheet"),
        }[name]

    def _assemble(self) -> None:
        flow = Flow()
        for box in self.times.values():
            flow.add(Field(self.tr("{0}, min").format(box.accessibleName()), box))
        texts = QGridLayout()
        texts.setHorizontalSpacing(GAP * 2)
        texts.setVerticalSpacing(GAP_TIGHT // 2)
        for place, (name, note) in enumerate(self.texts.items()):
            caption = QLabel(self._title(name))
            caption.setProperty("role", "muted")
            caption.setBuddy(note)
            row, column = 2 * (place // 2), place % 2
            texts.addWidget(caption, row, column)
            texts.addWidget(note, row + 1, column)
            texts.setColumnStretch(column, 1)
        column_ = QVBoxLayout(self)
        column_.setContentsMargins(0, GAP, 0, 0)
        column_.setSpacing(GAP)
        column_.addWidget(self.heading)
        column_.addWidget(flow)
        column_.addWidget(self.by_name, 0, Qt.AlignmentFlag.AlignLeft)
        column_.addLayout(texts)

    def _edit(self, label: str, **changes: Any) -> None:
        step = self._step
        if step is None:
            return
        scheme_id = self._scheme_id
        self.bridge.edit(
            label,
            lambda p: edits.update_step(
                p, scheme_id, replace(p.scheme(scheme_id).step(step.id), **changes)
            ),
        )
        # What is refused must not stay in the field as if it were kept.
        self._write(self._step)

    def _write(self, step: Step | None) -> None:
        if step is None:
            return
        usual = defaults_for(step)
        for name, box in self.times.items():
            box.show_value(getattr(step, name), getattr(usual, name))
        for name, note in self.texts.items():
            note.show_text(getattr(step, name))
        with QSignalBlocker(self.by_name):
            self.by_name.setChecked(step.by_name_only)

    def _on_time(self, name: str, value: float | None) -> None:
        labels = {
            "minutes_per_model": self.tr("minutes a model"),
            "set_up_minutes": self.tr("minutes to set up"),
            "wait_minutes": self.tr("minutes to wait"),
        }
        self._edit(labels[name], **{name: value})

    def _on_text(self, name: str, text: str) -> None:
        labels = {
            "keep_out": self.tr("what to keep off"),
            "look_for": self.tr("what to look for"),
            "cure": self.tr("cure of a step"),
            "note": self.tr("note on a step"),
        }
        self._edit(labels[name], **{name: text})

    def _on_refused(self, text: str) -> None:
        self.bridge.problem.emit(
            self.tr('"{0}" is no number of minutes; give one, or leave it empty').format(text)
        )
        self._write(self._step)
