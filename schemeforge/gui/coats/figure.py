"""A plain figure of the model: its zones as regions of one outline, to be looked at and picked.

The outline is the program's own: a cloaked shape on a round base. Zones of the body share it
from head to foot in proportion to their areas; base and rim lie beneath.
"""

from dataclasses import dataclass
from typing import Any

from numpy.typing import NDArray
from PySide6.QtCore import QEvent, QPoint, QPointF, QRectF, QSize, Qt
from PySide6.QtGui import (
    QColor,
    QHelpEvent,
    QImage,
    QKeyEvent,
    QMouseEvent,
    QPainter,
    QPainterPath,
    QPaintEvent,
    QPen,
    QPixmap,
)
from PySide6.QtWidgets import QSizePolicy, QToolTip, QWidget

from schemeforge.appearance import zone_tile
from schemeforge.desk import DeskState
from schemeforge.gui.bridge import Bridge
from schemeforge.gui.keys import tell_keys
from schemeforge.gui.reading import reading_of
from schemeforge.gui.recipes.choice import ZonePlace
from schemeforge.gui.recipes.offer import offer_zone
from schemeforge.gui.widgets.strip import tile_image
from schemeforge.scheme import AreaBasis, Project, Scheme, Zone

_TILE = (20, 14)
_ASPECT = 0.62


@dataclass(frozen=True, slots=True)
class _Region:
    zone: Zone
    path: QPainterPath
    box: QRectF


