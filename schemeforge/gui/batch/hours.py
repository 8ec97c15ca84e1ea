"""Hands-on hours against the sittings, and the sittings themselves."""

from collections.abc import Callable
from dataclasses import replace

from PySide6.QtCore import QRectF, QSize, Qt
from PySide6.QtGui import QColor, QPainter, QPaintEvent, QPen
from PySide6.QtWidgets import QHBoxLayout, QLineEdit, QSizePolicy, QWidget

from schemeforge.desk import DeskState
from schemeforge.gui.batch.rows import Rows
from schemeforge.gui.batch.section import Section, dress, tool, write
from schemeforge.gui.batch.words import minutes_words
from schemeforge.gui.bridge import Bridge
from schemeforge.gui.counting import counted
from schemeforge.gui.theme import GAP, Theme, theme_of
from schemeforge.gui.widgets.field import Field, NumberBox
from schemeforge.gui.widgets.labels import words
from schemeforge.plan import HandsOn
from schemeforge.scheme import Sitting, edits

_USUAL_MINUTES = 180.0


class HoursBar(QWidget):
    """Two bars to one scale: what the batch takes, and what the sittings give."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._hours: HandsOn | None = None
        self._theme: Theme | None = None
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Fixed)

    def show_hours(self, hours: HandsOn, theme: Theme) -> None:
        """Draw other hours."""
        self._hours, self._theme = hours, theme
        self.setAccessibleName(hours.sentence)
        self.setToolTip(hours.sentence)
        self.update()

    def sizeHint(self) -> QSize:
        """Two bars with their words."""
        return QSize(300, 2 * (self.fontMetrics().lineSpacing() + GAP) + GAP)

    def paintEvent(self, _event: QPaintEvent) -> None:
        """Needed above and filled, given below and bare."""
        if self._hours is None or self._theme is None:
            return
        painter = QPainter(self)
        line = self.fontMetrics().lineSpacing()
        left = 1.0 + max(map(self.fontMetrics().horizontalAdvance, self._names())) + 2 * GAP
        width = max(self.width() - left - 2.0, 10.0)
        scale = width / max(self._hours.total, self._hours.available, 1.0)
        ink = QColor(self._theme.text)
        bars = ((self._hours.total, True), (self._hours.available, False))
        for place, (name, (minutes, filled)) in enumerate(zip(self._names(), bars, strict=True)):
            top = place * (line + GAP)
            painter.setPen(ink)
            painter.drawText(QRectF(0, top, left, line), Qt.AlignmentFlag.AlignLeft, name)
            painter.setPen(QPen(ink, 1))
            accent = QColor(self._theme.accent)
            painter.setBrush(accent if filled else Qt.BrushStyle.NoBrush)
            painter.drawRect(QRectF(left, top + 2, minutes * scale, line - 4))

    def _names(self) -> tuple[str, str]:
        if self._hours is None:
            return "", ""
        return (
            self.tr("Hands-on {0}").format(minutes_words(self._hours.total)),
            self.tr("Sittings {0}").format(minutes_words(self._hours.available))
            if self._hours.available
            else self.tr("No sittings yet"),
        )


class SittingRow(QWidget):
    """One sitting: day, length, remove."""

    def __init__(self, bridge: Bridge, sitting_id: str, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.bridge = bridge
        self._id = sitting_id
        self.day = QLineEdit()
        self.day.setPlaceholderText(self.tr("YYYY-MM-DD"))
        self.day.setToolTip(self.tr("Year, month and day, or empty while it is open"))
        self.minutes = NumberBox(
            self.tr("Length"), low=1, high=1440, step=15, decimals=0, unit=self.tr("min")
        )
        self.remove = tool("remove", self.tr("Remove the sitting"), self._remove)
        row = QHBoxLayout(self)
        row.setContentsMargins(0, 0, 0, 0)
        row.setSpacing(GAP)
        row.addWidget(Field(self.tr("Day"), self.day))
        row.addWidget(Field(self.tr("Length"), self.minutes))
        row.addWidget(self.remove, 0, Qt.AlignmentFlag.AlignBottom)
        self.day.editingFinished.connect(self._on_day)
        self.minutes.valueChanged.connect(
            lambda v: self._edit(self.tr("length of a sitting"), lambda s: replace(s, minutes=v))
        )

    @property
    def _sitting(self) -> Sitting:
        sittings = self.bridge.state.project.sittings
        return next(sitting for sitting in sittings if sitting.id == self._id)

    def show_sitting(self, sitting: Sitting, colour: str) -> None:
        """Write the row."""
        write(self.day, sitting.day)
        self.minutes.show_value(sitting.minutes)
        dress(self.remove, colour)
        self.remove.setAccessibleDescription(sitting.day)

    def _edit(self, label: str, change: Callable[[Sitting], Sitting]) -> bool:
        return self.bridge.attempt(
            lambda: self.bridge.session.edit(
                label, lambda p: edits.update_sitting(p, change(self._sitting))
            )
        )

    def _on_day(self) -> None:
        text = self.day.text().strip()
        self.day.setModified(False)
        if text != self._sitting.day and not self._edit(
            self.tr("day of a sitting"), lambda s: replace(s, day=text)
        ):
            write(self.day, self._sitting.day)

    def _remove(self) -> None:
        self.bridge.edit(self.tr("remove sitting"), lambda p: edits.remove_sitting(p, self._id))


class HoursSection(Section):
    """The plain sum, and the sittings that it is held against."""

    def __init__(self, bridge: Bridge, parent: QWidget | None = None) -> None:
        super().__init__("", "", parent)
        self.bridge = bridge
        self.sentence = words("")
        self.bar = HoursBar()
        self.parts = words("", "muted")
        self.sittings: Rows[SittingRow] = Rows(
            lambda sitting_id: SittingRow(bridge, sitting_id), flow=True
        )
        self.empty = words(self.tr("No sittings yet: add the evenings that you have."), "muted")
        self.later = words(
            self.tr(
                "This sums up hands-on time alone; how it falls into sittings, with drying, "
                'stands above under "Sittings and steps".'
            ),
            "muted",
        )
        self.add = self.add_button(self.tr("Add a sitting"), self._add)
        for widget in (
            self.sentence,
            self.bar,
            self.parts,
            self.empty,
            self.sittings,
            self.later,
        ):
            self.body.addWidget(widget)
        self.about.hide()

    def show_hours(self, hours: HandsOn | None, new: DeskState) -> None:
        """Write the sum and follow the sittings."""
        theme = theme_of(new.preferences.surround)
        for widget in (self.sentence, self.bar, self.parts):
            widget.setVisible(hours is not None)
        if hours is not None:
            self.sentence.setText(hours.sentence)
            self.bar.show_hours(hours, theme)
            self.parts.setText(
                self.tr(
                    "At the models {0}, setting up and cleaning {1}, mixing {2}; {3} a model."
                ).format(
                    minutes_words(hours.at_models),
                    minutes_words(hours.set_up),
                    minutes_words(hours.mixing),
                    minutes_words(hours.per_model),
                )
            )
        sittings = new.project.sittings
        title = self.tr("Your sittings: {0}, {1}").format(
            counted(len(sittings), self.tr("{0} sitting"), self.tr("{0} sittings")),
            minutes_words(sum(sitting.minutes for sitting in sittings)),
        )
        self.heading.setText(title)
        self.setAccessibleName(title)
        self.sittings.follow([sitting.id for sitting in sittings])
        for sitting in sittings:
            self.sittings.rows[sitting.id].show_sitting(sitting, theme.text)
        self.empty.setVisible(not sittings)

    def _add(self) -> None:
        sittings = self.bridge.state.project.sittings
        new_id = edits.fresh_id("sitting", (sitting.id for sitting in sittings))
        minutes = sittings[-1].minutes if sittings else _USUAL_MINUTES
        new = Sitting(id=new_id, minutes=minutes)
        if self.bridge.edit(self.tr("add sitting"), lambda p: edits.add_sitting(p, new)):
            self.sittings.rows[new_id].day.setFocus()
