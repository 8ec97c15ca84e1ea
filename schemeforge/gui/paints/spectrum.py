"""Absorption and scattering over the spectrum, as a small plot that can be read by keys."""

from typing import Any

import numpy as np
from numpy.typing import NDArray
from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QColor, QPainter, QPaintEvent, QPen, QPolygonF
from PySide6.QtWidgets import QWidget

from schemeforge.gui.theme import Theme
from schemeforge.gui.widgets.band_plot import MARKS_NM, BandPlot
from schemeforge.optics import bands
from schemeforge.paint import Paint

# What is fainter than this does nothing in any film; the axis is logarithmic above it.
_FLOOR = 1e-5


class SpectrumPlot(BandPlot):
    """K solid and S dashed per micrometre of neat wet paint, with their 90 % intervals."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(
            self.tr("Absorption and scattering over the spectrum"),
            self.tr("read another band of the spectrum"),
            parent,
        )
        self._nm = bands.wavelengths_nm()
        self._paint: Paint | None = None
        self._theme: Theme | None = None

    def show_paint(self, paint: Paint, theme: Theme) -> None:
        """Plot a paint."""
        if paint is self._paint and theme is self._theme:
            return
        self._paint, self._theme = paint, theme
        self._show_reading()

    @property
    def reading(self) -> str:
        """The plot in words: at the band that the keys stand on, or as a whole."""
        if self._paint is None:
            return ""
        K, S = np.array(self._paint.absorption), np.array(self._paint.scattering)
        if self._band is not None:
            nm = int(self._nm[self._band])
            flag = ""
            if nm in self._paint.flagged_bands_nm:
                flag = self.tr(", not settled by the data")
            return self.tr("{0} nm: absorbs {1:.3g}, scatters {2:.3g} per µm{3}").format(
                nm, K[self._band], S[self._band], flag
            )
        return self.tr(
            "absorbs most at {0} nm ({1:.3g} per µm), least at {2} nm ({3:.3g}); "
            "scatters {4:.3g} to {5:.3g} per µm"
        ).format(
            int(self._nm[K.argmax()]), K.max(), int(self._nm[K.argmin()]), K.min(), S.min(), S.max()
        )

    def paintEvent(self, _event: QPaintEvent) -> None:
        """Axis, intervals, curves, and their names beside them."""
        if self._paint is None or self._theme is None:
            return
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        metrics = self.fontMetrics()
        line = metrics.lineSpacing()
        left = metrics.horizontalAdvance("0.00001") + 8
        top = 1.5 * line + 4  # the uppermost figure of the axis stands clear of the key
        area = QRectF(left, top, self.width() - left - 8, self.height() - top - line - 6)
        top_decade = self._top_decade()
        self._paint_axes(painter, area, top_decade)
        sigma = self._sigma()
        curves = (
            (self._paint.absorption, sigma[0], Qt.PenStyle.SolidLine),
            (self._paint.scattering, sigma[1], Qt.PenStyle.DashLine),
        )
        for values, spread, style in curves:
            self._paint_curve(painter, area, np.array(values), spread, style, top_decade)
        self._paint_key(painter, line)
        mark = QPen(QColor(self._theme.accent), 1.5)
        self._paint_band_read(painter, area, mark, QColor(self._theme.accent))

    def _top_decade(self) -> float:
        if self._paint is None:
            return 0.0
        most = max(*self._paint.absorption, *self._paint.scattering, _FLOOR * 100)
        return float(np.ceil(np.log10(most * 1.2)))

    def _sigma(self) -> NDArray[Any]:
        """Standard deviations of log K and log S, ``(2, 36)``."""
        if self._paint is None:
            return np.zeros((2, bands.COUNT))
        factor = self._paint.uncertainty.factor()
        spread = np.sqrt(np.sum(factor * factor, axis=0)) if factor.size else np.zeros(72)
        return spread.reshape(2, bands.COUNT)

    def _paint_axes(self, painter: QPainter, area: QRectF, top_decade: float) -> None:
        if self._theme is None:
            return
        painter.setPen(QPen(QColor(self._theme.line), 1))
        painter.drawLine(area.bottomLeft(), area.bottomRight())
        metrics = self.fontMetrics()
        for nm in MARKS_NM:
            x = area.left() + area.width() * (nm - bands.FIRST_NM) / (
                bands.LAST_NM - bands.FIRST_NM
            )
            painter.setPen(QColor(self._theme.muted))
            painter.drawLine(QPointF(x, area.bottom()), QPointF(x, area.bottom() + 3))
            text = f"{nm}" if nm != MARKS_NM[-1] else f"{nm} nm"
            wide = metrics.horizontalAdvance(text)
            at = min(x - wide / 2, self.width() - wide - 2.0)
            painter.drawText(QPointF(at, area.bottom() + metrics.ascent() + 4), text)
        every = max(1, round((top_decade + 5) * metrics.lineSpacing() * 1.3 / area.height()))
        for decade in np.arange(top_decade, np.log10(_FLOOR) - 0.5, -every):
            y = self._y(np.array([10.0**decade]), area, top_decade)[0]
            faint = QColor(self._theme.line)
            faint.setAlpha(90)
            painter.setPen(QPen(faint, 1))
            painter.drawLine(QPointF(area.left(), y), QPointF(area.right(), y))
            painter.setPen(QColor(self._theme.muted))
            text = f"{10.0**decade:.5f}".rstrip("0").rstrip(".")
            at = area.left() - metrics.horizontalAdvance(text) - 4
            painter.drawText(QPointF(at, y + metrics.ascent() / 2 - 1), text)

    def _paint_curve(
        self,
        painter: QPainter,
        area: QRectF,
        values: NDArray[Any],
        spread: NDArray[Any],
        style: Qt.PenStyle,
        top_decade: float,
    ) -> None:
        if self._theme is None:
            return
        x = self._across(area)
        wide = np.exp(1.645 * spread)
        upper = self._y(values * wide, area, top_decade)
        lower = self._y(values / wide, area, top_decade)
        band = QColor(self._theme.accent)
        band.setAlpha(45)
        painter.setPen(Qt.PenStyle.NoPen)
        painter.setBrush(band)
        outline = [QPointF(a, b) for a, b in zip(x, upper, strict=True)]
        outline += [QPointF(a, b) for a, b in zip(x[::-1], lower[::-1], strict=True)]
        painter.drawPolygon(QPolygonF(outline))
        painter.setBrush(Qt.BrushStyle.NoBrush)
        painter.setPen(QPen(QColor(self._theme.text), 2, style))
        y = self._y(values, area, top_decade)
        painter.drawPolyline(QPolygonF([QPointF(a, b) for a, b in zip(x, y, strict=True)]))

    def _paint_key(self, painter: QPainter, line: int) -> None:
        if self._theme is None:
            return
        metrics, at = self.fontMetrics(), 2.0
        middle = line / 2 + 1.0
        for text, style in (
            (self.tr("K absorbs"), Qt.PenStyle.SolidLine),
            (self.tr("S scatters, per µm"), Qt.PenStyle.DashLine),
        ):
            painter.setPen(QPen(QColor(self._theme.text), 2, style))
            painter.drawLine(QPointF(at, middle), QPointF(at + 22, middle))
            painter.drawText(QPointF(at + 27, metrics.ascent() + 1.0), text)
            at += 27 + metrics.horizontalAdvance(text) + 14

    @staticmethod
    def _y(values: NDArray[Any], area: QRectF, top_decade: float) -> NDArray[Any]:
        low = np.log10(_FLOOR)
        share = (np.log10(np.maximum(values, _FLOOR)) - low) / (top_decade - low)
        y: NDArray[Any] = area.bottom() - area.height() * np.clip(share, 0.0, 1.0)
        return y
