"""What the batch will look like: a few models together, by who gets what."""

from PySide6.QtCore import QSize
from PySide6.QtWidgets import QPushButton, QWidget

from schemeforge.desk import DeskState
from schemeforge.gui.batch.section import Section
from schemeforge.gui.bridge import Bridge
from schemeforge.gui.looking.room import look
from schemeforge.gui.looking.shot import Arrangement
from schemeforge.gui.looking.strip import LookStrip
from schemeforge.gui.widgets.stand_in import WHOLE, StandInView

_COUNT = 5


class _Ranks(StandInView):
    """Low and wide, as models stand beside each other."""

    def sizeHint(self) -> QSize:
        """Room for five."""
        return QSize(520, 210)


class RanksSection(Section):
    """Five models of the batch; makes no picture while it is folded away."""

    def __init__(self, bridge: Bridge, parent: QWidget | None = None) -> None:
        super().__init__(
            self.tr("In the ranks"),
            self.tr(
                "Models as the groups get them, each painted by a hand that is never quite the "
                "same: do they read as one force?"
            ),
            parent,
        )
        self.bridge = bridge
        self.view = _Ranks(bridge, WHOLE)
        self.view.arrange(Arrangement.GROUP, count=_COUNT)
        self.view.setMinimumHeight(190)
        self.view.setAccessibleName(self.tr("Five models of the batch"))
        self.strip = LookStrip(bridge)
        self.larger: QPushButton = self.add_button(
            self.tr("Look at it large"), lambda: look(bridge, self, Arrangement.GROUP)
        )
        self.body.addWidget(self.view)
        self.body.addWidget(self.strip)
        bridge.changed.connect(self._on_changed)

    def _on_changed(self, old: DeskState, new: DeskState) -> None:
        same = old.project is new.project and old.selection == new.selection
        if self.view.isVisible() and not (same and old.preferences is new.preferences):
            self.view.show_state(new)
