"""A mark on a photograph: a rectangle that is dragged, or moved and sized by keys."""

from PySide6.QtCore import QPointF, QRectF, QSize, Qt, Signal
from PySide6.QtGui import (
    QColor,
    QFocusEvent,
    QKeyEvent,
    QMouseEvent,
    QPainter,
    QPaintEvent,
    QPalette,
    QPen,
)

from schemeforge.calibration import Area
from schemeforge.gui.adding.board import Board
from schemeforge.gui.adding.card import Mark, moved, resized, spanned
from schemeforge.gui.adding.card_fit import Seen
from schemeforge.gui.adding.nudging import Nudged, nudge

_GRIP = 7  # pixels at an edge or corner by which it is sized
_CHIP = 13


class MarkBox(Nudged):
    """One rectangle on the board.

    Signals:
        picked: It has the focus now.
        shaped: Its area changed; the hand may still be at it.
        asked: "remove", "fields" or "leave".
    """

    picked = Signal(int)
    shaped = Signal(int, object)
    asked = Signal(int, str)

    def __init__(self, board: Board, mark: Mark) -> None:
        super().__init__(board)
        self._board = board
        self.mark = mark
        self.seen: Seen | None = None
        self.is_picked = False
        self._grabbed: tuple[QPointF, Area, tuple[int, int]] | None = None
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.setMouseTracking(True)
        self.setCursor(Qt.CursorShape.SizeAllCursor)
        board.moved.connect(self.follow)
        self.show_mark(mark)
        self.show()

    def show_mark(self, mark: Mark) -> None:
        """Another version of the mark."""
        self.mark = mark
        self.follow()
        self._tell()
        self.update()

    def show_seen(self, seen: Seen | None) -> None:
        """Its colour as the camera gave it and as put right."""
        self.seen = seen
        self.follow()
        self._tell()
        self.update()

    def set_picked(self, picked: bool) -> None:
        """Frame it as the one whose fields are shown."""
        if picked != self.is_picked:
            self.is_picked = picked
            self.update()

    def follow(self) -> None:
        """Lie where the picture is now: the rectangle, and its label above it."""
        inner = self.inner_box()
        label = self._label_size()
        wide = max(inner.width(), label.width())
        whole = QRectF(inner.left(), inner.top() - label.height(), wide, 0.0)
        if whole.top() < 0.0:
            whole.moveTop(inner.top())
        bottom = max(inner.bottom(), whole.top() + label.height())
        whole.setBottom(bottom)
        self.setGeometry(whole.toAlignedRect().adjusted(-2, -2, 2, 2))

    def inner_box(self) -> QRectF:
        """The rectangle on the board."""
        area = self.mark.area
        return QRectF(
            self._board.point_of((area.left, area.top)),
            self._board.point_of((area.right, area.bottom)),
        )

    def _own_box(self) -> QRectF:
        """The rectangle in the widget's own pixels."""
        return self.inner_box().translated(-QPointF(self.pos()))

    def _label(self) -> str:
        flag = ""
        if self.seen is not None and self.seen.is_clipped:
            flag = self.tr("clipped")
        elif self.seen is not None and self.seen.noisy:
            flag = self.tr("uneven")
        return f"{self.mark.name}  !  {flag}" if flag else self.mark.name

    def _label_size(self) -> QSize:
        metrics = self.fontMetrics()
        chips = 0 if self.seen is None else 2 * _CHIP + 6
        return QSize(metrics.horizontalAdvance(self._label()) + chips + 10, metrics.height() + 4)

    def paintEvent(self, _event: QPaintEvent) -> None:
        """The outline, told from any ground by being dark and light, and the label."""
        painter = QPainter(self)
        palette = self.palette()
        box = self._own_box().adjusted(0.5, 0.5, -0.5, -0.5)
        here = self.is_picked or self.hasFocus()
        painter.setBrush(Qt.BrushStyle.NoBrush)
        outer = palette.color(QPalette.ColorRole.Highlight) if here else QColor("#000000")
        painter.setPen(QPen(outer, 4.0 if here else 3.0))
        painter.drawRect(box)
        painter.setPen(QPen(QColor("#ffffff"), 1.4))
        painter.drawRect(box)
        if self.hasFocus():
            painter.setPen(QPen(outer, 1.4))  # told from a white card too
            painter.setBrush(QColor("#ffffff"))
            for corner in (box.topLeft(), box.topRight(), box.bottomLeft(), box.bottomRight()):
                painter.drawRect(QRectF(corner - QPointF(2.5, 2.5), corner + QPointF(2.5, 2.5)))
        if self.seen is not None and self.seen.is_clipped:
            painter.setPen(QPen(QColor("#000000"), 1.4))
            painter.drawLine(box.topLeft(), box.bottomRight())
            painter.drawLine(box.topRight(), box.bottomLeft())
        self._paint_label(painter)

    def _paint_label(self, painter: QPainter) -> None:
        palette, size = self.palette(), self._label_size()
        own = self._own_box()
        top = own.top() - size.height() if own.top() >= size.height() else own.top()
        tag = QRectF(own.left(), top, size.width(), size.height())
        here = self.is_picked or self.hasFocus()
        back = QPalette.ColorRole.Highlight if here else QPalette.ColorRole.Base
        ink = QPalette.ColorRole.HighlightedText if here else QPalette.ColorRole.Text
        painter.fillRect(tag, palette.color(back))
        x = tag.left() + 5
        if self.seen is not None:
            y = tag.center().y() - _CHIP / 2
            after = self.seen.after or self.seen.before
            painter.fillRect(QRectF(x, y, _CHIP, _CHIP), QColor(self.seen.before))
            painter.fillRect(QRectF(x + _CHIP, y, _CHIP, _CHIP), QColor(after))
            x += 2 * _CHIP + 6
        painter.setPen(palette.color(ink))
        flags = Qt.AlignmentFlag.AlignVCenter | Qt.AlignmentFlag.AlignLeft
        painter.drawText(QRectF(x, tag.top(), tag.right() - x, tag.height()), flags, self._label())

    def _tell(self) -> None:
        area = self.mark.area
        self.setAccessibleName(self.tr("Mark: {0}").format(self._label()))
        said = self.tr("left {0:.0%}, top {1:.0%}, {2:.0%} wide, {3:.0%} high").format(
            area.left, area.top, area.right - area.left, area.bottom - area.top
        )
        if self.seen is not None:
            said += "; " + self.tr("seen as {0}").format(self.seen.before)
            if self.seen.after:
                said += ", " + self.tr("put right {0}").format(self.seen.after)
        self.setAccessibleDescription(said)
        self.setToolTip(f"{self._label()}: {said}")

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Move, size, remove, go to the fields, or leave."""
        key, keys = Qt.Key(event.key()), event.modifiers()
        by = nudge(event)
        if by is not None:
            shape = resized if keys & Qt.KeyboardModifier.ShiftModifier else moved
            self.shaped.emit(self.mark.id, shape(self.mark.area, *by))
            self._board.reveal(self.inner_box())
            return
        asked = {
            Qt.Key.Key_Delete: "remove",
            Qt.Key.Key_Backspace: "remove",
            Qt.Key.Key_Return: "fields",
            Qt.Key.Key_Enter: "fields",
            Qt.Key.Key_Escape: "leave",
        }.get(key)
        if asked:
            self.asked.emit(self.mark.id, asked)
        elif Qt.Key.Key_A <= key <= Qt.Key.Key_Z and not keys:
            self._board.asked.emit(key)
        else:
            super().keyPressEvent(event)

    def focusInEvent(self, event: QFocusEvent) -> None:
        """The focus picks it, and brings it into view."""
        super().focusInEvent(event)
        self.raise_()
        if event.reason() != Qt.FocusReason.MouseFocusReason:
            self._board.reveal(self.inner_box())
        self.picked.emit(self.mark.id)
        self.update()

    def focusOutEvent(self, event: QFocusEvent) -> None:
        """Without its corners."""
        super().focusOutEvent(event)
        self.update()

    def _grip(self, at: QPointF) -> tuple[int, int]:
        """Which edges a press takes: -1 left or top, 1 right or bottom, 0 none."""
        box = self._own_box()
        across = -1 if abs(at.x() - box.left()) <= _GRIP else 0
        across = 1 if abs(at.x() - box.right()) <= _GRIP else across
        down = -1 if 0 <= at.y() - box.top() <= _GRIP else 0
        down = 1 if abs(at.y() - box.bottom()) <= _GRIP else down
        return across, down

    def mousePressEvent(self, event: QMouseEvent) -> None:
        """Take hold of it, or of an edge."""
        if event.button() is Qt.MouseButton.LeftButton:
            place = QPointF(*self._board.place_at(event.position() + QPointF(self.pos())))
            self._grabbed = (place, self.mark.area, self._grip(event.position()))
        else:
            event.ignore()  # the board moves the picture

    def mouseMoveEvent(self, event: QMouseEvent) -> None:
        """Drag it, or an edge of it."""
        if self._grabbed is None:
            self.setCursor(_cursor(self._grip(event.position())))
            return
        start, area, (across, down) = self._grabbed
        now = self._board.place_at(event.position() + QPointF(self.pos()))
        dx, dy = now[0] - start.x(), now[1] - start.y()
        shaped: Area | None
        if (across, down) == (0, 0):
            shaped = moved(area, dx, dy)
        else:
            shaped = spanned(
                (area.left + dx * (across < 0), area.top + dy * (down < 0)),
                (area.right + dx * (across > 0), area.bottom + dy * (down > 0)),
            )
        if shaped is not None:
            self.shaped.emit(self.mark.id, shaped)

    def mouseReleaseEvent(self, event: QMouseEvent) -> None:
        """Let go."""
        del event
        self._grabbed = None


def _cursor(grip: tuple[int, int]) -> Qt.CursorShape:
    if grip == (0, 0):
        return Qt.CursorShape.SizeAllCursor
    if 0 in grip:
        return Qt.CursorShape.SizeHorCursor if grip[0] else Qt.CursorShape.SizeVerCursor
    same = grip[0] == grip[1]
    return Qt.CursorShape.SizeFDiagCursor if same else Qt.CursorShape.SizeBDiagCursor
