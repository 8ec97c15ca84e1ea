"""After which step a model is shown: a slider over the steps, and the look before, held."""

from PySide6.QtCore import QSignalBlocker, Qt, Signal
from PySide6.QtWidgets import QHBoxLayout, QPushButton, QSlider, QVBoxLayout, QWidget

from schemeforge.desk import DeskState
from schemeforge.gui.icons import icon
from schemeforge.gui.looking.stages import stage_ids
from schemeforge.gui.theme import GAP, theme_of
from schemeforge.gui.widgets.line import TextLine


class StepStrip(QWidget):
    """As after each step, finished at the right end.

    Signals:
        staged: The step, "" for finished.
        held: True while the look before it is held.
    """

    staged = Signal(str)
    held = Signal(bool)

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._ids: list[str] = [""]
        self._names: dict[str, str] = {}
        self._dressed = ""
        self.words = TextLine()
        self.slider = QSlider(Qt.Orientation.Horizontal)
        self.slider.setAccessibleName(self.tr("As after the step"))
        self.slider.setToolTip(
            self.tr("As the model stands after each step; finished at the right end")
        )
        self.slider.setPageStep(1)
        self.before = QPushButton()
        self.before.setAccessibleName(self.tr("Before it, while held"))
        self.before.setToolTip(
            self.tr(
                "Hold to see it as before this step; where it is finished, as before the "
                "picked coat (B on the model)"
            )
        )
        row = QHBoxLayout()
        row.setSpacing(GAP)
        row.addWidget(self.slider, 1)
        row.addWidget(self.before)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(0)
        column.addWidget(self.words)
        column.addLayout(row)
        self.slider.valueChanged.connect(self._on_moved)
        self.before.pressed.connect(lambda: self._hold(on=True))
        self.before.released.connect(lambda: self._hold(on=False))

    @property
    def step_id(self) -> str:
        """The step, "" for finished."""
        return self._ids[min(self.slider.value(), len(self._ids) - 1)]

    def show_state(self, state: DeskState, scheme_id: str = "") -> None:
        """The steps of the scheme; where the step shown is gone, finished."""
        here = self.step_id
        ids = stage_ids(state, scheme_id)
        known = {scheme.id: scheme for scheme in state.project.schemes}
        scheme = known.get(scheme_id) or state.scheme
        self._names = {} if scheme is None else {step.id: step.name for step in scheme.steps}
        theme = theme_of(state.preferences.surround)
        if theme.text != self._dressed:
            self._dressed = theme.text
            self.before.setIcon(icon("before", theme.text))
        self._ids = ids
        with QSignalBlocker(self.slider):
            self.slider.setRange(0, len(ids) - 1)
            self.slider.setValue(ids.index(here) if here in ids else len(ids) - 1)
        self._tell()
        if here and here not in ids:
            self.staged.emit("")

    def show_step(self, step_id: str) -> None:
        """The step that is shown by another way."""
        if step_id in self._ids:
            with QSignalBlocker(self.slider):
                self.slider.setValue(self._ids.index(step_id))
            self._tell()

    def show_held(self, on: bool) -> None:
        """The look before is held by another way."""
        self.before.setDown(on)

    def _tell(self) -> None:
        name = self._names.get(self.step_id, "")
        words = self.tr("finished") if not self.step_id else self.tr("after {0}").format(name)
        self.words.setText(words)
        self.slider.setAccessibleDescription(words)

    def _hold(self, *, on: bool) -> None:
        self.held.emit(on)

    def _on_moved(self, _place: int) -> None:
        self._tell()
        self.staged.emit(self.step_id)
