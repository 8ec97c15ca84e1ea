"""The shelf laid out in rows of cards, with the picked paint's details opened under its row."""

from collections.abc import Sequence

from PySide6.QtCore import QEvent, QPointF, QRect, QSize, Qt, Signal
from PySide6.QtGui import QColor, QKeyEvent, QPainter, QPaintEvent, QPolygonF, QResizeEvent
from PySide6.QtWidgets import QSizePolicy, QWidget

from schemeforge.gui.keys import tell_keys
from schemeforge.gui.paints.card import CardInfo, PaintCard
from schemeforge.gui.theme import GAP, GAP_WIDE, Theme

_NOTCH = 10


class ShelfGrid(QWidget):
    """Cards in rows. Arrow keys walk from card to card, Enter or Space opens and closes one.

    Only one card can be reached with Tab, so that a long shelf is one stop, not hundreds.

    Signals:
        picked: Id of the paint whose card was clicked or entered; "" to close.
        asked: Key pressed on a card and its paint: "mix", "remove", "rename" or "duplicate".
        walked: The card that the keys moved to, to be scrolled into view.
        made: A card, when it is new.
    """

    picked = Signal(str)
    asked = Signal(str, str)
    walked = Signal(object)
    made = Signal(object)

    def __init__(self, details: QWidget, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.cards: list[PaintCard] = []
        self._spare: list[PaintCard] = []
        self._theme: Theme | None = None
        self._details = details
        details.setParent(self)
        details.hide()
        self._open_id = ""
        self._columns = 1
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Minimum)
        tell_keys(
            self,
            (self.tr("Arrows, Home, End, PgUp, PgDown"), self.tr("walk through the cards")),
            (self.tr("Enter"), self.tr("open or close the card")),
            (self.tr("Esc"), self.tr("close the card")),
            ("M", self.tr("put the paint into the picked coat's mix")),
            ("F2", self.tr("rename the paint")),
            ("D", self.tr("duplicate the paint")),
            (self.tr("Del"), self.tr("remove the paint from the shelf")),
        )

    def show_cards(self, infos: Sequence[CardInfo], open_id: str, theme: Theme) -> None:
        """Show these paints in this order, one of them opened."""
        self._theme = theme
        held = {card.paint_id: card for card in (*self.cards, *self._spare)}
        wanted = {info.paint.id for info in infos}
        free = [card for paint_id, card in held.items() if paint_id not in wanted]
        self.cards = []
        for info in infos:
            card = held.get(info.paint.id) or (free.pop() if free else self._new_card())
            card.show_info(info, theme)
            card.setChecked(info.paint.id == open_id)
            card.show()
            self.cards.append(card)
        self._spare = free
        for card in free:
            card.hide()
        self._open_id = open_id if open_id in wanted else ""
        self._details.setVisible(bool(self._open_id))
        self._set_tab_stop()
        self.arrange()
        self.update()

    def card(self, paint_id: str) -> PaintCard | None:
        """The card of that paint, None where it is not shown."""
        return next((card for card in self.cards if card.paint_id == paint_id), None)

    @property
    def columns(self) -> int:
        """Cards in a row."""
        return self._columns

    def arrange(self) -> None:
        """Place cards and details for the width at hand."""
        hint = self.cards[0].sizeHint() if self.cards else QSize(200, 100)
        width = max(self.width(), 1)
        self._columns = max(1, (width + GAP_WIDE) // (hint.width() + GAP_WIDE))
        each = (width - (self._columns - 1) * GAP_WIDE) // self._columns
        top = 0
        rows = [self.cards[n : n + self._columns] for n in range(0, len(self.cards), self._columns)]
        for row in rows:
            high = max(card.height_at(each) for card in row)
            for column, card in enumerate(row):
                card.setGeometry(column * (each + GAP_WIDE), top, each, high)
            top += high + GAP_WIDE
            if any(card.paint_id == self._open_id for card in row) and self._open_id:
                top += self._place_details(top, width)
        self.setMinimumHeight(max(top - GAP_WIDE + GAP, 0))

    def _place_details(self, top: int, width: int) -> int:
        layout = self._details.layout()
        high = self._details.sizeHint().height()
        if layout is not None and layout.hasHeightForWidth():
            high = layout.totalHeightForWidth(width)
        self._details.setGeometry(QRect(0, top, width, high))
        return high + GAP_WIDE

    def paintEvent(self, _event: QPaintEvent) -> None:
        """A notch that ties the details to their card."""
        card = self.card(self._open_id) if self._open_id else None
        if card is None or self._theme is None:
            return
        middle = float(card.geometry().center().x())
        top = float(self._details.y())
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        painter.setPen(Qt.PenStyle.NoPen)
        painter.setBrush(QColor(self._theme.panel))
        tip = QPointF(middle, top - _NOTCH)
        painter.drawPolygon(
            QPolygonF([QPointF(middle - _NOTCH, top + 1), tip, QPointF(middle + _NOTCH, top + 1)])
        )

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Other widths take other rows."""
        super().resizeEvent(event)
        self.arrange()

    def event(self, event: QEvent) -> bool:
        """Details that grew, or another font, move what lies below."""
        if event.type() in {QEvent.Type.LayoutRequest, QEvent.Type.FontChange}:
            self.arrange()
        return super().event(event)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Walk, open, close, and the picked card's own keys."""
        at = next((n for n, card in enumerate(self.cards) if card.hasFocus()), None)
        if at is None:
            super().keyPressEvent(event)
            return
        key, paint_id = Qt.Key(event.key()), self.cards[at].paint_id
        moves = {
            Qt.Key.Key_Left: at - 1,
            Qt.Key.Key_Right: at + 1,
            Qt.Key.Key_Up: at - self._columns,
            Qt.Key.Key_Down: at + self._columns,
            Qt.Key.Key_Home: 0,
            Qt.Key.Key_End: len(self.cards) - 1,
            Qt.Key.Key_PageUp: max(at - 3 * self._columns, at % self._columns),
            Qt.Key.Key_PageDown: min(at + 3 * self._columns, len(self.cards) - 1),
        }
        asks = {
            Qt.Key.Key_M: "mix",
            Qt.Key.Key_Delete: "remove",
            Qt.Key.Key_F2: "rename",
            Qt.Key.Key_D: "duplicate",
        }
        if key in moves:
            self._walk(moves[key])
        elif key in {Qt.Key.Key_Return, Qt.Key.Key_Enter}:
            self._on_clicked(self.cards[at])
        elif key is Qt.Key.Key_Escape and self._open_id:
            self.picked.emit("")
        elif key in asks:
            self.asked.emit(asks[key], paint_id)
        else:
            super().keyPressEvent(event)

    def focus_card(self, paint_id: str) -> None:
        """Put the focus on a paint's card, or on the first."""
        card = self.card(paint_id) or next(iter(self.cards), None)
        if card is not None:
            self._walk(self.cards.index(card))

    def _walk(self, to: int) -> None:
        if not 0 <= to < len(self.cards):
            return
        card = self.cards[to]
        card.setFocus(Qt.FocusReason.TabFocusReason)
        self._set_tab_stop()
        self.walked.emit(card)

    def _set_tab_stop(self) -> None:
        """The card with the focus, else the opened one, else the first can be tabbed to."""
        stop = next((card for card in self.cards if card.hasFocus()), None)
        stop = stop or self.card(self._open_id) or next(iter(self.cards), None)
        for card in self.cards:
            policy = Qt.FocusPolicy.StrongFocus if card is stop else Qt.FocusPolicy.ClickFocus
            if card.focusPolicy() is not policy:
                card.setFocusPolicy(policy)

    def _new_card(self) -> PaintCard:
        card = PaintCard(self)
        card.clicked.connect(lambda: self._on_clicked(card))
        self.made.emit(card)
        return card

    def _on_clicked(self, card: PaintCard) -> None:
        self.picked.emit("" if card.paint_id == self._open_id else card.paint_id)
        card.setChecked(card.paint_id == self._open_id)
