"""A measured ramp beside what was predicted and what follows it, and how heavy each coat lies."""

from collections.abc import Sequence
from typing import Any

import numpy as np
from numpy.typing import NDArray
from PySide6.QtWidgets import QGridLayout, QLabel, QVBoxLayout, QWidget

from schemeforge import colorimetry
from schemeforge.calibration.test_model import MOST_FACTOR
from schemeforge.gui.reading import tr
from schemeforge.gui.theme import GAP, GAP_TIGHT
from schemeforge.gui.widgets.labels import words
from schemeforge.gui.widgets.strip import ColourStrip


class Ramps(QWidget):
    """Three strips, recess at the left."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        names = (
            self.tr("As photographed"),
            self.tr("As planned"),
            self.tr("As planned, in your hand"),
        )
        self.strips = tuple(ColourStrip(name, height=24) for name in names)
        self.said = tuple(words("", "muted") for _ in names)
        grid = QGridLayout(self)
        grid.setContentsMargins(0, 0, 0, 0)
        grid.setHorizontalSpacing(GAP)
        grid.setVerticalSpacing(GAP_TIGHT)
        grid.setColumnStretch(1, 3)
        grid.setColumnStretch(2, 2)
        for place, (name, strip, said) in enumerate(
            zip(names, self.strips, self.said, strict=True)
        ):
            grid.addWidget(QLabel(name), place, 0)
            grid.addWidget(strip, place, 1)
            grid.addWidget(said, place, 2)

    def show_ramps(
        self,
        measured: NDArray[Any],
        planned: NDArray[Any],
        followed: NDArray[Any],
        *,
        numbers: bool,
    ) -> None:
        """Show three ramps of CIELAB, ``(points, 3)`` each, recess first."""
        for strip, lab in zip(self.strips, (measured, planned, followed), strict=True):
            strip.set_ramp(np.asarray(colorimetry.xyz_from_lab(lab)), numbers=numbers)
        self.said[0].setText(self.tr("recess to raised edge"))
        for said, lab in zip(self.said[1:], (planned, followed), strict=True):
            apart = float(colorimetry.ciede2000(lab, measured).mean())
            said.setText(apart_words(apart, numbers=numbers))


class StrengthLines(QWidget):
    """One sentence a coat."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._labels: list[QLabel] = []
        self._column = QVBoxLayout(self)
        self._column.setContentsMargins(0, 0, 0, 0)
        self._column.setSpacing(GAP_TIGHT)

    @property
    def lines(self) -> list[str]:
        """What they say."""
        return [label.text() for label in self._labels if not label.isHidden()]

    def show_lines(self, lines: Sequence[str]) -> None:
        """Other sentences."""
        while len(self._labels) < len(lines):
            label = words("")
            self._labels.append(label)
            self._column.addWidget(label)
        for place, label in enumerate(self._labels):
            label.setVisible(place < len(lines))
            if place < len(lines):
                label.setText(lines[place])


def apart_words(delta_e: float, *, numbers: bool) -> str:
    """How far a ramp lies from the photographed one."""
    said = {
        "unseen": tr("no difference to be seen"),
        "seen side by side": tr("seen side by side"),
        "shows in the ranks": tr("shows in the ranks"),
    }.get(colorimetry.difference_words(delta_e), tr("another colour"))
    return f"{said} ({delta_e:.1f} dE)" if numbers else said


def strength_words(name: str, factor: float, error: float) -> str:
    """How heavy a coat lies, and how surely that is known (90 of 100)."""
    low, high = factor * np.exp(-1.645 * error), factor * np.exp(1.645 * error)
    if factor > 0.999 * MOST_FACTOR:
        return tr("{0}: {1:.2g} times as heavy as planned, or more").format(name, factor)
    if factor < 1.001 / MOST_FACTOR:
        return tr("{0}: lighter than planned, {1:.2g} of it, or less").format(name, factor)
    if low <= 1.0 <= high:
        heavy = tr("about as planned, as far as can be told: {0:.2g} times").format(factor)
    elif factor > 1.0:
        heavy = tr("{0:.2g} times as heavy as planned").format(factor)
    else:
        heavy = tr("lighter than planned, {0:.2g} of it").format(factor)
    return tr("{0}: {1} ({2:.2g} to {3:.2g})").format(name, heavy, low, high)
