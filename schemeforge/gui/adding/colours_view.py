"""Paints from two colours of one coat, or from one colour, a kind and an answer on opacity."""

from PySide6.QtWidgets import QButtonGroup, QRadioButton, QVBoxLayout, QWidget

from schemeforge import colorimetry
from schemeforge.appearance import Look
from schemeforge.appearance.look import SURFACES
from schemeforge.calibration import (
    USUAL_UM,
    Opacity,
    Outcome,
    Seen,
    card_ground,
    from_one_colour,
    from_two_colours,
    ground_of_colour,
    likely_kind,
)
from schemeforge.colorimetry.words import colour_words
from schemeforge.desk import CancelToken
from schemeforge.gui.adding.choices import CARDS, Choice, finish_choice, kind_choice
from schemeforge.gui.adding.colour_entry import ColourEntry
from schemeforge.gui.adding.fit_view import FitView, Request, panel
from schemeforge.gui.adding.result import Result, result_of
from schemeforge.gui.bridge import Bridge
from schemeforge.gui.theme import GAP_TIGHT
from schemeforge.gui.widgets.field import Field, NumberBox
from schemeforge.gui.widgets.flow import Flow
from schemeforge.gui.widgets.labels import words
from schemeforge.optics import MATT, Surface
from schemeforge.paint import PaintKind

_OWN = "own"
_THICK = "thick"
_UNTOLD = "untold"


class GroundEntry(QWidget):
    """What lies under a coat: one of the usual grounds, or a colour of its own."""

    def __init__(self, name: str, usual: list[tuple[str, str]]) -> None:
        super().__init__()
        self.choice: Choice[str] = Choice(name, usual)
        self.own = ColourEntry(self.tr("{0}: its colour").format(name))
        self.own.hide()
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(GAP_TIGHT)
        column.addWidget(self.choice)
        column.addWidget(self.own)
        self.setFocusProxy(self.choice)
        self.choice.activated.connect(lambda: self.own.setVisible(self.choice.value == _OWN))

    @property
    def is_missing(self) -> bool:
        """True where its own colour is wanted and not given yet."""
        return self.choice.value == _OWN and self.own.is_empty

    def reflectance(self, surface: Surface | None) -> tuple[float, ...]:
        """Of the bare ground as seen; raises InputError where its colour is none."""
        finish = MATT if surface is None else surface
        if self.choice.value == _OWN:
            return ground_of_colour(self.own.seen().linear, finish)
        return card_ground(CARDS[self.choice.value], finish)


class ColoursView(FitView):
    """Fields that both ways from colours have."""

    def __init__(self, bridge: Bridge, key: str, parent: QWidget | None = None) -> None:
        super().__init__(bridge, key, parent)
        self.kind = kind_choice(self.tr("Kind of paint"))
        self.finish = finish_choice(self.tr("Finish"))
        self.finish.setToolTip(
            self.tr("As it was seen; where you are not sure, the most matt one that fits is taken")
        )
        self.film = NumberBox(
            self.tr("One coat"), low=0.5, high=1000.0, step=5.0, decimals=1, unit="µm"
        )
        self.film.show_value(USUAL_UM)
        self.film.setToolTip(
            self.tr("Wet film of neat paint in one coat (µm); a thin brush coat is about 30")
        )

    @property
    def surface(self) -> Surface | None:
        """The finish as a surface, None where it is not told."""
        finish = self.finish.value
        return None if finish is None else SURFACES[finish]

    def watch(self, *entries: ColourEntry) -> None:
        """Refit after changes of the fields and of these colours."""
        for entry in entries:
            entry.changed.connect(self.later)
        for choice in self.findChildren(Choice):
            choice.activated.connect(self.later)
        self.film.valueChanged.connect(self.later)

    def result(self, outcome: Outcome, look: Look, seen: Seen) -> Result:
        """The one result, under a name made of its colour until the painter gives one."""
        told = self.kind.value
        return result_of(
            outcome,
            look,
            key=self._key,
            name=colour_name(seen),
            kind=told or likely_kind(outcome, self.film.value()),
            is_kind_told=told is not None,
        )


