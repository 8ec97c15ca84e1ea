"""What is told of a test model: by which scheme, which zone, whose share, where along the part."""

from PySide6.QtWidgets import QCheckBox, QFrame, QVBoxLayout, QWidget

from schemeforge.gui.adding.choices import Choice, finish_choice
from schemeforge.gui.theme import GAP, GAP_WIDE
from schemeforge.gui.widgets.field import Field, NumberBox
from schemeforge.gui.widgets.flow import Flow


class ModelFields(QFrame):
    """The fields; what their choices offer is the project's."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.scheme: Choice[str] = Choice(self.tr("Painted by"), [("", "")])
        self.zone: Choice[str] = Choice(self.tr("Zone"), [("", "")])
        self.group: Choice[str] = Choice(self.tr("Whose share"), [("", "")])
        self.along = NumberBox(
            self.tr("Along the part"), low=0.0, high=100.0, step=5.0, decimals=0, unit="%"
        )
        self.along.show_value(50.0)
        self.finish = finish_choice(self.tr("Finish"), may_be_unknown=False)
        self.undercoat = QCheckBox(self.tr("Judge the undercoat too"))
        self.reflectance = NumberBox(
            self.tr("The picked reference gives back"),
            low=0.5,
            high=100.0,
            step=1.0,
            decimals=1,
            unit="%",
        )
        self.reference = Field(self.tr("The picked reference gives back"), self.reflectance)
        self.setProperty("role", "panel")
        column = QVBoxLayout(self)
        column.setContentsMargins(GAP_WIDE, GAP, GAP_WIDE, GAP)
        flow = Flow()
        for caption, control in (
            (self.tr("Painted by"), self.scheme),
            (self.tr("Zone"), self.zone),
            (self.tr("Whose share"), self.group),
            (self.tr("Along the part"), self.along),
            (self.tr("Finish"), self.finish),
        ):
            flow.add(Field(caption, control))
        flow.add(self.undercoat)
        flow.add(self.reference)
        column.addWidget(flow)
