"""The step clock among the other sections of the page."""

from PySide6.QtWidgets import QWidget

from schemeforge.gui.batch.clock_panel import ClockPanel
from schemeforge.gui.batch.keeper import ClockKeeper
from schemeforge.gui.batch.section import Section
from schemeforge.gui.bridge import Bridge
from schemeforge.gui.widgets.labels import words


class ClockSection(Section):
    """A heading, what the clock is for, and the clock."""

    def __init__(self, bridge: Bridge, keeper: ClockKeeper, parent: QWidget | None = None) -> None:
        super().__init__("", "", parent)
        self.heading.setText(self.tr("Step clock"))
        self.setAccessibleName(self.tr("Step clock"))
        self.about.setText(
            self.tr(
                "Every press is on disk before it shows. What you time takes the place of the "
                "trade's minutes; test models time the plan before the batch begins."
            )
        )
        self._keeper = keeper
        self.panel = ClockPanel(bridge, keeper)
        self.trouble = words("", "caution")
        self.body.addWidget(self.trouble)
        self.body.addWidget(self.panel)
        keeper.changed.connect(self._show)
        self._show()

    def _show(self) -> None:
        self.trouble.setText(self._keeper.trouble)
        self.trouble.setVisible(bool(self._keeper.trouble))
