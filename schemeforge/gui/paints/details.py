"""The picked paint, opened under its row: its colours, its spectrum, and what can be edited."""

from collections.abc import Callable
from dataclasses import replace

from PySide6.QtCore import QSignalBlocker, Qt, Signal
from PySide6.QtWidgets import (
    QComboBox,
    QFrame,
    QHBoxLayout,
    QLabel,
    QLineEdit,
    QPlainTextEdit,
    QPushButton,
    QVBoxLayout,
    QWidget,
)

from schemeforge.gui.icons import icon
from schemeforge.gui.paints.spectrum import SpectrumPlot
from schemeforge.gui.paints.swatches import Swatch
from schemeforge.gui.paints.words import basis_words, kind_words, sure_words
from schemeforge.gui.theme import GAP, GAP_TIGHT, GAP_WIDE, Theme
from schemeforge.gui.widgets.field import Field, NumberBox
from schemeforge.gui.widgets.flow import Flow
from schemeforge.gui.widgets.strip import ColourStrip
from schemeforge.paint import Paint, PaintKind

Change = Callable[[Paint], Paint]
# Stands for "not known" in the boxes; a whole step below nothing, so that no rounding meets it.
_UNKNOWN = -1.0


class PaintDetails(QFrame):
    """Everything about one paint.

    Signals:
        edited: Label of an edit, what it does to the paint, and its merge key.
        asked: "mix", "recipe", "duplicate", "remove" or "close".
    """

    edited = Signal(str, object, str)
    asked = Signal(str)

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setProperty("role", "panel")
        self._paint: Paint | None = None
        self._make_fields()
        self.strips = tuple(ColourStrip(name, height=26) for name in self._grounds())
        self.spectrum = SpectrumPlot()
        self._data = QLabel()
        self._data.setWordWrap(True)
        self._data.setTextFormat(Qt.TextFormat.PlainText)
        self.buttons = self._make_buttons()
        self._assemble()
        self._connect()

    def _grounds(self) -> tuple[str, str, str]:
        return self.tr("Over black"), self.tr("Over grey"), self.tr("Over off-white")

    def _make_fields(self) -> None:
        self.name = QLineEdit()
        self.name.setMaxLength(120)
        self.name.setMinimumWidth(self.fontMetrics().averageCharWidth() * 52)
        self.kind = QComboBox()
        for kind in PaintKind:
            if kind is not PaintKind.WATER:
                self.kind.addItem(kind_words(kind), kind.value)
        self.pigment = QLineEdit()
        self.pigment.setMaxLength(120)
        self.pigment.setToolTip(
            self.tr("Colour Index generic name of the pigment that it resembles, where known")
        )
        box = NumberBox
        self.solids = box(
            self.tr("Solids by volume"), low=0, high=100, step=1, decimals=1, unit="%"
        )
        self.density = box(
            self.tr("Density"), low=0.3, high=5.0, step=0.05, decimals=2, unit="g/ml"
        )
        self.bottle = box(self.tr("Bottle"), low=0.1, high=10000, step=1, decimals=1, unit="ml")
        self.left = box(self.tr("Left"), low=_UNKNOWN, high=100000, step=1, decimals=1, unit="ml")
        self.price = box(self.tr("Price of a bottle"), low=_UNKNOWN, high=1e6, step=0.5, decimals=2)
        for unknown in (self.left, self.price):
            unknown.setSpecialValueText(self.tr("not known"))
            unknown.setToolTip(
                self.tr("{0}; the lowest value stands for not known").format(unknown.toolTip())
            )
        self.note = QPlainTextEdit()
        self.note.setTabChangesFocus(True)
        self.note.setAccessibleName(self.tr("Note"))
        self.note.setPlaceholderText(self.tr("A note of your own"))
        self.note.setFixedHeight(self.fontMetrics().lineSpacing() * 3 + 2 * GAP)

    def _make_buttons(self) -> dict[str, QPushButton]:
        labels = {
            "mix": (self.tr("Put into the picked coat's mix"), "M"),
            "recipe": (self.tr("Find a mix for it"), "Ctrl+R"),
            "duplicate": (self.tr("Duplicate"), "D"),
            "remove": (self.tr("Remove from the shelf"), self.tr("Delete")),
            "close": (self.tr("Close"), self.tr("Escape")),
        }
        buttons = {}
        for what, (label, key) in labels.items():
            button = QPushButton(label)
            button.setToolTip(self.tr("{0} (key on the card: {1})").format(label, key))
            button.clicked.connect(lambda _on=False, w=what: self.asked.emit(w))
            buttons[what] = button
        return buttons

    def _assemble(self) -> None:
        head = Flow()
        head.add(Field(self.tr("Name"), self.name))
        head.add(Field(self.tr("Kind"), self.kind))
        head.add(Field(self.tr("Pigment"), self.pigment))
        colours = QVBoxLayout()
        colours.setSpacing(GAP_TIGHT)
        for name, strip in zip(self._grounds(), self.strips, strict=True):
            label = QLabel(name)
            label.setProperty("role", "muted")
            colours.addWidget(label)
            colours.addWidget(strip)
        films = QLabel(self.tr("Bare card, then 5 to 60 µm of wet film, left to right"))
        films.setProperty("role", "muted")
        films.setWordWrap(True)
        colours.addWidget(films)
        colours.addStretch(1)
        facts = Flow()
        for caption, control in (
            (self.tr("Left"), self.left),
            (self.tr("Bottle"), self.bottle),
            (self.tr("Price of a bottle"), self.price),
            (self.tr("Solids by volume"), self.solids),
            (self.tr("Density"), self.density),
        ):
            facts.add(Field(caption, control))
        right = QVBoxLayout()
        right.setSpacing(GAP)
        right.addWidget(self._data)
        right.addWidget(facts)
        right.addWidget(self.note)
        right.addStretch(1)
        body = QHBoxLayout()
        body.setSpacing(GAP_WIDE)
        body.addLayout(colours, 3)
        body.addWidget(self.spectrum, 3)
        body.addLayout(right, 4)
        actions = Flow()
        for button in self.buttons.values():
            actions.add(button)
        column = QVBoxLayout(self)
        column.setContentsMargins(GAP_WIDE, GAP_WIDE, GAP_WIDE, GAP_WIDE)
        column.setSpacing(GAP_WIDE)
        column.addWidget(head)
        column.addLayout(body)
        column.addWidget(actions)

    def _connect(self) -> None:
        self.name.editingFinished.connect(self._on_name)
        self.kind.activated.connect(self._on_kind)
        self.pigment.editingFinished.connect(self._on_pigment)
        self.note.textChanged.connect(self._on_note)
        for box, label, change in (
            (self.solids, self.tr("solids"), _solids),
            (self.density, self.tr("density"), _density),
            (self.bottle, self.tr("bottle"), _bottle),
            (self.left, self.tr("what is left"), _left),
            (self.price, self.tr("price"), _price),
        ):
            box.valueChanged.connect(
                lambda value, w=label, c=change: self._edit(w, lambda p: c(p, value))
            )

    def show_paint(
        self, paint: Paint, swatch: Swatch, theme: Theme, *, numbers: bool, cannot_mix: str
    ) -> None:
        """Show a paint.

        Args:
            paint: The paint.
            swatch: Its colours.
            theme: The surround.
            numbers: True where figures are shown.
            cannot_mix: Why it cannot be put into a mix now, "" where it can.
        """
        fresh = self._paint is None or self._paint.id != paint.id
        self._paint = paint
        for strip, ramp in zip(self.strips, swatch.xyz, strict=True):
            strip.set_ramp(ramp, numbers=numbers)
        self.spectrum.show_paint(paint, theme)
        self._data.setText(f"{basis_words(paint.basis)}; {sure_words(paint, numbers=numbers)}")
        _write(self.name, paint.name, fresh=fresh)
        _write(self.pigment, paint.colour_index, fresh=fresh)
        with QSignalBlocker(self.kind):
            self.kind.setCurrentIndex(self.kind.findData(paint.kind.value))
        if self.note.toPlainText() != paint.note:
            with QSignalBlocker(self.note):
                self.note.setPlainText(paint.note)
        stock = paint.stock
        for box, value in (
            (self.solids, 100.0 * paint.volume_solids),
            (self.density, paint.density_g_per_ml),
            (self.bottle, stock.bottle_ml),
            (self.left, _UNKNOWN if stock.left_ml is None else stock.left_ml),
            (self.price, _UNKNOWN if stock.price is None else stock.price),
        ):
            box.show_value(value)
        mix = self.buttons["mix"]
        mix.setEnabled(not cannot_mix)
        mix.setAccessibleDescription(cannot_mix)
        mix.setToolTip(cannot_mix or self.tr("{0} (key on the card: M)").format(mix.text()))
        mix.setIcon(icon("add", theme.text))

    def rename(self) -> None:
        """Put the cursor into the name."""
        self.name.setFocus()
        self.name.selectAll()

    def _edit(self, label: str, change: Change, merge: str = "") -> None:
        if self._paint is not None:
            self.edited.emit(label, change, merge)

    def _on_name(self) -> None:
        name = self.name.text()
        if self._paint is not None and name != self._paint.name:
            self.name.setModified(False)
            self._edit(self.tr("rename paint"), lambda p: replace(p, name=name))

    def _on_pigment(self) -> None:
        text = self.pigment.text()
        if self._paint is not None and text != self._paint.colour_index:
            self.pigment.setModified(False)
            self._edit(self.tr("pigment"), lambda p: replace(p, colour_index=text))

    def _on_kind(self) -> None:
        kind = PaintKind(self.kind.currentData())
        self._edit(self.tr("kind of paint"), lambda p: replace(p, kind=kind))

    def _on_note(self) -> None:
        text = self.note.toPlainText()
        self._edit(self.tr("note on a paint"), lambda p: replace(p, note=text), "paint-note")


def _solids(paint: Paint, value: float) -> Paint:
    return replace(paint, volume_solids=value / 100.0)


def _density(paint: Paint, value: float) -> Paint:
    return replace(paint, density_g_per_ml=value)


def _bottle(paint: Paint, value: float) -> Paint:
    return replace(paint, stock=replace(paint.stock, bottle_ml=value))


def _left(paint: Paint, value: float) -> Paint:
    return replace(paint, stock=replace(paint.stock, left_ml=_known(value)))


def _price(paint: Paint, value: float) -> Paint:
    return replace(paint, stock=replace(paint.stock, price=_known(value)))


def _known(value: float) -> float | None:
    return None if value < 0.0 else value


def _write(line: QLineEdit, text: str, *, fresh: bool) -> None:
    """Write a line unless the user is just typing in it."""
    if fresh or not (line.hasFocus() and line.isModified()):
        with QSignalBlocker(line):
            if line.text() != text:
                line.setText(text)
