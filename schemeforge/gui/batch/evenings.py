"""The sittings as boards: what is done when, on how many models, and what dries meanwhile."""

from collections.abc import Callable
from typing import Any

from numpy.typing import NDArray
from PySide6.QtCore import QEvent, QPointF, QRect, QRectF, QSize, Qt, Signal
from PySide6.QtGui import (
    QAccessible,
    QAccessibleEvent,
    QContextMenuEvent,
    QFontMetricsF,
    QHelpEvent,
    QKeyEvent,
    QMouseEvent,
    QPainter,
    QPaintEvent,
    QResizeEvent,
)
from PySide6.QtWidgets import QMenu, QSizePolicy, QToolTip, QWidget

from schemeforge.gui.batch.evening_layout import HIGHEST, Block, Board, Layout, laid_out
from schemeforge.gui.batch.evening_painting import Images, Painting
from schemeforge.gui.batch.evening_words import block_words
from schemeforge.gui.batch.making import Made
from schemeforge.gui.keys import tell_keys
from schemeforge.gui.theme import Theme
from schemeforge.plan.timeline import day_words
from schemeforge.scheme import Sitting

Key = tuple[str, int, str, int]
_PAD = 12.0


class Evenings(QWidget):
    """All sittings, walked by the arrow keys; the picked step can be pinned to a sitting.

    Args:
        panel: What is told of the picked step; it opens below its board.

    Signals:
        picked: The block, or None.
        pin: Id of a step and of a sitting, "" to let it go.
        opened: Id of a step that is to be looked at.
        moved: Where the picked block is, in the widget's own coordinates.
        shifted: By how many pixels the picked block was moved down, as what is told of another
            one went.
    """

    picked = Signal(object)
    pin = Signal(str, str)
    opened = Signal(str)
    moved = Signal(QRect)
    shifted = Signal(int)

    def __init__(self, panel: QWidget, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._panel = panel
        panel.setParent(self)
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.setMouseTracking(True)
        policy = QSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Fixed)
        self.setSizePolicy(policy)
        self.setAccessibleName(self.tr("Sittings and steps"))
        self._made: Made | None = None
        self._theme: Theme | None = None
        self._colours: dict[str, NDArray[Any]] = {}
        self._images: Images = {}
        self._layout = Layout(boards=(), height=0.0, scale=1.0)
        self._key: Key | None = None
        self._current = -1
        tell_keys(
            self,
            (self.tr("Left, Right"), self.tr("the step before or after, in the time line")),
            (self.tr("Up, Down"), self.tr("the sitting before or after, in the time line")),
            (self.tr("Home, End"), self.tr("the first or the last step of the time line")),
            (self.tr("1 to 9"), self.tr("pin the step to the sitting of that number")),
            (self.tr("0, Delete"), self.tr("unpin the step")),
            (self.tr("Menu, Shift+F10"), self.tr("where the step may be pinned")),
            (self.tr("Enter"), self.tr("pick the step on every page")),
        )

    @property
    def blocks(self) -> tuple[Block, ...]:
        """All steps that are drawn, in order."""
        return self._layout.blocks

    @property
    def boards(self) -> tuple[Board, ...]:
        """All sittings that are drawn."""
        return self._layout.boards

    @property
    def current(self) -> Block | None:
        """The picked one."""
        return self.blocks[self._current] if 0 <= self._current < len(self.blocks) else None

    def show_plan(self, made: Made | None, theme: Theme, colours: dict[str, NDArray[Any]]) -> None:
        """Draw another plan; the picked step stays picked."""
        self._made, self._theme, self._colours = made, theme, colours
        self._images = {}
        self._lay_out()
        self._current = self._find(self._key)
        self._tell()

    def pick(self, index: int) -> None:
        """Pick a step by its place."""
        if 0 <= index < len(self.blocks):
            before = self.blocks[index].box.bottom()
            self._current = index
            self._key = _key(self.blocks[index])
            self._tell()
            shift = round(self.blocks[index].box.bottom() - before)
            if shift:
                self.shifted.emit(shift)

    def sizeHint(self) -> QSize:
        """As high as its boards."""
        return QSize(400, round(self._layout.height) + 6)

    def minimumSizeHint(self) -> QSize:
        """Narrow, but as high as its boards."""
        return QSize(200, self.sizeHint().height())

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Another scale."""
        if event.size().width() != event.oldSize().width():
            self._lay_out()

    def event(self, event: QEvent) -> bool:
        """What is under the pointer, in words; and another size of what is told."""
        if event.type() == QEvent.Type.LayoutRequest:
            self._lay_out()
            return True
        if event.type() == QEvent.Type.ToolTip and isinstance(event, QHelpEvent):
            block = self._at(QPointF(event.pos()))
            if block is None:
                QToolTip.hideText()
            else:
                QToolTip.showText(event.globalPos(), block_words(block), self)
            return True
        return super().event(event)

    def paintEvent(self, event: QPaintEvent) -> None:
        """The boards that are in view."""
        if self._theme is None:
            return
        painter = QPainter(self)
        painting = Painting(
            painter,
            self._theme,
            self._colours,
            self._current,
            focused=self.hasFocus(),
            images=self._images,
        )
        painter.translate(3.0, 3.0)
        painting.draw(self._layout, QRectF(event.rect()))
        current = self.current
        if current is not None and self._layout.slot.height():
            painting.frame(self._layout.slot, current.box.center().x())

    def mousePressEvent(self, event: QMouseEvent) -> None:
        """Pick what is under the pointer."""
        block = self._at(event.position())
        if block is not None:
            self.pick(block.index)

    def mouseDoubleClickEvent(self, event: QMouseEvent) -> None:
        """Pick it on every page."""
        block = self._at(event.position())
        if block is not None:
            self.opened.emit(block.stretch.step.id)

    def contextMenuEvent(self, event: QContextMenuEvent) -> None:
        """Where the step may be pinned."""
        if event.reason() == QContextMenuEvent.Reason.Mouse:
            block = self._at(QPointF(event.pos()))
            if block is not None:
                self.pick(block.index)
        current = self.current
        if current is None:
            return
        at = event.globalPos()
        if event.reason() != QContextMenuEvent.Reason.Mouse:
            at = self.mapToGlobal(current.box.bottomLeft().toPoint())
        menu = self.pin_menu()
        menu.exec(at)
        menu.deleteLater()

    def pin_menu(self) -> QMenu:
        """Each sitting that is still to come, and to let the step go."""
        menu = QMenu(self)
        current = self.current
        if current is None:
            return menu
        for number, sitting, day in self._sittings():
            label = self.tr("&{0}: pin to sitting {0}{1}").format(number, day)
            action = menu.addAction(label)
            action.setCheckable(True)
            action.setChecked(current.pinned == number)
            action.triggered.connect(lambda _on=False, s=sitting: self._pin(s.id))
        menu.addSeparator()
        free = menu.addAction(self.tr("&Unpin: wherever it fits"))
        free.setEnabled(bool(current.pinned))
        free.triggered.connect(lambda _on=False: self._pin(""))
        return menu

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Walk, pin, let go, open."""
        steps: dict[int, Callable[[], None]] = {
            Qt.Key.Key_Left: lambda: self._walk(-1),
            Qt.Key.Key_Right: lambda: self._walk(1),
            Qt.Key.Key_Up: lambda: self._cross(-1),
            Qt.Key.Key_Down: lambda: self._cross(1),
            Qt.Key.Key_Home: lambda: self.pick(0),
            Qt.Key.Key_End: lambda: self.pick(len(self.blocks) - 1),
            Qt.Key.Key_Delete: lambda: self._pin(""),
            Qt.Key.Key_0: lambda: self._pin(""),
            Qt.Key.Key_Return: self._open,
            Qt.Key.Key_Enter: self._open,
        }
        key = event.key()
        if event.modifiers() & ~Qt.KeyboardModifier.KeypadModifier:
            super().keyPressEvent(event)
        elif key in steps:
            steps[key]()
        elif Qt.Key.Key_1 <= key <= Qt.Key.Key_9:
            self._pin_to(key - Qt.Key.Key_0)
        else:
            super().keyPressEvent(event)

    def _walk(self, by: int) -> None:
        if self.current is None:
            self.pick(0)
        else:
            self.pick(self._current + by)

    def _cross(self, by: int) -> None:
        """The step of the next sitting that stands nearest below or above."""
        current = self.current
        if current is None:
            self.pick(0)
            return
        boards = [board for board in self.boards if board.blocks]
        at = next(n for n, board in enumerate(boards) if current in board.blocks)
        if 0 <= at + by < len(boards):
            x = current.box.center().x()
            near = min(boards[at + by].blocks, key=lambda b: abs(b.box.center().x() - x))
            self.pick(near.index)

    def _pin(self, sitting_id: str) -> None:
        current = self.current
        if current is not None:
            self.pin.emit(current.stretch.step.id, sitting_id)

    def _pin_to(self, number: int) -> None:
        for known, sitting, _day in self._sittings():
            if known == number:
                self._pin(sitting.id)

    def _open(self) -> None:
        current = self.current
        if current is not None:
            self.opened.emit(current.stretch.step.id)

    def _sittings(self) -> list[tuple[int, Sitting, str]]:
        """Number, sitting and day of each that is planned."""
        if self._made is None:
            return []
        return [
            (plan.number, plan.sitting, day_words(plan.day, ", "))
            for plan in self._made.schedule.sittings
            if plan.sitting is not None
        ]

    def _lay_out(self) -> None:
        before = self.sizeHint().height()
        if self._made is None:
            self._layout = Layout(boards=(), height=0.0, scale=1.0)
        else:
            title = QFontMetricsF(self.font()).height() + 4.0
            made, current = self._made, self.current
            self._layout = laid_out(
                made.project,
                made.schedule,
                self.width() - 6.0,
                title,
                open_after=0 if current is None else current.sitting.number,
                room=self._panel_height(),
            )
        slot = self._layout.slot.translated(3.0, 3.0).adjusted(_PAD, _PAD, -_PAD, -_PAD)
        if self._layout.slot.height():
            self._panel.setGeometry(slot.toRect())
        if self.sizeHint().height() != before:
            self.updateGeometry()
        self.update()

    def _panel_height(self) -> float:
        """What the panel needs at the present width, with air around."""
        layout = self._panel.layout()
        wide = round(self.width() - 6.0 - 2.0 * _PAD)
        if layout is None or wide < 50:
            return 0.0
        high = layout.totalHeightForWidth(wide) if layout.hasHeightForWidth() else -1
        return max(high, layout.totalSizeHint().height() if high < 0 else 0) + 2.0 * _PAD

    def _find(self, key: Key | None) -> int:
        """The block of that key, or the nearest in sense; the first where nothing was picked."""
        if not self.blocks:
            return -1
        if key is None:
            return 0
        keys = [_key(block) for block in self.blocks]
        if key in keys:
            return keys.index(key)
        same = [n for n, known in enumerate(keys) if known[0] == key[0]]
        return same[0] if same else min(max(self._current, 0), len(self.blocks) - 1)

    def _at(self, point: QPointF) -> Block | None:
        """The block at a point, with its plinth and its wait."""
        point = point - QPointF(3.0, 3.0)
        for block in self.blocks:
            whole = block.box.united(block.plinth)
            whole.setTop(block.box.bottom() - HIGHEST)
            if whole.contains(point):
                return block
        return None

    def _tell(self) -> None:
        """Let screen readers, the page and the panel know what is picked."""
        current = self.current
        self.update()
        text = self.tr("Nothing is left to do.") if current is None else block_words(current)
        if text != self.accessibleDescription():
            self.setAccessibleDescription(text)
            QAccessible.updateAccessibility(
                QAccessibleEvent(self, QAccessible.Event.DescriptionChanged)
            )
        self.picked.emit(current)
        self._lay_out()
        current = self.current
        if current is not None and self.hasFocus():
            top = QRectF(0, current.box.bottom() - HIGHEST - 24, 1, 1)
            box = current.box.united(top).united(self._layout.slot)
            self.moved.emit(box.toAlignedRect())


def _key(block: Block) -> Key:
    stretch = block.stretch
    first = stretch.models[0]
    return stretch.step.id, stretch.layer_pass, first.group.id, first.first
