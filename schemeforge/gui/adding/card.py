"""What is marked on the photograph of a painted card, and what the fit makes of it. No Qt."""

import math
from dataclasses import dataclass, replace
from enum import StrEnum

from schemeforge.calibration import USUAL_REFERENCES, USUAL_UM, Area, Ground, Reference, Swatch
from schemeforge.errors import InputError
from schemeforge.paint import PaintKind
from schemeforge.scheme import Finish, edits

LEAST_SIDE = 0.004  # of the picture: smaller marks cannot be held
_USUAL_SIDE = (0.09, 0.09)
_MOST_MARKS = 400


class Role(StrEnum):
    """What a mark marks."""

    WHITE = "white"
    GREY = "grey"
    BLACK = "black"
    GROUND = "ground"
    PAINTED = "painted"

    @property
    def is_reference(self) -> bool:
        """True for areas of known reflectance."""
        return self.value in USUAL_REFERENCES


@dataclass(frozen=True, slots=True, kw_only=True)
class Mark:
    """One rectangle on the picture.

    Args:
        id: Tells it from the others.
        role: What it marks.
        area: Where it lies.
        name: As the painter calls it.
        reflectance: Of a reference, as seen.
        ground: Of a painted area: id of the mark whose bare ground lies under it, 0 for none yet.
        paint: Of a painted area: id of the paint.
        coats: Of a painted area: how many lie there.
        film_um: Of a painted area: its wet film where that is known, instead of coats.
        stroke: Of a painted area: the same number where one stroke crossed several, 0 for its own.
    """

    id: int
    role: Role
    area: Area
    name: str
    reflectance: float = 0.18
    ground: int = 0
    paint: int = 0
    coats: float = 1.0
    film_um: float | None = None
    stroke: int = 0


@dataclass(frozen=True, slots=True, kw_only=True)
class CardPaint:
    """A paint on the card: its name, and its kind where known."""

    id: int
    name: str
    kind: PaintKind | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Card:
    """Everything told of one picture.

    Args:
        marks: In the order in which they were made.
        paints: The paints on it, one at least.
        film_um: Wet film of one coat.
        finish: Of the swatches and grounds.
        line: Of a test model: places in its recess and on its raised edge, shares of the picture's
            width and height; None where none is drawn.
    """

    marks: tuple[Mark, ...] = ()
    paints: tuple[CardPaint, ...] = ()
    film_um: float = USUAL_UM
    finish: Finish = Finish.MATT
    line: tuple[tuple[float, float], tuple[float, float]] | None = None

    def mark(self, mark_id: int) -> Mark | None:
        """The mark of that id."""
        return next((mark for mark in self.marks if mark.id == mark_id), None)

    def paint(self, paint_id: int) -> CardPaint | None:
        """The paint of that id."""
        return next((paint for paint in self.paints if paint.id == paint_id), None)

    def of(self, *roles: Role) -> tuple[Mark, ...]:
        """The marks of these roles."""
        return tuple(mark for mark in self.marks if mark.role in roles)

    @property
    def grounds(self) -> tuple[Mark, ...]:
        """Every bare area: a reference of the card is one as well."""
        return tuple(mark for mark in self.marks if mark.role is not Role.PAINTED)


def usual_area(centre: tuple[float, float]) -> Area:
    """A mark of usual size about a place, pushed into the picture."""
    x, y = centre
    half_x, half_y = _USUAL_SIDE[0] / 2, _USUAL_SIDE[1] / 2
    x, y = min(max(x, half_x), 1 - half_x), min(max(y, half_y), 1 - half_y)
    return Area(left=x - half_x, top=y - half_y, right=x + half_x, bottom=y + half_y)


def spanned(one: tuple[float, float], other: tuple[float, float]) -> Area | None:
    """The rectangle between two corners within the picture, None where it is too small."""
    (left, right), (top, bottom) = (
        sorted(min(max(value, 0.0), 1.0) for value in pair) for pair in zip(one, other, strict=True)
    )
    if right - left < LEAST_SIDE or bottom - top < LEAST_SIDE:
        return None
    return Area(left=left, top=top, right=right, bottom=bottom)


