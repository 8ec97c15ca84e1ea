"""A button named by the document: a name too long for it ends in an ellipsis."""

from PySide6.QtCore import Qt
from PySide6.QtGui import QPaintEvent
from PySide6.QtWidgets import (
    QPushButton,
    QSizePolicy,
    QStyle,
    QStyleOptionButton,
    QStylePainter,
    QWidget,
)


class NameButton(QPushButton):
    """As wide as the layout gives it; the tooltip should have the name whole."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setProperty("role", "quiet")
        self.setStyleSheet("text-align: left;")
        self.setSizePolicy(QSizePolicy.Policy.Ignored, QSizePolicy.Policy.Fixed)

    def paintEvent(self, _event: QPaintEvent) -> None:
        """The button of the style, with as much of the name as fits."""
        option = QStyleOptionButton()
        self.initStyleOption(option)
        inside = self.style().subElementRect(QStyle.SubElement.SE_PushButtonContents, option, self)
        option.text = self.fontMetrics().elidedText(
            self.text(), Qt.TextElideMode.ElideRight, inside.width()
        )
        QStylePainter(self).drawControl(QStyle.ControlElement.CE_PushButton, option)
