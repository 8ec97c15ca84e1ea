"""What to do where there is nothing to compare yet."""

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QLabel, QPushButton, QSizePolicy, QVBoxLayout, QWidget

from schemeforge.desk import Page
from schemeforge.gui.bridge import Bridge
from schemeforge.gui.schemes.actions import SchemeActions
from schemeforge.scheme import Project


class Empty(QWidget):
    """One sentence and one button; hidden as soon as there are two schemes and a zone."""

    def __init__(
        self, bridge: Bridge, actions: SchemeActions, parent: QWidget | None = None
    ) -> None:
        super().__init__(parent)
        self.bridge = bridge
        self._actions = actions
        self.words = QLabel()
        self.words.setWordWrap(True)
        self.words.setTextFormat(Qt.TextFormat.PlainText)
        self.words.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Minimum)
        self.do = QPushButton()
        self.do.clicked.connect(self._on_do)
        column = QVBoxLayout(self)
        column.addStretch(1)
        column.addWidget(self.words)
        column.addWidget(self.do, 0, Qt.AlignmentFlag.AlignLeft)
        column.addStretch(2)

    def show_project(self, project: Project) -> None:
        """Say what is missing, or hide."""
        self.setVisible(len(project.schemes) < 2 or not project.zones)
        if not project.zones:
            words = self.tr(
                "There is no zone to paint yet. Say on Batch what the model is made of."
            )
            button = self.tr("Go to Batch")
        elif not project.schemes:
            words = self.tr("There is no scheme yet. Add one, then lay its coats on Coats.")
            button = self.tr("Add an empty scheme")
        else:
            words = self.tr(
                "One scheme alone has nothing to be held against. Duplicate it and change a coat "
                "of the copy: both then stand here side by side, in the same light and at the "
                "same scale, with what tells them apart in words."
            )
            button = self.tr("Duplicate and vary (Ctrl+D)")
        self.words.setText(words)
        self.do.setText(button)

    def _on_do(self) -> None:
        project = self.bridge.state.project
        if not project.zones:
            self.bridge.session.select(page=Page.BATCH)
        elif not project.schemes:
            self._actions.add()
        else:
            self._actions.duplicate(project.schemes[0].id)
