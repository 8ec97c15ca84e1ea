"""Asking for a recipe where a colour is shown: by menu, by key, and by a mark under the pointer."""

from collections.abc import Callable, Sequence
from typing import TYPE_CHECKING

from PySide6.QtCore import QEvent, QObject, QPoint, QPointF, QRectF, Qt
from PySide6.QtGui import (
    QContextMenuEvent,
    QKeyEvent,
    QKeySequence,
    QMouseEvent,
    QPainter,
    QPaintEvent,
    QPen,
)
from PySide6.QtWidgets import QMenu, QWidget

from schemeforge.gui.bridge import Bridge
from schemeforge.gui.icons import icon
from schemeforge.gui.keys import tell_keys, told_keys
from schemeforge.gui.reading import tr
from schemeforge.gui.recipes.choice import Choice, ZonePlace
from schemeforge.gui.theme import GAP_TIGHT, RADIUS
from schemeforge.gui.widgets.strip import ColourStrip
from schemeforge.paint import Paint

if TYPE_CHECKING:
    from schemeforge.gui.widgets.stand_in import StandInView

KEY = "Ctrl+R"
_MARK = 20


# What can be asked at a place of the widget, None for where the keys are; the first by the key.
Choices = Callable[[QPoint | None], Sequence[Choice]]


class RecipeOffer(QObject):
    """Gives a widget that shows a colour the ways to ask for a recipe.

    Args:
        widget: The widget; it keeps the offer alive.
        bridge: Asks the bench.
        choices: What can be asked there.
        mark: Whether the mark shows while the pointer or the focus is there.
    """

    def __init__(
        self, widget: QWidget, bridge: Bridge, choices: Choices, *, mark: bool = True
    ) -> None:
        super().__init__(widget)
        self._widget = widget
        self.bridge = bridge
        self._choices = choices
        self._has_mark = mark
        self.mark: _Mark | None = None
        known = [(key.keys, key.meaning) for key in told_keys(widget)]
        tell_keys(widget, *known, (KEY, tr("find a recipe for the colour")))
        widget.installEventFilter(self)

    def ask(self, at: QPoint | None = None) -> None:
        """Ask what the key asks."""
        choices = self.choices(at)
        if choices:
            self._do(choices[0])

    def choices(self, at: QPoint | None = None) -> Sequence[Choice]:
        """What can be asked at a place, or where the keys are."""
        return self._choices(at)

    def menu(self, at: QPoint | None) -> QMenu | None:
        """The menu at a place; None where nothing can be asked."""
        choices = self.choices(at)
        if not choices:
            return None
        menu = QMenu(self._widget)
        menu.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose)
        for n, choice in enumerate(choices):
            action = menu.addAction(choice.label.replace("&", "&&"))
            action.triggered.connect(lambda _on=False, c=choice: self._do(c))
            if n == 0:
                action.setShortcut(QKeySequence(KEY))
                action.setShortcutVisibleInContextMenu(True)
        return menu

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:
        """The context menu, the key, and the coming and going of the mark."""
        kind = event.type()
        if kind == QEvent.Type.ContextMenu and isinstance(event, QContextMenuEvent):
            by_mouse = event.reason() == QContextMenuEvent.Reason.Mouse
            menu = self.menu(event.pos() if by_mouse else None)
            if menu is not None:
                menu.popup(event.globalPos())
                return True
        elif kind in {QEvent.Type.ShortcutOverride, QEvent.Type.KeyPress}:
            return self._on_key(event)
        elif kind in {QEvent.Type.Enter, QEvent.Type.FocusIn}:
            self._show_mark()
        elif kind in {QEvent.Type.Leave, QEvent.Type.FocusOut} and self.mark is not None:
            self.mark.setVisible(self._widget.hasFocus() or self._widget.underMouse())
        elif kind == QEvent.Type.Resize and self.mark is not None:
            self.mark.place()
        return super().eventFilter(watched, event)

    def _on_key(self, event: QEvent) -> bool:
        """Take the key before the window's own shortcut does."""
        wanted = Qt.KeyboardModifier.ControlModifier
        if not isinstance(event, QKeyEvent) or (event.key(), event.modifiers()) != (
            Qt.Key.Key_R,
            wanted,
        ):
            return False
        if event.type() == QEvent.Type.ShortcutOverride:
            event.accept()
        else:
            self.ask()
        return True

    def _show_mark(self) -> None:
        if not self._has_mark:
            return
        if self.mark is None:
            self.mark = _Mark(self._widget, self)
        self.mark.place()
        self.mark.show()

    def _do(self, choice: Choice) -> None:
        if callable(choice.asked):
            choice.asked()
        else:
            self.bridge.asked.emit(choice.asked)


