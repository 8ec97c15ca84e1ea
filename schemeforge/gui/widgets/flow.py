"""A widget whose children wrap like words, so that long labels push instead of being cut."""

from PySide6.QtCore import QCoreApplication, QEvent, QObject, QPoint, QRect, QSize
from PySide6.QtGui import QResizeEvent
from PySide6.QtWidgets import QSizePolicy, QWidget

from schemeforge.gui.theme import GAP


class Flow(QWidget):
    """Children left to right at their own size, wrapped at the right edge."""

    def __init__(self, parent: QWidget | None = None, *, gap: int = GAP) -> None:
        super().__init__(parent)
        self._gap = gap
        self._children: list[QWidget] = []
        policy = QSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Minimum)
        policy.setHeightForWidth(True)
        self.setSizePolicy(policy)

    def add(self, widget: QWidget) -> None:
        """One more child at the end."""
        widget.setParent(self)
        widget.installEventFilter(self)
        widget.show()
        self._children.append(widget)
        self._again()

    def detach(self, widget: QWidget) -> None:
        """Give a child up without deleting it."""
        widget.removeEventFilter(self)
        self._children.remove(widget)
        self._again()

    def clear(self) -> None:
        """Without children."""
        for widget in tuple(self._children):
            self.detach(widget)
            widget.hide()
            widget.deleteLater()

    def hasHeightForWidth(self) -> bool:
        """The narrower, the higher."""
        return True

    def heightForWidth(self, width: int) -> int:
        """Height of the wrapped rows at that width."""
        return self._arrange(width, place=False)

    def sizeHint(self) -> QSize:
        """All children in one row, at the height of the present width."""
        shown = self._shown()
        wide = sum(child.sizeHint().width() for child in shown) + self._gap * max(len(shown) - 1, 0)
        return QSize(wide, self._arrange(max(self.width(), 1), place=False))

    def minimumSizeHint(self) -> QSize:
        """Room for the widest single child."""
        widths = [child.minimumSizeHint().width() for child in self._shown()]
        return QSize(max(widths, default=0), self._arrange(max(self.width(), 1), place=False))

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Wrap anew."""
        self._arrange(event.size().width(), place=True)
        if event.size().width() != event.oldSize().width():
            self.updateGeometry()

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:
        """A child that is shown, hidden or grows moves the others."""
        if event.type() in {
            QEvent.Type.ShowToParent,
            QEvent.Type.HideToParent,
            QEvent.Type.LayoutRequest,
        }:
            # Once for all children that ask at the same time: Qt keeps one such event.
            QCoreApplication.postEvent(self, QEvent(QEvent.Type.LayoutRequest))
        return super().eventFilter(watched, event)

    def event(self, event: QEvent) -> bool:
        """A child asked for another size."""
        if event.type() == QEvent.Type.LayoutRequest:
            self._again()
        return super().event(event)

    def _shown(self) -> list[QWidget]:
        return [child for child in self._children if not child.isHidden()]

    def _again(self) -> None:
        self._arrange(self.width(), place=True)
        self.updateGeometry()

    def _arrange(self, width: int, *, place: bool) -> int:
        x, y, row = 0, 0, 0
        line: list[tuple[QWidget, QRect]] = []
        for child in self._shown():
            size = child.sizeHint().expandedTo(child.minimumSize())
            size = size.boundedTo(child.maximumSize())
            if x > 0 and x + size.width() > width:
                _settle(line, row, place=place)
                x, y, row = 0, y + row + self._gap, 0
            line.append(
                (child, QRect(QPoint(x, y), QSize(min(size.width(), width), size.height())))
            )
            x += size.width() + self._gap
            row = max(row, size.height())
        _settle(line, row, place=place)
        return y + row


def _settle(line: list[tuple[QWidget, QRect]], height: int, *, place: bool) -> None:
    """Place one row, lower edges level so that controls line up under their captions."""
    if place:
        for child, box in line:
            child.setGeometry(box.translated(0, height - box.height()))
    line.clear()
