"""The notice line: what could not be done, what was done, and what to try first."""

from collections.abc import Callable
from dataclasses import dataclass

from PySide6.QtCore import QEvent, QObject, Qt, QTimer
from PySide6.QtGui import QAccessible, QAccessibleEvent, QKeyEvent
from PySide6.QtWidgets import QApplication, QFrame, QHBoxLayout, QLabel, QPushButton, QWidget

from schemeforge.gui.theme import GAP

_NOTE_MS = 12_000
_HELD_MS = 50


def _nothing() -> None:
    """What an offer does when it is only dismissed."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Offer:
    """A sentence that stands until it is answered.

    Args:
        sentence: What it says.
        answers: Labels and what each does; the offer is over with any of them.
        dismissed: Called when it is only dismissed.
    """

    sentence: str
    answers: tuple[tuple[str, Callable[[], object]], ...] = ()
    dismissed: Callable[[], object] = _nothing


class NoticeLine(QFrame):
    """One sentence with a way to dismiss it, and at most two things to do about it.

    Problems stay until dismissed, notes for a while. Offers stand beneath both, one after the
    other. While a mouse button is down nothing appears or goes. Floating over a page's bottom
    edge it moves nothing there; only offers, which may stand long, are given room of their own.
    """

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setProperty("role", "notice")
        self._area: QWidget | None = None
        self._room: QWidget | None = None
        self._label = QLabel()
        self._label.setTextFormat(Qt.TextFormat.PlainText)
        self._label.setWordWrap(True)
        self._answers = (QPushButton(), QPushButton())
        self._close = QPushButton(self.tr("Dismiss"))
        self._close.clicked.connect(self.dismiss)
        self._said: tuple[str, str] | None = None
        self._offers: list[Offer] = []
        self._fade = QTimer(self)
        self._fade.setSingleShot(True)
        self._fade.setInterval(_NOTE_MS)
        self._fade.timeout.connect(self._forget_note)
        self._held = QTimer(self)
        self._held.setInterval(_HELD_MS)
        self._held.timeout.connect(self._update)
        row = QHBoxLayout(self)
        row.setContentsMargins(GAP * 2, GAP // 2, GAP, GAP // 2)
        row.setSpacing(GAP)
        row.addWidget(self._label, 1)
        for number, button in enumerate(self._answers):
            button.clicked.connect(lambda _on=False, n=number: self._answer(n))
            row.addWidget(button)
        row.addWidget(self._close)
        self.hide()

    def float_over(self, area: QWidget, room: QWidget) -> None:
        """Lie over the bottom of an area from now on.

        Args:
            area: What it lies on, with a layout whose margins it keeps.
            room: The last thing in that layout, shown as high as the line while an offer stands.
        """
        self._area, self._room = area, room
        self.setParent(area)
        self.hide()
        room.hide()
        area.installEventFilter(self)

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:
        """Go along with the area."""
        if event.type() == QEvent.Type.Resize:
            self._place()
        return super().eventFilter(watched, event)

    def event(self, event: QEvent) -> bool:
        """A longer sentence, or larger type, takes more lines."""
        done = super().event(event)
        if event.type() == QEvent.Type.LayoutRequest:
            self._place()
        return done

    @property
    def text(self) -> str:
        """The sentence shown, "" while hidden."""
        return self._label.text() if not self.isHidden() else ""

    @property
    def buttons(self) -> tuple[QPushButton, ...]:
        """The answers that can be given, then the one that dismisses."""
        return (*(b for b in self._answers if not b.isHidden()), self._close)

    def show_problem(self, sentence: str) -> None:
        """Say what could not be done; stays until dismissed."""
        self._fade.stop()
        self._say(self.tr("Not done: {0}").format(sentence), "caution")

    def show_note(self, sentence: str) -> None:
        """Say what was done, or what to know; goes by itself."""
        self._fade.start()
        self._say(sentence, "")

    def offer(self, offer: Offer) -> None:
        """Have something stand beneath the notes until it is answered; an equal one stands once."""
        if offer not in self._offers:
            self._offers.append(offer)
        self._update()

    def dismiss(self) -> None:
        """Take away what is shown; what stands beneath it comes to light."""
        if self._said is not None:
            self._said = None
            self._fade.stop()
        elif self._offers:
            self._offers.pop(0).dismissed()
        self._update()

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Escape dismisses while the focus is in the line."""
        if event.key() == Qt.Key.Key_Escape:
            self.dismiss()
        else:
            super().keyPressEvent(event)

    def _say(self, sentence: str, role: str) -> None:
        self._said = (sentence, role)
        self._update()

    def _forget_note(self) -> None:
        self._said = None
        self._update()

    def _answer(self, number: int) -> None:
        if self._said is None and self._offers:
            do = self._offers.pop(0).answers[number][1]
            self._update()
            do()

    def _update(self) -> None:
        if QApplication.mouseButtons() != Qt.MouseButton.NoButton:
            self._held.start()
            return
        self._held.stop()
        if self._said is not None:
            self._write(*self._said, ())
        elif self._offers:
            standing = self._offers[0]
            self._write(standing.sentence, "", standing.answers)
        else:
            self._hide()

    def _write(
        self, sentence: str, role: str, answers: tuple[tuple[str, Callable[[], object]], ...]
    ) -> None:
        is_new = self.isHidden() or self._label.text() != sentence
        self._label.setText(sentence)
        if self._label.property("role") != role:
            self._label.setProperty("role", role)
            self._label.style().unpolish(self._label)
            self._label.style().polish(self._label)
        for number, button in enumerate(self._answers):
            button.setText(answers[number][0] if number < len(answers) else "")
            button.setVisible(number < len(answers))
        self.setAccessibleName(sentence)
        self.show()
        self._place()
        if is_new:  # a screen reader says it at once
            QAccessible.updateAccessibility(QAccessibleEvent(self, QAccessible.Event.Alert))

    def _hide(self) -> None:
        inside = self.isAncestorOf(focus) if (focus := QApplication.focusWidget()) else False
        if inside and (following := self._next_focus()) is not None:
            following.setFocus(Qt.FocusReason.OtherFocusReason)
        self.hide()
        self._place()

    def _place(self) -> None:
        area, room = self._area, self._room
        layout = None if area is None else area.layout()
        if area is None or room is None or layout is None:
            return
        inside = area.rect().marginsRemoved(layout.contentsMargins())
        high = max(self.heightForWidth(inside.width()), self.minimumSizeHint().height())
        # While a note lies over it, an offer keeps its room.
        room.setFixedHeight(max(high, room.height() if self._said and room.isVisible() else 0))
        room.setVisible(bool(self._offers) and not self.isHidden())
        self.setGeometry(inside.left(), inside.bottom() + 1 - high, inside.width(), high)
        self.raise_()

    def _next_focus(self) -> QWidget | None:
        """The next widget in tab order outside the line, so that the focus is not lost."""
        widget = self.nextInFocusChain()
        while widget is not None and widget is not self:
            takes = bool(widget.focusPolicy() & Qt.FocusPolicy.TabFocus)
            if takes and not self.isAncestorOf(widget) and widget.isVisibleTo(self.window()):
                return widget
            widget = widget.nextInFocusChain()
        return None
