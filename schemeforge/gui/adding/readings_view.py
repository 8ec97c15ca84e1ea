"""A paint from an instrument's file: what was read, what the numbers mean, which is which."""

from collections.abc import Sequence
from functools import partial
from pathlib import Path

from PySide6.QtWidgets import QFileDialog, QHBoxLayout, QPushButton, QVBoxLayout, QWidget

from schemeforge.appearance import Look
from schemeforge.calibration import USUAL_UM, from_drawdown, likely_kind
from schemeforge.desk import CancelToken
from schemeforge.errors import SchemeForgeError
from schemeforge.gui.adding import samples
from schemeforge.gui.adding.choices import Choice, kind_choice
from schemeforge.gui.adding.file_names import by_file_name
from schemeforge.gui.adding.fit_view import FitView, Request, panel
from schemeforge.gui.adding.result import Result, result_of
from schemeforge.gui.adding.samples import DARK, LIGHT, OVER_DARK, OVER_LIGHT, Loaded
from schemeforge.gui.adding.samples_table import SamplesTable
from schemeforge.gui.adding.waiting import Waiting
from schemeforge.gui.bridge import Bridge
from schemeforge.gui.counting import counted
from schemeforge.gui.theme import GAP
from schemeforge.gui.widgets.field import Field, NumberBox
from schemeforge.gui.widgets.flow import Flow
from schemeforge.gui.widgets.labels import words
from schemeforge.gui.widgets.segments import Segments
from schemeforge.measurement import Geometry, Scale

_KEY = "readings"
_NONE = ""


