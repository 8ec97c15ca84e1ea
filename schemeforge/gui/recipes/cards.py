"""The cards in rows, group by group; the keys walk from card to card."""

from collections.abc import Sequence

from PySide6.QtCore import QEvent, Qt, Signal
from PySide6.QtGui import QKeyEvent, QResizeEvent
from PySide6.QtWidgets import QLabel, QSizePolicy, QWidget

from schemeforge.gui.keys import tell_keys
from schemeforge.gui.recipes.card import RecipeCard
from schemeforge.gui.theme import GAP, GAP_WIDE
from schemeforge.gui.widgets.labels import words

_LETTERS = 40


class CardGrid(QWidget):
    """Cards in as many columns as there is room for, all of a row as high as the highest.

    Only one card takes the Tab key, so that the answers are one stop.

    Signals:
        put: A card is to go into a coat.
        copied: A card is on the clipboard.
        walked: The card that the keys moved to, to be scrolled into view.
    """

    put = Signal(object)
    copied = Signal(object)
    walked = Signal(object)

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.cards: list[RecipeCard] = []
        self._spare: list[RecipeCard] = []
        self._headings: list[QLabel] = []
        self._counts: list[int] = []
        self._columns = 1
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Minimum)
        tell_keys(
            self,
            (self.tr("Arrows, Home, End"), self.tr("walk through the recipes")),
            (self.tr("Enter"), self.tr("put the recipe into a coat")),
            ("Ctrl+C", self.tr("copy the recipe")),
        )

    @property
    def columns(self) -> int:
        """Cards in a row."""
        return self._columns

    def show_groups(self, groups: Sequence[tuple[str, int]]) -> list[RecipeCard]:
        """Room for groups of cards, ``(heading, how many)``; the cards are to be filled."""
        count = sum(many for _, many in groups)
        while len(self.cards) > count:
            card = self.cards.pop()
            card.hide()
            self._spare.append(card)
        while len(self.cards) < count:
            self.cards.append(self._spare.pop() if self._spare else self._new_card())
        while len(self._headings) < len(groups):
            heading = words("", "heading")
            heading.setParent(self)
            self._headings.append(heading)
        for n, heading in enumerate(self._headings):
            heading.setText(groups[n][0] if n < len(groups) else "")
            heading.setVisible(n < len(groups) and bool(groups[n][0]))
        self._counts = [many for _, many in groups]
        for card in self.cards:
            card.show()
        self._set_stop()
        return self.cards

    def arrange(self) -> None:
        """Place headings and cards for the width at hand."""
        width = max(self.width(), 1)
        wide = self.fontMetrics().averageCharWidth() * _LETTERS
        self._columns = max(1, (width + GAP_WIDE) // (wide + GAP_WIDE))
        each = (width - (self._columns - 1) * GAP_WIDE) // self._columns
        top, first = 0, 0
        for heading, many in zip(self._headings, self._counts, strict=False):
            if not heading.isHidden():
                high = heading.heightForWidth(width)
                heading.setGeometry(0, top, width, high)
                top += high + GAP
            for row in range(first, first + many, self._columns):
                top = self._arrange_row(
                    self.cards[row : min(row + self._columns, first + many)], top, each
                )
            first += many
        self.setMinimumHeight(max(top, 0))

    def _arrange_row(self, cards: list[RecipeCard], top: int, each: int) -> int:
        high = max(card.height_at(each) for card in cards)
        for column, card in enumerate(cards):
            card.setGeometry(column * (each + GAP_WIDE), top, each, high)
        return top + high + GAP_WIDE

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Other widths take other rows."""
        super().resizeEvent(event)
        self.arrange()

    def event(self, event: QEvent) -> bool:
        """Cards with other words have another height."""
        if event.type() in {QEvent.Type.LayoutRequest, QEvent.Type.FontChange}:
            self.arrange()
        return super().event(event)

    def focus_first(self) -> None:
        """Put the focus on the first card."""
        if self.cards:
            self._walk(0)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Walk, put and copy."""
        at = next((n for n, card in enumerate(self.cards) if card.hasFocus()), None)
        if at is None:
            super().keyPressEvent(event)
            return
        key, card = Qt.Key(event.key()), self.cards[at]
        moves = {
            Qt.Key.Key_Left: at - 1,
            Qt.Key.Key_Right: at + 1,
            Qt.Key.Key_Up: at - self._columns,
            Qt.Key.Key_Down: at + self._columns,
            Qt.Key.Key_Home: 0,
            Qt.Key.Key_End: len(self.cards) - 1,
        }
        has_control = bool(event.modifiers() & Qt.KeyboardModifier.ControlModifier)
        if key in moves:
            self._walk(moves[key])
        elif key in {Qt.Key.Key_Return, Qt.Key.Key_Enter, Qt.Key.Key_Space}:
            if card.put_button.isEnabled():
                self.put.emit(card)
        elif key is Qt.Key.Key_C and has_control:
            card.copy()
        else:
            super().keyPressEvent(event)

    def _walk(self, to: int) -> None:
        if 0 <= to < len(self.cards):
            card = self.cards[to]
            self._set_stop(card)
            card.setFocus(Qt.FocusReason.TabFocusReason)
            self.walked.emit(card)

    def _set_stop(self, wanted: RecipeCard | None = None) -> None:
        """One card takes the Tab key: the wanted, else that with the focus, else the first."""
        stop = wanted or next((card for card in self.cards if card.hasFocus()), None)
        stop = stop or next(iter(self.cards), None)
        for card in (*self.cards, *self._spare):
            card.set_stop(is_stop=card is stop)

    def _new_card(self) -> RecipeCard:
        card = RecipeCard(self)
        card.put.connect(lambda: self.put.emit(card))
        card.copied.connect(lambda: self.copied.emit(card))
        card.entered.connect(lambda: self._set_stop(card))
        return card
