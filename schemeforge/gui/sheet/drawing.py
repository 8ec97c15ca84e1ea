"""Draws sides of the sheet as pictures of device pixels, beside the window."""

from collections import OrderedDict
from dataclasses import dataclass
from typing import TYPE_CHECKING

from PySide6.QtCore import QObject, Signal
from PySide6.QtGui import QImage

from schemeforge.desk import CancelToken
from schemeforge.errors import SchemeForgeError
from schemeforge.gui.bridge import Bridge

if TYPE_CHECKING:
    from PIL import Image

    from schemeforge.export.sheet import Sheet

KEY = "sheet side"
_MOST_KEPT = 4
MM_PER_INCH = 25.4


@dataclass(frozen=True, slots=True)
class Side:
    """A side of a sheet at so many device pixels across; the sheet is compared by identity."""

    sheet: "Sheet"
    number: int
    pixels: int

    @property
    def key(self) -> tuple[int, int, int]:
        """What it is kept under while the sheet is held."""
        return id(self.sheet), self.number, self.pixels


def draw(side: Side) -> QImage:
    """The side as it prints, exactly as many pixels across as asked for.

    Raises:
        InputError: For a picture that would be too large.
    """
    from schemeforge.export.png import image_of

    width_mm = side.sheet.pages[side.number].width
    # A hair less than the whole width, which the renderer rounds up.
    dpi = (side.pixels - 1e-3) / width_mm * MM_PER_INCH
    return qt_image(image_of(side.sheet.pdf.data, side.number, dpi))


def qt_image(image: "Image.Image") -> QImage:
    """An RGB picture as Qt's own, without change of any pixel."""
    width, height = image.size
    rows = QImage(image.tobytes(), width, height, 3 * width, QImage.Format.Format_RGB888)
    return rows.convertToFormat(QImage.Format.Format_RGB32)


class Drawing(QObject):
    """One side at a time, the latest asked for.

    Signals:
        drawn: The `Side` and its image.
        failed: One sentence.
    """

    drawn = Signal(object, QImage)
    failed = Signal(str)

    def __init__(self, bridge: Bridge, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self.bridge = bridge
        self._kept: OrderedDict[tuple[int, int, int], tuple[Side, QImage]] = OrderedDict()
        self._wanted: Side | None = None

    def ask(self, side: Side) -> None:
        """Have it drawn, or found; the same again does nothing."""
        if self._wanted is not None and side.key == self._wanted.key:
            return
        self._wanted = side
        held = self._kept.get(side.key)
        if held is not None:
            self._kept.move_to_end(side.key)
            self.bridge.jobs.cancel(KEY)
            self.drawn.emit(*held)
            return

        def work(_token: CancelToken) -> QImage:
            return draw(side)

        self.bridge.jobs.submit(
            KEY, work, lambda image: self._on_drawn(side, image), failed=self._on_failed
        )

    def forget(self) -> None:
        """Nothing is wanted any more."""
        self._wanted = None
        self.bridge.jobs.cancel(KEY)

    def _on_drawn(self, side: Side, image: QImage) -> None:
        self._kept[side.key] = (side, image)
        while len(self._kept) > _MOST_KEPT:
            self._kept.popitem(last=False)
        self.drawn.emit(side, image)

    def _on_failed(self, error: Exception) -> None:
        self._wanted = None
        if not isinstance(error, SchemeForgeError):
            raise error
        self.failed.emit(error.sentence)
