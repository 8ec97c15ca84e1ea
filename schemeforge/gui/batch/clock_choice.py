"""What the step clock begins with or turns to: as the plan has it, or as the painter likes."""

from PySide6.QtCore import QSignalBlocker, Qt, Signal
from PySide6.QtWidgets import QCheckBox, QComboBox, QHBoxLayout, QSizePolicy, QWidget

from schemeforge.gui.batch.keeper import ClockKeeper
from schemeforge.gui.batch.making import Made
from schemeforge.gui.bridge import Bridge
from schemeforge.gui.theme import GAP
from schemeforge.gui.widgets.field import Field
from schemeforge.plan import Target


class ClockChoice(QWidget):
    """A step and a group.

    Signals:
        chosen: The user chose.
    """

    chosen = Signal()

    def __init__(self, bridge: Bridge, keeper: ClockKeeper, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.bridge = bridge
        self._keeper = keeper
        self._made: Made | None = None
        self._own: tuple[str, str] | None = None
        self.steps, self.groups = _box(), _box()
        for box in (self.steps, self.groups):
            box.activated.connect(lambda _row: self._on_chosen())
        self.test = QCheckBox(self.tr("Test models"))
        self.test.setToolTip(
            self.tr("They tell how long the step takes, and are not part of the batch")
        )
        self._step = Field(self.tr("Step"), self.steps)
        group = Field(self.tr("Group"), self.groups)
        for field in (self._step, group):
            field.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Fixed)
        row = QHBoxLayout(self)
        row.setContentsMargins(0, 0, 0, 0)
        row.setSpacing(GAP)
        row.addWidget(self._step, 2)
        row.addWidget(group, 1)
        row.addWidget(self.test, 0, Qt.AlignmentFlag.AlignBottom)

    def show_plan(self, made: Made | None) -> None:
        """Take another plan: what is next may be another step."""
        self._made = made
        if self._keeper.state.is_idle or self._own is None:
            self.suggest()
        else:
            self._list()

    def show_idle(self, *, idle: bool) -> None:
        """What the choice is for now."""
        self._step.caption.setText(self.tr("Step to start with") if idle else self.tr("Next step"))

    def choose(self, step_id: str, group_id: str) -> None:
        """Show that step and group."""
        self._own = (step_id, group_id)
        self._list()

    def suggest(self) -> None:
        """What the plan would do now, or after what is in hand."""
        self._own = None
        made, target = self._made, self._keeper.state.target
        if made is not None:
            todo = [t for t in (made.standing.do_now, *made.standing.next) if t is not None]
            known = [(t.step.id, t.group.id) for t in todo]
            in_hand = None if target is None else (target.step_id, target.group_id)
            self._own = next((own for own in known if own != in_hand), None)
        self._list()

    def target(self) -> Target | None:
        """What is chosen, in today's sitting where there is one."""
        scheme, step, group = (
            self.bridge.state.scheme,
            self.steps.currentData(),
            self.groups.currentData(),
        )
        if scheme is None or step is None or group is None:
            return None
        return Target(
            scheme_id=scheme.id,
            step_id=str(step),
            group_id=str(group),
            sitting_id=self._sitting_id(),
            is_test=self.test.isChecked(),
        )

    def _sitting_id(self) -> str:
        made = self._made
        if made is None or not made.schedule.sittings:
            return ""
        first = made.schedule.sittings[0]
        today = None if made.progress.now is None else made.progress.now.date()
        if first.sitting is not None and (not first.sitting.day or first.day == today):
            return first.sitting.id
        return ""

    def _list(self) -> None:
        """All steps and groups, those chosen shown."""
        state = self.bridge.state
        steps = [] if state.scheme is None else list(enumerate(state.scheme.steps, start=1))
        _fill(self.steps, [(step.id, f"{n}  {step.name}") for n, step in steps])
        _fill(self.groups, [(g.id, g.name) for g in state.project.groups if g.count])
        if self._own is not None:
            for box, value in zip((self.steps, self.groups), self._own, strict=True):
                with QSignalBlocker(box):
                    box.setCurrentIndex(max(box.findData(value), 0))

    def _on_chosen(self) -> None:
        self._own = (str(self.steps.currentData()), str(self.groups.currentData()))
        self.chosen.emit()


def _box() -> QComboBox:
    box = QComboBox()
    box.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
    box.setMinimumContentsLength(12)
    box.setSizeAdjustPolicy(QComboBox.SizeAdjustPolicy.AdjustToMinimumContentsLengthWithIcon)
    return box


def _fill(box: QComboBox, choices: list[tuple[str, str]]) -> None:
    known = [(box.itemData(n), box.itemText(n)) for n in range(box.count())]
    if known == choices:
        return
    with QSignalBlocker(box):
        box.clear()
        for value, label in choices:
            box.addItem(label, value)
