"""The rules of thumb that findings go by, each of which the painter can change."""

from dataclasses import replace
from typing import Any

from PySide6.QtCore import QSignalBlocker, Qt
from PySide6.QtWidgets import (
    QDialog,
    QDialogButtonBox,
    QDoubleSpinBox,
    QGridLayout,
    QLabel,
    QPushButton,
    QScrollArea,
    QVBoxLayout,
    QWidget,
)

from schemeforge.comparison import DEFAULTS, RULES, Rule, Thresholds
from schemeforge.desk import DeskState
from schemeforge.errors import SchemeForgeError
from schemeforge.gui.bridge import Bridge
from schemeforge.gui.reading import tr
from schemeforge.gui.theme import GAP, GAP_WIDE
from schemeforge.gui.widgets.field import NumberBox


class RulesDialog(QDialog):
    """Every threshold with its unit; a change counts at once and is kept between runs."""

    def __init__(self, bridge: Bridge, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.bridge = bridge
        self.setWindowTitle(self.tr("Rules of thumb"))
        self.boxes: dict[str, QDoubleSpinBox] = {}
        intro = QLabel(
            self.tr(
                "What counts as enough, and where each number comes from. Rules of thumb have no "
                "source and are no measurements: change what does not suit your eye."
            )
        )
        intro.setWordWrap(True)
        self.problem = QLabel()
        self.problem.setProperty("role", "caution")
        self.problem.setWordWrap(True)
        self.problem.setTextFormat(Qt.TextFormat.PlainText)
        form = QGridLayout()
        form.setHorizontalSpacing(GAP_WIDE)
        form.setVerticalSpacing(GAP)
        form.setColumnStretch(0, 3)
        form.setColumnStretch(2, 2)
        for row, rule in enumerate(RULES):
            self._add(form, row, rule)
        inner = QWidget()
        inner.setLayout(form)
        scroll = QScrollArea()
        scroll.setWidgetResizable(True)
        scroll.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        scroll.setWidget(inner)
        self.usual = QPushButton(self.tr("Back to the usual values"))
        self.usual.clicked.connect(lambda: bridge.session.prefer(thresholds=DEFAULTS))
        buttons = QDialogButtonBox(QDialogButtonBox.StandardButton.Close)
        buttons.addButton(self.usual, QDialogButtonBox.ButtonRole.ResetRole)
        buttons.rejected.connect(self.reject)
        column = QVBoxLayout(self)
        column.setSpacing(GAP_WIDE)
        column.addWidget(intro)
        column.addWidget(scroll, 1)
        column.addWidget(self.problem)
        column.addWidget(buttons)
        self.resize(720, 620)
        bridge.changed.connect(self._on_changed)
        self._show(bridge.state.preferences.thresholds)

    def _add(self, form: QGridLayout, row: int, rule: Rule) -> None:
        """One line: what, how much, and where its starting value comes from."""
        box = self._box(rule)
        name, origin = QLabel(tr(rule.words)), QLabel(tr(rule.origin))
        name.setBuddy(box)
        origin.setProperty("role", "muted")
        for label in (name, origin):
            label.setWordWrap(True)
        box.setAccessibleDescription(origin.text())
        for column, widget in enumerate((name, box, origin)):
            form.addWidget(widget, row, column)

    def _box(self, rule: Rule) -> QDoubleSpinBox:
        decimals = 0 if rule.whole or rule.high > 10.0 else 2
        box = NumberBox(
            tr(rule.words),
            low=rule.low,
            high=rule.high,
            step=1.0 if decimals == 0 else 0.05,
            decimals=decimals if rule.whole or rule.high < 100.0 else 1,
            unit=tr(rule.unit) if rule.unit else "",
        )
        box.valueChanged.connect(lambda value, r=rule: self._on_value(r, value))
        self.boxes[rule.field] = box
        return box

    def _on_value(self, rule: Rule, value: float) -> None:
        now = self.bridge.state.preferences.thresholds
        try:
            change: dict[str, Any] = {rule.field: int(value) if rule.whole else value}
            new = replace(now, **change)
        except SchemeForgeError as error:
            self.problem.setText(error.sentence)
            self._show(now)
            return
        self.problem.setText("")
        self.bridge.session.prefer(thresholds=new)

    def _on_changed(self, old: DeskState, new: DeskState) -> None:
        if old.preferences.thresholds != new.preferences.thresholds:
            self._show(new.preferences.thresholds)

    def _show(self, thresholds: Thresholds) -> None:
        for field, box in self.boxes.items():
            with QSignalBlocker(box):
                box.setValue(getattr(thresholds, field))
