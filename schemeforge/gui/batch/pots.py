"""Pots to mix, paints against their bottles, and what was used so far."""

from collections.abc import Sequence

from PySide6.QtCore import QSignalBlocker, Qt
from PySide6.QtWidgets import (
    QAbstractItemView,
    QComboBox,
    QPushButton,
    QWidget,
)

from schemeforge.desk import DeskState
from schemeforge.gui.batch.lists import TextTable, text_table
from schemeforge.gui.batch.making import Made
from schemeforge.gui.batch.record_row import RecordLine
from schemeforge.gui.batch.rows import Rows
from schemeforge.gui.batch.section import Section
from schemeforge.gui.bridge import Bridge
from schemeforge.gui.counting import counted
from schemeforge.gui.keys import tell_keys
from schemeforge.gui.theme import theme_of
from schemeforge.gui.widgets.field import Field, NumberBox
from schemeforge.gui.widgets.flow import Flow
from schemeforge.gui.widgets.labels import words
from schemeforge.plan import PaintNeed, Pot, pot_letters
from schemeforge.plan.usage import ENOUGH_MODELS
from schemeforge.scheme import Coat, PotUse, Project, Step, edits
from schemeforge.scheme.techniques import is_sprayed


class UseRow(RecordLine):
    """One record of what models took of a pot."""

    def show_use(self, project: Project, use: PotUse, colour: str) -> None:
        """Write it."""
        scheme = project.scheme(use.scheme_id)
        group = project.group(use.group_id).name if use.group_id else self.tr("of any group")
        self.say(
            self.tr("Pot {0}, {1}: {2}, {3}; there were {4:.1f} ml, {5:.1f} ml are left").format(
                pot_letters(scheme).get(use.mix_id, "–"),
                scheme.mix(use.mix_id).name,
                counted(use.models, self.tr("{0} model"), self.tr("{0} models")),
                group,
                use.mixed_ml,
                use.left_ml,
            ),
            colour,
        )

    def _remove(self) -> None:
        label = self.tr("remove record of a pot")
        self.bridge.edit(label, lambda p: edits.remove_pot_use(p, self._id))


