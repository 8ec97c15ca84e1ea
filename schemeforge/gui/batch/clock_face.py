"""The face of the step clock: figures that can be read from the other end of the desk."""

from dataclasses import dataclass

from PySide6.QtCore import QRectF, QSize, Qt
from PySide6.QtGui import QBrush, QColor, QFont, QFontMetricsF, QPainter, QPaintEvent, QPen
from PySide6.QtWidgets import QSizePolicy, QWidget

from schemeforge.gui.theme import GAP, GAP_WIDE, Theme

# An eye reads print from two hundred times its height away: 10 mm from two metres (common
# practice, no source); figures of 100 px are 26 mm high on a usual screen of 96 px an inch.
LEAST_FIGURE = 100
_LEAST_WORDS = 14


@dataclass(frozen=True, slots=True, kw_only=True)
class Showing:
    """What the face shows.

    Args:
        seconds: At the model in hand.
        usual: What a model usually takes, seconds; 0 where that is not known.
        what: The step and the group.
        models: Which model of how many.
        state: Whether it runs, and what is to be known besides.
    """

    seconds: float
    usual: float
    what: str
    models: str
    state: str


class ClockFace(QWidget):
    """Minutes and seconds at the model in hand, the usual time as a bar, and what is in hand."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._showing = Showing(seconds=0.0, usual=0.0, what="", models="", state="")
        self._theme: Theme | None = None
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Expanding)

    @property
    def showing(self) -> Showing:
        """What it shows."""
        return self._showing

    def show_clock(self, showing: Showing, theme: Theme) -> None:
        """Show other figures."""
        if showing != self._showing or theme is not self._theme:
            self._showing, self._theme = showing, theme
            self.setAccessibleName(f"{showing.what}, {showing.models}, {showing.state}")
            self.update()

    def sizeHint(self) -> QSize:
        """High enough for the figures and three lines."""
        return QSize(520, LEAST_FIGURE + 4 * self.fontMetrics().lineSpacing() + 2 * GAP_WIDE)

    def minimumSizeHint(self) -> QSize:
        """The same height, narrower."""
        return QSize(380, self.sizeHint().height())

    def figure_height(self) -> float:
        """Height of the figures in device-independent pixels."""
        line = self._line().height()
        return max(LEAST_FIGURE, min(self.height() - 3.4 * line - 2 * GAP_WIDE, self.width() / 4.2))

    def paintEvent(self, _event: QPaintEvent) -> None:
        """The step above, figures and models in one line, the usual time below."""
        if self._theme is None:
            return
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        painter.setPen(QPen(QColor(self._theme.line), 1.0))
        painter.setBrush(QColor(self._theme.well))
        painter.drawRoundedRect(QRectF(self.rect()).adjusted(0.5, 0.5, -0.5, -0.5), 5.0, 5.0)
        room = QRectF(self.rect()).adjusted(GAP_WIDE, GAP, -GAP_WIDE, -GAP)
        line = self._line().height()
        painter.setPen(QColor(self._theme.text))
        top = QRectF(room.left(), room.top(), room.width(), line)
        self._fitted(painter, top, self._showing.what)
        foot = QRectF(room.left(), room.bottom() - line, room.width(), line)
        painter.setPen(QColor(self._theme.muted))
        self._fitted(painter, foot, self._showing.state)
        self._bar(painter, QRectF(room.left(), foot.top() - 14.0, room.width(), 8.0))
        middle = QRectF(room.left(), top.bottom(), room.width(), foot.top() - 18.0 - top.bottom())
        self._figures(painter, middle)

    def _figures(self, painter: QPainter, room: QRectF) -> None:
        painter.setPen(QColor(self._theme.text if self._theme else "#000000"))
        font = QFont(self.font())
        font.setPixelSize(max(12, round(self.figure_height())))
        font.setWeight(QFont.Weight.DemiBold)
        painter.setFont(font)
        metrics = QFontMetricsF(font)
        cell = metrics.horizontalAdvance("0")
        x = room.left()
        for sign in clock_words(self._showing.seconds):
            wide = cell if sign.isdigit() else metrics.horizontalAdvance(sign)
            box = QRectF(x, room.top(), wide, room.height())
            painter.drawText(
                box, Qt.AlignmentFlag.AlignHCenter | Qt.AlignmentFlag.AlignVCenter, sign
            )
            x += wide
        beside = QRectF(x + GAP_WIDE, room.top(), room.right() - x - GAP_WIDE, room.height())
        size = self.figure_height() * 0.42
        words = self._showing.models
        while size > 12.0 and words:
            font.setPixelSize(round(size))
            if QFontMetricsF(font).horizontalAdvance(words) <= beside.width():
                break
            size *= 0.92
        painter.setFont(font)
        flags = Qt.AlignmentFlag.AlignRight | Qt.AlignmentFlag.AlignVCenter
        painter.drawText(beside, flags, words)

    def _fitted(self, painter: QPainter, box: QRectF, text: str) -> None:
        """A line of words, smaller where it is long, cut short where it is very long."""
        font = self._line_font()
        while font.pixelSize() > _LEAST_WORDS:
            if QFontMetricsF(font).horizontalAdvance(text) <= box.width():
                break
            font.setPixelSize(font.pixelSize() - 1)
        painter.setFont(font)
        said = QFontMetricsF(font).elidedText(text, Qt.TextElideMode.ElideRight, box.width())
        painter.drawText(box, Qt.AlignmentFlag.AlignLeft | Qt.AlignmentFlag.AlignVCenter, said)

    def _bar(self, painter: QPainter, box: QRectF) -> None:
        """The usual time, filled as far as it has passed; hatched beyond."""
        if self._theme is None or not self._showing.usual:
            return
        share = self._showing.seconds / self._showing.usual
        whole = box.width() / max(1.0, share)
        painter.setPen(QPen(QColor(self._theme.line), 1.0))
        painter.setBrush(Qt.BrushStyle.NoBrush)
        painter.drawRect(box)
        painter.setPen(Qt.PenStyle.NoPen)
        painter.setBrush(QColor(self._theme.accent))
        painter.drawRect(QRectF(box.left(), box.top(), min(share, 1.0) * whole, box.height()))
        if share > 1.0:
            painter.setBrush(QBrush(QColor(self._theme.text), Qt.BrushStyle.FDiagPattern))
            painter.drawRect(box.adjusted(whole, 0, 0, 0))

    def _line_font(self) -> QFont:
        font = QFont(self.font())
        font.setPixelSize(max(15, min(40, round(self.height() / 11.0))))
        return font

    def _line(self) -> QFontMetricsF:
        return QFontMetricsF(self._line_font())


def clock_words(seconds: float) -> str:
    """Minutes and seconds, with hours from an hour on."""
    whole = int(seconds)
    hours, minutes = divmod(whole // 60, 60)
    if hours:
        return f"{hours}:{minutes:02d}:{whole % 60:02d}"
    return f"{minutes}:{whole % 60:02d}"
