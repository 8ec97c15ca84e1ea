"""Fields that may stay empty: remarks of a few lines, and numbers with a usual value."""

from PySide6.QtCore import QEvent, QLocale, QSignalBlocker, QSize, Qt, Signal
from PySide6.QtGui import QFocusEvent, QKeyEvent, QKeySequence
from PySide6.QtWidgets import QLineEdit, QPlainTextEdit, QSizePolicy, QWidget

from schemeforge.gui.theme import GAP

_UNDO = (QKeySequence.StandardKey.Undo, QKeySequence.StandardKey.Redo)


class NoteBox(QPlainTextEdit):
    """A remark of a few lines. Leaving it or Ctrl+Enter keeps it, Escape leaves it as it was.

    Undo and redo are those of the document, not of the field.

    Signals:
        kept: What is written, where that is new.
    """

    kept = Signal(str)

    def __init__(self, name: str, *, lines: int = 2, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._lines = lines
        self._shown = ""
        self.setAccessibleName(name)
        self.setTabChangesFocus(True)
        self.setUndoRedoEnabled(False)
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Fixed)

    def show_text(self, text: str) -> None:
        """Write a text unless the user is just typing another."""
        self._shown = text
        if self.toPlainText() == text or (self.hasFocus() and self.document().isModified()):
            return
        with QSignalBlocker(self):
            self.setPlainText(text)

    def keep(self) -> None:
        """Tell what was typed."""
        text = self.toPlainText()
        self.document().setModified(False)
        if text != self._shown:
            self.kept.emit(text)

    def sizeHint(self) -> QSize:
        """As high as its lines."""
        frame = 2 * (self.frameWidth() + int(self.document().documentMargin())) + GAP
        return QSize(180, self._lines * self.fontMetrics().lineSpacing() + frame)

    def minimumSizeHint(self) -> QSize:
        """As high as its lines, and narrow."""
        return QSize(80, self.sizeHint().height())

    def event(self, event: QEvent) -> bool:
        """Leave undo and redo to the window."""
        if (
            event.type() == QEvent.Type.ShortcutOverride
            and isinstance(event, QKeyEvent)
            and any(event.matches(key) for key in _UNDO)
        ):
            event.ignore()
            return False
        return super().event(event)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Ctrl+Enter keeps, Escape drops."""
        control = event.modifiers() & Qt.KeyboardModifier.ControlModifier
        if control and event.key() in {Qt.Key.Key_Return, Qt.Key.Key_Enter}:
            self.keep()
        elif event.key() == Qt.Key.Key_Escape and self.document().isModified():
            self.setPlainText(self._shown)
        else:
            super().keyPressEvent(event)

    def focusOutEvent(self, event: QFocusEvent) -> None:
        """Leaving keeps."""
        super().focusOutEvent(event)
        if event.reason() != Qt.FocusReason.PopupFocusReason:
            self.keep()


class OptionalNumber(QLineEdit):
    """A number that may stay empty; the placeholder tells what then counts.

    Signals:
        kept: The number, or None where it was emptied.
        refused: What was typed instead of a number.
    """

    kept = Signal(object)
    refused = Signal(str)

    def __init__(self, name: str, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._shown: float | None = None
        self.setAccessibleName(name)
        self.setAlignment(Qt.AlignmentFlag.AlignRight)
        self.editingFinished.connect(self._on_finished)

    def show_value(self, value: float | None, usual: float) -> None:
        """Write a value, and the usual one as placeholder, unless another is just being typed."""
        self._shown = value
        self.setPlaceholderText(self._words(usual))
        text = "" if value is None else self._words(value)
        if self.text() != text and not (self.hasFocus() and self.isModified()):
            with QSignalBlocker(self):
                self.setText(text)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Escape leaves the number as it was."""
        if event.key() == Qt.Key.Key_Escape and self.isModified():
            self.setText("" if self._shown is None else self._words(self._shown))
        else:
            super().keyPressEvent(event)

    def _words(self, value: float) -> str:
        locale = self.locale()
        locale.setNumberOptions(QLocale.NumberOption.OmitGroupSeparator)
        return locale.toString(value, "g", 6)

    def _on_finished(self) -> None:
        text = self.text().strip()
        self.setModified(False)
        if not text:
            if self._shown is not None:
                self.kept.emit(None)
            return
        # Comma and point are both the decimal sign, as in every number box.
        try:
            value = float(text.replace(",", "."))
        except ValueError:
            self.refused.emit(text)
            return
        if self._shown is None or self._words(value) != self._words(self._shown):
            self.kept.emit(value)
