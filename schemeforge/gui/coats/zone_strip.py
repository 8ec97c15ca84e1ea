"""The strip of zones: each with its finished ramp, one of them picked."""

from functools import partial
from typing import Any

import numpy as np
from numpy.typing import NDArray
from PySide6.QtCore import QEvent, QPoint, QRectF, QSize, Qt
from PySide6.QtGui import QFontMetrics, QImage, QPainter, QPaintEvent, QPen
from PySide6.QtWidgets import QAbstractButton, QButtonGroup, QHBoxLayout, QSizePolicy, QWidget

from schemeforge.desk import DeskState
from schemeforge.gui.bridge import Bridge
from schemeforge.gui.reading import reading_of, tr
from schemeforge.gui.recipes.choice import ZonePlace
from schemeforge.gui.recipes.offer import offer_zone
from schemeforge.gui.theme import GAP, GAP_TIGHT
from schemeforge.gui.widgets.strip import ramp_image

_RAMP = 20


class ZoneChip(QAbstractButton):
    """A zone's finished ramp over its name; pressed when picked."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setCheckable(True)
        self.setAttribute(Qt.WidgetAttribute.WA_OpaquePaintEvent)
        self.setSizePolicy(QSizePolicy.Policy.Preferred, QSizePolicy.Policy.Fixed)
        self._xyz: NDArray[Any] | None = None
        self._image: QImage | None = None

    def show_zone(self, name: str, xyz: NDArray[Any]) -> None:
        """Another name or ramp."""
        if self.text() != name:
            self.setText(name)
            self.updateGeometry()
        if self._xyz is None or not np.array_equal(xyz, self._xyz):
            self._xyz, self._image = xyz, None
            self.setAccessibleName(tr("zone {0}").format(name))
            self.update()

    def sizeHint(self) -> QSize:
        """Wide enough for the name, also when it is picked and bold."""
        font = self.font()
        font.setBold(True)
        metrics = QFontMetrics(font)
        wide = max(metrics.horizontalAdvance(self.text()) + 8, 88)
        return QSize(min(wide, 190), _RAMP + GAP_TIGHT * 2 + metrics.height() + 4)

    def minimumSizeHint(self) -> QSize:
        """The name may be shortened with an ellipsis where there are many zones."""
        return QSize(44, self.sizeHint().height())

    def event(self, event: QEvent) -> bool:
        """Name and colour are put into words when they are asked for."""
        asked = event.type() in {QEvent.Type.ToolTip, QEvent.Type.FocusIn}
        if asked and self._xyz is not None:
            middle = reading_of(self._xyz[len(self._xyz) // 2]).words
            self.setToolTip(f"{self.text()}: {middle}")
            self.setAccessibleDescription(tr("{0} in the middle").format(middle))
        return super().event(event)

    def paintEvent(self, _event: QPaintEvent) -> None:
        """Ramp, name, an underline when picked, a frame when focused."""
        painter = QPainter(self)
        painter.fillRect(self.rect(), self.palette().window())
        ratio = self.devicePixelRatioF()
        width = round(self.width() * ratio)
        if self._xyz is not None and (self._image is None or self._image.width() != width):
            self._image = ramp_image(self._xyz, width, round(_RAMP * ratio))
            self._image.setDevicePixelRatio(ratio)
        if self._image is not None:
            painter.drawImage(0, 0, self._image)
        font = self.font()
        font.setBold(self.isChecked())
        painter.setFont(font)
        painter.setPen(self.palette().windowText().color())
        metrics = QFontMetrics(font)
        text = metrics.elidedText(self.text(), Qt.TextElideMode.ElideRight, self.width())
        box = QRectF(0, _RAMP + GAP_TIGHT, self.width(), metrics.height() + 2)
        painter.drawText(box, Qt.AlignmentFlag.AlignLeft | Qt.AlignmentFlag.AlignVCenter, text)
        if self.isChecked():
            painter.fillRect(
                QRectF(0, self.height() - 3, self.width(), 3), self.palette().highlight()
            )
        if self.hasFocus():
            painter.setPen(QPen(self.palette().highlight().color(), 2))
            painter.drawRect(self.rect().adjusted(1, 1, -1, -1))


class ZoneStrip(QWidget):
    """All zones of the project in the picked scheme."""

    def __init__(self, bridge: Bridge, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.bridge = bridge
        self._group = QButtonGroup(self)
        self._chips: list[ZoneChip] = []
        self._row = QHBoxLayout(self)
        self._row.setContentsMargins(0, 0, 0, 0)
        self._row.setSpacing(GAP * 2)
        self._row.addStretch(1)

    @property
    def chips(self) -> list[ZoneChip]:
        """One for each zone, in the project's order."""
        return self._chips

    def show_state(self, new: DeskState) -> None:
        """Write names, ramps and the choice."""
        zones, scheme = new.project.zones, new.scheme
        while len(self._chips) < len(zones):
            self._add_chip(len(self._chips))
        while len(self._chips) > len(zones):
            chip = self._chips.pop()
            self._group.removeButton(chip)
            self._row.removeWidget(chip)
            chip.deleteLater()
        if scheme is None:
            return
        for zone, chip in zip(zones, self._chips, strict=True):
            view = self.bridge.colours.zone(new.project, scheme, zone, new.project.viewing)
            chip.show_zone(zone.name, view.final)
            chip.setChecked(zone.id == new.selection.zone_id)

    def _add_chip(self, place: int) -> None:
        chip = ZoneChip()
        self._group.addButton(chip)
        chip.clicked.connect(lambda _on=False, n=place: self._on_click(n))
        chip.setProperty("colourHeight", _RAMP)
        offer_zone(chip, self.bridge, partial(self._zone_place, place))
        self._chips.append(chip)
        self._row.insertWidget(place, chip)

    def _zone_place(self, place: int, _at: QPoint | None) -> ZonePlace | None:
        state = self.bridge.state
        zones = state.project.zones
        if place >= len(zones):
            return None
        return ZonePlace(state.selection.scheme_id, zones[place].id)

    def _on_click(self, place: int) -> None:
        zones = self.bridge.state.project.zones
        if place < len(zones):
            self.bridge.session.select(zone_id=zones[place].id)
