"""What the schemes are meant to come near: the colours of a picture, or typed ones."""

import re
from dataclasses import replace
from pathlib import Path

from PySide6.QtCore import Qt
from PySide6.QtWidgets import (
    QCheckBox,
    QDialog,
    QDialogButtonBox,
    QFileDialog,
    QFrame,
    QHBoxLayout,
    QLabel,
    QLineEdit,
    QPushButton,
    QScrollArea,
    QVBoxLayout,
    QWidget,
)
from shiboken6 import isValid

from schemeforge import colorimetry
from schemeforge.colorimetry.words import colour_words
from schemeforge.comparison import TargetColour, TargetPalette, figure, palette_of
from schemeforge.desk import CancelToken, DeskState
from schemeforge.desk.targets import target_of, with_target
from schemeforge.errors import InputError, SchemeForgeError, shown
from schemeforge.gui.adding.colour_entry import Chip
from schemeforge.gui.bridge import Bridge
from schemeforge.gui.icons import icon
from schemeforge.gui.reading import tr
from schemeforge.gui.theme import GAP, GAP_TIGHT, GAP_WIDE, theme_of

KEY = "colours of a picture"
# Between colours: a semicolon, a new line, or room before another number sign.
_BETWEEN = re.compile(r"[;\n]|[,\s]+(?=#)")


def typed_palette(text: str, name: str) -> TargetPalette:
    """The colours typed, as screen colours or L*, a* and b*.

    Raises:
        InputError: Where one of them is neither, or there is none.
    """
    from schemeforge.recipe import typed_target

    labs: list[tuple[float, float, float]] = []
    for one in filter(None, (piece.strip(" ,") for piece in _BETWEEN.split(text))):
        found = typed_target(one)
        if found is None:
            raise InputError(
                f'"{shown(one)}" is not a colour',
                remedy="write #8a5a3c, or L*, a* and b*, with a semicolon between colours",
            )
        labs += found.lab
    return palette_of(labs, name)


