"""A painted test model judged: a line from recess to raised edge beside what was planned."""

from dataclasses import replace
from datetime import datetime

import numpy as np
from PySide6.QtCore import QTimer
from PySide6.QtGui import QResizeEvent
from PySide6.QtWidgets import QFrame, QLineEdit, QPushButton, QVBoxLayout, QWidget

from schemeforge.calibration import Line, Strengths, evidence_of
from schemeforge.desk import DeskState
from schemeforge.errors import SchemeForgeError
from schemeforge.gui.adding.card import Card, CardPaint, Mark, Role, with_mark
from schemeforge.gui.adding.evidence_list import EvidenceList
from schemeforge.gui.adding.line_mark import LineMark
from schemeforge.gui.adding.model_fields import ModelFields
from schemeforge.gui.adding.model_fit import Judged, judged
from schemeforge.gui.adding.model_guide import ModelGuide
from schemeforge.gui.adding.picture_bench import PictureBench
from schemeforge.gui.adding.ramps import Ramps, StrengthLines, strength_words
from schemeforge.gui.adding.revealing import Revealer
from schemeforge.gui.adding.tool import Tool
from schemeforge.gui.adding.waiting import Waiting
from schemeforge.gui.adding.way_view import WayView
from schemeforge.gui.bridge import Bridge
from schemeforge.gui.theme import GAP, GAP_WIDE
from schemeforge.gui.widgets.field import Field
from schemeforge.gui.widgets.flow import Flow
from schemeforge.gui.widgets.labels import words
from schemeforge.gui.widgets.scrolled import LeastColumn, scrolled
from schemeforge.scheme import Finish, Project, edits

_KEY = "test model"
_LINE = "line"
_SETTLE_MS = 200
_USUAL_LINE = ((0.45, 0.5), (0.55, 0.5))
_LEAST_BOARD = 240
_BOARD_SHARE = 0.5  # of the height in view; the rest is for what is told and found