class _Mark(QWidget):
    """Two drops at the right end of a colour: a click asks for its recipe."""

    def __init__(self, widget: QWidget, offer: RecipeOffer) -> None:
        super().__init__(widget)
        self._offer = offer
        self._holder = widget
        self.setCursor(Qt.CursorShape.PointingHandCursor)
        self.setToolTip(tr("Find a recipe ({0})").format(KEY))

    def place(self) -> None:
        """At the right end, no higher than the widget."""
        holder = self._holder
        side = min(_MARK, holder.height() - 2)
        self.setGeometry(holder.width() - side - GAP_TIGHT, (_top(holder) - side) // 2, side, side)

    def paintEvent(self, _event: QPaintEvent) -> None:
        """The drops on a small plate, to be seen on any colour."""
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        palette = self.palette()
        painter.setPen(QPen(palette.mid().color(), 1))
        painter.setBrush(palette.button())
        painter.drawRoundedRect(QRectF(self.rect()).adjusted(0.5, 0.5, -0.5, -0.5), RADIUS, RADIUS)
        ink = palette.buttonText().color().name()
        icon("mix", ink).paint(painter, self.rect().adjusted(2, 2, -2, -2))

    def mousePressEvent(self, event: QMouseEvent) -> None:
        """The click is the mark's, not the strip's."""
        event.accept()

    def mouseReleaseEvent(self, event: QMouseEvent) -> None:
        """Ask."""
        if self.rect().contains(event.position().toPoint()):
            self._offer.ask(self.geometry().center())


def _top(holder: QWidget) -> int:
    """Height of the part of the widget that shows the colour: all of it, or its upper part."""
    shown = holder.property("colourHeight")
    return int(shown) if shown else holder.height()


def offer_zone(
    widget: QWidget,
    bridge: Bridge,
    where: Callable[[QPoint | None], ZonePlace | None],
    *,
    mark: bool = True,
) -> RecipeOffer:
    """Recipes for the zone shown at a place of the widget; None where there is none."""

    def choices(at: QPoint | None) -> list[Choice]:
        from schemeforge.gui.recipes.sources import zone_choices

        place = where(at)
        found = [] if place is None else zone_choices(bridge.state, place)
        return [*found, *_copying(widget)]

    return RecipeOffer(widget, bridge, choices, mark=mark)


def offer_reading(strip: ColourStrip, bridge: Bridge) -> RecipeOffer:
    """Recipes for the colour read on a strip, whatever it is the colour of."""

    def choices(at: QPoint | None) -> list[Choice]:
        from schemeforge.gui.recipes.sources import reading_choices

        place = strip_at(strip, at)
        return [*reading_choices(strip.reading(1.0 if place is None else place)), *_copying(strip)]

    return RecipeOffer(strip, bridge, choices)


def offer_paint(
    widget: QWidget, bridge: Bridge, paint_of: Callable[[], Paint | None], *, mark: bool = True
) -> RecipeOffer:
    """Mixes for a paint's colour, and what takes its place where it is used."""

    def choices(_at: QPoint | None) -> list[Choice]:
        from schemeforge.gui.recipes.sources import paint_choices

        paint = paint_of()
        found = [] if paint is None else paint_choices(bridge.state, paint)
        return [*found, *_copying(widget)]

    return RecipeOffer(widget, bridge, choices, mark=mark)


def offer_stand_in(view: "StandInView", bridge: Bridge, scheme_id: str = "") -> RecipeOffer:
    """Recipes for the zone under the pointer on a stand-in model, or for the picked one.

    Args:
        view: The model.
        bridge: The session joined to Qt.
        scheme_id: The scheme that it wears; the picked one where "".
    """

    def where(at: QPoint | None) -> ZonePlace | None:
        pick, zones = bridge.state.selection, bridge.state.project.zones
        shown = scheme_id or pick.scheme_id
        if at is None:
            return ZonePlace(shown, pick.zone_id)
        index = view.zone_index_at(QPointF(at))
        return None if index is None or index >= len(zones) else ZonePlace(shown, zones[index].id)

    return offer_zone(view, bridge, where, mark=False)


def strip_at(strip: ColourStrip, at: QPoint | None) -> float | None:
    """The place of a strip under the pointer, or that the keys read, 0 to 1; None for neither."""
    return strip.read_at if at is None else strip.place_at(at.x())


def _copying(widget: QWidget) -> list[Choice]:
    return (
        [Choice(tr("Copy what is read here"), widget.copy)]
        if isinstance(widget, ColourStrip)
        else []
    )
