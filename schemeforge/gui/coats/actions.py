"""Steps added, duplicated, moved, copied and removed: buttons, menus and keys."""

from collections.abc import Callable
from dataclasses import replace

from PySide6.QtCore import Qt
from PySide6.QtGui import QKeySequence, QShortcut
from PySide6.QtWidgets import QMenu, QPushButton, QWidget

from schemeforge.desk import DeskState, Direction, Surround
from schemeforge.gui.bridge import Bridge
from schemeforge.gui.coats.mix_row import new_glaze_mix
from schemeforge.gui.icons import icon
from schemeforge.gui.reading import tr
from schemeforge.gui.theme import theme_of
from schemeforge.gui.undercoat_paints import likely_primer, likely_white
from schemeforge.gui.widgets.flow import Flow
from schemeforge.paint import Paint, PaintKind
from schemeforge.scheme import (
    AlongProfile,
    Coat,
    Ingredient,
    Mix,
    Placement,
    Primer,
    Project,
    ReliefKind,
    ReliefProfile,
    Scheme,
    Spray,
    Step,
    Technique,
    Work,
    WorkKind,
    coloured_steps,
    edits,
)
from schemeforge.scheme.techniques import TECHNIQUES

_PLACES = {
    Technique.WASH: ReliefProfile(kind=ReliefKind.POOLS, depth=0.6, reach=0.35),
    Technique.DRY_BRUSH: ReliefProfile(kind=ReliefKind.CATCHES, depth=0.9, reach=0.3),
    Technique.EDGE_HIGHLIGHT: ReliefProfile(kind=ReliefKind.CATCHES, depth=1.0, reach=0.12),
}
_FEATHERED = AlongProfile(start=0.3, end=1.0, feather_start=0.4)