class ModelView(WayView):
    """The picture with its line, what is told of it, the ramps, and what the project keeps."""

    def __init__(self, bridge: Bridge, parent: QWidget | None = None) -> None:
        super().__init__(bridge, parent)
        self.found: Strengths | None = None
        self._request: Judged | None = None
        first = Card(paints=(CardPaint(id=1, name=" "),))
        self.bench = PictureBench(
            bridge, _KEY, self.tr("Photograph of a test model"), self._tools(), first
        )
        self.line = LineMark(self.bench.board)
        self.told = told = ModelFields()
        self.scheme, self.zone, self.group = told.scheme, told.zone, told.group
        self.along, self.finish, self.undercoat = told.along, told.finish, told.undercoat
        self.reflectance = told.reflectance
        self._make_result()
        self.guide = ModelGuide()
        self.evidence = EvidenceList()
        self._timer = QTimer(self)
        self._timer.setSingleShot(True)
        self._timer.setInterval(_SETTLE_MS)
        self._assemble()
        self._connect()
        self._show_parts()
        self.show_state(None, bridge.state)

    def resizeEvent(self, event: QResizeEvent) -> None:
        """The picture takes its share of the height there is."""
        super().resizeEvent(event)
        self.bench.board.setMinimumHeight(max(_LEAST_BOARD, round(_BOARD_SHARE * self.height())))

    def _tools(self) -> list[Tool]:
        return [
            Tool(_LINE, self.tr("line"), "L", self.tr("From the recess to the raised edge")),
            Tool(Role.WHITE, self.tr("white"), "W", self.tr("A white area, known how light")),
            Tool(Role.GREY, self.tr("grey"), "G", self.tr("A grey area, known how light")),
            Tool(Role.BLACK, self.tr("black"), "B", self.tr("A black area, known how light")),
        ]

    def _make_result(self) -> None:
        self.waiting = Waiting(self.tr("Judging"))
        self.hint = words("")
        self.refusal = words("", "caution")
        self.ramps = Ramps()
        self.strengths = StrengthLines()
        self.findings = words("", "caution")
        self.name = QLineEdit()
        self.name.setMaxLength(120)
        self.name.setMinimumWidth(self.fontMetrics().averageCharWidth() * 30)
        self.keep = QPushButton(self.tr("Keep with the project"))
        self.keep.setProperty("role", "primary")
        self.keep.setToolTip(
            self.tr("Kept as evidence; no coat changes before you take it over below")
        )
        self.result, column = QFrame(), QVBoxLayout()
        self.result.setProperty("role", "panel")
        column.setContentsMargins(GAP_WIDE, GAP, GAP_WIDE, GAP)
        column.setSpacing(GAP)
        self._keeping = Flow()
        self._keeping.add(Field(self.tr("Name"), self.name))
        self._keeping.add(self.keep)
        for part in (
            self.hint,
            self.refusal,
            self.ramps,
            self.strengths,
            self.findings,
            self._keeping,
            self.waiting,
        ):
            column.addWidget(part)
        self.result.setLayout(column)

    def _assemble(self) -> None:
        self.bench.board.setMinimumHeight(_LEAST_BOARD)
        inside = LeastColumn()
        column = QVBoxLayout(inside)
        column.setContentsMargins(0, 0, GAP, GAP)
        column.setSpacing(GAP)
        for part in (self.bench, self.guide, self.told, self.result, self.evidence):
            column.addWidget(part)
        self._column = column
        whole = QVBoxLayout(self)
        whole.setContentsMargins(0, 0, 0, 0)
        self.area = scrolled(inside)
        self.revealer = Revealer(self.area)
        whole.addWidget(self.area)

    def _connect(self) -> None:
        bench = self.bench
        bench.loaded.connect(self._on_loaded)
        bench.refused.connect(self._refuse)
        bench.drawn.connect(self._on_drawn)
        bench.picked.connect(lambda _mark: self._show_reference())
        bench.fields_asked.connect(self.reflectance.setFocus)
        bench.seen.connect(lambda _sight: self._timer.start())
        bench.changed.connect(self._on_card)
        self.line.changed.connect(lambda: bench.set_card(replace(bench.card, line=self.line.line)))
        self._timer.timeout.connect(self.judge)
        self.scheme.activated.connect(lambda: self._list_zones(self.bridge.state.project))
        for choice in (self.scheme, self.zone, self.group):
            choice.activated.connect(self._timer.start)
        self.finish.activated.connect(self._timer.start)
        self.along.valueChanged.connect(lambda _value: self._timer.start())
        self.undercoat.toggled.connect(lambda _on: self._timer.start())
        self.reflectance.valueChanged.connect(self._on_reflectance)
        self.waiting.stopped.connect(lambda: self.bridge.jobs.cancel(_KEY))
        self.keep.clicked.connect(self.keep_found)
        self.name.returnPressed.connect(self.keep_found)
        self.evidence.used.connect(self._use)
        self.evidence.removed.connect(self._remove)
        self.evidence.shown.connect(self._on_shown)

    def show_state(self, old: DeskState | None, new: DeskState) -> None:
        """Another project, or the same one changed: offer what it has, judge again."""
        if old is None or old.preferences.surround is not new.preferences.surround:
            self.bench.dress(new.preferences.surround)
        if old is not None and old.project is new.project:
            if old.preferences.numbers != new.preferences.numbers:
                if self.evidence.shown_id:
                    self._show_again(self.evidence.shown_id)
                else:
                    self._show_found()
            return
        project = new.project
        self.scheme.offer([(scheme.name, scheme.id) for scheme in project.schemes] or [("", "")])
        if old is None and new.scheme is not None:
            self.scheme.pick(new.scheme.id)
        self._list_zones(project)
        if old is None and new.zone is not None:
            self.zone.pick(new.zone.id)
            self.finish.pick(project.viewing.finish)
        self.group.offer(
            [(self.tr("full recipe"), ""), *((group.name, group.id) for group in project.groups)]
        )
        self.evidence.show_project(project)
        if self.evidence.shown_id not in {"", *(kept.id for kept in project.evidence)}:
            self._on_shown(self.evidence.shown_id)  # it was removed
        if not self.name.isModified():
            self.name.setText(self._free_name(project))
        if self.line.line is not None:
            self._timer.start()

    def judge(self) -> None:
        """Fit the strength of each coat beside the window."""
        line, photograph = self.line.line, self.bench.photograph
        if photograph is None or line is None:
            self._show_found()
            return
        try:
            request = Judged(
                photograph=photograph,
                card=self.bench.card,
                line=Line(recess=line[0], raised=line[1]),
                project=self.bridge.state.project,
                scheme_id=self.scheme.value,
                zone_id=self.zone.value,
                group_id=self.group.value,
                along=self.along.value() / 100.0,
                finish=self.finish.value or Finish.MATT,
                undercoat=self.undercoat.isChecked(),
            )
        except SchemeForgeError as error:
            self._refuse(error.sentence)
            return
        self.waiting.begin()

        def done(found: Strengths) -> None:
            first = self.found is None
            self._request, self.found = request, found
            self.refusal.hide()
            self.bench.say_once("")
            self.waiting.end()
            self._show_found()
            if first:
                self.revealer.reveal(self.ramps, self.strengths)

        self.bridge.jobs.submit(_KEY, lambda _token: judged(request), done, failed=self._fail)

    def keep_found(self) -> None:
        """Keep what was found as evidence, undoable; no coat changes by it."""
        found, request = self.found, self._request
        if found is None or request is None:
            return
        name = self.name.text().strip()

        def change(project: Project) -> Project:
            return edits.add_evidence(
                project,
                evidence_of(
                    request.project,
                    request.scheme_id,
                    found,
                    id=edits.fresh_id(name, (e.id for e in project.evidence)),
                    name=name,
                    at=datetime.now().astimezone().isoformat(timespec="minutes"),
                ),
            )

        self.name.setModified(False)
        if self.bridge.edit(self.tr("keep a test model"), change):
            self.bridge.told.emit(
                self.tr('"{0}" is kept with the project; its coats are as they were.').format(name)
            )

    def _use(self, evidence_id: str, step_id: str) -> None:
        steps = [step_id] if step_id else None
        done = self.bridge.edit(
            self.tr("coats as the test model showed"),
            lambda project: edits.apply_evidence(project, evidence_id, steps),
        )
        if done:
            self.bridge.told.emit(
                self.tr("The scheme's coats are as heavy as the test model showed; undo goes back.")
            )

    def _remove(self, evidence_id: str) -> None:
        self.bridge.edit(
            self.tr("remove a test model"),
            lambda project: edits.remove_evidence(project, evidence_id),
        )

    def _on_shown(self, evidence_id: str) -> None:
        if evidence_id != self.evidence.shown_id:
            self._show_again(evidence_id)
            return
        self._show_found()
        self.result.setVisible(self.bench.photograph is not None)
        if self.found is None:
            self.judge()  # what was refused is told again

    def _show_again(self, evidence_id: str) -> None:
        """The ramps of what is kept, in place of what was just found."""
        kept = next(e for e in self.bridge.state.project.evidence if e.id == evidence_id)
        self.evidence.mark_shown(evidence_id)
        self.refusal.hide()
        self.hint.setText(self.tr('"{0}", as it is kept with the project:').format(kept.name))
        self._show_ramps(kept.measured, kept.predicted, kept.followed)
        lines = [strength_words(c.name, c.factor, c.error) for c in kept.strengths]
        self.strengths.show_lines(lines)
        for part in (self.result, self.hint, self.ramps, self.strengths):
            part.show()
        self.findings.hide()
        self._keeping.hide()
        self.revealer.reveal(self.hint, self.strengths)

    def _show_found(self) -> None:
        found = self.found
        self.evidence.mark_shown("")
        for part in (self.ramps, self.strengths, self._keeping):
            part.setVisible(found is not None)
        self.findings.setVisible(found is not None and bool(found.findings))
        self.hint.setVisible(found is None or not self._has_references)
        self.hint.setText(self._hint_words())
        if found is None:
            return
        self._show_ramps(found.measured, found.before, found.after)
        self.strengths.show_lines(
            [strength_words(coat.name, coat.factor, coat.error) for coat in found.coats]
        )
        self.findings.setText("\n".join(f"!  {line}" for line in found.findings))

    @property
    def _has_references(self) -> bool:
        return bool(self.bench.card.marks)

    def _hint_words(self) -> str:
        if self.line.line is None:
            return self.tr(
                "Draw a line on the picture from the recess to the raised edge: drag it, or press "
                "L there and move its ends with the arrow keys."
            )
        return self.tr(
            "No white, grey or black area is marked, so the picture is taken as the camera gave it."
        )

    def _show_ramps(self, measured: object, planned: object, followed: object) -> None:
        numbers = self.bridge.state.preferences.numbers
        ramps = (np.asarray(ramp, dtype=np.float64) for ramp in (measured, planned, followed))
        self.ramps.show_ramps(*ramps, numbers=numbers)

    def _on_loaded(self) -> None:
        self.found = None
        self.refusal.hide()
        self.bench.say_once("")
        self.bench.set_card(replace(self.bench.card, line=None))
        self._show_parts()
        self._show_found()

    def _on_drawn(self, _tool: str, one: object, other: object) -> None:
        if isinstance(one, tuple) and isinstance(other, tuple):
            self.line.draw((one, other))
        elif self.line.line is None:
            self.line.draw(_USUAL_LINE)
        self.line.recess.setFocus()

    def _on_card(self, card: Card) -> None:
        """Other marks or another line, also where one was taken back."""
        self._show_reference()
        if card.line != self.line.line:
            self.line.show_line(card.line)
        self._timer.start()

    def _on_reflectance(self, value: float) -> None:
        mark = self._picked
        if mark is not None:
            card = with_mark(self.bench.card, replace(mark, reflectance=value / 100.0))
            self.bench.set_card(card)

    @property
    def _picked(self) -> Mark | None:
        return self.bench.card.mark(self.bench.mark_id)

    def _show_reference(self) -> None:
        mark = self._picked
        self.told.reference.setVisible(mark is not None)
        if mark is not None:
            self.reflectance.show_value(100.0 * mark.reflectance)

    def _fail(self, error: Exception) -> None:
        self.waiting.end()
        if not isinstance(error, SchemeForgeError):
            raise error
        self.found = None
        self._show_found()
        self.hint.hide()
        self._refuse(error.sentence)

    def _refuse(self, sentence: str, path: str = "") -> None:
        known = self.refusal.isVisible() and self.refusal.text() == sentence
        self.refusal.setText(sentence)
        self.refusal.setToolTip(path)
        self.refusal.show()
        self.result.show()
        self.bench.say_once(sentence)
        if not known:
            self.revealer.reveal(self.refusal)

    def _list_zones(self, project: Project) -> None:
        self.zone.offer([(zone.name, zone.id) for zone in project.zones] or [("", "")])

    def _free_name(self, project: Project) -> str:
        return edits.fresh_name(self.tr("test model"), (e.name for e in project.evidence))

    def _show_parts(self) -> None:
        there = self.bench.photograph is not None
        self.guide.setVisible(not there)
        # The picture takes what is left over; without one the list of models does.
        self._column.setStretchFactor(self.bench, int(there))
        self._column.setStretchFactor(self.evidence, int(not there))
        self.told.setVisible(there)
        self.result.setVisible(there)
        self.refusal.hide()
        self._show_reference()
