"""What the ways to a paint share: inputs above, and a review that follows them."""

from collections.abc import Callable, Sequence

from PySide6.QtCore import QTimer
from PySide6.QtWidgets import QFrame, QVBoxLayout, QWidget

from schemeforge.appearance import Look, look_of
from schemeforge.desk import CancelToken, DeskState
from schemeforge.errors import SchemeForgeError
from schemeforge.gui.adding.result import Result
from schemeforge.gui.adding.revealing import Revealer
from schemeforge.gui.adding.review import Review
from schemeforge.gui.adding.way_view import WayView
from schemeforge.gui.bridge import Bridge
from schemeforge.gui.theme import GAP, GAP_WIDE
from schemeforge.gui.widgets.labels import words
from schemeforge.gui.widgets.scrolled import scrolled

_SETTLE_MS = 120
# Given a light and how to tell progress: the results, or an error with its sentence.
Request = Callable[[Look, CancelToken], Sequence[Result]]


class FitView(WayView):
    """A scrolled column: what is asked, then the review, refitted a moment after each change."""

    def __init__(self, bridge: Bridge, key: str, parent: QWidget | None = None) -> None:
        super().__init__(bridge, parent)
        self._key = key
        self.review = Review(bridge)
        self.review.shelved.connect(self.shelved)
        self._timer = QTimer(self)
        self._timer.setSingleShot(True)
        self._timer.setInterval(_SETTLE_MS)
        self._timer.timeout.connect(self.refit)
        inside = QWidget()
        self.column = QVBoxLayout(inside)
        self.column.setContentsMargins(0, 0, GAP, GAP)
        self.column.setSpacing(GAP_WIDE)
        self.area = scrolled(inside)
        self.revealer = Revealer(self.area)
        whole = QVBoxLayout(self)
        whole.setContentsMargins(0, 0, 0, 0)
        whole.addWidget(self.area)

    def request(self) -> Request | str:
        """What to work out, or what is still missing; raises SchemeForgeError for bad input."""
        raise NotImplementedError

    def later(self) -> None:
        """Something changed: refit once the hand rests."""
        self._timer.start()

    def refit(self) -> None:
        """Work out the paint beside the window and show it."""
        self._timer.stop()
        self.bridge.jobs.cancel(self._key)
        try:
            wanted = self.request()
        except SchemeForgeError as error:
            self._tell(error.sentence)
            return
        if isinstance(wanted, str):
            self.review.show_hint(wanted)
            return
        request, look = wanted, look_of(self.bridge.state.project)
        self.bridge.jobs.submit(
            self._key,
            lambda token: request(look, token),
            self._show,
            failed=self._refuse,
        )

    def show_state(self, old: DeskState | None, new: DeskState) -> None:
        """Another light or finish is another look at the same paint."""
        self.review.show_state(old, new)

    def _refuse(self, error: Exception) -> None:
        if not isinstance(error, SchemeForgeError):
            raise error
        self._tell(error.sentence)

    def _tell(self, sentence: str) -> None:
        """Refuse, where it is seen; the same refusal again does not move the page again."""
        known = self.review.hint.text() == sentence
        self.review.show_hint(sentence, caution=True)
        if not known:
            self.revealer.reveal(self.review.hint)

    def _show(self, results: Sequence[Result]) -> None:
        """Show what came out; the first that comes out is brought into view."""
        first = not self.review.results
        self.review.show_results(results)
        if first:
            self.revealer.reveal(self.review.heading, self.review.put)


def panel(heading: str) -> tuple[QFrame, QVBoxLayout]:
    """A raised panel under a heading, and the column to fill it."""
    frame = QFrame()
    frame.setProperty("role", "panel")
    column = QVBoxLayout(frame)
    column.setContentsMargins(GAP_WIDE, GAP_WIDE, GAP_WIDE, GAP_WIDE)
    column.setSpacing(GAP)
    if heading:
        column.addWidget(words(heading, "heading"))
    return frame, column
