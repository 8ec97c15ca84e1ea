"""How many models at a time, in which order the zones, and what the chance hangs on."""

from dataclasses import replace

from PySide6.QtCore import QRectF, QSize, Qt
from PySide6.QtGui import QColor, QPainter, QPaintEvent, QPen
from PySide6.QtWidgets import QPushButton, QSizePolicy, QWidget

from schemeforge import plan
from schemeforge.desk import CancelToken, DeskState
from schemeforge.gui.batch.making import Made
from schemeforge.gui.batch.section import Section
from schemeforge.gui.batch.words import minutes_words
from schemeforge.gui.bridge import Bridge
from schemeforge.gui.theme import GAP, Theme, theme_of
from schemeforge.gui.widgets.flow import Flow
from schemeforge.gui.widgets.labels import words
from schemeforge.plan import Driver, Trial
from schemeforge.scheme import Project, Scheme, Way, edits

_KEY = "sub-batches"


class Sticks(QWidget):
    """Rows of a name, a stick as long as its figure, and the figure in words."""

    def __init__(self, name: str, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._name = name
        self._rows: tuple[tuple[str, float, str], ...] = ()
        self._marked = -1
        self._theme: Theme | None = None
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Fixed)
        self.setAccessibleName(name)

    @property
    def rows(self) -> tuple[tuple[str, float, str], ...]:
        """Name, figure, words of each row."""
        return self._rows

    def show_rows(
        self, rows: tuple[tuple[str, float, str], ...], theme: Theme, marked: int = -1
    ) -> None:
        """Other rows; one may be marked."""
        high = self.sizeHint().height()
        self._rows, self._theme, self._marked = rows, theme, marked
        told = "; ".join(f"{name} {said}" for name, _, said in rows)
        self.setAccessibleDescription(told)
        self.setToolTip(told)
        if self.sizeHint().height() != high:
            self.updateGeometry()
        self.update()

    def sizeHint(self) -> QSize:
        """A line for each row."""
        return QSize(420, len(self._rows) * (self.fontMetrics().lineSpacing() + GAP) + 2)

    def paintEvent(self, _event: QPaintEvent) -> None:
        """Names right-aligned before the sticks; the marked one filled and bold."""
        if self._theme is None or not self._rows:
            return
        painter = QPainter(self)
        metrics = self.fontMetrics()
        line = metrics.lineSpacing()
        left = max(metrics.horizontalAdvance(name) for name, _, _ in self._rows) + 2 * GAP
        left = min(left, self.width() // 2)
        right = max(metrics.horizontalAdvance(said) for _, _, said in self._rows) + 2 * GAP
        most = max(value for _, value, _ in self._rows) or 1.0
        room = max(self.width() - left - right, 10)
        for place, (name, value, said) in enumerate(self._rows):
            top = place * (line + GAP) + GAP / 2
            font = self.font()
            font.setBold(place == self._marked)
            painter.setFont(font)
            painter.setPen(QColor(self._theme.text))
            elided = painter.fontMetrics().elidedText(name, Qt.TextElideMode.ElideRight, left - GAP)
            flags = Qt.AlignmentFlag.AlignLeft | Qt.AlignmentFlag.AlignVCenter
            painter.drawText(QRectF(0, top, left - GAP, line), flags, elided)
            stick = QRectF(left, top + line * 0.25, max(value / most * room, 1.0), line * 0.5)
            painter.setPen(QPen(QColor(self._theme.text), 1))
            filled = place == self._marked
            painter.setBrush(QColor(self._theme.accent if filled else self._theme.well))
            painter.drawRect(stick)
            painter.drawText(QRectF(stick.right() + GAP, top, right, line), flags, said)


class TryingSection(Section):
    """What another size of sub-batch would lose or win, zones in order, and the doubtful steps."""

    def __init__(self, bridge: Bridge, parent: QWidget | None = None) -> None:
        super().__init__("", "", parent)
        self.bridge = bridge
        self.heading.setText(self.tr("How many at a time, and how sure"))
        self.setAccessibleName(self.tr("How many at a time, and how sure"))
        self.about.setText(
            self.tr(
                "Minutes in which nothing is painted: setting up, turning, mixing, breaks and "
                "waiting. The chance comes from a thousand runs of the plan with other minutes."
            )
        )
        self._theme: Theme | None = None
        self._made: Made | None = None
        self._tried_for: tuple[Project, Scheme] | None = None
        self.tried: tuple[Trial, ...] = ()
        self.sentence = words("")
        self.sizes = Sticks(self.tr("Minutes lost by size of sub-batch"))
        self.take = QPushButton()
        self.take.clicked.connect(lambda _on=False: self._on_take())
        row = Flow()
        row.add(self.take)
        self.zones = words("")
        self.doubt = words("", "heading")
        self.drivers = Sticks(self.tr("What the chance hangs on"))
        for widget in (self.sentence, self.sizes, row, self.zones, self.doubt, self.drivers):
            self.body.addWidget(widget)
        self._show(())

    def show_plan(self, made: Made | None, state: DeskState) -> None:
        """Follow the plan; sizes are tried beside the window."""
        self._theme = theme_of(state.preferences.surround)
        self._made = made
        self.setVisible(made is not None and not made.schedule.is_done)
        if made is None:
            self.bridge.jobs.cancel(_KEY)
            self._tried_for = None
            return
        order = plan.zone_order(made.project, made.schedule)
        self.zones.setText(self.tr("Zones in this order lose least: {0}.").format(", ".join(order)))
        self.zones.setVisible(len(order) > 1)
        self._show_drivers(made.spread.drivers)
        project, scheme, known = made.project, made.scheme, made.progress
        if not self.is_open:
            return
        if self._tried_for is not None and self._tried_for == (project, scheme):
            self._show(self.tried)
            return

        def work(_token: CancelToken) -> tuple[Trial, ...]:
            return plan.trials(project, scheme, known)

        def done(tried: tuple[Trial, ...]) -> None:
            self._tried_for = (project, scheme)
            self._show(tried)

        self.bridge.jobs.submit(_KEY, work, done)

    def _show(self, tried: tuple[Trial, ...]) -> None:
        self.tried = tried
        for widget in (self.sentence, self.sizes):
            widget.setVisible(bool(tried))
        self.take.setVisible(False)
        if not tried or self._made is None or self._theme is None:
            return
        habit = self._habit()
        self.sentence.setText(plan.sub_batch_words(tried, habit))
        rows = tuple(
            (
                self.tr("{0} at a time").format(trial.models),
                trial.lost,
                self.tr("{0}, late").format(minutes_words(trial.lost))
                if trial.is_late
                else minutes_words(trial.lost),
            )
            for trial in tried
        )
        own = min(range(len(tried)), key=lambda n: (abs(tried[n].models - habit), tried[n].models))
        self.sizes.show_rows(rows, self._theme, own)
        best = plan.best_trial(tried)
        if best.models != tried[own].models:
            self.take.setText(self.tr("Take {0} at a time").format(best.models))
            self.take.setVisible(True)

    def _habit(self) -> int:
        """Models at a time as the painter has it now."""
        habits = self.bridge.state.project.habits
        if habits.way is Way.SUB_BATCHES:
            return habits.sub_batch
        return max((group.count for group in self.bridge.state.project.groups), default=1)

    def _on_take(self) -> None:
        if not self.tried:
            return
        best = plan.best_trial(self.tried).models
        self.bridge.edit(
            self.tr("models at a time"),
            lambda p: edits.set_habits(p, replace(p.habits, sub_batch=best, way=Way.SUB_BATCHES)),
        )

    def _show_drivers(self, drivers: tuple[Driver, ...]) -> None:
        self.doubt.setVisible(bool(drivers))
        self.drivers.setVisible(bool(drivers))
        if not drivers or self._theme is None:
            return
        self.doubt.setText(
            self.tr('Most of the doubt is "{0}": time a few models of it first.').format(
                drivers[0].name
            )
        )
        rows = tuple(
            (
                driver.name,
                driver.share,
                self.tr("{0:.0f} % of the doubt, {1} if slow").format(
                    100.0 * driver.share, minutes_words(driver.minutes)
                ),
            )
            for driver in drivers
        )
        self.drivers.show_rows(rows, self._theme)
