"""Index tabs at the edge of the paper: what the sides are called, each a click away."""

from collections.abc import Sequence
from dataclasses import dataclass

from PySide6.QtCore import QRect, QSize, Qt, Signal
from PySide6.QtGui import QColor, QPainter, QPainterPath, QPaintEvent, QPen
from PySide6.QtWidgets import QAbstractButton, QScrollArea, QVBoxLayout, QWidget

from schemeforge.gui.theme import GAP, GAP_TIGHT, RADIUS, Theme

# Width of a tab in average letters.
_LETTERS = 15
_FLAGS = Qt.TextFlag.TextWordWrap | Qt.AlignmentFlag.AlignLeft | Qt.AlignmentFlag.AlignVCenter


@dataclass(frozen=True, slots=True)
class Mark:
    """A run of sides under one heading: its name, its first side from 0, how many."""

    name: str
    first: int
    count: int

    def holds(self, number: int) -> bool:
        """True where that side is one of them."""
        return self.first <= number < self.first + self.count


def marks_of(names: Sequence[str]) -> tuple[Mark, ...]:
    """The runs of sides that follow each other under one name."""
    runs: list[Mark] = []
    for number, name in enumerate(names):
        if runs and runs[-1].name == name:
            runs[-1] = Mark(name, runs[-1].first, runs[-1].count + 1)
        else:
            runs.append(Mark(name, number, 1))
    return tuple(runs)


class Tab(QAbstractButton):
    """One tab, joined to the paper while its side lies on top."""

    def __init__(self, text: str, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setText(text)
        self.setCheckable(True)
        self.setAutoExclusive(True)
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.theme: Theme | None = None

    def sizeHint(self) -> QSize:
        """As wide as every tab, as high as its words are when wrapped."""
        self.ensurePolished()
        width = _LETTERS * self.fontMetrics().averageCharWidth()
        words = self.fontMetrics().boundingRect(
            QRect(0, 0, width, 10_000), int(_FLAGS), self.text()
        )
        return QSize(max(width, words.width()) + 2 * GAP, words.height() + 2 * GAP_TIGHT + 4)

    def minimumSizeHint(self) -> QSize:
        """Never cut."""
        return self.sizeHint()

    def paintEvent(self, _event: QPaintEvent) -> None:
        """A flap with its outer corners rounded."""
        if self.theme is None:
            return
        t, on = self.theme, self.isChecked()
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        box = self.rect().toRectF().adjusted(-RADIUS - 1.0, 0.5, -0.5, -0.5)
        flap = QPainterPath()
        flap.addRoundedRect(box, RADIUS, RADIUS)
        hovered = self.underMouse() and not on
        painter.setPen(QPen(QColor(t.line), 1.0))
        painter.setBrush(QColor("#ffffff" if on else t.well if hovered else t.panel))
        painter.drawPath(flap)
        if self.hasFocus():
            painter.setPen(QPen(QColor(t.accent), 2.0))
            painter.drawRoundedRect(self.rect().toRectF().adjusted(1, 1.5, -1.5, -1.5), 3, 3)
        painter.setPen(QColor("#141414" if on else t.text))
        painter.drawText(self.rect().adjusted(GAP, 0, -GAP, 0), int(_FLAGS), self.text())


class Index(QScrollArea):
    """The tabs of a sheet, one under the other.

    Signals:
        chosen: The number of the side wanted, from 0.
    """

    chosen = Signal(int)

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setFrameShape(QScrollArea.Shape.NoFrame)
        self.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        self.setWidgetResizable(True)
        self.setAccessibleName(self.tr("Sides of the sheet"))
        self._theme: Theme | None = None
        self._marks: tuple[Mark, ...] = ()
        self.tabs: list[Tab] = []
        self._inner = QWidget()
        self._column = QVBoxLayout(self._inner)
        self._column.setContentsMargins(0, 0, 0, 0)
        self._column.setSpacing(3)
        self._column.addStretch(1)
        self.setWidget(self._inner)

    def dress(self, theme: Theme) -> None:
        """Take the colours of a surround."""
        self._theme = theme
        for tab in self.tabs:
            tab.theme = theme
            tab.update()

    def show_marks(self, marks: tuple[Mark, ...], number: int) -> None:
        """The tabs of a sheet, and which side lies on top."""
        if marks != self._marks:
            self._marks = marks
            self._rebuild()
        for tab, mark in zip(self.tabs, marks, strict=True):
            tab.setChecked(mark.holds(number))
            if mark.holds(number):
                self.ensureWidgetVisible(tab, 0, 0)

    def sizeHint(self) -> QSize:
        """As high as the tabs are together, with room for the bar where there are too many."""
        hints = [tab.sizeHint() for tab in self.tabs]
        wide = max((hint.width() for hint in hints), default=0)
        wide += self.verticalScrollBar().sizeHint().width()
        high = sum(hint.height() + self._column.spacing() for hint in hints)
        return QSize(wide, high)

    def _rebuild(self) -> None:
        for tab in self.tabs:
            self._column.removeWidget(tab)
            tab.deleteLater()
        self.tabs = []
        for place, mark in enumerate(self._marks):
            tab = Tab(mark.name or self.tr("Side {0}").format(mark.first + 1))
            tab.theme = self._theme
            tab.setToolTip(self._tip(mark))
            tab.clicked.connect(lambda _on=False, m=mark: self.chosen.emit(m.first))
            self._column.insertWidget(place, tab)
            self.tabs.append(tab)

    def _tip(self, mark: Mark) -> str:
        if mark.count == 1:
            return self.tr("Side {0}").format(mark.first + 1)
        return self.tr("Sides {0} to {1}").format(mark.first + 1, mark.first + mark.count)
