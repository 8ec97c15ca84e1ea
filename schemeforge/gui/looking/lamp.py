"""Where the lamp stands over a model, and how its undercoat was sprayed."""

import math
from dataclasses import replace
from typing import Any

from PySide6.QtCore import QPointF, QRectF, QSize, Qt
from PySide6.QtGui import QColor, QKeyEvent, QMouseEvent, QPainter, QPaintEvent, QPen
from PySide6.QtWidgets import QCheckBox, QPushButton, QSizePolicy, QVBoxLayout, QWidget

from schemeforge.desk import DeskState, Looking
from schemeforge.gui.bridge import Bridge
from schemeforge.gui.keys import tell_keys
from schemeforge.gui.theme import GAP
from schemeforge.gui.widgets.field import Field, NumberBox
from schemeforge.gui.widgets.flow import Flow

_STEP = 5.0
_LOWEST, _HIGHEST = -10.0, 90.0


class LampPad(QWidget):
    """The sky over the model as a disc: straight above in the middle, the viewer at its foot."""

    def __init__(self, bridge: Bridge, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.bridge = bridge
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.setSizePolicy(QSizePolicy.Policy.Fixed, QSizePolicy.Policy.Fixed)
        self.setAccessibleName(self.tr("Where the lamp stands"))
        self.setToolTip(
            self.tr(
                "Where the lamp stands: in the middle straight above, at the lower edge low "
                "beside you, at the upper edge behind the model; arrow keys move it"
            )
        )
        tell_keys(self, (self.tr("arrow keys"), self.tr("move the lamp over the model")))
        bridge.changed.connect(self._on_changed)
        self._describe()

    def sizeHint(self) -> QSize:
        """A disc to be pointed at."""
        return QSize(112, 112)

    def _on_changed(self, old: DeskState, new: DeskState) -> None:
        if old.preferences is not new.preferences:
            self._describe()
            self.update()

    def _describe(self) -> None:
        looking = self.bridge.state.preferences.looking
        self.setAccessibleDescription(
            self.tr("{0} degrees to the right, {1} degrees above the table").format(
                round(looking.lamp_side), round(looking.lamp_height)
            )
        )

    def _disc(self) -> QRectF:
        side = min(self.width(), self.height()) - 12.0
        return QRectF((self.width() - side) / 2, (self.height() - side) / 2, side, side)

    def lamp_at(self) -> QPointF:
        """Where the lamp is drawn."""
        looking, disc = self.bridge.state.preferences.looking, self._disc()
        out = (_HIGHEST - looking.lamp_height) / (_HIGHEST - _LOWEST) * disc.width() / 2
        side = math.radians(looking.lamp_side)
        return disc.center() + QPointF(math.sin(side) * out, math.cos(side) * out)

    def paintEvent(self, _event: QPaintEvent) -> None:
        """The disc, its horizon and the lamp."""
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        disc, line = self._disc(), self.palette().mid().color()
        painter.setPen(QPen(line, 1))
        painter.setBrush(self.palette().base())
        painter.drawEllipse(disc)
        painter.setBrush(Qt.BrushStyle.NoBrush)
        painter.drawEllipse(disc.center(), disc.width() / 4, disc.width() / 4)
        text = QColor(self.palette().windowText().color())
        painter.setPen(QPen(text, 1))
        painter.drawLine(disc.center() - QPointF(4, 0), disc.center() + QPointF(4, 0))
        painter.drawLine(disc.center() - QPointF(0, 4), disc.center() + QPointF(0, 4))
        painter.setPen(QPen(self.palette().highlight().color(), 2))
        painter.setBrush(self.palette().highlightedText())
        painter.drawEllipse(self.lamp_at(), 6, 6)
        if self.hasFocus():
            painter.setBrush(Qt.BrushStyle.NoBrush)
            painter.setPen(QPen(self.palette().highlight().color(), 2))
            painter.drawRect(self.rect().adjusted(1, 1, -1, -1))

    def mousePressEvent(self, event: QMouseEvent) -> None:
        """Put the lamp there."""
        self._put(event.position())

    def mouseMoveEvent(self, event: QMouseEvent) -> None:
        """Drag it."""
        if event.buttons() & Qt.MouseButton.LeftButton:
            self._put(event.position())

    def _put(self, at: QPointF) -> None:
        disc = self._disc()
        off = at - disc.center()
        out = min(math.hypot(off.x(), off.y()) / (disc.width() / 2), 1.0)
        side = math.degrees(math.atan2(off.x(), off.y()))
        self._light(side, _HIGHEST - out * (_HIGHEST - _LOWEST))

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Left and right around the model, up and down higher and lower."""
        looking = self.bridge.state.preferences.looking
        by = {
            Qt.Key.Key_Left: (-_STEP, 0.0),
            Qt.Key.Key_Right: (_STEP, 0.0),
            Qt.Key.Key_Up: (0.0, _STEP),
            Qt.Key.Key_Down: (0.0, -_STEP),
        }.get(Qt.Key(event.key()))
        if by is None:
            super().keyPressEvent(event)
            return
        side = (looking.lamp_side + by[0] + 180.0) % 360.0 - 180.0
        self._light(side, looking.lamp_height + by[1])

    def _light(self, side: float, height: float) -> None:
        change(
            self.bridge,
            lamp_side=float(round(side)),
            lamp_height=float(round(min(max(height, _LOWEST), _HIGHEST))),
        )


class LightAndSpray(QWidget):
    """Lamp, cone of the spray, and a second, low pass."""

    def __init__(self, bridge: Bridge, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.bridge = bridge
        self.pad = LampPad(bridge)
        self.cone = NumberBox(
            self.tr("spray from within"), low=5, high=80, step=1, decimals=0, unit="\N{DEGREE SIGN}"
        )
        self.cone.setToolTip(
            self.tr("Degrees from straight above within which the undercoat was sprayed")
        )
        self.second = QCheckBox(self.tr("second, low pass"))
        self.second.setToolTip(self.tr("A weaker pass of the undercoat from all sides, lower down"))
        self.share = NumberBox(self.tr("its share"), low=1, high=100, step=1, decimals=0, unit="%")
        self.share.setToolTip(self.tr("Share of the low pass against the first, percent"))
        self.angle = NumberBox(
            self.tr("from"), low=0, high=80, step=1, decimals=0, unit="\N{DEGREE SIGN}"
        )
        self.angle.setToolTip(self.tr("Degrees above the table from which the low pass came"))
        self.usual = QPushButton(self.tr("As usual"))
        self.usual.setToolTip(self.tr("Lamp and spray back to the usual"))
        fields = Flow(gap=GAP)
        for caption, box in ((self.tr("its share"), self.share), (self.tr("from"), self.angle)):
            fields.add(Field(caption, box))
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(GAP)
        column.addWidget(self.pad, 0, Qt.AlignmentFlag.AlignHCenter)
        column.addWidget(Field(self.tr("spray from within"), self.cone))
        column.addWidget(self.second)
        column.addWidget(fields)
        column.addWidget(self.usual, 0, Qt.AlignmentFlag.AlignLeft)
        self.cone.valueChanged.connect(lambda v: change(bridge, spray_half_angle=v))
        self.second.clicked.connect(self._on_second)
        self.share.valueChanged.connect(lambda v: change(bridge, low_pass=v / 100))
        self.angle.valueChanged.connect(lambda v: change(bridge, low_angle=v))
        self.usual.clicked.connect(self._on_usual)
        bridge.changed.connect(self._on_changed)
        self._show(bridge.state.preferences.looking)

    def _on_changed(self, old: DeskState, new: DeskState) -> None:
        if old.preferences is not new.preferences:
            self._show(new.preferences.looking)

    def _show(self, looking: Looking) -> None:
        self.cone.show_value(looking.spray_half_angle)
        has = looking.low_pass > 0.0
        self.second.setChecked(has)
        self.share.setEnabled(has)
        self.angle.setEnabled(has)
        if has:
            self.share.show_value(100 * looking.low_pass)
        self.angle.show_value(looking.low_angle)

    def _on_second(self, on: bool) -> None:
        change(self.bridge, low_pass=Looking().low_pass if on else 0.0)

    def _on_usual(self) -> None:
        usual, names = Looking(), ("lamp_side", "lamp_height", "spray_half_angle")
        more = ("low_pass", "low_angle")
        change(self.bridge, **{name: getattr(usual, name) for name in (*names, *more)})


def change(bridge: Bridge, **values: Any) -> None:
    """Light, spray or size the models otherwise."""
    looking = bridge.state.preferences.looking
    bridge.attempt(lambda: bridge.session.prefer(looking=replace(looking, **values)))
