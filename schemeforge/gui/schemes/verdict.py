"""The findings of one scheme in plain sentences, the best of each kind first."""

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QHBoxLayout, QLabel, QPushButton, QSizePolicy, QVBoxLayout, QWidget

from schemeforge.comparison import Finding, Severity
from schemeforge.gui.icons import icon
from schemeforge.gui.reading import tr
from schemeforge.gui.theme import GAP, GAP_TIGHT, Theme

_ICONS = {
    Severity.GOOD: "finding-good",
    Severity.POOR: "finding-poor",
    Severity.WATCH: "finding-watch",
}


class Tally(QPushButton):
    """How many findings of each kind there are; a click goes to them."""

    def __init__(self, scheme_id: str, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setProperty("schemeId", scheme_id)
        self.setProperty("role", "quiet")
        self.setToolTip(self.tr("In its favour, to mend, to watch: go to the findings"))
        self.setSizePolicy(QSizePolicy.Policy.Ignored, QSizePolicy.Policy.Fixed)
        self.setMinimumHeight(30)
        self._told: tuple[object, ...] = ()
        self._signs: dict[Severity, QLabel] = {}
        self.counts: dict[Severity, QLabel] = {}
        row = QHBoxLayout(self)
        row.setContentsMargins(GAP_TIGHT, 0, GAP_TIGHT, 0)
        row.setSpacing(GAP_TIGHT)
        row.addStretch(1)
        for severity in _ICONS:
            self._signs[severity], self.counts[severity] = QLabel(), QLabel("–")
            row.addWidget(self._signs[severity])
            row.addWidget(self.counts[severity])
            row.addSpacing(GAP_TIGHT)
        row.addStretch(1)

    def show_counts(self, name: str, findings: tuple[Finding, ...] | None, theme: Theme) -> None:
        """Count the findings; None while they are worked out."""
        if (name, findings, theme) == self._told:
            return
        self._told = (name, findings, theme)
        spoken = []
        for severity, words in titles().items():
            number = sum(1 for f in findings or () if f.severity is severity)
            self._signs[severity].setPixmap(icon(_ICONS[severity], theme.text).pixmap(16, 16))
            self.counts[severity].setText("–" if findings is None else str(number))
            spoken.append(f"{words}: {self.counts[severity].text()}")
        self.setAccessibleName(f"{name}. {', '.join(spoken)}")


def titles() -> dict[Severity, str]:
    """The kinds of finding in the user's words."""
    return {
        Severity.GOOD: tr("In its favour"),
        Severity.POOR: tr("To mend"),
        Severity.WATCH: tr("To watch"),
    }


class Sentence(QWidget):
    """One finding: the sign of its kind, and the sentence."""

    def __init__(self, finding: Finding, theme: Theme, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.finding = finding
        sign = QLabel()
        sign.setPixmap(icon(_ICONS[finding.severity], theme.text).pixmap(16, 16))
        sign.setAlignment(Qt.AlignmentFlag.AlignTop)
        sign.setContentsMargins(0, 2, 0, 0)
        self.label = QLabel(finding.said(tr))
        self.label.setTextFormat(Qt.TextFormat.PlainText)
        self.label.setWordWrap(True)
        self.label.setSizePolicy(QSizePolicy.Policy.Ignored, QSizePolicy.Policy.Minimum)
        row = QHBoxLayout(self)
        row.setContentsMargins(0, 0, 0, 0)
        row.setSpacing(GAP_TIGHT)
        row.addWidget(sign)
        row.addWidget(self.label, 1)


class Verdict(QWidget):
    """What speaks for a scheme, what to mend, what to watch; short, or in full."""

    def __init__(
        self, scheme_id: str = "", parent: QWidget | None = None, *, whole: bool = False
    ) -> None:
        super().__init__(parent)
        self.setProperty("schemeId", scheme_id)
        self.setSizePolicy(QSizePolicy.Policy.Ignored, QSizePolicy.Policy.Minimum)
        self._findings: tuple[Finding, ...] = ()
        self._theme: Theme | None = None
        self._whole = whole
        self._always_whole = whole
        self.sentences: list[Sentence] = []
        self.more = QPushButton()
        self.more.setProperty("role", "quiet")
        self.more.setSizePolicy(QSizePolicy.Policy.Maximum, QSizePolicy.Policy.Fixed)
        self.more.clicked.connect(self._on_more)
        self._waiting = QLabel(self.tr("Measuring…"))
        self._waiting.setProperty("role", "muted")
        self._list = QVBoxLayout()
        self._list.setSpacing(GAP_TIGHT)
        column = QVBoxLayout(self)
        column.setContentsMargins(GAP_TIGHT, GAP, GAP_TIGHT, GAP)
        column.setSpacing(GAP_TIGHT)
        column.addWidget(self._waiting)
        column.addLayout(self._list)
        column.addWidget(self.more)
        column.addStretch(1)
        self.more.hide()

    def wait(self, words: str) -> None:
        """Say that there are no findings yet."""
        self._findings = ()
        self._waiting.setText(words)
        self._fill()

    def show_findings(self, name: str, findings: tuple[Finding, ...], theme: Theme) -> None:
        """Show the findings of the scheme of that name."""
        self.setAccessibleName(self.tr("Findings on {0}").format(name))
        if findings == self._findings and theme is self._theme:
            return
        self._findings, self._theme = findings, theme
        self._fill()

    def _fill(self) -> None:
        while (item := self._list.takeAt(0)) is not None:
            widget = item.widget()
            if widget is not None:
                widget.hide()
                widget.deleteLater()
        self.sentences = []
        self._waiting.setVisible(not self._findings)
        spoken = []
        for severity, title in titles().items():
            group = [f for f in self._findings if f.severity is severity]
            if not group or self._theme is None:
                continue
            heading = QLabel(f"{title} ({len(group)})")
            heading.setProperty("role", "heading")
            heading.setWordWrap(True)
            self._list.addWidget(heading)
            spoken.append(f"{title}: {' '.join(f.said(tr) for f in group)}")
            for finding in group if self._whole else group[:1]:
                sentence = Sentence(finding, self._theme)
                self.sentences.append(sentence)
                self._list.addWidget(sentence)
        self.setAccessibleDescription(" ".join(spoken) or self._waiting.text())
        hidden = len(self._findings) - len(self.sentences)
        self.more.setVisible(not self._always_whole and (hidden > 0 or self._whole))
        words = self.tr("Fewer") if self._whole else self.tr("{0} more").format(hidden)
        self.more.setText(words)
        self.more.setAccessibleName(f"{self.accessibleName()}: {words}")
        self.more.setToolTip(self.tr("Show all findings, or only the first of each kind"))

    def _on_more(self) -> None:
        self._whole = not self._whole
        self._fill()
