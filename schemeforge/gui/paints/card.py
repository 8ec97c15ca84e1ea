"""A swatch card: a paint drawn down over three grounds, with what is known of it beneath."""

from dataclasses import dataclass, field
from typing import Any

from numpy.typing import NDArray
from PySide6.QtCore import QPoint, QPointF, QRectF, QSize, Qt, Signal
from PySide6.QtGui import (
    QColor,
    QDrag,
    QFont,
    QFontMetrics,
    QImage,
    QKeyEvent,
    QMouseEvent,
    QPainter,
    QPainterPath,
    QPaintEvent,
    QPen,
    QPixmap,
    QTextLayout,
    QTextOption,
)
from PySide6.QtWidgets import QAbstractButton, QApplication, QWidget

from schemeforge.gui.paints.drag import paint_mime
from schemeforge.gui.paints.words import basis_words, kind_words, stock_words, sure_words, tr
from schemeforge.gui.theme import GAP, GAP_TIGHT, RADIUS, Theme
from schemeforge.gui.widgets.strip import ramp_image
from schemeforge.paint import Paint

_BAND = 20
BANDS_HEIGHT = 3 * _BAND
_MOST_NAME_LINES = 2
# Share of the card's width at its left edge where the ground is bare.
_BARE = 0.07


@dataclass(frozen=True, slots=True, kw_only=True)
class CardInfo:
    """What one card shows.

    Args:
        paint: The paint.
        xyz: Its films over black, grey and off-white, ``(3, films, 3)``.
        colour: Its colour at full film over off-white, in words.
        used: True where a mix of the project holds it.
        differs: True where the project carries another version of it.
        numbers: True where figures are shown.
    """

    paint: Paint
    xyz: NDArray[Any] = field(compare=False)
    colour: str
    used: bool
    differs: bool
    numbers: bool