class StepActions(Flow):
    """The row of actions under the cutaway; its keys work anywhere on the page."""

    def __init__(self, bridge: Bridge, page: QWidget) -> None:
        super().__init__(page)
        self.bridge = bridge
        self._page = page
        self._surround: Surround | None = None
        self.add_coat = self._menu_button(self.tr("Add a coat"))
        self.add_coat.setToolTip(self.tr("A coat on this zone, on top of the picked one (Insert)"))
        self.add_coat.setMenu(self._add_menu())
        self.duplicate = self._button(self.tr("Duplicate"), self._duplicate, "Ctrl+D")
        self.up = self._button(self.tr("Up"), lambda: self._move(1), "Ctrl+Up")
        self.down = self._button(self.tr("Down"), lambda: self._move(-1), "Ctrl+Down")
        self.copy = self._menu_button(self.tr("Copy to"))
        self.copy.setAccessibleName(self.tr("Copy to another zone or scheme"))
        self.copy.setToolTip(self.tr("Copy the coat to another zone or scheme (Ctrl+Shift+C)"))
        self._copy_menu = QMenu(self)
        self._copy_menu.aboutToShow.connect(self._fill_copy_menu)
        self.copy.setMenu(self._copy_menu)
        self.zones = self._menu_button(self.tr("Zones"))
        self.zones.setToolTip(self.tr("Which zones this one step covers"))
        self._zones_menu = QMenu(self)
        self._zones_menu.aboutToShow.connect(self._fill_zones_menu)
        self.zones.setMenu(self._zones_menu)
        self.remove = self._button(self.tr("Remove"), self._remove, "Ctrl+Delete")
        self._icons = ((self.add_coat, "add"), (self.up, "up"), (self.down, "down"))
        for button in (self.up, self.down):
            button.setText("")
        for button in (
            self.add_coat,
            self.duplicate,
            self.copy,
            self.zones,
            self.remove,
            self.up,
            self.down,
        ):
            self.add(button)
        self._key(page, "Insert", self.add_coat.showMenu, self.tr("Add a coat"))
        self._key(
            page, "Ctrl+Shift+C", self.copy.showMenu, self.tr("Copy to another zone or scheme")
        )

    def show_state(self, new: DeskState) -> None:
        """Enable what can be done to the picked step."""
        step = new.step
        undercoat = step is not None and isinstance(step.layer, Primer | Spray)
        self.duplicate.setEnabled(step is not None and not undercoat)
        for button in (self.up, self.down, self.copy, self.remove, self.zones):
            button.setEnabled(step is not None)
        if new.preferences.surround is not self._surround:
            self._surround = new.preferences.surround
            for button, name in self._icons:
                button.setIcon(icon(name, theme_of(self._surround).text))

    def new_coat(self, technique: Technique) -> None:
        """A coat of that technique on the picked zone, above the picked step."""
        state = self.bridge.state
        scheme, zone = state.scheme, state.zone
        if scheme is None or zone is None:
            return
        paint = self._likely_paint(technique)
        if paint is None:
            self.bridge.problem.emit(self.tr("There is no paint yet; add one on the Paints page."))
            return
        medium = self._likely(lambda p: p.kind is PaintKind.MEDIUM)
        mix = self._mix_for(technique, scheme, paint, medium)
        placement = Placement(relief=_PLACES.get(technique, ReliefProfile()))
        if technique is Technique.FEATHERED_GLAZE:
            placement = replace(placement, along=_FEATHERED)
        name = edits.fresh_name(f"{paint.name} {technique.value}", (s.name for s in scheme.steps))
        step = Step(
            id=edits.fresh_id(name, (s.id for s in scheme.steps)),
            name=name,
            zone_ids=(zone.id,),
            layer=Coat(
                mix_id=mix.id,
                technique=technique,
                wet_um=TECHNIQUES[technique].normal_um,
                placement=placement,
            ),
        )
        used = [p for p in (paint, medium) if p is not None and mix.parts_of(p.id)]
        self._add(step, mix, used)
        if technique is Technique.FEATHERED_GLAZE:
            self.bridge.session.select(direction=Direction.ALONG)

    def new_primer(self) -> None:
        """Black primer on every zone that has none yet."""
        self._new_undercoat(Primer, self.tr("Prime"), likely_primer(self._all_paints()), neat=True)

    def new_spray(self) -> None:
        """An off-white from above on every primed zone that has none yet."""
        white = likely_white(self._all_paints())
        self._new_undercoat(Spray, self.tr("Spray from above"), white, neat=False)

    def new_work(self, kind: WorkKind) -> None:
        """Work without a predicted colour on the picked zone, last in the list."""
        state = self.bridge.state
        scheme, zone = state.scheme, state.zone
        if scheme is None or zone is None:
            return
        name = edits.fresh_name(tr(kind.value), (s.name for s in scheme.steps))
        step_id = edits.fresh_id(name, (s.id for s in scheme.steps))
        step = Step(id=step_id, name=name, zone_ids=(zone.id,), layer=Work(kind=kind))
        self.bridge.edit(
            self.tr("{0} added").format(name), lambda p: edits.add_step(p, scheme.id, step)
        )

    def _new_undercoat(
        self, layer: type[Primer | Spray], name: str, paint: Paint | None, *, neat: bool
    ) -> None:
        state = self.bridge.state
        scheme = state.scheme
        if scheme is None or paint is None:
            self.bridge.problem.emit(self.tr("There is no paint for it; add one first."))
            return
        free = tuple(
            z.id
            for z in state.project.zones
            if not any(isinstance(s.layer, layer) for s in coloured_steps(scheme, z.id))
        )
        if not free:
            self.bridge.problem.emit(self.tr("Every zone has it already."))
            return
        water = () if neat else (Ingredient(paint_id="water", parts=3.0),)
        mix = Mix(
            id=edits.fresh_id(paint.name, (m.id for m in scheme.mixes)),
            name=edits.fresh_name(paint.name, (m.name for m in scheme.mixes)),
            ingredients=(Ingredient(paint_id=paint.id, parts=2.0), *water),
        )
        title = edits.fresh_name(name, (s.name for s in scheme.steps))
        step = Step(
            id=edits.fresh_id(title, (s.id for s in scheme.steps)),
            name=title,
            zone_ids=free,
            layer=layer(mix_id=mix.id),
        )
        primed = [n for n, s in enumerate(scheme.steps, 1) if isinstance(s.layer, Primer)]
        first = max(primed, default=0) if not neat else 0
        self._add(step, mix, [paint], at=first)

    def _add(self, step: Step, mix: Mix, paints: list[Paint], at: int | None = None) -> None:
        state = self.bridge.state
        scheme = state.scheme
        if scheme is None:
            return
        place = at
        if place is None and state.step is not None:
            place = scheme.steps.index(state.step) + 1

        def change(project: Project) -> Project:
            for paint in paints:
                if not any(p.id == paint.id for p in project.paints):
                    project = edits.put_paint(project, paint)
            return edits.add_step(project, scheme.id, step, at=place, mix=mix)

        if self.bridge.edit(self.tr("{0} added").format(step.name), change):
            self.bridge.session.select(step_id=step.id)

    def _mix_for(
        self, technique: Technique, scheme: Scheme, paint: Paint, medium: Paint | None
    ) -> Mix:
        if technique in {Technique.BASE_COAT, Technique.LAYER, Technique.DRY_BRUSH}:
            glaze = new_glaze_mix(scheme, paint, None)
            thin = 0.5 if technique is Technique.DRY_BRUSH else 1.0
            parts = (Ingredient(paint_id=paint.id, parts=2.0),)
            water = (Ingredient(paint_id="water", parts=thin),)
            name = edits.fresh_name(paint.name, (m.name for m in scheme.mixes))
            return replace(glaze, name=name, ingredients=(*parts, *water))
        return new_glaze_mix(scheme, paint, medium)

    def _likely_paint(self, technique: Technique) -> Paint | None:
        wanted = {
            Technique.WASH: PaintKind.WASH,
            Technique.FILTER: PaintKind.WASH,
            Technique.BASE_COAT: PaintKind.OPAQUE,
            Technique.LAYER: PaintKind.OPAQUE,
            Technique.DRY_BRUSH: PaintKind.OPAQUE,
            Technique.EDGE_HIGHLIGHT: PaintKind.OPAQUE,
        }.get(technique, PaintKind.TRANSLUCENT)
        return self._likely(lambda p: p.kind is wanted) or self._likely(
            lambda p: p.kind not in {PaintKind.MEDIUM, PaintKind.WATER}
        )

    def _likely(self, fits: Callable[[Paint], bool]) -> Paint | None:
        return next((p for p in self._all_paints() if fits(p)), None)

    def _all_paints(self) -> tuple[Paint, ...]:
        document = self.bridge.state.document
        return (*document.project.paints, *document.shelf)

    def _add_menu(self) -> QMenu:
        menu = QMenu(self)
        for technique in Technique:
            action = menu.addAction(tr(technique.value).capitalize())
            action.triggered.connect(lambda _on=False, t=technique: self.new_coat(t))
        menu.addSeparator()
        menu.addAction(self.tr("Primer")).triggered.connect(lambda _on=False: self.new_primer())
        menu.addAction(self.tr("Spray from above")).triggered.connect(
            lambda _on=False: self.new_spray()
        )
        work = menu.addMenu(self.tr("Work without a predicted colour"))
        for kind in WorkKind:
            action = work.addAction(tr(kind.value).capitalize())
            action.triggered.connect(lambda _on=False, k=kind: self.new_work(k))
        return menu

    def _duplicate(self) -> None:
        pick, step = self.bridge.state.selection, self.bridge.state.step
        if step is None:
            return
        label = self.tr("{0} duplicated").format(step.name)
        if self.bridge.edit(label, lambda p: edits.duplicate_step(p, pick.scheme_id, step.id)):
            scheme = self.bridge.state.project.scheme(pick.scheme_id)
            place = [s.id for s in scheme.steps].index(step.id) + 1
            self.bridge.session.select(step_id=scheme.steps[place].id)

    def _move(self, by: int) -> None:
        pick, step = self.bridge.state.selection, self.bridge.state.step
        if step is not None:
            self.bridge.edit(
                self.tr("order of {0}").format(step.name),
                lambda p: edits.move_in_zone(p, pick.scheme_id, step.id, pick.zone_id, by),
            )

    def _remove(self) -> None:
        pick, step = self.bridge.state.selection, self.bridge.state.step
        if step is not None:
            self.bridge.edit(
                self.tr("{0} removed").format(step.name),
                lambda p: edits.remove_step(p, pick.scheme_id, step.id),
            )

    def _fill_copy_menu(self) -> None:
        self._copy_menu.clear()
        state = self.bridge.state
        step, scheme = state.step, state.scheme
        if step is None or scheme is None:
            return
        for zone in state.project.zones:
            if zone.id not in step.zone_ids:
                action = self._copy_menu.addAction(
                    self.tr("Zone {0}").format(zone.name).replace("&", "&&")
                )
                action.triggered.connect(lambda _on=False, z=zone.id: self._copy(scheme.id, (z,)))
        stack = self._copy_menu.addMenu(self.tr("All coats of this zone to"))
        for zone in state.project.zones:
            if zone.id != state.selection.zone_id:
                action = stack.addAction(zone.name.replace("&", "&&"))
                action.triggered.connect(lambda _on=False, z=zone.id: self._copy_stack(z))
        self._copy_menu.addSeparator()
        for other in state.project.schemes:
            if other.id != scheme.id:
                action = self._copy_menu.addAction(
                    self.tr("Scheme {0}").format(other.name).replace("&", "&&")
                )
                action.triggered.connect(lambda _on=False, s=other.id: self._copy(s, None))

    def _copy_stack(self, to_zone_id: str) -> None:
        pick = self.bridge.state.selection
        self.bridge.edit(
            self.tr("all coats copied"),
            lambda p: edits.copy_stack(p, pick.scheme_id, pick.zone_id, to_zone_id),
        )

    def _copy(self, scheme_id: str, zones: tuple[str, ...] | None) -> None:
        pick, step = self.bridge.state.selection, self.bridge.state.step
        if step is None:
            return
        done = self.bridge.edit(
            self.tr("{0} copied").format(step.name),
            lambda p: edits.copy_step(
                p, pick.scheme_id, step.id, to_scheme_id=scheme_id, zone_ids=zones
            ),
        )
        if done:
            self.bridge.told.emit(
                self.tr("{0} was copied; it is the last step there.").format(step.name)
            )

    def _fill_zones_menu(self) -> None:
        self._zones_menu.clear()
        state = self.bridge.state
        step = state.step
        if step is None:
            return
        whole = self._zones_menu.addAction(self.tr("The whole model"))
        everything = tuple(z.id for z in state.project.zones)
        whole.triggered.connect(lambda _on=False: self._set_zones(everything))
        self._zones_menu.addSeparator()
        for zone in state.project.zones:
            action = self._zones_menu.addAction(zone.name.replace("&", "&&"))
            action.setCheckable(True)
            action.setChecked(zone.id in step.zone_ids)
            others = tuple(z for z in step.zone_ids if z != zone.id)
            target = others if zone.id in step.zone_ids else (*step.zone_ids, zone.id)
            action.triggered.connect(lambda _on=False, t=target: self._set_zones(t))

    def _set_zones(self, zones: tuple[str, ...]) -> None:
        pick, step = self.bridge.state.selection, self.bridge.state.step
        if step is not None:
            self.bridge.edit(
                self.tr("zones of {0}").format(step.name),
                lambda p: edits.set_zones(p, pick.scheme_id, step.id, zones),
            )

    def _button(self, label: str, do: Callable[[], None], keys: str) -> QPushButton:
        button = QPushButton(label)
        button.setAccessibleName(label)
        button.setToolTip(f"{label} ({keys})")
        button.clicked.connect(lambda _on=False: do())
        self._key(self._page, keys, button.click, label)
        return button

    @staticmethod
    def _menu_button(label: str) -> QPushButton:
        button = QPushButton(f"{label} ▾")
        button.setAccessibleName(label)
        return button

    @staticmethod
    def _key(page: QWidget, keys: str, do: Callable[[], None], meaning: str) -> None:
        shortcut = QShortcut(QKeySequence(keys), page)
        shortcut.setWhatsThis(meaning)
        shortcut.setContext(Qt.ShortcutContext.WidgetWithChildrenShortcut)
        shortcut.activated.connect(do)
