"""The strip over every page: which scheme, and how its colours are looked at."""

from dataclasses import replace
from pathlib import Path

from PySide6.QtCore import QSignalBlocker, Qt
from PySide6.QtWidgets import (
    QComboBox,
    QFileDialog,
    QFrame,
    QHBoxLayout,
    QPushButton,
    QSizePolicy,
    QWidget,
)

from schemeforge import colorimetry
from schemeforge.desk import DeskState
from schemeforge.gui.bridge import Bridge
from schemeforge.gui.own_light import read_light
from schemeforge.gui.theme import GAP, GAP_WIDE
from schemeforge.gui.widgets.segments import Segments
from schemeforge.scheme import Finish, Project, Viewing, edits


class ViewBar(QFrame):
    """Scheme, light, finish, dry or wet, and Numbers: each one click away."""

    def __init__(self, bridge: Bridge, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.bridge = bridge
        self._listed: list[tuple[str, str]] = []
        self.scheme = QComboBox()
        self.scheme.setAccessibleName(self.tr("Scheme"))
        self.scheme.setToolTip(self.tr("The scheme being worked on"))
        self.scheme.setSizeAdjustPolicy(QComboBox.SizeAdjustPolicy.AdjustToContents)
        self.scheme.setMaximumWidth(260)
        self.light = QComboBox()
        self.light.setAccessibleName(self.tr("Light"))
        self.light.setToolTip(self.tr("The light that colours are seen under"))
        self.light.setMaximumWidth(210)
        self.finish = Segments(self.tr("Finish"), self._finishes())
        self.wet = Segments(self.tr("Dry or wet"), self._wets())
        self.numbers = QPushButton(self.tr("Numbers"))
        self.numbers.setCheckable(True)
        self.numbers.setToolTip(
            self.tr("Show micrometres, L*, CIEDE2000 and tolerances everywhere (Ctrl+Shift+N)")
        )
        row = QHBoxLayout(self)
        row.setContentsMargins(0, GAP, 0, 0)
        row.setSpacing(GAP_WIDE)
        row.addWidget(self.scheme)
        row.addStretch(1)
        for widget in (self.light, self.finish, self.wet, self.numbers):
            row.addWidget(widget)
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Fixed)
        self.scheme.activated.connect(self._on_scheme)
        self.light.activated.connect(self._on_light)
        self.finish.chosen.connect(self._on_finish)
        self.wet.chosen.connect(self._on_wet)
        self.numbers.clicked.connect(lambda on: bridge.session.prefer(numbers=on))
        bridge.changed.connect(self._show)
        self._show(None, bridge.state)

    def _finishes(self) -> list[tuple[str, str, str]]:
        return [
            (Finish.MATT.value, self.tr("Matt"), self.tr("Under matt varnish")),
            (
                Finish.UNVARNISHED.value,
                self.tr("Unvarnished"),
                self.tr("As the paint dries by itself"),
            ),
            (Finish.SATIN.value, self.tr("Satin"), self.tr("Under satin varnish")),
            (Finish.GLOSS.value, self.tr("Gloss"), self.tr("Under gloss varnish")),
        ]

    def _wets(self) -> list[tuple[str, str, str]]:
        return [
            ("dry", self.tr("Dry"), self.tr("Every coat dry")),
            ("wet", self.tr("Wet"), self.tr("The last coat as it looks before it dries")),
        ]

    def _show(self, old: DeskState | None, new: DeskState) -> None:
        listed = [(scheme.name, scheme.id) for scheme in new.project.schemes]
        if listed != self._listed:
            self._listed = listed
            with QSignalBlocker(self.scheme):
                self.scheme.clear()
                for name, scheme_id in listed:
                    self.scheme.addItem(name, scheme_id)
        with QSignalBlocker(self.scheme):
            self.scheme.setCurrentIndex(self.scheme.findData(new.selection.scheme_id))
        if old is None or old.project.lights is not new.project.lights:
            self._fill_lights(new)
        view = new.project.viewing
        with QSignalBlocker(self.light):
            self.light.setCurrentIndex(self.light.findData(view.light))
        self.finish.set_value(view.finish.value)
        self.finish.setEnabled(not view.wet)
        self.wet.set_value("wet" if view.wet else "dry")
        self.numbers.setChecked(new.preferences.numbers)

    def _fill_lights(self, state: DeskState) -> None:
        with QSignalBlocker(self.light):
            self.light.clear()
            for light in colorimetry.lights():
                self.light.addItem(light.label, light.name)
                self.light.setItemData(self.light.count() - 1, light.note, 3)
            for own in state.project.lights:
                self.light.addItem(own.name, own.name)
            self.light.insertSeparator(self.light.count())
            self.light.addItem(self.tr("A light of your own…"), "")
            self.light.setItemData(
                self.light.count() - 1,
                self.tr("From a text file: wavelength in nm and power, a pair a line"),
                Qt.ItemDataRole.ToolTipRole,
            )

    def _view(self, label: str, viewing: Viewing) -> None:
        self.bridge.edit(label, lambda p: edits.set_viewing(p, viewing), merge="viewing")

    def _on_scheme(self, row: int) -> None:
        self.bridge.session.select(scheme_id=self.scheme.itemData(row))

    def _on_light(self, row: int) -> None:
        view = self.bridge.state.project.viewing
        wanted = self.light.itemData(row)
        if wanted:
            self._view(self.tr("light"), replace(view, light=wanted))
            return
        with QSignalBlocker(self.light):
            self.light.setCurrentIndex(self.light.findData(view.light))
        name, _ = QFileDialog.getOpenFileName(
            self,
            self.tr("Open a light's spectrum"),
            str(Path.home()),
            self.tr("Wavelengths and powers (*.csv *.txt *.tsv *.spdx *.xml);;All files (*)"),
        )
        if name:
            self.take_light(Path(name))

    def take_light(self, path: Path) -> bool:
        """See the project under a light from a file; False where the file holds none."""

        def take() -> None:
            light = read_light(path)

            def change(project: Project) -> Project:
                lit = edits.add_light(project, light)
                return edits.set_viewing(lit, replace(lit.viewing, light=light.name))

            self.bridge.session.edit(self.tr("a light of your own"), change)

        return self.bridge.attempt(take)

    def _on_finish(self, value: str) -> None:
        view = self.bridge.state.project.viewing
        self._view(self.tr("finish"), replace(view, finish=Finish(value)))

    def _on_wet(self, value: str) -> None:
        view = self.bridge.state.project.viewing
        self._view(self.tr("dry or wet"), replace(view, wet=value == "wet"))
