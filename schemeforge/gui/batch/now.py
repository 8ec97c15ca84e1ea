"""What the page opens on: do now, next, drying, shall we finish?"""

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import (
    QFrame,
    QGridLayout,
    QHBoxLayout,
    QLabel,
    QPushButton,
    QVBoxLayout,
    QWidget,
)

from schemeforge import plan
from schemeforge.desk import DeskState
from schemeforge.gui.batch.making import Made
from schemeforge.gui.bridge import Bridge
from schemeforge.gui.counting import counted
from schemeforge.gui.theme import GAP, GAP_TIGHT, GAP_WIDE
from schemeforge.gui.widgets.labels import words
from schemeforge.plan.spread import chance_words
from schemeforge.plan.timeline import hours
from schemeforge.plan.usage import ENOUGH_MODELS

_NEXT = 3
_DRIVERS = 3


class Card(QFrame):
    """A caption and what stands under it."""

    def __init__(self, caption: str, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setProperty("role", "panel")
        self.setAccessibleName(caption)
        self.caption = words(caption, "muted")
        self.column = QVBoxLayout(self)
        self.column.setContentsMargins(GAP_WIDE, GAP_WIDE, GAP_WIDE, GAP_WIDE)
        self.column.setSpacing(GAP)
        self.column.addWidget(self.caption)

    def add(self, text: str = "", role: str = "") -> QLabel:
        """One more line of words."""
        label = words(text, role)
        self.column.addWidget(label)
        return label


class NowSection(QWidget):
    """Four answers side by side, and where the work stood when it was left for long.

    Signals:
        start: Ids of step and group to start the clock on.
        cut: The user wants to see what could be cut.
        sittings: The user wants to plan sittings.
    """

    start = Signal(str, str)
    cut = Signal()
    sittings = Signal()

    def __init__(self, bridge: Bridge, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.bridge = bridge
        self._todo: plan.Todo | None = None
        self.stood_card = Card(self.tr("Where the work stood"))
        self.stood = self.stood_card.add()
        self.left = self.stood_card.add()
        self.now_card = Card(self.tr("Do now"))
        self.now = self.now_card.add("", "title")
        self.now_more = self.now_card.add()
        self.care = self.now_card.add("", "caution")
        self.defer = self.now_card.add(plan.DEFER, "muted")
        self.pot = self.now_card.add("", "caution")
        self.ask = self.now_card.add()
        self.now_card.column.addStretch(1)
        self.begin = QPushButton(self.tr("Start the clock on it"))
        self.begin.setToolTip(self.tr("The step clock begins with this step"))
        self.begin.clicked.connect(self._on_begin)
        row = QHBoxLayout()
        row.addWidget(self.begin)
        row.addStretch(1)
        self.now_card.column.addLayout(row)
        self.finish_card = Card(self.tr("Shall we finish?"))
        self.answer = self.finish_card.add("", "title")
        self.finish = self.finish_card.add()
        self.chance = self.finish_card.add()
        self.groups = self.finish_card.add("", "muted")
        self.finish_card.column.addStretch(1)
        self.what = QPushButton(self.tr("What could be cut"))
        self.what.setToolTip(self.tr("Ways to save hours, and what each loses"))
        self.what.clicked.connect(lambda _on=False: self.cut.emit())
        self.sit = QPushButton(self.tr("Plan sittings"))
        self.sit.setToolTip(self.tr("The evenings that you have, with day and length"))
        self.sit.clicked.connect(lambda _on=False: self.sittings.emit())
        row = QHBoxLayout()
        row.setSpacing(GAP)
        row.addWidget(self.sit)
        row.addWidget(self.what)
        row.addStretch(1)
        self.finish_card.column.addLayout(row)
        self.next_card = Card(self.tr("Next"))
        self.next = [self.next_card.add() for _ in range(_NEXT)]
        self.next_card.column.addStretch(1)
        self.drying_card = Card(self.tr("Drying"))
        self.drying = self.drying_card.add()
        self.drying_card.column.addStretch(1)
        self._assemble()

    def show_plan(self, made: Made | None, _state: DeskState) -> None:
        """Write the answers."""
        self.finish_card.caption.setText(self.tr("Shall we finish?"))
        standing = None if made is None else made.standing
        self._todo = None if standing is None else standing.do_now
        self.begin.setVisible(self._todo is not None)
        self.finish_card.setVisible(made is not None)
        self.next_card.setVisible(made is not None)
        self.drying_card.setVisible(made is not None)
        if made is None or standing is None:
            self.now.setText(self.tr("Nothing to plan yet"))
            self.now_more.setText(
                self.tr("It takes a group with models and a scheme: add them below and on Coats.")
            )
            for label in (self.care, self.defer, self.pot, self.ask):
                label.hide()
            self.stood_card.hide()
            return
        self._show_now(standing)
        self._show_pots(made)
        self._show_finish(made)
        self._show_stood(made)
        for place, label in enumerate(self.next):
            label.setText(standing.next[place].sentence if place < len(standing.next) else "")
            label.setVisible(place < len(standing.next))
        if not standing.next:
            self.next[0].setText(self.tr("Nothing more."))
            self.next[0].show()
        wet = [f"{drying.sentence}" for drying in standing.drying]
        self.drying.setText("\n".join(wet) or self.tr("Nothing is drying."))

    def show_slow(self) -> None:
        """That the answers are being worked out anew, until they are there."""
        self.finish_card.caption.setText(self.tr("Shall we finish? Working it out..."))

    def _show_now(self, standing: plan.Standing) -> None:
        todo = standing.do_now
        head, _, rest = standing.do_now_words.rstrip(".").partition("; ")
        self.now.setText(head)
        parts = [part[:1].upper() + part[1:] for part in rest.split("; ") if part]
        self.now_more.setText("  ·  ".join(parts))
        self.now_more.setVisible(bool(parts))
        care = () if todo is None else plan.cautions_for(todo.step)
        self.care.setText("\n".join(caution.advice for caution in care))
        self.care.setVisible(bool(care))
        self.defer.setVisible(bool(care))

    def _show_pots(self, made: Made) -> None:
        """Pots that run short, and the one in use where nobody has said yet what is left."""
        short = [state.sentence for state in made.pots if state.runs_short]
        self.pot.setText("\n".join(short))
        self.pot.setVisible(bool(short))
        todo = made.standing.do_now
        asked = [
            state
            for state in made.pots
            if todo is not None
            and state.pot.letter == todo.pot
            and state.left_ml is None
            and _models_from(made, state) >= ENOUGH_MODELS
        ]
        self.ask.setVisible(bool(asked))
        if asked:
            self.ask.setText(
                self.tr(
                    "{0} models are done from pot {1}: say under Pots to mix what is left of it, "
                    "and its estimate follows what you used."
                ).format(_models_from(made, asked[0]), asked[0].pot.letter)
            )

    def _show_finish(self, made: Made) -> None:
        schedule, spread = made.schedule, made.spread
        if schedule.is_done:
            answer = self.tr("All models are done")
        elif not schedule.axis.windows:
            answer = self.tr("No sittings are planned yet")
        elif schedule.beyond:
            answer = self.tr("No: {0} of work too much").format(hours(schedule.beyond))
        elif schedule.is_late:
            answer = self.tr("No: too late for a date")
        else:
            answer = self.tr("Yes, as planned")
        self.answer.setText(answer)
        self.finish.setText("" if schedule.is_done else schedule.sentence)
        self.finish.setVisible(not schedule.is_done)
        known = spread.all_in_time is not None and not schedule.is_done
        self.chance.setVisible(known)
        if spread.all_in_time is not None:
            told = self.tr("The chance that all is in time is {0}.")
            self.chance.setText(told.format(chance_words(spread.all_in_time)))
        self.groups.setText("\n".join(self._group(made, finish) for finish in schedule.groups))
        self.groups.setVisible(len(schedule.groups) > 1)
        self.what.setVisible(not schedule.is_done)
        self.sit.setVisible(not schedule.is_done and not schedule.axis.windows)

    def _group(self, made: Made, finish: plan.GroupFinish) -> str:
        chance = next((c for c in made.spread.chances if c.group.id == finish.group.id), None)
        if chance is None or chance.in_time is None:
            return finish.sentence
        low, _, high = chance.sittings_90
        told = self.tr("{0} Chance {1}").format(finish.sentence, chance_words(chance.in_time))
        if low != high:
            told = self.tr("{0}; 9 in 10: sitting {1} to {2}").format(told, low, high)
        return f"{told}."

    def _show_stood(self, made: Made) -> None:
        stood = made.standing.stood
        self.stood_card.setVisible(bool(stood))
        if not stood:
            return
        self.stood.setText(stood)
        left = counted(made.schedule.models, self.tr("{0} model"), self.tr("{0} models"))
        steps = {s.step.id for sitting in made.schedule.sittings for s in sitting.stretches}
        told = self.tr("Left: {0} of work on {1}, in {2}.").format(
            hours(made.schedule.worked),
            left,
            counted(len(steps), self.tr("{0} step"), self.tr("{0} steps")),
        )
        pots = [state.sentence for state in made.pots if state.left_ml is not None]
        self.left.setText("\n".join([told, *pots]))

    def _on_begin(self) -> None:
        if self._todo is not None:
            self.start.emit(self._todo.step.id, self._todo.group.id)

    def _assemble(self) -> None:
        grid = QGridLayout(self)
        grid.setContentsMargins(0, 0, 0, 0)
        grid.setSpacing(GAP_WIDE)
        grid.addWidget(self.stood_card, 0, 0, 1, 2)
        grid.addWidget(self.now_card, 1, 0)
        grid.addWidget(self.finish_card, 1, 1)
        grid.addWidget(self.next_card, 2, 0)
        grid.addWidget(self.drying_card, 2, 1)
        grid.setColumnStretch(0, 1)
        grid.setColumnStretch(1, 1)
        for card in (self.now_card, self.next_card):
            card.column.setSpacing(GAP_TIGHT * 2)
        self.now.setAlignment(Qt.AlignmentFlag.AlignLeft | Qt.AlignmentFlag.AlignTop)


def _models_from(made: Made, state: plan.PotState) -> int:
    """Models that have had a step from that pot."""
    return max(
        (
            sum(made.progress.done.get((step_id, g.id), 0) for g in made.project.groups)
            for step_id in state.pot.step_ids
        ),
        default=0,
    )
