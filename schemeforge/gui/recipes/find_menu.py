"""A coat's menu on the mixing bench: a recipe, and what to do where something is not there."""

from PySide6.QtWidgets import QMenu, QPushButton, QWidget

from schemeforge.gui.bridge import Bridge
from schemeforge.paint import WATER_ID
from schemeforge.scheme import Coat, Scheme, Spray, Step


class FindMenu(QPushButton):
    """What can be asked about the picked step."""

    def __init__(self, bridge: Bridge, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.bridge = bridge
        self.setText(self.tr("Find a mix ▾"))
        self.setAccessibleName(self.tr("Find a mix"))
        self.setToolTip(
            self.tr("A recipe, or what takes the place of a paint, a pot or an airbrush")
        )
        self._menu = QMenu(self)
        self._menu.aboutToShow.connect(self.fill)
        self.setMenu(self._menu)

    def fill(self) -> QMenu:
        """The menu for the picked step."""
        from schemeforge.gui.recipes.choice import ZonePlace
        from schemeforge.gui.recipes.sources import zone_choices

        self._menu.clear()
        state = self.bridge.state
        pick = state.selection
        for choice in zone_choices(state, ZonePlace(pick.scheme_id, pick.zone_id)):
            action = self._menu.addAction(self.tr("A recipe for this zone"))
            action.triggered.connect(lambda _on=False, a=choice.asked: self.bridge.asked.emit(a))
        if state.scheme is not None and state.step is not None:
            self._fill_missing(state.scheme, state.step)
        return self._menu

    def _fill_missing(self, scheme: Scheme, step: Step) -> None:
        from schemeforge.gui.recipes.asked import MixAgain, ReplacePaint, WithoutAirbrush

        if step.mix_id is None:
            return
        project = self.bridge.state.project
        where = scheme.id, self.bridge.state.selection.zone_id, step.id
        self._menu.addSeparator()
        for one in scheme.mix(step.mix_id).ingredients:
            if one.paint_id != WATER_ID:
                name = self.tr("{0} is out").format(project.paint(one.paint_id).name)
                self._ask(name, ReplacePaint(*where, one.paint_id))
        self._menu.addSeparator()
        if isinstance(step.layer, Coat):
            self._ask(self.tr("The pot ran dry"), MixAgain(*where))
        if isinstance(step.layer, Spray):
            self._ask(self.tr("There is no airbrush"), WithoutAirbrush(*where))

    def _ask(self, label: str, asked: object) -> None:
        action = self._menu.addAction(label.replace("&", "&&"))
        action.triggered.connect(lambda _on=False: self.bridge.asked.emit(asked))
