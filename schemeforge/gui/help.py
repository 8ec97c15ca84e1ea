"""The Help menu's windows: every key, and what the program is."""

from PySide6.QtCore import QCoreApplication, Qt
from PySide6.QtGui import QAction
from PySide6.QtWidgets import (
    QDialog,
    QDialogButtonBox,
    QGridLayout,
    QLabel,
    QScrollArea,
    QVBoxLayout,
    QWidget,
)

from schemeforge import __version__
from schemeforge.gui.keys import Key, action_keys, told_keys
from schemeforge.gui.theme import GAP, GAP_PAGE, GAP_WIDE
from schemeforge.gui.widgets.segments import Segments
from schemeforge.gui.widgets.strip import ColourStrip
from schemeforge.plan import cautions

translate = QCoreApplication.translate


class KeysDialog(QDialog):
    """All keys, made from the actions and from what the widgets tell.

    Args:
        sections: A heading and its keys each.
    """

    def __init__(self, sections: list[tuple[str, list[Key]]], parent: QWidget) -> None:
        super().__init__(parent)
        self.setWindowTitle(translate("Help", "Keys"))
        self.sections = [(heading, keys) for heading, keys in sections if keys]
        inner = QWidget()
        grid = QGridLayout(inner)
        grid.setContentsMargins(0, 0, GAP_WIDE, 0)
        grid.setHorizontalSpacing(GAP_PAGE)
        grid.setVerticalSpacing(GAP)
        grid.setColumnStretch(1, 1)
        for heading, keys in self.sections:
            title = _label(heading, "heading")
            grid.addWidget(title, grid.rowCount(), 0, 1, 2)
            for key in keys:
                row = grid.rowCount()
                grid.addWidget(_label(key.keys), row, 0, Qt.AlignmentFlag.AlignTop)
                grid.addWidget(_label(key.meaning), row, 1)
        grid.setRowStretch(grid.rowCount(), 1)
        self.area = QScrollArea()
        self.area.setWidgetResizable(True)
        self.area.setAccessibleName(translate("Help", "Keys"))
        self.area.setWidget(inner)
        column = QVBoxLayout(self)
        column.setContentsMargins(GAP_PAGE, GAP_PAGE, GAP, GAP_WIDE)
        column.addWidget(self.area, 1)
        column.addWidget(_closing(self))
        self.resize(640, 600)


def key_sections(
    menus: list[tuple[str, list[QAction]]], pages: list[tuple[str, QWidget]]
) -> list[tuple[str, list[Key]]]:
    """Headings and keys: menus first, then each page, then what holds everywhere."""
    sections = [(name, action_keys(actions)) for name, actions in menus]
    sections += [(name, told_keys(page)) for name, page in pages]
    anywhere = [
        Key(
            translate("Help", "Tab, Shift+Tab"),
            translate("Help", "the next control, the one before"),
        ),
        *Segments.keys(),
        *ColourStrip.keys(),
    ]
    sections.append((translate("Help", "Everywhere"), anywhere))
    return sections


class AboutDialog(QDialog):
    """What the program is, its licence, and what it defers to where work can hurt."""

    def __init__(self, parent: QWidget) -> None:
        super().__init__(parent)
        self.setWindowTitle(translate("Help", "About SchemeForge"))
        column = QVBoxLayout(self)
        column.setContentsMargins(GAP_PAGE, GAP_PAGE, GAP_PAGE, GAP_WIDE)
        column.setSpacing(GAP_WIDE)
        column.addWidget(_label(f"SchemeForge {__version__}", "title"))
        for text in self.sentences():
            column.addWidget(_label(text, wide=True))
        column.addStretch(1)
        column.addWidget(_closing(self))
        self.resize(560, 380)

    @staticmethod
    def sentences() -> tuple[str, ...]:
        """What it says, a paragraph each."""
        return (
            translate(
                "Help",
                "Predicts the colour of glazes, washes and sprayed undercoats, compares candidate "
                "schemes, and plans the work on a batch of painted miniatures.",
            ),
            translate(
                "Help",
                "Every colour is a prediction with a tolerance; the starter shelf and the demo are "
                "invented. Test on a spare model before the batch.",
            ),
            translate("Help", cautions.DEFER),
            translate(
                "Help",
                "Free software under the MIT licence, without any warranty. The window is made "
                "with Qt, which is used under the GNU Lesser General Public License, version 3.",
            ),
            translate("Help", "Nothing leaves this computer."),
        )


def _label(text: str, role: str = "", *, wide: bool = True) -> QLabel:
    label = QLabel(text)
    label.setTextFormat(Qt.TextFormat.PlainText)
    label.setWordWrap(wide)
    if role:
        label.setProperty("role", role)
    return label


def _closing(dialog: QDialog) -> QDialogButtonBox:
    box = QDialogButtonBox(QDialogButtonBox.StandardButton.Close)
    box.rejected.connect(dialog.reject)
    return box
