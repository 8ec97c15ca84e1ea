"""Paints from a photographed card: the picture, its marks, and the fit of every paint on it."""

from dataclasses import replace

from PySide6.QtCore import QEvent
from PySide6.QtWidgets import (
    QFrame,
    QHBoxLayout,
    QPushButton,
    QStackedWidget,
    QVBoxLayout,
    QWidget,
)

from schemeforge.appearance import look_of
from schemeforge.desk import CancelToken, DeskState
from schemeforge.errors import SchemeForgeError
from schemeforge.gui.adding import card as marking
from schemeforge.gui.adding.card import Card, CardPaint, Mark, Role
from schemeforge.gui.adding.card_fit import fit_card
from schemeforge.gui.adding.choices import finish_choice
from schemeforge.gui.adding.guide import Guide
from schemeforge.gui.adding.mark_row import MarkRow
from schemeforge.gui.adding.picture_bench import PictureBench
from schemeforge.gui.adding.result import Result
from schemeforge.gui.adding.revealing import Revealer
from schemeforge.gui.adding.review import Review
from schemeforge.gui.adding.tool import Tool
from schemeforge.gui.adding.waiting import Waiting
from schemeforge.gui.adding.way_view import WayView
from schemeforge.gui.bridge import Bridge
from schemeforge.gui.theme import GAP, GAP_WIDE
from schemeforge.gui.widgets.field import Field, NumberBox
from schemeforge.gui.widgets.flow import Flow
from schemeforge.gui.widgets.labels import words
from schemeforge.gui.widgets.scrolled import LeastColumn, scrolled
from schemeforge.measurement import Photograph
from schemeforge.scheme import Finish

_KEY = "card"