class ColourRow(QWidget):
    """One colour of the target: what it looks like, in words, its share, and a way to drop it."""

    def __init__(self, colour: TargetColour, share: str, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.chip = Chip()
        self.chip.show_code(colorimetry.hex_codes([colorimetry.xyz_from_lab(colour.lab)])[0])
        self.words = QLabel(f"{tr(colour_words(colour.lab))}{share}")
        self.words.setWordWrap(True)
        self.drop = QPushButton()
        self.drop.setProperty("role", "quiet")
        self.drop.setAccessibleName(self.tr("Leave out {0}").format(self.words.text()))
        self.drop.setToolTip(self.tr("Leave this colour out"))
        row = QHBoxLayout(self)
        row.setContentsMargins(0, 0, 0, 0)
        row.setSpacing(GAP)
        row.addWidget(self.chip)
        row.addWidget(self.words, 1)
        row.addWidget(self.drop)


class TargetDialog(QDialog):
    """Sets the target of the open project; what is set counts at once."""

    def __init__(self, bridge: Bridge, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.bridge = bridge
        self.setWindowTitle(self.tr("Target"))
        self.rows: list[ColourRow] = []
        self._project_id = ""
        self._target: TargetPalette | None = None
        self.picture = QPushButton(self.tr("Colours of a picture…"))
        self.picture.setToolTip(self.tr("JPEG, PNG or TIFF; its main colours with their shares"))
        self.picture.clicked.connect(self._on_picture)
        self.backdrop = QCheckBox(self.tr("Leave out an even backdrop"))
        self.backdrop.setChecked(True)
        self.typed = QLineEdit()
        self.typed.setPlaceholderText(self.tr("#8a5a3c; #d9c27a; 52, 12, -30"))
        self.typed.setAccessibleName(self.tr("Colours typed"))
        self.typed.setToolTip(
            self.tr("Screen colours, or L*, a* and b*, with a semicolon between colours")
        )
        self.typed.returnPressed.connect(self._on_typed)
        self.use = QPushButton(self.tr("Use these"))
        self.use.setAutoDefault(False)
        self.use.clicked.connect(self._on_typed)
        self.problem = self._label("caution")
        self.state = self._label("heading")
        self.kept = self._label("muted")
        self.kept.setText(
            self.tr("Kept on this computer for this project, not in the project's file.")
        )
        self.none = QPushButton(self.tr("No target"))
        self.none.clicked.connect(lambda: self._prefer(None))
        self._assemble()
        bridge.changed.connect(self._on_changed)
        self._show(bridge.state)

    def _label(self, role: str) -> QLabel:
        label = QLabel()
        label.setProperty("role", role)
        label.setWordWrap(True)
        label.setTextFormat(Qt.TextFormat.PlainText)
        return label

    def _assemble(self) -> None:
        intro = QLabel(
            self.tr(
                "Colours that the schemes are meant to come near. Each scheme then says which of "
                "them it misses, and what to do about it."
            )
        )
        intro.setWordWrap(True)
        first, second = QHBoxLayout(), QHBoxLayout()
        first.addWidget(self.picture)
        first.addWidget(self.backdrop, 1)
        second.addWidget(self.typed, 1)
        second.addWidget(self.use)
        inner = QWidget()
        self._list = QVBoxLayout(inner)
        self._list.setContentsMargins(0, 0, 0, 0)
        self._list.setSpacing(GAP_TIGHT)
        self._list.addStretch(1)
        scroll = QScrollArea()
        scroll.setWidgetResizable(True)
        scroll.setFrameShape(QFrame.Shape.NoFrame)
        scroll.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        scroll.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        scroll.setWidget(inner)
        buttons = QDialogButtonBox(QDialogButtonBox.StandardButton.Close)
        buttons.addButton(self.none, QDialogButtonBox.ButtonRole.ResetRole)
        buttons.rejected.connect(self.reject)
        column = QVBoxLayout(self)
        column.setSpacing(GAP)
        column.addWidget(intro)
        column.addLayout(first)
        column.addLayout(second)
        column.addWidget(self.problem)
        column.addSpacing(GAP_WIDE)
        column.addWidget(self.state)
        column.addWidget(scroll, 1)
        column.addWidget(self.kept)
        column.addWidget(buttons)
        self.resize(520, 480)

    def load(self, path: Path) -> None:
        """Take the colours of a picture, beside the window."""
        leave = self.backdrop.isChecked()
        self.problem.setText("")
        self.state.setText(self.tr("Looking at the picture…"))

        def work(_token: CancelToken) -> TargetPalette:
            from schemeforge.comparison import palette_of_picture
            from schemeforge.measurement import read_photograph

            found = read_photograph(path)
            return palette_of_picture(found.linear, path.name, leave_backdrop=leave)

        def done(target: TargetPalette) -> None:
            if isValid(self):
                self._prefer(target)

        self.bridge.jobs.submit(KEY, work, done, failed=self._on_failed)

    def _on_picture(self) -> None:
        name, _ = QFileDialog.getOpenFileName(
            self,
            self.tr("Picture to come near"),
            "",
            self.tr("Pictures (*.png *.jpg *.jpeg *.tif *.tiff)"),
        )
        if name:
            self.load(Path(name))

    def _on_failed(self, error: Exception) -> None:
        if not isinstance(error, SchemeForgeError):
            raise error
        if isValid(self):
            self._show(self.bridge.state)
            self.problem.setText(error.sentence)

    def _on_typed(self) -> None:
        try:
            target = typed_palette(self.typed.text(), self.tr("the colours typed"))
        except SchemeForgeError as error:
            self.problem.setText(error.sentence)
            return
        self._prefer(target)

    def _prefer(self, target: TargetPalette | None) -> None:
        self.problem.setText("")
        state = self.bridge.state
        kept = with_target(state.preferences.targets, state.project.id, target)
        self.bridge.session.prefer(targets=kept)
        self._show(self.bridge.state)

    def _drop(self, number: int) -> None:
        target = self._target
        if target is None or len(target.colours) < 2:
            self._prefer(None)
            return
        left = [colour for n, colour in enumerate(target.colours) if n != number]
        whole = sum(colour.share for colour in left)
        colours = tuple(replace(colour, share=colour.share / whole) for colour in left)
        self._prefer(replace(target, colours=colours))

    def _on_changed(self, old: DeskState, new: DeskState) -> None:
        if old.preferences is not new.preferences or old.project is not new.project:
            self._show(new)

    def _show(self, state: DeskState) -> None:
        target = target_of(state.preferences.targets, state.project.id)
        theme = theme_of(state.preferences.surround)
        for row in self.rows:
            self._list.removeWidget(row)
            row.hide()
            row.deleteLater()
        self.rows = []
        self._target = target
        self.none.setEnabled(target is not None)
        if target is None:
            self.state.setText(self.tr("No target yet."))
            return
        self.state.setText(target.name)
        for number, colour in enumerate(target.colours):
            share = f", {figure(100.0 * colour.share)} %" if target.has_shares else ""
            row = ColourRow(colour, share)
            row.drop.setIcon(icon("remove", theme.text))
            row.drop.clicked.connect(lambda _on=False, n=number: self._drop(n))
            self._list.insertWidget(number, row)
            self.rows.append(row)
