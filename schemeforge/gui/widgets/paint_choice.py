"""A list of paints to choose from, searched by typing."""

from PySide6.QtCore import QSignalBlocker, Qt
from PySide6.QtWidgets import QComboBox, QCompleter

from schemeforge.paint import Paint

TAKE_OUT = ":take out"


class PaintChoice(QComboBox):
    """Paints by name; type to search. The last entry may take the paint out of a mix."""

    def __init__(self, name: str, *, may_take_out: bool = False) -> None:
        super().__init__()
        self._may_take_out = may_take_out
        self.setEditable(True)
        self.setInsertPolicy(QComboBox.InsertPolicy.NoInsert)
        self.setAccessibleName(name)
        self.setMaxVisibleItems(18)
        self.setMinimumContentsLength(11)
        self.setSizeAdjustPolicy(QComboBox.SizeAdjustPolicy.AdjustToMinimumContentsLengthWithIcon)
        completer = QCompleter(self.model(), self)
        completer.setFilterMode(Qt.MatchFlag.MatchContains)
        completer.setCaseSensitivity(Qt.CaseSensitivity.CaseInsensitive)
        completer.setCompletionMode(QCompleter.CompletionMode.PopupCompletion)
        self.setCompleter(completer)
        self._paints: tuple[Paint, ...] = ()

    def show_paints(self, paints: tuple[Paint, ...], chosen: str) -> None:
        """List the paints and show the chosen one."""
        with QSignalBlocker(self):
            if paints is not self._paints:
                self._paints = paints
                self.clear()
                for paint in paints:
                    self.addItem(paint.name, paint.id)
                if self._may_take_out:
                    self.addItem(self.tr("take out of the mix"), TAKE_OUT)
            row = self.findData(chosen)
            if row != self.currentIndex() or self.currentText() != self.itemText(row):
                self.setCurrentIndex(row)
                self.setMinimumContentsLength(min(max(len(self.itemText(row)), 8), 18))
                self.setEditText(self.itemText(row))
