"""A project to begin with: one group, one zone, primed and sprayed."""

from schemeforge.errors import InputError
from schemeforge.gui.undercoat_paints import lightness, likely_primer, likely_white
from schemeforge.paint import Paint, PaintKind
from schemeforge.scheme import (
    Group,
    Ingredient,
    Mix,
    Primer,
    Project,
    Scheme,
    Spray,
    Step,
    Zone,
)


def starting_project(shelf: tuple[Paint, ...]) -> Project:
    """A project with black primer and an off-white spray on one zone.

    Raises:
        InputError: Where the shelf has neither primer nor anything opaque.
    """
    primer = _darkest(shelf)
    light = _light(shelf)
    mixes = (
        Mix(
            id="primer",
            name=primer.name,
            ingredients=(Ingredient(paint_id=primer.id, parts=1.0),),
        ),
        Mix(
            id="spray",
            name=light.name,
            ingredients=(
                Ingredient(paint_id=light.id, parts=2.0),
                Ingredient(paint_id="water", parts=3.0),
            ),
        ),
    )
    steps = (
        Step(id="prime", name="Prime", layer=Primer(mix_id="primer"), zone_ids=("body",)),
        Step(id="spray", name="Spray from above", layer=Spray(mix_id="spray"), zone_ids=("body",)),
    )
    return Project(
        id="project",
        name="New batch",
        groups=(Group(id="models", name="Models", count=10),),
        zones=(Zone(id="body", name="Body", area_cm2=15.0),),
        schemes=(Scheme(id="first", name="First scheme", mixes=mixes, steps=steps),),
        chosen_scheme_id="first",
        paints=(primer, light),
    )


def _darkest(shelf: tuple[Paint, ...]) -> Paint:
    return likely_primer(shelf) or min(_opaque(shelf), key=lightness)


def _light(shelf: tuple[Paint, ...]) -> Paint:
    return likely_white(shelf) or max(_opaque(shelf), key=lightness)


def _opaque(shelf: tuple[Paint, ...]) -> list[Paint]:
    found = [p for p in shelf if p.kind in {PaintKind.OPAQUE, PaintKind.PRIMER}]
    if not found:
        raise InputError("The shelf has no opaque paint", remedy="add a primer to it first")
    return found
