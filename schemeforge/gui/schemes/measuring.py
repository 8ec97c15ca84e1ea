"""Measures candidates beside the window and keeps what did not change."""

from dataclasses import replace
from typing import Any

from PySide6.QtCore import QObject, QTimer, Signal

from schemeforge.comparison import Comparison, Handed, ReadPair, SchemeMeasures, compare
from schemeforge.desk import CancelToken
from schemeforge.errors import SchemeForgeError
from schemeforge.gui.bridge import Bridge
from schemeforge.gui.schemes.far_reading import FarReading
from schemeforge.gui.schemes.request import Request, parts_of
from schemeforge.plan import paint_needs, total_minutes
from schemeforge.scheme import Project, Scheme

KEY = "compare schemes"
# Progress shows when measuring takes longer than this.
SLOW_MS = 200


class Measuring(QObject):
    """Runs one comparison at a time, the latest asked for.

    Signals:
        measured: The `Comparison`.
        slow: It takes long enough to say so.
        over: It is done, or is no longer wanted.
        progress: 0 to 1.
        stopped: It was cancelled, or could not be done.
    """

    measured = Signal(object)
    slow = Signal()
    over = Signal()
    progress = Signal(float)
    stopped = Signal()

    def __init__(self, bridge: Bridge, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self.bridge = bridge
        self._known: dict[str, tuple[tuple[object, ...], SchemeMeasures]] = {}
        self._far = FarReading(bridge, self)
        self._far.read.connect(self._on_read)
        self._request: Request | None = None
        self._timer = QTimer(self)
        self._timer.setSingleShot(True)
        self._timer.setInterval(SLOW_MS)
        self._timer.timeout.connect(self.slow)
        self._start = QTimer(self)
        self._start.setSingleShot(True)
        self._start.setInterval(0)
        self._start.timeout.connect(self._begin)

    @property
    def is_busy(self) -> bool:
        """True while a comparison is being worked out."""
        return self._start.isActive() or self.bridge.jobs.is_busy(KEY)

    def ask(self, request: Request) -> None:
        """Have the candidates compared; the same again does nothing."""
        if request.is_like(self._request):
            return
        self._request = request
        self.bridge.jobs.cancel(KEY)
        self._timer.start()
        self._start.start()

    def _begin(self) -> None:
        """Start the job, once the colours are painted."""
        request = self._request
        if request is None:
            return
        known, far = self._still_good(request), self._far.known(request)

        def work(token: CancelToken) -> Comparison | None:
            return _compared(request, known, far, token)

        self.bridge.jobs.submit(
            KEY,
            work,
            lambda result: self._on_done(request, result),
            failed=self._on_failed,
            progress=self.progress.emit,
        )

    def stop(self) -> None:
        """Give the comparison up; asking again starts afresh."""
        self.bridge.jobs.cancel(KEY)
        self._over()
        self._request = None
        self.stopped.emit()

    def forget(self) -> None:
        """No comparison is wanted any more."""
        self.bridge.jobs.cancel(KEY)
        self._over()
        self._request = None

    def _still_good(self, request: Request) -> dict[str, SchemeMeasures]:
        good = {}
        for scheme in request.project.schemes:
            held = self._known.get(scheme.id)
            wanted = parts_of(request, scheme)
            if held and all(a is b for a, b in zip(held[0], wanted, strict=True)):
                good[scheme.id] = held[1]
        return good

    def _on_done(self, request: Request, result: Any) -> None:
        self._over()
        if not isinstance(result, Comparison):
            return
        for entry in result.schemes:
            self._known[entry.scheme.id] = (parts_of(request, entry.scheme), entry.measures)
        there = {scheme.id for scheme in request.project.schemes}
        self._known = {key: kept for key, kept in self._known.items() if key in there}
        self.measured.emit(result)
        self._far.look(request)

    def _on_read(self, request: Request) -> None:
        """More is known now, and told, where that is still what is asked for."""
        if request.is_like(self._request) and not self.is_busy:
            self._start.start()

    def _on_failed(self, error: Exception) -> None:
        self._over()
        self._request = None
        self.stopped.emit()
        if not isinstance(error, SchemeForgeError):
            raise error
        self.bridge.problem.emit(error.sentence)

    def _over(self) -> None:
        self._start.stop()
        self._timer.stop()
        self.over.emit()


def _compared(
    request: Request,
    known: dict[str, SchemeMeasures],
    far: dict[str, tuple[ReadPair, ...]],
    token: CancelToken,
) -> Comparison | None:
    """The job: hours and paints by the plan, colours by comparison."""

    def go_on(share: float) -> bool:
        token.progress(share)
        return not token.is_cancelled

    handed = {
        scheme.id: replace(_handed(request.project, scheme), at_one_metre=far.get(scheme.id))
        for scheme in request.project.schemes
    }
    return compare(
        request.project,
        request.scheme_ids,
        handed=handed,
        thresholds=request.thresholds,
        known=known,
        target=request.target,
        go_on=go_on,
    )


def _handed(project: Project, scheme: Scheme) -> Handed:
    needs = paint_needs(project, scheme)
    short = tuple(need.name for need in needs if need.is_short)
    costs = [need.cost_to_buy for need in needs if need.is_short]
    priced = [cost for cost in costs if cost is not None]
    return Handed(
        minutes=total_minutes(project, scheme),
        to_buy=short,
        cost=sum(priced) if costs and len(priced) == len(costs) else None,
        unknown=tuple(need.name for need in needs if need.is_short is None),
    )