class PhotoView(WayView):
    """The picture on its bench, or the review of what came out of it."""

    def __init__(self, bridge: Bridge, parent: QWidget | None = None) -> None:
        super().__init__(bridge, parent)
        first = Card(paints=(CardPaint(id=1, name=self.tr("paint 1")),))
        self.bench = PictureBench(
            bridge, _KEY, self.tr("Photograph of a painted card"), self._tools(), first
        )
        self.row = MarkRow()
        self.film = NumberBox(
            self.tr("One coat"), low=0.5, high=1000.0, step=5.0, decimals=1, unit="µm"
        )
        self.film.show_value(first.film_um)
        self.film.setToolTip(
            self.tr("Wet film of neat paint in one coat (µm); a thin brush coat is about 30")
        )
        self.finish = finish_choice(self.tr("Finish"), may_be_unknown=False)
        self.fit = QPushButton(self.tr("Work out the paints"))
        self.fit.setProperty("role", "primary")
        self.how = QPushButton(self.tr("How to photograph"))
        self.how.setCheckable(True)
        self.waiting = Waiting(self.tr("Working out"))
        self.refusal = words("", "caution")
        self.guide = Guide()
        self.review = Review(bridge)
        self._assemble()
        self._connect()
        self._show_parts()

    def _tools(self) -> list[Tool]:
        return [
            Tool(
                Role.PAINTED,
                self.tr("painted"),
                "P",
                self.tr("An area of paint over one ground"),
                self.tr("swatch"),
            ),
            Tool(Role.WHITE, self.tr("white"), "W", self.tr("A bare white area, known how light")),
            Tool(Role.GREY, self.tr("grey"), "G", self.tr("A bare grey area, known how light")),
            Tool(Role.BLACK, self.tr("black"), "B", self.tr("A bare black area, known how light")),
            Tool(
                Role.GROUND,
                self.tr("bare ground"),
                "U",
                self.tr("A bare ground of the card whose colour is only known from the picture"),
            ),
        ]

    def _assemble(self) -> None:
        self._told, column = QFrame(), QVBoxLayout()
        self._told.setProperty("role", "panel")
        column.setContentsMargins(GAP_WIDE, GAP, GAP_WIDE, GAP)
        column.addWidget(self.row)
        self._told.setLayout(column)
        last = Flow()
        for caption, control in (
            (self.tr("One coat"), self.film),
            (self.tr("Finish"), self.finish),
        ):
            last.add(Field(caption, control))
        for button in (self.fit, self.how):
            last.add(button)
        last.add(self.waiting)
        self.waiting.end()
        self._last = last
        self._guide_area = scrolled(self.guide)
        picture = LeastColumn()
        column = QVBoxLayout(picture)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(GAP)
        for widget, share in (
            (self.bench, 1),
            (self._guide_area, 1),
            (self.refusal, 0),
            (self._told, 0),
            (last, 0),
        ):
            column.addWidget(widget, share)
        self._column = column
        self._stack = QStackedWidget()
        reviewed = QWidget()
        below = QVBoxLayout(reviewed)
        below.setContentsMargins(0, 0, GAP, GAP)
        below.addWidget(self.review)
        below.addStretch(1)
        self.area = scrolled(picture)
        self.revealer = Revealer(self.area)
        self._stack.addWidget(self.area)
        self._stack.addWidget(scrolled(reviewed))
        whole = QHBoxLayout(self)
        whole.setContentsMargins(0, 0, 0, 0)
        whole.addWidget(self._stack)

    def _connect(self) -> None:
        bench, row = self.bench, self.row
        bench.changed.connect(self._show_marks)
        bench.picked.connect(lambda _mark: self._show_marks(bench.card))
        bench.seen.connect(lambda _sight: self.row.show_mark(bench.card, self._mark))
        bench.loaded.connect(self._on_loaded)
        bench.refused.connect(self._refuse)
        bench.fields_asked.connect(row.focus_first)
        row.told.connect(lambda mark: bench.set_card(marking.with_mark(bench.card, mark)))
        row.paint_told.connect(lambda p: bench.set_card(marking.with_paint(bench.card, p)))
        row.removed.connect(bench.remove)
        self.film.valueChanged.connect(
            lambda value: bench.set_card(replace(bench.card, film_um=value))
        )
        self.finish.activated.connect(
            lambda: bench.set_card(replace(bench.card, finish=self.finish.value or Finish.MATT))
        )
        self.fit.clicked.connect(self.work_out)
        self.how.toggled.connect(lambda _on: self._show_parts())
        self.waiting.stopped.connect(lambda: self.bridge.jobs.cancel(_KEY))
        self.review.shelved.connect(self._on_shelved)

    @property
    def _mark(self) -> Mark | None:
        return self.bench.card.mark(self.bench.mark_id)

    @property
    def shows_review(self) -> bool:
        """True while what came out is looked at."""
        return self._stack.currentIndex() == 1

    def event(self, event: QEvent) -> bool:
        """Undo and redo go through the marks while they are in view."""
        if not self.shows_review and self.bench.takes_key(event):
            return True
        return super().event(event)

    def step_back(self) -> bool:
        """From the review to the picture."""
        if not self.shows_review:
            return False
        self._stack.setCurrentIndex(0)
        self.fit.setFocus()
        return True

    def show_state(self, old: DeskState | None, new: DeskState) -> None:
        """Another surround, or another light for the review."""
        if old is None or old.preferences.surround is not new.preferences.surround:
            self.bench.dress(new.preferences.surround)
        self.review.show_state(old, new)

    def work_out(self) -> None:
        """Fit every paint on the card beside the window, then show what came out."""
        photograph, card = self.bench.photograph, self.bench.card
        if photograph is None:
            return
        self._clear_refusal()
        self.waiting.begin()
        look = look_of(self.bridge.state.project)

        def work(token: CancelToken) -> list[Result]:
            return fit_card(
                photograph,
                card,
                look,
                progress=token.progress,
                cancelled=lambda: token.is_cancelled,
            )

        self.bridge.jobs.submit(
            _KEY, work, self._show_results, failed=self._fail, progress=self.waiting.progress
        )

    def _show_results(self, results: list[Result]) -> None:
        self.waiting.end()
        self.review.show_results(results)
        self._stack.setCurrentIndex(1)
        self.review.name.setFocus()
        self.review.name.selectAll()

    def _fail(self, error: Exception) -> None:
        self.waiting.end()
        if not isinstance(error, SchemeForgeError):
            raise error
        self._refuse(error.sentence)

    def _refuse(self, sentence: str, path: str = "") -> None:
        self.refusal.setText(sentence)
        self.refusal.setToolTip(path)
        self.refusal.show()
        self.bench.say_once(sentence)
        self.revealer.reveal(self.refusal)

    def _clear_refusal(self) -> None:
        self.refusal.hide()
        self.bench.say_once("")

    def _on_loaded(self, _photograph: Photograph) -> None:
        self._clear_refusal()
        self.review.forget()
        self.how.setChecked(False)
        self._show_parts()

    def _on_shelved(self, paint_id: str) -> None:
        self._stack.setCurrentIndex(int(bool(self.review.results)))  # some may be left to put
        self.shelved.emit(paint_id)

    def _show_marks(self, card: Card) -> None:
        self.row.show_mark(card, self._mark)
        self.film.show_value(card.film_um)
        self.finish.pick(card.finish)

    def _show_parts(self) -> None:
        there = self.bench.photograph is not None
        guided = not there or self.how.isChecked()
        self._guide_area.setVisible(guided)
        self.bench.board.setVisible(there and not guided)
        self._column.setStretchFactor(self.bench, 0 if guided else 1)
        self._told.setVisible(there)
        self._last.setVisible(there)
        if not self.refusal.text():
            self.refusal.hide()
        self._show_marks(self.bench.card)
