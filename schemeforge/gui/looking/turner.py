"""From where a model is seen, while hands and keys turn it."""

from PySide6.QtCore import QObject, QVariantAnimation, Signal

from schemeforge.gui.looking.maker import REST_DEGREES

_DEGREES_A_PIXEL = 0.7
_HELD_PIXELS = 4.0  # a hand that moves less than this clicks
_TURN_MS = 160


class Turner(QObject):
    """An azimuth that follows a hand, goes smoothly where a key sends it, and comes to rest.

    Signals:
        turned: By a hand or a key: the azimuth in degrees, and whether it still moves.
    """

    turned = Signal(float, bool)

    def __init__(self, azimuth: float, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self.azimuth = azimuth
        self.moves = False
        self._held: tuple[float, float] | None = None
        self._way = QVariantAnimation(self)
        self._way.setDuration(_TURN_MS)
        self._way.valueChanged.connect(lambda value: self._turn(float(value), moves=True))
        self._way.finished.connect(lambda: self._turn(self.azimuth, moves=False))

    def put(self, azimuth: float, *, moves: bool) -> None:
        """From there, told by someone else."""
        self.azimuth, self.moves = azimuth % 360.0, moves

    def take(self, x: float) -> None:
        """A hand takes hold at that place, pixels."""
        self._way.stop()
        self._held = (x, self.azimuth)

    def drag(self, x: float) -> None:
        """It moves there."""
        if self._held is None:
            return
        by = x - self._held[0]
        if self.moves or abs(by) > _HELD_PIXELS:
            self._turn(self._held[1] - by * _DEGREES_A_PIXEL, moves=True)

    def let_go(self) -> bool:
        """It lets go; True where it turned the model, which comes to rest."""
        self._held = None
        if not self.moves:
            return False
        self._turn(_rest(self.azimuth), moves=False)
        return True

    def turn_by(self, degrees: float, *, smoothly: bool) -> None:
        """By a key, from where the last key sends it."""
        is_going = self._way.state() is QVariantAnimation.State.Running
        goal = _rest(float(self._way.endValue() if is_going else self.azimuth) + degrees)
        self._way.stop()
        if not smoothly:
            self._turn(goal, moves=False)
            return
        start = self.azimuth
        self._way.setStartValue(start)
        self._way.setEndValue(start + (goal - start + 180.0) % 360.0 - 180.0)
        self._way.start()

    def _turn(self, azimuth: float, *, moves: bool) -> None:
        self.put(azimuth, moves=moves)
        self.turned.emit(self.azimuth, moves)


def _rest(azimuth: float) -> float:
    """Where a turned model comes to rest."""
    return float(round(azimuth / REST_DEGREES) * REST_DEGREES)
