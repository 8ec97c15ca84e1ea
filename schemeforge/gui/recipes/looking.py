"""Looking for answers beside the window: one question at a time, the latest wins."""

from functools import partial

from PySide6.QtCore import QObject, Qt, Signal
from shiboken6 import isValid

from schemeforge.desk import CancelToken
from schemeforge.gui.bridge import Bridge
from schemeforge.gui.recipes.answers import Findings
from schemeforge.gui.recipes.questions import Question
from schemeforge.recipe import Reach, Request, reach

_JOB, _CAUSES = "recipe", "what holds a recipe back"
# Progress is told in steps of so much: every telling is a turn of the window's own.
_STEP = 0.005


class Looking(QObject):
    """Runs questions as jobs.

    Signals:
        told: On the way, a `Slip`, then `Findings` that are not done.
        found: The `Findings`; None where the very same was asked again.
        failed: Why nothing could be found, an exception.
        progressed: The share done, 0 to 1.
        causes: What holds a target back, a `Reach`.
    """

    told = Signal(object)
    found = Signal(object)
    failed = Signal(object)
    progressed = Signal(float)
    causes = Signal(object)
    _crossed = Signal(object, object)

    def __init__(self, bridge: Bridge, parent: QObject) -> None:
        super().__init__(parent)
        self.bridge = bridge
        self._token: CancelToken | None = None
        self._crossed.connect(self._on_crossed, Qt.ConnectionType.QueuedConnection)

    def look(self, question: Question, known: Request | None) -> None:
        """Begin; an older question is given up.

        Args:
            question: The question.
            known: The request that was answered last: the very same again is not searched.
        """

        def work(token: CancelToken) -> Findings | None:
            last = 0.0

            def go_on(share: float) -> bool:
                nonlocal last
                if share >= last + _STEP:
                    last = share
                    token.progress(share)
                return not token.is_cancelled

            return question.answered(go_on, partial(self._crossed.emit, token), known)

        self._token = self.bridge.jobs.submit(
            _JOB, work, self._take, failed=self._fail, progress=self.progressed.emit
        )

    def ask_causes(self, found: Findings) -> None:
        """What holds a target back that is out of reach."""
        request, nearest = found.request, found.nearest
        if request is None or nearest is None:
            return

        def work(token: CancelToken) -> Reach | None:
            return reach(request, nearest, go_on=lambda _share: not token.is_cancelled)

        self.bridge.jobs.submit(_CAUSES, work, self._take_causes)

    def drop_causes(self) -> None:
        """They are not wanted any more."""
        self.bridge.jobs.cancel(_CAUSES)

    def stop(self) -> None:
        """Nothing is wanted any more."""
        self._token = None
        self.bridge.jobs.cancel(_JOB)
        self.drop_causes()

    def _on_crossed(self, token: CancelToken, told: object) -> None:
        """From the job, now on this thread: nothing where a newer one is wanted."""
        if token is self._token and not token.is_cancelled:
            self.told.emit(told)

    def _take(self, found: Findings | None) -> None:
        if isValid(self):
            self.found.emit(found)

    def _take_causes(self, found: Reach | None) -> None:
        if isValid(self):
            self.causes.emit(found)

    def _fail(self, error: Exception) -> None:
        if isValid(self):
            self.failed.emit(error)
