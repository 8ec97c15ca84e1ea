"""A section of the Batch page: a heading, a line on what it is for, and its content."""

from collections.abc import Callable

from PySide6.QtCore import (
    QModelIndex,
    QPersistentModelIndex,
    QRect,
    QSignalBlocker,
    QSize,
    Qt,
    QTimer,
    Signal,
)
from PySide6.QtGui import QMouseEvent, QPainter
from PySide6.QtWidgets import (
    QAbstractItemView,
    QComboBox,
    QFrame,
    QHBoxLayout,
    QHeaderView,
    QLabel,
    QLineEdit,
    QPushButton,
    QStyle,
    QStyledItemDelegate,
    QStyleOptionViewItem,
    QTableView,
    QVBoxLayout,
    QWidget,
)

from schemeforge.gui.icons import icon
from schemeforge.gui.theme import GAP, GAP_TIGHT, GAP_WIDE
from schemeforge.gui.widgets.labels import words


class Section(QFrame):
    """Heading, explanation and a column for the content, which may be folded away.

    Signals:
        folded: True where it was closed by the user, False where opened.
    """

    folded = Signal(bool)

    def __init__(self, title: str, about: str, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setProperty("role", "panel")
        self.heading = QLabel(title)
        self.heading.setProperty("role", "heading")
        self.heading.setTextFormat(Qt.TextFormat.PlainText)
        self.heading.setWordWrap(True)
        self.about = words(about, "muted")
        self.fold = QPushButton()
        self.fold.setProperty("role", "quiet")
        self.fold.clicked.connect(lambda _on=False: self._on_fold())
        self.fold.hide()
        self.head = QHBoxLayout()
        self.head.setSpacing(GAP)
        self.head.addWidget(self.fold)
        self.head.addWidget(self.heading, 1)
        self.content = QWidget()
        self.body = QVBoxLayout(self.content)
        self.body.setContentsMargins(0, 0, 0, 0)
        self.body.setSpacing(GAP)
        self.body.addWidget(self.about)
        self._whole = QVBoxLayout(self)
        self._whole.setContentsMargins(GAP_WIDE, GAP_WIDE, GAP_WIDE, GAP_WIDE)
        self._whole.setSpacing(GAP)
        self._whole.addLayout(self.head)
        self._whole.addWidget(self.content)
        self._buttons: list[QPushButton] = []
        self.setAccessibleName(title)

    @property
    def is_open(self) -> bool:
        """False where the content is folded away."""
        return not self.content.isHidden()

    def set_open(self, *, on: bool, colour: str) -> None:
        """Show or fold away the content; from now on a button at the heading does the same."""
        self.fold.show()
        self.content.setVisible(on)
        for button in self._buttons:
            button.setVisible(on)
        self.fold.setIcon(icon("fold-open" if on else "fold-closed", colour))
        self.name_fold()

    def name_fold(self) -> None:
        """Name the fold's button after the heading as it is now."""
        on = self.is_open
        tip = self.tr("Close this section") if on else self.tr("Open this section")
        self.fold.setToolTip(tip)
        self.fold.setAccessibleName(f"{tip}: {self.heading.text()}")

    def add_button(self, label: str, action: Callable[[], object]) -> QPushButton:
        """A button at the right end of the heading."""
        button = QPushButton(label)
        button.clicked.connect(lambda _on=False: action())
        self.head.addWidget(button)
        self._buttons.append(button)
        return button

    def mouseReleaseEvent(self, event: QMouseEvent) -> None:
        """A click on the heading opens and closes it too."""
        if not self.fold.isHidden() and event.position().y() <= self.heading.geometry().bottom():
            self._on_fold()
        else:
            super().mouseReleaseEvent(event)

    def _on_fold(self) -> None:
        self.folded.emit(self.is_open)


def tool(name: str, tip: str, action: Callable[[], object]) -> QPushButton:
    """A small button that shows an icon; the tooltip is also its accessible name."""
    button = QPushButton()
    button.setObjectName(name)
    button.setToolTip(tip)
    button.setAccessibleName(tip)
    button.clicked.connect(lambda _on=False: action())
    return button


def dress(button: QPushButton, colour: str) -> None:
    """Draw a tool's icon in the text colour of the surround."""
    button.setIcon(icon(button.objectName(), colour))


def write(line: QLineEdit, text: str) -> None:
    """Write a line unless the user is just typing in it."""
    if line.text() != text and not (line.hasFocus() and line.isModified()):
        with QSignalBlocker(line):
            line.setText(text)


def choose(box: QComboBox, value: str) -> None:
    """Show a value of a choice without telling anyone."""
    with QSignalBlocker(box):
        box.setCurrentIndex(box.findData(value))


class Padded(QStyledItemDelegate):
    """Text with air around it."""

    def paint(
        self,
        painter: QPainter,
        option: QStyleOptionViewItem,
        index: QModelIndex | QPersistentModelIndex,
    ) -> None:
        """Ground to the cell's edge, text within."""
        if option.state & QStyle.StateFlag.State_Selected:
            painter.fillRect(option.rect, option.palette.highlight())
        inner = QStyleOptionViewItem(option)
        inner.rect = option.rect.adjusted(GAP, GAP_TIGHT, -GAP, -GAP_TIGHT)
        super().paint(painter, inner, index)

    def sizeHint(
        self, option: QStyleOptionViewItem, index: QModelIndex | QPersistentModelIndex
    ) -> QSize:
        """The text's own size and the air."""
        inner = QStyleOptionViewItem(option)
        inner.rect = option.rect.adjusted(0, 0, -2 * GAP, 0)
        return super().sizeHint(inner, index) + QSize(2 * GAP, 2 * GAP_TIGHT)


class FlatTable(QTableView):
    """A table as high as its rows, so that the page scrolls and not the table.

    Signals:
        moved: Where the current cell is, in the table's own coordinates.
    """

    moved = Signal(QRect)

    def __init__(self, name: str, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setItemDelegate(Padded(self))
        self.setCornerButtonEnabled(False)
        self.setStyleSheet("QTableCornerButton::section { background: transparent; border: none; }")
        # Rows are as high as their text wraps, which columns decide once the layout has settled.
        self._settle = QTimer(self)
        self._settle.setSingleShot(True)
        self._settle.setInterval(0)
        self._settle.timeout.connect(self.fit)
        self.horizontalHeader().sectionResized.connect(lambda *_: self._settle.start())
        self.setAccessibleName(name)
        self.setWordWrap(True)
        self.setTabKeyNavigation(False)
        self.setVerticalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.setHorizontalScrollMode(QAbstractItemView.ScrollMode.ScrollPerPixel)
        self.setEditTriggers(QAbstractItemView.EditTrigger.NoEditTriggers)
        # Rows get their height in ``fit``: on their own they would be measured again and again.
        self.verticalHeader().setSectionResizeMode(QHeaderView.ResizeMode.Fixed)

    def current_rect(self) -> QRect:
        """Where the current cell is, in the table's own coordinates."""
        rect = self.visualRect(self.currentIndex())
        return rect.translated(self.viewport().pos())

    def currentChanged(
        self,
        current: QModelIndex | QPersistentModelIndex,
        previous: QModelIndex | QPersistentModelIndex,
    ) -> None:
        """Tell the page where the keys went."""
        super().currentChanged(current, previous)
        if self.hasFocus():
            self.moved.emit(self.current_rect())

    def fit(self) -> None:
        """Take the height of the content."""
        if self.model() is None:
            return
        self.resizeRowsToContents()
        bar = self.horizontalScrollBar()
        high = self.horizontalHeader().height() + self.verticalHeader().length()
        high += 2 * self.frameWidth() + (bar.height() if bar.maximum() > 0 else 0)
        if self.height() != high or self.maximumHeight() != high:
            self.setFixedHeight(high)
