"""Reflectance as read and as fitted, over the spectrum."""

from typing import Any, NamedTuple

import numpy as np
from numpy.typing import NDArray
from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QColor, QPainter, QPaintEvent, QPen, QPolygonF
from PySide6.QtWidgets import QWidget

from schemeforge.calibration import Patch
from schemeforge.gui.theme import Theme
from schemeforge.gui.widgets.band_plot import MARKS_NM, BandPlot
from schemeforge.optics import bands

_CLEAR = 4.0  # pixels between a name and its curve, half a dot among them
_LINES = (0.0, 0.25, 0.5, 0.75, 1.0)


class Curve(NamedTuple):
    """One reading: its name, as read, as fitted where it was, and bands carried on."""

    name: str
    read: NDArray[Any]
    fitted: NDArray[Any] | None
    unsure: NDArray[np.bool_]


def curves_of(patches: tuple[Patch, ...], predicted: NDArray[Any]) -> tuple[Curve, ...]:
    """The curves of patches that were read as spectra; none for colours."""
    nm = bands.wavelengths_nm()
    return tuple(
        Curve(patch.name, np.array(patch.reflectance), fitted, np.isin(nm, patch.unsure_nm))
        for patch, fitted in zip(patches, predicted, strict=True)
        if patch.reflectance
    )


class FitPlot(BandPlot):
    """Dots as read, lines as fitted; hollow dots where the instrument did not reach."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(
            self.tr("Reflectance as read and as fitted"),
            self.tr("read another band of the reflectance"),
            parent,
        )
        self._curves: tuple[Curve, ...] = ()
        self._theme: Theme | None = None

    def show_curves(self, curves: tuple[Curve, ...], theme: Theme) -> None:
        """Plot these."""
        self._curves, self._theme = curves, theme
        self._show_reading()

    @property
    def reading(self) -> str:
        """The plot in words: at the band that the keys stand on, or how well it is met."""
        if self._band is not None:
            nm = int(bands.wavelengths_nm()[self._band])
            parts = [self._at(curve, self._band) for curve in self._curves]
            return self.tr("{0} nm: {1}").format(nm, "; ".join(parts))
        parts = []
        for curve in self._curves:
            if curve.fitted is None:
                parts.append(
                    self.tr("{0}: {1:.0%} to {2:.0%}").format(
                        curve.name, curve.read.min(), curve.read.max()
                    )
                )
                continue
            off = float(np.sqrt(np.mean((curve.fitted - curve.read) ** 2)))
            parts.append(self.tr("{0}: missed by {1:.1%} on average").format(curve.name, off))
        return "; ".join(parts)

    def _at(self, curve: Curve, band: int) -> str:
        text = self.tr("{0} read {1:.1%}").format(curve.name, curve.read[band])
        if curve.fitted is not None:
            text += self.tr(", fitted {0:.1%}").format(curve.fitted[band])
        if curve.unsure[band]:
            text += self.tr(", carried on from the last band read")
        return text

    def paintEvent(self, _event: QPaintEvent) -> None:
        """Axis, curves, their names, and the band read."""
        if self._theme is None:
            return
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        metrics = self.fontMetrics()
        area = self._area()
        self._paint_axes(painter, area)
        for place, curve in enumerate(self._curves):
            self._paint_curve(painter, area, curve, place)
        # Over every curve, each on a ground of its own: another curve may run there.
        for curve, box in zip(self._curves, self.name_boxes(), strict=True):
            painter.fillRect(box, QColor(self._theme.panel))
            painter.setPen(QColor(self._theme.text))
            painter.drawText(QPointF(box.left(), box.top() + metrics.ascent()), curve.name)
        mark = QPen(QColor(self._theme.text), 1)
        self._paint_band_read(painter, area, mark, QColor(self._theme.accent))

    def _paint_axes(self, painter: QPainter, area: QRectF) -> None:
        assert self._theme is not None  # noqa: S101 - painting begins with it
        metrics, muted = self.fontMetrics(), QColor(self._theme.muted)
        rule = QColor(self._theme.line)
        rule.setAlpha(90)
        for share in _LINES:
            y = area.bottom() - area.height() * share
            painter.setPen(QPen(rule, 1))
            painter.drawLine(QPointF(area.left(), y), QPointF(area.right(), y))
            text = f"{share * 100:g} %"
            painter.setPen(muted)
            at = area.left() - metrics.horizontalAdvance(text) - 5
            painter.drawText(QPointF(at, y + metrics.ascent() / 2 - 1), text)
        span = bands.LAST_NM - bands.FIRST_NM
        for nm in MARKS_NM:
            x = area.left() + area.width() * (nm - bands.FIRST_NM) / span
            text = f"{nm} nm"
            at = min(x - metrics.horizontalAdvance(text) / 2, self.width() - 4.0)
            painter.drawText(QPointF(at, area.bottom() + metrics.ascent() + 5), text)

    def _paint_curve(self, painter: QPainter, area: QRectF, curve: Curve, place: int) -> None:
        assert self._theme is not None  # noqa: S101 - painting begins with it
        ink = QColor(self._theme.text)
        x = self._across(area)
        y = area.bottom() - area.height() * np.clip(curve.read, 0.0, 1.0)
        style = Qt.PenStyle.SolidLine if place % 2 else Qt.PenStyle.DashLine
        if curve.fitted is not None:
            fitted = area.bottom() - area.height() * np.clip(curve.fitted, 0.0, 1.0)
            painter.setPen(QPen(QColor(self._theme.accent), 2, style))
            painter.drawPolyline(QPolygonF([QPointF(a, b) for a, b in zip(x, fitted, strict=True)]))
        painter.setPen(QPen(ink, 1.2))
        for a, b, unsure in zip(x, y, curve.unsure, strict=True):
            painter.setBrush(Qt.BrushStyle.NoBrush if unsure else ink)
            painter.drawEllipse(QPointF(a, b), 2.2, 2.2)
        painter.setBrush(Qt.BrushStyle.NoBrush)

    def _clear_band(self) -> int:
        """The band at which the curves lie furthest apart, away from the ends."""
        spread = np.ptp([curve.read for curve in self._curves], axis=0)[4:-4]
        return 4 + int(spread.argmax())

    def name_boxes(self) -> list[QRectF]:
        """Where the names stand: each clear above its own curve, or beneath it near the top."""
        area, metrics = self._area(), self.fontMetrics()
        x = self._across(area)
        boxes = []
        for curve in self._curves:
            y = area.bottom() - area.height() * np.clip(curve.read, 0.0, 1.0)
            wide, high = metrics.horizontalAdvance(curve.name), metrics.height()
            left = float(x[self._clear_band()]) - wide / 2
            left = min(max(left, area.left() + 2), area.right() - wide)
            under = y[(x >= left - _CLEAR) & (x <= left + wide + _CLEAR)]
            top = float(under.min()) - high - _CLEAR
            if top < area.top():
                top = float(under.max()) + _CLEAR
            boxes.append(QRectF(left, top, wide, high))
        return boxes

    def _area(self) -> QRectF:
        """Where the curves lie."""
        metrics = self.fontMetrics()
        left = metrics.horizontalAdvance("100 %") + 8
        high = self.height() - metrics.lineSpacing() - 12
        return QRectF(left, 6, self.width() - left - 8, high)
