"""The view in which paints are added: the ways to them, and the one chosen."""

from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QKeySequence, QShortcut
from PySide6.QtWidgets import QHBoxLayout, QPushButton, QStackedWidget, QVBoxLayout, QWidget

from schemeforge.desk import DeskState
from schemeforge.gui.adding.way_view import WayView
from schemeforge.gui.adding.ways import Way, Ways
from schemeforge.gui.bridge import Bridge
from schemeforge.gui.icons import icon
from schemeforge.gui.tab_order import reading_order
from schemeforge.gui.theme import GAP, theme_of


class AddingView(QWidget):
    """Stands in place of the shelf until a paint is added or the painter goes back.

    Signals:
        left: The painter wants the shelf again.
        shelved: Id of the paint put on the shelf.
    """

    left = Signal()
    shelved = Signal(str)

    def __init__(self, bridge: Bridge, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.bridge = bridge
        self.back = QPushButton()
        self.back.setProperty("role", "quiet")
        self.ways = Ways()
        self._made: dict[Way, WayView] = {}
        self._stack = QStackedWidget()
        self._stack.addWidget(self.ways)
        top = QHBoxLayout()
        top.addWidget(self.back)
        top.addStretch(1)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(GAP)
        column.addLayout(top)
        column.addWidget(self._stack, 1)
        self.ways.chosen.connect(self.open)
        self.back.clicked.connect(self.go_back)
        escape = QShortcut(QKeySequence(Qt.Key.Key_Escape), self)
        escape.setContext(Qt.ShortcutContext.WidgetWithChildrenShortcut)
        escape.setWhatsThis(self.tr("Back, from adding paints"))
        escape.activated.connect(self.go_back)
        self._name_back()
        self._known: DeskState | None = None
        self.show_state(bridge.state)

    @property
    def way(self) -> Way | None:
        """The way chosen, None while they are offered."""
        shown = self._stack.currentWidget()
        return next((way for way, view in self._made.items() if view is shown), None)

    def open(self, way: Way) -> WayView:
        """Go one of the ways."""
        view = self._made.get(way)
        if view is None:
            view = _make(way, self.bridge)
            view.shelved.connect(self.shelved)
            self._made[way] = view
            self._stack.addWidget(view)
        view.show_state(None, self.bridge.state)
        self._stack.setCurrentWidget(view)
        self._name_back()
        self.focus_inside()
        return view

    def go_back(self) -> None:
        """From a way to the ways, from there to the shelf."""
        way = self.way
        if way is None:
            self.left.emit()
            return
        if self._made[way].step_back():
            return
        self._stack.setCurrentWidget(self.ways)
        self._name_back()
        self.ways.buttons[way].setFocus()

    def offer_ways(self) -> None:
        """Begin with the ways."""
        self._stack.setCurrentWidget(self.ways)
        self._name_back()
        self.focus_inside()

    def focus_inside(self) -> None:
        """The focus on the first thing to do."""
        shown = self._stack.currentWidget()
        first = None if shown is None else next(iter(reading_order(shown)), None)
        if first is not None:
            first.setFocus(Qt.FocusReason.OtherFocusReason)

    def show_state(self, new: DeskState) -> None:
        """Hand on what changed since the last state shown; much may have while the page was not."""
        old, self._known = self._known, new
        surround = new.preferences.surround
        if old is None or old.preferences.surround is not surround:
            self.ways.dress(surround)
            self.back.setIcon(icon("left", theme_of(surround).text))
        for view in self._made.values():
            view.show_state(old, new)

    def _name_back(self) -> None:
        chosen = self.way is not None
        self.back.setText(self.tr("All ways") if chosen else self.tr("Back to the shelf"))
        self.back.setToolTip(self.tr("{0} (Esc)").format(self.back.text()))


def _make(way: Way, bridge: Bridge) -> WayView:
    """The view of a way; each is imported when first gone."""
    if way is Way.READINGS:
        from schemeforge.gui.adding.readings_view import ReadingsView

        return ReadingsView(bridge)
    if way is Way.PHOTOGRAPH:
        from schemeforge.gui.adding.photo_view import PhotoView

        return PhotoView(bridge)
    if way is Way.TEST_MODEL:
        from schemeforge.gui.adding.model_view import ModelView

        return ModelView(bridge)
    from schemeforge.gui.adding.colours_view import OneColour, TwoColours

    return TwoColours(bridge) if way is Way.TWO_COLOURS else OneColour(bridge)
