"""The right of the bench: how far the search is, what was found, what holds the target back."""

from collections.abc import Mapping

from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QAccessible, QAccessibleEvent
from PySide6.QtWidgets import (
    QFrame,
    QHBoxLayout,
    QProgressBar,
    QPushButton,
    QScrollArea,
    QVBoxLayout,
    QWidget,
)

from schemeforge.gui.recipes.answers import Answer, Findings
from schemeforge.gui.recipes.cards import CardGrid
from schemeforge.gui.recipes.words import card_text, difference_words, saying_words
from schemeforge.gui.theme import GAP, GAP_TIGHT, GAP_WIDE, Theme
from schemeforge.gui.widgets.labels import words
from schemeforge.recipe import Reach


class Results(QWidget):
    """Status, progress, findings and cards.

    Signals:
        stopped: The search is to stop.
        again: The search is to begin anew.
    """

    stopped = Signal()
    again = Signal()

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.status = words("")
        self.progress = QProgressBar()
        self.progress.setRange(0, 1000)
        self.progress.setTextVisible(False)
        self.progress.setMinimumWidth(120)
        self.progress.setAccessibleName(self.tr("How far the search is"))
        self.stop = QPushButton(self.tr("Stop"))
        self.stop.setToolTip(self.tr("Stop searching; what is shown stays"))
        self.stop.clicked.connect(self._on_stop)
        self.limits = QFrame()
        self.limits.setProperty("role", "panel")
        self.limits_head = words("", "heading")
        self.limits_text = words("")
        inner = QVBoxLayout(self.limits)
        inner.setContentsMargins(GAP + GAP_TIGHT, GAP, GAP + GAP_TIGHT, GAP)
        inner.setSpacing(GAP_TIGHT)
        inner.addWidget(self.limits_head)
        inner.addWidget(self.limits_text)
        self.grid = CardGrid()
        self.area = QScrollArea()
        self.area.setWidgetResizable(True)
        self.area.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.area.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        self.area.setWidget(self.grid)
        self.grid.walked.connect(lambda card: self.area.ensureWidgetVisible(card, 0, GAP_WIDE))
        head = QHBoxLayout()
        head.setSpacing(GAP)
        head.addWidget(self.status, 1)
        head.addWidget(self.progress)
        head.addWidget(self.stop)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(GAP)
        column.addLayout(head)
        column.addWidget(self.limits)
        column.addWidget(self.area, 1)
        self.limits.hide()
        self._is_busy = False
        self.show_busy(is_busy=False)

    @property
    def is_busy(self) -> bool:
        """True while a search is shown as running."""
        return self._is_busy

    def show_busy(self, *, is_busy: bool, share: float = 0.0) -> None:
        """How far the search is, or that there is none."""
        self._is_busy = is_busy
        self.progress.setVisible(is_busy)
        self.progress.setValue(round(1000 * share))
        self.stop.setText(self.tr("Stop") if is_busy else self.tr("Look again"))
        self.stop.setAccessibleName(self.stop.text())

    def say(self, sentence: str) -> None:
        """One sentence above the cards."""
        if self.status.text() != sentence:
            self.status.setText(sentence)
            QAccessible.updateAccessibility(
                QAccessibleEvent(self.status, QAccessible.Event.NameChanged)
            )

    def show_findings(
        self,
        findings: Findings,
        names: Mapping[str, str],
        theme: Theme,
        *,
        numbers: bool,
        is_in: Answer | None,
        put_words: str,
    ) -> None:
        """The cards.

        Args:
            findings: What was found, or is known so far.
            names: Of the paints by their ids.
            theme: The surround.
            numbers: True where figures are shown.
            is_in: The answer that is in a coat now.
            put_words: What putting one in would do.
        """
        groups = [(self._heading(kind), len(answers)) for kind, answers in findings.groups]
        cards = self.grid.show_groups(groups)
        places = [n for _, answers in findings.groups for n in range(1, len(answers) + 1)]
        for place, card, answer in zip(places, cards, findings.answers, strict=True):
            text = card_text(answer, names, numbers=numbers)
            card.show_answer(place, findings.slip, answer, text, theme, is_in=answer is is_in)
            card.show_put_words(put_words)
        self.grid.arrange()
        self.say(self._summary(findings, numbers=numbers))

    def show_reach(self, reach: Reach | None, *, numbers: bool) -> None:
        """What holds the target back; nothing where it is reached or not known."""
        self.limits.setVisible(reach is not None and not reach.is_reached)
        if reach is None or reach.is_reached:
            return
        self.limits_head.setText(saying_words(reach.miss, numbers=numbers))
        lines = [saying_words(cause.saying, numbers=numbers) for cause in reach.causes]
        if not lines:
            lines = [self.tr("No single change of undercoat, coats or paints would help much.")]
        self.limits_text.setText("\n".join(lines))

    def clear(self) -> None:
        """Without cards and findings."""
        self.grid.show_groups([])
        self.grid.arrange()
        self.limits.hide()

    def _heading(self, kind: str) -> str:
        return {
            "swaps": self.tr("Another paint in its place"),
            "mixes": self.tr("Another mix"),
        }.get(kind, "")

    def _summary(self, findings: Findings, *, numbers: bool) -> str:
        if not findings.is_done:
            return self.tr("The best so far; still looking")
        if findings.verdict is not None:
            return saying_words(findings.verdict, numbers=numbers)
        if not findings.answers:
            return self.tr("Nothing can be mixed so; allow more paints, parts or coats.")
        nearest = min(findings.answers, key=lambda answer: answer.delta_e)
        text = self.tr("Nearest to the target: “{0}”. On each card the target lies above.").format(
            difference_words(max(nearest.differences))
        )
        if numbers and findings.searched:
            counted = self.tr("{0} recipes looked through.").format(f"{findings.searched:,}")
            text = f"{text} {counted}"
        return text

    def _on_stop(self) -> None:
        (self.stopped if self._is_busy else self.again).emit()
