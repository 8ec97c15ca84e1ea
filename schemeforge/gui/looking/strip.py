"""The strip beside a model: from where, and with whose eyes, all models are looked at."""

from dataclasses import replace

from PySide6.QtCore import QSignalBlocker, Qt
from PySide6.QtWidgets import QComboBox, QHBoxLayout, QLabel, QSlider, QWidget

from schemeforge.colorimetry import Distance, Eyes, Sight
from schemeforge.desk import DeskState
from schemeforge.gui.bridge import Bridge
from schemeforge.gui.looking import words
from schemeforge.gui.theme import GAP, GAP_TIGHT
from schemeforge.gui.widgets.flow import Flow


class LookStrip(Flow):
    """Distance, eyes, how weak they are, and a camera: one sight for the whole window.

    It changes pictures of models alone, never a number; models say so where it does.
    """

    def __init__(self, bridge: Bridge, parent: QWidget | None = None) -> None:
        super().__init__(parent, gap=GAP_TIGHT)
        self.bridge = bridge
        self.distance = _choice(self.tr("Seen from"), words.distances())
        self.eyes = _choice(self.tr("Seen with"), words.eyes())
        self.severity = QSlider(Qt.Orientation.Horizontal)
        self.severity.setRange(0, 100)
        self.severity.setSingleStep(5)
        self.severity.setPageStep(20)
        self.severity.setMinimumWidth(90)
        self.severity.setAccessibleName(self.tr("How weak, percent"))
        self.severity.setToolTip(
            self.tr("How weak the cones are: from 0 % (normal) to 100 % (missing)")
        )
        self.weak = QLabel()
        self.weak.setProperty("role", "muted")
        row = QWidget()
        inside = QHBoxLayout(row)
        inside.setContentsMargins(0, 0, 0, 0)
        inside.setSpacing(GAP)
        inside.addWidget(self.severity, 1)
        inside.addWidget(self.weak)
        self._weak = row
        for widget in (self.distance, self.eyes, self._weak):
            self.add(widget)
        self._weak.hide()
        self.distance.activated.connect(
            lambda row: self._see(distance=Distance(self.distance.itemData(row)))
        )
        self.eyes.activated.connect(lambda row: self._on_eyes(self.eyes.itemData(row)))
        self.severity.valueChanged.connect(lambda value: self._see(severity=value / 100))
        bridge.changed.connect(self._on_changed)
        self._show(bridge.state.selection.sight)

    def _on_changed(self, old: DeskState, new: DeskState) -> None:
        if old.selection.sight != new.selection.sight:
            self._show(new.selection.sight)

    def _show(self, sight: Sight) -> None:
        eyes = sight.eyes.value if sight.balanced else words.CAMERA
        for box, value in ((self.distance, sight.distance.value), (self.eyes, eyes)):
            with QSignalBlocker(box):
                box.setCurrentIndex(box.findData(value))
        with QSignalBlocker(self.severity):
            self.severity.setValue(round(100 * sight.severity))
        self.weak.setText(self.tr("{0} %").format(round(100 * sight.severity)))
        self._weak.setVisible(sight.is_deficient)

    def _on_eyes(self, value: str) -> None:
        camera = value == words.CAMERA
        self._see(eyes=Eyes.ALL if camera else Eyes(value), balanced=not camera)

    def _see(self, **changes: object) -> None:
        sight = self.bridge.state.selection.sight
        self.bridge.session.select(sight=replace(sight, **changes))  # type: ignore[arg-type]


def _choice(name: str, choices: list[tuple[str, str, str]]) -> QComboBox:
    box = QComboBox()
    box.setAccessibleName(name)
    box.setToolTip(name)
    for value, label, tip in choices:
        box.addItem(label, value)
        box.setItemData(box.count() - 1, tip, Qt.ItemDataRole.ToolTipRole)
    return box
