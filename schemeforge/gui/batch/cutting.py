"""What to cut when time is short: each way with hours saved, what it loses, and one click."""

from dataclasses import dataclass
from functools import partial

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QFrame, QGridLayout, QProgressBar, QPushButton, QWidget

from schemeforge import colorimetry, plan
from schemeforge.desk import CancelToken, DeskState
from schemeforge.gui.batch.making import Made
from schemeforge.gui.batch.section import Section
from schemeforge.gui.bridge import Bridge
from schemeforge.gui.counting import counted
from schemeforge.gui.theme import GAP, GAP_WIDE
from schemeforge.gui.widgets.flow import Flow
from schemeforge.gui.widgets.labels import words
from schemeforge.plan import Lever, LeverKind
from schemeforge.plan.timeline import hours

_KEY = "what to cut"


@dataclass(frozen=True, slots=True)
class _Offered:
    """Levers, and by key what the plan would be with each, in words, and which make it in time."""

    levers: tuple[Lever, ...]
    sentences: dict[str, str]
    in_time: frozenset[str]


class CutSection(Section):
    """Ways to save hours in the order in which painters take them."""

    def __init__(self, bridge: Bridge, parent: QWidget | None = None) -> None:
        super().__init__("", "", parent)
        self.bridge = bridge
        self.heading.setText(self.tr("What could be cut"))
        self.setAccessibleName(self.tr("What could be cut"))
        self.about.setText(
            self.tr(
                "In the order in which painters cut; coats by the least seen change for an hour "
                "saved. Undercoat, drying and varnish are never cut. Undo brings everything back."
            )
        )
        self._made: Made | None = None
        self._wanted = False
        self._numbers = False
        self.levers: tuple[Lever, ...] = ()
        self.rows: dict[str, QPushButton] = {}
        self.look = QPushButton(self.tr("See what could be cut"))
        self.look.clicked.connect(lambda _on=False: self.open())
        looking = Flow()
        looking.add(self.look)
        self.bar = QProgressBar()
        self.bar.setRange(0, 100)
        self.bar.setAccessibleName(self.tr("Working out what could be cut"))
        self.stop = QPushButton(self.tr("Stop"))
        self.stop.clicked.connect(lambda _on=False: self.cancel())
        self._busy = Flow()
        self._busy.add(self.bar)
        self._busy.add(self.stop)
        self.none = words(self.tr("There is nothing that may be cut."))
        self._list = QFrame()
        self._grid = QGridLayout(self._list)
        self._grid.setContentsMargins(0, 0, 0, 0)
        self._grid.setHorizontalSpacing(GAP_WIDE)
        self._grid.setVerticalSpacing(GAP)
        for widget in (looking, self._busy, self.none, self._list):
            self.body.addWidget(widget)
        self._busy.hide()
        self.none.hide()
        self._list.hide()

    def show_plan(self, made: Made | None, state: DeskState) -> None:
        """Follow the plan: where it is late the list is made unasked."""
        self._made = made
        self._numbers = state.preferences.numbers
        left = made is not None and not made.schedule.is_done
        self.setVisible(left)
        late = made is not None and made.schedule.is_late and bool(made.schedule.axis.windows)
        if left and self.is_open and (late or self._wanted):
            self._start()
        else:
            self.cancel()
            self._clear()
        self.look.setVisible(not late and not self._wanted)

    def open(self) -> None:
        """Make the list though the batch is in time."""
        self._wanted = True
        self.look.hide()
        if self._made is not None:
            self._start()

    def cancel(self) -> None:
        """Give up the list that is being made."""
        self.bridge.jobs.cancel(_KEY)
        self._busy.hide()
        if not self.levers:
            self._wanted = False
            self.look.show()

    def apply(self, lever: Lever) -> bool:
        """Cut it; the plan follows."""
        if not self.bridge.edit(lever.title[:1].lower() + lever.title[1:], lever.edit):
            return False
        saved = "" if not lever.saved_minutes else hours(lever.saved_minutes)
        told = self.tr("{0}. Undo brings it back.").format(lever.title)
        if saved:
            told = self.tr("{0}: {1} saved. Undo brings it back.").format(lever.title, saved)
        self.bridge.told.emit(told)
        return True

    def seen_words(self, lever: Lever) -> str:
        """What the eye loses for each hour that is won."""
        if lever.seen is None or lever.seen_per_hour is None:
            return ""
        change = {
            "unseen": self.tr("unseen"),
            "seen side by side": self.tr("seen side by side"),
            "shows in the ranks": self.tr("shows in the ranks"),
        }.get(colorimetry.difference_words(lever.seen.delta_e), self.tr("another colour"))
        hour = self._hour_words(lever.seen_per_hour)
        told = self.tr("{0} where it lay; {1}").format(change, hour)
        if self._numbers:
            exact = self.tr("dE {0:.1f}, {1:.1f} an hour").format(
                lever.seen.delta_e, lever.seen_per_hour
            )
            told = f"{told} ({exact})"
        return told

    def _hour_words(self, per_hour: float) -> str:
        """An hour at the price of so much seen change."""
        if per_hour < 2.0:
            return self.tr("an hour costs next to nothing to the eye")
        if per_hour < 8.0:
            return self.tr("an hour costs little")
        if per_hour < 20.0:
            return self.tr("an hour costs a good deal")
        return self.tr("an hour costs dear")

    def _start(self) -> None:
        made = self._made
        if made is None:
            return
        project, scheme, known = made.project, made.scheme, made.progress

        def work(token: CancelToken) -> _Offered:
            offered = plan.levers(project, scheme, known)
            token.progress(0.2)
            seen: dict[str, plan.SeenChange] = {}
            sentences: dict[str, str] = {}
            in_time: set[str] = set()
            for n, lever in enumerate(offered, start=1):
                if token.is_cancelled:
                    break
                seen |= plan.seen_by_lever(project, scheme, (lever,))
                then = plan.with_lever(project, scheme.id, lever, known)
                sentences[lever.key] = then.sentence
                if not then.is_late:
                    in_time.add(lever.key)
                token.progress(0.2 + 0.8 * n / len(offered))
            ranked = plan.levers(project, scheme, known, seen=seen)
            return _Offered(ranked, sentences, frozenset(in_time))

        self.bar.setValue(0)
        self._busy.show()
        self.bridge.jobs.submit(
            _KEY, work, self._show, progress=lambda share: self.bar.setValue(round(100 * share))
        )

    def _show(self, offered: _Offered) -> None:
        self._busy.hide()
        self._clear()
        self.levers = offered.levers
        most = max((lever.saved_minutes for lever in self.levers), default=0.0)
        if most > 0.0:
            told = self.tr("What could be cut: {0}, up to {1}")
            ways = counted(len(self.levers), self.tr("{0} way"), self.tr("{0} ways"))
            self.heading.setText(told.format(ways, hours(most)))
        self.none.setVisible(not self.levers)
        self._list.setVisible(bool(self.levers))
        kind: LeverKind | None = None
        late = self._made is not None and self._made.schedule.is_late
        for lever in self.levers:
            if lever.kind is not kind:
                kind = lever.kind
                head = words(self._kind_words(kind), "heading")
                head.setContentsMargins(0, GAP_WIDE if self.rows else GAP, 0, 0)
                self._grid.addWidget(head, self._grid.rowCount(), 0, 1, 3)
            then = offered.sentences.get(lever.key, "")
            self._add(lever, then, in_time=late and lever.key in offered.in_time)

    def _add(self, lever: Lever, then: str, *, in_time: bool) -> None:
        row = self._grid.rowCount()
        what = words(lever.title)
        loses = self.tr("Loses: {0}").format(lever.loses)
        seen = self.seen_words(lever)
        about = words(f"{loses}. {seen[:1].upper()}{seen[1:]}." if seen else f"{loses}.", "muted")
        if in_time:
            what.setText(self.tr("{0}: then all is in time").format(lever.title))
        about.setToolTip(then)
        saved = words(hours(lever.saved_minutes) if lever.saved_minutes > 0.0 else "–")
        saved.setAlignment(Qt.AlignmentFlag.AlignRight | Qt.AlignmentFlag.AlignTop)
        saved.setToolTip(self.tr("Hands-on time that it saves"))
        button = QPushButton(self.tr("Cut it"))
        if lever.kind is LeverKind.GROUP_FIRST:
            button.setText(self.tr("Do so"))
        button.setAccessibleName(lever.title)
        button.setAccessibleDescription(f"{lever.sentence} {then}")
        button.setToolTip(then)
        button.clicked.connect(partial(self._on_click, lever))
        self._grid.addWidget(what, row, 0)
        self._grid.addWidget(saved, row, 1)
        self._grid.addWidget(button, row, 2, 2, 1, Qt.AlignmentFlag.AlignTop)
        self._grid.addWidget(about, row + 1, 0, 1, 2)
        self._grid.setColumnStretch(0, 1)
        self.rows[lever.key] = button

    def _on_click(self, lever: Lever, _on: object = False) -> None:
        self.apply(lever)

    def _clear(self) -> None:
        self.levers = ()
        self.rows = {}
        self.heading.setText(self.tr("What could be cut"))
        while (item := self._grid.takeAt(0)) is not None:
            widget = item.widget()
            if widget is not None:
                widget.hide()
                widget.deleteLater()
        self._list.hide()
        self.none.hide()

    def _kind_words(self, kind: LeverKind) -> str:
        return {
            LeverKind.GROUP_FIRST: self.tr("One group first"),
            LeverKind.PASSES: self.tr("Fewer passes"),
            LeverKind.COAT: self.tr("Leave out a coat"),
            LeverKind.TECHNIQUE: self.tr("Quicker technique"),
            LeverKind.DETAIL: self.tr("Leave out detail"),
            LeverKind.SHORT: self.tr("Turn a whole group from full to short"),
        }[kind]
