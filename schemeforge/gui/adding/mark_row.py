"""What is told of the picked mark: its name, and by its role the rest."""

from dataclasses import replace

from PySide6.QtCore import QSignalBlocker, Signal
from PySide6.QtWidgets import QLabel, QLineEdit, QPushButton, QWidget

from schemeforge.gui.adding.card import Card, CardPaint, Mark, Role
from schemeforge.gui.adding.choices import Choice, kind_choice
from schemeforge.gui.widgets.field import Field, NumberBox
from schemeforge.gui.widgets.flow import Flow
from schemeforge.scheme import edits

_STROKES = 12
_COATS, _FILM = "coats", "film"


class MarkRow(Flow):
    """Fields of one mark; hidden fields are those that its role has no use for.

    Signals:
        told: Another version of the mark.
        paint_told: Another version of a paint, or one more.
        removed: The mark is to go.
    """

    told = Signal(object)
    paint_told = Signal(object)
    removed = Signal(int)

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._card = Card()
        self._mark: Mark | None = None
        self.nothing = QLabel()
        self.nothing.setProperty("role", "muted")
        self._make()
        self._connect()

    def _make(self) -> None:
        wide = self.fontMetrics().averageCharWidth()
        self.name = QLineEdit()
        self.name.setMaxLength(120)
        self.name.setMinimumWidth(wide * 18)
        self.reflectance = NumberBox(
            self.tr("Gives back"), low=0.5, high=100.0, step=1.0, decimals=1, unit="%"
        )
        self.reflectance.setToolTip(
            self.tr(
                "Reflectance as seen, in per cent: a grey card 18, white card about 88, matt black "
                "about 4"
            )
        )
        self.paint: Choice[int] = Choice(self.tr("Paint"), [(self.tr("paint 1"), 0)])
        self.paint_name = QLineEdit()
        self.paint_name.setMaxLength(120)
        self.paint_name.setMinimumWidth(wide * 18)
        self.kind = kind_choice(self.tr("Kind"))
        self.ground: Choice[int] = Choice(self.tr("Painted over"), [("", 0)])
        self.laid: Choice[str] = Choice(
            self.tr("Told by"), [(self.tr("coats"), _COATS), (self.tr("film, µm"), _FILM)]
        )
        self.coats = NumberBox(self.tr("Coats"), low=0.1, high=20.0, step=1.0, decimals=1)
        self.film = NumberBox(
            self.tr("Wet film"), low=0.5, high=1000.0, step=5.0, decimals=1, unit="µm"
        )
        strokes = [(self.tr("its own"), 0)]
        strokes += [(self.tr("stroke {0}").format(n), n) for n in range(1, _STROKES + 1)]
        self.stroke: Choice[int] = Choice(self.tr("Stroke"), strokes)
        self.stroke.setToolTip(
            self.tr("Areas that one stroke of the brush crossed have one film: give them a number")
        )
        self.other_paint = QPushButton(self.tr("Another paint"))
        self.other_paint.setToolTip(self.tr("This area shows a paint that is not listed yet"))
        self.remove = QPushButton(self.tr("Remove the mark"))
        self.fields: dict[str, QWidget] = {
            "name": Field(self.tr("Mark"), self.name),
            "reflectance": Field(self.tr("Gives back"), self.reflectance),
            "paint": Field(self.tr("Paint"), self.paint),
            "paint_name": Field(self.tr("Its name"), self.paint_name),
            "kind": Field(self.tr("Its kind"), self.kind),
            "ground": Field(self.tr("Painted over"), self.ground),
            "laid": Field(self.tr("Told by"), self.laid),
            "coats": Field(self.tr("Coats"), self.coats),
            "film": Field(self.tr("Wet film"), self.film),
            "stroke": Field(self.tr("Stroke"), self.stroke),
            "other": self.other_paint,
            "remove": self.remove,
        }
        self.add(self.nothing)
        for field in self.fields.values():
            self.add(field)

    def _connect(self) -> None:
        self.name.textEdited.connect(self._on_changed)
        self.reflectance.valueChanged.connect(self._on_changed)
        self.coats.valueChanged.connect(self._on_changed)
        self.film.valueChanged.connect(self._on_changed)
        self.paint.activated.connect(self._on_changed)
        self.ground.activated.connect(self._on_changed)
        self.laid.activated.connect(self._on_changed)
        self.stroke.activated.connect(self._on_changed)
        self.paint_name.textEdited.connect(self._on_paint)
        self.kind.activated.connect(self._on_paint)
        self.other_paint.clicked.connect(self._on_other_paint)
        self.remove.clicked.connect(self._on_remove)

    def show_mark(self, card: Card, mark: Mark | None) -> None:
        """Show a mark of a card, or what to do where none is picked."""
        self._card, self._mark = card, mark
        painted = mark is not None and mark.role is Role.PAINTED
        by_film = mark is not None and mark.film_um is not None
        shown = {
            "name": mark is not None,
            "remove": mark is not None,
            "reflectance": mark is not None and mark.role.is_reference,
            "coats": painted and not by_film,
            "film": painted and by_film,
            **dict.fromkeys(("paint", "paint_name", "kind", "ground", "laid"), painted),
            **dict.fromkeys(("stroke", "other"), painted),
        }
        for name, field in self.fields.items():
            field.setVisible(shown[name])
        self.nothing.setVisible(mark is None)
        self.nothing.setText(
            self.tr("Drag a rectangle on the picture, or press W, G, B, U or P there.")
            if not card.marks
            else self.tr("Pick a mark to tell what it is.")
        )
        if mark is not None:
            self._write(card, mark)

    def focus_first(self) -> None:
        """Into the first thing worth telling."""
        painted = self._mark is not None and self._mark.role is Role.PAINTED
        target = self.paint_name if painted else self.name
        target.setFocus()
        target.selectAll()

    def _write(self, card: Card, mark: Mark) -> None:
        if self.name.text() != mark.name:
            self.name.setText(mark.name)
        self.reflectance.show_value(100.0 * mark.reflectance)
        self.coats.show_value(mark.coats)
        if mark.film_um is not None:
            self.film.show_value(mark.film_um)
        self.laid.pick(_COATS if mark.film_um is None else _FILM)
        self.stroke.pick(mark.stroke)
        self.paint.offer([(paint.name, paint.id) for paint in card.paints])
        grounds = [(ground.name, ground.id) for ground in card.grounds]
        self.ground.offer([(self.tr("not told yet"), 0), *grounds])
        self.ground.pick(mark.ground)
        paint = card.paint(mark.paint)
        if paint is not None:
            self.paint.pick(paint.id)
            self.kind.pick(paint.kind)
            if self.paint_name.text() != paint.name:
                with QSignalBlocker(self.paint_name):
                    self.paint_name.setText(paint.name)

    def _on_changed(self) -> None:
        mark = self._mark
        if mark is None:
            return
        by_film = self.laid.value == _FILM
        film = self.film.value() if mark.film_um is not None else self._card.film_um * mark.coats
        painted = mark.role is Role.PAINTED
        self.told.emit(
            replace(
                mark,
                name=self.name.text() if self.name.text().strip() else mark.name,
                reflectance=self.reflectance.value() / 100.0
                if mark.role.is_reference
                else mark.reflectance,
                paint=self.paint.value if painted else mark.paint,
                ground=self.ground.value if painted else mark.ground,
                coats=self.coats.value() if mark.film_um is None else mark.coats,
                film_um=film if by_film and painted else None,
                stroke=self.stroke.value if painted else mark.stroke,
            )
        )

    def _on_paint(self) -> None:
        paint = None if self._mark is None else self._card.paint(self._mark.paint)
        if paint is not None:
            name = self.paint_name.text().strip() or paint.name
            self.paint_told.emit(replace(paint, name=name, kind=self.kind.value))

    def _on_other_paint(self) -> None:
        mark = self._mark
        if mark is None:
            return
        number = 1 + max(paint.id for paint in self._card.paints)
        name = edits.fresh_name(
            self.tr("paint {0}").format(number), (p.name for p in self._card.paints)
        )
        self.paint_told.emit(CardPaint(id=number, name=name))
        self.told.emit(replace(mark, paint=number))
        self.focus_first()

    def _on_remove(self) -> None:
        if self._mark is not None:
            self.removed.emit(self._mark.id)
