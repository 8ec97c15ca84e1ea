"""The model's size and its zones: a line for each, the picked one opened for editing."""

from collections.abc import Callable
from dataclasses import replace

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import (
    QComboBox,
    QHBoxLayout,
    QLineEdit,
    QPushButton,
    QSizePolicy,
    QVBoxLayout,
    QWidget,
)

from schemeforge.desk import DeskState
from schemeforge.gui.batch.rows import Rows
from schemeforge.gui.batch.section import Section, choose, dress, tool, write
from schemeforge.gui.batch.words import (
    basis_words,
    build_words,
    facing_words,
    surfacing_words,
)
from schemeforge.gui.bridge import Bridge
from schemeforge.gui.counting import counted
from schemeforge.gui.theme import GAP, GAP_WIDE, theme_of
from schemeforge.gui.widgets.field import Field, NumberBox
from schemeforge.gui.widgets.flow import Flow
from schemeforge.gui.widgets.labels import words
from schemeforge.scheme import AreaBasis, Build, Facing, Project, Surfacing, Zone, edits


class ZoneEditor(QWidget):
    """Every field of one zone."""

    def __init__(self, bridge: Bridge, zone_id: str, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.bridge = bridge
        self._id = zone_id
        self.name = QLineEdit()
        self.name.setMaxLength(120)
        self.name.setMinimumWidth(self.fontMetrics().averageCharWidth() * 30)
        self.basis = _choice([(b.value, basis_words(b)) for b in AreaBasis])
        self.area = NumberBox(
            self.tr("Area on one model"), low=0.01, high=100000, step=0.5, decimals=2, unit="cm²"
        )
        self.share = NumberBox(
            self.tr("Share of the body"), low=0, high=100, step=1, decimals=1, unit="%"
        )
        self.surfacing = _choice([(s.value, surfacing_words(s)) for s in Surfacing])
        self.facing = _choice([(f.value, facing_words(f)) for f in Facing])
        self.root, self.tip = QLineEdit(), QLineEdit()
        self.touches: dict[str, QPushButton] = {}
        self._touching = Flow()
        self._area_field = Field(self.tr("Area"), self.area)
        self._share_field = Field(self.tr("Share"), self.share)
        fields = Flow()
        for field in (
            Field(self.tr("Zone"), self.name),
            Field(self.tr("Area from"), self.basis),
            self._area_field,
            self._share_field,
            Field(self.tr("Surface"), self.surfacing),
            Field(self.tr("Faces"), self.facing),
            Field(self.tr("Its root is the"), self.root),
            Field(self.tr("Its tip is the"), self.tip),
        ):
            fields.add(field)
        self._neighbours = words(self.tr("Touches these zones:"), "muted")
        column = QVBoxLayout(self)
        column.setContentsMargins(GAP_WIDE, 0, 0, GAP)
        column.setSpacing(GAP)
        column.addWidget(fields)
        column.addWidget(self._neighbours)
        column.addWidget(self._touching)
        self._connect()

    def _connect(self) -> None:
        self.name.editingFinished.connect(self._on_name)
        self.basis.activated.connect(
            lambda: self._edit(
                self.tr("where an area comes from"),
                lambda z: replace(z, area_basis=AreaBasis(self.basis.currentData())),
            )
        )
        self.area.valueChanged.connect(
            lambda v: self._edit(self.tr("area of a zone"), lambda z: replace(z, area_cm2=v))
        )
        self.share.valueChanged.connect(
            lambda v: self._edit(
                self.tr("share of the body"), lambda z: replace(z, body_share=v / 100.0)
            )
        )
        self.surfacing.activated.connect(
            lambda: self._edit(
                self.tr("surface of a zone"),
                lambda z: replace(z, surfacing=Surfacing(self.surfacing.currentData())),
            )
        )
        self.facing.activated.connect(
            lambda: self._edit(
                self.tr("where a zone faces"),
                lambda z: replace(z, facing=Facing(self.facing.currentData())),
            )
        )
        self.root.editingFinished.connect(self._on_along)
        self.tip.editingFinished.connect(self._on_along)

    def show_zone(self, zone: Zone, project: Project) -> None:
        """Write the fields."""
        write(self.name, zone.name)
        choose(self.basis, zone.area_basis.value)
        self.area.show_value(zone.area_cm2)
        self.share.show_value(100.0 * zone.body_share)
        self._area_field.setVisible(zone.area_basis is AreaBasis.BY_HAND)
        self._share_field.setVisible(zone.area_basis is AreaBasis.BODY_SHARE)
        choose(self.surfacing, zone.surfacing.value)
        choose(self.facing, zone.facing.value)
        write(self.root, zone.along_words[0])
        write(self.tip, zone.along_words[1])
        self._show_touches(zone, project)

    def _show_touches(self, zone: Zone, project: Project) -> None:
        others = [other for other in project.zones if other.id != zone.id]
        if list(self.touches) != [other.id for other in others]:
            self._touching.clear()
            self.touches = {}
            for other in others:
                button = QPushButton()
                button.setCheckable(True)
                button.clicked.connect(lambda on, o=other.id: self._on_touch(o, on=on))
                self._touching.add(button)
                self.touches[other.id] = button
        for other in others:
            button = self.touches[other.id]
            mark = "✓ " if other.id in zone.touches else ""
            button.setText(mark + other.name.replace("&", "&&"))
            button.setAccessibleName(self.tr("touches {0}").format(other.name))
            button.setChecked(other.id in zone.touches)
        self._neighbours.setVisible(bool(others))

    def _edit(self, label: str, change: Callable[[Zone], Zone]) -> bool:
        return self.bridge.edit(label, lambda p: edits.update_zone(p, change(p.zone(self._id))))

    @property
    def _zone(self) -> Zone:
        return self.bridge.state.project.zone(self._id)

    def _on_name(self) -> None:
        text = self.name.text()
        self.name.setModified(False)
        if text != self._zone.name and not self._edit(
            self.tr("rename zone"), lambda z: replace(z, name=text)
        ):
            write(self.name, self._zone.name)

    def _on_along(self) -> None:
        ends = (self.root.text(), self.tip.text())
        for line in (self.root, self.tip):
            line.setModified(False)
        if ends != self._zone.along_words and not self._edit(
            self.tr("words for root and tip"), lambda z: replace(z, along_words=ends)
        ):
            write(self.root, self._zone.along_words[0])
            write(self.tip, self._zone.along_words[1])

    def _on_touch(self, other: str, *, on: bool) -> None:
        def change(zone: Zone) -> Zone:
            rest = tuple(t for t in zone.touches if t != other)
            return replace(zone, touches=(*rest, other) if on else rest)

        self._edit(self.tr("which zones touch"), change)


class ZoneRow(QWidget):
    """A zone in one line; its editor is made when it is first opened.

    Signals:
        toggled: Its id, when it is to be opened or closed.
    """

    toggled = Signal(str)

    def __init__(self, bridge: Bridge, zone_id: str, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.bridge = bridge
        self._id = zone_id
        self.line = QPushButton()
        self.line.setCheckable(True)
        self.line.setStyleSheet("text-align: left;")
        self.line.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Fixed)
        self.line.clicked.connect(lambda: self.toggled.emit(self._id))
        self.tools = (
            tool("up", self.tr("Move the zone up"), lambda: self._move(-1)),
            tool("down", self.tr("Move the zone down"), lambda: self._move(1)),
            tool("remove", self.tr("Remove the zone"), self._remove),
        )
        self.editor: ZoneEditor | None = None
        head = QHBoxLayout()
        head.setSpacing(GAP)
        head.addWidget(self.line, 1)
        for button in self.tools:
            head.addWidget(button)
        self._column = QVBoxLayout(self)
        self._column.setContentsMargins(0, 0, 0, 0)
        self._column.setSpacing(GAP)
        self._column.addLayout(head)

    def show_zone(self, zone: Zone, project: Project, colour: str, *, opened: bool) -> None:
        """Write the line, and the editor where it is open."""
        facts = [
            self.tr("{0:.1f} cm²").format(zone.area_on(project.size)),
            surfacing_words(zone.surfacing),
            facing_words(zone.facing),
        ]
        name = zone.name if len(zone.name) <= 40 else zone.name[:39] + "…"
        text = f"{name}  ·  {'  ·  '.join(facts)}"
        self.line.setText(text.replace("&", "&&"))
        self.line.setAccessibleName(", ".join((zone.name, *facts)))
        self.line.setToolTip(self.tr("Open or close this zone for editing"))
        self.line.setChecked(opened)
        for button in self.tools:
            dress(button, colour)
            button.setAccessibleDescription(zone.name)
        if opened and self.editor is None:
            self.editor = ZoneEditor(self.bridge, self._id)
            self._column.addWidget(self.editor)
        if self.editor is not None:
            self.editor.setVisible(opened)
            self.editor.show_zone(zone, project)

    def _move(self, by: int) -> None:
        ids = [zone.id for zone in self.bridge.state.project.zones]
        to = ids.index(self._id) + by
        if 0 <= to < len(ids):
            self.bridge.edit(self.tr("move zone"), lambda p: edits.move_zone(p, self._id, to))

    def _remove(self) -> None:
        name = self.bridge.state.project.zone(self._id).name
        if self.bridge.edit(self.tr("remove zone"), lambda p: edits.remove_zone(p, self._id)):
            told = self.tr('"{0}" and coats on it alone are gone; undo brings them back.')
            self.bridge.told.emit(told.format(name))


class ZonesSection(Section):
    """Base, build and zones."""

    def __init__(self, bridge: Bridge, parent: QWidget | None = None) -> None:
        super().__init__("", "", parent)
        self.bridge = bridge
        self.about.setText(
            self.tr(
                "Parts of every model that are painted alike. Areas can follow from the base and "
                "the build; measure a few models by hand where it matters."
            )
        )
        self.open_id = ""
        self.base = NumberBox(
            self.tr("Diameter of the base"), low=10, high=300, step=1, decimals=1, unit="mm"
        )
        self.build = _choice([(b.value, build_words(b)) for b in Build])
        size = Flow()
        size.add(Field(self.tr("Diameter of the base"), self.base))
        size.add(Field(self.tr("Build"), self.build))
        self.list: Rows[ZoneRow] = Rows(self._make_row)
        self.empty = words(self.tr("No zones yet: add one, such as a cloak or the base."))
        self.add = self.add_button(self.tr("Add a zone"), self._add)
        self.body.addWidget(size)
        self.body.addWidget(self.empty)
        self.body.addWidget(self.list)
        self.base.valueChanged.connect(
            lambda v: self._size(self.tr("diameter of the base"), base_mm=v)
        )
        self.build.activated.connect(
            lambda: self._size(self.tr("build"), build=Build(self.build.currentData()))
        )

    def _make_row(self, zone_id: str) -> ZoneRow:
        row = ZoneRow(self.bridge, zone_id)
        row.toggled.connect(self.toggle)
        return row

    def show_state(self, _old: DeskState | None, new: DeskState) -> None:
        """Follow size and zones."""
        project = new.project
        total = sum(zone.area_on(project.size) for zone in project.zones)
        title = self.tr("Model and zones: {0}, {1:.0f} cm² on one model").format(
            counted(len(project.zones), self.tr("{0} zone"), self.tr("{0} zones")), total
        )
        self.heading.setText(title)
        self.setAccessibleName(title)
        self.base.show_value(project.size.base_mm)
        choose(self.build, project.size.build.value)
        self.list.follow([zone.id for zone in project.zones])
        colour = theme_of(new.preferences.surround).text
        for zone in project.zones:
            row = self.list.rows[zone.id]
            row.show_zone(zone, project, colour, opened=zone.id == self.open_id)
        self.empty.setVisible(not project.zones)

    def toggle(self, zone_id: str) -> None:
        """Open that zone, or close it where it is open."""
        self.open_id = "" if self.open_id == zone_id else zone_id
        self.show_state(None, self.bridge.state)
        if self.open_id:
            self.bridge.session.select(zone_id=zone_id)

    def _size(self, label: str, **changes: object) -> None:
        def change(project: Project) -> Project:
            return edits.set_size(project, replace(project.size, **changes))  # type: ignore[arg-type]

        self.bridge.edit(label, change)

    def _add(self) -> None:
        zones = self.bridge.state.project.zones
        name = edits.fresh_name(self.tr("New zone"), (z.name for z in zones))
        new = Zone(id=edits.fresh_id(name, (z.id for z in zones)), name=name)
        if self.bridge.edit(self.tr("add zone"), lambda p: edits.add_zone(p, new)):
            self.open_id = ""
            self.toggle(new.id)
            editor = self.list.rows[new.id].editor
            if editor is not None:
                editor.name.setFocus()
                editor.name.selectAll()


def _choice(items: list[tuple[str, str]]) -> QComboBox:
    box = QComboBox()
    box.setSizeAdjustPolicy(QComboBox.SizeAdjustPolicy.AdjustToContents)
    box.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
    for value, label in items:
        box.addItem(label, value)
    return box
