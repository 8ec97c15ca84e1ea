"""The mixing bench: lies over a page from the moment that a recipe is asked for."""

from dataclasses import replace

from PySide6.QtCore import Qt, QTimer, Signal
from PySide6.QtGui import QKeySequence, QShortcut
from PySide6.QtWidgets import QHBoxLayout, QPushButton, QVBoxLayout, QWidget

from schemeforge.desk import DeskState
from schemeforge.errors import SchemeForgeError
from schemeforge.gui.bridge import Bridge
from schemeforge.gui.keys import tell_keys
from schemeforge.gui.recipes.answers import Answer, Findings, Putting, Slip
from schemeforge.gui.recipes.asked import Asked, FindRecipe, MixAgain
from schemeforge.gui.recipes.asks_area import AsksArea
from schemeforge.gui.recipes.card import RecipeCard
from schemeforge.gui.recipes.finding import Match
from schemeforge.gui.recipes.ground import Ground, GroundKind
from schemeforge.gui.recipes.how_panel import HowPanel
from schemeforge.gui.recipes.looking import Looking
from schemeforge.gui.recipes.missing_panel import MissingPanel
from schemeforge.gui.recipes.options import Options
from schemeforge.gui.recipes.questions import (
    Question,
    Wishes,
    needed_ml,
    question_of,
    title_of,
    with_paint,
)
from schemeforge.gui.recipes.results import Results
from schemeforge.gui.recipes.standing_in import Brushing, Refilling
from schemeforge.gui.recipes.target_panel import TargetPanel
from schemeforge.gui.recipes.words import names_of
from schemeforge.gui.theme import GAP, GAP_WIDE, theme_of
from schemeforge.gui.widgets.labels import words
from schemeforge.recipe import Reach, Request
from schemeforge.scheme import Project

_SETTLE_MS = 250


