"""Makes the sheet beside the window: the latest asked for, and the last few kept."""

from collections import OrderedDict
from dataclasses import dataclass
from typing import TYPE_CHECKING

from PySide6.QtCore import QObject, QTimer, Signal

from schemeforge.desk import CancelToken
from schemeforge.errors import SchemeForgeError
from schemeforge.export.options import SheetOptions
from schemeforge.gui.bridge import Bridge
from schemeforge.scheme import Project

if TYPE_CHECKING:
    from schemeforge.export.sheet import Sheet

KEY = "sheet"
# Changes that follow each other faster than this make one sheet.
SETTLE_MS = 120
# A note shows when making takes longer than this.
SLOW_MS = 200
_MOST_KEPT = 6


@dataclass(frozen=True, slots=True)
class Request:
    """All that a sheet depends on; the project is compared by identity.

    Args:
        project: The document.
        scheme_id: The scheme.
        options: What is asked for.
        pictured: False while the stand-in is still being traced.
    """

    project: Project
    scheme_id: str
    options: SheetOptions
    pictured: bool = True

    @property
    def key(self) -> tuple[object, ...]:
        """What it is kept under while the project is held."""
        return id(self.project), self.scheme_id, self.options, self.pictured

    def is_like(self, other: "Request | None") -> bool:
        """True where the other asks for the very same."""
        return other is not None and self.key == other.key


class Making(QObject):
    """One sheet at a time; what was made lately is found again.

    Signals:
        made: The request and its `Sheet`.
        failed: One sentence.
        slow: It takes long enough to say so.
        progress: 0 to 1.
        over: Nothing is being made any more.
        stopped: The user gave it up.
    """

    made = Signal(object, object)
    failed = Signal(str)
    slow = Signal()
    progress = Signal(float)
    over = Signal()
    stopped = Signal()

    def __init__(self, bridge: Bridge, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self.bridge = bridge
        self._kept: OrderedDict[tuple[object, ...], tuple[Request, Sheet]] = OrderedDict()
        self._wanted: Request | None = None
        self._settle = self._timer(SETTLE_MS, self._begin)
        self._patience = self._timer(SLOW_MS, self.slow.emit)

    @property
    def is_busy(self) -> bool:
        """True while a sheet is on its way."""
        return self._settle.isActive() or self.bridge.jobs.is_busy(KEY)

    def found(self, request: Request) -> "Sheet | None":
        """The sheet of that request where it is kept."""
        held = self._kept.get(request.key)
        if held is None:
            return None
        self._kept.move_to_end(request.key)
        return held[1]

    def ask(self, request: Request) -> None:
        """Have a sheet made, or found; the same again does nothing."""
        if request.is_like(self._wanted):
            return
        first = self._wanted is None
        self._wanted = request
        sheet = self.found(request)
        if sheet is not None:
            self._quiet()
            self.made.emit(request, sheet)
        elif first:
            self._begin()
        else:
            self._settle.start()

    def stop(self) -> None:
        """Give it up; asking again starts afresh."""
        self.forget()
        self.stopped.emit()

    def forget(self) -> None:
        """No sheet is wanted any more."""
        self._wanted = None
        self._quiet()

    def _begin(self) -> None:
        request = self._wanted
        if request is None:
            return
        self.progress.emit(0.0)
        self._patience.start()

        views = self.bridge.stand_ins if request.pictured else None

        def work(token: CancelToken) -> "Sheet":
            # Slow to import, so not before the page is seen.
            from schemeforge.export.sheet import make_sheet

            return make_sheet(
                request.project,
                request.scheme_id,
                request.options,
                views=views,
                progress=token.progress,
                cancelled=lambda: token.is_cancelled,
            )

        self.bridge.jobs.submit(
            KEY,
            work,
            lambda sheet: self._on_made(request, sheet),
            failed=self._on_failed,
            progress=self.progress.emit,
        )

    def _on_made(self, request: Request, sheet: "Sheet") -> None:
        self._kept[request.key] = (request, sheet)
        while len(self._kept) > _MOST_KEPT:
            self._kept.popitem(last=False)
        self._quiet()
        self.made.emit(request, sheet)

    def _on_failed(self, error: Exception) -> None:
        self._quiet()
        if not isinstance(error, SchemeForgeError):
            self._wanted = None
            raise error
        self.failed.emit(error.sentence)

    def _quiet(self) -> None:
        self._settle.stop()
        self._patience.stop()
        self.bridge.jobs.cancel(KEY)
        self.over.emit()

    def _timer(self, milliseconds: int, do: object) -> QTimer:
        timer = QTimer(self)
        timer.setSingleShot(True)
        timer.setInterval(milliseconds)
        timer.timeout.connect(do)
        return timer
