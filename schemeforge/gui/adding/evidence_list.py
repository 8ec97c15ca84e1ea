"""What test models told, as the project keeps it: looked at again, applied, removed."""

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QFrame, QLabel, QPushButton, QVBoxLayout, QWidget

from schemeforge.gui.adding.choices import Choice
from schemeforge.gui.adding.model_fit import scheme_of, standing
from schemeforge.gui.adding.ramps import strength_words
from schemeforge.gui.theme import GAP, GAP_TIGHT, GAP_WIDE
from schemeforge.gui.widgets.field import Field
from schemeforge.gui.widgets.flow import Flow
from schemeforge.gui.widgets.labels import words
from schemeforge.scheme import Evidence, Project

_ALL = ""


class EvidenceCard(QFrame):
    """One test model.

    Signals:
        used: Its id and the step whose film is to be as it showed, "" for all of them.
        removed: Its id.
        shown: Its id: lay its ramps out again, or no longer.
    """

    used = Signal(str, str)
    removed = Signal(str)
    shown = Signal(str)

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setProperty("role", "panel")
        self._evidence: Evidence | None = None
        self.title = words("", "heading")
        self.about = words("", "muted")
        self.coats = QLabel()
        self.coats.setWordWrap(True)
        self.coats.setTextFormat(self.about.textFormat())
        self.which: Choice[str] = Choice(self.tr("Coats to change"), [("", _ALL)])
        self.use = QPushButton(self.tr("Take over into the scheme"))
        self.look = QPushButton()
        self.mark_shown(shown=False)
        self.remove = QPushButton(self.tr("Remove"))
        row = Flow()
        for widget in (Field(self.tr("Coats to change"), self.which), self.use, self.look):
            row.add(widget)
        row.add(self.remove)
        column = QVBoxLayout(self)
        column.setContentsMargins(GAP_WIDE, GAP, GAP_WIDE, GAP)
        column.setSpacing(GAP_TIGHT)
        for part in (self.title, self.about, self.coats, row):
            column.addWidget(part)
        self.use.clicked.connect(lambda: self.used.emit(self.evidence_id, self.which.value))
        self.look.clicked.connect(lambda: self.shown.emit(self.evidence_id))
        self.remove.clicked.connect(lambda: self.removed.emit(self.evidence_id))

    @property
    def evidence_id(self) -> str:
        """Id of what is shown, "" for nothing."""
        return self._evidence.id if self._evidence else ""

    def mark_shown(self, *, shown: bool) -> None:
        """Say of the button what it does next: lay its ramps out, or go back from them."""
        self.look.setText(
            self.tr("Back to what was found last") if shown else self.tr("Show its ramps")
        )

    def show_evidence(self, project: Project, evidence: Evidence) -> None:
        """Show one, beside how the scheme stands now."""
        self._evidence = evidence
        self.title.setText(evidence.name)
        zone = next((z.name for z in project.zones if z.id == evidence.zone_id), "")
        scheme = scheme_of(project, evidence)
        group = next((g.name for g in project.groups if g.id == evidence.group_id), "")
        parts = [zone, scheme.name if scheme else "", group or self.tr("full recipe")]
        when = evidence.at.replace("T", " ")[:16]
        self.about.setText("  ·  ".join(part for part in (*parts, when) if part))
        now = {
            "planned": self.tr("the scheme still plans it as before"),
            "laid": self.tr("the scheme has it so now"),
            "other": self.tr("the scheme has another film now"),
            "gone": self.tr("no longer in the scheme"),
        }
        stands = {coat.step_id: standing(scheme, coat) for coat in evidence.strengths}
        self.coats.setText(
            "\n".join(
                f"{strength_words(coat.name, coat.factor, coat.error)}; {now[stands[coat.step_id]]}"
                for coat in evidence.strengths
            )
        )
        open_coats = [c for c in evidence.strengths if stands[c.step_id] in {"planned", "other"}]
        self.which.offer(
            [(self.tr("all of them"), _ALL), *((c.name, c.step_id) for c in open_coats)]
        )
        self.use.setEnabled(bool(open_coats))
        self.use.setAccessibleDescription(evidence.name)
        self.remove.setAccessibleDescription(evidence.name)


class EvidenceList(QWidget):
    """Every test model that the project keeps, the newest first.

    Signals:
        used: Id of evidence, and of a step or "" for all.
        removed: Id of evidence.
        shown: Id of evidence whose ramps are to be laid out, or no longer where they are.
    """

    used = Signal(str, str)
    removed = Signal(str)
    shown = Signal(str)

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.cards: list[EvidenceCard] = []
        self.shown_id = ""
        self.heading = words(self.tr("Test models kept with this project"), "heading")
        self.none = words(
            self.tr("None yet. What is kept changes no colour until you take it over."),
            "muted",
        )
        self._column = QVBoxLayout(self)
        self._column.setContentsMargins(0, 0, 0, 0)
        self._column.setSpacing(GAP)
        self._column.addWidget(self.heading)
        self._column.addWidget(self.none)
        self._column.addStretch(1)

    def show_project(self, project: Project) -> None:
        """List what the project keeps."""
        kept = project.evidence[::-1]
        while len(self.cards) < len(kept):
            card = EvidenceCard()
            card.used.connect(self.used)
            card.removed.connect(self.removed)
            card.shown.connect(self.shown)
            self.cards.append(card)
            self._column.insertWidget(self._column.count() - 1, card)
        for card in self.cards[len(kept) :]:
            card.hide()
            card.deleteLater()
        self.cards = self.cards[: len(kept)]
        for card, evidence in zip(self.cards, kept, strict=True):
            card.show_evidence(project, evidence)
        self.mark_shown(self.shown_id)
        self.none.setVisible(not kept)

    def mark_shown(self, evidence_id: str) -> None:
        """Mark the one whose ramps are laid out, "" for none."""
        self.shown_id = evidence_id
        for card in self.cards:
            card.mark_shown(shown=card.evidence_id == evidence_id)
