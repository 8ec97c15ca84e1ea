"""Name and note of the project."""

from PySide6.QtWidgets import (
    QDialog,
    QDialogButtonBox,
    QLineEdit,
    QPlainTextEdit,
    QSizePolicy,
    QVBoxLayout,
    QWidget,
)

from schemeforge.checks import LONGEST_NAME
from schemeforge.gui.bridge import Bridge
from schemeforge.gui.theme import GAP, GAP_PAGE
from schemeforge.gui.widgets.field import Field
from schemeforge.scheme import Project, edits


class ProjectDialog(QDialog):
    """Both are changed in one step of undo, and only where they are accepted."""

    def __init__(self, bridge: Bridge, parent: QWidget) -> None:
        super().__init__(parent)
        self.bridge = bridge
        project = bridge.state.project
        self.setWindowTitle(self.tr("Name and note of the project"))
        self.name = QLineEdit(project.name)
        self.name.setMaxLength(LONGEST_NAME)
        self.name.setMinimumWidth(self.fontMetrics().averageCharWidth() * 48)
        self.name.selectAll()
        self.note = QPlainTextEdit(project.note)
        self.note.setTabChangesFocus(True)
        self.note.setToolTip(
            self.tr("For yourself: where the models are, for whom, what is agreed")
        )
        kind = QDialogButtonBox.StandardButton
        self.buttons = QDialogButtonBox(kind.Ok | kind.Cancel)
        self.buttons.accepted.connect(self.accept)
        self.buttons.rejected.connect(self.reject)
        column = QVBoxLayout(self)
        column.setContentsMargins(GAP_PAGE, GAP_PAGE, GAP_PAGE, GAP_PAGE)
        column.setSpacing(GAP)
        wide = QSizePolicy.Policy.Expanding
        for caption, control, tall in (
            (self.tr("Name"), self.name, QSizePolicy.Policy.Fixed),
            (self.tr("Note"), self.note, wide),
        ):
            field = Field(caption, control)
            field.setSizePolicy(wide, tall)
            column.addWidget(field)
        column.addWidget(self.buttons)

    def accept(self) -> None:
        """Keep both; where one is refused the dialog stays."""
        name, note = " ".join(self.name.text().split()), self.note.toPlainText()

        def change(project: Project) -> Project:
            return edits.set_project_note(edits.rename_project(project, name), note)

        if self.bridge.edit(self.tr("name and note of the project"), change):
            super().accept()
