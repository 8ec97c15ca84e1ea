"""The desk: the paper with its index, what turns and sizes it, a note, or what to do first."""

from PySide6.QtCore import QEvent, QObject, Qt, Signal
from PySide6.QtGui import QKeySequence, QShortcut
from PySide6.QtWidgets import (
    QFrame,
    QHBoxLayout,
    QProgressBar,
    QPushButton,
    QSizePolicy,
    QStackedWidget,
    QVBoxLayout,
    QWidget,
)

from schemeforge.export.page import Page
from schemeforge.gui.icons import icon
from schemeforge.gui.sheet.buttons import button
from schemeforge.gui.sheet.index import Index, marks_of
from schemeforge.gui.sheet.paper import Fit, PaperView
from schemeforge.gui.theme import GAP, GAP_WIDE, Theme
from schemeforge.gui.widgets.flow import Flow
from schemeforge.gui.widgets.labels import words
from schemeforge.gui.widgets.segments import Segments


class Desk(QWidget):
    """Shows sides and what is said about them; decides nothing.

    Signals:
        turned: The number of the side wanted, from 0.
        resized: The paper wants a picture of another width.
        stopped: Give up what is being laid out.
        again: Lay it out after all.
        gone: Do first what the empty desk says.
    """

    turned = Signal(int)
    resized = Signal()
    stopped = Signal()
    again = Signal()
    gone = Signal()

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.paper = PaperView()
        self.index = Index()
        self.paper.set_index(self.index)
        self._make_bar()
        self._make_note()
        self._make_empty()
        self._views = QStackedWidget()
        self._views.addWidget(self.paper)
        self._views.addWidget(self._empty)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(0)
        column.addWidget(self.bar)
        column.addWidget(self._views, 1)
        self.paper.installEventFilter(self)
        self.paper.turned.connect(self.turned)
        self.paper.resized.connect(self.resized)
        self.index.chosen.connect(self.turned)
        self._shortcut("W", self.tr("Whole side"), lambda: self.set_fit(Fit.WHOLE))
        self._shortcut("F", self.tr("As wide as the room"), lambda: self.set_fit(Fit.WIDTH))
        self._shortcut("T", self.tr("True size"), lambda: self.set_fit(Fit.TRUE))

    def _make_bar(self) -> None:
        self.back = button("", self.tr("Side before (Left)"), lambda: self.paper.turn(-1))
        self.on = button("", self.tr("Next side (Right)"), lambda: self.paper.turn(1))
        for turn in (self.back, self.on):
            turn.setAccessibleName(turn.toolTip())
        self.place = words("")
        self.place.setWordWrap(False)
        turning = QWidget()
        row = QHBoxLayout(turning)
        row.setContentsMargins(0, 0, 0, 0)
        row.setSpacing(GAP)
        for widget in (self.back, self.place, self.on):
            row.addWidget(widget)
        self.fit = Segments(
            self.tr("How large"),
            [
                (Fit.WHOLE.value, self.tr("Whole side"), self.tr("All of the side in view (W)")),
                (Fit.WIDTH.value, self.tr("Full width"), self.tr("As wide as the desk (F)")),
                (
                    Fit.TRUE.value,
                    self.tr("True size"),
                    self.tr(
                        "As large as on paper, as far as the screen tells its size: hold a ruler "
                        "to the 50 mm line at the foot (T)"
                    ),
                ),
            ],
        )
        self.fit.set_value(Fit.WIDTH.value)
        self.fit.chosen.connect(lambda value: self.set_fit(Fit(value)))
        self.bar = Flow(gap=GAP_WIDE)
        self.bar.add(turning)
        self.bar.add(self.fit)

    def _make_note(self) -> None:
        self.note = QFrame(self)
        self.note.setProperty("role", "panel")
        self.said = words("")
        self.stop = button(
            self.tr("Stop"), self.tr("Leave the sheet as it lies"), self.stopped.emit
        )
        self.redo = button(
            self.tr("Lay it out again"), self.tr("Make the sheet as it is now"), self.again.emit
        )
        row = QHBoxLayout(self.note)
        row.setContentsMargins(GAP_WIDE, GAP, GAP, GAP)
        row.setSpacing(GAP_WIDE)
        self.share = QProgressBar()
        self.share.setRange(0, 100)
        self.share.setTextVisible(False)
        self.share.setAccessibleName(self.tr("How much of the sheet is laid out"))
        self.share.setMaximumWidth(120)
        row.addWidget(self.said, 1)
        row.addWidget(self.share)
        row.addWidget(self.stop)
        row.addWidget(self.redo)
        self.note.hide()

    def _make_empty(self) -> None:
        self._empty = QWidget()
        self.empty_words = words("")
        self.empty_words.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Minimum)
        self.empty_do = QPushButton()
        self.empty_do.clicked.connect(lambda _on=False: self.gone.emit())
        column = QVBoxLayout(self._empty)
        column.setContentsMargins(GAP_WIDE, GAP_WIDE, GAP_WIDE, GAP_WIDE)
        column.addStretch(1)
        column.addWidget(self.empty_words)
        column.addSpacing(GAP)
        column.addWidget(self.empty_do, 0, Qt.AlignmentFlag.AlignLeft)
        column.addStretch(2)

    @property
    def is_empty(self) -> bool:
        """True while it says what to do first."""
        return self._views.currentWidget() is self._empty

    def dress(self, theme: Theme) -> None:
        """Take the colours of a surround."""
        self.paper.dress(theme)
        self.index.dress(theme)
        self.back.setIcon(icon("left", theme.text))
        self.on.setIcon(icon("right", theme.text))

    def set_fit(self, fit: Fit) -> None:
        """How large the paper is shown."""
        self.fit.set_value(fit.value)
        self.paper.set_fit(fit)

    def show_side(self, pages: tuple[Page, ...], number: int) -> None:
        """The side on top and its place among the others; its picture follows."""
        page = pages[number]
        said = self.tr("Side {0} of {1}").format(number + 1, len(pages))
        self.place.setText(said)
        self.back.setEnabled(number > 0)
        self.on.setEnabled(number < len(pages) - 1)
        self.bar.show()
        self.bar.setEnabled(True)
        self._views.setCurrentWidget(self.paper)
        self.index.show_marks(marks_of([page.title for page in pages]), number)
        self.paper.show_side(number, len(pages), (page.width, page.height))
        self.paper.setAccessibleName(f"{said}: {page.title}")
        self.paper.setAccessibleDescription("\n".join(text.text for text in page.texts))

    def show_bare(self) -> None:
        """A desk without paper on it."""
        self._views.setCurrentWidget(self.paper)
        self._without()

    def show_empty(self, sentence: str, do: str) -> None:
        """What to do first, and a button that leads there."""
        self._without()
        self.hide_note()
        self.empty_words.setText(sentence)
        self.empty_do.setText(do)
        self.bar.hide()
        self._views.setCurrentWidget(self._empty)

    def show_note(self, sentence: str, *, stop: bool, again: bool) -> None:
        """Say something quietly at the foot of the desk; nothing moves for it."""
        self.said.setText(sentence)
        self.note.setAccessibleName(sentence)
        self.stop.setVisible(stop)
        self.share.setVisible(stop)
        self.redo.setVisible(again)
        self.note.show()
        self.note.raise_()
        self._place_note()

    def show_progress(self, share: float) -> None:
        """How much is laid out, 0 to 1."""
        self.share.setValue(round(100.0 * share))

    def hide_note(self) -> None:
        """Nothing to say."""
        if self.stop.hasFocus() or self.redo.hasFocus():
            self.paper.setFocus()
        self.note.hide()

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:
        """The note stays at the foot of the paper's desk."""
        if event.type() is QEvent.Type.Resize and self.note.isVisible():
            self._place_note()
        return super().eventFilter(watched, event)

    def _place_note(self) -> None:
        room = self._views.geometry()
        wide = min(self.note.sizeHint().width(), room.width() - 2 * GAP_WIDE)
        high = max(self.note.heightForWidth(wide), self.note.minimumSizeHint().height())
        self.note.setGeometry(room.left() + GAP, room.bottom() - high - GAP_WIDE, wide, high)

    def _without(self) -> None:
        self.paper.clear()
        self.paper.setAccessibleName(self.tr("No sheet"))
        self.paper.setAccessibleDescription("")
        self.index.show_marks((), 0)
        self.place.setText("")
        self.bar.setEnabled(False)

    def _shortcut(self, keys: str, meaning: str, do: object) -> None:
        shortcut = QShortcut(QKeySequence(keys), self)
        shortcut.setWhatsThis(meaning)
        shortcut.setContext(Qt.ShortcutContext.WidgetWithChildrenShortcut)
        shortcut.activated.connect(do)
