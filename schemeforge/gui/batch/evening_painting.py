"""Draws the sittings: boards, what stands on them, what dries below."""

from collections.abc import Mapping
from typing import Any

from numpy.typing import NDArray
from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QBrush, QColor, QFont, QFontMetricsF, QImage, QPainter, QPen, QPolygonF

from schemeforge.gui.batch.evening_layout import HIGHEST, RIGHT, Block, Board, Drip, Layout
from schemeforge.gui.batch.evening_words import (
    more_words,
    number_words,
    over_words,
    remark_words,
    title_words,
    wait_words,
)
from schemeforge.gui.theme import Theme
from schemeforge.gui.widgets.strip import ramp_image
from schemeforge.plan import Caution, cautions_for

_CAP = 8.0
_TOOTH = 5.0
_NOTCH = 9.0
# What every brush asks for is told where the step is, and not marked on each.
_USUAL = frozenset({Caution.BRUSHES, Caution.PRODUCT})
Colours = Mapping[str, NDArray[Any]]
Images = dict[tuple[str, int, int], QImage]


class Painting:
    """One painting of the whole.

    Args:
        painter: Where to draw.
        theme: In which colours.
        colours: By step id its ramp, XYZ ``(points, 3)``.
        current: Index of the picked block, -1 for none.
        focused: True where the keyboard is here.
        images: Ramps drawn before, by step id and size in device pixels; filled on.
    """

    def __init__(
        self,
        painter: QPainter,
        theme: Theme,
        colours: Colours,
        current: int,
        *,
        focused: bool,
        images: Images,
    ) -> None:
        self._painter = painter
        self._images = images
        self._theme = theme
        self._colours = colours
        self._current = current
        self._focused = focused
        self._font = painter.font()
        self._ink = QColor(theme.text)
        self._labelled = 0.0  # how far numbers above narrow blocks reach

    def draw(self, layout: Layout, clip: QRectF) -> None:
        """Every board that touches the clip."""
        self._painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        for board in layout.boards:
            reach = board.line.united(board.title).adjusted(0, -HIGHEST - 40, RIGHT, 60)
            if reach.intersects(clip):
                self._board(board)

    def frame(self, slot: QRectF, x: float) -> None:
        """Around what is told of the picked step, with a beak that points to it."""
        painter = self._painter
        painter.setPen(QPen(QColor(self._theme.accent), 1.4))
        painter.setBrush(QColor(self._theme.window))
        top, beak = slot.top(), 9.0
        x = min(max(x, slot.left() + 2 * beak), slot.right() - 2 * beak)
        painter.drawPolygon(
            QPolygonF(
                [
                    slot.topLeft(),
                    QPointF(x - beak, top),
                    QPointF(x, top - beak),
                    QPointF(x + beak, top),
                    slot.topRight(),
                    slot.bottomRight(),
                    slot.bottomLeft(),
                ]
            )
        )

    def _board(self, board: Board) -> None:
        self._title(board)
        painter = self._painter
        for drip in board.drips:
            self._drip(drip)
        if board.more_drips:
            end = max(drip.y for drip in board.drips)
            text = more_words(board.more_drips)
            self._note(QPointF(board.line.right() + 6.0, end + 6.0), text, self._theme.muted)
        pen = QPen(QColor(self._theme.line), 1.2)
        if not board.sitting.is_planned:
            pen.setStyle(Qt.PenStyle.DashLine)
        painter.setPen(pen)
        painter.setBrush(
            QColor(self._theme.line) if board.sitting.is_planned else Qt.BrushStyle.NoBrush
        )
        painter.drawRect(board.line)
        self._hatched(board.laying_out)
        self._labelled = -1.0
        for block in board.blocks:
            self._block(block)
        if board.overfull is not None:
            self._overflow(board)

    def _title(self, board: Board) -> None:
        strong = QFont(self._font)
        strong.setBold(True)
        self._painter.setFont(strong)
        self._painter.setPen(self._ink)
        head = title_words(board)
        flags = Qt.AlignmentFlag.AlignLeft | Qt.AlignmentFlag.AlignVCenter
        self._painter.drawText(board.title, flags, head)
        wide = QFontMetricsF(strong).horizontalAdvance(head) + 16.0
        self._painter.setFont(self._font)
        remark = remark_words(board)
        late = board.overfull is not None or not board.sitting.is_planned
        self._painter.setPen(QColor(self._theme.caution if late else self._theme.muted))
        room = board.title.adjusted(wide, 0, 0, 0)
        metrics = QFontMetricsF(self._font)
        text = metrics.elidedText(remark, Qt.TextElideMode.ElideRight, max(room.width(), 0.0))
        self._painter.drawText(room, flags, text)

    def _block(self, block: Block) -> None:
        painter, box = self._painter, block.box
        self._hatched(block.plinth)
        if block.wait.width() > 2.0:
            self._wait(block)
        picked = block.index == self._current
        painter.setPen(QPen(self._ink, 1.0))
        painter.setBrush(QColor(self._theme.well))
        outline = _torn(box) if block.spilled else QPolygonF(box)
        painter.drawPolygon(outline)
        self._cap(block)
        for rest in block.rests:
            self._notch(rest)
        self._label(block)
        self._marks(block)
        if picked:
            painter.setBrush(Qt.BrushStyle.NoBrush)
            painter.setPen(QPen(QColor(self._theme.accent), 3.0))
            painter.drawRect(box.adjusted(-1.5, -1.5, 1.5, 1.5))
            if self._focused:
                painter.setPen(QPen(QColor(self._theme.accent), 1.2, Qt.PenStyle.DotLine))
                painter.drawRect(box.adjusted(-5, -5, 5, 5))

    def _notch(self, rest: QRectF) -> None:
        """A break: the block stands off its board for so long."""
        notch = QRectF(rest.left(), rest.bottom() - _NOTCH, rest.width(), _NOTCH)
        self._painter.fillRect(notch, QColor(self._theme.panel))
        self._painter.setPen(QPen(self._ink, 1.0))
        self._painter.drawPolyline(
            [notch.bottomLeft(), notch.topLeft(), notch.topRight(), notch.bottomRight()]
        )

    def _cap(self, block: Block) -> None:
        """The colour after that coat, from recess to raised edge."""
        ramp = self._colours.get(block.stretch.step.id)
        box = QRectF(block.box.left(), block.box.top(), block.box.width(), _CAP)
        if ramp is None or box.width() < 1.5:
            return
        ratio = self._painter.device().devicePixelRatio()
        key = block.stretch.step.id, max(1, round(box.width() * ratio)), round(_CAP * ratio)
        if key not in self._images:
            self._images[key] = ramp_image(ramp, *key[1:])
        self._painter.drawImage(box, self._images[key])
        self._painter.setBrush(Qt.BrushStyle.NoBrush)
        self._painter.setPen(QPen(self._ink, 1.0))
        self._painter.drawRect(box)

    def _label(self, block: Block) -> None:
        """Its number, and as much of its name as there is room for."""
        painter = self._painter
        strong = QFont(self._font)
        strong.setBold(True)
        metrics = QFontMetricsF(strong)
        number = number_words(block)
        room = block.box.adjusted(4, _CAP, -3, 0)
        painter.setPen(self._ink)
        painter.setFont(strong)
        if metrics.horizontalAdvance(number) > room.width() + 3:
            self._number_above(block, number, metrics)
            return
        painter.drawText(
            QRectF(room.left(), room.top(), room.width(), metrics.height()),
            Qt.AlignmentFlag.AlignLeft | Qt.AlignmentFlag.AlignVCenter,
            number,
        )
        painter.setFont(self._font)
        plain = QFontMetricsF(self._font)
        mark = 18.0 if self._is_marked(block) else 0.0
        beside = room.adjusted(metrics.horizontalAdvance(number) + 5, 0, -mark, 0)
        under = room.adjusted(0, metrics.height(), 0, 0)
        name = block.stretch.step.name
        flags = Qt.AlignmentFlag.AlignLeft | Qt.AlignmentFlag.AlignTop
        if under.height() >= plain.height() + _NOTCH - 6.0 and under.width() > 44.0:
            text = plain.elidedText(name, Qt.TextElideMode.ElideRight, under.width())
            painter.drawText(under.adjusted(0, -1, 0, 4), flags, text)
        elif beside.width() > 44.0:
            text = plain.elidedText(name, Qt.TextElideMode.ElideRight, beside.width())
            painter.drawText(beside, flags, text)

    def _number_above(self, block: Block, number: str, metrics: QFontMetricsF) -> None:
        """Over a narrow block, where the one before has left room."""
        wide = metrics.horizontalAdvance(number)
        box = QRectF(block.box.center().x() - wide / 2.0, 0.0, wide, metrics.height())
        box.moveBottom(block.box.top() - (14.0 if block.pinned else 1.0))
        if box.left() > self._labelled + 3.0:
            self._painter.drawText(box, Qt.AlignmentFlag.AlignCenter, number)
            self._labelled = box.right()

    def _is_marked(self, block: Block) -> bool:
        """True where something can hurt beyond what every brush asks for, and there is room."""
        number = QFontMetricsF(self._font).horizontalAdvance(number_words(block))
        return block.box.width() > number + 30.0 and not (
            set(cautions_for(block.stretch.step)) <= _USUAL
        )

    def _marks(self, block: Block) -> None:
        """A peg where it is pinned, a triangle where something can hurt."""
        painter, box = self._painter, block.box
        painter.setPen(QPen(self._ink, 1.0))
        if block.pinned and box.width() > 9.0:
            painter.setBrush(QColor(self._theme.accent))
            x, y = box.left() + 5.0, box.top() - 1.0
            painter.drawPolygon(
                QPolygonF([QPointF(x - 4, y - 9), QPointF(x + 4, y - 9), QPointF(x, y + 4)])
            )
        if self._is_marked(block):
            x, y = box.right() - 9.0, box.top() + _CAP + 4.0
            painter.setBrush(Qt.BrushStyle.NoBrush)
            painter.setPen(QPen(QColor(self._theme.caution), 1.4))
            painter.drawPolygon(
                QPolygonF([QPointF(x, y), QPointF(x + 5, y + 9), QPointF(x - 5, y + 9)])
            )
            painter.drawLine(QPointF(x, y + 3.4), QPointF(x, y + 6.0))

    def _wait(self, block: Block) -> None:
        painter, box = self._painter, block.wait
        painter.setPen(QPen(QColor(self._theme.line), 1.6, Qt.PenStyle.DotLine))
        y = box.center().y()
        painter.drawLine(QPointF(box.left() + 2, y), QPointF(box.right() - 2, y))
        text = wait_words(block)
        metrics = QFontMetricsF(self._font)
        if metrics.horizontalAdvance(text) + 6 < box.width():
            self._note(QPointF(box.left() + 3, y - 6.0), text, self._theme.muted)

    def _drip(self, drip: Drip) -> None:
        """Thick where it is laid, thin where it is dry; cut off square where the sitting ends."""
        painter = self._painter
        last = 2.6 if drip.goes_on else 0.4
        painter.setPen(Qt.PenStyle.NoPen)
        painter.setBrush(QColor(self._theme.muted))
        end = max(drip.end, drip.x + 3.0)
        painter.drawPolygon(
            QPolygonF(
                [
                    QPointF(drip.x, drip.y),
                    QPointF(end, drip.y),
                    QPointF(end, drip.y + last),
                    QPointF(drip.x, drip.y + 4.2),
                ]
            )
        )

    def _overflow(self, board: Board) -> None:
        """What does not fit hangs over the end of the board, torn off, with its minutes."""
        painter = self._painter
        box = QRectF(board.line.right() + 3, board.line.top() - 34.0, RIGHT - 8.0, 34.0)
        painter.setPen(QPen(QColor(self._theme.caution), 1.6))
        painter.setBrush(QBrush(QColor(self._theme.caution), Qt.BrushStyle.BDiagPattern))
        painter.drawPolygon(_torn(box))
        text = over_words(board)
        metrics = QFontMetricsF(self._font)
        wide = metrics.horizontalAdvance(text) + 8.0
        plate = QRectF(box.right() - wide, box.top() - metrics.height() - 2.0, wide, 0.0)
        plate.setHeight(metrics.height())
        painter.setPen(QColor(self._theme.caution))
        painter.drawText(plate, Qt.AlignmentFlag.AlignRight | Qt.AlignmentFlag.AlignVCenter, text)

    def _hatched(self, box: QRectF) -> None:
        if box.width() < 1.0:
            return
        self._painter.setPen(QPen(QColor(self._theme.line), 1.0))
        self._painter.setBrush(QBrush(QColor(self._theme.line), Qt.BrushStyle.FDiagPattern))
        self._painter.drawRect(box)

    def _note(self, at: QPointF, text: str, colour: str) -> None:
        self._painter.setFont(self._font)
        self._painter.setPen(QColor(colour))
        self._painter.drawText(at, text)


def _torn(box: QRectF) -> QPolygonF:
    """The box with a torn left edge."""
    points = [box.topRight(), box.bottomRight(), box.bottomLeft()]
    y, inwards = box.bottom(), True
    while y > box.top() + _TOOTH:
        y -= _TOOTH
        x = box.left() + (min(_TOOTH, box.width() / 2.0) if inwards else 0.0)
        points.append(QPointF(x, y))
        inwards = not inwards
    points.append(box.topLeft())
    return QPolygonF(points)