class UsedSoFar(QWidget):
    """What the first models took of a pot sets its estimate right."""

    def __init__(self, bridge: Bridge, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.bridge = bridge
        self._scheme_id = ""
        self._pots: dict[str, Pot] = {}
        self.pot = _choice()
        self.pot.activated.connect(lambda _row: self._suggest())
        self.group = _choice()
        self.models = NumberBox(
            self.tr("Models painted from it"), low=1, high=10000, step=1, decimals=0
        )
        self.models.show_value(ENOUGH_MODELS)
        ml = self.tr("ml")
        self.mixed = NumberBox(
            self.tr("There was"), low=0, high=100000, step=0.5, decimals=2, unit=ml
        )
        self.left = NumberBox(
            self.tr("Left now"), low=0, high=100000, step=0.5, decimals=2, unit=ml
        )
        self.keep = QPushButton(self.tr("Put on record"))
        self.keep.clicked.connect(lambda _on=False: self.record())
        self.dry = QPushButton(self.tr("It ran dry: mix it again"))
        self.dry.setToolTip(
            self.tr("How to mix the rest from what is left, and whether it will show in the ranks")
        )
        self.dry.clicked.connect(lambda _on=False: self.mix_again())
        self.list: Rows[UseRow] = Rows(lambda use_id: UseRow(bridge, use_id))
        self.fields = Flow()
        for caption, control in (
            (self.tr("Pot"), self.pot),
            (self.tr("Models painted from it"), self.models),
            (self.tr("Of the group"), self.group),
            (self.tr("There was"), self.mixed),
            (self.tr("Left now"), self.left),
        ):
            self.fields.add(Field(caption, control))
        self.fields.add(self.keep)
        self.fields.add(self.dry)

    def show_pots(self, state: DeskState, filled: Sequence[Pot]) -> None:
        """Offer the pots of the scheme and list what is on record."""
        scheme = state.scheme
        self._scheme_id = "" if scheme is None else scheme.id
        before = self.pot.currentData()
        needed = [pot for pot in filled if pot.ml]
        self._pots = {pot.mix.id: pot for pot in needed}
        _fill(self.pot, [(pot.mix.id, f"{pot.letter}  {pot.mix.name}") for pot in needed])
        groups = [(g.id, g.name) for g in state.project.groups if g.count]
        _fill(self.group, [("", self.tr("any of them")), *groups])
        if self.pot.currentData() != before:
            self._suggest()
        self.dry.setEnabled(self._coat() is not None)
        uses = [use for use in state.project.pot_uses if use.scheme_id == self._scheme_id]
        self.list.follow([use.id for use in uses])
        colour = theme_of(state.preferences.surround).text
        for use in uses:
            self.list.rows[use.id].show_use(state.project, use, colour)

    def record(self) -> bool:
        """Put what the fields say on record."""
        project = self.bridge.state.project
        mix_id, models = self.pot.currentData(), int(self.models.value())
        if mix_id is None:
            return False
        new_id = edits.fresh_id("use", (use.id for use in project.pot_uses))
        scheme_id, group_id = self._scheme_id, str(self.group.currentData() or "")
        mixed, left = self.mixed.value(), self.left.value()

        def change(before: Project) -> Project:
            use = PotUse(
                id=new_id,
                scheme_id=scheme_id,
                mix_id=str(mix_id),
                group_id=group_id,
                models=models,
                mixed_ml=mixed,
                left_ml=left,
            )
            return edits.put_pot_use(before, use)

        done = self.bridge.edit(self.tr("record of a pot"), change)
        if done:
            self._suggest()
        return done

    def mix_again(self) -> None:
        """Ask the mixing bench for the rest of the pot, for the models that are still to do."""
        from schemeforge.gui.recipes.asked import MixAgain

        coat = self._coat()
        if coat is None:
            return
        pot, step = coat
        total = sum(group.count for group in self.bridge.state.project.groups)
        to_do = max(total - self.models.value(), 1.0) / max(total, 1)
        asked = MixAgain(self._scheme_id, step.zone_ids[0], step.id, pot.ml * min(to_do, 1.0))
        self.bridge.asked.emit(asked)

    def _coat(self) -> tuple[Pot, Step] | None:
        """The pot picked and the first coat laid from it; None for what is only sprayed."""
        pot, scheme = self._pots.get(str(self.pot.currentData())), self.bridge.state.scheme
        if pot is None or scheme is None:
            return None
        steps = (scheme.step(step_id) for step_id in pot.step_ids)
        found = next((s for s in steps if isinstance(s.layer, Coat) and s.zone_ids), None)
        return None if found is None else (pot, found)

    def _suggest(self) -> None:
        """What there was is what was left the last time, or what was to be mixed."""
        pot = self._pots.get(str(self.pot.currentData()))
        if pot is None:
            return
        self.dry.setEnabled(self._coat() is not None)
        uses = [
            use
            for use in self.bridge.state.project.pot_uses
            if (use.scheme_id, use.mix_id) == (self._scheme_id, pot.mix.id)
        ]
        there = uses[-1].left_ml if uses else round(pot.ml, 1)
        self.mixed.show_value(there)
        self.left.show_value(there)


class PotsSection(Section):
    """What to mix: millilitres, grams, drops, brush-loads. A pot is renamed in its row."""

    def __init__(self, bridge: Bridge, parent: QWidget | None = None) -> None:
        super().__init__("", "", parent)
        self.bridge = bridge
        self._scheme_id = ""
        self._pots: tuple[Pot, ...] = ()
        self.heading.setText(self.tr("Pots to mix"))
        self.setAccessibleName(self.tr("Pots to mix"))
        self.about.setText(
            self.tr(
                "For the whole batch, with waste and what stays in the pot. Drops differ by bottle "
                "and liquid: weigh or use a syringe where it matters; brush-loads are for the eye "
                "only. A double click or F2 renames a pot."
            )
        )
        self.model = TextTable(
            [
                self.tr("Pot"),
                self.tr("What goes in, by parts"),
                self.tr("For steps"),
                self.tr("ml"),
                self.tr("Drops"),
                self.tr("Grams"),
                self.tr("Brush-loads"),
            ],
            numeric=(3, 4, 5, 6),
            renames=1,
        )
        self.model.rename = self._rename
        self.table = text_table(self.tr("Pots to mix"), self.model, 1)
        self.table.setEditTriggers(
            QAbstractItemView.EditTrigger.DoubleClicked
            | QAbstractItemView.EditTrigger.EditKeyPressed
        )
        tell_keys(self.table, ("F2", self.tr("rename the pot")))
        self.warnings = words("", "caution")
        self.empty = words(self.tr("No step takes a mix yet."))
        self.states = words("")
        self.short = words("", "caution")
        self.use_title = words(self.tr("Used so far"), "heading")
        self.use_about = words(
            self.tr(
                "Say what is left after the first {0} models: the estimate of the pot then follows "
                "what you used, and you are told before it runs short."
            ).format(ENOUGH_MODELS),
            "muted",
        )
        self.used = UsedSoFar(bridge)
        self.needs_model = TextTable(
            [
                self.tr("Paint or medium"),
                self.tr("For pots"),
                self.tr("Needed, ml"),
                self.tr("Left in the bottle, ml"),
                self.tr("So"),
            ],
            numeric=(2, 3),
        )
        self.needs_title = words(self.tr("Paints against their bottles"), "heading")
        self.needs = text_table(self.tr("Paints against their bottles"), self.needs_model, 0, 4)
        for widget in (
            self.empty,
            self.table,
            self.warnings,
            self.use_title,
            self.use_about,
            self.short,
            self.states,
            self.used.fields,
            self.used.list,
            self.needs_title,
            self.needs,
        ):
            self.body.addWidget(widget)

    def show_pots(
        self, state: DeskState, filled: Sequence[Pot], needs: Sequence[PaintNeed]
    ) -> None:
        """List the pots and what is delicate about them, and the paints."""
        self._scheme_id = "" if state.scheme is None else state.scheme.id
        self._pots = tuple(filled)
        self.model.set_rows([self._row(pot) for pot in filled])
        warned = [pot.warning.sentence for pot in filled if pot.warning is not None]
        self.warnings.setText("\n".join(warned))
        self.warnings.setVisible(bool(warned))
        self.empty.setVisible(not filled)
        self.used.show_pots(state, filled)
        self.needs_model.set_rows([self._need(need) for need in needs])
        for widget in (
            self.table,
            self.use_title,
            self.use_about,
            self.used.fields,
            self.used.list,
        ):
            widget.setVisible(bool(filled))
        for widget in (self.needs_title, self.needs):
            widget.setVisible(bool(needs))
        self.table.fit()
        self.needs.fit()

    def show_plan(self, made: Made | None, _state: DeskState) -> None:
        """How the pots stand that something is on record of; what runs short stands out."""
        known = [] if made is None else [pot for pot in made.pots if pot.left_ml is not None]
        short = [state for state in known if state.runs_short]
        self._say(self.short, [state.sentence for state in short])
        self._say(self.states, [state.sentence for state in known if state not in short])

    def _say(self, label: QWidget, sentences: list[str]) -> None:
        label.setProperty("text", "\n".join(sentences))
        label.setVisible(bool(sentences))

    def _row(self, pot: Pot) -> tuple[str, ...]:
        parts = [
            self.tr("{0} {1} ({2}, {3:.1f} ml, {4:.1f} g)").format(
                amount.name,
                f"{amount.parts:g}",
                counted(amount.whole_drops, self.tr("{0} drop"), self.tr("{0} drops")),
                amount.ml,
                amount.grams,
            )
            for amount in pot.amounts
        ]
        inside = (
            self.tr("{0}, neat").format(pot.amounts[0].name) if pot.is_neat else ", ".join(parts)
        )
        return (
            f"{pot.letter}",
            f"{pot.mix.name}\n{inside}",
            ", ".join(str(number) for number in pot.step_numbers),
            f"{pot.ml:.1f}",
            f"{pot.drops:.0f}",
            f"{pot.grams:.1f}",
            "–" if all(map(self._is_sprayed, pot.step_ids)) else f"{pot.brush_loads:.0f}",
        )

    def _is_sprayed(self, step_id: str) -> bool:
        scheme = self.bridge.state.scheme
        return scheme is not None and is_sprayed(scheme.step(step_id))

    def _need(self, need: PaintNeed) -> tuple[str, ...]:
        if need.short_ml is None:
            so = self.tr("look: nobody told what is left")
        elif need.short_ml > 0.0:
            so = self.tr("{0:.1f} ml short: {1}").format(
                need.short_ml,
                counted(
                    need.bottles_to_buy or 0,
                    self.tr("buy {0} bottle"),
                    self.tr("buy {0} bottles"),
                ),
            )
        else:
            so = self.tr("enough")
        return (
            need.name,
            ", ".join(need.pots),
            f"{need.needed_ml:.1f}",
            "–" if need.left_ml is None else f"{need.left_ml:.1f}",
            so,
        )

    def _rename(self, row: int, name: str) -> bool:
        wanted = " ".join(name.split())
        mix = self._pots[row].mix
        if wanted == mix.name:
            return True
        return self.bridge.edit(
            self.tr("rename a pot"),
            lambda p: edits.rename_mix(p, self._scheme_id, mix.id, wanted),
        )


def _choice() -> QComboBox:
    box = QComboBox()
    box.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
    box.setMinimumContentsLength(14)
    box.setSizeAdjustPolicy(QComboBox.SizeAdjustPolicy.AdjustToMinimumContentsLengthWithIcon)
    return box


def _fill(box: QComboBox, choices: list[tuple[str, str]]) -> None:
    known = [(box.itemData(n), box.itemText(n)) for n in range(box.count())]
    if known == choices:
        return
    picked = box.currentData()
    with QSignalBlocker(box):
        box.clear()
        for value, label in choices:
            box.addItem(label, value)
        box.setCurrentIndex(max(box.findData(picked), 0))
