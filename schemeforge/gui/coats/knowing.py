"""Worth knowing: what the trade would warn of on this zone, and the picked coat's pot."""

import re
from typing import TYPE_CHECKING

from PySide6.QtCore import Qt, QTimer
from PySide6.QtWidgets import QFrame, QLabel, QScrollArea, QVBoxLayout, QWidget

from schemeforge.appearance.remarks import Remark, zone_remarks
from schemeforge.desk import CancelToken, DeskState
from schemeforge.gui.bridge import Bridge
from schemeforge.gui.reading import tr
from schemeforge.gui.theme import GAP

if TYPE_CHECKING:
    from schemeforge.plan import Pot

_SETTLE_MS = 180
_KEY = "remarks"
_FEW_DROPS = "few drops"


class WorthKnowing(QWidget):
    """Sentences with numbers, worked out beside the hand; the last ones stay until then."""

    def __init__(self, bridge: Bridge, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.bridge = bridge
        self._shown: tuple[object, ...] = ()
        self._heading = QLabel(self.tr("Worth knowing"))
        self._heading.setProperty("role", "heading")
        self._labels: list[QLabel] = []
        self._pot = self._sentence("")
        self._pot.hide()
        self._timer = QTimer(self)
        self._timer.setSingleShot(True)
        self._timer.setInterval(_SETTLE_MS)
        self._timer.timeout.connect(self._start)
        inner = QWidget()
        self._column = QVBoxLayout(inner)
        self._column.setContentsMargins(0, 0, GAP, 0)
        self._column.setSpacing(GAP)
        self._column.addWidget(self._pot)
        self._column.addStretch(1)
        scroll = QScrollArea()
        scroll.setAccessibleName(self._heading.text())
        scroll.setWidgetResizable(True)
        scroll.setFrameShape(QFrame.Shape.NoFrame)
        scroll.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        scroll.setWidget(inner)
        whole = QVBoxLayout(self)
        whole.setContentsMargins(0, 0, 0, 0)
        whole.addWidget(self._heading)
        whole.addWidget(scroll, 1)

    @property
    def sentences(self) -> list[str]:
        """What is said now."""
        return [label.text() for label in self._labels]

    def show_state(self, new: DeskState) -> None:
        """Have the remarks worked out again once the hand rests."""
        pick, numbers = new.selection, new.preferences.numbers
        shown = (new.project, pick.scheme_id, pick.zone_id, new.step, str(numbers))
        if len(shown) == len(self._shown) and all(
            a is b or (isinstance(a, str) and a == b)
            for a, b in zip(shown, self._shown, strict=True)
        ):
            return
        self._shown = shown
        self._timer.start()

    def _start(self) -> None:
        state = self.bridge.state
        project, scheme, zone = state.project, state.scheme, state.zone
        if scheme is None or zone is None:
            return

        def work(_token: CancelToken) -> "tuple[tuple[Remark, ...], tuple[Pot, ...]]":
            # Not at the top: the first frame need not wait for the planning.
            from schemeforge.plan import pots

            remarks = zone_remarks(project, scheme, zone.id, project.viewing)
            return remarks, pots(project, scheme)

        self.bridge.jobs.submit(_KEY, work, lambda found: self._write(*found))

    def _write(self, remarks: tuple[Remark, ...], pots: "tuple[Pot, ...]") -> None:
        step = self.bridge.state.step
        picked = "" if step is None else step.id
        mix_id = None if step is None else step.mix_id
        pot = "" if mix_id is None else _pot_words(self, pots, mix_id)
        numbers = self.bridge.state.preferences.numbers
        nearest = sorted(remarks, key=lambda remark: remark.step_id != picked)
        sentences = [
            remark.sentence if numbers else in_plain_words(remark.sentence)
            for remark in nearest
            if numbers or remark.key != _FEW_DROPS
        ]
        if not numbers and any(remark.key == _FEW_DROPS for remark in remarks):
            sentences.append(
                self.tr(
                    "Counted in drops as written, some mixes here are so short that one drop "
                    "shows: make 30 drops or more at a time, or weigh them."
                )
            )
        if not sentences:
            sentences = [self.tr("Nothing to warn of on this zone.")]
        while len(self._labels) < len(sentences):
            label = self._sentence("")
            self._column.insertWidget(len(self._labels), label)
            self._labels.append(label)
        while len(self._labels) > len(sentences):
            label = self._labels.pop()
            self._column.removeWidget(label)
            label.hide()
            label.deleteLater()
        for label, sentence in zip(self._labels, sentences, strict=True):
            label.setText(sentence)
        self._pot.setText(pot)
        self._pot.setVisible(bool(pot))

    @staticmethod
    def _sentence(text: str) -> QLabel:
        label = QLabel(text)
        label.setWordWrap(True)
        label.setTextFormat(Qt.TextFormat.PlainText)
        label.setTextInteractionFlags(
            Qt.TextInteractionFlag.TextSelectableByMouse
            | Qt.TextInteractionFlag.TextSelectableByKeyboard
        )
        return label


def in_plain_words(sentence: str) -> str:
    """A remark without colour science: differences and lightness in a painter's words."""
    plain = re.sub(r" \(L\* \d+\)", "", sentence)
    plain = re.sub(r"CIEDE2000 ([\d.]+)", lambda found: _difference(float(found[1])), plain)
    plain = re.sub(r"(\d+) L\*", r"\1 in lightness", plain)
    return re.sub(r"L\* (\d+)", r"lightness \1", plain)


def _difference(delta_e: float) -> str:
    grades = ((1.0, tr("a hair")), (2.0, tr("a shade")), (5.0, tr("what shows in the ranks")))
    return next((words for limit, words in grades if delta_e < limit), tr("a whole colour"))


def _pot_words(owner: QWidget, pots: "tuple[Pot, ...]", mix_id: str) -> str:
    pot = next((p for p in pots if p.mix.id == mix_id), None)
    if pot is None or pot.ml <= 0.0:
        return ""
    drops = ", ".join(f"{a.whole_drops} {a.name}" for a in pot.amounts)
    return owner.tr("Pot {0} holds {1} ml for the batch: in drops, {2}.").format(
        pot.letter, f"{pot.ml:.1f}", drops
    )
