"""Painting of the cutaway: bands in their own colour, labels, handles."""

import itertools
import math
from collections.abc import Sequence
from typing import Any

import numpy as np
from numpy.typing import NDArray
from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import (
    QColor,
    QFontMetricsF,
    QImage,
    QPainter,
    QPen,
    QPolygonF,
)

from schemeforge import colorimetry
from schemeforge.desk.cutaway import CUT_POINTS, Band
from schemeforge.desk.handles import Handle, HandleKind, place_index
from schemeforge.gui.theme import Theme
from schemeforge.gui.widgets.strip import image_of

HANDLE_RADIUS = 6.0
_LEAST_LABEL_HEIGHT = 15.0

Edges = list[tuple[NDArray[np.float64], NDArray[np.float64]]]


def paint_bands(
    painter: QPainter,
    area: QRectF,
    bands: tuple[Band, ...],
    edges: Edges,
    picked: str,
    theme: Theme,
) -> None:
    """All bands from the bottom up, the picked one outlined."""
    ratio = painter.device().devicePixelRatioF()
    painter.drawImage(area.topLeft(), _bands_image(area, bands, edges, theme, ratio))
    painter.setPen(QPen(QColor(theme.line), 1.0))
    for _, high in edges:
        painter.drawPolyline(_line(area, high))
    for band, (low, high) in zip(bands, edges, strict=True):
        if band.step.id == picked:
            _paint_outline(painter, _line(area, low), _line(area, high), theme)


def _paint_outline(painter: QPainter, low: QPolygonF, high: QPolygonF, theme: Theme) -> None:
    """The accent round a band, set off from its colours on both sides."""
    # Lines one device pixel wide, side by side, cost a fifth of wide ones.
    pixel = 1.0 / painter.device().devicePixelRatioF()
    for by in np.arange(pixel / 2 - 2.0, 2.0, pixel).tolist():
        painter.setPen(QPen(QColor(theme.accent if abs(by) < 1.0 else theme.window), pixel))
        painter.drawPolyline(high.translated(0.0, -by))
        painter.drawPolyline(low.translated(0.0, by))
    painter.setPen(QPen(QColor(theme.accent), 2.0))
    painter.drawLine(low.first(), high.first())
    painter.drawLine(low.last(), high.last())


def paint_labels(
    painter: QPainter,
    area: QRectF,
    bands: tuple[Band, ...],
    edges: Edges,
    picked: str,
    spots: Sequence[QPointF],
) -> None:
    """Number and name of each band where it is thick enough to hold them, clear of handles."""
    font = painter.font()
    for band, (low, high) in zip(bands, edges, strict=True):
        places = _label_places(high - low)
        if not places:
            continue
        font.setBold(band.step.id == picked)
        painter.setFont(font)
        metrics = QFontMetricsF(font)
        text = f"{band.number}   {band.step.name}"
        wide = min(metrics.horizontalAdvance(text) + 4, area.width() - 28)
        text = metrics.elidedText(text, Qt.TextElideMode.ElideRight, wide)
        boxes = ((at, _label_box(area, at, low, high, wide, metrics.height())) for at in places)
        first = next(boxes)
        at, box = next(
            (pair for pair in itertools.chain([first], boxes) if not _touches(pair[1], spots)),
            first,
        )
        lightness = float(colorimetry.lab_from_xyz(band.xyz[at])[0])
        painter.setPen(QColor("#000000" if lightness > 52.0 else "#ffffff"))
        side = Qt.AlignmentFlag.AlignVCenter | Qt.AlignmentFlag.AlignLeft
        painter.drawText(box, side, text)


def _label_box(
    area: QRectF,
    at: int,
    low: NDArray[np.float64],
    high: NDArray[np.float64],
    wide: float,
    tall: float,
) -> QRectF:
    x = area.left() + area.width() * at / (CUT_POINTS - 1)
    x = min(max(x - wide / 2, area.left() + 14), area.right() - wide - 14)
    y = area.bottom() - float(low[at] + high[at]) / 2
    return QRectF(x, y - tall / 2, wide, tall)


def _touches(box: QRectF, spots: Sequence[QPointF]) -> bool:
    by = HANDLE_RADIUS + 3.0
    wider = box.adjusted(-by, -by, by, by)
    return any(wider.contains(spot) for spot in spots)


