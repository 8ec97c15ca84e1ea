"""The rail at the left edge: the five pages in the order of the job."""

from html import escape

from PySide6.QtCore import QSize, Qt, Signal
from PySide6.QtGui import QMouseEvent
from PySide6.QtWidgets import (
    QButtonGroup,
    QFrame,
    QLabel,
    QSizePolicy,
    QToolButton,
    QVBoxLayout,
    QWidget,
)

from schemeforge.desk import DeskState, Page
from schemeforge.gui.bridge import Bridge
from schemeforge.gui.counting import counted
from schemeforge.gui.icons import icon
from schemeforge.gui.theme import GAP, GAP_WIDE, theme_of

_WIDTH = 128


class ProjectName(QLabel):
    """The project's name; a click asks for another, as the Project menu does.

    Signals:
        clicked: Another name is wanted.
    """

    clicked = Signal()

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setProperty("role", "heading")
        self.setWordWrap(True)
        self.setTextFormat(Qt.TextFormat.PlainText)
        self.setCursor(Qt.CursorShape.PointingHandCursor)

    def show_note(self, note: str) -> None:
        """The note is one hover away."""
        hint = self.tr("Click to change the name of the project and its note (Shift+F2)")
        tip = f"{hint}\n\n{note}".strip()
        if "<" in note:  # a tooltip would read it as markup
            tip = f"<qt>{escape(tip)}</qt>".replace("\n", "<br>")
        self.setToolTip(tip)

    def mouseReleaseEvent(self, event: QMouseEvent) -> None:
        """A click asks for another name."""
        super().mouseReleaseEvent(event)
        if event.button() == Qt.MouseButton.LeftButton and self.rect().contains(
            event.position().toPoint()
        ):
            self.clicked.emit()


class Rail(QFrame):
    """Project name, pages, and how many models there are.

    Signals:
        asked: The project is to have another name.
    """

    asked = Signal()

    def __init__(self, bridge: Bridge, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.bridge = bridge
        self.setMinimumWidth(_WIDTH)
        self.setSizePolicy(QSizePolicy.Policy.Fixed, QSizePolicy.Policy.Expanding)
        self.setProperty("role", "rail")
        self._name = ProjectName()
        self._name.clicked.connect(self.asked)
        self._saved = QLabel()
        self._saved.setProperty("role", "muted")
        self._models = QLabel()
        self._models.setProperty("role", "muted")
        self._models.setWordWrap(True)
        self._group = QButtonGroup(self)
        self.buttons: dict[Page, QToolButton] = {}
        column = QVBoxLayout(self)
        column.setContentsMargins(GAP, GAP_WIDE, GAP, GAP_WIDE)
        column.setSpacing(GAP)
        column.addWidget(self._name)
        column.addWidget(self._saved)
        column.addSpacing(GAP_WIDE)
        for number, (page, label, tip) in enumerate(self._pages(), 1):
            column.addWidget(self._button(page, label, f"{tip} (Ctrl+{number})"))
        column.addStretch(1)
        column.addWidget(self._models)
        bridge.changed.connect(self._show)
        self._show(None, bridge.state)

    def _pages(self) -> list[tuple[Page, str, str]]:
        return [
            (Page.PAINTS, self.tr("Paints"), self.tr("The shelf and where its colours come from")),
            (Page.COATS, self.tr("Coats"), self.tr("A cut through the paint of one zone")),
            (Page.SCHEMES, self.tr("Schemes"), self.tr("Candidates side by side")),
            (Page.BATCH, self.tr("Batch"), self.tr("Models, zones and who gets what")),
            (Page.SHEET, self.tr("Sheet"), self.tr("The sheet for the desk")),
        ]

    def _button(self, page: Page, label: str, tip: str) -> QToolButton:
        button = QToolButton()
        button.setText(label)
        button.setToolTip(tip)
        button.setCheckable(True)
        button.setProperty("role", "quiet")
        button.setToolButtonStyle(Qt.ToolButtonStyle.ToolButtonTextBesideIcon)
        button.setIconSize(QSize(20, 20))
        button.setMinimumWidth(_WIDTH - 2 * GAP)
        button.setMinimumHeight(36)
        button.setSizePolicy(QSizePolicy.Policy.MinimumExpanding, QSizePolicy.Policy.Fixed)
        button.clicked.connect(lambda: self.bridge.session.select(page=page))
        self._group.addButton(button)
        self.buttons[page] = button
        return button

    def _show(self, old: DeskState | None, new: DeskState) -> None:
        if old is None or old.project.name != new.project.name:
            self._name.setText(new.project.name)
        if old is None or old.project.note != new.project.note:
            self._name.show_note(new.project.note)
        if old is None or old.is_saved != new.is_saved:
            self._saved.setText("" if new.is_saved else self.tr("not saved"))
        if old is None or old.project.groups is not new.project.groups:
            models = sum(group.count for group in new.project.groups)
            self._models.setText(counted(models, self.tr("{0} model"), self.tr("{0} models")))
        dressed = (new.selection.page, new.preferences.surround)
        if old is not None and dressed == (old.selection.page, old.preferences.surround):
            return  # icons set anew would lay the whole window out anew
        theme = theme_of(new.preferences.surround)
        for page, button in self.buttons.items():
            on = page is new.selection.page
            button.setChecked(on)
            button.setIcon(icon(f"page-{page.value}", theme.on_accent if on else theme.text))
