"""Which scheme to take, at a glance: one line over the table, why, and what to mend first."""

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QFrame, QHBoxLayout, QLabel, QVBoxLayout, QWidget

from schemeforge.comparison import Comparison, Taking, taking
from schemeforge.gui.icons import icon
from schemeforge.gui.reading import tr
from schemeforge.gui.theme import GAP, GAP_TIGHT, GAP_WIDE, Theme


def told(comparison: Comparison | None) -> Taking | None:
    """The scheme to take, once all that counts is known, so that it does not change under way."""
    if comparison is None or any(e.handed.at_one_metre is None for e in comparison.schemes):
        return None
    return taking(comparison)


class TakingLine(QFrame):
    """A panel that is only there while there is a choice."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setProperty("role", "panel")
        self._sign = QLabel()
        self._sign.setAlignment(Qt.AlignmentFlag.AlignTop)
        self.headline, self.why, self.first = QLabel(), QLabel(), QLabel()
        self.headline.setProperty("role", "title")
        self.first.setProperty("role", "muted")
        for label in (self.headline, self.why, self.first):
            label.setWordWrap(True)
            label.setTextFormat(Qt.TextFormat.PlainText)
        self.setToolTip(
            self.tr(
                "The scheme with least to mend, then least to watch, then of fewest hours: a rule "
                "of thumb. You decide."
            )
        )
        words = QVBoxLayout()
        words.setSpacing(GAP_TIGHT)
        words.addWidget(self.headline)
        words.addWidget(self.why)
        words.addWidget(self.first)
        row = QHBoxLayout(self)
        row.setContentsMargins(GAP_WIDE, GAP, GAP_WIDE, GAP)
        row.setSpacing(GAP)
        row.addWidget(self._sign)
        row.addLayout(words, 1)
        self.hide()

    def show_comparison(self, comparison: Comparison | None, theme: Theme) -> None:
        """Say it, that it is not known yet, or nothing where there is no choice."""
        self.setVisible(comparison is not None and len(comparison.schemes) > 1)
        found = told(comparison)
        for label in (self._sign, self.headline, self.why):
            label.setVisible(found is not None)
        self.setAccessibleName(self.tr("Which scheme to take"))
        if found is None:
            self.first.setText(
                self.tr("Which scheme to take is said once all are read from one metre…")
            )
            self.first.show()
            self.setAccessibleDescription(self.first.text())
            return
        self._sign.setPixmap(icon("finding-good", theme.text).pixmap(20, 20))
        self.headline.setText(found.headline.said(tr))
        self.why.setText(found.why.said(tr))
        first = found.first
        self.first.setVisible(first is not None)
        said = "" if first is None else first.said(tr)
        self.first.setText(self.tr("First of all: {0}").format(said) if said else "")
        whole = (label.text() for label in (self.headline, self.why, self.first))
        self.setAccessibleDescription(" ".join(whole).strip())
