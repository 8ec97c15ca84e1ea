"""Which paints a recipe must use and which it must not: one list, and a chip for each."""

from PySide6.QtCore import QSignalBlocker, Signal
from PySide6.QtWidgets import QPushButton, QVBoxLayout, QWidget

from schemeforge.gui.reading import tr
from schemeforge.gui.theme import GAP_TIGHT
from schemeforge.gui.widgets.field import Field
from schemeforge.gui.widgets.flow import Flow
from schemeforge.gui.widgets.paint_choice import PaintChoice
from schemeforge.paint import Paint


class PaintLimits(QWidget):
    """Pick a paint, then say of it that it is used or left out; a chip takes that back.

    Signals:
        changed: Ids of the paints that must be used, and of those that must not.
    """

    changed = Signal(object, object)

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._must: tuple[str, ...] = ()
        self._without: tuple[str, ...] = ()
        self._paints: tuple[Paint, ...] = ()
        self.paint = PaintChoice(self.tr("paint"))
        self.use = QPushButton(self.tr("Use it"))
        self.use.setToolTip(self.tr("Every recipe holds this paint"))
        self.leave = QPushButton(self.tr("Leave it out"))
        self.leave.setToolTip(self.tr("No recipe holds this paint"))
        self.use.clicked.connect(lambda: self._add(is_used=True))
        self.leave.clicked.connect(lambda: self._add(is_used=False))
        row = Flow(gap=GAP_TIGHT)
        row.add(Field(self.tr("a paint to use or leave out"), self.paint))
        row.add(self.use)
        row.add(self.leave)
        self.chips = Flow(gap=GAP_TIGHT)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(GAP_TIGHT)
        column.addWidget(row)
        column.addWidget(self.chips)

    def show_paints(
        self, paints: tuple[Paint, ...], must: tuple[str, ...], without: tuple[str, ...]
    ) -> None:
        """List the paints and show a chip for each that is limited."""
        mixed = tuple(
            sorted((p for p in paints if not p.kind.is_clear), key=lambda p: p.name.casefold())
        )
        if mixed != self._paints:
            self._paints = mixed
            with QSignalBlocker(self.paint):
                self.paint.show_paints(mixed, mixed[0].id if mixed else "")
        if (must, without) != (self._must, self._without) or not self.chips.isVisible():
            self._must, self._without = must, without
            self._show_chips()

    def _show_chips(self) -> None:
        had_focus = any(chip.hasFocus() for chip in self.chips.findChildren(QPushButton))
        self.chips.clear()
        names = {paint.id: paint.name for paint in self._paints}
        for paint_id, text in (
            *((paint_id, tr("with {0} ×")) for paint_id in self._must),
            *((paint_id, tr("without {0} ×")) for paint_id in self._without),
        ):
            chip = QPushButton(text.format(names.get(paint_id, paint_id)).replace("&", "&&"))
            chip.setToolTip(tr("Take this back"))
            chip.setAccessibleName(chip.text())
            chip.clicked.connect(lambda _on=False, p=paint_id: self._take_back(p))
            self.chips.add(chip)
        self.chips.setVisible(bool(self._must or self._without))
        if had_focus:
            self.paint.setFocus()

    def _add(self, *, is_used: bool) -> None:
        paint_id = self.paint.currentData()
        if not paint_id:
            return
        must = tuple(held for held in self._must if held != paint_id)
        without = tuple(held for held in self._without if held != paint_id)
        if is_used:
            self.changed.emit((*must, paint_id), without)
        else:
            self.changed.emit(must, (*without, paint_id))

    def _take_back(self, paint_id: str) -> None:
        self.changed.emit(
            tuple(held for held in self._must if held != paint_id),
            tuple(held for held in self._without if held != paint_id),
        )
