"""How to photograph a painted card, in a drawing and a few sentences (common practice)."""

from PySide6.QtCore import QPointF, QRectF, QSize, Qt
from PySide6.QtGui import QColor, QPainter, QPaintEvent, QPalette, QPen, QPolygonF
from PySide6.QtWidgets import QHBoxLayout, QSizePolicy, QVBoxLayout, QWidget

from schemeforge.gui.adding.swatch_plan import SwatchPlan
from schemeforge.gui.theme import GAP, GAP_WIDE
from schemeforge.gui.widgets.labels import words


class CardDrawing(QWidget):
    """A card between two lamps, seen from the camera: where bare grounds and strips lie."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setSizePolicy(QSizePolicy.Policy.Fixed, QSizePolicy.Policy.Fixed)
        self.setAccessibleName(self.tr("Drawing of a painted card between two lamps"))

    def sizeHint(self) -> QSize:
        """Fixed: it is a drawing."""
        return QSize(330, 236)

    def paintEvent(self, _event: QPaintEvent) -> None:
        """Lamps, card, strips, references."""
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        ink = self.palette().color(QPalette.ColorRole.WindowText)
        card = QRectF(70, 34, 190, 168)
        painter.setPen(QPen(ink, 1.5))
        painter.setBrush(QColor("#e6e6e4"))
        painter.drawRect(card)
        painter.fillRect(QRectF(card.left() + 95, card.top(), 95, 132), QColor("#1d1d1d"))
        self._strips(painter, card)
        for place, grey in enumerate(("#f0f0ee", "#767676", "#161616", "#767676", "#f0f0ee")):
            box = QRectF(card.left() + 8 + 36 * place, card.bottom() - 29, 30, 22)
            painter.setPen(QPen(ink, 1.0))
            painter.setBrush(QColor(grey))
            painter.drawRect(box)
        for side in (-1, 1):
            self._lamp(painter, ink, QPointF(165 + side * 143, 30), side)
        painter.setPen(ink)
        self._word(painter, QPointF(card.left() + 47, 22), self.tr("white card"))
        self._word(painter, QPointF(card.left() + 143, 22), self.tr("black card"))
        self._word(painter, QPointF(165, 226), self.tr("white, grey and black references"))

    def _strips(self, painter: QPainter, card: QRectF) -> None:
        """Three strips, each across both halves; the last in three coats."""
        for place, (over_white, over_black) in enumerate(
            (("#c9835f", "#5a3324"), ("#c9835f", "#5a3324"), ("#a95f3c", "#7a452e"))
        ):
            top = card.top() + 16 + 38 * place
            painter.fillRect(QRectF(card.left() + 26, top, 69, 22), QColor(over_white))
            painter.fillRect(QRectF(card.left() + 95, top, 69, 22), QColor(over_black))

    def _lamp(self, painter: QPainter, ink: QColor, at: QPointF, side: int) -> None:
        painter.setPen(QPen(ink, 1.5))
        painter.setBrush(self.palette().color(QPalette.ColorRole.Base))
        painter.drawEllipse(at, 11.0, 11.0)
        rays = QColor(ink)
        rays.setAlpha(110)
        painter.setPen(QPen(rays, 1.2, Qt.PenStyle.DashLine))
        for drop in (34.0, 64.0, 94.0):
            painter.drawPolyline(
                QPolygonF([at + QPointF(-side * 9, 8), at + QPointF(-side * 44, 14 + drop)])
            )

    def _word(self, painter: QPainter, middle: QPointF, text: str) -> None:
        wide = self.fontMetrics().horizontalAdvance(text)
        painter.drawText(middle - QPointF(wide / 2, 0), text)


class Guide(QWidget):
    """The drawing and what matters, in order."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        lines = (
            self.tr(
                "Paint even swatches over black and over white, one stroke across both where you "
                "can, and leave some of both bare. What is worth painting is said below."
            ),
            self.tr(
                "Let it dry, and varnish it if the models will be varnished. Lay white, grey and "
                "black areas of known reflectance in the same plane, white at both sides: they "
                "tell how the light falls."
            ),
            self.tr(
                "Two lamps of one kind, one from each side, at about 45 degrees. No daylight mixed "
                "in, no flash, no glare on the strips."
            ),
            self.tr(
                "Hold the camera square above the card, set its exposure by hand, a little under, "
                "and switch filters off. Nothing may reach the white end of the scale."
            ),
            self.tr(
                "A telephone will do: only differences within the one picture count, and the "
                "references tell what light and camera did to it."
            ),
        )
        column = QVBoxLayout()
        column.setSpacing(GAP)
        column.addWidget(words(self.tr("How to photograph a painted card"), "title"))
        for number, line in enumerate(lines, 1):
            column.addWidget(words(f"{number}   {line}"))
        self.plan = SwatchPlan()
        column.addSpacing(GAP)
        column.addWidget(self.plan)
        column.addStretch(1)
        row = QHBoxLayout(self)
        row.setContentsMargins(GAP_WIDE, GAP_WIDE, GAP_WIDE, GAP_WIDE)
        row.setSpacing(2 * GAP_WIDE)
        row.addWidget(CardDrawing(), 0, Qt.AlignmentFlag.AlignTop)
        row.addLayout(column, 1)