class PaintCard(QAbstractButton):
    """One paint of the shelf; checked while its details are open. Can be dragged into a mix."""

    dragged = Signal(str)

    def __init__(self, parent: QWidget) -> None:
        super().__init__(parent)
        self.setCheckable(True)
        self.setFocusPolicy(Qt.FocusPolicy.ClickFocus)
        self.setCursor(Qt.CursorShape.PointingHandCursor)
        self.info: CardInfo | None = None
        self._theme: Theme | None = None
        self._bands: QPixmap | None = None
        self._lines: tuple[str, ...] = ()
        self._press: QPoint | None = None

    @property
    def is_painted(self) -> bool:
        """True once the card came into view and its bands were drawn."""
        return self._bands is not None

    @property
    def paint_id(self) -> str:
        """Id of the paint shown, "" before there is one."""
        return self.info.paint.id if self.info else ""

    def show_info(self, info: CardInfo, theme: Theme) -> None:
        """Show a paint; the same one again costs nothing."""
        same_colours = self.info is not None and info.xyz is self.info.xyz
        if same_colours and info == self.info and theme is self._theme:
            return
        if not same_colours:
            self._bands = None
        self.info, self._theme = info, theme
        self._lines = lines_of(info)
        self.setAccessibleName(info.paint.name)
        self.setAccessibleDescription(". ".join(line for line in self._lines if line))
        self.setToolTip("")
        self.update()

    def sizeHint(self) -> QSize:
        """As wide as its lines need, within bounds."""
        letter = QFontMetrics(self.font()).averageCharWidth()
        return QSize(letter * 34, self.height_at(letter * 34))

    def height_at(self, width: int) -> int:
        """Height that the card wants at that width: a long name takes a second line."""
        name = self.info.paint.name if self.info else ""
        rows = len(wrapped(name, self._bold(), width - 2 * (GAP + GAP_TIGHT), _MOST_NAME_LINES))
        line = QFontMetrics(self.font()).lineSpacing()
        return 3 * _BAND + (rows + 5) * line + 2 * GAP + 3 * GAP_TIGHT

    def _bold(self) -> QFont:
        bold = QFont(self.font())
        bold.setWeight(QFont.Weight.DemiBold)
        return bold

    def paintEvent(self, _event: QPaintEvent) -> None:
        """The three bands, the lines, and the frame of choice or focus."""
        if self.info is None or self._theme is None:
            return
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        theme = self._theme
        box = QRectF(self.rect()).adjusted(1.5, 1.5, -1.5, -1.5)
        shape = QPainterPath()
        shape.addRoundedRect(box, RADIUS, RADIUS)
        painter.setPen(Qt.PenStyle.NoPen)
        painter.setBrush(QColor(theme.panel))
        painter.drawRoundedRect(box, RADIUS, RADIUS)
        painter.setBrush(Qt.BrushStyle.NoBrush)
        self._paint_bands(painter, shape)
        self._paint_lines(painter)
        picked = self.isChecked()
        wide = 3.0 if self.hasFocus() else 2.0 if picked else 1.0
        colour = theme.accent if picked or self.hasFocus() else theme.line
        painter.setPen(QPen(QColor(colour), wide))
        painter.drawPath(shape)
        if self.hasFocus():
            painter.setPen(QPen(QColor(theme.panel), 1.0))
            painter.drawRoundedRect(box.adjusted(2.5, 2.5, -2.5, -2.5), RADIUS - 2, RADIUS - 2)

    def _paint_bands(self, painter: QPainter, shape: QPainterPath) -> None:
        """The bands, rounded to the card's shape once and then kept."""
        if self.info is None:
            return
        ratio = self.devicePixelRatioF()
        width, height = round(self.width() * ratio), round(_BAND * ratio)
        if self._bands is None or self._bands.width() != width:
            bands = QPixmap(width, 3 * height)
            bands.fill(Qt.GlobalColor.transparent)
            bands.setDevicePixelRatio(ratio)
            image = bands_image(self.info.xyz, width, height)
            image.setDevicePixelRatio(ratio)
            inner = QPainter(bands)
            inner.setRenderHint(QPainter.RenderHint.Antialiasing)
            inner.setClipPath(shape)
            inner.drawImage(QPointF(0.0, 0.0), image)
            inner.end()
            self._bands = bands
        painter.drawPixmap(QPointF(0.0, 0.0), self._bands)

    def _paint_lines(self, painter: QPainter) -> None:
        if self.info is None or self._theme is None:
            return
        left, width = GAP + GAP_TIGHT, self.width() - 2 * (GAP + GAP_TIGHT)
        top = float(3 * _BAND + GAP)
        painter.setPen(QColor(self._theme.text))
        line = QFontMetrics(self.font()).lineSpacing()
        rows = wrapped(self.info.paint.name, self._bold(), width, _MOST_NAME_LINES)
        painter.setFont(self._bold())
        for row in rows:
            painter.drawText(QRectF(left, top, width, line + 2), Qt.AlignmentFlag.AlignLeft, row)
            top += line
        top += GAP_TIGHT
        painter.setFont(self.font())
        metrics = QFontMetrics(self.font())
        whole = True
        for place, text in enumerate(self._lines):
            shown = metrics.elidedText(text, Qt.TextElideMode.ElideRight, width)
            whole = whole and shown == text
            marked = place == len(self._lines) - 1
            if marked and text:
                top = self._paint_mark(painter, left, top, line)
                shown = metrics.elidedText(text, Qt.TextElideMode.ElideRight, width - line)
            colour = self._theme.text if place == 0 or marked else self._theme.muted
            painter.setPen(QColor(colour))
            at = left + (line if marked and text else 0)
            painter.drawText(QRectF(at, top, width, line + 2), Qt.AlignmentFlag.AlignLeft, shown)
            top += line
        if not whole or rows[-1].endswith("…"):
            self.setToolTip("\n".join((self.info.paint.name, *filter(None, self._lines))))

    def _paint_mark(self, painter: QPainter, left: float, top: float, line: float) -> float:
        """A filled dot for a paint in use, a broken one where the project's differs."""
        if self.info is None or self._theme is None:
            return top
        size = line * 0.5
        box = QRectF(left, top + (line - size) / 2, size, size)
        painter.setPen(QPen(QColor(self._theme.text), 1.5))
        painter.setBrush(Qt.BrushStyle.NoBrush)
        if self.info.differs:
            painter.drawRect(box)
            painter.drawLine(box.bottomLeft(), box.topRight())
        else:
            painter.setBrush(QColor(self._theme.text))
            painter.drawEllipse(box)
            painter.setBrush(Qt.BrushStyle.NoBrush)
        return top

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Space presses the card; all other keys are the grid's, which walks by them."""
        if event.key() in {Qt.Key.Key_Space, Qt.Key.Key_Select}:
            super().keyPressEvent(event)
        else:
            event.ignore()

    def mousePressEvent(self, event: QMouseEvent) -> None:
        """Remember where a drag may have begun."""
        self._press = event.position().toPoint()
        super().mousePressEvent(event)

    def mouseMoveEvent(self, event: QMouseEvent) -> None:
        """Begin to drag the paint once the hand has moved far enough."""
        if self._press is None or self.info is None:
            return
        moved = (event.position().toPoint() - self._press).manhattanLength()
        if moved >= QApplication.startDragDistance():
            self._press = None
            self.setDown(False)
            self.dragged.emit(self.paint_id)
            self.start_drag()

    def make_drag(self) -> QDrag | None:
        """The drag that carries this paint, with a small swatch under the pointer."""
        if self.info is None:
            return None
        drag = QDrag(self)
        drag.setMimeData(paint_mime(self.info.paint))
        drag.setPixmap(QPixmap.fromImage(bands_image(self.info.xyz, 72, 12)))
        return drag

    def start_drag(self) -> None:
        """Drag the paint until it is dropped."""
        drag = self.make_drag()
        if drag is not None:
            drag.exec(Qt.DropAction.CopyAction)


