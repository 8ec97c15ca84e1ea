"""How well a fit explains what was seen: each patch as measured beside as fitted, and the gap."""

from typing import Any

from numpy.typing import NDArray
from PySide6.QtCore import QSize
from PySide6.QtGui import QColor, QPainter, QPaintEvent
from PySide6.QtWidgets import QGridLayout, QLabel, QSizePolicy, QWidget

from schemeforge import colorimetry
from schemeforge.gui.adding.result import Miss
from schemeforge.gui.counting import counted
from schemeforge.gui.reading import tr
from schemeforge.gui.theme import GAP, GAP_TIGHT
from schemeforge.gui.widgets.labels import words

_MOST_ROWS = 6


class PairChip(QWidget):
    """Two colours edge to edge, so that the eye finds the join or does not."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._codes = ("#000000", "#000000")
        self.setSizePolicy(QSizePolicy.Policy.Fixed, QSizePolicy.Policy.Fixed)

    def show_pair(self, one: NDArray[Any], other: NDArray[Any]) -> None:
        """Show two XYZ ``(3,)``."""
        codes = colorimetry.hex_codes([one, other])
        self._codes = (codes[0], codes[1])
        self.update()

    def sizeHint(self) -> QSize:
        """Twice as wide as high."""
        side = self.fontMetrics().height() + 4
        return QSize(3 * side, side)

    def paintEvent(self, _event: QPaintEvent) -> None:
        """Left and right half."""
        painter = QPainter(self)
        half = self.width() // 2
        painter.fillRect(0, 0, half, self.height(), QColor(self._codes[0]))
        painter.fillRect(half, 0, self.width() - half, self.height(), QColor(self._codes[1]))


class FitList(QWidget):
    """The patches of a fit, the worst met first."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.heading = words(self.tr("Seen beside fitted"), "heading")
        self._rows = [self._row() for _ in range(_MOST_ROWS)]
        self.rest = words("", "muted")
        grid = QGridLayout(self)
        grid.setContentsMargins(0, 0, 0, 0)
        grid.setHorizontalSpacing(GAP)
        grid.setVerticalSpacing(GAP_TIGHT)
        grid.setColumnStretch(1, 1)
        grid.addWidget(self.heading, 0, 0, 1, 2)
        for place, (chip, label) in enumerate(self._rows, 1):
            grid.addWidget(chip, place, 0)
            grid.addWidget(label, place, 1)
        grid.addWidget(self.rest, _MOST_ROWS + 1, 0, 1, 2)
        grid.setRowStretch(_MOST_ROWS + 2, 1)

    def _row(self) -> tuple[PairChip, QLabel]:
        return PairChip(self), words("")

    @property
    def lines(self) -> list[str]:
        """What the rows say."""
        return [label.text() for _, label in self._rows if not label.isHidden()]

    def show_misses(self, misses: tuple[Miss, ...], *, numbers: bool) -> None:
        """Show the patches, the worst first as they come."""
        for place, (chip, label) in enumerate(self._rows):
            here = misses[place] if place < len(misses) else None
            chip.setVisible(here is not None)
            label.setVisible(here is not None)
            if here is not None:
                chip.show_pair(here.measured, here.fitted)
                label.setText(f"{here.name}: {gap_words(here.delta_e, numbers=numbers)}")
        more = len(misses) - _MOST_ROWS
        self.rest.setVisible(more > 0)
        if more > 0:
            self.rest.setText(
                counted(
                    more,
                    self.tr("{0} more patch, met better than these"),
                    self.tr("{0} more patches, met better than these"),
                )
            )


def gap_words(delta_e: float, *, numbers: bool) -> str:
    """A difference in words; with numbers as CIEDE2000 too."""
    said = {
        "unseen": tr("met, the difference stays unseen"),
        "seen side by side": tr("nearly met, seen side by side"),
        "shows in the ranks": tr("missed, shows in the ranks"),
    }.get(colorimetry.difference_words(delta_e), tr("missed by far"))
    return f"{said} ({delta_e:.1f} dE)" if numbers else said
