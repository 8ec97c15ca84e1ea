"""A line on a photograph, recess to raised edge: two ends that are dragged or moved by keys."""

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
from PySide6.QtWidgets import QWidget

from schemeforge.gui.adding.board import Board, Place
from schemeforge.gui.adding.nudging import Nudged, nudge

_SIDE = 22


class LineEnd(Nudged):
    """One end of the line: a filled dot in the recess, a ring at the raised edge.

    Signals:
        moved: The place it was moved to.
        left: The focus is to go back to the board.
    """

    moved = Signal(object)
    left = Signal()

    def __init__(self, board: Board, name: str, *, filled: bool) -> None:
        super().__init__(board)
        self._board = board
        self._filled = filled
        self.place: Place = (0.5, 0.5)
        self._held = False
        self.setAccessibleName(name)
        self.setToolTip(name)
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.setCursor(Qt.CursorShape.SizeAllCursor)
        self.resize(QSize(_SIDE, _SIDE))

    def follow(self) -> None:
        """Lie where the picture is now."""
        point = self._board.point_of(self.place)
        self.move(round(point.x() - _SIDE / 2), round(point.y() - _SIDE / 2))
        self.setAccessibleDescription(
            self.tr("{0:.1%} from the left, {1:.1%} from the top").format(*self.place)
        )

    def paintEvent(self, _event: QPaintEvent) -> None:
        """A dot or a ring, told from any ground by being dark and light."""
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        middle = QPointF(_SIDE / 2, _SIDE / 2)
        accent = self.palette().color(QPalette.ColorRole.Highlight)
        painter.setPen(QPen(accent if self.hasFocus() else QColor("#000000"), 3))
        painter.setBrush(QColor("#ffffff") if self._filled else Qt.BrushStyle.NoBrush)
        painter.drawEllipse(middle, 7.0, 7.0)
        painter.setPen(QPen(QColor("#ffffff"), 1.4))
        painter.drawEllipse(middle, 7.0, 7.0)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Move, or leave."""
        by = nudge(event)
        if by is not None:
            self._move_to((self.place[0] + by[0], self.place[1] + by[1]))
        elif event.key() == Qt.Key.Key_Escape:
            self.left.emit()
        else:
            super().keyPressEvent(event)

    def focusInEvent(self, event: QFocusEvent) -> None:
        """Bring it into view."""
        super().focusInEvent(event)
        self._board.reveal(QRectF(self.geometry()))
        self.update()

    def mousePressEvent(self, event: QMouseEvent) -> None:
        """Take hold of it."""
        self._held = event.button() is Qt.MouseButton.LeftButton

    def mouseMoveEvent(self, event: QMouseEvent) -> None:
        """Drag it."""
        if self._held:
            self._move_to(self._board.place_at(event.position() + QPointF(self.pos())))

    def mouseReleaseEvent(self, _event: QMouseEvent) -> None:
        """Let go."""
        self._held = False

    def _move_to(self, place: Place) -> None:
        self.moved.emit((min(max(place[0], 0.0), 1.0), min(max(place[1], 0.0), 1.0)))


class LineMark(QWidget):
    """The line between its ends, over the whole board; clicks go through it.

    Signals:
        changed: An end was moved, or the line was drawn anew.
    """

    changed = Signal()

    def __init__(self, board: Board) -> None:
        super().__init__(board)
        self._board = board
        self.setAttribute(Qt.WidgetAttribute.WA_TransparentForMouseEvents)
        self.recess = LineEnd(board, self.tr("Line: its end in the recess"), filled=True)
        self.raised = LineEnd(board, self.tr("Line: its end on the raised edge"), filled=False)
        for end in (self.recess, self.raised):
            end.moved.connect(lambda place, e=end: self._move(e, place))
            end.left.connect(board.setFocus)
        board.moved.connect(self.follow)
        self.show_line(None)

    @property
    def line(self) -> tuple[Place, Place] | None:
        """From recess to raised edge, None where none is drawn."""
        return None if self.isHidden() else (self.recess.place, self.raised.place)

    def show_line(self, line: tuple[Place, Place] | None) -> None:
        """Draw a line, or none."""
        for widget in (self, self.recess, self.raised):
            widget.setVisible(line is not None)
        if line is not None:
            self.recess.place, self.raised.place = line
            self.follow()

    def draw(self, line: tuple[Place, Place]) -> None:
        """Draw a line and tell of it."""
        (a, b), (c, d) = line
        self.show_line(
            (
                (min(max(a, 0.0), 1.0), min(max(b, 0.0), 1.0)),
                (min(max(c, 0.0), 1.0), min(max(d, 0.0), 1.0)),
            )
        )
        self.changed.emit()

    def follow(self) -> None:
        """Lie where the picture is now."""
        self.setGeometry(self._board.rect())
        for end in (self.recess, self.raised):
            end.follow()
            end.raise_()
        self.update()

    def _move(self, end: LineEnd, place: Place) -> None:
        end.place = place
        self.follow()
        self.changed.emit()

    def paintEvent(self, _event: QPaintEvent) -> None:
        """The line, dark and light."""
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        ends = (self._board.point_of(end.place) for end in (self.recess, self.raised))
        one, other = ends
        for ink, wide in (("#000000", 3.5), ("#ffffff", 1.4)):
            painter.setPen(QPen(QColor(ink), wide))
            painter.drawLine(one, other)