class ZoneFigure(QWidget):
    """The zones of the picked scheme in one figure; click or arrow keys pick one."""

    def __init__(self, bridge: Bridge, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.bridge = bridge
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.setAttribute(Qt.WidgetAttribute.WA_OpaquePaintEvent)
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Expanding)
        self.setAccessibleName(self.tr("Figure of the model"))
        tell_keys(self, (self.tr("Up, Down"), self.tr("in the figure: the zone before or after")))
        offer_zone(self, bridge, self._place_at, mark=False)
        self._regions: list[_Region] = []
        self._images: dict[str, tuple[NDArray[Any], QImage]] = {}
        self._laid_out: tuple[object, object] = (None, None)
        self._painted: dict[str, tuple[QImage, QPixmap]] = {}

    def sizeHint(self) -> QSize:
        """Taller than wide."""
        return QSize(240, 300)

    def minimumSizeHint(self) -> QSize:
        """Still to be read."""
        return QSize(140, 130)

    def show_state(self, new: DeskState) -> None:
        """Lay out the regions and take over their colours."""
        scheme = new.scheme
        if scheme is None:
            return
        if new.project.zones is not self._laid_out[0] or new.project.size is not self._laid_out[1]:
            self._lay_out(new.project)
        for region in self._regions:
            self._fetch(new.project, scheme, region.zone)
        zone = new.zone
        self.setAccessibleDescription("" if zone is None else zone.name)
        self.update()

    def resizeEvent(self, _event: object) -> None:
        """Fit the outline to the new size."""
        self._lay_out(self.bridge.state.project)

    def _fetch(self, project: Project, scheme: Scheme, zone: Zone) -> None:
        # Tile with root at the top: rows along the part, columns from recess to raised edge.
        touching = tuple(step for step in scheme.steps if zone.id in step.zone_ids)
        mixes = tuple(scheme.mix(s.mix_id) for s in touching if s.mix_id is not None)
        tile = self.bridge.colours.keep(
            ("figure", zone.id),
            (zone, project.viewing, project.lights, project.paints, *touching, *mixes),
            lambda: zone_tile(
                project, scheme, zone.id, relief_count=_TILE[0], along_count=_TILE[1]
            )[-1].xyz.swapaxes(0, 1),
        )
        held = self._images.get(zone.id)
        if held is None or held[0] is not tile:
            self._images[zone.id] = (tile, tile_image(tile, 96, 96))

    def _lay_out(self, project: Project) -> None:
        room = QRectF(self.rect()).adjusted(6, 6, -6, -6)
        high = min(room.height(), room.width() / _ASPECT)
        wide = high * _ASPECT
        box = QRectF(room.center().x() - wide / 2, room.center().y() - high / 2, wide, high)
        feet = [z for z in project.zones if z.area_basis in {AreaBasis.BASE_TOP, AreaBasis.RIM}]
        body = [z for z in project.zones if z not in feet]
        self._regions = [*_body_regions(body, box, project), *_base_regions(feet, box)]
        self._laid_out = (project.zones, project.size)
        self._painted.clear()

    def paintEvent(self, _event: QPaintEvent) -> None:
        """Every region in its colours; the picked one outlined and named."""
        painter = QPainter(self)
        painter.fillRect(self.rect(), self.palette().window())
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        picked = self.bridge.state.selection.zone_id
        line = self.palette().mid().color()
        for region in self._regions:
            painter.drawPixmap(region.box.topLeft().toPoint(), self._filled(region))
            painter.setPen(QPen(line, 1.0))
            painter.setBrush(Qt.BrushStyle.NoBrush)
            painter.drawPath(region.path)
        for region in self._regions:
            if region.zone.id == picked:
                for colour, width in (
                    (self.palette().window().color(), 5.0),
                    (self.palette().highlight().color(), 2.5),
                ):
                    painter.setPen(QPen(QColor(colour), width))
                    painter.drawPath(region.path)
        if self.hasFocus():
            painter.setPen(QPen(self.palette().highlight().color(), 2))
            painter.drawRect(self.rect().adjusted(1, 1, -1, -1))

    def _filled(self, region: _Region) -> QPixmap:
        """The region filled with its colours, painted again only when those change."""
        held = self._images.get(region.zone.id)
        kept = self._painted.get(region.zone.id)
        if held is None:
            return QPixmap()
        if kept is not None and kept[0] is held[1]:
            return kept[1]
        ratio = self.devicePixelRatioF()
        corner = region.box.topLeft().toPoint()
        size = region.box.toAlignedRect().size() + QSize(2, 2)
        pixmap = QPixmap(size * ratio)
        pixmap.setDevicePixelRatio(ratio)
        pixmap.fill(Qt.GlobalColor.transparent)
        painter = QPainter(pixmap)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        painter.setRenderHint(QPainter.RenderHint.SmoothPixmapTransform)
        painter.translate(-corner)
        painter.setClipPath(region.path)
        painter.drawImage(region.box, held[1])
        painter.end()
        self._painted[region.zone.id] = (held[1], pixmap)
        return pixmap

    def zone_at(self, point: QPointF) -> Zone | None:
        """The zone under a point of the widget."""
        for region in self._regions:
            if region.path.contains(point):
                return region.zone
        return None

    def _place_at(self, at: QPoint | None) -> ZonePlace | None:
        """The zone under the pointer, or the picked one."""
        pick = self.bridge.state.selection
        if at is None:
            return ZonePlace(pick.scheme_id, pick.zone_id)
        zone = self.zone_at(QPointF(at))
        return None if zone is None else ZonePlace(pick.scheme_id, zone.id)

    def region_centre(self, zone_id: str) -> QPointF:
        """A point inside a zone's region."""
        region = next(r for r in self._regions if r.zone.id == zone_id)
        inside = region.path.boundingRect().center()
        if not region.path.contains(inside):
            return region.path.pointAtPercent(0.0)
        return inside

    def mousePressEvent(self, event: QMouseEvent) -> None:
        """Pick the zone under the pointer."""
        zone = self.zone_at(event.position())
        if zone is not None:
            self.bridge.session.select(zone_id=zone.id)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Up and down pick the zone before and after."""
        by = {Qt.Key.Key_Up: -1, Qt.Key.Key_Down: 1}.get(Qt.Key(event.key()))
        zones = [region.zone.id for region in self._regions]
        picked = self.bridge.state.selection.zone_id
        if by is None or picked not in zones:
            super().keyPressEvent(event)
            return
        place = min(max(zones.index(picked) + by, 0), len(zones) - 1)
        self.bridge.session.select(zone_id=zones[place])

    def event(self, event: QEvent) -> bool:
        """Tooltips name the zone and its colour in the middle."""
        if event.type() == QEvent.Type.ToolTip and isinstance(event, QHelpEvent):
            zone = self.zone_at(QPointF(event.pos()))
            held = None if zone is None else self._images.get(zone.id)
            if zone is not None and held is not None:
                tile = held[0]
                middle = reading_of(tile[tile.shape[0] // 2, tile.shape[1] // 2]).words
                QToolTip.showText(event.globalPos(), f"{zone.name}: {middle}", self)
            return True
        return super().event(event)


def _outline(box: QRectF) -> QPainterPath:
    """A cloaked figure: a beak, a hood, shoulders, a hem; lengths are shares of the box."""

    def at(x: float, y: float) -> QPointF:
        return QPointF(box.left() + x * box.width(), box.top() + y * box.height())

    path = QPainterPath(at(0.50, 0.00))
    path.cubicTo(at(0.62, 0.00), at(0.66, 0.06), at(0.66, 0.11))
    path.lineTo(at(0.90, 0.17))
    path.lineTo(at(0.64, 0.18))
    path.cubicTo(at(0.62, 0.24), at(0.80, 0.27), at(0.83, 0.36))
    path.cubicTo(at(0.88, 0.52), at(0.88, 0.70), at(0.94, 0.86))
    path.cubicTo(at(0.70, 0.90), at(0.30, 0.90), at(0.06, 0.86))
    path.cubicTo(at(0.12, 0.70), at(0.12, 0.52), at(0.17, 0.36))
    path.cubicTo(at(0.20, 0.27), at(0.38, 0.24), at(0.36, 0.16))
    path.cubicTo(at(0.34, 0.06), at(0.40, 0.00), at(0.50, 0.00))
    return path


def _body_regions(zones: list[Zone], box: QRectF, project: Project) -> list[_Region]:
    """Slanting slices of the outline, as high as the zones' shares of its area."""
    outline = _outline(box)
    areas = [zone.area_on(project.size) for zone in zones]
    total = sum(areas) or 1.0
    top, bottom = box.top(), box.top() + 0.9 * box.height()
    slant = 0.05 * box.height()
    regions, y = [], top
    for n, (zone, area) in enumerate(zip(zones, areas, strict=True)):
        # Square roots keep small zones large enough to be hit.
        share = (area**0.5) / sum(a**0.5 for a in areas) if total else 0.0
        low = bottom if n == len(zones) - 1 else y + share * (bottom - top)
        cut = QPainterPath()
        tilt = slant if n % 2 else -slant
        before = 0.0 if n == 0 else (slant if (n - 1) % 2 else -slant)
        last = n == len(zones) - 1
        cut.moveTo(box.left() - 2, y - before - (9 if n == 0 else 0))
        cut.lineTo(box.right() + 2, y + before - (9 if n == 0 else 0))
        cut.lineTo(box.right() + 2, low + (40 if last else tilt))
        cut.lineTo(box.left() - 2, low + (40 if last else -tilt))
        cut.closeSubpath()
        path = outline.intersected(cut)
        regions.append(_Region(zone, path, path.boundingRect()))
        y = low
    return regions


def _base_regions(zones: list[Zone], box: QRectF) -> list[_Region]:
    """Base top as a disc seen from above, its rim below it."""
    regions = []
    disc = QRectF(box.left(), box.top() + 0.82 * box.height(), box.width(), 0.13 * box.height())
    top = QPainterPath()
    top.addEllipse(disc)
    rim = QPainterPath()
    rim.addEllipse(disc.translated(0, 0.045 * box.height()))
    for zone in zones:
        if zone.area_basis is AreaBasis.BASE_TOP:
            path = top.subtracted(_outline(box))
        else:
            path = rim.subtracted(top)
        regions.append(_Region(zone, path, path.boundingRect()))
    return regions