def lines_of(info: CardInfo) -> tuple[str, ...]:
    """Everything the card says, in reading order, without the name."""
    paint = info.paint
    mark = tr("in this project") if info.used else ""
    if info.differs:
        mark = tr("differs from the project's")
    return (
        f"{kind_words(paint.kind)}, {info.colour}",
        basis_words(paint.basis),
        sure_words(paint, numbers=info.numbers),
        "  ·  ".join(part for part in (paint.colour_index, stock_words(paint.stock)) if part),
        mark,
    )


def bands_image(xyz: NDArray[Any], width: int, band: int) -> QImage:
    """The card's three bands, black ground on top, in device pixels."""
    width = max(width, 16)
    bare = round(width * _BARE)
    image = QImage(width, 3 * band, QImage.Format.Format_RGB32)  # the quickest to paint on
    painter = QPainter(image)
    for place, ramp in enumerate(xyz):
        painter.drawImage(0, place * band, ramp_image(ramp[[0, 0]], bare, band))
        painter.drawImage(bare, place * band, ramp_image(ramp[1:], width - bare, band))
    painter.end()
    return image


def wrapped(text: str, font: QFont, width: float, lines: int) -> list[str]:
    """The text in at most so many lines, the last one cut with an ellipsis where it must be."""
    layout = QTextLayout(text, font)
    option = QTextOption()
    option.setWrapMode(QTextOption.WrapMode.WrapAtWordBoundaryOrAnywhere)
    layout.setTextOption(option)
    layout.beginLayout()
    rows: list[str] = []
    metrics = QFontMetrics(font)
    while (line := layout.createLine()).isValid():
        line.setLineWidth(width)
        start = line.textStart()
        if len(rows) == lines - 1:
            rest = text[start:]
            rows.append(metrics.elidedText(rest, Qt.TextElideMode.ElideRight, round(width)))
            break
        rows.append(text[start : start + line.textLength()].rstrip())
    layout.endLayout()
    return rows or [text]