class TwoColours(ColoursView):
    """One coat, over dark and over light."""

    def __init__(self, bridge: Bridge, parent: QWidget | None = None) -> None:
        super().__init__(bridge, "two colours", parent)
        self.dark = ColourEntry(self.tr("Over the dark ground"))
        self.light = ColourEntry(self.tr("Over the light ground"))
        black, grey = (self.tr("black card"), "black"), (self.tr("grey card"), "grey")
        white = (self.tr("white card"), "white")
        own = (self.tr("its own colour"), _OWN)
        self.dark_ground = GroundEntry(self.tr("The dark ground"), [black, grey, own])
        self.light_ground = GroundEntry(self.tr("The light ground"), [white, grey, own])
        frame, column = panel(self.tr("The same coat over a dark and over a light ground"))
        column.addWidget(
            words(
                self.tr(
                    "Brush one even coat of neat paint across a black and a white area, let it dry "
                    "and pick both colours from one picture, taken in one light."
                )
            )
        )
        colours, rest = Flow(), Flow()
        for entry, ground in ((self.dark, self.dark_ground), (self.light, self.light_ground)):
            colours.add(Field(entry.accessibleName(), entry))
            colours.add(Field(ground.choice.accessibleName(), ground))
        for caption, control in (
            (self.tr("One coat"), self.film),
            (self.tr("Kind of paint"), self.kind),
            (self.tr("Finish"), self.finish),
        ):
            rest.add(Field(caption, control))
        column.addWidget(colours)
        column.addWidget(rest)
        self.column.addWidget(frame)
        self.column.addWidget(self.review)
        self.column.addStretch(1)
        self.watch(self.dark, self.light, self.dark_ground.own, self.light_ground.own)
        self.refit()

    def request(self) -> Request | str:
        """Both colours, once both are there."""
        missing = self.dark_ground.is_missing or self.light_ground.is_missing
        if self.dark.is_empty or self.light.is_empty or missing:
            return self.tr("Give both colours, and the paint appears here.")
        dark, light, surface = self.dark.seen(), self.light.seen(), self.surface
        below = [g.reflectance(surface) for g in (self.dark_ground, self.light_ground)]
        usual = [g.choice.value for g in (self.dark_ground, self.light_ground)]
        film_um, kind = self.film.value(), self.kind.value

        def fit(look: Look, _token: CancelToken) -> list[Result]:
            outcome = from_two_colours(
                dark,
                light,
                # The usual cards are seen under whatever finish the fit finds.
                dark=None if usual[0] == "black" else below[0],
                light=None if usual[1] == "white" else below[1],
                film_um=film_um,
                kind=kind,
                surface=surface,
            )
            return [self.result(outcome, look, light)]

        return fit


class OneColour(ColoursView):
    """One colour, its kind, and how many coats hide black and white."""

    def __init__(self, bridge: Bridge, parent: QWidget | None = None) -> None:
        super().__init__(bridge, "one colour", parent)
        self.kind = kind_choice(self.tr("Kind of paint"), may_be_unknown=False)
        self.colour = ColourEntry(self.tr("The colour"))
        self.laid = GroundEntry(
            self.tr("Seen as"),
            [
                (self.tr("a layer so thick that it hides"), _THICK),
                (self.tr("one coat on white card"), "white"),
                (self.tr("one coat on grey card"), "grey"),
                (self.tr("one coat on black card"), "black"),
                (self.tr("one coat on its own colour"), _OWN),
            ],
        )
        frame, column = panel(self.tr("One colour, and what you know of the paint"))
        fields = Flow()
        for caption, control in (
            (self.tr("The colour"), self.colour),
            (self.tr("Seen as"), self.laid),
            (self.tr("Kind of paint"), self.kind),
            (self.tr("One coat"), self.film),
            (self.tr("Finish"), self.finish),
        ):
            fields.add(Field(caption, control))
        column.addWidget(fields)
        column.addWidget(self._opacity())
        self.column.addWidget(frame)
        self.column.addWidget(self.review)
        self.column.addStretch(1)
        self.watch(self.colour, self.laid.own)
        self.refit()

    def _opacity(self) -> QWidget:
        """The one question."""
        ask = self.tr("How many coats of it, neat, hide black and white?")
        whole = QWidget()
        column = QVBoxLayout(whole)
        column.setContentsMargins(0, 0, 0, 0)
        column.addWidget(words(ask, "heading"))
        answers = Flow()
        self.opacity = QButtonGroup(self)
        self.answers: dict[str, QRadioButton] = {}
        for value, label in (
            (Opacity.ONE.name, self.tr("one")),
            (Opacity.TWO.name, self.tr("two")),
            (Opacity.FEW.name, self.tr("three or four")),
            (Opacity.MANY.name, self.tr("five to ten")),
            (Opacity.NEVER.name, self.tr("black shows through however many")),
            (_UNTOLD, self.tr("I do not know")),
        ):
            button = QRadioButton(label)
            button.setAccessibleDescription(ask)
            self.opacity.addButton(button)
            self.answers[value] = button
            answers.add(button)
        self.answers[_UNTOLD].setChecked(True)
        self.opacity.buttonClicked.connect(self.later)
        column.addWidget(answers)
        return whole

    def request(self) -> Request | str:
        """The colour, once it is there."""
        if self.colour.is_empty or self.laid.is_missing:
            return self.tr("Give the colour, and the paint appears here.")
        seen, surface, kind = self.colour.seen(), self.surface, self.kind.value
        thick = self.laid.choice.value == _THICK
        below = None if thick else self.laid.reflectance(surface)
        answer = next(name for name, button in self.answers.items() if button.isChecked())
        film_um = self.film.value()

        def fit(look: Look, _token: CancelToken) -> list[Result]:
            outcome = from_one_colour(
                seen,
                kind or PaintKind.OPAQUE,
                None if answer == _UNTOLD else Opacity[answer],
                ground=below,
                film_um=film_um,
                surface=surface,
            )
            return [self.result(outcome, look, seen)]

        return fit


def colour_name(seen: Seen) -> str:
    """A name for a paint of that colour, until it is given one."""
    lab = colorimetry.lab_from_xyz(colorimetry.xyz_from_linear_rgb(seen.linear))
    return colour_words([float(value) for value in lab])
