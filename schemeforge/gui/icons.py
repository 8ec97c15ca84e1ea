"""Icons of our own from ``assets/icons``, drawn in the text colour of the surround."""

from functools import lru_cache

from PySide6.QtCore import QByteArray, QSize, Qt
from PySide6.QtGui import QIcon, QPainter, QPixmap
from PySide6.QtSvg import QSvgRenderer

from schemeforge.resources import asset

_SIZES = (16, 20, 24, 32, 48)


def icon(name: str, colour: str) -> QIcon:
    """The icon of that name; strokes and fills written as ``currentColor`` take the colour."""
    return _icon(name, colour)


@lru_cache(maxsize=256)
def _icon(name: str, colour: str) -> QIcon:
    text = asset("icons", f"{name}.svg").read_text(encoding="utf-8")
    renderer = QSvgRenderer(QByteArray(text.replace("currentColor", colour).encode()))
    result = QIcon()
    for size in _SIZES:
        for scale in (1, 2):
            pixmap = QPixmap(QSize(size * scale, size * scale))
            pixmap.fill(Qt.GlobalColor.transparent)
            painter = QPainter(pixmap)
            renderer.render(painter)
            painter.end()
            pixmap.setDevicePixelRatio(scale)
            result.addPixmap(pixmap)
    return result
