"""A recipe's card: its colour touching the target's, what to mix, and what speaks for it."""

import numpy as np
from numpy.typing import NDArray
from PySide6.QtCore import QRectF, Qt, Signal
from PySide6.QtGui import QColor, QGuiApplication, QMouseEvent, QPainter, QPaintEvent, QPen
from PySide6.QtWidgets import QFrame, QHBoxLayout, QLabel, QPushButton, QVBoxLayout, QWidget

from schemeforge import colorimetry
from schemeforge.gui.recipes.answers import Answer, Slip
from schemeforge.gui.recipes.words import CardText
from schemeforge.gui.theme import GAP, GAP_TIGHT, RADIUS, Theme
from schemeforge.gui.widgets.labels import words
from schemeforge.gui.widgets.strip import ColourStrip
from schemeforge.recipe.target import Lab

_TARGET, _RESULT = 26, 40


def strip_xyz(lab: tuple[Lab, ...]) -> NDArray[np.float64]:
    """Colours as a strip takes them: a single one twice, XYZ ``(points, 3)``."""
    rows = lab if len(lab) > 1 else lab * 2
    return np.asarray(colorimetry.xyz_from_lab(np.array(rows)))


class RecipeCard(QFrame):
    """One answer. Enter puts it into a coat, Ctrl+C copies it; arrows walk, which the grid does.

    Signals:
        put: It is to go into a coat.
        copied: Its words are on the clipboard.
        entered: The focus came, or a click.
    """

    put = Signal()
    copied = Signal()
    entered = Signal()

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setProperty("role", "panel")
        self.setFocusPolicy(Qt.FocusPolicy.ClickFocus)
        self.answer: Answer | None = None
        self.text: CardText | None = None
        self._theme: Theme | None = None
        self.is_in = False
        self.target = _strip(self.tr("target"), _TARGET)
        self.result = _strip(self.tr("with this recipe"), _RESULT)
        self.near = words("", "heading")
        self.state = words("", "muted")
        self._lines: list[tuple[QLabel, QLabel]] = []
        self.notes = words("", "muted")
        self.why = words("", "muted")
        self.put_button = QPushButton(self.tr("Put into a coat"))
        self.copy_button = QPushButton(self.tr("Copy"))
        self.copy_button.setToolTip(self.tr("Copy the recipe as text (Ctrl+C on the card)"))
        self.put_button.clicked.connect(self.put)
        self.copy_button.clicked.connect(self.copy)
        self._mixes = QVBoxLayout()
        self._mixes.setSpacing(1)
        self._assemble()

    def _assemble(self) -> None:
        strips = QVBoxLayout()
        strips.setSpacing(0)
        strips.addWidget(self.target)
        strips.addWidget(self.result)
        head = QHBoxLayout()
        head.addWidget(self.near, 1)
        head.addWidget(self.state)
        buttons = QHBoxLayout()
        buttons.setSpacing(GAP)
        buttons.addWidget(self.put_button)
        buttons.addWidget(self.copy_button)
        buttons.addStretch(1)
        column = QVBoxLayout(self)
        column.setContentsMargins(GAP, GAP, GAP, GAP)
        column.setSpacing(GAP_TIGHT)
        column.addLayout(strips)
        column.addLayout(head)
        column.addLayout(self._mixes)
        column.addWidget(self.notes)
        column.addWidget(self.why)
        column.addStretch(1)
        column.addLayout(buttons)

    def show_answer(
        self, place: int, slip: Slip, answer: Answer, text: CardText, theme: Theme, *, is_in: bool
    ) -> None:
        """Show an answer.

        Args:
            place: Its place in the order, from 1.
            slip: The target.
            answer: The answer.
            text: Its words.
            theme: The surround.
            is_in: True where it is in a coat now.
        """
        self.answer, self.text, self._theme, self.is_in = answer, text, theme, is_in
        self.target.set_ramp(strip_xyz(slip.target))
        self.result.set_ramp(strip_xyz(answer.lab))
        self.near.setText(f"{place}   {text.near}")
        self.state.setText(self.tr("in a coat") if is_in else "")
        self.state.setVisible(is_in)
        self._show_mixes(text.mixes)
        for label, line in ((self.notes, "  ·  ".join(text.notes)), (self.why, text.why)):
            label.setText(line)
            label.setVisible(bool(line))
        self.put_button.setEnabled(answer.has_place and not is_in)
        name = self.tr("recipe {0}").format(place)
        self.setAccessibleName(f"{name}: {text.near}")
        self.setAccessibleDescription(text.plain)
        for button in (self.put_button, self.copy_button):
            button.setAccessibleName(f"{button.text()}, {name}")
        self.update()

    def show_put_words(self, words: str) -> None:
        """What putting it in would do, as the tooltip of the button."""
        self.put_button.setToolTip(words)
        self.put_button.setAccessibleDescription(words)

    def _show_mixes(self, mixes: tuple[tuple[str, str], ...]) -> None:
        while len(self._lines) < len(mixes):
            pair = words(""), words("", "muted")
            self._lines.append(pair)
            for label in pair:
                self._mixes.addWidget(label)
        for n, pair in enumerate(self._lines):
            for label, text in zip(pair, mixes[n] if n < len(mixes) else ("", ""), strict=True):
                label.setText(text)
                label.setVisible(bool(text))

    def set_stop(self, *, is_stop: bool) -> None:
        """Whether the Tab key stops here, and at its buttons."""
        policy = Qt.FocusPolicy.StrongFocus if is_stop else Qt.FocusPolicy.ClickFocus
        self.setFocusPolicy(policy)
        for button in (self.put_button, self.copy_button):
            button.setFocusPolicy(policy)

    def copy(self) -> None:
        """Put the recipe's words on the clipboard."""
        if self.text is not None:
            QGuiApplication.clipboard().setText(self.text.plain)
            self.copied.emit()

    def height_at(self, width: int) -> int:
        """Height that it wants at that width."""
        layout = self.layout()
        return self.sizeHint().height() if layout is None else layout.totalHeightForWidth(width)

    def mousePressEvent(self, event: QMouseEvent) -> None:
        """A click picks the card."""
        super().mousePressEvent(event)
        self.entered.emit()

    def paintEvent(self, event: QPaintEvent) -> None:
        """The panel, and a frame of focus or of being in a coat."""
        super().paintEvent(event)
        if self._theme is None:
            return
        wide = 3.0 if self.hasFocus() else 2.0 if self.is_in else 1.0
        colour = self._theme.accent if self.hasFocus() or self.is_in else self._theme.line
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        painter.setPen(QPen(QColor(colour), wide))
        box = QRectF(self.rect()).adjusted(wide / 2, wide / 2, -wide / 2, -wide / 2)
        painter.drawRoundedRect(box, RADIUS, RADIUS)


def _strip(name: str, height: int) -> ColourStrip:
    """A strip that the pointer reads and the keys pass by: the card reads it."""
    strip = ColourStrip(name, height=height)
    strip.setFocusPolicy(Qt.FocusPolicy.NoFocus)
    return strip
