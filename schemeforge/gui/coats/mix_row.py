"""The picked coat's mix: parts, paints, medium and water, and the pot that it comes from."""

from collections.abc import Callable

from PySide6.QtCore import QSignalBlocker, Signal
from PySide6.QtGui import QDragEnterEvent, QDropEvent
from PySide6.QtWidgets import (
    QComboBox,
    QHBoxLayout,
    QLabel,
    QPushButton,
    QVBoxLayout,
    QWidget,
)

from schemeforge.desk import DeskState, Surround
from schemeforge.gui.bridge import Bridge
from schemeforge.gui.icons import icon
from schemeforge.gui.paints.drag import paint_id_from
from schemeforge.gui.recipes.find_menu import FindMenu
from schemeforge.gui.theme import GAP_TIGHT, theme_of
from schemeforge.gui.widgets.field import NumberBox
from schemeforge.gui.widgets.flow import Flow
from schemeforge.gui.widgets.paint_choice import TAKE_OUT, PaintChoice
from schemeforge.paint import WATER, WATER_ID, Paint
from schemeforge.scheme import Ingredient, Mix, Project, Scheme, Step, edits


class _IngredientEdit(QWidget):
    """Parts and paint of one ingredient; 0 parts, or the last choice, takes it out."""

    def __init__(self, owner: "MixRow", place: int) -> None:
        super().__init__()
        self.parts = NumberBox(owner.tr("parts"), low=0.0, high=1000.0, step=1.0, decimals=2)
        self.parts.setMaximumWidth(60)
        self.parts.setToolTip(owner.tr("Parts by volume; 0 takes it out of the mix"))
        self.paint = PaintChoice(owner.tr("paint"), may_take_out=True)
        self.parts.valueChanged.connect(lambda value: owner.set_parts(place, value))
        self.paint.activated.connect(lambda _row: owner.swap(place, self.paint.currentData()))
        row = QHBoxLayout(self)
        row.setContentsMargins(0, 0, 0, 0)
        row.setSpacing(GAP_TIGHT // 2)
        for widget in (self.parts, self.paint):
            row.addWidget(widget)


class MixRow(QWidget):
    """Ingredients in a row that wraps; a paint dropped here joins the mix.

    Signals:
        changed_shared: Said when an edit touched several steps.
    """

    changed_shared = Signal(str)

    def __init__(self, bridge: Bridge, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.bridge = bridge
        self.setAcceptDrops(True)
        self._edits: list[_IngredientEdit] = []
        self._mix: Mix | None = None
        self._mixes: tuple[Mix, ...] = ()
        self._surround: Surround | None = None
        self._flow = Flow()
        self.add = QPushButton()
        self.add.setAccessibleName(self.tr("Add a paint to the mix"))
        self.add.setToolTip(self.tr("One more ingredient (or drag a paint here)"))
        self.add.clicked.connect(self.add_ingredient)
        self.pot = QComboBox()
        self.pot.setSizeAdjustPolicy(
            QComboBox.SizeAdjustPolicy.AdjustToMinimumContentsLengthWithIcon
        )
        self.pot.setMinimumContentsLength(10)
        self.pot.setToolTip(self.tr("The pot that this coat is laid from"))
        self.pot.activated.connect(self._on_pot)
        self.own = QPushButton()
        self.own.clicked.connect(self._on_own)
        self.find_mix = FindMenu(bridge)
        self._pot_caption = QLabel(self.tr("pot"))
        self._pot_caption.setProperty("role", "muted")
        self._pot_caption.setBuddy(self.pot)
        self.pot.setAccessibleName(self.tr("pot"))
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(GAP_TIGHT)
        column.addWidget(self._flow)
        line = QHBoxLayout()
        line.setContentsMargins(0, 0, 0, 0)
        line.addWidget(self._pot_caption)
        line.addWidget(self.pot)
        pot = QWidget()
        pot.setLayout(line)
        self._pot = pot
        self._flow.add(pot)
        self._flow.add(self.add)
        self._flow.add(self.own)
        self._flow.add(self.find_mix)

    @property
    def ingredients(self) -> list[_IngredientEdit]:
        """The editors, one an ingredient."""
        return self._edits

    def show_state(self, new: DeskState) -> None:
        """Write the mix of the picked step."""
        scheme, step = new.scheme, new.step
        self._mix = None
        if scheme is not None and step is not None and step.mix_id is not None:
            self._mix = scheme.mix(step.mix_id)
        self.setVisible(self._mix is not None)
        if self._mix is None or scheme is None:
            return
        paints = self._choices(new)
        self._resize(len(self._mix.ingredients))
        if new.preferences.surround is not self._surround:
            self._surround = new.preferences.surround
            self.add.setIcon(icon("add", theme_of(self._surround).text))
        for editor, ingredient in zip(self._edits, self._mix.ingredients, strict=True):
            editor.parts.show_value(ingredient.parts)
            editor.paint.show_paints(paints, ingredient.paint_id)
        self._show_pot(scheme)

    def add_ingredient(self) -> None:
        """One part of the first paint that is not in yet."""
        if self._mix is None:
            return
        used = {i.paint_id for i in self._mix.ingredients}
        for paint in self._choices(self.bridge.state):
            if paint.id not in used:
                self.put(paint.id)
                return

    def put(self, paint_id: str) -> None:
        """One more part of a paint of the project or the shelf."""
        mix = self._mix
        if mix is None:
            return
        now = mix.parts_of(paint_id)
        paint = self._known(paint_id)
        scheme_id = self.bridge.state.selection.scheme_id

        def change(project: Project) -> Project:
            carried = self._carry(project, paint)
            return edits.set_parts(carried, scheme_id, mix.id, paint_id, now + 1.0)

        self._edit(self.tr("{0} into {1}").format(paint.name, mix.name), change)

    def set_parts(self, place: int, parts: float) -> None:
        """Other parts of the ingredient at that place; 0 takes it out."""
        mix = self._mix
        if mix is None or place >= len(mix.ingredients):
            return
        paint_id = mix.ingredients[place].paint_id
        if mix.ingredients[place].parts == parts:
            return
        scheme_id = self.bridge.state.selection.scheme_id
        self._edit(
            self.tr("parts of {0}").format(self._known(paint_id).name),
            lambda p: edits.set_parts(p, scheme_id, mix.id, paint_id, parts),
            merge=f"parts {mix.id} {paint_id}" if parts else "",
        )

    def swap(self, place: int, paint_id: str | None) -> None:
        """Another paint in the same parts."""
        mix = self._mix
        if mix is None or paint_id is None or place >= len(mix.ingredients):
            return
        old = mix.ingredients[place].paint_id
        if paint_id == TAKE_OUT:
            self.set_parts(place, 0.0)
            self.show_state(self.bridge.state)
            return
        if old == paint_id:
            return
        paint = self._known(paint_id)
        scheme_id = self.bridge.state.selection.scheme_id
        self._edit(
            self.tr("{0} in {1}").format(paint.name, mix.name),
            lambda p: edits.swap_ingredient(
                self._carry(p, paint), scheme_id, mix.id, old, paint_id
            ),
        )

    def dragEnterEvent(self, event: QDragEnterEvent) -> None:
        """Take a paint from the shelf."""
        if self._mix is not None and paint_id_from(event.mimeData()):
            event.acceptProposedAction()

    def dropEvent(self, event: QDropEvent) -> None:
        """The paint joins the mix."""
        paint_id = paint_id_from(event.mimeData())
        if paint_id:
            event.acceptProposedAction()
            self.put(paint_id)

    def _edit(self, label: str, change: Callable[[Project], Project], merge: str = "") -> None:
        state, mix = self.bridge.state, self._mix
        shared: tuple[Step, ...] = ()
        if state.scheme is not None and mix is not None:
            shared = edits.steps_sharing(state.scheme, mix.id)
        done = self.bridge.edit(label, change, merge=merge)
        if done and len(shared) > 1:
            names = ", ".join(step.name for step in shared)
            self.changed_shared.emit(
                self.tr("This pot serves {0} steps, and all of them changed: {1}.").format(
                    len(shared), names
                )
            )

    def _choices(self, state: DeskState) -> tuple[Paint, ...]:
        def compute() -> tuple[Paint, ...]:
            carried = {paint.id for paint in state.project.paints}
            others = tuple(p for p in state.document.shelf if p.id not in carried)
            named = sorted((*state.project.paints, *others), key=lambda p: p.name.casefold())
            return (*named, WATER)

        return self.bridge.colours.keep(
            ("paint choices",), (state.project.paints, state.document.shelf), compute
        )

    def _known(self, paint_id: str) -> Paint:
        return next((p for p in self._choices(self.bridge.state) if p.id == paint_id), WATER)

    @staticmethod
    def _carry(project: Project, paint: Paint) -> Project:
        if paint.id == WATER_ID or any(p.id == paint.id for p in project.paints):
            return project
        return edits.put_paint(project, paint)

    def _show_pot(self, scheme: Scheme) -> None:
        mix = self._mix
        if mix is None:
            return
        with QSignalBlocker(self.pot):
            if scheme.mixes is not self._mixes:
                self._mixes = scheme.mixes
                self.pot.clear()
                for known in scheme.mixes:
                    self.pot.addItem(known.name, known.id)
            self.pot.setCurrentIndex(self.pot.findData(mix.id))
        self.pot.setMinimumContentsLength(min(max(len(mix.name), 9), 20))
        sharing = edits.steps_sharing(scheme, mix.id)
        self.own.setVisible(len(sharing) > 1)
        if len(sharing) < 2:
            return
        names = ", ".join(step.name for step in sharing)
        self.own.setText(self.tr("Take an own pot ({0} steps share this one)").format(len(sharing)))
        self.own.setToolTip(
            self.tr("One pot serves {0}. Give this step a pot of its own.").format(names)
        )

    def _on_pot(self, row: int) -> None:
        pick = self.bridge.state.selection
        mix_id = self.pot.itemData(row)
        self.bridge.edit(
            self.tr("another pot"),
            lambda p: edits.use_pot(p, pick.scheme_id, pick.step_id, mix_id),
        )

    def _on_own(self) -> None:
        pick = self.bridge.state.selection
        self.bridge.edit(
            self.tr("a pot of its own"), lambda p: edits.own_pot(p, pick.scheme_id, pick.step_id)
        )

    def _resize(self, count: int) -> None:
        if len(self._edits) == count:
            return
        self._flow.detach(self.add)
        self._flow.detach(self.own)
        self._flow.detach(self.find_mix)
        while len(self._edits) > count:
            editor = self._edits.pop()
            self._flow.detach(editor)
            editor.deleteLater()
        while len(self._edits) < count:
            editor = _IngredientEdit(self, len(self._edits))
            self._edits.append(editor)
            self._flow.add(editor)
        self._flow.add(self.add)
        self._flow.add(self.own)
        self._flow.add(self.find_mix)


def new_glaze_mix(scheme: Scheme, paint: Paint, medium: Paint | None) -> Mix:
    """A thin glaze to start from: 1 paint to 2 medium, or 1 to 5 water where there is none."""
    thinner = (medium.id, 2.0) if medium is not None else (WATER_ID, 5.0)
    name = edits.fresh_name(f"{paint.name} glaze", (m.name for m in scheme.mixes))
    return Mix(
        id=edits.fresh_id(name, (m.id for m in scheme.mixes)),
        name=name,
        ingredients=(
            Ingredient(paint_id=paint.id, parts=1.0),
            Ingredient(paint_id=thinner[0], parts=thinner[1]),
        ),
    )
