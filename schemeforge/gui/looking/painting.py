"""Models with what has to be written beside them: lights, schemes, and how they are looked at."""

from dataclasses import dataclass
from typing import Final

from PySide6.QtCore import QPointF, QRect, QRectF, Qt
from PySide6.QtGui import QFontMetrics, QPainter, QPalette, QPen

from schemeforge.gui.looking.shot import Arrangement, Drawn
from schemeforge.gui.looking.words import light_labels
from schemeforge.gui.theme import GAP, GAP_TIGHT

_SIGHT_FLAGS: Final = int(Qt.AlignmentFlag.AlignCenter | Qt.TextFlag.TextWordWrap)


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
        stage: After or before which step, "" for finished.
        sight: How they are looked at, "" where the picture is as it is.
        waits: Said while a finer picture is on its way, "" for none.
    """

    drawn: Drawn
    frame: QRectF
    whole: QRectF
    palette: QPalette
    arrangement: Arrangement
    split_x: float
    names: tuple[str, str]
    stage: str
    sight: str
    waits: str


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
    line = 1 if drawn.other is not None else 0
    _write_above(painter, scene, scene.stage, Qt.AlignmentFlag.AlignLeft, line)
    _write_above(painter, scene, scene.waits, Qt.AlignmentFlag.AlignRight, line)


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


def _write_above(
    painter: QPainter, scene: Scene, words: str, side: Qt.AlignmentFlag, line: int
) -> None:
    metrics = painter.fontMetrics()
    high, wide = metrics.height(), scene.whole.width() - 2 * GAP
    text = metrics.elidedText(words, Qt.TextElideMode.ElideRight, int(wide))
    painter.drawText(QRectF(GAP, GAP_TIGHT + line * high, wide, high), side, text)


def _write_sight(painter: QPainter, scene: Scene) -> None:
    """Beneath everything, so that it hides nothing."""
    high = sight_height(painter.fontMetrics(), scene.sight, scene.whole.width())
    box = QRectF(GAP, scene.whole.height() - high, scene.whole.width() - 2 * GAP, high)
    painter.drawText(box, _SIGHT_FLAGS, scene.sight)


def sight_height(metrics: QFontMetrics, text: str, width: float) -> int:
    """Room that the words on a sight take at the foot of a widget of that width."""
    if not text:
        return 0
    room = QRect(0, 0, max(int(width) - 2 * GAP, 1), 1000)
    return metrics.boundingRect(room, _SIGHT_FLAGS, text).height() + GAP
