"""Models with what has to be written beside them: lights, schemes, and how they are looked at."""

from dataclasses import dataclass

from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QColor, QPainter, QPalette, QPen

from schemeforge.gui.looking.shot import Arrangement, Drawn
from schemeforge.gui.looking.words import light_labels
from schemeforge.gui.theme import GAP, GAP_TIGHT, RADIUS

_GROUND_ALPHA = 225


@dataclass(frozen=True, slots=True)
class Scene:
    """What is painted.

    Args:
        drawn: The picture.
        frame: Where it goes.
        whole: The widget.
        palette: Its colours.
        arrangement: What stands on the table.
        split_x: Where the line between two schemes is.
        names: Of the schemes left and right of it.
        sight: How they are looked at, "" where the picture is as it is.
    """

    drawn: Drawn
    frame: QRectF
    whole: QRectF
    palette: QPalette
    arrangement: Arrangement
    split_x: float
    names: tuple[str, str]
    sight: str


def paint(painter: QPainter, scene: Scene) -> None:
    """The models, the outline of the picked zone, and the words."""
    painter.setRenderHint(QPainter.RenderHint.SmoothPixmapTransform)
    drawn = scene.drawn
    painter.drawImage(scene.frame, drawn.image)
    if drawn.other is not None:
        _paint_other(painter, scene)
    if drawn.outline is not None:
        painter.drawImage(scene.frame, drawn.outline)
    painter.setPen(scene.palette.windowText().color())
    if scene.arrangement is Arrangement.LIGHTS:
        _write_lights(painter, scene)
    if drawn.other is not None:
        _write_names(painter, scene)
    if scene.sight:
        _write_sight(painter, scene)


def _paint_other(painter: QPainter, scene: Scene) -> None:
    """The other scheme right of the line."""
    other, x = scene.drawn.other, scene.split_x
    assert other is not None  # noqa: S101 - asked before
    painter.save()
    painter.setClipRect(QRectF(x, 0.0, scene.whole.width() - x, scene.whole.height()))
    painter.fillRect(scene.whole, scene.palette.window())
    painter.drawImage(scene.frame, other)
    painter.restore()
    painter.setPen(QPen(scene.palette.highlight().color(), 2))
    painter.drawLine(QPointF(x, scene.frame.top()), QPointF(x, scene.frame.bottom()))


def _write_lights(painter: QPainter, scene: Scene) -> None:
    frame, third = scene.frame, scene.frame.width() / 3
    high = painter.fontMetrics().height() + GAP_TIGHT
    centred = Qt.AlignmentFlag.AlignHCenter | Qt.AlignmentFlag.AlignTop
    for n, label in enumerate(light_labels()):
        painter.drawText(
            QRectF(frame.left() + n * third, frame.bottom(), third, high), centred, label
        )


def _write_names(painter: QPainter, scene: Scene) -> None:
    metrics, x = painter.fontMetrics(), scene.split_x
    high = metrics.height()
    boxes = (
        QRectF(GAP, GAP_TIGHT, x - 2 * GAP, high),
        QRectF(x + GAP, GAP_TIGHT, scene.whole.width() - x - 2 * GAP, high),
    )
    sides = (Qt.AlignmentFlag.AlignRight, Qt.AlignmentFlag.AlignLeft)
    for box, side, name in zip(boxes, sides, scene.names, strict=True):
        text = metrics.elidedText(name, Qt.TextElideMode.ElideRight, int(box.width()))
        painter.drawText(box, side, text)


def _write_sight(painter: QPainter, scene: Scene) -> None:
    metrics = painter.fontMetrics()
    most = int(scene.whole.width()) - 4 * GAP
    text = metrics.elidedText(scene.sight, Qt.TextElideMode.ElideRight, most)
    wide, high = metrics.horizontalAdvance(text) + 2 * GAP, metrics.height() + GAP
    box = QRectF(GAP_TIGHT, scene.whole.height() - high - GAP_TIGHT, wide, high)
    ground = QColor(scene.palette.base().color())
    ground.setAlpha(_GROUND_ALPHA)
    painter.save()
    painter.setPen(Qt.PenStyle.NoPen)
    painter.setBrush(ground)
    painter.drawRoundedRect(box, RADIUS, RADIUS)
    painter.restore()
    painter.drawText(box, Qt.AlignmentFlag.AlignCenter, text)
