"""The head of a scheme's column: its name, its marks, and what one click does to it."""

from html import escape

from PySide6.QtCore import QObject, QRect, QSignalBlocker, QSize, Qt, Signal
from PySide6.QtGui import QFocusEvent, QKeyEvent, QMouseEvent, QPainter, QPaintEvent, QResizeEvent
from PySide6.QtWidgets import (
    QHBoxLayout,
    QLabel,
    QLineEdit,
    QSizePolicy,
    QStackedWidget,
    QToolButton,
    QVBoxLayout,
    QWidget,
)

from schemeforge.checks import LONGEST_NOTE
from schemeforge.comparison import Compared
from schemeforge.gui.icons import icon
from schemeforge.gui.reading import tr
from schemeforge.gui.schemes.actions import SchemeActions
from schemeforge.gui.schemes.zone_cell import usual_difference
from schemeforge.gui.theme import GAP_TIGHT, Theme
from schemeforge.gui.widgets.flow import Flow
from schemeforge.scheme import Scheme

_ICON = QSize(18, 18)
_BAR = 3


class NameEdit(QLineEdit):
    """The field in which a name is changed; Escape leaves it as it was.

    Signals:
        kept: What is written is to be the name.
        dropped: The name is to stay.
    """

    kept = Signal()
    dropped = Signal()

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Enter keeps, Escape drops."""
        if event.key() in {Qt.Key.Key_Return, Qt.Key.Key_Enter}:
            self.kept.emit()
        elif event.key() == Qt.Key.Key_Escape:
            self.dropped.emit()
        else:
            super().keyPressEvent(event)

    def focusOutEvent(self, event: QFocusEvent) -> None:
        """Leaving keeps."""
        super().focusOutEvent(event)
        if event.reason() != Qt.FocusReason.PopupFocusReason:
            self.kept.emit()


class NameField(QStackedWidget):
    """A name that is changed in place.

    Signals:
        renamed: The new name.
        clicked: The name was clicked.
    """

    renamed = Signal(str)
    clicked = Signal()

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._open = False
        self._name = ""
        self.label = QLabel()
        self.label.setTextFormat(Qt.TextFormat.PlainText)
        self.label.setWordWrap(True)
        self.label.setAlignment(Qt.AlignmentFlag.AlignTop)
        self.label.setProperty("role", "heading")
        self.label.setToolTip(self.tr("Double-click or F2 to rename"))
        self.field = NameEdit()
        self.field.setAccessibleName(self.tr("Name of the scheme"))
        self.field.setMaxLength(120)
        self.field.kept.connect(self._on_kept)
        self.field.dropped.connect(self._close)
        self.addWidget(self.label)
        self.addWidget(self.field)
        self.setSizePolicy(QSizePolicy.Policy.Ignored, QSizePolicy.Policy.Minimum)

    def set_name(self, name: str) -> None:
        """Show a name."""
        self._name = name
        self.label.setText(name)
        with QSignalBlocker(self.field):
            if not self.is_editing:
                self.field.setText(name)

    @property
    def is_editing(self) -> bool:
        """True while the name is being changed."""
        return self._open

    def begin(self) -> None:
        """Change the name."""
        self.field.setText(self._name)
        self._open = True
        self.setCurrentWidget(self.field)
        self.field.selectAll()
        self.field.setFocus()

    def hasHeightForWidth(self) -> bool:
        """Long names wrap."""
        return True

    def heightForWidth(self, width: int) -> int:
        """Room for the wrapped name, or for the field."""
        return max(self.label.heightForWidth(width), self.field.sizeHint().height())

    def mousePressEvent(self, event: QMouseEvent) -> None:
        """A click picks the scheme."""
        super().mousePressEvent(event)
        self.clicked.emit()

    def mouseDoubleClickEvent(self, _event: QMouseEvent) -> None:
        """A double click changes the name."""
        self.begin()

    def _on_kept(self) -> None:
        if self._open:
            name = self.field.text()
            self._close()
            self.renamed.emit(name)

    def _close(self) -> None:
        # Said first: hiding the field takes its focus, which would else keep what is dropped.
        self._open = False
        self.setCurrentWidget(self.label)


class NoteField(NameField):
    """A remark on a scheme, changed in place; two lines of it show, the tooltip has it whole."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.label.setProperty("role", "muted")
        self.field.setAccessibleName(self.tr("Note on the scheme"))
        self.field.setMaxLength(LONGEST_NOTE)
        self.field.setPlaceholderText(self.tr("What it is after"))

    def set_name(self, name: str) -> None:
        """Show a note."""
        super().set_name(name)
        hint = self.tr("Double-click or Ctrl+F2 to change the note")
        # A tooltip would read what looks like markup as such.
        whole = escape(f"{name}\n\n{hint}".strip()).replace("\n", "<br>")
        self.label.setToolTip(f"<qt>{whole}</qt>")
        self.label.setAccessibleDescription(name)
        self._cut()

    def heightForWidth(self, width: int) -> int:
        """At most two lines, or the field."""
        two = 2 * self.label.fontMetrics().lineSpacing()
        high = min(self.label.heightForWidth(width), two)
        return max(high, self.field.sizeHint().height())

    def resizeEvent(self, event: QResizeEvent) -> None:
        """As much as fits in two lines."""
        super().resizeEvent(event)
        self._cut()

    def _cut(self) -> None:
        metrics = self.label.fontMetrics()
        # Lines break between words, so that about a word of each is lost.
        room = 2 * (self.width() - 7 * metrics.averageCharWidth())
        words = " ".join(self._name.split()) or self.tr("no note")
        self.label.setText(metrics.elidedText(words, Qt.TextElideMode.ElideRight, room))