class ReadingsView(FitView):
    """Files, the questions that they leave open, and the review."""

    def __init__(self, bridge: Bridge, parent: QWidget | None = None) -> None:
        super().__init__(bridge, _KEY, parent)
        self.found = Loaded()
        self.scales: list[Segments] = []
        self._make_file_panel()
        self._make_questions()
        self.column.addWidget(self.review)
        self.column.addStretch(1)
        self._show_found()
        self.refit()

    def _make_file_panel(self) -> None:
        frame, column = panel(self.tr("The instrument's file"))
        column.addWidget(
            words(
                self.tr(
                    "One even film read over a dark and over a light ground, and both grounds "
                    "bare. TM-27 files hold one reading each: choose all four together."
                )
            )
        )
        self.choose = QPushButton(self.tr("Choose files..."))
        self.waiting = Waiting(self.tr("Reading"))
        self.refusal = words("", "caution")
        self.told = words("")
        self.faults = words("", "caution")
        self.table = SamplesTable()
        row = QHBoxLayout()
        row.setSpacing(GAP)
        row.addWidget(self.choose)
        row.addWidget(self.waiting)
        row.addStretch(1)
        column.addLayout(row)
        column.addWidget(self.refusal)
        column.addWidget(self.told)
        column.addWidget(self.faults)
        column.addWidget(self.table)
        self.column.addWidget(frame)
        self.choose.clicked.connect(self._ask)
        self.waiting.stopped.connect(lambda: self.bridge.jobs.cancel(f"{_KEY} file"))

    def _make_questions(self) -> None:
        self.questions, column = panel(self.tr("What the numbers mean"))
        self._scale_rows = QVBoxLayout()
        self._scale_rows.setSpacing(GAP)
        column.addLayout(self._scale_rows)
        self.geometry_told = words("")
        self.surface_of = Segments(
            self.tr("How the instrument took the surface's own gloss"),
            [
                (Geometry.INCLUDED.name, self.tr("specular included"), self.tr("di:8 or SCI")),
                (Geometry.EXCLUDED.name, self.tr("specular excluded"), self.tr("de:8 or SCE")),
                (
                    Geometry.FORTY_FIVE_ZERO.name,
                    self.tr("45:0"),
                    self.tr("lit at 45 degrees, read from straight above, or the other way round"),
                ),
            ],
        )
        column.addWidget(self.geometry_told)
        column.addWidget(_left(self.surface_of))
        self.which, column = panel(self.tr("Which is which"))
        self.roles: dict[str, Choice[str]] = {}
        flow = Flow()
        for role, name in (
            (OVER_DARK, self.tr("Film over the dark ground")),
            (OVER_LIGHT, self.tr("Film over the light ground")),
            (DARK, self.tr("Bare dark ground")),
            (LIGHT, self.tr("Bare light ground")),
        ):
            self.roles[role] = Choice(name, [(self.tr("choose"), _NONE)])
            flow.add(Field(name, self.roles[role]))
        self.film = NumberBox(
            self.tr("Wet film"), low=0.5, high=1000.0, step=5.0, decimals=1, unit="µm"
        )
        self.film.show_value(USUAL_UM)
        self.kind = kind_choice(self.tr("Kind of paint"))
        flow.add(Field(self.tr("Wet film"), self.film))
        flow.add(Field(self.tr("Kind of paint"), self.kind))
        column.addWidget(flow)
        self.reach = words("", "muted")
        column.addWidget(self.reach)
        self.column.addWidget(self.questions)
        self.column.addWidget(self.which)
        self.surface_of.chosen.connect(self._on_surface)
        self.film.valueChanged.connect(self.later)
        self.kind.activated.connect(self.later)
        for choice in self.roles.values():
            choice.activated.connect(self.later)

    def read(self, paths: Sequence[Path]) -> None:
        """Read files beside the window; one that cannot be read leaves what is there."""
        self.waiting.begin()
        self.bridge.jobs.submit(
            f"{_KEY} file",
            lambda _token: samples.loaded(paths),
            self._take,
            failed=partial(self._cannot_read, paths),
        )

    def request(self) -> Request | str:
        """The fit, once every question is answered."""
        if not self.found.samples:
            return self.tr("Choose the instrument's file, and the paint appears here.")
        if not all(row.value for row in self.scales):
            return self.tr("Confirm above what the numbers of the file count.")
        if not self.surface_of.value:
            return self.tr("Tell above how the instrument took the surface's own gloss.")
        roles = {role: choice.value for role, choice in self.roles.items()}
        missing = [self.roles[role].accessibleName() for role in roles if not roles[role]]
        if missing:
            return self.tr("Tell above which sample is what: {0}.").format(", ".join(missing))
        scales = [Scale[row.value] for row in self.scales]
        reads = samples.reads_of(self.found, roles, scales)
        self._tell_reach({nm for read in reads for nm in read.unsure_nm})
        surface = Geometry[self.surface_of.value].surface
        film_um, kind = self.film.value(), self.kind.value
        name = self._likely_name(roles)

        def fit(look: Look, _token: CancelToken) -> list[Result]:
            outcome = from_drawdown(*reads, film_um=film_um, surface=surface)
            result = result_of(
                outcome,
                look,
                key=_KEY,
                name=name,
                kind=kind or likely_kind(outcome, film_um),
                is_kind_told=kind is not None,
            )
            return [result]

        return fit

    def _ask(self) -> None:
        names, _ = QFileDialog.getOpenFileNames(
            self,
            self.tr("The instrument's files"),
            "",
            self.tr("Readings (*.csv *.txt *.cgats *.it8 *.cie *.xml *.spdx);;All files (*)"),
        )
        if names:
            self.read([Path(name) for name in names])

    def _likely_name(self, roles: dict[str, str]) -> str:
        """What both readings of the film are called, else what their file is."""
        film = [self.found.sample(roles[role]) for role in (OVER_DARK, OVER_LIGHT)]
        names = [sample.spectrum.name for sample in film]
        return samples.common_name(*names) or Path(self.found.names[film[1].file]).stem

    def _cannot_read(self, paths: Sequence[Path], error: Exception) -> None:
        self.waiting.end()
        if not isinstance(error, SchemeForgeError):
            raise error
        sentence, where = by_file_name(error.sentence, paths)
        self.refusal.setText(sentence)
        self.refusal.setToolTip(where)
        self.refusal.show()
        self.revealer.reveal(self.refusal)

    def _take(self, found: Loaded) -> None:
        self.waiting.end()
        self.found = found
        self.review.forget()
        self._show_found()
        self.refit()

    def _show_found(self) -> None:
        found, there = self.found, bool(self.found.samples)
        self.refusal.hide()
        for part in (self.told, self.table, self.questions, self.which):
            part.setVisible(there)
        self.table.show_samples(found)
        faults = samples.faults_of(found)
        self.told.setText(self._found_words(faulty=bool(faults)))
        self.faults.setText("\n".join(f"!  {fault}" for fault in faults))
        self.faults.setVisible(bool(faults))
        self._ask_scales()
        told = found.geometry
        self.surface_of.set_value("")
        self.geometry_told.setText(
            self.tr("How did the instrument take the surface's own gloss? The file does not tell.")
            if told is None
            else self.tr("The file says: {0}. Confirm, or correct it.").format(
                self.surface_of.button(told.name).text()
            )
        )
        likely = samples.likely_roles(found)
        options = [(self.tr("choose"), _NONE), *((s.label, s.label) for s in found.samples)]
        for role, choice in self.roles.items():
            choice.offer(options)
            choice.pick(likely.get(role, _NONE))
        self.reach.setText("")

    def _found_words(self, *, faulty: bool) -> str:
        found = self.found
        if not found.samples:
            return ""
        each = [s.spectrum for s in found.samples]
        low = max(spectrum.wavelengths_nm[0] for spectrum in each)
        high = min(spectrum.wavelengths_nm[-1] for spectrum in each)
        count = counted(len(each), self.tr("{0} sample"), self.tr("{0} samples"))
        told = self.tr("{0}: {1}, all read from {2:g} to {3:g} nm")
        if faulty:
            told = self.tr("{0}: {1} from {2:g} to {3:g} nm, of which not all can be used:")
        return told.format(", ".join(found.names), count, low, high)

    def _ask_scales(self) -> None:
        """One question for each file; the likely answer is named, not given."""
        while (item := self._scale_rows.takeAt(0)) is not None:
            if (widget := item.widget()) is not None:
                widget.deleteLater()
        self.scales = []
        for place, (name, file) in enumerate(zip(self.found.names, self.found.files, strict=True)):
            likely = (
                self.tr("per cent") if file.scale is Scale.PER_CENT else self.tr("fractions of 1")
            )
            sentence = self.tr("{0}: the largest number is {1:g}; it looks like {2}.")
            if not file.is_scale_sure:
                sentence = self.tr("{0}: the largest number is {1:g}; {2} is a guess.")
            row = Segments(
                self.tr("What the numbers of {0} count").format(name),
                [
                    (Scale.FRACTION.name, self.tr("fractions, 0 to 1"), ""),
                    (Scale.PER_CENT.name, self.tr("per cent, 0 to 100"), ""),
                ],
            )
            row.chosen.connect(partial(self._on_scale, row))
            self.scales.append(row)
            asked = sentence.format(name, self.found.largest(place), likely)
            self._scale_rows.addWidget(words(asked))
            self._scale_rows.addWidget(_left(row))

    def _on_scale(self, row: Segments, value: str) -> None:
        row.set_value(value)
        self.later()

    def _on_surface(self, value: str) -> None:
        self.surface_of.set_value(value)
        self.later()

    def _tell_reach(self, unsure_nm: set[int]) -> None:
        if not unsure_nm:
            self.reach.setText(self.tr("Every band was read."))
            return
        listed = ", ".join(str(nm) for nm in sorted(unsure_nm))
        self.reach.setText(
            self.tr(
                "The instrument did not reach {0} nm: the nearest reading is carried on there and "
                "marked less sure (hollow dots below)."
            ).format(listed)
        )


def _left(widget: QWidget) -> QWidget:
    """The widget at its own width at the left."""
    whole = QWidget()
    row = QHBoxLayout(whole)
    row.setContentsMargins(0, 0, 0, 0)
    row.addWidget(widget)
    row.addStretch(1)
    return whole
