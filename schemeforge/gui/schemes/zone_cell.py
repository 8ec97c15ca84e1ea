"""One zone of one scheme in a row: its ramp, and how far it is from the yardstick."""

from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QFocusEvent, QKeyEvent
from PySide6.QtWidgets import QLabel, QSizePolicy, QVBoxLayout, QWidget

from schemeforge.colorimetry.words import colour_words
from schemeforge.comparison import Compared, figure
from schemeforge.gui.reading import tr
from schemeforge.gui.theme import GAP_TIGHT
from schemeforge.gui.widgets.strip import ColourStrip
from schemeforge.scheme import Scheme, Zone


class RampStrip(ColourStrip):
    """A strip that tells when it is focused, so that its zone is picked.

    Signals:
        entered: The focus came.
    """

    entered = Signal()

    def focusInEvent(self, event: QFocusEvent) -> None:
        """Tell that the focus came."""
        super().focusInEvent(event)
        self.entered.emit()


class ZoneCell(QWidget):
    """A ramp and a line beneath it; up and down go to the neighbouring rows.

    Signals:
        moved: -1 or 1, to the row above or below.
    """

    moved = Signal(int)

    def __init__(self, scheme_id: str, zone_id: str, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setProperty("schemeId", scheme_id)
        self.scheme_id, self.zone_id = scheme_id, zone_id
        self.strip = RampStrip("")
        self.words = QLabel()
        self.words.setProperty("role", "muted")
        self.words.setTextFormat(Qt.TextFormat.PlainText)
        self.words.setWordWrap(True)
        self.words.setSizePolicy(QSizePolicy.Policy.Ignored, QSizePolicy.Policy.Minimum)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(GAP_TIGHT // 2)
        column.addWidget(self.strip)
        column.addWidget(self.words)
        column.addStretch(1)
        self.setSizePolicy(QSizePolicy.Policy.Ignored, QSizePolicy.Policy.Minimum)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Up and down, which the strip leaves alone and the scroll area would take."""
        by = {Qt.Key.Key_Up: -1, Qt.Key.Key_Down: 1}.get(Qt.Key(event.key()))
        if by is None:
            super().keyPressEvent(event)
        else:
            self.moved.emit(by)

    def set_names(self, scheme: Scheme, zone: Zone) -> None:
        """Name the strip for those who cannot see it."""
        self.strip.setAccessibleName(f"{zone.name}, {scheme.name}")

    def show_difference(self, compared: Compared | None, *, yardstick: bool, numbers: bool) -> None:
        """Say how far the zone is from the yardstick; None while that is worked out."""
        text = self._difference(compared, yardstick=yardstick, numbers=numbers)
        self.words.setText(text)
        self.words.setAccessibleName(f"{self.strip.accessibleName()}: {text}")

    def _difference(self, compared: Compared | None, *, yardstick: bool, numbers: bool) -> str:
        if compared is None:
            return "…"
        measures = compared.measures.zone(self.zone_id)
        span = self.tr("L* {0}, spans {1}").format(
            figure(measures.lightness), figure(measures.span)
        )
        colour = tr(colour_words(measures.lab))
        difference = compared.difference(self.zone_id)
        if yardstick or difference is None:
            return f"{colour} · {span}" if numbers else colour
        # What holds for most zones the head says once for all of them.
        usual = usual_difference(compared)
        words = colour if difference.words == usual else f"{colour} · {tr(difference.words)}"
        if not numbers:
            return words
        dE = self.tr("dE {0:.1f}, at most {1:.1f}").format(difference.mean, difference.worst)
        return f"{words} · {dE} · {span}"


def usual_difference(compared: Compared) -> str:
    """How most zones differ from the yardstick, in words; "" for the yardstick."""
    said = [difference.words for difference in compared.differences]
    return max(said, key=said.count, default="")