class MixingBench(QWidget):
    """Asks on the left, answers on the right; searches beside the window.

    Signals:
        closed: The painter is done with it.
    """

    closed = Signal()

    def __init__(self, bridge: Bridge, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.bridge = bridge
        self._asked: Asked | None = None
        self._before: Project = bridge.state.project
        self._wishes = Wishes()
        self._question: Question | None = None
        self._known: Request | None = None
        self._findings: Findings | None = None
        self._reach: Reach | None = None
        self._in: tuple[Answer, Project] | None = None
        self._looking = Looking(bridge, self)
        self.title = words("", "title")
        self.close_button = QPushButton(self.tr("Back to the page"))
        self.close_button.setToolTip(self.tr("Put the bench away (Esc)"))
        self.close_button.setAccessibleName(self.close_button.text())
        self.target = TargetPanel()
        self.missing = MissingPanel()
        self.how = HowPanel()
        self.results = Results()
        self._timer = QTimer(self)
        self._timer.setSingleShot(True)
        self._timer.setInterval(_SETTLE_MS)
        self._timer.timeout.connect(self._begin)
        self._assemble()
        self._connect()

    def _assemble(self) -> None:
        head = QHBoxLayout()
        head.addWidget(self.title, 1)
        head.addWidget(self.close_button)
        left = QWidget()
        asks = QVBoxLayout(left)
        asks.setContentsMargins(0, 0, GAP, 0)
        asks.setSpacing(GAP)
        for panel in (self.target, self.missing, self.how):
            asks.addWidget(panel)
        asks.addStretch(1)
        self.area = AsksArea(left)
        body = QHBoxLayout()
        body.setSpacing(GAP_WIDE)
        body.addWidget(self.area, 4)
        body.addWidget(self.results, 9)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(GAP)
        column.addLayout(head)
        column.addLayout(body, 1)

    def _connect(self) -> None:
        tell_keys(self, (self.tr("Esc"), self.tr("put the mixing bench away")))
        escape = QShortcut(QKeySequence(Qt.Key.Key_Escape), self)
        escape.setContext(Qt.ShortcutContext.WidgetWithChildrenShortcut)
        escape.activated.connect(self.closed)
        self.close_button.clicked.connect(self.closed)
        self.target.asked.connect(self._turn)
        self.target.refused.connect(self.bridge.problem)
        self.missing.asked.connect(self._turn)
        self.missing.left.connect(self._on_left)
        self.how.changed.connect(self._on_options)
        self.how.ground_picked.connect(self._on_ground)
        self.how.zone_picked.connect(lambda zone_id: self.bridge.session.select(zone_id=zone_id))
        self.results.stopped.connect(self._stop)
        self.results.again.connect(self._look_again)
        self.results.grid.put.connect(self._put)
        self.results.grid.copied.connect(
            lambda _card: self.bridge.told.emit(self.tr("The recipe is on the clipboard."))
        )
        looking = self._looking
        looking.told.connect(self._on_told)
        looking.found.connect(self._take)
        looking.failed.connect(self._fail)
        looking.causes.connect(self._take_causes)
        looking.progressed.connect(lambda share: self.results.show_busy(is_busy=True, share=share))
        self.bridge.changed.connect(self._on_changed)

    @property
    def asked(self) -> Asked | None:
        """What is asked, None while the bench is away."""
        return self._asked

    @property
    def question(self) -> Question | None:
        """What was asked last, as a frozen question."""
        return self._question

    @property
    def is_looking(self) -> bool:
        """True while an answer is waited for, or about to be asked for."""
        return self.results.is_busy or self._timer.isActive()

    @property
    def wishes(self) -> Wishes:
        """What the painter set."""
        return self._wishes

    @property
    def findings(self) -> Findings | None:
        """What is shown."""
        return self._findings

    @property
    def reach(self) -> Reach | None:
        """What holds the target back, None while that is not known."""
        return self._reach

    def ask(self, asked: Asked) -> None:
        """Lay something on the bench and begin to look."""
        self._before = self.bridge.state.project
        self._wishes = replace(self._wishes, grounds=self._wishes.grounds[:1], left_ml=())
        self._turn(asked)
        self.results.stop.setFocus(Qt.FocusReason.OtherFocusReason)

    def put_away(self) -> None:
        """Stop looking; nothing is asked any more."""
        self._timer.stop()
        self._looking.stop()
        self._asked = self._question = self._known = self._findings = None
        self._reach = self._in = None
        self.results.show_busy(is_busy=False)
        self.results.clear()

    def _turn(self, asked: Asked) -> None:
        """Ask something else of the same desk."""
        self._asked = with_paint(asked, self._before)
        self._known = None
        self._show_asked(self.bridge.state)
        self._begin()

    def _show_asked(self, state: DeskState) -> None:
        """Write the left side."""
        asked, scheme, zone = self._asked, state.scheme, state.zone
        if asked is None or scheme is None or zone is None:
            return
        is_find = isinstance(asked, FindRecipe)
        self.title.setText(title_of(asked))
        self.target.show_wanted(asked.wanted if isinstance(asked, FindRecipe) else None, state)
        self.missing.setVisible(not is_find)
        self.how.show_fields(whole=is_find)
        question = question_of(asked, state, self._before, self._wishes)
        self.how.setVisible(not isinstance(question, Brushing | Refilling))
        if isinstance(question, Match):
            self.how.show_options(
                question.options, question.ground, state.project, scheme, zone.id, question.paints
            )
            return
        use = question.use
        paints = question.paints if isinstance(question, Refilling) else ()
        needed = needed_ml(asked, question.project) if isinstance(asked, MixAgain) else 0.0
        self.how.show_only_stock(self._wishes.options)
        self.missing.show_asked(
            asked, question.project, use.scheme.step(use.step_id), use.mix, paints, needed
        )

    def _begin(self) -> None:
        """Look for answers, unless the very same is asked again."""
        state, asked = self.bridge.state, self._asked
        self._timer.stop()
        if asked is None:
            return
        try:
            self._question = question = question_of(asked, state, self._before, self._wishes)
        except SchemeForgeError as error:
            self._fail(error)
            return
        known = self._known
        self._looking.look(question, known)
        if known is None:
            self._looking.drop_causes()
            self._reach = None
            self.results.show_reach(None, numbers=False)
            self.results.show_busy(is_busy=True)
            self.results.say(self.tr("Looking for recipes…"))

    def _on_told(self, told: Slip | Findings) -> None:
        """Something on the way."""
        if self._asked is None:
            return
        if isinstance(told, Slip):
            self._known = None
            self.results.show_busy(is_busy=True)
            self._show_slip(told)
        else:
            self._findings = told
            self._show(self.bridge.state)

    def _show_slip(self, slip: Slip) -> None:
        self.target.show_slip(slip, numbers=self.bridge.state.preferences.numbers)

    def _take(self, found: Findings | None) -> None:
        if self._asked is None:
            return
        had_stop = self.results.stop.hasFocus()
        self.results.show_busy(is_busy=False)
        if found is None:  # the very same was asked
            self._show(self.bridge.state)
            return
        self._findings, self._known, self._reach = found, found.request, None
        self._show(self.bridge.state)
        if had_stop and found.answers:
            self.results.grid.focus_first()
        if isinstance(self._question, Match):
            self._looking.ask_causes(found)

    def _take_causes(self, found: Reach | None) -> None:
        if self._asked is not None:
            self._reach = found
            self.results.show_reach(found, numbers=self.bridge.state.preferences.numbers)

    def _fail(self, error: Exception) -> None:
        if not isinstance(error, SchemeForgeError):
            raise error
        self._findings = self._known = None
        self.results.show_busy(is_busy=False)
        self.results.clear()
        self.results.say(error.sentence)

    def _show(self, state: DeskState) -> None:
        """Write the right side."""
        findings, question = self._findings, self._question
        if findings is None or question is None:
            return
        numbers = state.preferences.numbers
        put = self._in
        paints = (*state.project.paints, *state.document.shelf)
        self._show_slip(findings.slip)
        self.results.show_findings(
            findings,
            names_of(paints),
            theme_of(state.preferences.surround),
            numbers=numbers,
            is_in=put[0] if put is not None and put[1] is state.project else None,
            put_words=self._put_words(),
        )
        self.results.show_reach(self._reach, numbers=numbers)

    def _put_words(self) -> str:
        """What putting a recipe in would do."""
        question = self._question
        if not isinstance(question, Match):
            return self.tr("Into the pot, for every step that is laid from it (Enter on the card)")
        zone, ground = question.zone.name, question.ground
        if ground.kind.is_plain:
            return self.tr("Choose the zone as it is as the ground, not a plain tone, to put it in")
        names = [
            f"“{question.scheme.step(step_id).name}”"
            for step_id in ground.replaces(question.scheme, question.zone.id)
        ]
        if not names:
            return self.tr("On top of “{0}” (Enter on the card)").format(zone)
        return self.tr("On “{0}”, in the place of {1} (Enter on the card)").format(
            zone, ", ".join(names)
        )

    def _put(self, card: RecipeCard) -> None:
        """A recipe into a coat: one step of undo."""
        answer, asked = card.answer, self._asked
        if answer is None or asked is None or not answer.has_place:
            return
        # As the desk is now: what was put in before is what this takes the place of.
        question = question_of(asked, self.bridge.state, self._before, self._wishes)
        laid: list[Putting] = []

        def change(project: Project) -> Project:
            laid.append(question.put(project, answer))
            return laid[-1][0]

        if not self.bridge.edit(self.tr("a recipe put into a coat"), change) or not laid:
            return
        step_ids = laid[-1][1]
        self._in = answer, self.bridge.state.project
        if isinstance(question, Match):
            ground = Ground(kind=GroundKind.IN_PLACE, step_ids=step_ids)
            if question.ground.kind is not GroundKind.UNDERCOAT:
                self._wishes = replace(self._wishes, grounds=(*self._wishes.grounds, ground))
        self.bridge.session.select(step_id=step_ids[-1])
        self._show_asked(self.bridge.state)
        self._show(self.bridge.state)
        names = ", ".join(
            f"“{step.name}”"
            for scheme in self.bridge.state.project.schemes
            if scheme.id == self._scheme_id
            for step in scheme.steps
            if step.id in step_ids
        )
        self.bridge.told.emit(self.tr("The recipe is in {0}; undo takes it out.").format(names))

    @property
    def _scheme_id(self) -> str:
        question = self._question
        if isinstance(question, Match):
            return question.scheme.id
        return "" if question is None else question.scheme_id

    def _on_changed(self, old: DeskState, new: DeskState) -> None:
        """The document, the light or what is picked changed under the bench."""
        if self._asked is None:
            return
        shown = (old.preferences, old.document, old.selection) != (
            new.preferences,
            new.document,
            new.selection,
        )
        if not shown:
            return
        self._show_asked(new)
        self._show(new)
        concerned = (
            old.document is not new.document
            or old.selection.zone_id != new.selection.zone_id
            or old.selection.scheme_id != new.selection.scheme_id
        )
        is_match = isinstance(self._asked, FindRecipe)
        if concerned and (is_match or old.project.viewing != new.project.viewing):
            self._timer.start()

    def _on_options(self, options: Options) -> None:
        self._wishes = replace(self._wishes, options=options)
        self._timer.start()

    def _on_ground(self, ground: Ground) -> None:
        self._wishes = replace(self._wishes, grounds=(ground,))
        self._timer.start()

    def _on_left(self, paint_id: str, left_ml: float | None) -> None:
        said = dict(self._wishes.left_ml) | {paint_id: left_ml}
        self._wishes = replace(self._wishes, left_ml=tuple(said.items()))
        self._timer.start()

    def _stop(self) -> None:
        self._looking.stop()
        self.results.show_busy(is_busy=False)
        self.results.say(self.tr("Stopped; what was found so far is shown."))

    def _look_again(self) -> None:
        self._known = None
        self._begin()
