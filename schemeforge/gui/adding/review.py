"""What a fit gave, looked at before it is put on the shelf: colours, spectrum, fit, sureness."""

from collections.abc import Sequence
from dataclasses import replace

import numpy as np
from PySide6.QtCore import QSignalBlocker, Signal
from PySide6.QtWidgets import (
    QCheckBox,
    QComboBox,
    QFrame,
    QHBoxLayout,
    QLineEdit,
    QPushButton,
    QSizePolicy,
    QVBoxLayout,
    QWidget,
)

from schemeforge.appearance import look_of
from schemeforge.calibration import USUAL_UM
from schemeforge.desk import DeskState
from schemeforge.gui.adding.fit_list import FitList
from schemeforge.gui.adding.fit_plot import FitPlot, curves_of
from schemeforge.gui.adding.result import (
    FILMS_UM,
    NEW,
    Result,
    Taking,
    kind_of,
    seen_under,
    shelved,
)
from schemeforge.gui.adding.takings import Takings, replaced
from schemeforge.gui.bridge import Bridge
from schemeforge.gui.counting import counted
from schemeforge.gui.paints.spectrum import SpectrumPlot
from schemeforge.gui.paints.words import basis_words, kind_words, sure_words
from schemeforge.gui.theme import GAP, GAP_TIGHT, GAP_WIDE, theme_of
from schemeforge.gui.widgets.field import Field, NumberBox
from schemeforge.gui.widgets.flow import Flow
from schemeforge.gui.widgets.labels import words
from schemeforge.gui.widgets.strip import ColourStrip
from schemeforge.paint import Paint

_UNKNOWN = -1.0  # stands for "not known" in the box of what is left
# Where on a strip one thin coat lies.
_COAT_AT = float(np.interp(USUAL_UM, FILMS_UM, np.linspace(0.0, 1.0, len(FILMS_UM))))


def _look_differs(old: DeskState, new: DeskState) -> bool:
    before, after = old.project, new.project
    return before.viewing != after.viewing or before.lights != after.lights


