"""The step clock as it is used: face, big keys, what comes next, and what has to be answered."""

from collections.abc import Callable

from PySide6.QtCore import Qt, QTimer, Signal
from PySide6.QtGui import QHideEvent, QKeyEvent, QShowEvent
from PySide6.QtWidgets import (
    QHBoxLayout,
    QPushButton,
    QVBoxLayout,
    QWidget,
)

from schemeforge.desk import DeskState
from schemeforge.gui.batch.clock_choice import ClockChoice
from schemeforge.gui.batch.clock_face import ClockFace, Showing, clock_words
from schemeforge.gui.batch.keeper import ClockKeeper
from schemeforge.gui.batch.making import Made
from schemeforge.gui.batch.words import care_words
from schemeforge.gui.bridge import Bridge
from schemeforge.gui.counting import counted
from schemeforge.gui.keys import tell_keys
from schemeforge.gui.theme import GAP, theme_of
from schemeforge.gui.widgets.flow import Flow
from schemeforge.gui.widgets.labels import words
from schemeforge.plan import DEFER, Target
from schemeforge.scheme import Step

_TICK_MS = 200
_KEY_HEIGHT = 58


class ClockPanel(QWidget):
    """Keys work wherever the focus is in the panel; each is large enough for a knuckle.

    Args:
        bridge: The session joined to Qt.
        keeper: The clock.
        large: True for the one that fills the page.

    Signals:
        resized: The user wants the large figures, or no longer.
    """

    resized = Signal()

    def __init__(
        self,
        bridge: Bridge,
        keeper: ClockKeeper,
        *,
        large: bool = False,
        parent: QWidget | None = None,
    ) -> None:
        super().__init__(parent)
        self.bridge = bridge
        self.keeper = keeper
        self._large = large
        self._made: Made | None = None
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.setAccessibleName(self.tr("Step clock"))
        self.face = ClockFace()
        self.go = self._key(self._on_go)
        self.model = self._key(lambda: self.done_with(1))
        self.turn = self._key(self._on_turn)
        self.down = self._key(self._on_down)
        self.figures = self._key(self.resized.emit)
        self.keys = (self.go, self.model, self.turn, self.down, self.figures)
        self.question = words("", "heading")
        self.yes = self._key(self._on_yes)
        self.no = self._key(self._on_no)
        self.choice = ClockChoice(bridge, keeper)
        self.choice.chosen.connect(self._show)
        self.care = words("", "caution")
        self.defer = words(DEFER, "muted")
        self._assemble()
        self._tick = QTimer(self)
        self._tick.setInterval(_TICK_MS)
        self._tick.timeout.connect(self._show_face)
        keeper.changed.connect(self._show)
        tell_keys(
            self,
            (self.tr("Space"), self.tr("start or pause the clock")),
            (self.tr("Enter, Right"), self.tr("next model: the one in hand is done")),
            (self.tr("2 to 9"), self.tr("so many models are done at once")),
            (self.tr("Down, Page Down"), self.tr("next step")),
            (self.tr("End"), self.tr("put the brush down: stop the clock")),
            (self.tr("F"), self.tr("large figures, and back (also Escape)")),
            (self.tr("Enter, Backspace"), self.tr("count a gap, leave it out")),
        )
        self._show()

    def show_plan(self, made: Made | None, _state: DeskState) -> None:
        """Take another plan: what is next may be another step."""
        self._made = made
        self.choice.show_plan(made)
        self._show()

    def begin(self, step_id: str, group_id: str) -> None:
        """Start the clock on a step, or turn to it."""
        target = self.keeper.state.target
        if target is not None and (target.step_id, target.group_id) == (step_id, group_id):
            if not self.keeper.state.running:
                self.keeper.start()
            self.setFocus()
            return
        self.choice.choose(step_id, group_id)
        if self.keeper.state.running:
            self._on_turn()
        else:
            self._on_go(anew=True)
        self.setFocus()

    def done_with(self, models: int) -> None:
        """So many models are done."""
        if self.keeper.state.running:
            self.keeper.next_model(models)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Large keys for wet hands."""
        state, key = self.keeper.state, event.key()
        if event.modifiers() & ~Qt.KeyboardModifier.KeypadModifier or event.isAutoRepeat():
            super().keyPressEvent(event)
            return
        actions: dict[int, Callable[[], None]] = {
            Qt.Key.Key_Space: self._on_go,
            Qt.Key.Key_Return: lambda: self.done_with(1),
            Qt.Key.Key_Enter: lambda: self.done_with(1),
            Qt.Key.Key_Right: lambda: self.done_with(1),
            Qt.Key.Key_Down: self._on_turn,
            Qt.Key.Key_PageDown: self._on_turn,
            Qt.Key.Key_End: self._on_down,
            Qt.Key.Key_F: self.resized.emit,
        }
        if self._large:
            actions[Qt.Key.Key_Escape] = self.resized.emit
        if self._asks():
            actions = {
                Qt.Key.Key_Return: self._on_yes,
                Qt.Key.Key_Enter: self._on_yes,
                Qt.Key.Key_Backspace: self._on_no,
                Qt.Key.Key_Delete: self._on_no,
            }
        if key in actions:
            actions[key]()
        elif Qt.Key.Key_2 <= key <= Qt.Key.Key_9 and state.running:
            self.done_with(key - Qt.Key.Key_0)
        else:
            super().keyPressEvent(event)

    def showEvent(self, event: QShowEvent) -> None:
        """Tick while somebody looks."""
        super().showEvent(event)
        self._show()

    def hideEvent(self, event: QHideEvent) -> None:
        """Nobody looks."""
        super().hideEvent(event)
        self._tick.stop()

    def _assemble(self) -> None:
        keys = QWidget()
        row = QHBoxLayout(keys)
        row.setContentsMargins(0, 0, 0, 0)
        row.setSpacing(GAP)
        for key in self.keys:
            row.addWidget(key, 1)
        answers = Flow()
        answers.add(self.yes)
        answers.add(self.no)
        self._asking = QWidget()
        asking = QVBoxLayout(self._asking)
        asking.setContentsMargins(0, 0, 0, 0)
        asking.setSpacing(GAP)
        asking.addWidget(self.question)
        asking.addWidget(answers)
        self._keys = keys
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(GAP)
        column.addWidget(self.face, 1)
        column.addWidget(self._asking)
        column.addWidget(keys)
        column.addWidget(self.choice)
        column.addWidget(self.care)
        column.addWidget(self.defer)

    def _key(self, action: Callable[[], object]) -> QPushButton:
        """A big button that leaves the keyboard to the panel when it is clicked."""
        button = QPushButton()
        button.setStyleSheet("font-size: 13pt;")
        button.setMinimumHeight(_KEY_HEIGHT)
        button.setFocusPolicy(Qt.FocusPolicy.TabFocus)
        button.clicked.connect(lambda _on=False: (action(), self.setFocus()))
        return button

    def _show(self) -> None:
        """Write everything but what ticks."""
        state = self.keeper.state
        gap, loose = state.gap, self.keeper.loose()
        asks = self._asks()
        self._asking.setVisible(asks)
        self._keys.setVisible(not asks)
        if gap is not None:
            self.question.setText(gap.sentence)
            self._label(self.yes, self.tr("Count it"), self.tr("Enter"))
            known = bool(gap.seconds)
            self._label(self.no, self.tr("Leave it out"), self.tr("Backspace"))
            self.yes.setVisible(known)
        elif loose:
            models = sum(timing.models for timing in loose)
            self.question.setText(
                self.tr("The clock has {0} on record that this project does not hold.").format(
                    counted(models, self.tr("{0} model"), self.tr("{0} models"))
                )
            )
            self._label(self.yes, self.tr("Take them in"), self.tr("Enter"))
            self._label(self.no, self.tr("Leave them out"), self.tr("Backspace"))
            self.yes.setVisible(True)
        self._label(
            self.go, self.tr("Pause") if state.running else self.tr("Start"), self.tr("Space")
        )
        self._label(self.model, self.tr("Next model"), self.tr("Enter"))
        self._label(self.turn, self.tr("Next step"), self.tr("Down"))
        self._label(self.down, self.tr("Stop"), self.tr("End"))
        self._label(
            self.figures, self.tr("Back") if self._large else self.tr("Large figures"), self.tr("F")
        )
        self.model.setEnabled(state.running)
        self.turn.setEnabled(state.running and self.choice.target() is not None)
        self.down.setEnabled(not state.is_idle)
        self.go.setEnabled(not state.is_idle or self.choice.target() is not None)
        self.choice.show_idle(idle=state.is_idle)
        step = self._step_in_hand()
        short = self._short_words(step)
        self.care.setText("" if step is None else f"{short}{care_words(step)}")
        self.care.setVisible(step is not None)
        self.defer.setVisible(step is not None)
        if self.isVisible() and state.running:
            self._tick.start()
        else:
            self._tick.stop()
        self._show_face()

    def _show_face(self) -> None:
        state, keeper = self.keeper.state, self.keeper
        theme = theme_of(self.bridge.state.preferences.surround)
        target = state.target
        if target is None:
            showing = Showing(
                seconds=0.0,
                usual=0.0,
                what=self.tr("Nothing is in hand"),
                models="",
                state=self.tr("Choose a step below and start"),
            )
        else:
            usual = keeper.usual_seconds()
            showing = Showing(
                seconds=state.seconds(keeper.now),
                usual=usual,
                what=self._what(target),
                models=self._models(target),
                state=self._state_words(usual),
            )
        self.face.show_clock(showing, theme)

    def _state_words(self, usual: float) -> str:
        state = self.keeper.state
        running = self.tr("running") if state.running else self.tr("paused")
        parts = [running, self.tr("usually {0} a model").format(clock_words(usual))]
        step = self._step_in_hand()
        if step is not None and step.coat is not None and step.coat.passes > 1:
            parts.append(
                self.tr("{0} passes: next model once the last is on").format(step.coat.passes)
            )
        stint = state.stint
        if stint is not None and stint.models:
            each = clock_words(stint.seconds / stint.models)
            parts.append(self.tr("{0} a model so far").format(each))
        return "  ·  ".join(parts)

    def _what(self, target: Target) -> str:
        step = self._step_in_hand()
        group = next(
            (g.name for g in self.bridge.state.project.groups if g.id == target.group_id),
            target.group_id,
        )
        return f"{target.step_id if step is None else step.name}  ·  {group}"

    def _models(self, target: Target) -> str:
        done = self.keeper.done()
        if target.is_test:
            return self.tr("test {0}").format(done + 1)
        group = next((g for g in self.bridge.state.project.groups if g.id == target.group_id), None)
        if group is None:
            return ""
        if done >= group.count:
            return self.tr("all {0} done").format(group.count)
        return self.tr("{0} of {1}").format(done + 1, group.count)

    def _step_in_hand(self) -> Step | None:
        target = self.keeper.state.target
        if target is None:
            return None
        project = self.bridge.state.project
        scheme = next((s for s in project.schemes if s.id == target.scheme_id), None)
        if scheme is None:
            return None
        return next((step for step in scheme.steps if step.id == target.step_id), None)

    def _short_words(self, step: Step | None) -> str:
        """Where the pot of the step does not last, a line that says so."""
        made = self._made
        if made is None or step is None:
            return ""
        return "".join(
            f"{state.sentence}\n"
            for state in made.pots
            if state.pot.mix.id == step.mix_id and state.runs_short
        )

    def _asks(self) -> bool:
        return self.keeper.state.gap is not None or bool(self.keeper.loose())

    def _label(self, button: QPushButton, text: str, key: str) -> None:
        button.setText(f"{text}\n{key}")
        button.setAccessibleName(text)
        button.setToolTip(self.tr("{0}: key {1}").format(text, key))

    def _on_go(self, *, anew: bool = False) -> None:
        state = self.keeper.state
        if state.running:
            self.keeper.pause()
        elif state.is_idle or anew:
            target = self.choice.target()
            if target is not None and self.keeper.start(target):
                self._after_turn()
        else:
            self.keeper.start()

    def _on_turn(self) -> None:
        target = self.choice.target()
        if self.keeper.state.running and target is not None and self.keeper.next_step(target):
            self._after_turn()

    def _after_turn(self) -> None:
        self.choice.suggest()
        self._show()

    def _on_down(self) -> None:
        if not self.keeper.state.is_idle:
            self.keeper.stop()

    def _on_yes(self) -> None:
        gap = self.keeper.state.gap
        if gap is None:
            self.keeper.take_loose()
        else:
            self.keeper.answer(count=bool(gap.seconds))

    def _on_no(self) -> None:
        if self.keeper.state.gap is None:
            self.keeper.drop_loose()
        else:
            self.keeper.answer(count=False)
