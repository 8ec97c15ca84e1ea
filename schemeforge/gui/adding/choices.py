"""Choices that several ways to a paint share, as boxes that know their own values."""

from collections.abc import Sequence
from typing import Generic, TypeVar

from PySide6.QtCore import QSignalBlocker
from PySide6.QtWidgets import QComboBox, QWidget

from schemeforge.calibration import BLACK, GREY, WHITE
from schemeforge.gui.paints.words import kind_words
from schemeforge.gui.reading import tr
from schemeforge.paint import PaintKind
from schemeforge.scheme import Finish

T = TypeVar("T")
_WIDEST = 44  # characters of a box; longer values are cut, and whole in its list
CARDS = {"black": BLACK, "grey": GREY, "white": WHITE}
KINDS = (
    PaintKind.OPAQUE,
    PaintKind.TRANSLUCENT,
    PaintKind.WASH,
    PaintKind.INK,
    PaintKind.PRIMER,
)


class Choice(QComboBox, Generic[T]):
    """A box of named values."""

    def __init__(
        self, name: str, options: Sequence[tuple[str, T]], parent: QWidget | None = None
    ) -> None:
        super().__init__(parent)
        self.setAccessibleName(name)
        # Other options may come long after it was first shown.
        self.setSizeAdjustPolicy(QComboBox.SizeAdjustPolicy.AdjustToContents)
        self.setMaximumWidth(self.fontMetrics().averageCharWidth() * _WIDEST)
        self._values: list[T] = []
        self.offer(options)

    def offer(self, options: Sequence[tuple[str, T]]) -> None:
        """Other options; the value stays where it is among them."""
        before = self.value if self._values else None
        with QSignalBlocker(self):
            self.clear()
            self._values = [value for _, value in options]
            self.addItems([label for label, _ in options])
            if before in self._values:
                self.setCurrentIndex(self._values.index(before))

    @property
    def value(self) -> T:
        """The value picked."""
        return self._values[max(self.currentIndex(), 0)]

    def pick(self, value: T) -> None:
        """Pick a value without telling anyone."""
        with QSignalBlocker(self):
            self.setCurrentIndex(self._values.index(value))


def kind_choice(name: str, *, may_be_unknown: bool = True) -> "Choice[PaintKind | None]":
    """What kind of paint it is."""
    known: list[tuple[str, PaintKind | None]] = [(kind_words(kind), kind) for kind in KINDS]
    unknown: list[tuple[str, PaintKind | None]] = [(tr("not sure"), None)]
    return Choice(name, (unknown if may_be_unknown else []) + known)


def finish_choice(name: str, *, may_be_unknown: bool = True) -> "Choice[Finish | None]":
    """How what was seen was varnished."""
    known: list[tuple[str, Finish | None]] = [
        (tr("matt"), Finish.MATT),
        (tr("unvarnished"), Finish.UNVARNISHED),
        (tr("satin"), Finish.SATIN),
        (tr("gloss"), Finish.GLOSS),
    ]
    unknown: list[tuple[str, Finish | None]] = [(tr("not sure"), None)]
    return Choice(name, (unknown if may_be_unknown else []) + known)
