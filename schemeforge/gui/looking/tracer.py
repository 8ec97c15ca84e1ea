"""Traces views of models beside the window, one at a time for all who look at models.

Tracing takes seconds: two at once would keep quick jobs waiting that a hand is waiting for.
"""

from collections.abc import Callable, Hashable
from typing import TYPE_CHECKING

from PySide6.QtCore import QObject, Signal
from shiboken6 import isValid

from schemeforge.desk import CancelToken, JobRunner

if TYPE_CHECKING:
    from schemeforge.stand_in import Model, SprayCone, StandIns, Turn

_MOST_WAITING = 6
_KEY = "tracing"


class Tracer(QObject):
    """What is traced next: what was asked for last.

    Signals:
        arrived: A view or a turntable is there.
        progress: How far the one being traced is, 0 to 1.
    """

    arrived = Signal()
    progress = Signal(float)

    def __init__(self, views: "StandIns", jobs: JobRunner, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self.views = views
        self._jobs = jobs
        self._running: Hashable = None
        self._waiting: dict[Hashable, Callable[[CancelToken], object]] = {}

    @property
    def is_busy(self) -> bool:
        """True while something is being traced."""
        return self._running is not None

    def ask_view(self, model: "Model", size: int, turn: "Turn", spray: "SprayCone") -> None:
        """Have a view traced."""
        views = self.views
        self._ask(
            (model, size, turn, spray),
            lambda token: views.view(model, size, turn, spray, progress=token.progress),
        )

    def ask_turntable(self, model: "Model", spray: "SprayCone") -> None:
        """Have a model made ready to be turned."""
        views = self.views
        self._ask(
            (model, spray),
            lambda token: views.turntable(model, spray, cancelled=lambda: token.is_cancelled),
        )

    def _ask(self, what: Hashable, work: Callable[[CancelToken], object]) -> None:
        if what == self._running:
            return
        self._waiting.pop(what, None)
        self._waiting[what] = work  # the newest is last
        while len(self._waiting) > _MOST_WAITING:
            self._waiting.pop(next(iter(self._waiting)))
        self._next()

    def _next(self) -> None:
        if self._running is not None or not self._waiting:
            return
        self._running, work = self._waiting.popitem()
        self._jobs.submit(
            _KEY, work, lambda _none: self._done(), failed=self._give_up, progress=self._tell
        )

    def _tell(self, share: float) -> None:
        if isValid(self):
            self.progress.emit(share)

    def _done(self) -> None:
        if isValid(self):
            self._running = None
            self._next()
            self.arrived.emit()

    def _give_up(self, error: Exception) -> None:
        if isValid(self):
            self._running = None
            self._next()
        raise error
