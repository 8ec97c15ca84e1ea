"""Words two fifths longer, as German or French would be, and what they no longer fit into."""

from contextlib import suppress

from PySide6.QtCore import QTranslator
from PySide6.QtWidgets import (
    QAbstractButton,
    QCheckBox,
    QLabel,
    QPushButton,
    QScrollArea,
    QToolButton,
    QWidget,
)
from pytestqt.exceptions import TimeoutError as QtBotTimeoutError
from pytestqt.qtbot import QtBot

from schemeforge.gui.widgets.name_button import NameButton
from tests.gui.every_widget import place_of

SIZE = (1280, 720)  # the smallest window that is promised


class Longer(QTranslator):
    """Gives every text back in brackets, two fifths longer, with umlauts."""

    def translate(
        self, _context: str, text: str, _disambiguation: str | None = None, _n: int = -1
    ) -> str:
        """The text itself stays readable, so that placeholders still find their place."""
        if not text.strip():
            return text
        more = "äöüßéÄÖÜ " * (len(text) // 8 + 1)
        return f"[{text}{more[: max(round(0.4 * len(text)) - 2, 0)].rstrip()}]"

    def isEmpty(self) -> bool:
        """It has a word for everything."""
        return False


def cut_words(root: QWidget) -> list[str]:
    """Labels and buttons shown below a widget that are narrower than their words."""
    return [
        f"{place_of(widget)}: {_text(widget)!r} needs {need}, has {widget.width()}"
        for widget in root.findChildren(QWidget)
        if widget.isVisibleTo(root.window()) and (need := needed_width(widget)) > widget.width()
    ]


def scrolls_sideways(root: QWidget) -> list[str]:
    """Areas shown below a widget that hold more than their width."""
    return [
        place_of(area)
        for area in root.findChildren(QScrollArea)
        if area.isVisibleTo(root.window()) and area.horizontalScrollBar().maximum() > 0
    ]


def squeezed_words(qtbot: QtBot, root: QWidget) -> list[str]:
    """Wrapped labels shown below a widget that stay lower than their lines.

    Heights of wrapped words follow their widths a layout later, so that it has time to come to
    rest.
    """
    with suppress(QtBotTimeoutError):
        qtbot.waitUntil(lambda: not _squeezed(root), timeout=3_000)
    return _squeezed(root)


def _squeezed(root: QWidget) -> list[str]:
    return [
        f"{place_of(label)}: {label.text()!r} needs {label.heightForWidth(label.width())}, "
        f"has {label.height()}"
        for label in root.findChildren(QLabel)
        if label.isVisibleTo(root.window())
        and label.wordWrap()
        and label.text()
        and label.heightForWidth(label.width()) > label.height()
    ]


def needed_width(widget: QWidget) -> int:
    """Width that a label or button needs for its words, 0 for anything else."""
    text = _text(widget)
    if not text or isinstance(widget, NameButton):  # a document's name may be of any length
        return 0
    if isinstance(widget, QPushButton | QToolButton | QCheckBox):
        return widget.sizeHint().width()
    metrics = widget.fontMetrics()
    lines = text.split() if isinstance(widget, QLabel) and widget.wordWrap() else text.splitlines()
    return max(metrics.horizontalAdvance(line) for line in lines)


def _text(widget: QWidget) -> str:
    return widget.text() if isinstance(widget, QLabel | QAbstractButton) else ""