class Review(QFrame):
    """The end of every way to a paint; nothing is on the shelf before its button is pressed.

    Signals:
        shelved: Id of the (first) paint put on the shelf.
    """

    shelved = Signal(str)

    def __init__(self, bridge: Bridge, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setProperty("role", "panel")
        self.bridge = bridge
        self.results: tuple[Result, ...] = ()
        self._takings = Takings()
        self._make_widgets()
        self._assemble()
        self._connect()
        self.show_hint(self.tr("Nothing to look at yet."))

    def _make_widgets(self) -> None:
        self.heading = words(self.tr("What came out"), "title")
        self.hint = words("")
        self.which = QComboBox()
        self.strips = tuple(
            ColourStrip(name, height=26)
            for name in (
                self.tr("One coat over black"),
                self.tr("One coat over grey"),
                self.tr("One coat over off-white"),
            )
        )
        self.said = tuple(words("", "muted") for _ in self.strips)
        self.spectrum = SpectrumPlot()
        self.fit_plot = FitPlot()
        self.fit = FitList()
        self.basis = words("")
        self.flags = words("", "muted")
        self.findings = words("", "caution")
        self.taken = QCheckBox(self.tr("Put this one on the shelf"))
        self.name = QLineEdit()
        self.name.setMaxLength(120)
        self.name.setMinimumWidth(self.fontMetrics().averageCharWidth() * 36)
        self.pigment = QLineEdit()
        self.pigment.setMaxLength(120)
        self.pigment.setToolTip(
            self.tr("Colour Index generic name of the pigment, as on the bottle, where known")
        )
        self.target = QComboBox()
        self.target.setToolTip(
            self.tr(
                "A paint that is on the shelf already keeps its place, stock and note, and its "
                "kind where none is told above; a kind that is told counts"
            )
        )
        box = NumberBox
        self.bottle = box(self.tr("Bottle"), low=0.1, high=10000, step=1, decimals=1, unit="ml")
        self.left = box(self.tr("Left"), low=_UNKNOWN, high=100000, step=1, decimals=1, unit="ml")
        self.left.setSpecialValueText(self.tr("not known"))
        self.twin = words("", "caution")
        self.put = QPushButton(self.tr("Put on the shelf"))
        self.put.setProperty("role", "primary")

    def _assemble(self) -> None:
        colours = QVBoxLayout()
        colours.setSpacing(GAP_TIGHT)
        for strip, said in zip(self.strips, self.said, strict=True):
            colours.addWidget(strip)
            colours.addWidget(said)
        films = words(self.tr("Bare card, then 5 to 60 µm of wet film, left to right"), "muted")
        colours.addWidget(films)
        colours.addStretch(1)
        plots = QVBoxLayout()
        plots.setSpacing(GAP)
        plots.addWidget(self.fit_plot, 1)
        plots.addWidget(self.spectrum, 1)
        body = QHBoxLayout()
        body.setSpacing(GAP_WIDE)
        body.addLayout(colours, 4)
        body.addLayout(plots, 4)
        body.addWidget(self.fit, 4)
        self._body = QWidget()
        self._body.setSizePolicy(QSizePolicy.Policy.Preferred, QSizePolicy.Policy.Maximum)
        self._body.setLayout(body)
        body.setContentsMargins(0, 0, 0, 0)
        self._fields = Flow()
        for caption, control in (
            (self.tr("Name"), self.name),
            (self.tr("Goes on the shelf"), self.target),
            (self.tr("Pigment"), self.pigment),
            (self.tr("Bottle"), self.bottle),
            (self.tr("Left"), self.left),
        ):
            self._fields.add(Field(caption, control))
        self._fields.add(self.taken)
        self.taken.setAccessibleName(self.taken.text())
        self._fields.add(self.put)
        column = QVBoxLayout(self)
        column.setContentsMargins(GAP_WIDE, GAP_WIDE, GAP_WIDE, GAP_WIDE)
        column.setSpacing(GAP)
        self.which_field = Field(self.tr("Paint"), self.which)
        for widget in (
            self.heading,
            self.hint,
            self.which_field,
            self.basis,
            self.findings,
            self._body,
            self.flags,
            self.twin,
            self._fields,
        ):
            column.addWidget(widget)

    def _connect(self) -> None:
        self.which.activated.connect(self._show_one)
        self.put.clicked.connect(self.take)
        self.name.textEdited.connect(self._keep)
        self.name.returnPressed.connect(self.take)
        self.pigment.textEdited.connect(self._keep)
        self.bottle.valueChanged.connect(self._keep)
        self.left.valueChanged.connect(self._keep)
        self.taken.toggled.connect(self._keep)
        self.target.activated.connect(self._on_target)

    def show_hint(self, text: str, *, caution: bool = False) -> None:
        """Show a sentence in place of a result: what is missing, or why there is none."""
        self.results = ()
        self._say(text, "caution" if caution else "")
        self._show_parts()

    def show_results(self, results: Sequence[Result]) -> None:
        """Show what came out; what was typed about a paint of the same key stays."""
        self.results = tuple(results)
        self._takings.meet(self.results, self.bridge.state.document.shelf)
        with QSignalBlocker(self.which):
            at = max(self.which.currentIndex(), 0)
            self.which.clear()
            for result in self.results:
                self.which.addItem(self._takings[result.key].name, result.key)
            self.which.setCurrentIndex(min(at, len(self.results) - 1))
        self._say("", "")
        self._show_parts()
        self._show_one()

    def forget(self) -> None:
        """Begin anew: what was typed belongs to other paints."""
        self._takings.clear()
        self.show_hint(self.tr("Nothing to look at yet."))

    def show_state(self, old: DeskState | None, new: DeskState) -> None:
        """Another light, surround or shelf."""
        if not self.results:
            return
        self._show_one()
        if old is not None and _look_differs(old, new):
            results, look = self.results, look_of(new.project)
            # A newer fit comes under the newer light by itself.
            self.bridge.jobs.submit(
                f"look of {results[0].key}",
                lambda _token: seen_under(results, look),
                lambda seen: self.show_results(seen) if self.results is results else None,
            )

    def take(self) -> None:
        """Put the results on the shelf, one undoable step; told where that cannot be."""
        taken = [(r, self._takings[r.key]) for r in self.results]
        taken = [(result, taking) for result, taking in taken if taking.taken]
        if not taken:
            self.bridge.problem.emit(self.tr("No paint is ticked to be put on the shelf."))
            return
        made: list[Paint] = []
        others = [paint.id for paint in self.bridge.state.project.paints]
        known = {paint.id for paint in self.bridge.state.document.shelf}

        def change(shelf: tuple[Paint, ...]) -> tuple[Paint, ...]:
            new, paints = shelved(shelf, taken, others)
            made.extend(paints)
            return new

        label = counted(len(taken), self.tr("add a paint"), self.tr("add {0} paints"))
        if self.bridge.attempt(lambda: self.bridge.session.edit_shelf(label, change)):
            self._drop([result for result, _ in taken])
            self.bridge.told.emit(self._told(made, known))
            self.shelved.emit(made[0].id)

    def _drop(self, put: Sequence[Result]) -> None:
        """What is on the shelf is not offered again; what is left is."""
        self._takings.put(put)
        left = [result for result in self.results if result not in put]
        if left:
            for result in left:
                self._takings[result.key] = replace(self._takings[result.key], taken=True)
            self.show_results(left)
            return
        self.show_hint(
            self.tr("Put on the shelf. What you change above comes out here as another paint.")
        )

    def _told(self, made: Sequence[Paint], known: set[str]) -> str:
        """What happened to the shelf, and what undo does to it."""
        names = ", ".join(f'"{paint.name}"' for paint in made)
        new = [paint.id not in known for paint in made]
        if all(new):
            return self.tr("{0} on the shelf; undo takes it off again.").format(names)
        if any(new):
            return self.tr("{0} on the shelf; undo brings back the shelf as it was.").format(names)
        return self.tr("{0} replaced; undo brings the earlier one back.").format(names)

    def _say(self, text: str, role: str) -> None:
        self.hint.setText(text)
        if self.hint.property("role") != role:
            self.hint.setProperty("role", role)
            self.hint.style().unpolish(self.hint)
            self.hint.style().polish(self.hint)

    def _show_parts(self) -> None:
        there = bool(self.results)
        self.hint.setVisible(bool(self.hint.text()))
        for part in (self.basis, self._body, self._fields, self.flags, self.findings, self.twin):
            part.setVisible(there)
        room = self.twin.sizePolicy()
        room.setRetainSizeWhenHidden(there)  # the name stays where it is while it is typed
        self.twin.setSizePolicy(room)
        self.which_field.setVisible(len(self.results) > 1)
        self.taken.setVisible(len(self.results) > 1)

    @property
    def picked(self) -> Result | None:
        """The result shown."""
        at = max(self.which.currentIndex(), 0)
        return self.results[at] if at < len(self.results) else None

    def _show_one(self) -> None:
        result, state = self.picked, self.bridge.state
        if result is None:
            return
        numbers, theme = state.preferences.numbers, theme_of(state.preferences.surround)
        for strip, said, ramp, sure in zip(
            self.strips, self.said, result.xyz, result.tolerance, strict=True
        ):
            strip.set_ramp(ramp, tolerance=sure, numbers=numbers)
            coat = strip.reading(_COAT_AT).text(numbers=numbers)
            said.setText(f"{strip.accessibleName()}: {coat}")
        self.spectrum.show_paint(result.paint, theme)
        curves = curves_of(result.outcome.patches, result.outcome.fit.predicted)
        self.fit_plot.setVisible(bool(curves))
        if curves:
            self.fit_plot.show_curves(curves, theme)
        self.fit.show_misses(result.misses, numbers=numbers)
        flagged = ", ".join(str(nm) for nm in result.outcome.flagged_nm)
        self.flags.setText(
            self.tr("Not settled by the data, so the likeliest was taken: {0} nm.").format(flagged)
        )
        self.flags.setVisible(bool(flagged))
        lines = (*result.outcome.findings, *result.remarks)
        self.findings.setText("\n".join(f"!  {line}" for line in lines))
        self.findings.setVisible(bool(lines))
        self._show_taking(self._takings[result.key])

    def _show_taking(self, taking: Taking) -> None:
        self._list_targets(taking)
        self._show_basis()
        self._show_twin()
        if self.name.text() != taking.name:
            self.name.setText(taking.name)  # tells only what is typed
        if self.pigment.text() != taking.pigment:
            self.pigment.setText(taking.pigment)
        self.bottle.show_value(taking.stock.bottle_ml)
        self.left.show_value(_UNKNOWN if taking.stock.left_ml is None else taking.stock.left_ml)
        with QSignalBlocker(self.taken):
            self.taken.setChecked(taking.taken)

    def _show_basis(self) -> None:
        result, state = self.picked, self.bridge.state
        if result is None:
            return
        taking = self._takings[result.key]
        old = replaced(taking.in_place_of, state.document.shelf)
        known = sure_words(result.paint, numbers=state.preferences.numbers)
        kind = kind_words(kind_of(result, taking, old))
        self.basis.setText(f"{kind}, {basis_words(result.paint.basis)}; {known}")

    def _show_twin(self) -> None:
        """Say so before two paints of one name stand on the shelf."""
        result, shelf = self.picked, self.bridge.state.document.shelf
        told = ""
        if result is not None and self._takings.is_twin(result, shelf):
            told = self.tr(
                'The shelf has a paint named "{0}" already; both will stand there.'
            ).format(self._takings[result.key].name.strip())
        self.twin.setText(f"!  {told}")
        self.twin.setVisible(bool(told))
        self.name.setAccessibleDescription(told)

    def _list_targets(self, taking: Taking) -> None:
        shelf = self.bridge.state.document.shelf
        known = [(self.tr("as a new paint"), NEW)]
        known += [(self.tr('in place of "{0}"').format(p.name), p.id) for p in shelf]
        with QSignalBlocker(self.target):
            listed = [
                (self.target.itemText(n), self.target.itemData(n))
                for n in range(self.target.count())
            ]
            if listed != known:
                self.target.clear()
                for text, paint_id in known:
                    self.target.addItem(text, paint_id)
                width = self.fontMetrics().averageCharWidth() * 26
                self.target.setMinimumWidth(width)
                self.target.setMaximumWidth(width)
            self.target.setCurrentIndex(max(self.target.findData(taking.in_place_of), 0))

    def _keep(self) -> None:
        """Take up what was typed."""
        result = self.picked
        if result is None:
            return
        taking = self._takings[result.key]
        left = None if self.left.value() < 0.0 else self.left.value()
        stock = replace(taking.stock, bottle_ml=self.bottle.value(), left_ml=left)
        self._takings[result.key] = replace(
            taking,
            name=self.name.text(),
            pigment=self.pigment.text(),
            stock=stock,
            taken=self.taken.isChecked(),
            is_named=taking.is_named or self.name.text() != taking.name,
        )
        self._show_twin()
        self.which.setItemText(self.which.currentIndex(), self.name.text())

    def _on_target(self) -> None:
        """What is known of the paint that is renewed is carried over."""
        result = self.picked
        if result is None:
            return
        shelf = self.bridge.state.document.shelf
        taking = self._takings.aim(result, self.target.currentData(), shelf)
        self._show_taking(taking)
        self.which.setItemText(self.which.currentIndex(), taking.name)
