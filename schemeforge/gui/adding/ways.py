"""The ways to a paint, the surest first: what each needs and how sure it makes."""

from enum import StrEnum

from PySide6.QtCore import QSize, Qt, Signal
from PySide6.QtWidgets import QHBoxLayout, QLabel, QPushButton, QVBoxLayout, QWidget

from schemeforge.desk import Surround
from schemeforge.gui.icons import icon
from schemeforge.gui.theme import GAP, GAP_TIGHT, GAP_WIDE, theme_of
from schemeforge.gui.widgets.labels import words

_PICTURE = 40


class Way(StrEnum):
    """What the painter has."""

    READINGS = "readings"
    PHOTOGRAPH = "photograph"
    TWO_COLOURS = "two"
    ONE_COLOUR = "one"
    TEST_MODEL = "model"


class WayButton(QPushButton):
    """A large button with a picture, what it begins with, and what comes of it."""

    def __init__(self, picture: str, name: str, needs: str, gives: str) -> None:
        super().__init__()
        self._picture = f"way-{picture}"
        self._image = QLabel()
        self.setAccessibleName(name)
        self.setAccessibleDescription(f"{needs} {gives}")
        self.setCursor(Qt.CursorShape.PointingHandCursor)
        column = QVBoxLayout()
        column.setSpacing(GAP_TIGHT)
        for text, role in ((name, "heading"), (needs, ""), (gives, "muted")):
            column.addWidget(words(text, role))
        row = QHBoxLayout(self)
        row.setContentsMargins(GAP_WIDE, GAP, GAP_WIDE, GAP)
        row.setSpacing(GAP_WIDE)
        row.addWidget(self._image, 0, Qt.AlignmentFlag.AlignTop)
        row.addLayout(column, 1)
        for label in self.findChildren(QLabel):
            label.setAttribute(Qt.WidgetAttribute.WA_TransparentForMouseEvents)
        policy = self.sizePolicy()
        policy.setHeightForWidth(True)
        self.setSizePolicy(policy)

    def dress(self, surround: Surround) -> None:
        """The picture in the surround's ink."""
        drawn = icon(self._picture, theme_of(surround).text)
        self._image.setPixmap(drawn.pixmap(QSize(_PICTURE, _PICTURE), self.devicePixelRatioF()))

    def hasHeightForWidth(self) -> bool:
        """The narrower, the higher."""
        return True

    def heightForWidth(self, width: int) -> int:
        """As high as its words need."""
        layout = self.layout()
        return -1 if layout is None else layout.totalHeightForWidth(width)

    def sizeHint(self) -> QSize:
        """As its words need."""
        layout = self.layout()
        return QSize(400, 80) if layout is None else layout.sizeHint()

    def minimumSizeHint(self) -> QSize:
        """As its words need at least."""
        layout = self.layout()
        return QSize(200, 60) if layout is None else layout.minimumSize()


class Ways(QWidget):
    """Asks what the painter has.

    Signals:
        chosen: A `Way`.
    """

    chosen = Signal(object)

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.buttons = {
            Way.READINGS: WayButton(
                "readings",
                self.tr("An instrument's file"),
                self.tr(
                    "One film read over a dark and over a light ground, and both grounds bare: "
                    "CGATS text, CSV or TM-27."
                ),
                self.tr("Surest: measured over two grounds."),
            ),
            Way.PHOTOGRAPH: WayButton(
                "photograph",
                self.tr("A photograph of a painted card"),
                self.tr(
                    "Strips of paint across black and white, with white, grey and black areas in "
                    "the same picture. One picture may hold many paints."
                ),
                self.tr("Nearly as sure, the more so the more strips there are."),
            ),
            Way.TWO_COLOURS: WayButton(
                "two",
                self.tr("Two colours"),
                self.tr("The colour of one coat over black, and of the same coat over white."),
                self.tr("Fairly sure for thin and for thick films."),
            ),
            Way.ONE_COLOUR: WayButton(
                "one",
                self.tr("One colour"),
                self.tr("A colour, the kind of paint, and one answer about how it covers."),
                self.tr("A beginning: good for planning, to be bettered by a swatch."),
            ),
            Way.TEST_MODEL: WayButton(
                "model",
                self.tr("A painted test model"),
                self.tr(
                    "A photograph of a model painted by the scheme: how heavily your hand really "
                    "lays each coat."
                ),
                self.tr("No new paint: evidence for the coats of this project."),
            ),
        }
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(GAP)
        column.addWidget(words(self.tr("What do you have of the paint?"), "title"))
        for way, button in self.buttons.items():
            if way is Way.TEST_MODEL:
                column.addSpacing(GAP)
                column.addWidget(words(self.tr("Or judge your own hand"), "heading"))
            column.addWidget(button)
            button.clicked.connect(lambda _on=False, w=way: self.chosen.emit(w))
        column.addStretch(1)
        self.setMaximumWidth(980)

    def dress(self, surround: Surround) -> None:
        """Pictures in the surround's ink."""
        for button in self.buttons.values():
            button.dress(surround)