def paint_handles(
    painter: QPainter,
    points: list[tuple[Handle, QPointF]],
    held: Handle | None,
    theme: Theme,
) -> None:
    """Round handles move up and down, diamonds sideways; the one held is filled."""
    for handle, point in points:
        painter.setPen(QPen(QColor(theme.text), 1.6))
        painter.setBrush(QColor(theme.accent if handle == held else theme.well))
        r = HANDLE_RADIUS + (1.5 if handle == held else 0.0)
        if handle.is_level:
            corners = [(0, -r - 1), (r + 1, 0), (0, r + 1), (-r - 1, 0)]
            painter.drawPolygon(QPolygonF([point + QPointF(x, y) for x, y in corners]))
        else:
            painter.drawEllipse(point, r, r)


def handle_points(
    area: QRectF,
    handles: tuple[Handle, ...],
    edges: tuple[NDArray[np.float64], NDArray[np.float64]],
) -> list[tuple[Handle, QPointF]]:
    """Where the handles of a band stand in the widget: on its upper edge, its ends at its foot.

    So the beginning and the place where it is full can both be taken hold of without a feather.
    """
    low, high = edges
    spots = []
    for handle in handles:
        edge = low if handle.kind in {HandleKind.START, HandleKind.END} else high
        y = area.bottom() - float(edge[_place_within(handle)])
        spots.append((handle, QPointF(area.left() + handle.at * area.width(), y)))
    return spots


def _place_within(handle: Handle) -> int:
    """The point of the cut nearest to the handle on the side where the coat lies."""
    place = handle.at * (CUT_POINTS - 1)
    if handle.kind in {HandleKind.START, HandleKind.FEATHER_START}:
        return min(math.ceil(place - 1e-6), CUT_POINTS - 1)
    if handle.kind in {HandleKind.END, HandleKind.FEATHER_END}:
        return max(math.floor(place + 1e-6), 0)
    return place_index(handle.at)


def _label_places(thick: NDArray[np.float64]) -> list[int]:
    """Where a label fits, best first: the middle of the widest thick stretch, then beside it."""
    good = np.flatnonzero(thick >= max(float(thick.max()) * 0.75, 1e-6))
    best = int(np.clip(good[len(good) // 2], 4, CUT_POINTS - 5)) if len(good) else CUT_POINTS // 2
    if thick[best] < _LEAST_LABEL_HEIGHT:
        return []
    fits = np.flatnonzero(thick >= _LEAST_LABEL_HEIGHT)
    places: list[int] = fits[np.argsort(np.abs(fits - best), kind="stable")][::4].tolist()
    return places


def _bands_image(
    area: QRectF, bands: tuple[Band, ...], edges: Edges, theme: Theme, ratio: float
) -> QImage:
    """Every pixel takes the colour of the band that it lies in, at its column.

    One image costs a tenth of as many polygons with gradients; the lines drawn over the edges
    smooth their steps.
    """
    wide, high = max(round(area.width() * ratio), 1), max(round(area.height() * ratio), 1)
    columns = np.linspace(0.0, CUT_POINTS - 1.0, wide)
    points = np.arange(CUT_POINTS)
    shown = [colorimetry.to_srgb8_fast(_stretched(band.xyz, columns)) for band in bands]
    behind = QColor(theme.window)
    shown.append(np.broadcast_to([behind.red(), behind.green(), behind.blue()], (wide, 3)))
    codes = np.array(shown).astype(np.uint32)
    palette = 0xFF000000 | codes[..., 0] << 16 | codes[..., 1] << 8 | codes[..., 2]
    # In each column a band ends once: counting the ends from below tells the band of a row.
    ends = np.zeros((high + 1, wide), dtype=np.uint8)
    across = np.arange(wide)
    for _, edge in edges:
        top = np.interp(columns, points, edge) * ratio
        ends[np.clip(np.ceil(top - 0.5), 0, high).astype(np.intp), across] += 1
    for below, row in itertools.pairwise(ends[:high]):  # a third of the time of cumsum
        np.add(row, below, out=row)
    index = np.multiply(ends[:high][::-1], wide, dtype=np.intp)
    index += across
    pixels = palette.astype(np.uint32, copy=False).ravel().take(index)
    return _scaled(image_of(pixels), ratio)


def _stretched(xyz: NDArray[Any], columns: NDArray[np.float64]) -> NDArray[Any]:
    low = np.minimum(columns.astype(np.intp), CUT_POINTS - 2)
    share = (columns - low)[:, np.newaxis]
    between: NDArray[Any] = xyz[low] * (1.0 - share) + xyz[low + 1] * share
    return between


def _scaled(image: QImage, ratio: float) -> QImage:
    image.setDevicePixelRatio(ratio)
    return image


def _line(area: QRectF, height: NDArray[np.float64]) -> QPolygonF:
    xs = np.linspace(area.left(), area.right(), CUT_POINTS)
    ys = area.bottom() - height
    return QPolygonF([QPointF(x, y) for x, y in zip(xs.tolist(), ys.tolist(), strict=True)])