def moved(area: Area, dx: float, dy: float) -> Area:
    """The area moved, as far as the picture goes."""
    dx = min(max(dx, -area.left), 1 - area.right)
    dy = min(max(dy, -area.top), 1 - area.bottom)
    return Area(
        left=max(area.left + dx, 0.0),
        top=max(area.top + dy, 0.0),
        right=min(area.right + dx, 1.0),
        bottom=min(area.bottom + dy, 1.0),
    )


def resized(area: Area, dx: float, dy: float) -> Area:
    """The area with its lower right corner moved; never too small, never outside."""
    return Area(
        left=area.left,
        top=area.top,
        right=min(max(area.right + dx, area.left + LEAST_SIDE), 1.0),
        bottom=min(max(area.bottom + dy, area.top + LEAST_SIDE), 1.0),
    )


def added(card: Card, role: Role, area: Area, names: dict[Role, str]) -> tuple[Card, Mark]:
    """The card with one more mark, and the mark.

    Args:
        card: As it is.
        role: What it marks.
        area: Where.
        names: What marks of each role are called in the user's language.

    Raises:
        InputError: For more marks than anybody wants.
    """
    if len(card.marks) >= _MOST_MARKS:
        raise InputError(f"There are {_MOST_MARKS} marks already", remedy="remove some first")
    mark_id = 1 + max((mark.id for mark in card.marks), default=0)
    name = edits.fresh_name(names[role], (mark.name for mark in card.marks))
    mark = Mark(id=mark_id, role=role, area=area, name=name)
    if role.is_reference:
        mark = replace(mark, reflectance=USUAL_REFERENCES[role.value])
    if role is Role.PAINTED:
        last = next(iter(reversed(card.of(Role.PAINTED))), None)
        mark = replace(
            mark,
            paint=last.paint if last else card.paints[0].id,
            ground=_likely_ground(card, area),
            coats=last.coats if last else 1.0,
        )
    return replace(card, marks=(*card.marks, mark)), mark


def _likely_ground(card: Card, area: Area) -> int:
    """Id of the nearest bare ground; of the nearest reference where no ground is marked."""

    def distance(mark: Mark) -> float:
        return math.dist(mark.area.centre, area.centre)

    some = card.of(Role.GROUND) or card.of(Role.WHITE, Role.BLACK) or card.grounds
    return min(some, key=distance).id if some else 0


def with_mark(card: Card, mark: Mark) -> Card:
    """The card with another version of a mark."""
    return replace(card, marks=tuple(mark if m.id == mark.id else m for m in card.marks))


def without_mark(card: Card, mark_id: int) -> Card:
    """The card without a mark; what was painted on that ground lies on none yet."""
    kept = (m for m in card.marks if m.id != mark_id)
    return replace(
        card, marks=tuple(replace(m, ground=0) if m.ground == mark_id else m for m in kept)
    )


def with_paint(card: Card, paint: CardPaint) -> Card:
    """The card with another name or kind for a paint, or with one more paint."""
    if card.paint(paint.id) is None:
        return replace(card, paints=(*card.paints, paint))
    return replace(card, paints=tuple(paint if p.id == paint.id else p for p in card.paints))


def references_of(card: Card) -> list[Reference]:
    """The references as the fit wants them."""
    return [
        Reference(name=m.name, area=m.area, reflectance=m.reflectance)
        for m in card.marks
        if m.role.is_reference
    ]


def grounds_of(card: Card) -> list[Ground]:
    """The bare grounds as the fit wants them."""
    return [Ground(name=m.name, area=m.area) for m in card.grounds]


def swatches_of(card: Card, paint_id: int) -> list[Swatch]:
    """One paint's swatches as the fit wants them.

    Raises:
        InputError: For a swatch of which it is not told what lies under it.
    """
    swatches = []
    for mark in card.of(Role.PAINTED):
        if mark.paint != paint_id:
            continue
        ground = card.mark(mark.ground)
        if ground is None:
            raise InputError(
                f'It is not told on which ground "{mark.name}" was painted',
                remedy="mark that ground bare, and name it at the swatch",
            )
        coats = mark.coats if mark.film_um is None else mark.film_um / card.film_um
        swatches.append(
            Swatch(
                name=mark.name,
                area=mark.area,
                ground=ground.name,
                coats=coats,
                stroke=f"stroke {mark.stroke}" if mark.stroke else "",
            )
        )
    return swatches
