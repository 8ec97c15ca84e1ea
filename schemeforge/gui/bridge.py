"""Joins the session to Qt: one ``changed(old, new)`` signal, one place where errors end."""

from collections.abc import Callable
from contextlib import suppress
from functools import cached_property
from typing import TYPE_CHECKING, Any

from PySide6.QtCore import QObject, Qt, Signal, Slot

from schemeforge.desk import DeskState, JobRunner, Session
from schemeforge.desk.colours import ColourBook
from schemeforge.errors import SchemeForgeError
from schemeforge.scheme import Project

if TYPE_CHECKING:
    from schemeforge.gui.looking.tracer import Tracer
    from schemeforge.stand_in import StandIns


class Bridge(QObject):
    """What every view is given: the state, the signal, edits, jobs, and the colour book.

    Signals:
        changed: ``(old, new)`` of `DeskState`, after every change.
        problem: One sentence about what could not be done.
        told: One sentence about what was done, for the notice line.
        asked: A question for the mixing bench, from `schemeforge.gui.recipes.asked`.
        judging: A painted test model is to be judged.
        closing: Before the bridge closes: let go of files.
    """

    changed = Signal(object, object)
    problem = Signal(str)
    told = Signal(str)
    asked = Signal(object)
    judging = Signal()
    closing = Signal()
    _deliver = Signal(object)

    def __init__(self, session: Session, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self.session = session
        self.colours = ColourBook()
        self._deliver.connect(self._call, Qt.ConnectionType.QueuedConnection)
        self.jobs = JobRunner(self._deliver.emit)
        self._unsubscribe = session.subscribe(self._on_change)
        session.on_journal_problem = self.say_problem

    @cached_property
    def stand_ins(self) -> "StandIns":
        """Views of stand-in models, kept for all pages; loads the tracer when first asked for."""
        from schemeforge.stand_in import StandIns

        return StandIns(self.session.places.stand_ins)

    @cached_property
    def tracer(self) -> "Tracer":
        """Has views traced beside the window, one at a time."""
        from schemeforge.gui.looking.tracer import Tracer

        return Tracer(self.stand_ins, self.jobs, self)

    @property
    def state(self) -> DeskState:
        """What the window shows now."""
        return self.session.state

    def edit(self, label: str, change: Callable[[Project], Project], *, merge: str = "") -> bool:
        """An undoable edit; where it cannot be, the reason is shown and False returned."""
        return self.attempt(lambda: self.session.edit(label, change, merge=merge))

    def attempt(self, action: Callable[[], Any]) -> bool:
        """Do something that may be refused; the reason is shown and False returned."""
        try:
            action()
        except SchemeForgeError as error:
            self.problem.emit(error.sentence)
            return False
        return True

    def say_problem(self, sentence: str) -> None:
        """Show one sentence about what could not be done; may be called on any thread."""
        with suppress(RuntimeError):  # the window is gone
            self._deliver.emit(lambda: self.problem.emit(sentence))

    def close(self) -> None:
        """End jobs and stop listening; the session stays open."""
        self.closing.emit()
        self._unsubscribe()
        self.session.on_journal_problem = lambda _sentence: None
        self.jobs.close()

    def _on_change(self, old: DeskState, new: DeskState) -> None:
        self.changed.emit(old, new)

    @Slot(object)
    def _call(self, function: Callable[[], None]) -> None:
        function()