class Mark(QWidget):
    """An icon and a word that say what a scheme is."""

    def __init__(
        self, name: str, words: str, parent: QWidget | None = None, *, wraps: bool = False
    ) -> None:
        super().__init__(parent)
        self._name = name
        self._picture = QLabel()
        self.words = QLabel(words)
        self.words.setProperty("role", "muted")
        if wraps:
            self.words.setWordWrap(True)
            self.words.setSizePolicy(QSizePolicy.Policy.Ignored, QSizePolicy.Policy.Minimum)
        row = QHBoxLayout(self)
        row.setContentsMargins(0, 0, 0, 0)
        row.setSpacing(GAP_TIGHT)
        row.addWidget(self._picture)
        row.addWidget(self.words, int(wraps))

    def dress(self, theme: Theme) -> None:
        """Take the colours of a surround."""
        self._picture.setPixmap(icon(self._name, theme.muted).pixmap(16, 16))


class Head(QWidget):
    """Name, marks and buttons of one column.

    Signals:
        picked: The head was clicked.
    """

    picked = Signal()

    def __init__(
        self, actions: SchemeActions, scheme_id: str, parent: QWidget | None = None
    ) -> None:
        super().__init__(parent)
        self.actions_ = actions
        self.scheme_id = scheme_id
        self.setProperty("schemeId", scheme_id)
        self._picked = False
        self._theme: Theme | None = None
        self.name = NameField()
        self.name.clicked.connect(self.picked)
        self.name.renamed.connect(lambda text: actions.rename(scheme_id, text))
        self.note = NoteField()
        self.note.clicked.connect(self.picked)
        self.note.renamed.connect(lambda text: actions.note(scheme_id, text))
        self.yardstick = Mark("yardstick", self.tr("yardstick"))
        self.chosen = Mark("for-batch", self.tr("for the batch"))
        self.take = Mark("finding-good", self.tr("take this one"))
        self.differs = Mark("yardstick", "", wraps=True)
        marks = Flow(gap=GAP_TIGHT * 2)
        marks.add(self.take)
        marks.add(self.yardstick)
        marks.add(self.chosen)
        self.buttons: dict[str, QToolButton] = {}
        tools = Flow(gap=2)
        for key, icon_name, words, keys, action in actions.all():
            button = QToolButton()
            button.setIconSize(_ICON)
            button.setProperty("role", "quiet")
            button.setStyleSheet("QToolButton { padding: 2px; min-height: 18px; }")
            button.setProperty("iconName", icon_name)
            button.setToolTip(f"{words} ({keys})")
            button.setAccessibleName(words)
            button.clicked.connect(lambda _on=False, a=action: a(scheme_id))
            self.buttons[key] = button
            tools.add(button)
        column = QVBoxLayout(self)
        column.setContentsMargins(GAP_TIGHT, GAP_TIGHT + _BAR, GAP_TIGHT, GAP_TIGHT)
        column.setSpacing(GAP_TIGHT)
        column.addWidget(self.name)
        column.addWidget(self.note)
        column.addWidget(marks)
        column.addWidget(self.differs)
        column.addStretch(1)
        column.addWidget(tools)
        self.setSizePolicy(QSizePolicy.Policy.Ignored, QSizePolicy.Policy.Minimum)

    def show_scheme(
        self, scheme: Scheme, *, place: tuple[int, int], yardstick: bool, chosen: bool
    ) -> None:
        """Show name and marks; ``place`` is where it stands among how many."""
        self.name.set_name(scheme.name)
        self.note.set_name(scheme.note)
        self.yardstick.setVisible(yardstick)
        self.differs.setToolTip(self.tr("Against the yardstick, where a zone says nothing else"))
        self.chosen.setVisible(chosen)
        self.buttons["yardstick"].setEnabled(not yardstick)
        self.buttons["choose"].setEnabled(not chosen)
        self.buttons["left"].setEnabled(place[0] > 0)
        self.buttons["right"].setEnabled(place[0] < place[1] - 1)
        self.buttons["remove"].setEnabled(place[1] > 1)
        for key, _icon, words, _keys, _action in self.actions_.all():
            self.buttons[key].setAccessibleName(f"{words}: {scheme.name}")

    def show_compared(self, compared: Compared | None, *, take: bool) -> None:
        """Say how most zones differ from the yardstick, and whether this is the one to take."""
        self.take.setVisible(take)
        said = [] if compared is None else [zone.words for zone in compared.differences]
        self.differs.setVisible(bool(said))
        if compared is not None and said:
            usual = usual_difference(compared)
            where = self.tr("{0} on {1} of {2} zones")
            self.differs.words.setText(where.format(tr(usual), said.count(usual), len(said)))

    def dress(self, theme: Theme, *, picked: bool) -> None:
        """Take the colours of a surround; the scheme picked carries a bar on top."""
        if theme is not self._theme:
            self._theme = theme
            for button in self.buttons.values():
                button.setIcon(icon(str(button.property("iconName")), theme.text))
            self.yardstick.dress(theme)
            self.chosen.dress(theme)
            self.take.dress(theme)
            self.differs.dress(theme)
        if picked is not self._picked:
            self._picked = picked
            self.update()

    def paintEvent(self, _event: QPaintEvent) -> None:
        """The bar over the scheme picked."""
        if self._picked:
            bar = QRect(0, 0, self.width(), _BAR)
            QPainter(self).fillRect(bar, self.palette().highlight())

    def mousePressEvent(self, event: QMouseEvent) -> None:
        """A click anywhere picks the scheme."""
        super().mousePressEvent(event)
        self.picked.emit()


def scheme_of(widget: QObject | None) -> str:
    """Id of the scheme in whose column a widget stands, "" outside."""
    while widget is not None:
        found = widget.property("schemeId")
        if found:
            return str(found)
        widget = widget.parent()
    return ""
